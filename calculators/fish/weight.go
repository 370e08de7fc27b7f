package fish

import "math"

// Carp lines: published relations of total length to weight. They differ
// because the fish do, so an answer is a band over all that are stated for the
// length.

// The lengths in cm, from nose to tip of the tail, for which lines are stated: of
// koi from (bister2000), of goldfish and tench up to (fishbase; beelen2008), and of
// deep carp from nose to fork (tanir2020). Koi beyond koiTo are longer than any that
// a figure compared here is of.
const (
	standardFrom = 20.0
	deepFrom     = 11.2
	deepTo       = 55.5
	koiTo        = 90.0
	goldfishTo   = 48.0
	tenchTo      = 84.0
)

// StandardWeight returns the weight of a well-fed carp or koi, g:
//
//	log10 W = -4.639 + 2.920 log10 TL, TL in millimetres,
//
// for a total length in centimetres of 20 or more; below it returns NaN. It is
// the 75th percentile of North American waters, so most wild carp are lighter.
// Source: bister2000, WSlit.csv row Common Carp metric.
func StandardWeight(length float64) float64 {
	if !(length >= standardFrom) {
		return math.NaN()
	}
	return standardLine(length)
}

// standardLine is StandardWeight, carried on below the lengths it is stated for.
func standardLine(length float64) float64 {
	if !(length > 0) {
		return math.NaN()
	}
	return math.Pow(10, -4.639+2.920*math.Log10(10*length))
}

// SlimCarp returns the weight of a slim wild carp, g: 0.0163 TL^2.935, TL in
// centimetres. The source states no range of length; lengths of zero or less
// give NaN. Source: yilmaz-cerim, abstract (Hasan Ugurlu reservoir).
func SlimCarp(length float64) float64 { return power(0.0163, 2.935, length) }

// DutchCarp returns the weight of a carp in Dutch waters, g: 0.01 TL^3.129, TL
// in centimetres. The source states no range of length; lengths of zero or less
// give NaN. It is the heaviest line for long fish. Source: dewilt2008, fact F1
// in data file.
func DutchCarp(length float64) float64 { return power(0.01, 3.129, length) }

// DeepCarp returns the weight of a deep-bodied carp, g: 0.0528 FL^2.7202 with
// the fork length FL in centimetres, 11.2 to 55.5; outside it returns NaN.
// Source: tanir2020, abstract (Tercan dam lake).
func DeepCarp(fork float64) float64 {
	if !(fork >= deepFrom && fork <= deepTo) {
		return math.NaN()
	}
	return power(0.0528, 2.7202, fork)
}

// GoldfishWeight returns the weight of a goldfish of the common form, g:
// 0.01349 TL^3.00, total length in centimetres up to 48; beyond it, and for
// zero or less, NaN. Round-bodied fancy forms are heavier. Source: fishbase,
// fact F1 in data file.
func GoldfishWeight(length float64) float64 {
	if length > goldfishTo {
		return math.NaN()
	}
	return power(0.01349, 3, length)
}

// TenchWeight returns the weight of a tench, g: 0.018654 TL^2.9762, total
// length in centimetres up to 84; beyond it, and for zero or less, NaN.
// Source: beelen2008, fact F1 in data file.
func TenchWeight(length float64) float64 {
	if length > tenchTo {
		return math.NaN()
	}
	return power(0.018654, 2.9762, length)
}

func power(a, b, length float64) float64 {
	if !(length > 0) {
		return math.NaN()
	}
	return a * math.Pow(length, b)
}

// ForkPerTotal is fork length over total length of a carp, 185/195 on one
// photograph (amp-carp, comment in data file).
const ForkPerTotal = 185.0 / 195.0

// StandardPerTotal is standard length (snout to the root of the tail) over
// total length of a carp, ratio of sample means rounded (khan-chashma, abstract,
// means).
const StandardPerTotal = 0.81

// heavyAllowance is what the heavy end of the carp lines is raised by. They are lines
// through means; age classes of published populations lie up to 13 % over the heaviest
// (those of Lake Karamik 8 %, balik2006). Our own allowance.
const heavyAllowance = 1.15

// CarpWeight returns the band of the carp lines for a total length in centimetres, g:
// from the lightest line to heavyAllowance over the heaviest, likely StandardWeight.
// It neither jumps nor falls: below the lengths for which they are stated,
// StandardWeight is carried on, and DeepCarp keeps its form, so that the weight goes
// with the cube of the length; above, DeepCarp is lighter than DutchCarp. Zero or less
// gives NaN.
func CarpWeight(length float64) Range {
	slim, dutch, standard := SlimCarp(length), DutchCarp(length), standardLine(length)
	fork := length * ForkPerTotal
	deep := DeepCarp(math.Min(math.Max(fork, deepFrom), deepTo))
	if fork < deepFrom {
		deep *= math.Pow(fork/deepFrom, 3)
	}
	return Range{
		math.Min(slim, math.Min(dutch, standard)),
		standard,
		heavyAllowance * math.Max(math.Max(deep, dutch), math.Max(slim, standard)),
	}
}

// SingleLine returns the band around a weight for which only one line is
// published: a quarter less, by our own allowance, to half more, which is how
// far ripe tench lie above their line (beelen2008, pairs by egg count). Common
// practice, not a published range.
func SingleLine(weight float64) Range { return Range{0.75 * weight, weight, 1.5 * weight} }
