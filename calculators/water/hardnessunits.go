package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// HardnessUnits declares the calculator that shows KH or GH in all units.
func HardnessUnits() calculators.Calculator {
	c := calculators.Calculator{
		ID: "hardness-units",
		Inputs: []calculators.Input{
			{
				Name: "of", Label: "It is", Type: calculators.Choice, Default: "kh",
				Help: "KH holds the pH steady; GH is calcium and magnesium and does not.",
				Options: []calculators.Option{
					{Name: "kh", Label: "KH, alkalinity"},
					{Name: "gh", Label: "GH, hardness"},
				},
			},
			{Name: "amount", Label: "The number", Kind: quantity.Number, Help: "From your kit or the water supplier's report.", Counts: CountsAs("unit", "caco3", "german", "french", "english", "meq", "us-grain"), Accept: calculators.Range{Low: 0, High: 5000, Origin: "sanity limit"}},
			{
				Name: "unit", Label: "Its unit", Type: calculators.Choice,
				Help: "As the kit's leaflet or the report says.",
				Options: []calculators.Option{
					{Name: "caco3", Label: "mg/L (ppm) as CaCO3"},
					{Name: "german", Label: "German degrees (dKH, dGH)"},
					{Name: "french", Label: "French degrees (°f)"},
					{Name: "english", Label: "English degrees (Clark)"},
					{Name: "meq", Label: "meq/L"},
					{Name: "mmol", Label: "mmol/L of calcium and magnesium"},
					{Name: "us-grain", Label: "grains per US gallon"},
					{Name: "bicarbonate", Label: "mg/L of bicarbonate (HCO3)"},
					{Name: "calcium", Label: "mg/L of calcium (Ca)"},
					{Name: "magnesium", Label: "mg/L of magnesium (Mg)"},
				},
			},
		},
		Outputs: []calculators.Output{
			{Name: "caco3", Label: "As CaCO3 (ppm)", Unit: "mg/L", Digits: 3},
			{Name: "german", Label: "German degrees (dKH, dGH)", Unit: "1", Digits: 3},
			{Name: "meq", Label: "Equivalents", Unit: "meq/L", Digits: 3},
			{Name: "french", Label: "French degrees (°f)", Unit: "1", Digits: 3},
			{Name: "english", Label: "English degrees (Clark)", Unit: "1", Digits: 3},
			{Name: "us-grain", Label: "Grains per US gallon", Unit: "1", Digits: 3, Fine: true},
			{Name: "mmol", Label: "As alkaline earths", Unit: "mmol/L", Digits: 3, Fine: true, Help: "How newer reports state hardness."},
			{Name: "bicarbonate", Label: "As bicarbonate", Unit: "mg/L", Digits: 3, Fine: true, Help: "KH only."},
			{Name: "cao", Label: "As CaO", Unit: "mg/L", Digits: 3, Fine: true},
		},
		Compute: computeHardness,
	}
	if calculators.Documented {
		c.Title = "KH and GH in every unit"
		c.Question = "What is my KH or GH in the unit of my other kit, book or water report?"
		c.Part = "water"
		c.Formulas = hardnessFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("German and French degrees are not the same: a German degree is {german 3 mg/L} as CaCO3, a French degree {french 2}.", GermanDegree, FrenchDegree),
			"A report of hardness (GH) says nothing about KH: softened water can have much KH and no GH, and the other way round.",
			"If a report gives calcium and magnesium apart, turn each into mg/L as CaCO3 and add the two.",
		}
		c.Example = calculators.Example{
			Story: "Ines's tap water has an alkalinity of {amount}, in mg/L as CaCO3, by the supplier's report. Her drop kit counts German degrees.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "German degrees in the other units",
			Rows:    calculators.Axis{Input: "amount", Values: []string{"1", "2", "3", "4", "5", "6", "8", "10", "12", "15"}},
			Show:    []string{"caco3", "meq", "french", "english", "us-grain"},
			Given:   []calculators.Arg{{Name: "unit", Value: "german"}},
		}
		c.Chart = calculators.Chart{
			Caption: "mg/L as CaCO3 for each degree: why the country matters",
			X:       "amount", From: "0", To: "15",
			Series: calculators.Axis{Input: "unit", Values: []string{"german", "english", "french"}},
			Show:   "caco3",
		}
	}
	return c
}

func hardnessFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Degrees", Says: "A German degree is 10 mg/L CaO, 17.85 as CaCO3; an English one a grain to the imperial gallon, 14.25; a French one 10; a grain to the US gallon 17.12; 1 meq/L is 50.04.",
			TeX:    `c_{\mathrm{CaCO_3}} = 10\cdot\frac{100.086}{56.077}\;n_\mathrm{German} = \frac{64.79891}{4.54609}\;n_\mathrm{English} = 10\;n_\mathrm{French} = 50.043\;n_\mathrm{meq/L}`,
			Source: "iupac-atomic-weights", Locator: "molar masses of CaCO3 and CaO", Basis: "published", Function: "water.AsCaCO3",
			Check: calculators.Explicit("n_German [1] German degrees, n_English [1] English degrees, n_French [1] French degrees, n_meq/L [1] milliequivalents to the litre: c_CaCO_3 [mg/L] hardness or alkalinity as CaCO3 10..400", func(c float64) (german, english, french, meq float64) {
				return c / AsCaCO3("german"), c / AsCaCO3("english"), c / AsCaCO3("french"), c / AsCaCO3("meq")
			}),
		},
	}
}

func computeHardness(in calculators.Inputs) (calculators.Result, error) {
	unit, amount, kh := in.Choice("unit"), in.In("amount", "1"), in.Choice("of") == "kh"
	if kh && unit == "mmol" {
		return calculators.Result{}, calculators.Refuse("unit", "is mmol/L of calcium and magnesium, which is no part of KH", "a unit of KH", "acid capacity (alkalinity) in mmol/L is meq/L: choose unit=meq; or choose of=gh")
	}
	if kh && (unit == "calcium" || unit == "magnesium") {
		return calculators.Result{}, calculators.Refuse("unit", "is calcium or magnesium, which is no part of KH", "a unit of KH", "choose of=gh for calcium and magnesium")
	}
	if !kh && unit == "bicarbonate" {
		return calculators.Result{}, calculators.Refuse("unit", "is bicarbonate, which is no part of GH", "a unit of GH", "choose of=kh for bicarbonate")
	}
	c := amount * AsCaCO3(unit)
	var r calculators.Result
	r.Exactly("caco3", c)
	r.Exactly("german", c/GermanDegree)
	r.Exactly("meq", c/CaCO3PerEquivalent)
	r.Exactly("french", c/FrenchDegree)
	r.Exactly("english", c/EnglishDegree)
	r.Exactly("us-grain", c/GrainPerUS)
	r.Exactly("mmol", c/calciumCarbonate)
	if kh {
		r.Exactly("bicarbonate", c/CaCO3PerEquivalent*bicarbonateIon)
		adviseKH(&r, c)
		r.Scale = calculators.Scale{Output: "caco3", Marks: limits.Marks(limits.Alkalinity)}
	} else {
		r.Advise("GH does not hold the pH: test KH as well.")
	}
	r.Exactly("cao", c*calciumOxide/calciumCarbonate)
	r.Step("As CaCO3", "{~4} × {4} = {3 mg/L}", amount, AsCaCO3(unit), c)
	r.Step("In German degrees", "{3 mg/L} / {4 mg/L} = {3}", c, GermanDegree, c/GermanDegree)
	return r, nil
}

func adviseKH(r *calculators.Result, kh float64) {
	switch {
	case kh <= limits.AlkalinityLowAct:
		r.Advise(
			"The pH can crash: test pH and ammonia now.",
			"Raise KH in small steps over days; the bicarbonate calculator says how much.",
			"If there is ammonia, work out its toxic part first: raising KH raises the pH.",
		)
	case kh <= limits.AlkalinityLowWatch:
		r.Advise("Top up KH in small steps, after testing ammonia, and test KH each week.")
	case kh > limits.AlkalinityHighWatch:
		r.Advise("So much KH does no harm by itself. Check the pH, and do not add more.")
	default:
		r.Advise("Carry on, and test KH each week in the feeding season.")
	}
}
