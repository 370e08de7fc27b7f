// Package pond holds how much water a pond holds: from its measurements, or from
// the rise of its salt. The formulas are plain functions in metres, cubic metres,
// kilograms and degrees Celsius; Volume declares the calculator over them.
package pond
