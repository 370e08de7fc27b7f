package fish

import "math"

// IceThickness returns the thickness of ice, cm, from degree days of frost in
// K d and a coefficient in cm/sqrt(K d):
//
//	h = C sqrt(S).
//
// It starts from ice already formed: the first centimetres grow slower. Negative
// S gives NaN. Source: crrel-tn04-3, modified Stefan table.
func IceThickness(coefficient, degreeDays float64) float64 {
	return coefficient * math.Sqrt(degreeDays)
}

// IceCoefficients returns the coefficients of IceThickness, cm/sqrt(K d). Bare:
// likely 0.8 in/sqrt(°F d) of a windy lake without snow, at most the limit of pure
// conduction (stefan1891). Snow: 0.5 to 0.7. Other text gives the middle of bare
// with snow's low end. Source: crrel-tn04-3, modified Stefan table.
func IceCoefficients(snow bool) Range {
	inches := 2.54 * math.Sqrt(1.8) // in/sqrt(°F d) to cm/sqrt(K d)
	if snow {
		return Range{0.5, 0.6, 0.7}.times(inches)
	}
	return Range{0.8 * inches, 0.8 * inches, IceLimit()}
}

// IceLimit returns the coefficient of bare ice that conducts heat and nothing
// else, cm/sqrt(K d):
//
//	sqrt(2 k S/(rho L)), k = 2.2 W/(m K), rho = 917 kg/m3, L = 334 kJ/kg.
//
// Source: stefan1891, h = sqrt(2 k S/(rho L)).
func IceLimit() float64 { return 100 * math.Sqrt(2*2.2*86400/(917*334e3)) }
