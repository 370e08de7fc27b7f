package water

import (
	"math"

	"mereleaf/calculators"
)

// LeakBySalt returns the water in L/d that a pond loses beside what evaporates, from
// the fall of its salt content between two readings, both in g/L above that of the
// water it is topped up with, in a volume in L kept full, over a time in days:
//
//	q = (V/t) ln(before/after)
//
// It is the mass balance of the salt, with the water mixed: salt leaves with water
// that leaks, splashes or runs over, and does not evaporate.
func LeakBySalt(volume, before, after, days float64) float64 {
	return volume / days * math.Log(before/after)
}

// leakBySalt adds the leak that two salt readings show, if both are stated, with the
// error of the meter.
func leakBySalt(in calculators.Inputs, r *calculators.Result) error {
	if !in.Has("salt-before") || !in.Has("salt-after") || !in.Has("volume") {
		if in.Has("salt-after") {
			r.Flag("For the leak by salt the volume and both salt readings are needed.")
		}
		return nil
	}
	before, after, e := in.In("salt-before", "g/L"), in.In("salt-after", "g/L"), in.In("salt-error", "g/L")
	if after-before > math.Sqrt2*e {
		return calculators.Refuse("salt-after", "is {after ~4 g/L}, more than at first, which no leak brings about", "at most {before ~4 g/L}", "top up to the same mark before each reading, and add no salt in between", after, before)
	}
	volume, days := in.In("volume", "L"), in.In("salt-time", "d")
	likely := LeakBySalt(volume, before, after, days)
	off := volume / days * math.Hypot(e/before, e/after)
	r.Between("leak-salt", math.Max(0, likely-off), math.Max(0, likely), math.Max(0, likely+off))
	r.Step("Leak by salt", "{3 L} / {3 d} × ln({3 g/L} / {3 g/L}) = {2 L/d}", volume, days, before, after, likely)
	r.Step("Error of the meter", "± {2 L/d}", off)
	if likely > off {
		r.Say("The salt says that {least 2 L/d} at the least leave the pond as water: a leak, splash or an overflow.", likely-off)
	} else {
		r.Say("The salt falls by no more than the meter's error: a leak of less than {most 2 L/d} does not show. Read again after a longer time.", likely+off)
	}
	return nil
}
