// Package terminal sets calculators as plain text for a terminal of 80 columns.
// Every number it shows is taken from a calculators.View, as in the page, so the
// two cannot differ in a digit.
//
// It touches nothing outside the program.
package terminal
