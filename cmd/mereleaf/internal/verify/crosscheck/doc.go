// Package crosscheck compares the calculators with the reference figures.
//
// The file testdata/reference/bindings.toml says, for each figure set, which
// calculator computes it, which columns are the inputs and which the outputs. One
// walker goes through every row of every set: it puts the row's inputs in, and
// the figure must come out at the precision the figure is printed in. Adding a
// row, a set or a calculator needs no Go code.
//
//	[[water-pressure-altitude-table]]
//	calculator = "oxygen-saturation"
//	given = { temperature = "=20 Cel", altitude = "altitude" }
//	expect = { pressure = "pressure" }
//	tolerance = 0.0002
//	reason = "the printed table departs from the closed formula"
//
// An entry is named after its set; several entries may share one. Its keys:
//
//	calculator   the ID of the calculator
//	where        the rows it is for: column = text, or a list of texts
//	given        input = "column", or input = "=text". In such a text {column}
//	             stands for the row's figure with its unit, {2*column} for twice
//	             it, {column - 1} for one less; of parts divided by semicolons those are left out whose
//	             figures are blank
//	expect       column = "output", or "output.low" and "output.high" for the
//	             ends of its range; blank figures are passed over
//	read         column = "length {length}, depth {depth}": names for the numbers
//	             in a column of words, to use in given
//	times        a quantity by which the figure is multiplied before it is
//	             compared, such as "1 kg/d" for a figure per kilogram
//	tolerance    the share by which the answer may differ; with reason
//	except       [{ where = …, tolerance = …, reason = "…" }]: single rows that
//	             miss the printed digit
//	skip         why the rows are not computed, in place of a calculator
//
// Every row of a set in the file must be spoken for. A tolerance that is not
// needed, or is more than twice what is needed, is a fault. The table
// [uncomputed] names the sets that no calculator computes, with the reason.
//
// It reads no files but those of an fs.FS that it is given.
package crosscheck
