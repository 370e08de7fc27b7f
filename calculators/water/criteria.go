package water

import "math"

// The range the EPA 2013 criteria are tabulated for (epa-2013-ammonia, tables
// of criterion values).
const (
	criteriaLeastPH  = 6.5
	criteriaMostPH   = 9.0
	criteriaColdest  = 0.0
	criteriaWarmest  = 30.0
	chronicFlatBelow = 7.0 // degrees Celsius: colder water is treated as this
)

func criteriaStated(ph, t float64) bool {
	return ph >= criteriaLeastPH && ph <= criteriaMostPH && t >= criteriaColdest && t <= criteriaWarmest
}

// AcuteCriterion returns the acute criterion of the United States for waters
// without salmonids, as mg of total ammonia nitrogen per litre, a one-hour mean
// not to be passed more than once in three years:
//
//	0.7249 (0.0114/(1 + 10^(7.204-pH)) + 1.6181/(1 + 10^(pH-7.204)))
//	  min(51.93, c 10^(0.036 (20-t)))
//
// c is 23.12 where mussels live and 62.15 without; t in degrees Celsius. Stated
// for pH 6.5 to 9 and 0 to 30 degrees; outside it returns NaN.
// Source: epa-2013-ammonia, acute criterion and Appendix N.
func AcuteCriterion(ph, t float64, mussels bool) float64 {
	if !criteriaStated(ph, t) {
		return math.NaN()
	}
	c := 62.15
	if mussels {
		c = 23.12
	}
	curve := 0.7249 * sigmoid(ph, 7.204, 0.0114, 1.6181)
	return curve * math.Min(51.93, c*math.Pow(10, 0.036*(20-t)))
}

// ChronicCriterion returns the chronic criterion of the United States as mg of
// total ammonia nitrogen per litre, a mean over 30 days (no four days above 2.5
// times it):
//
//	s (0.0278/(1 + 10^(7.688-pH)) + 1.1994/(1 + 10^(pH-7.688)))
//	  k 10^(0.028 (20 - max(t, 7)))
//
// with s, k = 0.8876, 2.126 where mussels live and 0.9405, 7.547 without
// mussels and without fry; t in degrees Celsius. Stated for pH 6.5 to 9 and 0
// to 30 degrees; outside it returns NaN.
// Source: epa-2013-ammonia, chronic criterion and Appendix N.
func ChronicCriterion(ph, t float64, mussels bool) float64 {
	if !criteriaStated(ph, t) {
		return math.NaN()
	}
	s, k := 0.9405, 7.547
	if mussels {
		s, k = 0.8876, 2.126
	}
	curve := s * sigmoid(ph, 7.688, 0.0278, 1.1994)
	return curve * k * math.Pow(10, 0.028*(20-math.Max(t, chronicFlatBelow)))
}

// sigmoid is how both criteria depend on pH: a high plateau b in acid water, a
// low one a in alkaline water, halfway at the knee.
func sigmoid(ph, knee, a, b float64) float64 {
	return a/(1+math.Pow(10, knee-ph)) + b/(1+math.Pow(10, ph-knee))
}
