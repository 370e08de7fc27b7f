// Package formulas compares every formula that a calculator prints with the Go
// function that runs: the TeX is read and evaluated over the ranges that its
// declaration states, calculators.Check. A chapter prints only formulas that a
// calculator declares, so they are compared too.
//
// It touches nothing outside the program.
package formulas
