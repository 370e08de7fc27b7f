package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/spread"
	"mereleaf/calculators/quantity"
)

// grownUp is the number of years after which a fish counts as adult here: koi
// are within a few per cent of their final length (hobby compilation).
const grownUp = 12

// FishGrowth declares the calculator of growth and of the load of adults.
func FishGrowth() calculators.Calculator {
	c := calculators.Calculator{
		ID: "growth",
		Inputs: append(alikeInputs(), []calculators.Input{
			{
				Name: "years", Label: "Years from now", Kind: quantity.Number, Default: "3",
				Help:   "Plan a filter for at least two.",
				Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"},
			},
			{
				Name: "final", Label: "Length they reach when old", Kind: quantity.Size, Unit: "cm", Optional: true, Fine: true,
				Help:   "Of their parents or grown sisters, if the breeder has measured any.",
				Accept: calculators.Range{Low: 10, High: 120, Origin: "sanity limit"},
			},
			{
				Name: "temperature", Fact: "summer-temperature", Label: "Summer water", Kind: quantity.Temperature, Default: "21 Cel", Fine: true,
				Help:   "The warmest month, for the feed they will eat.",
				Accept: calculators.Range{Low: 0, High: rationEnds, Origin: "common practice"},
			},
			{
				Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Optional: true,
				Help:   "If you want to know how full it will be.",
				Accept: calculators.Range{Low: 100, High: 10_000_000, Origin: "sanity limit"},
			},
		}...),
		Outputs: []calculators.Output{
			{Name: "weight", Label: "All fish together then", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
			{Name: "length", Label: "Length of each then", Unit: "cm", Digits: 2, Also: []string{"[in_i]"}, Help: "To the tip of the tail."},
			{Name: "times", Label: "Times the weight of today", Unit: "1", Digits: 2},
			{Name: "feed", Label: "Feed a day then, in summer", Unit: "g/d", Digits: 2},
			{Name: "density", Label: "Fish in your water then", Unit: "kg/m3", Digits: 2},
			{Name: "adult-length", Label: "Length of each as an adult", Unit: "cm", Digits: 2, Help: calculators.Hint("After {years ~} years, or after the years you gave if more.", grownUp)},
			{Name: "adult-weight", Label: "All fish as adults", Unit: "kg", Digits: 2, Help: "What pond and filter must carry in the end."},
			{Name: "adult-feed", Label: "Feed a day for the adults, in summer", Unit: "g/d", Digits: 2, Fine: true},
		},
		Compute: computeGrowth,
	}
	if calculators.Documented {
		c.Title = "How big they will be, and what they will weigh"
		c.Question = "How much will my fish weigh in a few years, and as adults?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Size pond, filter and air for the adults, or have a home for them agreed before you buy.",
			"A fish that stays small in a small pond is stunted or ill, not content.",
			"Breeding, variety, warmth and feed all change growth; the range spans the lines compared, not every fish.",
		}
		c.Formulas = growthFormulas()
		c.Example = calculators.Example{
			Story: "Ines's {count} koi in Lower Reach are {length} long. What will they weigh in {years} years, in {volume}?",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "length", Value: "{fish.length}"}, {Name: "count", Value: "{fish.count}"}, {Name: "years", Value: "3"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Length of a koi after some years, by its length today",
			Rows:    calculators.Axis{Input: "years", Values: []string{"1", "2", "3", "5", "8", "12"}},
			Columns: calculators.Axis{Input: "length", Values: []string{"10 cm", "15 cm", "20 cm", "30 cm", "45 cm"}},
			Show:    []string{"length"},
		}
		c.Chart = calculators.Chart{
			Caption: "Weight of one fish of {length} over the years",
			X:       "years", From: "0", To: "12",
			Series: calculators.Axis{Input: "species", Values: []string{"koi", "goldfish", "tench"}},
			Show:   "weight",
			Given:  []calculators.Arg{{Name: "length", Value: "15 cm"}},
		}
	}
	return c
}

func growthFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Growth from today's length", Says: "Von Bertalanffy: each year a fish covers the same share of what is left to its final length.",
			TeX:    `L(y) = L_\infty - (L_\infty - L_0)\,e^{-k y}`,
			Source: "fishbase", Locator: "growth parameters", Basis: "memory", Function: "fish.LengthAfter",
			Check: calculators.Explicit("L [cm] length of the fish: L_0 [cm] length today 10..40, L_∞ [cm] 50..100, k [1/a] 0.1..0.4, y [a] time from now 0..10", LengthAfter),
		},
		{
			Name: "Wild carp", Says: "The low line of koi: final length 55 cm, k 0.25, our fit to eight ages of carp no one feeds; within 4 %.",
			TeX:    `L_\infty = 55\ \mathrm{cm},\quad k = 0.25`,
			Source: "crivelli1981", Locator: "age series in data file; our fit", Basis: "published", Function: "fish.GrowthLines",
			Check: calculators.Explicit("L_∞ [cm], k [1/a]", func() (final, k float64) {
				low, _, _ := GrowthLines("koi")
				return low.Final, low.K
			}),
		},
		{
			Name: "Koi of the hobby", Says: "The likely and high lines of koi: 80 and 100 cm, k 0.3.",
			TeX:   `L_{\infty,\mathrm{likely}} = 80\ \mathrm{cm},\quad L_{\infty,\mathrm{high}} = 100\ \mathrm{cm},\quad k = 0.3`,
			Basis: "practice", Function: "fish.GrowthLines",
			Check: calculators.Explicit("L_∞,likely [cm] likely final length, L_∞,high [cm] final length of the largest, k [1/a]", func() (likely, high, k float64) {
				_, middle, top := GrowthLines("koi")
				return middle.Final, top.Final, middle.K
			}),
		},
		{
			Name: "Tench", Says: "Females of English gravel pits: 57.3 cm, k 0.122; compared with two more lines.",
			TeX:    `L_\infty = 57.3\ \mathrm{cm},\quad k = 0.122`,
			Source: "wright1991", Locator: "abstract", Basis: "published", Function: "fish.GrowthLines",
			Check: calculators.Explicit("L_∞ [cm], k [1/a]", func() (final, k float64) {
				_, tench, _ := GrowthLines("tench")
				return tench.Final, tench.K
			}),
		},
		{
			Name: "Goldfish", Says: "48 cm, k 0.26, our fit to four ages in Italian waters; within 2 %. Many pond goldfish stop near 30 cm (common practice), the low line.",
			TeX:    `L_\infty = 48\ \mathrm{cm},\quad k = 0.26`,
			Source: "lorenzoni2007", Locator: "scatter in data file; our fit", Basis: "published", Function: "fish.GrowthLines",
			Check: calculators.Explicit("L_∞ [cm], k [1/a]", func() (final, k float64) {
				_, goldfish, _ := GrowthLines("goldfish")
				return goldfish.Final, goldfish.K
			}),
		},
		{
			Name: "Band of the lines", Says: "The least, middle and most of three lines for the kind.",
			TeX:   `L_\mathrm{low} = \min_i L_i,\quad L_\mathrm{high} = \max_i L_i`,
			Basis: "practice", Function: "fish.GrownLength",
			Check: calculators.Explicit("L [cm] length of the fish, L_i [cm] length by line i: - [cm] 10..40, - [a] 0..10", func(length, years float64) (band Range, lines []float64) {
				a, b, c := GrowthLines("koi")
				return GrownLength("koi", length, years), []float64{LengthAfter(length, a.Final, a.K, years), LengthAfter(length, b.Final, b.K, years), LengthAfter(length, c.Final, c.K, years)}
			}),
		},
	}
}

// weightAt returns the weight of a shoal with lengths in a range, kg. How long they grow
// and how heavy they are for it err independently.
func (s *shoal) weightAt(lengths Range) Range {
	return Range(spread.Of(2, func(shifts []float64) float64 {
		return s.ofLength(lengths.at(shifts[0])).band().at(shifts[1])
	})).times(s.count / 1000)
}

func computeGrowth(in calculators.Inputs) (calculators.Result, error) {
	s := alike(in, in.In("count", "1"))
	now, today := s.band().times(s.count/1000), s.length
	if math.IsNaN(now.Likely) || math.IsNaN(today) {
		return calculators.Result{}, s.refusal()
	}
	years, ration := in.In("years", "1"), GrownRation(in.In("temperature", "Cel")).times(10) // g/kg
	length, adult := GrownLength(s.species, today, years), GrownLength(s.species, today, math.Max(years, grownUp))
	if in.Has("final") {
		final := in.In("final", "cm")
		length, adult = GrownTo(s.species, final, today, years), GrownTo(s.species, final, today, math.Max(years, grownUp))
	}
	weight, adults := s.weightAt(length), s.weightAt(adult)
	var r calculators.Result
	add(&r, "weight", weight)
	add(&r, "length", length)
	add(&r, "times", weight.over(now))
	add(&r, "feed", ProductOfIndependent(weight, ration))
	if in.Has("volume") {
		add(&r, "density", weight.times(1/in.In("volume", "m3")))
	}
	add(&r, "adult-length", adult)
	add(&r, "adult-weight", adults)
	add(&r, "adult-feed", ProductOfIndependent(adults, ration))
	r.Step("Length after {years ~3|year|years} from {3 cm}, of the lines compared", "{2 cm} ({2} to {2})", years, today, length.Likely, length.Low, length.High)
	r.Step("Weight then", "{2 kg} ({2} to {2})", weight.Likely, weight.Low, weight.High)
	r.Step("Weight today", "{2 kg}", now.Likely)
	if !in.Has("final") {
		for _, output := range []string{"feed", "adult-weight", "adult-feed"} {
			r.Narrowings = append(r.Narrowings, calculators.Narrowing{Output: output, Input: "final"})
		}
	}
	if s.species == "koi" {
		wild, _, _ := GrowthLines(s.species)
		r.Doubt("The likely line is the hobby's own, without a study: unfed wild carp stay near {length cm}.", wild.Final)
	} else {
		r.Flag("Weights come from the one line published for the kind: the range is an allowance.")
	}
	if s.assumed {
		r.Flag("Total length was worked out from fork or standard length with the ratios of carp.")
	}
	r.Say("Plan for {adults 2 kg} as adults, at worst {worst 2 kg}; today they weigh {today 2 kg}.", adults.Likely, adults.High, now.Likely)
	r.Advise(
		"Reckon filter and night oxygen with the adults before you buy one more fish.",
		"Measure a few each autumn: your own fish are the best line.",
	)
	return r, nil
}
