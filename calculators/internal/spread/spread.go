// Package spread combines the ranges of what a result rests on into the range of
// the result.
//
// Adding up all worst ends tells of a night that nobody will see: that the fish are
// the heaviest for their length, and breathe the most for their weight, and eat the
// most, and the surface brings the least, all at once. Errors that know nothing of
// each other seldom fall together. So they are combined as the Guide to the
// Expression of Uncertainty in Measurement does it (JCGM 100:2008, 5.1.2, equation
// 10): as the root of the sum of squares,
//
//	U^2 = sum of U_i^2,
//
// U_i the shift of the result when one part alone goes to its end. The guide does so
// for standard uncertainties; if the ends of all parts are as unlikely as each other,
// they are so many standard uncertainties away (6.2.1), and the ends that come out
// are as unlikely as those that went in.
//
// Where the result is no straight line of its parts, a sum of squares can leave what
// is possible, such as less than no oxygen. So the result is not extrapolated but
// reckoned at the combination of shifts, in units of the parts' ends,
//
//	s_1^2 + s_2^2 + ... = 1,
//
// at which it is greatest or least: the design point of structural reliability
// (Hasofer and Lind 1974, Journal of the Engineering Mechanics Division of the ASCE
// 100, pages 111-121, from memory). For a straight line the two are the same; a result
// that is curved within the ends passes them up to three times as often, or as seldom.
//
// What errs together, such as the weights of twenty fish by one line, has to be one
// part. Shifts are found by trying, without chance: the same question always has the
// same answer.
package spread

import "math"

// Part is a quantity known from Low to High, likely Likely, in one unit.
type Part struct{ Low, Likely, High float64 }

// At returns the quantity at a shift: -1 is Low, 0 Likely and 1 High. Between them
// it runs in proportion where all three are above zero, as a factor would, and
// straight where not.
func (p Part) At(shift float64) float64 {
	end, share := p.High, shift
	if shift < 0 {
		end, share = p.Low, -shift
	}
	switch {
	case share == 0:
		return p.Likely
	case p.Low > 0 && p.Likely > 0 && p.High > 0:
		return p.Likely * math.Pow(end/p.Likely, share)
	}
	return p.Likely + share*(end-p.Likely)
}

// Of returns the range of a result that rests on n parts. The function f returns the
// result when each part is shifted by so much, from -1 to 1; likely is where all are
// at 0. It has to be a number there. An end that one part alone makes infinite is
// infinite; a shift at which f is not a number counts for nothing.
//
// It calls f about eight times for each part.
func Of(n int, f func(shifts []float64) float64) Part {
	likely, ups, downs := alone(n, f)
	return Part{low(likely, ups, downs, f), likely, farthest(likely, ups, downs, f)}
}

// Low returns the low end of what Of returns, in half the calls.
func Low(n int, f func(shifts []float64) float64) float64 {
	likely, ups, downs := alone(n, f)
	return low(likely, ups, downs, f)
}

// High returns the high end of what Of returns, in half the calls.
func High(n int, f func(shifts []float64) float64) float64 {
	likely, ups, downs := alone(n, f)
	return farthest(likely, ups, downs, f)
}

// alone returns the likely result, and by how much each part alone shifts it at either
// end.
func alone(n int, f func(shifts []float64) float64) (likely float64, ups, downs []float64) {
	likely = f(make([]float64, n))
	ups, downs = make([]float64, n), make([]float64, n)
	at := make([]float64, n)
	for i := range n {
		at[i] = 1
		ups[i] = f(at) - likely
		at[i] = -1
		downs[i] = f(at) - likely
		at[i] = 0
	}
	return likely, ups, downs
}

// low is farthest the other way.
func low(likely float64, ups, downs []float64, f func(shifts []float64) float64) float64 {
	turn := func(shifts []float64) []float64 {
		turned := make([]float64, len(shifts))
		for i, s := range shifts {
			turned[i] = -s
		}
		return turned
	}
	return -farthest(-likely, turn(ups), turn(downs), func(shifts []float64) float64 { return -f(shifts) })
}

// Widest returns which of the n parts, once it is known, leaves the narrowest range,
// and that range. Ranges are compared by High over Low, and by their width where one
// begins at 0 or below.
func Widest(n int, f func(shifts []float64) float64) (part int, left Part) {
	for i := range n {
		known := Of(n, func(shifts []float64) float64 {
			at := append([]float64(nil), shifts...)
			at[i] = 0
			return f(at)
		})
		if i == 0 || known.narrower(left) {
			part, left = i, known
		}
	}
	return part, left
}

func (p Part) narrower(o Part) bool {
	if p.Low > 0 && o.Low > 0 {
		return p.High/p.Low < o.High/o.Low
	}
	return p.High-p.Low < o.High-o.Low
}

const (
	rounds = 8     // of turning to where the result grows most; two are mostly enough, four can leave 0.04 %
	small  = 1e-3  // a shift over which the slope is taken
	still  = 1e-10 // what is left to turn, as one less the cosine, when it is still
)

// farthest returns the greatest result among shifts whose squares add up to 1. What
// each part does alone gives the first direction; then the slope there, until it no
// longer turns.
func farthest(likely float64, ups, downs []float64, f func([]float64) float64) float64 {
	at, most := make([]float64, len(ups)), likely
	for i := range at {
		up, down := positive(ups[i]), positive(downs[i])
		if at[i] = up; down > up {
			at[i] = -down
		}
		most = math.Max(most, likely+math.Abs(at[i]))
	}
	if math.IsInf(most, 1) {
		return most
	}
	for range rounds {
		if !toUnit(at) {
			break
		}
		here := f(at)
		if math.IsNaN(here) {
			break
		}
		most = math.Max(most, here)
		next := slopes(at, here, f)
		if !toUnit(next) || turned(at, next) < still {
			break
		}
		at = next
	}
	return most
}

// slopes returns how fast the result grows when each part is shifted on: outwards, or
// either way where a part is not shifted, for it may count once others are. It does not
// look beyond an end.
func slopes(at []float64, here float64, f func([]float64) float64) []float64 {
	grown := make([]float64, len(at))
	for i, was := range at {
		slope := func(step float64) float64 {
			at[i] = was + step
			defer func() { at[i] = was }()
			return positive((f(at) - here) / math.Abs(step))
		}
		if was != 0 {
			inwards := -math.Copysign(math.Min(small, math.Abs(was)), was)
			at[i] = was + inwards
			grown[i] = math.Copysign(positive((here-f(at))/math.Abs(inwards)), was)
			at[i] = was
			continue
		}
		grown[i] = slope(small)
		if down := slope(-small); down > grown[i] {
			grown[i] = -down
		}
	}
	return grown
}

// turned returns one less the cosine of the angle between two directions.
func turned(a, b []float64) float64 {
	same := 0.0
	for i := range a {
		same += a[i] * b[i]
	}
	return 1 - same
}

// positive returns x, or 0 where it is not above 0.
func positive(x float64) float64 {
	if x > 0 {
		return x
	}
	return 0
}

// toUnit makes the squares add up to 1; it reports false where all are 0.
func toUnit(at []float64) bool {
	sum := 0.0
	for _, s := range at {
		sum += s * s
	}
	if !(sum > 0) {
		return false
	}
	for i := range at {
		at[i] /= math.Sqrt(sum)
	}
	return true
}
