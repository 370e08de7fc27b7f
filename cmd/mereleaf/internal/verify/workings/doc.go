// Package workings evaluates the sums that calculators print under "how it was
// worked out". Every number shown stands for all that round to it, so a sum holds
// if its result lies within what the rounding of its numbers allows.
//
// A line is one or more clauses, separated by "; ", each of which is
//
//	a sum        60.0 mg/L × 84.01 / 50.04 = 101 mg/L
//	a value      0.61 (0.60 to 0.62), or 2.8 mm/d to 6.1 mm/d
//	a sentence   without a digit
//
// A sum is written with × / + − ^ ² ³ √ ½ ⅔ π, brackets, ln and exp; each number
// may carry a unit, and both sides must come to the same one; the sum of an empirical
// formula has none and gives the number before the unit of its result. ", rounded up" or
// ", rounded down" may follow a side.
//
// It touches nothing outside the program.
package workings
