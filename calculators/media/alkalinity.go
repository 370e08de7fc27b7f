package media

import (
	"math"

	"mereleaf/calculators/fish"
)

// AlkalinityFall returns how far nitrification lowers the alkalinity in a week,
// in mg/L as CaCO3, from ammonia nitrogen in mg per litre of pond a day.
//
//	u = 7 x 7.14 L
//
// Source metcalf-eddy-2014, page 762; figure set media-oxygen-alkalinity.
func AlkalinityFall(load float64) float64 { return 7 * fish.AlkalinityPerNitrogen * load }

// AlkalinityAfter returns the alkalinity just before the water change after so
// many weeks, in mg/L: it falls by a fixed amount each week, then a share from 0
// to 1 of the water is changed for tap water.
//
//	K(n) = K* + (K0 - u - K*)(1 - f)^(n-1),  K* = T - u/f
//
// Without changes it falls evenly. Balance of the alkalinity; weeks is a whole
// number from 1. It may be below 0: then the alkalinity is gone.
func AlkalinityAfter(now, fall, tap, share, weeks float64) float64 {
	if share == 0 {
		return now - weeks*fall
	}
	if weeks == 1 {
		return now - fall
	}
	// The sum of (1-f)^i over the changes so far, exact for small f too.
	sum := -math.Expm1((weeks-1)*math.Log1p(-share)) / share
	return (now-fall)*math.Pow(1-share, weeks-1) + (tap*share-fall)*sum
}

// AlkalinityDays returns the day on which the alkalinity in mg/L first gets down
// to a floor, if it does within ten years, with weekly changes as in
// AlkalinityAfter. A floor that is not below it now is met at once.
func AlkalinityDays(now, fall, tap, share, floor float64) (float64, bool) {
	if now <= floor {
		return 0, true
	}
	for week := range 520 {
		if AlkalinityAfter(now, fall, tap, share, float64(week+1)) > floor {
			continue
		}
		// Counted from the week's start and not back from its end, which for days far
		// below one would leave the rounding of seven. It may start below the floor:
		// the change itself brought it down.
		above := alkalinityOn(now, fall, tap, share, 7*float64(week)) - floor
		return 7 * (float64(week) + min(1, max(0, above/fall))), true
	}
	return 0, false
}
