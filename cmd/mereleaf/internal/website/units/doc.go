// Package units says in which unit a reader of metric, imperial or US measures
// sees each quantity of the handbook, and what stays as it is written. It holds no numbers: the factors are those of
// package quantity, which are exact. The page's script gets all of it as one
// JSON text when it is compiled.
//
// It touches nothing outside the program.
package units
