package pond

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// ImperialGallons returns a volume in L in imperial gallons of 4.54609 L.
// Source: nist-sp811, Appendix B.8.
func ImperialGallons(litres float64) float64 { return litres / 4.54609 }

// USGallons returns a volume in L in US gallons of 231 cubic inches, 3.785411784
// L. Source: nist-sp811, Appendix B.8.
func USGallons(litres float64) float64 { return litres / 3.785411784 }

// Units declares the calculator that shows a quantity in metric, imperial and US
// units side by side.
func Units() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "units",
		Inputs:  unitInputs(),
		Outputs: unitOutputs(),
		Compute: computeUnits,
	}
	if calculators.Documented {
		const exact = "Appendix B.8"
		c.Title = "Units side by side"
		c.Question = "What is that in litres, in imperial gallons and in US gallons?"
		c.Part = "water"
		c.Formulas = []calculators.Formula{
			{Name: "Imperial gallon", Says: "4.54609 L exactly; a fifth larger than the US gallon.", TeX: `V_\mathrm{imp} = \frac{V}{4.54609\ \mathrm{L}}`,
				Source: "nist-sp811", Locator: exact, Basis: "published", Function: "pond.ImperialGallons",
				Check: calculators.Explicit("V_imp [[gal_br]] volume in imperial gallons: V [L] 1..100000", ImperialGallons)},
			{Name: "US gallon", Says: "231 cubic inches, 3.785411784 L exactly.", TeX: `V_\mathrm{US} = \frac{V}{3.785411784\ \mathrm{L}}`,
				Source: "nist-sp811", Locator: exact, Basis: "published", Function: "pond.USGallons",
				Check: calculators.Explicit("V_US [[gal_us]] volume in US gallons: V [L] 1..100000", USGallons)},
		}
		c.Hazards = []calculators.Hazard{calculators.FishHealth}
		c.Cautions = []string{
			"A dose or a pond in gallons that do not say which may be wrong by a fifth: ask. Until you know take the smaller dose: a label's gallons as imperial, a pond's as US. Only a neutraliser of chlorine takes the larger.",
		}
		c.Example = calculators.Example{
			Story: "A label doses for {volume}. Ines wants to know how that compares with the water in Lower Reach.",
			Given: []calculators.Arg{{Name: "volume", Value: "2400 gal (US)"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Litres, imperial gallons and US gallons",
			Rows:    calculators.Axis{Input: "volume", Values: []string{"1 L", "10 L", "100 L", "500 L", "1000 L", "5000 L", "10000 L", "1 gal (imp)", "100 gal (imp)", "1000 gal (imp)", "1 gal (US)", "100 gal (US)", "1000 gal (US)"}},
			Show:    []string{"litres", "imperial", "us"},
		}
		c.Chart = calculators.Chart{Caption: "US gallons by litres", X: "volume", From: "0 L", To: "10000 L", Show: "us"}
	}
	return c
}

func unitInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "kind", Label: "A quantity of", Type: calculators.Choice, Default: "volume", Help: "What the number measures.",
			Options: []calculators.Option{
				{Name: "volume", Label: "water (volume)"}, {Name: "flow", Label: "flow"}, {Name: "length", Label: "length or size"},
				{Name: "area", Label: "area"}, {Name: "weight", Label: "weight"}, {Name: "temperature", Label: "temperature"},
				{Name: "gallons", Label: "water, in gallons that do not say which"},
			}},
		{Name: "volume", Label: "Volume", Kind: quantity.Volume, Help: "Say which gallon: gal (imp) or gal (US).",
			Accept: calculators.Range{Low: 0, High: 1e9, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"volume"}}},
		{Name: "gallons", Label: "Gallons, of either kind", Kind: quantity.Number, Help: "The bare number.",
			Accept: calculators.Range{Low: 0, High: 1e8, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"gallons"}}},
		{Name: "gallons-of", Label: "They say", Type: calculators.Choice, Default: "pond", Help: "It decides which of the two gives the smaller dose.",
			Options: []calculators.Option{{Name: "pond", Label: "how much the pond holds"}, {Name: "label", Label: "for how much water a label doses"}},
			When:    calculators.When{Input: "kind", Is: []string{"gallons"}}},
		{Name: "flow", Label: "Flow", Kind: quantity.Flow, Help: "Say which gallon: gal (imp)/h or gal (US)/h.",
			Accept: calculators.Range{Low: 0, High: 1e9, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"flow"}}},
		{Name: "length", Label: "Length", Kind: quantity.Length, Help: "In any of the units offered, or mm.",
			Accept: calculators.Range{Low: 0, High: 1e6, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"length"}}},
		{Name: "area", Label: "Area", Kind: quantity.Area, Help: "In square metres or square feet.",
			Accept: calculators.Range{Low: 0, High: 1e9, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"area"}}},
		{Name: "weight", Label: "Weight", Kind: quantity.Mass, Help: "In kilograms, grams, pounds or ounces.",
			Accept: calculators.Range{Low: 0, High: 1e9, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"weight"}}},
		{Name: "temperature", Label: "Temperature", Kind: quantity.Temperature, Help: "In °C or °F; a temperature, not a difference.",
			Accept: calculators.Range{Low: -50, High: 150, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"temperature"}}},
	}
}

func unitOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "litres", Label: "Litres", Unit: "L", Digits: 4, Also: []string{"m3", "[ft_i]3"}},
		{Name: "imperial", Label: "Imperial gallons", Unit: "[gal_br]", Digits: 4},
		{Name: "us", Label: "US gallons", Unit: "[gal_us]", Digits: 4},
		{Name: "flow", Label: "Litres", Unit: "L/h", Digits: 4, Also: []string{"L/min", "m3/h"}},
		{Name: "imperial-flow", Label: "Imperial gallons", Unit: "[gal_br]/h", Digits: 4, Also: []string{"[gal_br]/min"}},
		{Name: "us-flow", Label: "US gallons", Unit: "[gal_us]/h", Digits: 4, Also: []string{"[gal_us]/min"}},
		{Name: "metres", Label: "Metric", Unit: "m", Digits: 4, Also: []string{"cm", "mm"}},
		{Name: "feet", Label: "Imperial and US", Unit: "[ft_i]", Digits: 4, Also: []string{"[in_i]"}},
		{Name: "square-metres", Label: "Metric", Unit: "m2", Digits: 4},
		{Name: "square-feet", Label: "Imperial and US", Unit: "[ft_i]2", Digits: 4},
		{Name: "kilograms", Label: "Metric", Unit: "kg", Digits: 4, Also: []string{"g"}},
		{Name: "pounds", Label: "Imperial and US", Unit: "[lb_av]", Digits: 4, Also: []string{"[oz_av]"}},
		{Name: "celsius", Label: "Metric", Unit: "Cel", Digits: 3},
		{Name: "fahrenheit", Label: "US", Unit: "[degF]", Digits: 3},
	}
}

func computeUnits(in calculators.Inputs) (calculators.Result, error) {
	var r calculators.Result
	switch kind := in.Choice("kind"); kind {
	case "volume", "flow":
		unit := "L"
		names := [3]string{"litres", "imperial", "us"}
		if kind == "flow" {
			unit, names = "L/h", [3]string{"flow", "imperial-flow", "us-flow"}
		}
		sum := in.In(kind, unit)
		r.Exactly(names[0], sum)
		r.Exactly(names[1], ImperialGallons(sum))
		r.Exactly(names[2], USGallons(sum))
		r.Step("Imperial gallons", "{~6} / 4.54609 = {~6}", sum, ImperialGallons(sum))
		r.Step("US gallons", "{~6} / 3.785411784 = {~6}", sum, USGallons(sum))
		r.Advise("Always say which gallon: the imperial one is a fifth larger than the US one.")
	case "gallons":
		n, us, imperial := in.In("gallons", "1"), 1/USGallons(1), 1/ImperialGallons(1)
		careful, other := n*us, n*imperial // a smaller pond takes a smaller dose
		if in.Choice("gallons-of") == "label" {
			careful, other = other, careful // and so does a dose for more water
		}
		r.Between("litres", n*us, careful, n*imperial)
		r.Step("As US gallons", "{~6} × 3.785411784 = {~6}", n, n*us)
		r.Step("As imperial gallons", "{~6} × 4.54609 = {~6}", n, n*imperial)
		r.Say("Ask which gallon it is. Until you know, reckon a treatment with {careful 4 L}: it gives the smaller dose.", careful)
		r.Say("Only a neutraliser of chlorine is reckoned with {other 4 L}, which gives the larger one.", other)
	case "length":
		r.Exactly("metres", in.In(kind, "m"))
		r.Exactly("feet", in.In(kind, "[ft_i]"))
	case "area":
		r.Exactly("square-metres", in.In(kind, "m2"))
		r.Exactly("square-feet", in.In(kind, "[ft_i]2"))
	case "weight":
		r.Exactly("kilograms", in.In(kind, "kg"))
		r.Exactly("pounds", in.In(kind, "[lb_av]"))
	case "temperature":
		r.Exactly("celsius", in.In(kind, "Cel"))
		r.Exactly("fahrenheit", in.In(kind, "[degF]"))
	}
	return r, nil
}
