package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// CopperZinc declares the calculator of the limits of copper and zinc at a
// hardness.
func CopperZinc() calculators.Calculator {
	c := calculators.Calculator{
		ID: "copper-zinc",
		Inputs: []calculators.Input{
			{Name: "hardness", Label: "Hardness of the water, as CaCO3", Kind: quantity.Hardness, Help: calculators.Text("Total hardness (GH); a German degree is {degree 3 mg/L}. Take the lowest you have had.", GermanDegree),
				Accept: calculators.Range{Low: 5, High: 1000, Origin: "sanity limit"},
				Stated: calculators.Range{Low: 25, High: 400, Origin: "cfr-40-132, range of hardness from memory"}},
			{Name: "copper", Label: "Copper reading", Kind: quantity.Concentration, Optional: true, Help: calculators.Text("A laboratory's, dissolved; most kits start at {kit ug/L} or more.", kitCopper),
				Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
			{Name: "zinc", Label: "Zinc reading", Kind: quantity.Concentration, Optional: true, Help: "A laboratory's, dissolved.",
				Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		},
		Outputs: []calculators.Output{
			{Name: "copper-chronic", Label: "Copper, United States, four days", Unit: "ug/L", Digits: 2},
			{Name: "copper-acute", Label: "Copper, United States, one hour", Unit: "ug/L", Digits: 2},
			{Name: "zinc-chronic", Label: "Zinc, United States, four days", Unit: "ug/L", Digits: 2},
			{Name: "zinc-acute", Label: "Zinc, United States, one hour", Unit: "ug/L", Digits: 2},
			{Name: "copper-columbia", Label: "Copper, British Columbia, long term", Unit: "ug/L", Digits: 2},
			{Name: "zinc-columbia", Label: "Zinc, British Columbia, long term", Unit: "ug/L", Digits: 2},
			{Name: "copper-columbia-short", Label: "Copper, British Columbia, short term", Unit: "ug/L", Digits: 2, Fine: true},
			{Name: "zinc-columbia-short", Label: "Zinc, British Columbia, short term", Unit: "ug/L", Digits: 2, Fine: true},
			{Name: "copper-europe", Label: "Copper, European guide", Unit: "ug/L", Digits: 2, Fine: true, Help: "Of the listed hardness at or below yours; directive of 2006, ended in 2013, quoted from memory."},
			{Name: "zinc-europe", Label: "Zinc, European value for carp waters", Unit: "ug/L", Digits: 2, Fine: true, Help: "As for copper; total zinc."},
		},
		Compute: computeMetals,
	}
	if calculators.Documented {
		c.Title = "Copper and zinc limits by hardness"
		c.Question = "How much copper or zinc is too much in water of my hardness?"
		c.Part = "water"
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.FishHealth}
		c.Cautions = []string{
			"The limits are for wild waters and many animals. They are no doses: never dose copper from this page.",
			calculators.Text("Copper treatments are for a vet and the label. None in water below {least mg/L} alkalinity: there it kills fish.", limits.AlkalinityLowAct),
			"Keep copper pipe, brass, galvanised steel and zinc-plated wire out of pond water, most of all where it is soft or acid.",
			"Copper kills snails, mussels and the bacteria of a filter at less than it takes to harm koi.",
		}
		c.Formulas = metalFormulas()
		c.Example = calculators.Example{
			Story: "Ines's tap comes through new copper pipe: {copper} copper in the pond, hardness {hardness}.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "copper", Value: "0.03 mg/L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Limits of copper and zinc by hardness",
			Rows:    calculators.Axis{Input: "hardness", Values: []string{"25 mg/L", "50 mg/L", "100 mg/L", "150 mg/L", "200 mg/L", "300 mg/L", "400 mg/L"}},
			Show:    []string{"copper-chronic", "copper-acute", "copper-columbia", "zinc-chronic", "zinc-columbia"},
		}
		c.Chart = calculators.Chart{Caption: "The harder the water, the more copper the criterion allows", X: "hardness", From: "25 mg/L", To: "400 mg/L", Show: "copper-chronic"}
	}
	return c
}

func metalFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "United States, copper", Says: "Dissolved, µg/L, for one hour and for four days, by hardness. In 2007 a model of what binds copper took its place.",
			TeX: `c_\mathrm{hour} = 0.960\,e^{0.9422\ln H - 1.700},\quad c_\mathrm{days} = 0.960\,e^{0.8545\ln H - 1.702}`, Source: "cfr-40-132", Locator: "Tables 1(b) and 2(b)", Basis: "published", Function: "water.CopperCriterion",
			Check: calculators.Explicit("c_hour [ug/L] limit for one hour, c_days [ug/L] limit for four days: H [mg/L] 20..400", func(hardness float64) (hour, days float64) {
				return CopperCriterion(hardness, true), CopperCriterion(hardness, false)
			})},
		{Name: "United States, zinc", Says: "Dissolved, µg/L, for one hour and for four days, by hardness.",
			TeX: `c_\mathrm{hour} = 0.978\,e^{0.8473\ln H + 0.884},\quad c_\mathrm{days} = 0.986\,e^{0.8473\ln H + 0.884}`, Source: "cfr-40-132", Locator: "Tables 1(b) and 2(b)", Basis: "published", Function: "water.ZincCriterion",
			Check: calculators.Explicit("c_hour [ug/L] limit for one hour, c_days [ug/L] limit for four days: H [mg/L] 20..400", func(hardness float64) (hour, days float64) {
				return ZincCriterion(hardness, true), ZincCriterion(hardness, false)
			})},
		{Name: "British Columbia, copper", Says: "µg/L; long term 2 up to a hardness of 50, then 0.04 H; short term as printed here.",
			TeX: `0.094\,H + 2`, Source: "bc-wqg-2006", Locator: "Table 9", Basis: "published", Function: "water.CopperColumbia",
			Check: calculators.Explicit("c [ug/L]: H [mg/L] 10..400", func(hardness float64) float64 { return CopperColumbia(hardness, true) })},
		{Name: "British Columbia, zinc", Says: "µg/L; long term 7.5 up to a hardness of 90, then as printed here; short term 33 in place of 7.5.",
			TeX: `7.5 + 0.75\,(H - 90)`, Source: "bc-wqg-2006", Locator: "Table 33", Basis: "published", Function: "water.ZincColumbia",
			Check: calculators.Explicit("c [ug/L]: H [mg/L] 90..400", func(hardness float64) float64 { return ZincColumbia(hardness, false) })},
		{Name: "European Union, copper", Says: "Steps at hardness 10, 50, 100 and 300; between them the lower one is taken.", TeX: `c = \begin{cases} 5 & 10 \le H < 50 \\ 22 & 50 \le H < 100 \\ 40 & 100 \le H < 300 \\ 112 & H \ge 300 \end{cases}\ \mathrm{\mu g/L}`,
			Source: "eu-2006-44", Locator: "Annex II", Basis: "memory", Function: "water.EuropeanCopper",
			Check: calculators.Explicit("c [ug/L]: H [mg/L] 10|49|50|99|100|299|300|500", EuropeanCopper)},
		{Name: "European Union, zinc", Says: "Carp waters, steps at hardness 10, 50, 100 and 500; between them the lower one is taken.", TeX: `c = \begin{cases} 300 & 10 \le H < 50 \\ 700 & 50 \le H < 100 \\ 1000 & 100 \le H < 500 \\ 2000 & H \ge 500 \end{cases}\ \mathrm{\mu g/L}`,
			Source: "eu-2006-44", Locator: "Annex II", Basis: "memory", Function: "water.EuropeanZinc",
			Check: calculators.Explicit("c [ug/L]: H [mg/L] 10|49|50|99|100|499|500|900", func(hardness float64) float64 { return EuropeanZinc(hardness, false) })},
	}
}

func computeMetals(in calculators.Inputs) (calculators.Result, error) {
	h := in.In("hardness", "mg/L")
	var r calculators.Result
	r.Exactly("copper-chronic", CopperCriterion(h, false))
	r.Exactly("copper-acute", CopperCriterion(h, true))
	r.Exactly("zinc-chronic", ZincCriterion(h, false))
	r.Exactly("zinc-acute", ZincCriterion(h, true))
	r.Exactly("copper-columbia", CopperColumbia(h, false))
	r.Exactly("zinc-columbia", ZincColumbia(h, false))
	r.Exactly("copper-columbia-short", CopperColumbia(h, true))
	r.Exactly("zinc-columbia-short", ZincColumbia(h, true))
	if europe := EuropeanCopper(h); europe == europe { // a number: there is a step for this hardness
		r.Exactly("copper-europe", europe)
		r.Exactly("zinc-europe", EuropeanZinc(h, false))
	}
	r.Step("Copper, four days", "0.960 × exp(0.8545 × ln {3} − 1.702) = {3 ug/L}", h, CopperCriterion(h, false))
	r.Step("Zinc, four days", "0.986 × exp(0.8473 × ln {3} + 0.884) = {3 ug/L}", h, ZincCriterion(h, false))
	read := false
	if in.Has("copper") {
		judgeMetal(&r, copperSays(), in.In("copper", "ug/L"), CopperColumbia(h, false), CopperCriterion(h, false), CopperCriterion(h, true))
		read = true
	}
	if in.Has("zinc") {
		judgeMetal(&r, zincSays(), in.In("zinc", "ug/L"), ZincColumbia(h, false), ZincCriterion(h, false), ZincCriterion(h, true))
		read = true
	}
	if !read {
		r.Advise("Send a water sample to a laboratory if pipe, fittings or a treatment may bring in copper or zinc; a kit seldom reads so low.")
	}
	r.Advise("Carbon, alkalinity and dirt bind metals: soft, clean, acid water is the dangerous one.")
	return r, nil
}

// kitCopper is the least copper that most kits show, ug/L: common practice.
const kitCopper = 50.0

// copperSays is what is said of copper above the one-hour criterion, above the
// four-day one, above British Columbia's, and below all.
func copperSays() [4]string {
	return [...]string{
		"Copper is above the one-hour criterion, {limit 2 ug/L}: change water now, part by part, with dechlorinated water free of it.",
		"Copper is above the four-day criterion, {limit 2 ug/L}: find where it comes from, and change water over the next days.",
		"Copper is below both United States criteria, but above British Columbia's long-term limit, {limit 2 ug/L}: find where it comes from.",
		"Copper is below the limits of the United States and of British Columbia.",
	}
}

// zincSays is copperSays for zinc.
func zincSays() [4]string {
	return [...]string{
		"Zinc is above the one-hour criterion, {limit 2 ug/L}: change water now, part by part, with dechlorinated water free of it.",
		"Zinc is above the four-day criterion, {limit 2 ug/L}: find where it comes from, and change water over the next days.",
		"Zinc is below both United States criteria, but above British Columbia's long-term limit, {limit 2 ug/L}: find where it comes from.",
		"Zinc is below the limits of the United States and of British Columbia.",
	}
}

// judgeMetal says how a reading stands to the criteria, all in ug/L.
func judgeMetal(r *calculators.Result, says [4]string, reading, columbia, chronic, acute float64) {
	switch {
	case reading > acute:
		r.Say(says[0], acute)
		r.Advise("Take out what it comes from, put in fresh carbon by its label, and call a fish vet.")
	case reading > chronic:
		r.Say(says[1], chronic)
	case reading > columbia:
		r.Say(says[2], columbia)
	default:
		r.Advise(says[3])
	}
}
