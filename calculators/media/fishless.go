package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// byFeed is the choice of who doses the ammonia of the feed to come.
const byFeed = "feed"

// Common practice: the most that a start without fish is dosed to, mg/L as nitrogen,
// because more holds back the bacteria that live on nitrite (figure set
// media-nitrifier-inhibition).
const mostDosed = 4

// usualProtein is that of a feed that nobody stated, per cent, as in the other
// calculators.
const usualProtein = 36

// FishlessStart declares the calculator of ammonia solution for a filter that grows
// before there are fish.
func FishlessStart() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "fishless-start",
		Inputs:  fishlessInputs(),
		Outputs: fishlessOutputs(),
		Compute: computeFishless,
	}
	if calculators.Documented {
		c.Title = "Start without fish"
		c.Question = "How much ammonia solution feeds a new filter before there are fish, and for how much feed is it then ready?"
		c.Part = "media"
		c.Formulas = fishlessFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			"Never while there is a fish in the water, or where the water runs to one: these doses kill.",
			"Only clear ammonia in water: no scent, colour or soap. Shake the bottle: foam that stays means soap. Its label must say the strength.",
			"Its fumes burn eyes and lungs: outdoors, upwind, goggles and gloves on. Measure it outside the reach of children, close the bottle at once, and never keep it in a drinks bottle.",
			"Never near bleach, pool chlorine or acid, nor in a bucket that held them: the gas kills.",
		}
		c.Example = calculators.Example{
			Story: "Tomas has no fish yet in his tub of {volume}. His ammonia solution is {strength} strong. He wants the kit to show {aim}.",
			Pond:  "tub",
			Given: []calculators.Arg{{Name: "strength", Value: "10 %"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Ammonia solution that raises total ammonia by {aim} as nitrogen, by water and strength",
			Rows:    calculators.Axis{Input: "volume", Values: []string{"500 L", "1000 L", "2000 L", "5000 L", "10000 L"}},
			Columns: calculators.Axis{Input: "strength", Values: []string{"5 %", "10 %", "25 %"}},
			Show:    []string{"solution"},
			Given:   []calculators.Arg{{Name: "aim", Value: "2 mg/L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Ammonia solution for {volume}, by the ammonia wanted and the strength of the bottle",
			X:       "aim", From: "0.5 mg/L", To: "4 mg/L",
			Series: calculators.Axis{Input: "strength", Values: []string{"5 %", "10 %", "25 %"}},
			Show:   "solution",
			Given:  []calculators.Arg{{Name: "volume", Value: "1000 L"}},
		}
	}
	return c
}

func fishlessInputs() []calculators.Input {
	when := func(choice string) calculators.When { return calculators.When{Input: "by", Is: []string{choice}} }
	feed, protein := loadInputs()[1], loadInputs()[2]
	feed.When, protein.When = when(byFeed), when(byFeed)
	feed.Accept.LowRefused = "without feed there is no ammonia of a day"
	feed.Help = "That the fish to come will get on a warm day."
	return []calculators.Input{
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Accept: calculators.Range{Low: 50, High: 1000000, Origin: "sanity limit"}, Help: "With the filter and the pipes."},
		{Name: "by", Label: "Dose for", Type: calculators.Choice, Default: "level",
			Options: []calculators.Option{{Name: "level", Label: "a reading of the kit"}, {Name: byFeed, Label: "the ammonia of a day's feed"}},
			Help:    "First a reading; once that is gone in a day, the ammonia of the feed to come, daily."},
		{Name: "basis", Fact: "ammonia-kit", Label: "The kit reads", Type: calculators.Choice, Default: "as-n", When: when("level"),
			Options: []calculators.Option{{Name: "as-n", Label: "as nitrogen (TAN, NH3-N)"}, {Name: "as-nh3", Label: "as ammonia (NH3)"}, {Name: "as-nh4", Label: "as ammonium (NH4)"}},
			Help:    "As the leaflet says."},
		{Name: "aim", Label: "Reading wanted", Kind: quantity.Concentration, Default: "2 mg/L", When: when("level"), Accept: calculators.Range{Low: 0.1, High: 8, Origin: "common practice"},
			Help: "Total ammonia, as your kit shows it."},
		{Name: "now", Label: "Reading now", Kind: quantity.Concentration, Default: "0 mg/L", When: when("level"), Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit", HighRefused: "at so much there is nothing to add"},
			Help: "Tested today."},
		feed, protein,
		{Name: "strength", Label: "Strength of the ammonia solution", Kind: quantity.Share, Accept: calculators.Range{Low: 1, High: 35, Origin: "sanity limit"},
			Help: "Ammonia (NH3) by weight, on the label; an old bottle has lost some."},
		{Name: "parts", Label: "In parts", Kind: quantity.Count, Default: "3", Fine: true, Accept: calculators.Range{Low: 1, High: 20, Origin: "sanity limit"},
			Help: "With a test between, so that a wrong volume or strength is found out."},
	}
}

func fishlessOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "solution", Label: "Ammonia solution", Unit: "mL", Digits: 2, Also: []string{"[foz_us]"}},
		{Name: "part", Label: "Each part", Unit: "mL", Digits: 2, Help: "Test an hour after each, and stop where the reading wanted is reached."},
		{Name: "rise", Label: "Total ammonia rises by, as nitrogen", Unit: "mg/L", Digits: 2, Help: calculators.Text("The range is for {error %} more or less water.", limits.VolumeError)},
		{Name: "ready-feed", Label: "Ready for this feed once it is gone in a day", Unit: "g/d", Digits: 2, Help: calculators.Text("The feed whose ammonia of a day this dose is, with {protein %} of protein if you state none.", usualProtein)},
		{Name: "kh-used", Label: "KH that it uses up, as CaCO3", Unit: "mg/L", Digits: 2, Help: "When bacteria have turned it all to nitrate."},
		{Name: "bicarbonate", Label: "Sodium bicarbonate that makes good for it", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}},
		{Name: "nitrogen", Label: "Nitrogen in the dose", Unit: "g", Digits: 2, Fine: true},
		{Name: "weight", Label: "The solution weighs", Unit: "g", Digits: 2, Fine: true},
		{Name: "density", Label: "Density of the solution", Unit: "g/mL", Digits: 3, Fine: true},
	}
}

func fishlessFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Ammonia solution", Says: "Nitrogen wanted over the nitrogen in a millilitre of solution: 82.2 % of its ammonia is nitrogen.",
			TeX:    `v = \frac{100\,c\,V}{0.8224\,p\,\rho}`,
			Source: "iupac-atomic-weights", Locator: "molar masses of N and NH3", Basis: "published", Function: "media.SolutionFor",
			Check: calculators.Rounded("v [mL] ammonia solution, ρ [g/mL] density of the solution: c [mg/L] rise of total ammonia as nitrogen 0.2..5, V [m3] 0.5..20, p [%] strength of the solution by weight 2..30", func(rise, volume, strength float64) (solution, density float64) {
				return SolutionFor(rise*volume, strength), SolutionDensity(strength)
			})},
		{Name: "Density of the solution", Says: "Fitted to a printed table, 1 to 35 % of ammonia by weight; within 0.0005 of it.",
			TeX:    `\rho = 1 - 0.00410\,p + 0.0000147\,p^2`,
			Source: "cooley-1880", Locator: "Ammonia, table of specific gravity and pure ammonia, p. 127", Basis: "published", Function: "media.SolutionDensity",
			Check: calculators.Explicit("ρ [g/mL] density of the solution: p [%] strength of the solution by weight 1..35", SolutionDensity)},
		{Name: "Feed it stands for", Says: "The feed that gives as much ammonia nitrogen in a day.",
			TeX:    `F = \frac{m}{0.092\,P}`,
			Source: "timmons-ebeling-2010", Locator: "P_TAN = F × PC × 0.092", Basis: "published", Function: "water.FeedNitrogen",
			Check: calculators.Explicit("F [g/d] feed of a day: m [g/d] ammonia nitrogen of a day 0.5..10, P [1] protein in the feed 0.25..0.5", func(nitrogen, protein float64) float64 {
				return nitrogen / fish.AmmoniaFromFeed(protein).Likely
			})},
	}
}

func computeFishless(in calculators.Inputs) (calculators.Result, error) {
	volume, strength, parts := in.In("volume", "m3"), in.In("strength", "%"), in.In("parts", "1")
	var r calculators.Result
	rise, protein := 0.0, usualProtein/100.0
	if in.Choice("by") == byFeed {
		protein = in.In("protein", "%") / 100
		nitrogen := fish.AmmoniaFromFeed(protein).Likely * in.In("feed", "g/d")
		if nitrogen == 0 {
			return r, calculators.Refuse("feed", "is nothing", "more than nothing", "state the feed that the fish to come will get")
		}
		rise = nitrogen / volume
		r.Step("Ammonia nitrogen of a day", "0.092 × {3} × {3 g} = {3 g}", protein, in.In("feed", "g/d"), nitrogen)
	} else {
		counted := asNitrogen(in.Choice("basis"))
		aim, now := in.In("aim", "mg/L"), in.In("now", "mg/L")
		if now >= aim {
			return r, calculators.Refuse("now", "is {now 3 mg/L}, no less than the reading wanted", "less than {aim 3 mg/L}", "add none today: test again tomorrow", now, aim)
		}
		rise = (aim - now) / counted
		r.Step("Rise, as nitrogen", "({~4 mg/L} − {~4 mg/L}) / {4} = {3 mg/L}", aim, now, counted, rise)
	}
	nitrogen := rise * volume
	solution, density := SolutionFor(nitrogen, strength), SolutionDensity(strength)
	less := 1 - limits.VolumeError/100
	r.Exactly("solution", solution)
	r.Exactly("part", solution/parts)
	r.Between("rise", rise/(2-less), rise, rise/less)
	add(&r, "ready-feed", Quotient(exactly(nitrogen), Range(fish.AmmoniaFromFeed(protein))))
	r.Exactly("kh-used", rise*fish.AlkalinityPerNitrogen)
	r.Exactly("bicarbonate", nitrogen*fish.BicarbonatePerNitrogen)
	r.Exactly("nitrogen", nitrogen)
	r.Exactly("weight", solution*density)
	r.Exactly("density", density)
	r.Step("Nitrogen", "{3 mg/L} × {3 m3} = {3 g}", rise, volume, nitrogen)
	r.Step("Ammonia solution", "{3 g} / (0.8224 × {3} × {3 g/mL}) = {3 mL}", nitrogen, strength/100, density, solution)
	adviseFishless(&r, rise, solution/parts, parts)
	return r, nil
}

// asNitrogen returns what a kit counts for each mg of nitrogen.
func asNitrogen(basis string) float64 {
	switch basis {
	case "as-nh3":
		return chemistry.AmmoniaPerNitrogen
	case "as-nh4":
		return chemistry.AmmoniumPerNitrogen
	}
	return 1
}

func adviseFishless(r *calculators.Result, rise, part, parts float64) {
	r.Advise("Make sure that no fish is in this water, and take the chlorine out of it first.")
	if parts > 1 {
		r.Say("Stir {part 2 mL} into a bucket of pond water and pour it in where the water moves. Test after an hour, then go on, in {parts 0} parts at the most.", part, parts)
	} else {
		r.Say("Stir {part 2 mL} into a bucket of pond water, pour it in where the water moves, and test after an hour.", part)
	}
	if rise > mostDosed {
		r.Say("More than {most mg/L} as nitrogen at once holds back the bacteria that live on nitrite: give less, more often.", mostDosed)
	}
	r.Say("Dose again when total ammonia is at {low mg/L} or less. When that takes a day, dose the ammonia of a full day's feed daily.", limits.MatureAmmonia)
	r.Say("It is mature when a day after each such dose ammonia is at {ammonia mg/L} or less and nitrite under {nitrite mg/L}, both as nitrogen, for {days 0|day|days}.", limits.MatureAmmonia, limits.MatureNitrite, limits.MatureDays)
	r.Say("Keep KH at {kh mg/L} or more: each dose uses up {used 2 mg/L}. Raise it by no more than {step mg/L} a day.", startAlkalinity, rise*fish.AlkalinityPerNitrogen, limits.KHStepDay)
	r.Advise("Before fish come, change most of the water for its nitrate, and bring them within days: unfed film dwindles.")
	if days := math.Ceil(rise * fish.AlkalinityPerNitrogen / limits.KHStepDay); days > 1 {
		r.Doubt("One dose uses up more KH than a day's bicarbonate may bring back, which takes {days 0|day|days}: test pH and KH before the next.", days)
	}
}
