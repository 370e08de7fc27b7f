// Package figures reads the reference figures and checks printed numbers
// against them.
//
// A figure set is a file testdata/reference/NAME.csv (RFC 4180). Its first line
// heads the columns; a numeric column states its unit there as a UCUM code in
// brackets: "oxygen [mg/L]". Inputs come first, then outputs, then the four
// columns source, locator, basis and note, which say where each row comes from.
//
// A table or a quantity in a chapter is bound to a row by what it says about
// the row, and every number in it must equal the figure, after conversion to
// the unit in which the chapter prints it, at the precision it prints. Nothing
// in this package can turn a number that differs into a warning, and nothing
// writes to the figures.
//
// It reads no files but those of an fs.FS that it is given.
package figures
