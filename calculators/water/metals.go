package water

import "math"

// MetalCriterion returns a hardness-dependent criterion of the United States for
// a dissolved metal in ug/L: CF exp(m ln H + b), with the hardness H in mg/L as
// CaCO3. Source: cfr-40-132, tables 1(b) and 2(b).
func MetalCriterion(hardness, m, b, conversion float64) float64 {
	return conversion * math.Exp(m*math.Log(hardness)+b)
}

// CopperCriterion returns the United States criterion for dissolved copper in
// ug/L at a hardness in mg/L as CaCO3; acute is a one-hour mean, chronic a
// four-day mean. Source: cfr-40-132, tables 1(b) and 2(b). A later criterion
// of 2007 takes account of what binds copper, and needs ten inputs.
func CopperCriterion(hardness float64, acute bool) float64 {
	if acute {
		return MetalCriterion(hardness, 0.9422, -1.700, 0.960)
	}
	return MetalCriterion(hardness, 0.8545, -1.702, 0.960)
}

// ZincCriterion is CopperCriterion for zinc.
func ZincCriterion(hardness float64, acute bool) float64 {
	if acute {
		return MetalCriterion(hardness, 0.8473, 0.884, 0.978)
	}
	return MetalCriterion(hardness, 0.8473, 0.884, 0.986)
}

// CopperColumbia returns the guideline of British Columbia for copper in ug/L at
// a hardness in mg/L as CaCO3: long term 2 up to 50 and 0.04 H above; short term
// 0.094 H + 2. Source: bc-wqg-2006, Table 9.
func CopperColumbia(hardness float64, short bool) float64 {
	switch {
	case short:
		return 0.094*hardness + 2
	case hardness <= 50:
		return 2
	}
	return 0.04 * hardness
}

// ZincColumbia returns the guideline of British Columbia for zinc in ug/L at a
// hardness in mg/L as CaCO3: up to 90 it is 7.5 long term and 33 short term, and
// rises by 0.75 for each mg/L above. Source: bc-wqg-2006, Table 33.
func ZincColumbia(hardness float64, short bool) float64 {
	base := 7.5
	if short {
		base = 33
	}
	return base + 0.75*math.Max(0, hardness-90)
}

// EuropeanCopper returns the guide value of the European Union for dissolved
// copper in ug/L: that of the listed hardness at or below the given one, in mg/L
// as CaCO3. Below 10 it returns NaN. Source: eu-2006-44, Annex II (memory); the
// directive ended in 2013.
func EuropeanCopper(hardness float64) float64 {
	switch {
	case hardness >= 300:
		return 112
	case hardness >= 100:
		return 40
	case hardness >= 50:
		return 22
	case hardness >= 10:
		return 5
	}
	return math.NaN()
}

// EuropeanZinc returns the value of the European Union for total zinc in carp
// waters, or in salmon waters, in ug/L: that of the listed hardness at or below
// the given one, in mg/L as CaCO3. Below 10 it returns NaN. Source: eu-2006-44,
// Annex II (memory); the directive ended in 2013.
func EuropeanZinc(hardness float64, salmon bool) float64 {
	carp, trout := math.NaN(), math.NaN()
	switch {
	case hardness >= 500:
		carp, trout = 2000, 500
	case hardness >= 100:
		carp, trout = 1000, 300
	case hardness >= 50:
		carp, trout = 700, 200
	case hardness >= 10:
		carp, trout = 300, 30
	}
	if salmon {
		return trout
	}
	return carp
}
