package fish

import "math"

// Temperatures between which a form of oxygen uptake is stated, degrees Celsius.
const (
	uptakeCold    = 5.0  // coldest entry of the factor table taken from winberg1956
	uptakeCrucian = 15.0 // yamanaka2013, coldest trial
	uptakeWarm    = 30.0 // yamanaka2013, warmest trial, and warmest entry of the table
)

// CrucianUptake returns the routine oxygen uptake of crucian carp, mg per kg of
// fish and hour:
//
//	67.4 W^-0.193 exp(0.0562 t),
//
// W in grams, t in degrees Celsius, 15 to 30; outside it, and for a weight of
// zero or less, it returns NaN. Measured on larvae and juveniles, so it is
// stretched for anything heavier. Source: yamanaka2013, abstract.
func CrucianUptake(weight, t float64) float64 {
	if !(t >= uptakeCrucian && t <= uptakeWarm) {
		return math.NaN()
	}
	return power(67.4, -0.193, weight) * math.Exp(0.0562*t)
}

// BigheadUptake returns the resting oxygen uptake of bighead carp, mg per kg of
// fish and hour:
//
//	0.0053 W^-0.299 exp(0.048 t) g per g and day, x 10^6/24,
//
// W in grams, t in degrees Celsius. The source states no range; a weight of
// zero or less gives NaN. Source: cooke-hill2010, row Bighead carp.
func BigheadUptake(weight, t float64) float64 {
	return power(0.0053e6/24, -0.299, weight) * math.Exp(0.048*t)
}

// CyprinidUptake returns the routine oxygen uptake of fish of the carp family,
// mg per kg of fish and hour:
//
//	0.336 W^0.80 mL/h at 20 °C, x 1.429 mg/mL, over W, over KroghFactor(t),
//
// W in grams, t in degrees Celsius, 5 to 30; outside it, and for a weight of
// zero or less, it returns NaN. Source: winberg1956, group equations, from
// memory.
func CyprinidUptake(weight, t float64) float64 {
	return power(1000*1.429*0.336, 0.80-1, weight) / KroghFactor(t)
}

// KroghFactor returns by what the uptake at 20 °C is divided to have that at t
// degrees Celsius, 5 to 30; outside it returns NaN. The table's entries for
// every fifth degree are joined by straight lines in the logarithm, which meet
// its other entries to half a per cent. Source: winberg1956, temperature correction table,
// from memory.
func KroghFactor(t float64) float64 {
	if !(t >= uptakeCold && t <= uptakeWarm) {
		return math.NaN()
	}
	fifths := []float64{5.19, 2.67, 1.57, 1, 0.659, 0.444}
	i := min(int(t/5)-1, len(fifths)-2)
	return fifths[i] * math.Pow(fifths[i+1]/fifths[i], t/5-1-float64(i))
}

// RestingUptake returns the least, middle and most of the forms stated at t
// degrees Celsius for fish of a weight in grams, mg per kg and hour. Below 15 °C
// only two are, and likely is their middle. Below 5 and above 30 °C the ends are
// carried on, doubling for each 10 °C (swann, temperature section). It is for
// fish that have not just eaten: fed fish take about twice as much. A weight of
// zero or less gives NaN.
func RestingUptake(weight, t float64) Range {
	held := math.Min(math.Max(t, uptakeCold), uptakeWarm)
	a, b := BigheadUptake(weight, held), CyprinidUptake(weight, held)
	u := Range{math.Min(a, b), (a + b) / 2, math.Max(a, b)}
	if c := CrucianUptake(weight, held); !math.IsNaN(c) {
		u = Range{math.Min(u.Low, c), math.Min(math.Max(u.Low, c), u.High), math.Max(u.High, c)}
	}
	return u.times(math.Pow(2, (t-held)/10))
}
