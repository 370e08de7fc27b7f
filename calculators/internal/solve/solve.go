// Package solve finds roots of functions of one variable.
package solve

import "math"

// Tolerance is the width of the last bracket of Root, as a fraction of the root.
const Tolerance = 1e-12

// most is a bound on the steps that no function has been seen to come near.
const most = 300

// Root returns x between low and high where f changes sign, to Tolerance. It
// reports false if f has the same sign at both ends, or is not a number where
// it is tried. An end where f is 0 is returned as it is.
//
// Method: Chandrupatla 1997 (Advances in Engineering Software, volume 28, pages
// 145-149, from memory): inverse quadratic interpolation where the last three
// points promise that it converges, else bisection. It cannot leave the bracket
// and takes a step in f (the friction of a pipe jumps where the flow turns
// turbulent) for a root. A smooth function takes about ten calls, where bisection
// takes 45; a phone notices that in a bar in which each hole is solved for.
func Root(f func(float64) float64, low, high float64) (float64, bool) {
	x1, x2 := high, low
	f1, f2 := f(x1), f(x2)
	switch {
	case f2 == 0:
		return x2, true
	case f1 == 0:
		return x1, true
	case math.IsNaN(f1) || math.IsNaN(f2) || (f1 < 0) == (f2 < 0):
		return math.NaN(), false
	}
	share := 0.5 // of the way from x1 to x2
	for range most {
		x := x1 + share*(x2-x1)
		at := f(x)
		switch {
		case math.IsNaN(at):
			return math.NaN(), false
		case at == 0:
			return x, true
		}
		x3, f3 := x1, f1 // the point that drops out of the bracket
		if (at < 0) != (f1 < 0) {
			x3, f3 = x2, f2
			x2, f2 = x1, f1
		}
		x1, f1 = x, at
		width := math.Abs(x2 - x1)
		least := Tolerance * math.Max(math.Abs(x1), math.Abs(x2)) / width
		if middle := x1 + (x2-x1)/2; least >= 1 || middle == x1 || middle == x2 {
			return middle, true
		}
		share = math.Min(math.Max(step(x1, x2, x3, f1, f2, f3), least/2), 1-least/2)
	}
	return x1, true
}

// step returns how far from x1 to x2 to try next.
func step(x1, x2, x3, f1, f2, f3 float64) float64 {
	xi, phi := (x1-x2)/(x3-x2), (f1-f2)/(f3-f2)
	if !(phi*phi < xi && (1-phi)*(1-phi) < 1-xi) {
		return 0.5
	}
	return f1/(f2-f1)*f3/(f2-f3) + (x3-x1)/(x2-x1)*f1/(f3-f1)*f2/(f3-f2)
}
