package water

import "math"

// StandardPressure is the pressure of the standard atmosphere at sea level, kPa
// (us-std-atmosphere-1976).
const StandardPressure = 101.325

// Stated limits of the Benson and Krause formula (benson-krause-1984): degrees
// Celsius and g/kg.
const (
	oxygenColdest   = 0.0
	oxygenWarmest   = 40.0
	oxygenSaltiest  = 40.0
	zeroCelsius     = 273.15
	tropopauseMetre = 11000.0
)

// OxygenSaturation returns the oxygen that water in contact with moist air at
// the standard pressure holds, mg/L:
//
//	ln C = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.243800e10/T^3
//	       - 8.621949e11/T^4 - S (0.017674 - 10.754/T + 2140.7/T^2),
//
// T = t + 273.15 kelvin, t in degrees Celsius (0 to 40), S in g/kg (0 to 40).
// Outside it returns NaN. Source: benson-krause-1984, the equation as given
// there.
func OxygenSaturation(t, salinity float64) float64 {
	if !(t >= oxygenColdest && t <= oxygenWarmest && salinity >= 0 && salinity <= oxygenSaltiest) {
		return math.NaN()
	}
	k := t + zeroCelsius
	fresh := -139.34411 + 1.575701e5/k - 6.642308e7/(k*k) + 1.243800e10/math.Pow(k, 3) - 8.621949e11/math.Pow(k, 4)
	salt := 0.017674 - 10.754/k + 2140.7/(k*k)
	return math.Exp(fresh - salinity*salt)
}

// VapourPressure returns the pressure of water vapour over pond water as the
// oxygen formula takes it, kPa:
//
//	ln Pw = 11.8571 - 3840.70/T - 216961/T^2, Pw in atmospheres,
//
// T = t + 273.15, t in degrees Celsius (0 to 40); outside it returns NaN.
// Source: benson-krause-1984, vapour pressure term.
func VapourPressure(t float64) float64 {
	if !(t >= oxygenColdest && t <= oxygenWarmest) {
		return math.NaN()
	}
	k := t + zeroCelsius
	return StandardPressure * math.Exp(11.8571-3840.70/k-216961/(k*k))
}

// OxygenAtPressure returns the oxygen that water holds under a station
// pressure, mg/L:
//
//	C P (1 - Pw/P)(1 - q P)/((1 - Pw)(1 - q)),
//	q = 0.000975 - 1.426e-5 t + 6.436e-8 t^2,
//
// with C = OxygenSaturation, Pw = VapourPressure and P in atmospheres; here the
// pressure is given in kPa. It is the pressure of the air at the pond, not the
// one corrected to sea level that weather reports print. NaN where
// OxygenSaturation is, or when the pressure is not above the vapour's.
// Source: benson-krause-1984, pressure correction.
func OxygenAtPressure(t, salinity, pressure float64) float64 {
	p, pw := pressure/StandardPressure, VapourPressure(t)/StandardPressure
	if !(p > pw) {
		return math.NaN()
	}
	q := 0.000975 - 1.426e-5*t + 6.436e-8*t*t
	return OxygenSaturation(t, salinity) * p * (1 - pw/p) * (1 - q*p) / ((1 - pw) * (1 - q))
}

// AirPressure returns the mean pressure of the air at an altitude, kPa:
//
//	101.325 (1 - 2.25577e-5 z)^5.25588,
//
// z in metres, up to 11,000 (the standard troposphere) and down to the same
// depth; outside it returns NaN. The weather moves the true pressure by a few
// per cent. Source: us-std-atmosphere-1976, closed formula; the printed table
// departs from it by at most 0.02 %.
func AirPressure(altitude float64) float64 {
	if !(math.Abs(altitude) <= tropopauseMetre) {
		return math.NaN()
	}
	return StandardPressure * math.Pow(1-2.25577e-5*altitude, 5.25588)
}

// PercentSaturation returns a reading as a share of what the water can hold,
// per cent: 100 reading/saturation, both in mg/L. It is a definition.
func PercentSaturation(reading, saturation float64) float64 { return 100 * reading / saturation }

// fullFrom is the share of saturation, per cent, from which water counts as full:
// a test is not finer (common practice).
const fullFrom = 98

// Full reports whether water that reads so much oxygen is full, both in mg/L: then
// more air adds none, whatever the figure. What runs keeps running, because the night
// takes it again.
func Full(reading, saturation float64) bool {
	return PercentSaturation(reading, saturation) >= fullFrom
}
