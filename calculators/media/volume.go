package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Volume declares the calculator that finds how much medium, and how many boxes
// of it, a pond's ammonia needs.
func Volume() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "media-volume",
		Inputs:  append(loadInputs(), append(mediumInputs(), boxInputs()...)...),
		Outputs: volumeOutputs(),
		Compute: computeVolume,
	}
	if calculators.Documented {
		c.Title = "How much filter medium"
		c.Question = "How much of this medium, and how many boxes of it, keep the ammonia down?"
		c.Part = "media"
		c.Formulas = volumeFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Lifting, calculators.Toppling, calculators.Dust, calculators.FishHealth}
		c.Cautions = []string{
			"The answer holds for a filter that has matured, which takes weeks to months. Until then test ammonia and nitrite daily and feed little or nothing.",
			"The rates were measured in clean water. A film that also gets dirt works slower: screen or settle the water before it reaches the medium.",
			"Only the outside of the pieces counts. Pores inside take no part in removing ammonia, and in water that falls through air they remove next to no nitrate: change water for that.",
		}
		c.Example = calculators.Example{
			Story: "Ines feeds her koi {feed} of a feed with {protein} protein, at {temperature}. She wants the total ammonia at {target} or less. She has lava, and a stack of boxes that takes {flow}.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Media for {feed} of feed with {protein} protein, {target} of total ammonia, {temperature}, in boxes {length} × {width} × {height}",
			Rows:    calculators.Axis{Input: "medium", Values: mediumNames()},
			Show:    []string{"volume", "boxes", "box-weight"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "Lava needed for {feed} of feed, by the ammonia wanted",
			X:       "target", From: "0.15 mg/L", To: "1 mg/L",
			Series: calculators.Axis{Input: "temperature", Values: []string{"10 Cel", "21 Cel"}},
			Show:   "volume", Log: true,
			Pond: "ines",
		}
	}
	return c
}

func loadInputs() []calculators.Input {
	when := func(choice string) calculators.When { return calculators.When{Input: "from", Is: []string{choice}} }
	return []calculators.Input{
		{Name: "from", Fact: "load-from", Label: "What you know", Type: calculators.Choice, Default: "feed",
			Options: []calculators.Option{{Name: "feed", Label: "the feed of a day"}, {Name: "tan", Label: "the ammonia of a day"}},
			Help:    "Nearly all ammonia comes from the protein in the feed."},
		{Name: "feed", Fact: "feed-most", Label: "Feed a day", Kind: quantity.MassRate, Accept: calculators.Range{Low: 0, High: 1000000, Origin: "sanity limit"}, When: when("feed"),
			Help: "The most you feed on a warm day: weigh it once."},
		{Name: "protein", Fact: "protein", Label: "Protein in the feed", Kind: quantity.Share, Accept: calculators.Range{Low: 5, High: 80, Origin: "sanity limit"}, Default: "36 %", When: when("feed"),
			Help: "Printed on the bag."},
		{Name: "tan", Fact: "tan-most", Label: "Total ammonia nitrogen a day", Kind: quantity.MassRate, Accept: calculators.Range{Low: 0, High: 100000, Origin: "sanity limit"}, When: when("tan"),
			Help: "As nitrogen, from the feed calculator."},
		{Name: "target", Fact: "target", Label: "Total ammonia wanted in the pond", Kind: quantity.Concentration, Accept: calculators.Range{Low: 0.01, High: 20, Origin: "sanity limit", LowRefused: "no film works so low; the refusal says where it begins"}, Default: "0.25 mg/L",
			Help: "As nitrogen, what the kit may show; the higher the pH, the lower it must be."},
		{Name: "temperature", Fact: "filter-temperature", Label: "Water temperature", Kind: quantity.Temperature, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, Default: "20 Cel",
			Stated: calculators.Range{Low: 5, High: 28, Origin: "metcalf-eddy-2014, p. 762"},
			Help:   "Of the coldest time at which you still feed so much."},
		{Name: "oxygen", Fact: "filter-oxygen", Label: "Oxygen in the water", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0.5, High: 20, Origin: "sanity limit"}, Default: "7 mg/L",
			Help: "In the water through the media; falling water is near the most it can hold."},
	}
}

func mediumInputs() []calculators.Input {
	own := func(choices ...string) calculators.When { return calculators.When{Input: "medium", Is: choices} }
	return []calculators.Input{
		{Name: "medium", Label: "Medium", Type: calculators.Choice, Options: mediumOptions(), Default: "lava",
			Help: "Choose the nearest in shape and size; prices and names tell nothing."},
		{Name: "piece", Label: "Size of the pieces", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 200, Origin: "sanity limit"}, When: own("pieces"),
			Help: "Lay ten in a row and take a tenth of the length."},
		{Name: "surface", Label: "Surface of the medium", Kind: quantity.SpecificSurface, Accept: calculators.Range{Low: 10, High: 5000, Origin: "sanity limit"}, When: own("own"),
			Help: "Outside surface per volume; figures above about 1,000 count inner pores, which do not help."},
		{Name: "made", Label: "What it is made of", Type: calculators.Choice, When: own("own"),
			Options: []calculators.Option{{Name: madePlastic, Label: "hard plastic"}, {Name: madeFoam, Label: "foam, fibre or brush"}, {Name: madeStone, Label: "stone, clay, lava or glass"}},
			Help:    "Its weight and the space in it follow, unless you measure them."},
		{Name: "void", Label: "Space between the pieces", Kind: quantity.Share, Optional: true, Fine: true, Accept: calculators.Range{Low: 20, High: 99, Origin: "sanity limit"}, When: own("pieces", "own"),
			Help: calculators.Text("The water that a bucket full of it still takes, as a share; for pieces {void 0 %} if left out.", 100*pieceVoid)},
		{Name: "density", Label: "Weight of the dry medium", Kind: quantity.Density, Optional: true, Fine: true, Accept: calculators.Range{Low: 5, High: 3000, Origin: "sanity limit"}, When: own("pieces", "own"),
			Help: bucketHelp()},
	}
}

// bucketHelp says how to weigh a medium.
func bucketHelp() string {
	const litres, kilograms = 10, 10 * pieceDensity / 1000
	return calculators.Text("Weigh a bucket of {volume L} full of it: {mass kg} is {density 0 kg/m3}, as for pieces if you leave it out.", litres, kilograms, pieceDensity)
}

// The choices beside the media of the table, and what the last may be made of.
const (
	ownPieces   = "pieces"
	ownSurface  = "own"
	madePlastic = "plastic"
	madeFoam    = "foam"
	madeStone   = "stone"
)

// Solid pieces that nobody measured: broken stone, common practice.
const (
	pieceVoid    = 0.42
	pieceDensity = 1500 // kg/m3, dry
)

func mediumOptions() []calculators.Option {
	var options []calculators.Option
	for _, m := range Table() {
		options = append(options, calculators.Option{Name: m.Name, Label: m.Label})
	}
	return append(options, calculators.Option{Name: ownPieces, Label: "other solid pieces, by their size"},
		calculators.Option{Name: ownSurface, Label: "other medium, by its surface"})
}

func mediumNames() []string {
	var names []string
	for _, m := range Table() {
		names = append(names, m.Name)
	}
	return names
}

func boxInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "length", Fact: "box-length", Label: "Length of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, Help: "Measured on the floor."},
		{Name: "width", Fact: "box-width", Label: "Width of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, Help: "Measured on the floor."},
		{Name: "height", Fact: "box-height", Label: "Height of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 20, High: 3000, Origin: "sanity limit"}, Help: "From the floor to the rim."},
		{Name: "fill", Fact: "media-fill", Label: "Filled with medium", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 5, High: 100, Origin: "sanity limit"}, Default: "70 %",
			Help: "Leave room below the tray above, for air and for the water to spread."},
		{Name: "litres", Label: "Medium in a box", Kind: quantity.Volume, Optional: true, Fine: true, Accept: calculators.Range{Low: 0.1, High: 100000, Origin: "sanity limit"},
			Help: "Poured in by the bucket and counted; left out: as the box is filled."},
		{Name: "flow", Fact: "filter-flow", Label: "Water through the filter", Kind: quantity.Flow, Accept: calculators.Range{Low: 1, High: 1000000, Origin: "sanity limit"},
			Help: "All of it, measured at the outlet, not the figure on the pump."},
		{Name: "stacks", Label: "Stacks side by side", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 50, Origin: "sanity limit"}, Default: "1",
			Help: "They share the water; boxes in one stack get it one after the other."},
		{Name: "ripe", Label: "Ripe medium that you have", Kind: quantity.Volume, Optional: true, Accept: calculators.Range{Low: 0.1, High: 1000000, Origin: "sanity limit"},
			Help: "From a mature filter, of this kind: what it carries is told."},
		{Name: "proven", Label: "Feed that each litre of this medium carries", Kind: quantity.MassRate, Optional: true, Fine: true, Accept: calculators.Range{Low: 0.001, High: 100, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"feed"}},
			Help: "In a mature filter of yours, as warm, at the ammonia wanted: its feed a day over its litres."},
	}
}

func volumeOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "volume", Label: "Medium", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}, Help: "As it lies in the boxes."},
		{Name: "boxes", Label: "Boxes", Unit: "1", Digits: 2, Whole: true},
		{Name: "tiers", Label: "Boxes in each stack", Unit: "1", Digits: 2, Whole: true, Help: "Three to six tiers are common practice."},
		{Name: "rate", Label: "Ammonia removed by a square metre", Unit: "g/m2/d", Digits: 2, Help: "By wetted film, at the ammonia and the warmth stated."},
		{Name: "surface-needed", Label: "Wetted surface needed", Unit: "m2", Digits: 2},
		{Name: "wetted", Label: "Part of the surface that is wet", Unit: "%", Digits: 2},
		{Name: "carries-feed", Label: "Your ripe medium carries, of feed", Unit: "g/d", Digits: 2, Help: "Once it has settled again: film that was moved or stood without feed carries less at first."},
		{Name: "carries", Label: "Your ripe medium removes, of ammonia nitrogen", Unit: "g/d", Digits: 2},
		{Name: "load", Label: "Ammonia nitrogen to remove", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "specific-surface", Label: "Outside surface of the medium", Unit: "m2/m3", Digits: 2, Fine: true},
		{Name: "hydraulic-load", Label: "Water on each square metre of floor", Unit: "m3/m2/d", Digits: 2, Help: "100 to 250 is the design range of fish farms; below 30 the medium runs dry in places. Fast water is no loss: what one pass leaves, the next takes."},
		{Name: "box-weight", Label: "Weight of the medium in one full box, drained", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
		{Name: "box-flooded", Label: "Weight of one box blocked and full of water", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "Build the stand for this: one day an outlet blocks."},
		{Name: "weight-dry", Label: "Weight of all the medium, dry", Unit: "kg", Digits: 2, Fine: true, Also: []string{"[lb_av]"}},
		{Name: "weight-wet", Label: "Weight of all the medium, wet and drained", Unit: "kg", Digits: 2, Fine: true, Also: []string{"[lb_av]"}},
		{Name: "oxygen-used", Label: "Oxygen used", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "alkalinity-used", Label: "Alkalinity used, as CaCO₃", Unit: "g/d", Digits: 2, Fine: true, Help: "Comes back only with fresh water or with bicarbonate."},
	}
}

func volumeFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Rate of the film", Says: "Ammonia removed by a square metre of grown-in surface at 27 °C, from the total ammonia in the water; at or below 0.07 mg/L nothing.",
			TeX: `R = 1.859\,\frac{S - 0.07}{S + 1.93}`, Source: "zhu-chen-1999", Locator: "abstract", Basis: "memory", Function: "media.FilmRate",
			Check: calculators.Explicit("R [g/m2/d]: S [mg/L] 0.08..5", FilmRate)},
		{Name: "Rate of the film, half order", Says: "The other rate, from a fish farm at 24 to 25 °C, level above 2 mg/L; the two bound the answer.",
			TeX: `R = 0.55\sqrt{S} - 0.1`, Source: "bovendeur-1987", Locator: "as used in eding-2006", Basis: "memory", Function: "media.HalfOrderRate",
			Check: calculators.Explicit("R [g/m2/d]: S [mg/L] 0.05..2", HalfOrderRate)},
		{Name: "Temperature", Says: "The rate rises by 4.3 % a degree where ammonia limits, 1.1 % where oxygen does, and at most by 9.8 %; near 20 °C.",
			TeX: `R_t = R_0\,\theta^{\,t-t_0}`, Source: "zhu-chen-2002", Locator: "abstract", Basis: "published", Function: "media.TemperatureFactor",
			Check: calculators.Explicit("R_t [g/m2/d]: R_0 [g/m2/d] 0.05..1, θ [1] 1.01..1.1, t [Cel] 5..30, t_0 [Cel] 15..27", func(rate, theta, t, reference float64) float64 { return rate * TemperatureFactor(theta, t, reference) })},
		{Name: "Limits", Says: "Oxygen limits below 3 to 3.5 times the ammonia; no film in a large filter was seen above 1 g/m² a day.",
			TeX: `\frac{\mathrm{O_2}}{3.5} \le S \le \frac{\mathrm{O_2}}{3}`, Source: "hem-1994", Locator: "results", Basis: "memory", Function: "media.OxygenPerTAN",
			Check: calculators.Explicit("S [mg/L] ammonia from which oxygen limits: O_2 [mg/L] 2..12", func(oxygen float64) Range {
				ratio := OxygenPerTAN()
				return Range{oxygen / ratio.High, oxygen / ratio.Likely, oxygen / ratio.Low}
			})},
		{Name: "Surface of solid pieces", Says: "Surface of a bed of balls, from their size and the space between them.",
			TeX: `a = \frac{6(1-\varepsilon)}{d}`, Source: "fluids-1.0.22", Locator: "packing diameter identity", Basis: "memory", Function: "media.SphereSurface",
			Check: calculators.Explicit("a [m2/m3]: d [m] diameter of the pieces 0.005..0.05, ε [1] share of the space between them 0.3..0.5", SphereSurface)},
		{Name: "Wetting", Says: "The load of water from which a medium is wet all over: a large surface needs much water.",
			TeX: `q = 24 \times 0.08\,a`, Source: "morris-jackson-1953", Locator: "minimum wetting rate", Basis: "memory", Function: "media.WettingLoad",
			Check: calculators.Explicit("q [m/d] load of water on the plan area: a [m2/m3] 100..1000", func(surface float64) float64 { return WettingLoad(surface, WettingRate) })},
		{Name: "Medium needed", Says: "Ammonia a day over what a cubic metre removes; the range takes the errors as independent.",
			TeX: `V = \frac{L}{R\,a\,w}`, Basis: "practice", Function: "media.Quotient",
			Check: calculators.Explicit("V [m3] volume of the medium: L [g/d] ammonia nitrogen from the fish 0.5..10, R [g/m2/d] 0.05..1, a [m2/m3] 100..1000, w [1] 0.3..1", func(load, rate, surface, wet float64) float64 {
				return Quotient(Range{load, load, load}, Range{rate, rate, rate}, Range{surface, surface, surface}, Range{wet, wet, wet}).Likely
			})},
		{Name: "Feed that ripe medium carries", Says: "What its wetted surface removes, over the ammonia from a gram of feed.",
			TeX: `F = \frac{V\,R\,a\,w}{n}`, Basis: "practice", Function: "media.Carries",
			Check: calculators.Explicit("F [g/d] feed of a day: V [m3] volume of the ripe medium 0.01..1, R [g/m2/d] 0.05..1, a [m2/m3] 100..1000, w [1] 0.3..1, n [1] ammonia nitrogen from a gram of feed 0.02..0.05", func(volume, rate, surface, wet, nitrogen float64) float64 {
				exactly := func(v float64) Range { return Range{v, v, v} }
				return Quotient(Carries(volume, exactly(rate), exactly(surface), exactly(wet)), exactly(nitrogen)).Likely
			})},
	}
}
