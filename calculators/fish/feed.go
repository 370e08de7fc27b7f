package fish

import (
	"math"

	"mereleaf/calculators/water"
)

// Temperatures at which feeding changes, degrees Celsius.
const (
	carpStop   = 7.0  // carp stop feeding: fao-x0086e, paragraph on wintering ponds
	hobbyStop  = 10.0 // the most repeated stop of the hobby, common practice
	stopLeast  = 4.0  // the lowest stop in use, common practice
	stopMost   = 13.0 // the highest, common practice
	mostFed    = 26.0 // middle of the band in which grown koi are fed most, common practice
	trialCold  = 12.0 // goolish1984, coldest trial
	trialWarm  = 30.0 // goolish1984, warmest trial
	rationEnds = 32.0 // the practice bands end
)

// MaintenanceRation returns the ration on which young carp neither gain nor
// lose, per cent of body weight a day:
//
//	0.150 exp(0.0857 t),
//
// t in degrees Celsius, 12 to 30; outside it returns NaN. It is a fit to four
// trials with juveniles, 7 % from them at most; big fish need less.
// Source: goolish1984, abstract.
func MaintenanceRation(t float64) float64 {
	if !(t >= trialCold && t <= trialWarm) {
		return math.NaN()
	}
	return 0.150 * math.Exp(0.0857*t)
}

// BestGrowth returns the fastest growth of young carp with all the feed they
// take, per cent of body weight a day:
//
//	-0.00972 t^2 + 0.552 t - 4.51,
//
// t in degrees Celsius, 12 to 30; outside it returns NaN. A fit to four trials
// with juveniles, 1.5 % from them at most; it is growth, not feed.
// Source: goolish1984, abstract.
func BestGrowth(t float64) float64 {
	if !(t >= trialCold && t <= trialWarm) {
		return math.NaN()
	}
	return -0.00972*t*t + 0.552*t - 4.51
}

// YoungRation returns the ration of young carp, per cent of body weight a day:
// from MaintenanceRation to that plus 1 kg of feed for each kg of BestGrowth
// (common practice: dry feed seldom does better), likely the middle. Degrees
// Celsius, 12 to 30; outside it returns NaN.
func YoungRation(t float64) Range {
	keep := MaintenanceRation(t)
	best := keep + BestGrowth(t)
	return Range{keep, (keep + best) / 2, best}
}

// GrownRation returns the ration of grown koi and goldfish, per cent of body
// weight a day, by the bands keepers use: 0.2 to 0.4 at 10 to 13 °C, 0.8 to 1.2
// at 16 to 20, 1 to 1.5 at 20 to 24, 1 to 2 at 24 to 28, 0.5 to 1 at 28 to 32.
// Between the middles of the bands it runs straight; likely is the middle. Below 10 °C nothing is
// likely, 0.2 the most down to 7 °C, and nothing below. Above 32 it returns NaN.
// Common practice; bands in use differ by a factor of two.
func GrownRation(t float64) Range {
	switch {
	case !(t <= rationEnds):
		return Range{math.NaN(), math.NaN(), math.NaN()}
	case t < carpStop:
		return Range{}
	case t < hobbyStop:
		return Range{High: 0.2}
	}
	middles := rationMiddles()
	low := between(t, middles, []float64{0.2, 0.8, 1, 1, 0.5})
	high := between(t, middles, []float64{0.4, 1.2, 1.5, 2, 1})
	return Range{low, (low + high) / 2, high}
}

// rationMiddles are the middles of the bands of GrownRation, degrees Celsius.
func rationMiddles() []float64 { return []float64{11.5, 18, 22, mostFed, 30} }

// between returns the value at t on straight lines through points, level beyond
// the first and last.
func between(t float64, at, values []float64) float64 {
	for i := range at {
		switch {
		case t > at[i]:
			continue
		case i == 0:
			return values[0]
		}
		part := (t - at[i-1]) / (at[i] - at[i-1])
		return values[i-1] + part*(values[i]-values[i-1])
	}
	return values[len(values)-1]
}

// AmmoniaFromFeed returns the total ammonia nitrogen set free by feed, as mass
// per mass of feed, by its fraction of protein, 0 to 1 (outside NaN):
// water.FeedNitrogen, which names the sources.
func AmmoniaFromFeed(protein float64) Range {
	low, likely, high := water.FeedNitrogen(protein)
	return Range{low, likely, high}
}

// OxygenPerNitrogen is the oxygen that turning ammonia nitrogen into nitrate
// takes, g/g (vanhaandel-stoich, section 4.1.3).
const OxygenPerNitrogen = 4.57

// AlkalinityPerNitrogen is the alkalinity, as CaCO3, that it uses up, g/g
// (wastewater-operator-notes; 7.05 with growth of the bacteria).
const AlkalinityPerNitrogen = 7.14

// BicarbonatePerNitrogen is the sodium bicarbonate that makes up for it, g/g
// (aquaculture-consultancy-alkalinity, list under equation 4).
const BicarbonatePerNitrogen = 12.0

// FeedOxygenDemand returns the oxygen that feed takes in the whole pond with
// all decay, as mass per mass of feed:
//
//	0.40 x 0.90 x 2.67 + 0.16 P x 0.75 x 4.57,
//
// that is, 40 % carbon of which 90 % is burnt, and nitrogen of which 75 % is
// nitrified; P the fraction of protein, 0 to 1 (outside NaN). High is the
// rounded 1.25 of the source's summary, or the formula where that is more.
// Source: boyd-feed-od, computation and summary.
func FeedOxygenDemand(protein float64) Range {
	if !(protein >= 0 && protein <= 1) {
		return Range{math.NaN(), math.NaN(), math.NaN()}
	}
	demand := 0.40*0.90*2.67 + 0.16*protein*0.75*OxygenPerNitrogen
	return Range{demand, demand, math.Max(demand, 1.25)}
}

// FishAndFilterOxygen returns the oxygen that the fish and the filter take by
// themselves, as mass per mass of feed: 0.5 for the fish, and likely
// OxygenPerNitrogen times AmmoniaFromFeed for the filter. High is 0.5/0.72, the
// source's share of the fish in the whole system. P is the fraction of protein,
// 0 to 1 (outside NaN). Source: seagrant-proc, page 137.
func FishAndFilterOxygen(protein float64) Range {
	likely := 0.5 + OxygenPerNitrogen*AmmoniaFromFeed(protein).Likely
	return Range{0.5, likely, math.Max(likely, 0.5/0.72)}
}

// CarbonDioxideFromFeed returns the carbon dioxide set free by feed, as mass per
// mass of feed: 0.40 x 0.90 x 44/12 when all carbon but a tenth is burnt, low
// 0.5 x 44/32 from the fish alone. Source: boyd-feed-od for the carbon,
// seagrant-proc, page 137, for the oxygen of the fish.
func CarbonDioxideFromFeed() Range {
	const burnt = 0.40 * 0.90 * 44 / 12
	return Range{0.5 * 44 / 32, burnt, burnt}
}

// SolidsFromFeed returns the dry solids that feed leaves, as mass per mass of
// feed: 0.2 to 0.4 (timmons-ebeling-2010, from memory), likely 0.9 (1 - 0.59),
// the dry matter carp do not digest (mcp1993, abstract: 58 to 60 % digested).
func SolidsFromFeed() Range { return Range{0.2, 0.9 * (1 - 0.59), 0.4} }

// PhosphorusFromFeed returns the phosphorus that feed leaves in the water and
// the sludge, as mass per mass of feed: feeds hold 0.0107 to 0.0209
// (watanabe1999, abstract) and fish keep at most half (roy2020, abstract); likely
// is the middle of what follows.
func PhosphorusFromFeed() Range {
	low, high := 0.5*0.0107, 0.0209
	return Range{low, (low + high) / 2, high}
}
