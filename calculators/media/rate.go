package media

import "math"

// LeastTAN is the total ammonia nitrogen in mg/L at or below which a film of
// nitrifying bacteria cannot live (zhu-chen-1999, abstract).
const LeastTAN = 0.07

// Temperatures at which the two rates were measured.
const (
	FilmTemperature      = 27.2 // zhu-chen-1999
	HalfOrderTemperature = 24.5 // bovendeur-1987, 24 to 25
)

// FilmRate returns the rate of a nitrifying film in g/m2/d at 27.2 Celsius, from
// total ammonia nitrogen in mg/L.
//
//	R = 1.859 (S - 0.07)/(S + 1.93)
//
// At or below 0.07 mg/L it is 0. Measured in clean water with ammonia as the
// only food and oxygen in plenty; a film that also gets dirt is slower. Source
// zhu-chen-1999, abstract (0.07 and 1.93 seen in print, 1859 mg/m2/d from
// memory). Figures: media-nitrification-monod.
func FilmRate(tan float64) float64 {
	if tan <= LeastTAN {
		return 0
	}
	return 1.859 * (tan - LeastTAN) / (tan + 1.93)
}

// HalfOrderRate returns the rate of a nitrifying film in g/m2/d at 24 to 25
// Celsius, from total ammonia nitrogen in mg/L: half order, then level.
//
//	R = 0.55 sqrt(S) - 0.1 up to S = 2, above it 0.69
//
// Below S = 0.033 it is 0. Source bovendeur-1987 as used in eding-2006, from
// memory; figures: media-nitrification-kinetics.
func HalfOrderRate(tan float64) float64 {
	if tan > 2 {
		return 0.69
	}
	return math.Max(0, 0.55*math.Sqrt(tan)-0.1)
}

// RateCap returns the highest rate in g/m2/d seen in large trickling filters,
// whatever the ammonia: 0.69 on a fish farm (bovendeur-1987, from memory), 1.0
// as the best of a waterworks (mofokeng-2009, abstract).
func RateCap() Range { return Range{0.69, 0.69, 1} }

// Growth of the rate per degree, as factors.
const (
	MildGrowth  = 1.01108 // 1.108 % at 20 Celsius, oxygen-limited film (zhu-chen-2002, abstract)
	FilmGrowth  = 1.04275 // 4.275 % at 20 Celsius, ammonia-limited film (zhu-chen-2002, abstract)
	SteepGrowth = 1.098   // bacteria by themselves, mean of 1.086 to 1.109 (salvetti-2006, abstract)
)

// TemperatureFactor returns how many times faster a process runs than at the
// reference temperature.
//
//	theta^(t - reference)
//
// Figures: media-temperature-factor.
func TemperatureFactor(theta, celsius, reference float64) float64 {
	return math.Pow(theta, celsius-reference)
}

// OxygenPerTAN is the ratio of oxygen to total ammonia nitrogen, both in mg/L,
// below which oxygen and no longer ammonia limits the film, 3 to 3.5 (hem-1994,
// results).
func OxygenPerTAN() Range { return Between(3, 3.5) }

// Limit says what holds the rate of a film down.
type Limit uint8

// The limits.
const (
	ByAmmonia Limit = iota
	ByOxygen
	ByCap
)

// Rate returns the rate of a nitrifying film in g/m2/d and what limits it, from
// total ammonia nitrogen and oxygen in mg/L and the temperature in Celsius.
//
// The likely rate is FilmRate, the low and the high one the lesser and the
// greater of FilmRate and HalfOrderRate. Ammonia beyond oxygen over OxygenPerTAN
// adds nothing. The likely rate goes with temperature as FilmGrowth, or
// MildGrowth where oxygen limits; the ends take whichever of MildGrowth and
// SteepGrowth is worse and better. RateCap tops all three.
//
// Ammonia at or below LeastTAN gives no likely rate. The figures behind it span
// 5 to 28 Celsius; outside they are drawn on.
func Rate(tan, oxygen, celsius float64) (Range, Limit) {
	ratio, most, limit := OxygenPerTAN(), RateCap(), ByAmmonia
	growth := FilmGrowth
	if tan > oxygen/ratio.Likely {
		limit, growth = ByOxygen, MildGrowth
	}
	scarce, some, ample := math.Min(tan, oxygen/ratio.High), math.Min(tan, oxygen/ratio.Likely), math.Min(tan, oxygen/ratio.Low)
	film, half := ends(celsius, FilmTemperature), ends(celsius, HalfOrderTemperature)
	r := Range{
		Low:    math.Min(FilmRate(scarce)*film.Low, HalfOrderRate(scarce)*half.Low),
		Likely: FilmRate(some) * TemperatureFactor(growth, celsius, FilmTemperature),
		High:   math.Max(FilmRate(ample)*film.High, HalfOrderRate(ample)*half.High),
	}
	if r.Likely > most.Likely {
		limit = ByCap
	}
	return Range{math.Min(r.Low, most.Low), math.Min(r.Likely, most.Likely), math.Min(r.High, most.High)}, limit
}

// ends returns the least and the greatest temperature factor.
func ends(celsius, reference float64) Range {
	mild, steep := TemperatureFactor(MildGrowth, celsius, reference), TemperatureFactor(SteepGrowth, celsius, reference)
	return Between(math.Min(mild, steep), math.Max(mild, steep))
}
