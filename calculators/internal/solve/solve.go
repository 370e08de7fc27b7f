// Package solve finds roots of functions of one variable.
package solve

import "math"

// Tolerance is the width of the last bracket of Root, as a fraction of the
// larger end.
const Tolerance = 1e-12

// Root returns x between low and high where f changes sign, to Tolerance. It
// reports false if f has the same sign at both ends, or is not a number where
// it is tried. An end where f is 0 is returned as it is.
//
// Method: bisection. It needs about 45 calls, more than methods that
// interpolate, but it cannot leave the bracket, it takes a step in f (the
// friction of a pipe jumps where the flow turns turbulent) for a root, and
// every step is the same on every machine.
func Root(f func(float64) float64, low, high float64) (float64, bool) {
	atLow, atHigh := f(low), f(high)
	switch {
	case atLow == 0:
		return low, true
	case atHigh == 0:
		return high, true
	case math.IsNaN(atLow) || math.IsNaN(atHigh) || (atLow < 0) == (atHigh < 0):
		return math.NaN(), false
	}
	for math.Abs(high-low) > Tolerance*math.Max(math.Abs(low), math.Abs(high)) {
		middle := low + (high-low)/2
		if middle == low || middle == high {
			break
		}
		at := f(middle)
		switch {
		case math.IsNaN(at):
			return math.NaN(), false
		case at == 0:
			return middle, true
		case (at < 0) == (atLow < 0):
			low = middle
		default:
			high = middle
		}
	}
	return low + (high-low)/2, true
}
