package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Figures of the rules compared, in the units of their names.
const (
	ruleWeight  = 2.0    // kg/m3, hobby authors
	ruleLitres  = 1000.0 // L a fish, hobby
	ruleInch    = 360.0  // cm2 a cm, an inch of fish to a square foot
	ruleHalf    = 720.0  // cm2 a cm, half of that
	ruleDealer  = 8.0    // kg/m3, oata-code as repeated in the hobby
	ruleHeavy   = 10.0   // kg/m3, heavy show ponds
	ruleHibern  = 2.5    // kg/m2, gse1979, carp in winter ponds
	grownFactor = 2.0    // room for growth that makes a pond full, common practice
	cubicMetre  = 1000.0 // L
)

// StockingRules declares the comparison of the rules of how many fish.
func StockingRules() calculators.Calculator {
	c := calculators.Calculator{
		ID: "stocking-rules",
		Inputs: []calculators.Input{
			fishList(),
			{
				Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
				Help:   "From the pond volume calculator.",
				Accept: calculators.Range{Low: 100, High: 10_000_000, Origin: "sanity limit"},
			},
			{
				Name: "area", Fact: "surface", Label: "Area of the surface", Kind: quantity.Area,
				Help:   "Length times width of a rectangle; open water only.",
				Accept: calculators.Range{Low: 0.1, High: 100_000, Origin: "sanity limit"},
			},
		},
		Outputs: []calculators.Output{
			{Name: "density", Label: "Your fish in your water", Unit: "kg/m3", Digits: 2, Help: "All their weight, shared out over all the water."},
			{Name: "litres", Label: "Water for each of your fish", Unit: "L", Digits: 2},
			{Name: "by-weight", Label: calculators.Text("Rule: {fish kg} in {water L}", ruleWeight, cubicMetre), Unit: "kg/m3", Digits: 2},
			{Name: "by-fish", Label: calculators.Text("Rule: {water L} a fish", ruleLitres), Unit: "kg/m3", Digits: 2, Help: "For fish of your average weight."},
			{Name: "by-length", Label: "Rule: an inch to a square foot", Unit: "kg/m3", Digits: 2, Help: calculators.Hint("{surface cm2} of surface for each cm, for fish of your average length.", ruleInch)},
			{Name: "by-length-half", Label: "Rule: half an inch to a square foot", Unit: "kg/m3", Digits: 2},
			{Name: "heavy", Label: "Rule: heavy show ponds", Unit: "kg/m3", Digits: 2, Help: "With large filters, much air and daily care."},
			{Name: "dealer", Label: "Dealers' holding tanks", Unit: "kg/m3", Digits: 2, Fine: true, Help: "For days, with the dealer's filter; as the hobby repeats it."},
			{Name: "winter", Label: "Carp in winter ponds", Unit: "kg/m3", Digits: 2, Fine: true, Help: calculators.Hint("{fish kg} to a square metre of surface, unfed, with inflow.", ruleHibern)},
		},
		Compute: computeRules,
	}
	if calculators.Documented {
		c.Title = "Stocking rules side by side"
		c.Question = "By the usual rules, how full is my pond, and how far do the rules disagree?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.FishHealth}
		c.Cautions = []string{
			"No rule knows your filter, your feed or your air. Reckon ammonia and the oxygen of a hot night before you buy a fish.",
			"Rules by length fail with big fish: twice the length is eight times the weight.",
			"Count fish as they will be when grown, not as they are in the shop.",
			"Farm and dealer figures are not for a garden pond: they hold for days, or with bottled oxygen and staff.",
		}
		c.Formulas = []calculators.Formula{
			{
				Name: "Weight in the water", Says: "The rule of so many litres a fish, in kilograms to the cubic metre; 2, 8 and 10 kg/m³ stand as they are.",
				TeX:   `\rho = 1000\,\frac{w}{v}`,
				Basis: "practice", Function: "fish.DensityByFish",
				Check: calculators.Explicit("ρ [kg/m3] weight of fish to the volume of water: w [kg] weight of a fish 0.1..10, v [L] water for a fish 20..2000", DensityByFish),
			},
			{
				Name: "An inch to a square foot", Says: "The rule by length: 360 cm² of surface for each cm of fish, cautious keepers 720.",
				TeX:   `\rho = \frac{10^4 A}{c\,L}\cdot\frac{w}{V}`,
				Basis: "practice", Function: "fish.DensityByLength",
				Check: calculators.Explicit("ρ [kg/m3] weight of fish to the volume of water: A [m2] 1..50, V [m3] 1..50, w [kg] weight of a fish 0.1..5, L [cm] length of a fish 10..80, c [cm2/cm] surface for each length of fish 360|720", DensityByLength),
			},
			{
				Name: "Winter ponds", Says: "2.5 kg to a square metre, usual for older carp in hibernating ponds of farms.",
				TeX:    `\rho = 2.5\,\frac{A}{V}`,
				Source: "gse1979", Locator: "article", Basis: "published", Function: "fish.DensityByArea",
				Check: calculators.Explicit("ρ [kg/m3] weight of fish to the volume of water: A [m2] 1..50, V [m3] 1..50", func(area, volume float64) float64 { return DensityByArea(area, volume, ruleHibern) }),
			},
		}
		c.Example = calculators.Example{
			Story: "Ines asks how full Lower Reach is with {fish.count} koi of {fish.length}: {volume} under {area} of surface.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Fish in the water: ten koi in {volume}, and what the rules allow for fish of that size",
			Rows:    calculators.Axis{Input: "fish", Values: []string{"koi, 20 cm, 10", "koi, 30 cm, 10", "koi, 45 cm, 10", "koi, 60 cm, 10", "koi, 70 cm, 10"}},
			Show:    []string{"density", "by-weight", "by-fish", "by-length"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "The same ten koi of {fish.length} in more and more water",
			X:       "volume", From: "3000 L", To: "30000 L",
			Show: "density",
			Pond: "ines", Given: []calculators.Arg{{Name: "fish", Value: "koi, 45 cm, 10"}},
		}
	}
	return c
}

func computeRules(in calculators.Inputs) (calculators.Result, error) {
	w, length := weighing{}, 0.0
	for i, row := range in.Rows("fish") {
		s := readShoal(calculators.Text("fish row {row 0}, length", float64(i+1)), row, row.In("count", "1"))
		w.add(s)
		length += s.count * s.length
	}
	if len(w.errs) > 0 {
		return calculators.Result{}, w.errs
	}
	volume, area := in.In("volume", "m3"), in.In("area", "m2")
	each, length := w.sum.Likely/1000/w.count, length/w.count
	density := w.sum.times(1 / (1000 * volume))
	r := &w.Result
	add(r, "density", density)
	r.Exactly("litres", 1000*volume/w.count)
	rule := func(output, says string, allowed float64) {
		r.Exactly(output, allowed)
		r.Step(quantity.Put("{rule}: litres a fish, and how many fish", "rule", says), "{3 kg/m3}; {3 kg} / {3 kg/m3} = {2 L}; {3 kg/m3} × {3 m3} / {3 kg}, rounded down = {0}",
			allowed, each, allowed, 1000*each/allowed, allowed, volume, each, math.Floor(allowed*volume/each+1e-9))
	}
	byWeight := calculators.Text("{fish kg} in {water L}", ruleWeight, cubicMetre)
	rule("by-weight", byWeight, ruleWeight)
	rule("by-fish", calculators.Text("{water L} a fish", ruleLitres), DensityByFish(each, ruleLitres))
	rule("by-length", "An inch to a square foot", DensityByLength(area, volume, each, length, ruleInch))
	rule("by-length-half", "Half an inch to a square foot", DensityByLength(area, volume, each, length, ruleHalf))
	rule("heavy", "Heavy show ponds", ruleHeavy)
	rule("dealer", "Dealers' tanks", ruleDealer)
	rule("winter", "Winter ponds", DensityByArea(area, volume, ruleHibern))
	r.Flag("All but the winter figure are common practice, without a study behind them.")
	adviseRules(r, density)
	r.Scale = calculators.Scale{Output: "density", Marks: []calculators.Mark{
		{Value: ruleWeight, Label: byWeight, Basis: "practice"},
		{Value: ruleDealer, Label: "dealers' tanks", Basis: "practice"},
		{Value: ruleHeavy, Label: "heavy show ponds", Basis: "practice"},
	}}
	return w.Result, nil
}

func adviseRules(r *calculators.Result, density Range) {
	switch {
	case density.High > ruleHeavy:
		r.Advise("More than heavy show ponds hold, or near it. Air on day and night, and a plan for a power cut today; buy no fish, find homes for some.", "Ask a vet before you move fish that look unwell; some fish diseases must by law be reported.")
	case density.Likely > ruleWeight:
		r.Advise("Over the usual rule: what you have rests on filter, air and power. Buy no more fish.")
	case density.Likely*grownFactor > ruleWeight:
		r.Advise("Full once they have grown to twice the weight, which young koi do in a year or two.")
	default:
		r.Advise("Below the usual rule. Add fish slowly, a few in a season, after quarantine.")
	}
	r.Advise("Reckon the fish as adults with the growth calculator, and the night's oxygen with all of them.")
}
