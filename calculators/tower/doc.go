// Package tower plans a trickle filter of stacked boxes, from pond and fish to
// a build sheet.
//
// It holds no formula of its own that another calculator has: it asks the other
// calculators, as a reader would, and every line of the sheet keeps the question
// that was asked, so that it can be opened and doubted. What is decided here is
// what to ask: how many boxes, which drill, how many outlets.
//
// The stack, from the top: a box under an undrilled lid that takes the spray bar
// and the foam; boxes of medium with drilled floors, each on a drilled lid whose
// recess holds the water if holes block; an undrilled box with a collector pipe
// and the outlet. Lengths are in mm unless a name says otherwise.
package tower
