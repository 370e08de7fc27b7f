package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// FeedWaste declares the calculator of feed and what the water has to bear.
func FeedWaste() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "feed-waste",
		Inputs:  feedInputs(),
		Outputs: feedOutputs(),
		Compute: computeFeed,
	}
	if calculators.Documented {
		c.Title = "Feed, and what it does to the water"
		c.Question = "How much do my fish eat in a day, and how much ammonia, oxygen and KH does that cost?"
		c.Part = "stocking"
		c.Formulas = feedFormulas()
		c.Hazards = []calculators.Hazard{calculators.FishHealth}
		c.Cautions = []string{
			"Everything the fish foul comes from the feed: what you do not feed, the filter need not carry.",
			"Size the filter for the high end of the warmest month, and for the fish you will have in two years.",
			"A new filter carries next to nothing: feed very little, and let the ammonia and nitrite readings, not the calendar, say when to feed more.",
			"Raise KH in small steps over days: it raises the pH, and with it the toxic part.",
		}
		c.Example = calculators.Example{
			Story: "Ines's koi weigh {weight 2} together. She feeds pellets of {protein} protein in summer water of {temperature}.",
			Pond:  "ines", Day: "2025-07-11",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Total ammonia nitrogen a day by weight of grown fish, feed of {protein} protein",
			Rows:    calculators.Axis{Input: "weight", Values: []string{"1 kg", "2 kg", "5 kg", "10 kg", "20 kg", "50 kg"}},
			Columns: calculators.Axis{Input: "temperature", Values: []string{"12 Cel", "16 Cel", "20 Cel", "24 Cel", "28 Cel"}},
			Show:    []string{"tan"},
			Given:   []calculators.Arg{{Name: "protein", Value: "36 %"}},
		}
		c.Chart = calculators.Chart{
			Caption: calculators.Text("Feed a day for grown koi: nothing in the cold, most near {most Cel}, less in heat", mostFed),
			X:       "temperature", From: "4 Cel", To: "32 Cel",
			Series: calculators.Axis{Input: "weight", Values: []string{"5 kg", "10 kg", "20 kg"}},
			Show:   "feed",
		}
	}
	return c
}

func feedInputs() []calculators.Input {
	byFish := calculators.When{Input: "from", Is: []string{"fish"}}
	list := fishList()
	list.When = calculators.When{Input: "from", Is: []string{"list"}}
	return []calculators.Input{
		{
			Name: "from", Label: "Reckon from", Type: calculators.Choice, Default: "fish",
			Help: "What you weigh out is better than the usual feed for the weight of the fish.",
			Options: []calculators.Option{
				{Name: "fish", Label: "the weight of the fish"},
				{Name: "list", Label: "the lengths of the fish"},
				{Name: "feed", Label: "the feed I give"},
			},
		},
		{
			Name: "weight", Label: "All fish together", Kind: quantity.Mass, When: byFish,
			Help:   "From the fish weight calculator; the heavy end if you size a filter.",
			Accept: calculators.Range{Low: 0, High: 5000, Origin: "sanity limit"},
		},
		list,
		{
			Name: "age", Label: "The fish are", Type: calculators.Choice, Default: "grown", When: calculators.When{Input: "from", Is: []string{"fish", "list"}},
			Help: "Young koi in their first two summers eat far more for their weight.",
			Options: []calculators.Option{
				{Name: "grown", Label: "grown"},
				{Name: "young", Label: "young and growing"},
			},
		},
		{
			Name: "feed", Fact: "feed", Label: "Feed in a day", Kind: quantity.MassRate,
			Help:   "Weigh the tin before and after a week and divide by seven.",
			Accept: calculators.Range{Low: 0, High: 100000, Origin: "sanity limit"},
			When:   calculators.When{Input: "from", Is: []string{"feed"}},
		},
		{
			Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature,
			Help:   "In the pond, in the morning.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"},
		},
		{
			Name: "protein", Fact: "protein", Label: "Protein in the feed", Kind: quantity.Share, Default: "36 %",
			Help:   "Printed on the bag as crude protein.",
			Accept: calculators.Range{Low: 5, High: 70, Origin: "sanity limit"},
		},
	}
}

func feedOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "feed", Label: "Feed", Unit: "g/d", Digits: 2, Also: []string{"[oz_av]/d"}},
		{Name: "ration", Label: "Feed for their weight", Unit: "%/d", Digits: 2},
		{Name: "tan", Label: "Total ammonia, as nitrogen", Unit: "g/d", Digits: 2, Help: "What the filter must turn into nitrate each day."},
		{Name: "oxygen", Label: "Oxygen, whole pond", Unit: "g/d", Digits: 2, Help: "Fish, filter and all decay: what the air and the falling water must bring."},
		{Name: "oxygen-filter", Label: "Oxygen, fish and filter alone", Unit: "g/d", Digits: 2, Fine: true, Help: "If you take out the solids before they rot."},
		{Name: "oxygen-nitrify", Label: "Oxygen for the ammonia alone", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "alkalinity", Label: "KH used up, as CaCO3", Unit: "g/d", Digits: 2},
		{Name: "bicarbonate", Label: "Sodium bicarbonate that makes up for it", Unit: "g/d", Digits: 2, Help: "Less what your tap water brings with each change."},
		{Name: "solids", Label: "Dry solids", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "carbon-dioxide", Label: "Carbon dioxide", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "phosphorus", Label: "Phosphorus", Unit: "g/d", Digits: 2, Fine: true, Help: "Feeds algae; leaves only with sludge and water changes."},
	}
}

func feedFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Ration of grown koi", Says: "Bands keepers use, per cent of body weight a day: 0.2 to 0.4 at 10 to 13 °C, 0.8 to 1.2 at 16 to 20, 1 to 1.5 at 20 to 24, 1 to 2 at 24 to 28, 0.5 to 1 at 28 to 32; straight lines between their middles.",
			TeX:   `r(t) = r_i + (r_{i+1} - r_i)\,\frac{t - t_i}{t_{i+1} - t_i}`,
			Basis: "practice", Function: "fish.GrownRation",
			Check: calculators.Explicit("r [%/d] ration to the body weight, r_i [%/d] ration in the middle of the band below, r_i+1 [%/d] ration in the middle of the band above, t_i [Cel] middle of the band below, t_i+1 [Cel] middle of the band above: t [Cel] 12..30", func(t float64) (ration, below, above, from, to float64) {
				from, to = knots(rationMiddles(), t)
				return GrownRation(t).Likely, GrownRation(from).Likely, GrownRation(to).Likely, from, to
			}),
		},
		{
			Name: "Maintenance ration", Says: "Ration on which young carp neither gain nor lose, per cent of body weight a day, fitted to four trials from 12 to 30 °C.",
			TeX:    `r = 0.150\, e^{0.0857\,t}`,
			Source: "goolish1984", Locator: "abstract; our fit", Basis: "published", Function: "fish.MaintenanceRation",
			Check: calculators.Explicit("r [%/d] maintenance ration to the body weight: t [Cel] 12..30", MaintenanceRation),
		},
		{
			Name: "Best growth", Says: "Fastest growth of young carp, per cent of body weight a day, fitted to four trials from 12 to 30 °C.",
			TeX:    `g = -0.00972\,t^2 + 0.552\,t - 4.51`,
			Source: "goolish1984", Locator: "abstract; our fit", Basis: "published", Function: "fish.BestGrowth",
			Check: calculators.Explicit("g [%/d]: t [Cel] 12..30", BestGrowth),
		},
		{
			Name: "Ration of young koi", Says: "From maintenance to maintenance plus one kilogram of feed for each of best growth.",
			TeX:   `r_\mathrm{low} = r,\quad r_\mathrm{high} = r + g`,
			Basis: "practice", Function: "fish.YoungRation",
			Check: calculators.Explicit("r_low [%/d] least ration to the body weight, r_high [%/d] largest ration, r [%/d] maintenance ration, g [%/d]: - [Cel] 12..30", func(t float64) (low, high, keep, growth float64) {
				band := YoungRation(t)
				return band.Low, band.High, MaintenanceRation(t), BestGrowth(t)
			}),
		},
		{
			Name: "Ammonia from feed", Says: "Total ammonia nitrogen by feed F and its fraction of protein P; from 25 g per kg of feed with 35 % protein up to 0.144 P when all waste stays in the water.",
			TeX:    `\mathrm{TAN} = 0.092\, F\, P`,
			Source: "timmons-ebeling-2010", Locator: "P_TAN = F x PC x 0.092", Basis: "published", Function: "water.FeedNitrogen",
			Check: calculators.Explicit("TAN [g/d]: F [g/d] 10..500, P [1] 0.2..0.5", func(feed, protein float64) float64 { return feed * AmmoniaFromFeed(protein).Likely }),
		},
		{
			Name: "Oxygen demand of feed", Says: "Oxygen by feed in the whole pond with all decay; 1.25 F is the source's rounded figure.",
			TeX:    `O_2 = (0.40\cdot 0.90\cdot 2.67 + 0.16\,P\cdot 0.75\cdot 4.57)\, F`,
			Source: "boyd-feed-od", Locator: "computation and summary", Basis: "published", Function: "fish.FeedOxygenDemand",
			Check: calculators.Explicit("O_2 [g/d]: F [g/d] 10..500, P [1] 0.2..0.5", func(feed, protein float64) float64 { return feed * FeedOxygenDemand(protein).Likely }),
		},
		{
			Name: "Oxygen of fish and filter", Says: "Half the feed's weight for the fish, and 4.57 g for each gram of ammonia nitrogen in the filter.",
			TeX:    `O_2 = 0.5\,F + 4.57\,\mathrm{TAN}`,
			Source: "seagrant-proc", Locator: "page 137", Basis: "published", Function: "fish.FishAndFilterOxygen",
			Check: calculators.Explicit("O_2 [g/d] oxygen for fish and filter, TAN [g/d]: F [g/d] 10..500, - [1] 0.2..0.5", func(feed, protein float64) (oxygen, tan float64) {
				return feed * FishAndFilterOxygen(protein).Likely, feed * AmmoniaFromFeed(protein).Likely
			}),
		},
		{
			Name: "Carbon dioxide from feed", Says: "Nine tenths of the feed's carbon burnt; at least what the fish breathe out.",
			TeX:    `\mathrm{CO_2} = 0.40\cdot 0.90\cdot \tfrac{44}{12}\, F`,
			Source: "boyd-feed-od", Locator: "carbon in feed, text", Basis: "published", Function: "fish.CarbonDioxideFromFeed",
			Check: calculators.Explicit("CO_2 [g/d]: F [g/d] 10..500", func(feed float64) float64 { return feed * CarbonDioxideFromFeed().Likely }),
		},
		{
			Name: "Solids from feed", Says: "Dry matter that carp do not digest, in feed of nine tenths dry matter.",
			TeX:    `\mathrm{solids} = 0.9\,(1 - 0.59)\, F`,
			Source: "mcp1993", Locator: "abstract", Basis: "published", Function: "fish.SolidsFromFeed",
			Check: calculators.Explicit("solids [g/d]: F [g/d] 10..500", func(feed float64) float64 { return feed * SolidsFromFeed().Likely }),
		},
		{
			Name: "Phosphorus from feed", Says: "From half of a lean carp feed's phosphorus to all of a rich one's.",
			TeX:    `0.5\cdot 0.0107\,F \le \mathrm{P} \le 0.0209\,F`,
			Source: "watanabe1999", Locator: "abstract", Basis: "published", Function: "fish.PhosphorusFromFeed",
			Check: calculators.Explicit("P [g/d] phosphorus: F [g/d] 10..500", func(feed float64) Range { return PhosphorusFromFeed().times(feed) }),
		},
	}
}

func computeFeed(in calculators.Inputs) (calculators.Result, error) {
	t, protein := in.In("temperature", "Cel"), in.In("protein", "%")/100
	var r calculators.Result
	var feed Range // g/d
	if in.Choice("from") == "feed" {
		f := in.In("feed", "g/d")
		feed = Range{f, f, f}
		add(&r, "feed", feed)
	} else {
		ration, err := rationFor(in.Choice("age"), t)
		if err != nil {
			return r, err
		}
		w, errs := feedWeight(in)
		if len(errs) > 0 {
			return r, errs
		}
		r = w.Result
		feed = ProductOfIndependent(ration, w.sum).times(1.0 / 100)
		add(&r, "feed", feed)
		add(&r, "ration", ration)
		r.Step("Ration at {3 Cel}", "{2 %/d} ({2} to {2})", t, ration.Likely, ration.Low, ration.High)
		r.Step("Feed", "{3 kg} × {2 %/d} = {2 g/d}", w.sum.Likely/1000, ration.Likely, feed.Likely)
	}
	addWaste(&r, feed, protein)
	flagFeed(&r, in, t, feed.Likely)
	adviseFeed(&r, t, feed.Likely, protein)
	return r, nil
}

// feedWeight returns the fish, by their weight or by their lengths.
func feedWeight(in calculators.Inputs) (weighing, calculators.InputErrors) {
	w := weighing{}
	if in.Choice("from") == "fish" {
		weight := in.In("weight", "g")
		w.sum = Range{weight, weight, weight}
		return w, nil
	}
	for _, s := range shoals(in) {
		w.add(s)
	}
	return w, w.errs
}

func add(r *calculators.Result, output string, b Range) { r.Between(output, b.Low, b.Likely, b.High) }

// rationFor refuses what no figure reaches: young fish outside the trials, and
// hot water.
func rationFor(age string, t float64) (Range, error) {
	ration, accept, numbers := GrownRation(t), "at most {most 2 Cel}, where the bands of practice end", []float64{t, rationEnds}
	if age == "young" && t >= hobbyStop {
		ration, accept, numbers = YoungRation(t), "{least 2} to {most 2 Cel} for young koi (goolish1984, range of the trials)", []float64{t, trialCold, trialWarm}
	}
	if math.IsNaN(ration.Likely) {
		remedy := "feed nothing in hot water; to reckon a known feed, choose from=feed"
		if t < trialCold {
			remedy = "feed little in cold water, and choose age=grown to see how little"
		}
		return Range{}, calculators.Refuse("temperature", "is {water 3 Cel}", accept, remedy, numbers...)
	}
	return ration, nil
}

func addWaste(r *calculators.Result, feed Range, protein float64) {
	perFeed, oxygen := AmmoniaFromFeed(protein), FeedOxygenDemand(protein)
	tan := feed.product(perFeed)
	add(r, "tan", tan)
	add(r, "oxygen", feed.product(oxygen))
	add(r, "oxygen-filter", feed.product(FishAndFilterOxygen(protein)))
	add(r, "oxygen-nitrify", tan.times(OxygenPerNitrogen))
	add(r, "alkalinity", tan.times(AlkalinityPerNitrogen))
	add(r, "bicarbonate", tan.times(BicarbonatePerNitrogen))
	add(r, "solids", feed.product(SolidsFromFeed()))
	add(r, "carbon-dioxide", feed.product(CarbonDioxideFromFeed()))
	add(r, "phosphorus", feed.product(PhosphorusFromFeed()))
	r.Step("Ammonia nitrogen", "{3 g/d} × {3} × 0.092 = {3 g/d}", feed.Likely, protein, tan.Likely)
	r.Step("Oxygen, whole pond", "{3 g/d} × {3} = {3 g/d}", feed.Likely, oxygen.Likely, feed.Likely*oxygen.Likely)
	r.Step("KH used up", "{3 g/d} × 7.14 = {3 g/d}", tan.Likely, tan.Likely*AlkalinityPerNitrogen)
}

func flagFeed(r *calculators.Result, in calculators.Inputs, t, feed float64) {
	switch {
	case t < carpStop:
		r.Doubt("Below {stop Cel} carp stop feeding: no feed is right, and what is thrown in rots.", carpStop)
	case t < hobbyStop:
		r.Doubt("Between {carp ~} and {hobby Cel} little or nothing is eaten; the hobby stops anywhere from {least ~} to {most Cel}.", carpStop, hobbyStop, stopLeast, stopMost)
	case t >= limits.WarmAct:
		r.Doubt("From {heat Cel} oxygen decides, not appetite: many keepers stop feeding.", limits.WarmAct)
	}
	if feed == 0 {
		r.Flag("Fish that eat nothing still breathe and give off some ammonia: nought here is for feed alone. Keep air and filter running.")
	}
	if t < hobbyStop || in.Choice("from") == "feed" {
		return
	}
	if in.Choice("age") == "young" {
		r.Flag("The rations come from juvenile carp in tanks; big fish need less.")
	} else {
		r.Flag("Rations of grown koi are common practice: bands in use differ by a factor of two.")
	}
}

func adviseFeed(r *calculators.Result, t, feed, protein float64) {
	if t < hobbyStop {
		r.Say("Do not feed. Start again when the water stays above {start Cel} for a week.", hobbyStop)
		r.Advise("Take out what lies uneaten.")
		return
	}
	if t > rationEnds {
		r.Advise("Feed nothing in water this hot: all the air on, shade, and measure oxygen at sunrise.")
		return
	}
	if t >= limits.WarmAct {
		r.Say("At {heat Cel} and more the oxygen at sunrise decides: little feed, in the morning, while it stays above {oxygen mg/L}, and else none.", limits.WarmAct, limits.OxygenAct)
	}
	weekly := 7 * BicarbonatePerNitrogen * AmmoniaFromFeed(protein).Likely * feed
	r.Advise("Give it in two to four meals, no more than is eaten in three minutes; net out the rest.")
	r.Say("Halve the feed from {watch mg/L} of toxic ammonia or {more mg/L} of nitrite, both as nitrogen. Stop it from {act mg/L} or {most mg/L}, and when the oxygen at sunrise is below {oxygen mg/L}.",
		limits.AmmoniaWatch, limits.NitriteWatch, limits.AmmoniaAct, limits.NitriteAct, limits.OxygenAct)
	r.Say("Test KH each week: this feed uses up as much as {bicarbonate 2 g} of sodium bicarbonate a week, less what tap water brings.", weekly)
}
