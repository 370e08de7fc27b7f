package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/quantity"
)

// knownDays is the choice of who has seen foam fill up in his own water.
const knownDays = "days"

// FoamStage declares the calculator of foam that catches dirt before the filter.
func FoamStage() calculators.Calculator {
	c := calculators.Calculator{
		ID: "foam-stage",
		Inputs: append([]calculators.Input{
			{Name: "flow", Fact: "filter-flow", Label: "Water through the foam", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"},
				Help: "Measured at the outlet, not the figure on the pump."},
			{Name: "feed", Fact: "feed-most", Label: "Feed a day", Kind: quantity.MassRate, Accept: calculators.Range{Low: 0, High: 1000000, Origin: "sanity limit"},
				Help: "All the dirt comes from it, but for leaves and algae."},
			{Name: "length", Label: "Length of a sheet", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, Help: "Across the water."},
			{Name: "width", Label: "Width of a sheet", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, Help: "Across the water."},
			{Name: "thickness", Fact: "foam-thickness", Label: "Thickness of a sheet", Kind: quantity.Size, Default: "50 mm", Accept: calculators.Range{Low: 5, High: 500, Origin: "sanity limit"}, Help: "Along the water."},
			{Name: "grades", Fact: "foam-grades", Label: "Grades one after the other", Kind: quantity.Count, Default: "3", Accept: calculators.Range{Low: 1, High: 4, Origin: "common practice"},
				Help: "Coarse first: 10, 20, 30, then 45 pores per inch."},
			{Name: "sheets", Label: "Sheets of each grade side by side", Kind: quantity.Count, Optional: true, Accept: calculators.Range{Low: 1, High: 100, Origin: "sanity limit"},
				Help: "That share the water; left out: as many as it needs."},
		}, seenInputs()...),
		Outputs: []calculators.Output{
			{Name: "area", Label: "Face of foam for this flow", Unit: "m2", Digits: 2, Help: "Of each grade, across the water."},
			{Name: "sheets", Label: "Sheets of each grade", Unit: "1", Digits: 2, Whole: true},
			{Name: "speed", Label: "Speed of the water at the face", Unit: "mm/s", Digits: 2, Help: "1.2 to 4 in trials."},
			{Name: "interval", Label: "Rinse after", Unit: "d", Digits: 1, Help: "Or as soon as the water stands higher before the foam."},
			{Name: "solids", Label: "Dry solids a day", Unit: "g/d", Digits: 2, Fine: true},
			{Name: "caught", Label: "Of these the foam catches", Unit: "g/d", Digits: 2, Fine: true},
			{Name: "foam", Label: "Foam in all", Unit: "L", Digits: 2, Fine: true},
			{Name: "pitch", Label: "Pore to pore in the finest grade", Unit: "mm", Digits: 2, Fine: true},
		},
		Compute: computeFoam,
	}
	if calculators.Documented {
		c.Title = "Foam before the filter"
		c.Question = "How much foam, in which order, and how often must I rinse it?"
		c.Part = "filtration"
		c.Formulas = foamFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Infection, calculators.Spill, calculators.FishHealth}
		c.Cautions = []string{
			"Blocked foam stops the water or floats off: give it a way past that leads the water into the filter, never over the edge of the pond.",
			"Use open foam made for water, without fire retardant or biocide; upholstery foam may kill fish.",
		}
		c.Example = calculators.Example{
			Story: "Ines puts foam into her top box, which takes {flow}. She feeds {feed} and has sheets of {length} × {width} × {thickness}.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Sheets of {length} × {width} of each grade, by flow",
			Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "4000 L/h", "8000 L/h", "15000 L/h"}},
			Show:    []string{"area", "sheets"},
			Pond:    "ines", Given: []calculators.Arg{{Name: "sheets"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Days until the foam must be rinsed, by feed: three grades, one sheet of each or two",
			X:       "feed", From: "20 g/d", To: "200 g/d",
			Series: calculators.Axis{Input: "sheets", Values: []string{"1", "2"}},
			Show:   "interval", Pond: "ines",
		}
	}
	return c
}

// seenInputs ask what a keeper has seen of foam in his own water.
func seenInputs() []calculators.Input {
	lasted := calculators.When{Input: "known", Is: []string{knownDays}}
	return []calculators.Input{
		{Name: "known", Label: "What you know of your dirt", Type: calculators.Choice, Default: "nothing",
			Options: []calculators.Option{{Name: "nothing", Label: "nothing yet"}, {Name: knownDays, Label: "how long foam lasted here"}},
			Help:    "Foam in your own water tells more than any figure."},
		{Name: "lasted", Label: "Days it lasted", Kind: quantity.Duration, Unit: "d", Accept: calculators.Range{Low: 0.1, High: 200, Origin: "sanity limit"}, When: lasted,
			Help: "From a rinse until the water rose before it; mean of three times."},
		{Name: "lasted-feed", Label: "Feed a day then", Kind: quantity.MassRate, Accept: calculators.Range{Low: 0.1, High: 1000000, Origin: "sanity limit"}, When: lasted, Help: "Mean over those days."},
		{Name: "lasted-foam", Label: "Foam in all then", Kind: quantity.Volume, Accept: calculators.Range{Low: 0.1, High: 100000, Origin: "sanity limit"}, When: lasted, Help: "Length × width × thickness of all sheets."},
	}
}

func foamFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Face of foam", Says: "Flow over the speed at which foam was tried, 1.2 to 4 mm/s; likely is 2.1, the geometric mean.",
			TeX: `A = \frac{Q}{v}`, Source: "agua-foam", Locator: "trial with 10 layers; depth filtration experiment 1", Basis: "published", Function: "media.FoamArea",
			Check: calculators.Explicit("A [m2] face of the foam: Q [m3/s] 0.0001..0.01, v [m/s] speed of the water through the foam 0.0012..0.004", func(flow, speed float64) float64 { return FoamArea(3600*flow, 1000*speed) })},
		{Name: "Solids from feed", Says: "Dry matter that carp do not digest.",
			TeX: `\mathrm{solids} = 0.9\,(1 - 0.59)\,F`, Source: "mcp1993", Locator: "abstract", Basis: "published", Function: "fish.SolidsFromFeed",
			Check: calculators.Explicit("solids [g/d]: F [g/d] 10..500", func(feed float64) float64 { return feed * fish.SolidsFromFeed().Likely })},
		{Name: "Share caught", Says: "What is not finer than 20 µm: 30 to 60 % of the mass.",
			TeX: `1 - 0.7 \le c \le 1 - 0.4`, Source: "was-165932", Locator: "abstract", Basis: "published", Function: "media.FoamCatch",
			Check: calculators.Explicit("c [1] share of the solids that is caught", FoamCatch)},
		{Name: "Time between rinses", Says: "What the foam holds, 1 to 12 g of dry solids a litre by our practice, over what it catches a day.",
			TeX: `t = \frac{h\,V}{c\,\mathrm{solids}}`, Basis: "practice", Function: "media.FoamHolds",
			Check: calculators.Explicit("t [d] time between rinses, h [g/L] dry solids that the foam holds: V [L] volume of the foam 10..500, c [1] share of the solids that is caught 0.3..0.6, solids [g/d] 5..200", func(foam, caught, solids float64) (days, holds float64) {
				return Quotient(FoamHolds().Times(foam), Range{caught * solids, caught * solids, caught * solids}).Likely, FoamHolds().Likely
			})},
		{Name: "Days from days", Says: "What your own foam showed, for another feed and another volume of it: dirt goes with feed.",
			TeX: `t = t_0\,\frac{F_0}{F}\,\frac{V}{V_0}`, Basis: "practice", Function: "media.FoamLasts",
			Check: calculators.Explicit("t [d] time between rinses: t_0 [d] time that it lasted 2..30, F_0 [g/d] feed then 20..100, F [g/d] feed now 20..100, V_0 [L] foam then 5..50, V [L] foam now 5..50", FoamLasts)},
		{Name: "Pore to pore", Says: "Distance between pores, from their number per inch.",
			TeX: `p = \frac{25.4\ \mathrm{mm}}{n}`, Source: "lacroix-2007", Locator: "cubic-cell relation", Basis: "memory", Function: "media.PorePitch",
			Check: calculators.Explicit("p [mm] distance between pores: n [1] pores per inch 8..60", PorePitch)},
	}
}

// finest returns the pores per inch of the last of so many grades (practice,
// figure set media-foam-rules).
func finest(grades float64) float64 {
	if grades > 3 {
		return 45
	}
	return 10 * grades
}

func computeFoam(in calculators.Inputs) (calculators.Result, error) {
	flow, sheet, grades := in.In("flow", "m3/h"), in.In("length", "m")*in.In("width", "m"), in.In("grades", "1")
	area := Range{FoamArea(flow, fastFoam), FoamArea(flow, math.Sqrt(slowFoam*fastFoam)), FoamArea(flow, slowFoam)}
	sheets := Range{math.Ceil(area.Low/sheet - 1e-9), math.Ceil(area.Likely/sheet - 1e-9), math.Ceil(area.High/sheet - 1e-9)}
	if n := in.In("sheets", "1"); n > 0 {
		sheets = Range{n, n, n}
	}
	speed := flow / 3.6 / (sheets.Likely * sheet)
	foam := sheets.Likely * sheet * in.In("thickness", "m") * grades
	solids := Range(fish.SolidsFromFeed()).Times(in.In("feed", "g/d"))
	caught := solids.product(FoamCatch())

	var r calculators.Result
	add(&r, "area", area)
	add(&r, "sheets", sheets)
	r.Exactly("speed", speed)
	add(&r, "solids", solids)
	add(&r, "caught", caught)
	r.Exactly("foam", 1000*foam)
	r.Exactly("pitch", PorePitch(finest(grades)))
	if caught.Likely > 0 {
		interval := Quotient(FoamHolds().Times(1000*foam), solids, FoamCatch())
		if in.Choice("known") == knownDays {
			feed, was := in.In("feed", "g/d"), in.In("lasted-feed", "g/d")
			days := FoamLasts(in.In("lasted", "d"), was, feed, in.In("lasted-foam", "L"), 1000*foam)
			interval = Range{days, days, days}
			r.Step("Time between rinses", "{3 d} × {3 g/d} / {3 g/d} × {3 L} / {3 L} = {2 d}", in.In("lasted", "d"), was, feed, 1000*foam, in.In("lasted-foam", "L"), days)
		} else {
			r.Step("Time between rinses", "{1 g/L} × {3 L} / {2 g/d} = {2 d}", FoamHolds().Likely, 1000*foam, caught.Likely, interval.Likely)
			r.Flag("How much dirt a litre of foam holds is our practice, and differs tenfold: let the water level before the foam tell.")
		}
		add(&r, "interval", interval)
		adviseFoam(&r, interval)
		if interval.High > wideRange*interval.Low {
			r.Advise("What narrows the days most: note how long your foam lasts, at which feed, and put it in.")
		}
	}
	r.Advise(
		quantity.Put("Coarse foam first, where the water comes in, then finer: {grades} pores per inch.", "grades", foamOrder(grades)),
		"Take the sheets out and squeeze them in a bucket of pond water, one after the other, at most half of them at one time: a stream of water alone does not clean them.",
	)
	r.Step("Speed at the face", "{3 m3/h} / ({0} × {3 m2}) = {2 mm/s}", flow, sheets.Likely, sheet, speed)
	if speed > fastFoam {
		r.Doubt("Faster than foam was tried, {tried mm/s}: dirt is pressed through, and it blocks sooner. Give it more sheets side by side.", fastFoam)
	}
	if grades > 3 {
		r.Flag("The grade of 45 pores per inch blocks first: leave it out if you cannot look each day. Finer still blocks within days.")
	}
	return r, nil
}

func foamOrder(grades float64) string {
	switch grades {
	case 1:
		return "10"
	case 2:
		return "10, 20"
	case 3:
		return "10, 20, 30"
	}
	return "10, 20, 30, 45"
}

// adviseFoam warns of foam that blocks too soon: practice rinses half of the
// sheets a week (figure set media-foam-rules).
func adviseFoam(r *calculators.Result, interval Range) {
	switch {
	case interval.Likely < 2:
		r.Advise("This foam is full in a day or two: put a sieve or a settling vessel before it, or far more foam.")
	case interval.Likely < 7:
		r.Say("This foam is full in about {likely 1|day|days}, maybe {least 1}: look each day, and give it more sheets or a sieve before it.", interval.Likely, interval.Low)
	case interval.Low < 7:
		r.Say("Look at the water before it each day: it may be full after {least 1|day|days}. Rinse half of the sheets each week at the least.", interval.Low)
	default:
		r.Advise("Rinse half of the sheets each week even if they still pass water: what lies in them rots.")
	}
}
