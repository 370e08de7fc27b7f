package fish

import "math"

// planktonShare is the share of the plankton in what a whole pond breathes
// (madenjian1987, abstract; prawn ponds).
const planktonShare = 0.42

// PondBreath returns the oxygen that plants, plankton and small life take in the
// dark, mg/L an hour, by the look of the water. Clear: likely 0.05, the low end
// from clear to green water (boyd1990, from memory), up to that over the 42 % that
// plankton is of a whole pond's breath (madenjian1987). Green and thick (pea
// soup, or weed through the whole pond): common practice, from there up to five
// times as much. Anything else gives zero.
func PondBreath(look string) Range {
	const least = 0.05
	switch look {
	case "clear":
		return Range{0, least, least / planktonShare}
	case "green":
		return Range{least, least / planktonShare, 0.3}
	case "thick":
		return Range{least / planktonShare, 0.3, 0.6}
	}
	return Range{}
}

// BottomDemand returns the oxygen that the bottom takes, g/m2 a day: 1 is the low
// end for ponds of 1 m (sediment-note, text; a weak source), nothing is taken for
// a liner brushed clean, three times as much for mud (common practice).
func BottomDemand() Range { return Range{0, 1, 3} }

// OxygenAfter returns the oxygen after some hours, mg/L, at least 0, where it
// changes by
//
//	dC/dt = s - r C,
//
// s what comes in if there were none less what is taken, mg/L an hour, and r how
// fast air and water exchange, 1/h, 0 or more. The closed solution:
//
//	C = C0 exp(-r t) + s (1 - exp(-r t))/r.
func OxygenAfter(start, s, r, hours float64) float64 {
	return math.Max(0, start+passed(r, hours)*(s-r*start))
}

// passed returns the hours of which a change that fades away at the rate r, 1/h, is
// worth some hours of its first speed.
func passed(r, hours float64) float64 {
	if r > 0 {
		return -math.Expm1(-r*hours) / r
	}
	return hours
}

// HoursUntil returns the hours until the oxygen of OxygenAfter has fallen to a
// limit in mg/L: 0 if it is there already, +Inf if it never is.
func HoursUntil(start, limit, s, r float64) float64 {
	loss := r*limit - s // at the limit, mg/L an hour
	switch {
	case start <= limit:
		return 0
	case loss <= 0:
		return math.Inf(1)
	case r > 0:
		return math.Log1p((start-limit)*r/loss) / r
	}
	return (start - limit) / loss
}
