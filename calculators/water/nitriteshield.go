package water

import (
	"math"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
)

// Chloride for each part of nitrite, by mass.
const (
	carpRatio    = 8.0  // on nitrogen, carp, the least: svobodova-1993, from memory
	catfishRatio = 10.0 // catfish; the sheet does not say on nitrogen or NO2: srac-462, text
	troutRatio   = 17.0 // on nitrogen, trout, the least: svobodova-1993, from memory
)

// standingChloride is kept in catfish ponds as a standing insurance, mg/L
// (srac-462, text).
const standingChloride = 1000 * limits.ChlorideShield

// NitriteShield returns the chloride that shields fish from nitrite, mg/L, for
// nitrite in mg/L as nitrogen: low is 8 to 1 for carp on nitrogen
// (svobodova-1993, from memory); likely 10 to 1 on NO2, the larger reading of
// srac-462, which does not say which; high the same, or the standing 100 mg/L of
// srac-462 where that is more. Without nitrite all are 0.
func NitriteShield(asNitrogen float64) (low, likely, high float64) {
	if asNitrogen == 0 {
		return 0, 0, 0
	}
	likely = catfishRatio * chemistry.NitritePerNitrogen * asNitrogen
	return carpRatio * asNitrogen, likely, math.Max(likely, standingChloride)
}

// NitriteMaximum returns the short-term maximum of British Columbia for nitrite
// at a chloride in mg/L from 0 on, as mg/L nitrogen. It is a table of steps, never
// interpolated; a step begins with its lower bound, the last above 10 mg/L.
// Source: bc-wqg-2006, Tables 16 and 17; the step below 2 mg/L is the figure that
// Table 16 gives without chloride.
func NitriteMaximum(chloride float64) float64 {
	switch {
	case chloride > 10:
		return 0.60
	case chloride >= 8:
		return 0.30
	case chloride >= 6:
		return 0.24
	case chloride >= 4:
		return 0.18
	case chloride >= 2:
		return 0.12
	case chloride >= 0:
		return 0.06
	}
	return math.NaN()
}

// NitriteMean returns the long-term mean of British Columbia for nitrite at a
// chloride in mg/L from 0 on, as mg/L nitrogen, by the steps of NitriteMaximum and
// never interpolated. Source: bc-wqg-2006, Tables 16 and 17; the steps from 4 to 6
// and above 10 mg/L are those of bc-nitrogen-2009, Table 2, from memory.
func NitriteMean(chloride float64) float64 {
	switch {
	case chloride > 10:
		return 0.20
	case chloride >= 8:
		return 0.10
	case chloride >= 6:
		return 0.08
	case chloride >= 4:
		return 0.06
	case chloride >= 2:
		return 0.04
	case chloride >= 0:
		return 0.02
	}
	return math.NaN()
}

// NitriteBorne reports whether the chloride in the water, in mg/L, lets coarse fish
// bear a nitrite in mg/L as nitrogen, by CoarseFishNitrite. A filter that works as
// it was designed leaves a little nitrite; where the tap brings chloride, that is
// no reason to feed less.
func NitriteBorne(n, chloride float64) bool { return n <= CoarseFishNitrite(chloride) }

// CoarseFishNitrite returns the mean nitrite that EIFAC held fit for coarse fish
// at a chloride in mg/L, as mg/L nitrogen: the figure of the highest chloride in
// its table that is not above the water's, never interpolated; below 1 mg/L NaN.
// Source: eifac-t46-1984, coarse-fish criteria, from memory.
func CoarseFishNitrite(chloride float64) float64 {
	switch {
	case chloride >= 40:
		return 0.30
	case chloride >= 20:
		return 0.24
	case chloride >= 10:
		return 0.18
	case chloride >= 5:
		return 0.10
	case chloride >= 1:
		return 0.02
	}
	return math.NaN()
}
