package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Compare declares the calculator that ranks the media by what they do for their
// money.
func Compare() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "media-compare",
		Inputs:  append(loadInputs(), compareInputs()...),
		Outputs: compareOutputs(),
		Compute: computeCompare,
	}
	if calculators.Documented {
		c.Title = "Which filter medium for the money"
		c.Question = "Which medium turns most ammonia into nitrate for its price, and does any take out nitrate too?"
		c.Part = "media"
		c.Formulas = compareFormulas()
		c.Hazards = []calculators.Hazard{calculators.Lifting, calculators.Toppling, calculators.Dust, calculators.FishHealth}
		c.Cautions = []string{
			"Compare prices per litre as filled, not per bag or per kilogram, and with the delivery.",
			"The film does the work, not the material: any clean, hard, pond-safe medium of that surface does as well. Rinse out dust, and never use what has held chemicals, or metal that is galvanised or copper.",
			"No medium in a shower filter takes out nitrate worth counting. Plan water changes and plants for it.",
			"Fine media hold more surface and clog sooner: put them below a screen, coarse ones on top.",
		}
		c.Example = calculators.Example{
			Story: "Ines feeds her koi {feed} at {temperature} and wants the total ammonia at {target} or less. The yard asks {prices.price} a litre for lava; round gravel is cheaper, plastic rings dearer.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "medium", Value: "lava"}, {Name: "prices", Value: "lava, 0.40; gravel-20, 0.15; plastic-packing, 0.90"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "The media for {feed} of feed with {protein} protein, {target} of total ammonia, {temperature}",
			Rows:    calculators.Axis{Input: "medium", Values: mediumNames()},
			Show:    []string{"surface", "litres", "volume"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "Medium for a gram of ammonia nitrogen a day, by the ammonia wanted",
			X:       "target", From: "0.12 mg/L", To: "1 mg/L",
			Series: calculators.Axis{Input: "medium", Values: []string{"gravel-20", "lava", "moving-bed"}},
			Show:   "litres", Log: true, Pond: "ines",
		}
	}
	return c
}

// tableOptions are the media of the table, without a reader's own.
func tableOptions() []calculators.Option {
	all := mediumOptions()
	return all[:len(all)-2]
}

func compareInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "purpose", Fact: "aim", Label: "What the filter is for", Type: calculators.Choice, Default: "ammonia",
			Help: "Nitrate is far less toxic, and leaves with water changes.",
			Options: []calculators.Option{
				{Name: "ammonia", Label: "ammonia and nitrite"},
				{Name: "nitrate", Label: "ammonia and nitrite, and some nitrate too"},
			}},
		{Name: "medium", Label: "Medium to show", Type: calculators.Choice, Options: tableOptions(), Default: "lava",
			Help: "All are ranked in the working; this one is shown above."},
		{Name: "load", Label: "Water on each square metre of floor", Kind: quantity.HydraulicLoad, Fine: true, Default: "150 m3/m2/d", Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"},
			Help: "Fish farms run 100 to 250; media with much surface need much water."},
		{Name: "claimed", Label: "Surface that a shop claims for its medium", Kind: quantity.SpecificSurface, Optional: true, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"},
			Help: "By the litre as filled; it is ranked with the others."},
		{Name: "claimed-price", Label: "What a litre of it costs", Kind: quantity.Money, Optional: true, Accept: calculators.Range{Low: 0, High: 10000, Origin: "sanity limit"},
			Help: "Price of the bag over its litres."},
		{Name: "prices", Fact: "media-prices", Label: "Prices", Type: calculators.Rows, Optional: true, Help: "What a litre costs, as filled.",
			Columns: []calculators.Input{
				{Name: "medium", Label: "Medium", Type: calculators.Choice, Options: tableOptions(), Help: "The nearest in shape and size."},
				{Name: "price", Label: "Price of a litre", Kind: quantity.Money, Accept: calculators.Range{Low: 0, High: 10000, Origin: "sanity limit"}, Help: "Price of the bag over its litres."},
			}},
	}
}

func compareOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "litres", Label: "Medium for each gram of ammonia nitrogen a day", Unit: "L", Digits: 2},
		{Name: "volume", Label: "Medium for your pond", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "cost-gram", Label: "Cost of it for each gram a day", Unit: "{currency}", Digits: 2},
		{Name: "cost", Label: "Cost of it for your pond", Unit: "{currency}", Digits: 2},
		{Name: "claimed-litres", Label: "Of the shop's medium, for each gram a day", Unit: "L", Digits: 2},
		{Name: "claimed-cost", Label: "Cost of that", Unit: "{currency}", Digits: 2},
		{Name: "surface", Label: "Outside surface of the medium", Unit: "m2/m3", Digits: 2, Fine: true},
		{Name: "oxygen-depth", Label: "Oxygen gets into a pore as far as", Unit: "mm", Digits: 2, Fine: true, Help: "Only deeper in could nitrate be removed, and no water flows there."},
		{Name: "nitrate-lost", Label: "Nitrogen that leaves as gas", Unit: "g/d", Digits: 2, Fine: true, Help: "In a shower: at most a tenth, with any medium."},
		{Name: "nitrate-bed", Label: "Bed without oxygen that would take out all", Unit: "L", Digits: 2, Help: "A separate, slow, fed reactor: not a job for a shower."},
	}
}

func compareFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Rate of the film", Says: "Ammonia removed by a square metre at 27 °C; at or below 0.07 mg/L nothing.",
			TeX: `R = 1.859\,\frac{S - 0.07}{S + 1.93}`, Source: "zhu-chen-1999", Locator: "abstract", Basis: "memory", Function: "media.FilmRate",
			Check: calculators.Explicit("R [g/m2/d]: S [mg/L] 0.08..5", FilmRate)},
		{Name: "Limits and temperature", Says: "The least of what ammonia, oxygen and the best films ever seen allow, at the water's temperature.",
			TeX: `R_t = \min\!\left(R\,\theta^{\,t-t_0},\ 0.69\right)`, Source: "zhu-chen-2002", Locator: "abstract", Basis: "memory", Function: "media.Rate",
			Check: calculators.Explicit("R_t [g/m2/d], R [g/m2/d], θ [1], t_0 [Cel]: - [mg/L] 0.1..3, t [Cel] 5..28", func(tan, t float64) (rate, film, growth, reference float64) {
				all, _ := Rate(tan, 100, t)
				return all.Likely, FilmRate(tan), FilmGrowth, FilmTemperature
			})},
		{Name: "Medium for a gram a day", Says: "The volume whose wetted surface removes one gram of ammonia nitrogen a day; the range takes the errors as independent.",
			TeX: `V = \frac{1}{R\,a\,w}`, Basis: "practice", Function: "media.Quotient",
			Check: calculators.Explicit("V [m3] volume of the medium for a gram a day: R [g/m2/d] 0.05..1, a [m2/m3] 100..1000, w [1] 0.3..1", func(rate, surface, wet float64) float64 {
				return Quotient(Range{1, 1, 1}, Range{rate, rate, rate}, Range{surface, surface, surface}, Range{wet, wet, wet}).Likely
			})},
		{Name: "Oxygen in a pore", Says: "How deep oxygen gets into a film that nitrifies; arithmetic on assumed values.",
			TeX: `L = \frac{2\,D\,\mathrm{O_2}}{4.57\,R}`, Basis: "practice", Function: "media.OxygenDepth",
			Check: calculators.Explicit("L [m] depth to which oxygen gets, D [m2/d] how fast oxygen spreads in the film: O_2 [g/m3] 2..12, R [g/m2/d] 0.05..1", func(oxygen, rate float64) (depth, diffusion float64) {
				return OxygenDepth(oxygen, rate) / 1000, filmDiffusion
			})},
		{Name: "Nitrate removal in the presence of oxygen", Says: "What oxygen leaves of the rate at which bacteria remove nitrate: at 8 mg/L 2.4 %.",
			TeX: `\frac{0.2}{0.2+\mathrm{O_2}}`, Source: "henze-2000", Locator: "heterotroph oxygen half saturation", Basis: "published", Function: "media.DenitrifyingShare",
			Check: calculators.Explicit("share [1] share of the rate that is left: O_2 [mg/L] 0..12", DenitrifyingShare)},
		{Name: "Bed without oxygen", Says: "Nitrogen a day that a cubic metre takes out, from 2.2 g fed with wood to 23 g dosed with methanol.",
			TeX: `V = \frac{L}{r},\quad 2.2 \le r \le 23.4`, Source: "he-2018", Locator: "abstract", Basis: "published", Function: "media.BedDenitrification",
			Check: calculators.Explicit("V [m3] volume of the bed, r [g/m3/d] nitrogen that the bed takes out: L [g/d] nitrogen to take out 0.1..10", func(load float64) (volume float64, rate Range) {
				rate = BedDenitrification()
				return Quotient(Range{load, load, load}, rate).Likely, rate
			})},
	}
}
