// Package plumbing computes how water moves through a filter: through the holes
// of a tray, and from a pump through pipe and fittings to the top of a stack.
//
// Functions take and return SI units (m, m2, m3/s, m2/s) unless their comment
// says otherwise. They are pure, and outside a formula's range they return what
// the comment of the function says, never a panic.
package plumbing
