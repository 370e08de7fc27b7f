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
	ruleGallons = 250.0  // US gallons a koi, hobby
	ruleFirst   = 1000.0 // US gallons for the first koi, hobby
	ruleNext    = 100.0  // US gallons for each next
	rulePerInch = 10.0   // US gallons for an inch of fish, hobby
	ruleMetric  = 55.0   // cm of fish in 1000 L, hobby
	grownFactor = 2.0    // room for growth that makes a pond full, common practice
	cubicMetre  = 1000.0 // L
	smallFish   = 15.0   // cm, as koi are sold
	gallon      = 3.785411784
	inch        = 2.54 // cm
)

// StockingRules declares the comparison of the rules of how many fish.
func StockingRules() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "stocking-rules",
		Inputs: rulesInputs(),
		Outputs: []calculators.Output{
			{Name: "room", Label: calculators.Text("Grown fish that {fish kg} in {water L} allow", ruleWeight, cubicMetre), Unit: "1", Digits: 2, Whole: true, Help: "The calm rule; however small they are today."},
			{Name: "density", Label: "Your fish in your water", Unit: "kg/m3", Digits: 2, Help: "All their weight, shared out over all the water."},
			{Name: "litres", Label: "Water for each of your fish", Unit: "L", Digits: 2},
			{Name: "total-length", Label: "All your fish in a row", Unit: "m", Digits: 2},
			{Name: "as-small", Label: calculators.Text("That length in fish of {small cm}", smallFish), Unit: "kg", Digits: 2, Help: "What a rule by length sees in the shop."},
			{Name: "as-grown", Label: "That length in grown fish", Unit: "kg", Digits: 2, Help: "The same length, by the rule the same load."},
			{Name: "by-weight", Label: calculators.Text("Rule: {fish kg} in {water L}", ruleWeight, cubicMetre), Unit: "kg/m3", Digits: 2},
			{Name: "by-fish", Label: calculators.Text("Rule: {water L} a fish", ruleLitres), Unit: "kg/m3", Digits: 2, Help: "For fish of your average weight."},
			{Name: "by-gallons", Label: calculators.Text("Rule: {water [gal_us]} a fish", ruleGallons), Unit: "kg/m3", Digits: 2},
			{Name: "by-first", Label: calculators.Text("Rule: {first [gal_us]} for the first, {next [gal_us]} for each next", ruleFirst, ruleNext), Unit: "kg/m3", Digits: 2},
			{Name: "by-inch", Label: calculators.Text("Rule: an inch to {water [gal_us]}", rulePerInch), Unit: "kg/m3", Digits: 2, Help: "For fish of your average length."},
			{Name: "by-metric", Label: calculators.Text("Rule: {fish cm} in {water L}", ruleMetric, cubicMetre), Unit: "kg/m3", Digits: 2},
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
				Name: "An inch to so much water", Says: "The rule by length and water: 14.9 L for each cm (an inch to 10 US gallons), or 18.2 (55 cm in 1,000 L).",
				TeX:   `\rho = 1000\,\frac{w}{c\,L}`,
				Basis: "practice", Function: "fish.DensityByTotalLength",
				Check: calculators.Explicit("ρ [kg/m3] weight of fish to the volume of water: w [kg] weight of a fish 0.1..5, L [cm] length of a fish 10..80, c [L/cm] water for each length of fish 14.9|18.2", DensityByTotalLength),
			},
			{
				Name: "The first and each next", Says: "1,000 US gallons for the first koi, 100 for each next.",
				TeX:   `n = 1 + \frac{V - v_1}{v_2}`,
				Basis: "practice", Function: "fish.NumberByFirst",
				Check: calculators.Explicit("n [1] number of fish: V [m3] 4..50, v_1 [m3] water for the first fish 3.785, v_2 [m3] water for each next 0.3785", NumberByFirst),
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
			Show:    []string{"density", "by-weight", "by-fish", "by-first", "by-inch", "by-length"},
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

func rulesInputs() []calculators.Input {
	in := stockInputs()
	in[0].Options = append(in[0].Options, calculators.Option{Name: "grown", Label: "none yet: grown ones"})
	return append(in, []calculators.Input{
		{
			Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
			Help:   "From the pond volume calculator.",
			Accept: calculators.Range{Low: 100, High: 10_000_000, Origin: "sanity limit"},
		},
		{
			Name: "area", Fact: "surface", Label: "Area of the surface", Kind: quantity.Area, Optional: true,
			Help:   "Only rules by the surface ask for it; open water only.",
			Accept: calculators.Range{Low: 0.1, High: 100_000, Origin: "sanity limit"},
		},
		{
			Name: "grown", Label: "Length of a grown fish", Kind: quantity.Size, Unit: "cm", Default: "60 cm", Fine: true,
			Help:   "Of koi; the growth calculator says what yours become.",
			Accept: calculators.Range{Low: 10, High: 120, Origin: "sanity limit"},
		},
	}...)
}

// rules compares what rules allow for fish of one size.
type rules struct {
	weighing
	_            calculators.Incomparable
	volume, area float64 // m3, m2; no area is NaN
	each, length float64 // of a fish on average, kg and cm
	grown        *shoal
	mine         bool // whether the fish are there
}

func computeRules(in calculators.Inputs) (calculators.Result, error) {
	r := rules{volume: in.In("volume", "m3"), area: in.In("area", "m2"), mine: in.Choice("stock") != "grown"}
	r.grown = &shoal{place: "grown", species: "koi", length: in.In("grown", "cm"), count: 1}
	all := []*shoal{r.grown}
	if r.mine {
		all = stock(in)
	}
	total := 0.0
	for _, s := range all {
		r.add(s)
		total += s.count * s.length
	}
	if len(r.errs) > 0 {
		return calculators.Result{}, r.errs
	}
	r.each, r.length = r.sum.Likely/1000/r.count, total/r.count
	number := func(grams float64) float64 { return math.Floor(ruleWeight*1000*r.volume/grams + 1e-9) }
	grown := r.grown.band()
	add(&r.Result, "room", Range{number(grown.High), number(grown.Likely), number(grown.Low)})
	r.Step("Grown fish by the calm rule", "{3 kg/m3} × {3 m3} / {3 kg}, rounded down = {0}", ruleWeight, r.volume, grown.Likely/1000, number(grown.Likely))
	density := r.sum.times(1 / (1000 * r.volume))
	if r.mine {
		add(&r.Result, "density", density)
		r.Exactly("litres", 1000*r.volume/r.count)
		r.sameLength(total)
	}
	r.compare()
	r.Flag("All but the winter figure are common practice, without a study behind them.")
	if !r.mine {
		room, _ := r.Value("room")
		r.Say("By the calm rule this water takes {number 0|grown fish|grown fish} of {length cm}, and no more of them because they are small today.", room.Likely, r.length)
		r.Advise("Reckon the night's oxygen with all of them, grown.")
		return r.Result, nil
	}
	adviseRules(&r.Result, density)
	r.Scale = calculators.Scale{Output: "density", Marks: []calculators.Mark{
		{Value: ruleWeight, Label: calculators.Text("{fish kg} in {water L}", ruleWeight, cubicMetre), Basis: "practice"},
		{Value: ruleDealer, Label: "dealers' tanks", Basis: "practice"},
		{Value: ruleHeavy, Label: "heavy show ponds", Basis: "practice"},
	}}
	return r.Result, nil
}

// sameLength says what one total length, cm, weighs in small and in grown fish.
func (r *rules) sameLength(total float64) {
	if math.IsNaN(total) {
		return // a stock by weight says no length
	}
	small := r.grown.ofLength(smallFish)
	weighs := func(s *shoal) Range { return s.band().times(total / s.length / 1000) }
	r.Exactly("total-length", total/100)
	add(&r.Result, "as-small", weighs(small))
	add(&r.Result, "as-grown", weighs(r.grown))
	for _, s := range []*shoal{small, r.grown} {
		r.Step("The same length in fish of {3 cm}", "{3 cm} / {3 cm} × {3 kg} = {2 kg}", s.length, total, s.length, s.band().Likely/1000, weighs(s).Likely)
	}
}

// compare adds what each rule allows.
func (r *rules) compare() {
	perInch, perMetric := rulePerInch*gallon/inch, cubicMetre/ruleMetric
	r.rule("by-weight", calculators.Text("{fish kg} in {water L}", ruleWeight, cubicMetre), ruleWeight)
	r.rule("by-fish", calculators.Text("{water L} a fish", ruleLitres), DensityByFish(r.each, ruleLitres))
	r.rule("by-gallons", calculators.Text("{water [gal_us]} a fish", ruleGallons), DensityByFish(r.each, ruleGallons*gallon))
	r.rule("by-first", calculators.Text("{first [gal_us]} for the first, {next [gal_us]} for each next", ruleFirst, ruleNext),
		r.each/r.volume*NumberByFirst(r.volume, ruleFirst*gallon/cubicMetre, ruleNext*gallon/cubicMetre))
	r.rule("by-inch", calculators.Text("An inch to {water [gal_us]}", rulePerInch), DensityByTotalLength(r.each, r.length, perInch))
	r.rule("by-metric", calculators.Text("{fish cm} in {water L}", ruleMetric, cubicMetre), DensityByTotalLength(r.each, r.length, perMetric))
	if !math.IsNaN(r.area) {
		r.rule("by-length", "An inch to a square foot", DensityByLength(r.area, r.volume, r.each, r.length, ruleInch))
		r.rule("by-length-half", "Half an inch to a square foot", DensityByLength(r.area, r.volume, r.each, r.length, ruleHalf))
	}
	r.rule("heavy", "Heavy show ponds", ruleHeavy)
	r.rule("dealer", "Dealers' tanks", ruleDealer)
	if !math.IsNaN(r.area) {
		r.rule("winter", "Winter ponds", DensityByArea(r.area, r.volume, ruleHibern))
	}
}

// rule adds a rule in one unit, and in kilograms and fish of this size for the pond.
func (r *rules) rule(output, says string, allowed float64) {
	r.Exactly(output, allowed)
	if math.IsNaN(allowed) {
		return // no line of length is stated for fish of this weight
	}
	if allowed == 0 {
		r.Step(quantity.Put("{rule}: none, not even the first one", "rule", says), "{3 kg/m3} × {3 m3} = {2 kg}", allowed, r.volume, allowed*r.volume)
		return
	}
	r.Step(quantity.Put("{rule}: litres a fish, kilograms and fish in all", "rule", says), "{3 kg/m3}; {3 kg} / {3 kg/m3} = {2 L}; {3 kg/m3} × {3 m3} = {2 kg}; {3 kg/m3} × {3 m3} / {3 kg}, rounded down = {0}",
		allowed, r.each, allowed, 1000*r.each/allowed, allowed, r.volume, allowed*r.volume, allowed, r.volume, r.each, math.Floor(allowed*r.volume/r.each+1e-9))
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
