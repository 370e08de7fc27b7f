package water

import "math"

// Mixed returns the value of a water in which the given share, 0 to 1, was
// replaced by a new one, from the values of the old and the new water: old +
// share (new - old). It holds for whatever is neither made nor used up by
// mixing (concentrations, salt, alkalinity, nearly so temperature), not for pH.
func Mixed(old, replacement, share float64) float64 { return old + share*(replacement-old) }

// ShareToReplace returns the share of water, 0 to 1, to replace in one go so
// that a value comes from now to target with new water of the given value:
//
//	(now - target)/(now - new)
//
// It is 0 when the value lies at the target or beyond it already, and NaN when
// no amount of the new water reaches it. The three values are in one unit. It is
// the mass balance of one change, with the water mixed.
func ShareToReplace(now, replacement, target float64) float64 {
	whole, part := now-replacement, now-target
	switch {
	case part == 0 || whole > 0 && part < 0 || whole < 0 && part > 0:
		return 0
	case whole == 0 || part/whole > 1:
		return math.NaN()
	}
	return part/whole + 0 // + 0: never a negative nought
}

// LeftAfterChanges returns the share of the old water, 0 to 1, that is left
// after a number of changes, each of the given share, 0 to 1, of the volume and
// each mixed before the next: (1 - share)^changes.
func LeftAfterChanges(share, changes float64) float64 { return math.Pow(1-share, changes) }

// ChangesToReplace returns how many changes of the given share, above 0 and
// below 1, replace at least the given part of the old water, 0 to below 1:
// ln(1 - part)/ln(1 - share), rounded up.
func ChangesToReplace(part, share float64) float64 {
	n := math.Log1p(-part) / math.Log1p(-share)
	return math.Ceil(n * (1 - 1e-9)) // a whole number computed a hair too high is whole
}

// LeftAfterRunThrough returns the share of the old water, 0 to 1, that is left
// after new water ran through a pond that overflows, in multiples of the pond's
// volume, always mixed: exp(-volumes).
func LeftAfterRunThrough(volumes float64) float64 { return math.Exp(-volumes) }

// RunThroughVolumes returns how much new water must run through a pond that
// overflows, in multiples of its volume, to replace the given part of the old
// water, 0 to below 1: -ln(1 - part). It is the inverse of LeftAfterRunThrough.
func RunThroughVolumes(part float64) float64 { return -math.Log1p(-part) + 0 }
