package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Chlorine declares the calculator of the dose that takes chlorine or
// chloramine out of tap water, and of the ammonia this sets free.
func Chlorine() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "chlorine",
		Inputs:  chlorineInputs(),
		Outputs: chlorineOutputs(),
		Compute: computeChlorine,
	}
	if calculators.Documented {
		c.Title = "Chlorine and chloramine in tap water"
		c.Question = "How much neutraliser takes the chlorine or chloramine out of the new water, and how much ammonia is left behind?"
		c.Part = "water"
		c.Formulas = chlorineFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			"The label of your product comes first: dose by it. The answer is for plain chemicals of known purity, and to see whether a label's dose is meant for your tap.",
			"No level of chlorine is known to be safe for fish, and few kits read so low: a reading of 0 means none detected.",
			"Neutraliser for chlorine alone does not bind the ammonia that chloramine leaves: test ammonia and pH afterwards.",
			"More air whenever you dose. What is left over uses oxygen; sulfites use it at once.",
			"Letting water stand drives off chlorine in a day or two, but not chloramine (common practice).",
		}
		c.Example = calculators.Example{
			Story: "Ines changes {new-water} of the {volume} of Lower Reach. The water company says chloramine, up to {chlorine}. She treats the new water in a vat first.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "new-water", Value: "900 L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Thiosulfate crystals for the new water, by its volume and chlorine",
			Rows:    calculators.Axis{Input: "new-water", Values: []string{"100 L", "200 L", "500 L", "1000 L", "2000 L"}},
			Columns: calculators.Axis{Input: "chlorine", Values: []string{"0.5 mg/L", "1 mg/L", "2 mg/L", "4 mg/L"}},
			Show:    []string{"dose"},
			Given:   []calculators.Arg{{Name: "volume", Value: "10000 L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Chlorine in a pond of {volume} if the new water is not treated",
			X:       "new-water", From: "100 L", To: "5000 L",
			Series: calculators.Axis{Input: "chlorine", Values: []string{"0.5 mg/L", "2 mg/L", "4 mg/L"}},
			Show:   "untreated",
			Given:  []calculators.Arg{{Name: "volume", Value: "10000 L"}},
		}
	}
	return c
}

func chlorineInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "new-water", Label: "New tap water", Kind: quantity.Volume, Help: "By water meter, or flow times time.",
			Accept: calculators.Range{Low: 1, High: 1e6, Origin: "sanity limit"}},
		{Name: "volume", Once: []string{"pond"}, Fact: "volume", Label: "Water in the pond when full again", Kind: quantity.Volume, Help: "With the new water in it, filters too.",
			Accept: calculators.Range{Low: 1, High: 1e7, Origin: "sanity limit"}},
		{Name: "chlorine", Fact: "tap-chlorine", Label: "Total chlorine in the tap water", Kind: quantity.Concentration, Default: "4 mg/L", Help: calculators.Text("From the water company or a kit; {most mg/L} is the most allowed in the United States.", limits.TapMost),
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}},
		{Name: "disinfectant", Fact: "tap-disinfectant", Label: "The tap has", Type: calculators.Choice, Default: "unknown", Help: "Ask the water company; it may change in a season.",
			Options: []calculators.Option{{Name: "unknown", Label: "I do not know: count it as chloramine"}, {Name: "chlorine", Label: "chlorine"}, {Name: "chloramine", Label: "chloramine"}}},
		{Name: "treat", Label: "Dose for", Type: calculators.Choice, Default: "new", Help: "The whole pond if the hose is to run straight in.",
			Options: []calculators.Option{{Name: "new", Label: "the new water, before it goes in"}, {Name: "pond", Label: "the whole pond"}}},
		{Name: "agent", Label: "Neutraliser", Type: calculators.Choice, Default: "thiosulfate", Help: "Plain chemical; a bought product goes by its label.",
			Options: []calculators.Option{
				{Name: "thiosulfate", Label: "sodium thiosulfate, crystals (pentahydrate)"},
				{Name: "thiosulfate-anhydrous", Label: "sodium thiosulfate, anhydrous powder"},
				{Name: "ascorbic-acid", Label: "ascorbic acid (vitamin C)"},
				{Name: "sodium-ascorbate", Label: "sodium ascorbate"},
				{Name: "sodium-sulfite", Label: "sodium sulfite"},
				{Name: "sodium-bisulfite", Label: "sodium bisulfite"},
				{Name: "sodium-metabisulfite", Label: "sodium metabisulfite"},
			}},
		{Name: "purity", Label: "Purity", Kind: quantity.Share, Fine: true, Default: "100 %", Help: "As the bag says.",
			Accept: calculators.Range{Low: 10, High: 100, Origin: "sanity limit"}},
		{Name: "stock", Label: "Strength of a stock solution", Kind: quantity.Concentration, Unit: "g/L", Fine: true, Default: "100 g/L", Help: "Grams made up to a litre of water.",
			Accept: calculators.Range{Low: 1, High: 500, Origin: "sanity limit"}},
	}
}

func chlorineOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "dose", Label: "Neutraliser", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}, Help: "Label first."},
		{Name: "solution", Label: "As stock solution", Unit: "mL", Digits: 2, Help: "At the strength stated under the fine points."},
		{Name: "untreated", Label: "Chlorine in the pond if you did not treat it", Unit: "mg/L", Digits: 2, Help: "At the most: dirt and sun use some up."},
		{Name: "ammonia", Label: "Ammonia added to the pond, as nitrogen", Unit: "mg/L", Digits: 2, Help: "Set free from chloramine and spread over the whole pond."},
		{Name: "ammonia-new", Label: "Ammonia in the new water, as nitrogen", Unit: "mg/L", Digits: 2, Fine: true},
		{Name: "ratio", Label: "Neutraliser for each mg of chlorine", Unit: "mg/mg", Digits: 3, Fine: true, Help: "Low end: by the balance of the reaction."},
	}
}

func chlorineFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Thiosulfate", Says: "7.0 mg of crystals for each mg of chlorine. By other reactions 3.5 or 0.875 are printed, and 1.9 by a field guide: all leave chlorine behind in near-neutral water, so 7 is taken.",
			TeX:    `2\,\mathrm{S_2O_3^{2-}} + \mathrm{Cl_2} \to \mathrm{S_4O_6^{2-}} + 2\,\mathrm{Cl^-}`,
			Source: "lab-supplier-answer", Locator: "answer page", Basis: "published", Function: "water.ThiosulfatePerChlorine",
			Check: calculators.Reaction()},
		{Name: "Other agents", Says: "Field estimates at pH 7, each at or above the balance of the reaction.",
			TeX:    `m = r\,c\,V`,
			Source: "awwa-field-guide", Locator: "Table 7-2", Basis: "published", Function: "water.NeutraliserPerChlorine",
			Check: calculators.Explicit("m [g] mass of the agent, r [1] agent for each gram of chlorine: c [mg/L] chlorine 0.1..4, V [m3] 0.1..20", func(chlorine, volume float64) (dose, ratio float64) {
				_, ratio = NeutraliserPerChlorine("ascorbic-acid")
				return ratio * chlorine * volume, ratio
			})},
		{Name: "Ammonia from chloramine", Says: "One nitrogen for each chlorine of monochloramine, counted as Cl2: 0.198.",
			TeX:    `c_\mathrm{N} = \frac{14.007}{70.90}\,c_\mathrm{Cl_2}`,
			Source: "iupac-atomic-weights", Locator: "stoichiometry, chlorine as Cl2", Basis: "published", Function: "water.ChloramineNitrogen",
			Check: calculators.Explicit("c_N [mg/L] ammonia set free as nitrogen: c_Cl_2 [mg/L] 0.1..4", ChloramineNitrogen)},
		{Name: "Oxygen for what is left over", Says: "If bacteria burn all thiosulfate to sulfate, over days.",
			TeX:    `\mathrm{S_2O_3^{2-}} + 2\,\mathrm{O_2} + \mathrm{H_2O} \to 2\,\mathrm{SO_4^{2-}} + 2\,\mathrm{H^+}`,
			Source: "iupac-atomic-weights", Locator: "stoichiometry", Basis: "published", Function: "water.ThiosulfateOxygen",
			Check: calculators.Reaction()},
	}
}

func computeChlorine(in calculators.Inputs) (calculators.Result, error) {
	fresh, pond, chlorine := in.In("new-water", "L"), in.In("volume", "L"), in.In("chlorine", "mg/L")
	if fresh > pond {
		return calculators.Result{}, calculators.Refuse("new-water", "is {fresh 3 L}, more than the pond holds", "at most {pond 3 L}", "state the pond with the new water in it", fresh, pond)
	}
	treated := fresh
	if in.Choice("treat") == "pond" {
		treated = pond
	}
	agent := in.Choice("agent")
	balance, field := NeutraliserPerChlorine(agent)
	dose := field * chlorine * treated / 1000 / (in.In("purity", "%") / 100)
	untreated := chlorine * fresh / pond
	var r calculators.Result
	r.Exactly("dose", dose)
	r.Exactly("solution", 1000*dose/in.In("stock", "g/L"))
	r.Exactly("untreated", untreated)
	if in.Choice("disinfectant") != "chlorine" {
		freed := ChloramineNitrogen(chlorine)
		r.Exactly("ammonia", freed*fresh/pond)
		r.Exactly("ammonia-new", freed)
		r.Step("Ammonia set free", "0.198 × {3 mg/L} = {2 mg/L}", chlorine, freed)
		r.Step("In the pond", "{2 mg/L} × {3 L} / {3 L} = {2 mg/L}", freed, fresh, pond, freed*fresh/pond)
	}
	r.Between("ratio", balance, field, field)
	r.Step("Chlorine to take up", "{3 mg/L} × {3 L} = {3 g}", chlorine, treated, chlorine*treated/1000)
	r.Step("Neutraliser", "{3 g} × {3} / {3 %} = {3 g}", chlorine*treated/1000, field, in.In("purity", "%"), dose)
	r.Scale = calculators.Scale{Output: "untreated", Marks: limits.Marks(limits.Chlorine), Log: true}
	flagChlorine(in, &r, dose, treated, agent)
	adviseChlorine(in, &r, dose, treated)
	return r, nil
}

func flagChlorine(in calculators.Inputs, r *calculators.Result, dose, treated float64, agent string) {
	if !in.Stated("chlorine") {
		r.Doubt("{taken mg/L} is a high guess where the tap is not known, but not the most: up to {highest mg/L} was found with chloramine. In Britain {britain mg/L} or less is usual.", in.In("chlorine", "mg/L"), limits.TapHighest, limits.TapBritain)
	}
	if untreated := in.In("chlorine", "mg/L") * in.In("new-water", "L") / in.In("volume", "L"); untreated > limits.ChlorineHour {
		r.Doubt("Untreated it would be {times 2} times the one-hour limit: that a tenth of the pond may be tap water as it comes is a trade rule that does not hold.", untreated/limits.ChlorineHour)
	}
	if in.Choice("treat") == "pond" {
		r.Flag("For the whole pond the dose is as if all of it were tap water: more than the chlorine needs, so that no corner goes short.")
	}
	switch agent {
	case "thiosulfate", "thiosulfate-anhydrous":
		crystals := 1000 * dose / treated
		if agent == "thiosulfate-anhydrous" {
			crystals *= molarThiosulfateCrystals / molarThiosulfateAnhydrous
		}
		if oxygen := ThiosulfateOxygen(crystals); oxygen > 1 {
			r.Doubt("Bacteria may burn what is left over, within days, and take up to {oxygen 2 mg/L} oxygen: run all the air.", oxygen)
		}
	case "ascorbic-acid":
		r.Flag("Ascorbic acid lowers the pH, most in soft water; the ascorbate does not.")
	case "sodium-sulfite", "sodium-bisulfite", "sodium-metabisulfite":
		r.Flag("Sulfites take oxygen out of the water at once if there is more than the chlorine needs: treat in a vat and aerate, not in the pond. Their dust and fumes choke: outdoors, upwind, gloves and goggles on, no acid near.")
	}
}

func adviseChlorine(in calculators.Inputs, r *calculators.Result, dose, treated float64) {
	if in.Choice("treat") == "pond" {
		r.Advise("If chlorine is in the pond already: tap off, dose once for the whole pond by the label, all air on; for plain crystals ask the calculator of the hose left on.")
	} else {
		r.Advise("Dose and stir the new water first, wait some minutes, test for total chlorine, and only then let it in.")
	}
	r.Say("The answer is for {volume 3 L}. If that is {error %} too little, {dose 2 g} is needed; a little too much neutraliser does less harm than a little too little.", treated, limits.VolumeError, (1+limits.VolumeError/100)*dose)
	r.Advise(
		"Too much in: more air, and a water change with treated water takes it out in proportion.",
	)
	if in.Choice("disinfectant") != "chlorine" {
		r.Advise("Test ammonia and pH an hour later and work out the toxic part; no feed until it is down.")
	}
}
