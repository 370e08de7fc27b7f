package media

import "math"

// UVMean returns the mean of the ultraviolet over a path through water, as a share
// of what enters it, from the share of it that a centimetre lets through, 0 to 1,
// and the path in cm.
//
//	m = (1 - 10^(-A L))/(A L ln 10),  A = -log10 T
//
// It is 1 in perfectly clear water. Law of Beer and Lambert; figures:
// media-uv-attenuation.
func UVMean(transmittance, path float64) float64 {
	x := -math.Log(transmittance) * path
	if x < 1e-9 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// UVDose returns the dose of one pass in mJ/cm2 from the ultraviolet the lamp
// gives off in W, the water between lamp and wall in m, the mean share over that
// water and the flow in m3/h.
//
//	D = P L m/Q
//
// In a straight tube the light thins as the rings of water around the lamp grow,
// so neither length nor bore matters. All light goes into the water, none comes
// back from the wall, and all the water gets the same: a new lamp in a clean
// sleeve at its best. Our own derivation from UVMean.
func UVDose(watts, gap, mean, flow float64) float64 {
	const perJouleAndSquareMetre = 0.1 // mJ/cm2
	return watts * gap * mean / (flow / 3600) * perJouleAndSquareMetre
}

// UVEfficiency returns the ultraviolet at 254 nm that a low-pressure lamp gives
// off for each electrical watt (epa-uvdgm-2006, lamp characteristics, from
// memory; figure set media-uv-practice).
func UVEfficiency() Range { return Between(0.30, 0.38) }

// UVLosses returns what is left of the best dose with an old lamp, a sleeve that
// is not clean and water that does not mix: our own practice.
func UVLosses() Range { return Range{0.4, 0.65, 1} }
