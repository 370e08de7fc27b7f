package water

import "math"

// Stated limits of the Emerson formula, degrees Celsius (emerson-1975).
const (
	emersonColdest = 0.0
	emersonWarmest = 50.0
)

// AmmoniumPKa returns the pKa of ammonium in fresh water,
//
//	pKa = 0.0901821 + 2729.92/(t + 273.15),
//
// with t in degrees Celsius, stated for 0 to 50. Outside it returns NaN.
// Source: emerson-1975, equation for pKa. One manual prints 2727.92 for
// 2729.92, a slip.
func AmmoniumPKa(t float64) float64 {
	if !(t >= emersonColdest && t <= emersonWarmest) {
		return math.NaN()
	}
	return 0.0901821 + 2729.92/(t+273.15)
}

// IonicStrength returns the ionic strength of salted water in mol/kg,
//
//	I = 19.973 S/(1000 - 1.2005109 S),
//
// with the salinity S in g/kg, for 0 to 35. Outside it returns NaN.
// Source: fdep-unionised-ammonia.
func IonicStrength(salinity float64) float64 {
	if !(salinity >= 0 && salinity <= saltiest) {
		return math.NaN()
	}
	return 19.973 * salinity / (1000 - 1.2005109*salinity)
}

// Stated range of the salt term, g/kg (fdep-unionised-ammonia). From 0 to the
// lower end the term is an interpolation to fresh water, which callers flag.
const (
	leastSalty = 5.0
	saltiest   = 35.0
)

// SaltedPKa returns the pKa of ammonium in water with salt,
//
//	pKa(fresh) + (0.1552 - 0.0003142 t) I,
//
// with t in degrees Celsius and I = IonicStrength(salinity), salinity in g/kg.
// The salt term is stated for 5 to 35 g/kg; below 5 it runs smoothly to fresh
// water. Outside 0 to 50 degrees or 0 to 35 g/kg it returns NaN.
// Source: fdep-unionised-ammonia.
func SaltedPKa(t, salinity float64) float64 {
	return AmmoniumPKa(t) + (0.1552-0.0003142*t)*IonicStrength(salinity)
}

// UnionisedFraction returns the part of total ammonia that is un-ionised NH3,
// the toxic part, from 0 to 1:
//
//	f = 1/(1 + 10^(pKa - pH)).
//
// t is in degrees Celsius (0 to 50), salinity in g/kg (0 for pond water, at
// most 35); outside it returns NaN. Source: emerson-1975, equation for f.
func UnionisedFraction(ph, t, salinity float64) float64 {
	return 1 / (1 + math.Pow(10, SaltedPKa(t, salinity)-ph))
}

// IonisedFraction returns the part of total ammonia that is ammonium NH4+, the
// mostly harmless part, from 0 to 1: 1/(1 + 10^(pH - pKa)). Arguments and
// source as for UnionisedFraction.
func IonisedFraction(ph, t, salinity float64) float64 {
	return 1 / (1 + math.Pow(10, ph-SaltedPKa(t, salinity)))
}

// ChangeNeeded returns the share of water, 0 to 1, to renew in one go so that a
// concentration falls to a target: 1 - target/now, or 0 when it is there
// already. The new water is taken to hold none of the substance. Both
// concentrations are in one unit. It is the mass balance of one batch change.
func ChangeNeeded(now, target float64) float64 {
	if now <= target {
		return 0
	}
	return 1 - target/now
}
