package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// UVUnit declares the calculator of what an ultraviolet lamp does.
func UVUnit() calculators.Calculator {
	c := calculators.Calculator{
		ID: "uv-dose",
		Inputs: []calculators.Input{
			{Name: "lamp", Label: "The watts are", Type: calculators.Choice, Default: "electric", Help: "The number on the unit is nearly always electrical.",
				Options: []calculators.Option{{Name: "electric", Label: "electrical, as on the label"}, {Name: "uvc", Label: "ultraviolet (UV-C), from the lamp's data sheet"}}},
			{Name: "power", Label: "Lamp", Kind: quantity.Power, Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"}, Help: "Of all lamps in the unit."},
			{Name: "flow", Label: "Water through the unit", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"}, Help: "Measured at the outlet, not the figure on the pump."},
			{Name: "gap", Label: "Water between sleeve and wall", Kind: quantity.Size, Default: "25 mm", Accept: calculators.Range{Low: 5, High: 300, Origin: "sanity limit"},
				Help: "Half of the tube's bore less half of the sleeve."},
			{Name: "transmittance", Label: "Ultraviolet that a centimetre of water lets through", Kind: quantity.Share, Default: "85 %", Accept: calculators.Range{Low: 20, High: 100, Origin: "sanity limit"},
				Help: calculators.Text("Clear pond {low ~} to {high %}, green or tea-brown {least ~} to {most %} (common practice).", 80, 92, 50, 75)},
			{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Optional: true, Accept: calculators.Range{Low: 50, High: 10000000, Origin: "sanity limit"}, Help: "Tells how often the water passes the lamp."},
		},
		Outputs: []calculators.Output{
			{Name: "dose", Label: "Dose of one pass", Unit: "mJ/cm2", Digits: 2, Help: "From an old lamp in a dirty sleeve to a new one at its best."},
			{Name: "mean", Label: "Of the light, the mean in the water", Unit: "%", Digits: 2, Help: "As a share of that at the sleeve, but for its spreading."},
			{Name: "passes", Label: "Times a day the pond passes the lamp", Unit: "1", Digits: 2},
			{Name: "per-volume", Label: "Electrical watts for each m³ of pond", Unit: "W/m3", Digits: 2, Help: "Practice for green water: 1 to 2, in a koi pond in the sun 3 to 5."},
			{Name: "uvc", Label: "Ultraviolet the lamp gives off", Unit: "W", Digits: 2, Fine: true},
		},
		Compute: computeUV,
	}
	if calculators.Documented {
		c.Title = "What an ultraviolet lamp does"
		c.Question = "Which dose does my lamp give in one pass, and what is that enough for?"
		c.Part = "water"
		c.Formulas = uvFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Ultraviolet, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("“UV kills algae in one pass” is wrong: green algae need some {dose mJ/cm2}. A pond lamp weakens them in many passes until they clump and the filter catches them.", algaDose),
			"A lamp does nothing for parasites and bacteria that sit on the fish or in the bottom, and is no treatment: ask a fish vet.",
		}
		c.Example = calculators.Example{
			Story: "Ines has a lamp of {power} electrical in a tube that leaves {gap} of water around the sleeve. It takes the {flow} of her pump.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Dose of one pass in mJ/cm², a lamp of {power} electrical with {gap} of water around it",
			Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "4000 L/h", "8000 L/h", "15000 L/h"}},
			Columns: calculators.Axis{Input: "transmittance", Values: []string{"60 %", "75 %", "85 %", "92 %"}},
			Show:    []string{"dose"}, Pond: "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "Dose of one pass, a lamp of {power} electrical with {gap} of water around it",
			X:       "flow", From: "1000 L/h", To: "15000 L/h",
			Series: calculators.Axis{Input: "transmittance", Values: []string{"60 %", "85 %"}},
			Show:   "dose", Log: true, Pond: "ines",
		}
	}
	return c
}

func uvFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Mean over a path", Says: "Share of the light that is met on average between sleeve and wall, from what a centimetre lets through.",
			TeX: `m = \frac{1-10^{-A L}}{A L \ln 10},\quad A = -\log_{10} T`, Basis: "practice", Function: "media.UVMean",
			Check: calculators.Explicit("m [1] mean share of the light: T [1] share of the light that a centimetre lets through 0.5..0.98, L [cm] thickness of the water 0.5..10", UVMean)},
		{Name: "Dose of one pass", Says: "Ultraviolet watts times the water's thickness over the flow: the best case; old lamps, dirty sleeves and water that does not mix leave 40 % of it.",
			TeX: `D = \frac{P\,L\,m}{Q}`, Basis: "practice", Function: "media.UVDose",
			Check: calculators.Explicit("D [J/m2] dose of one pass: P [W] ultraviolet light of the lamp 2..100, L [m] thickness of the water 0.005..0.1, m [1] mean share of the light 0.3..1, Q [m3/s] 0.0001..0.01", func(watts, gap, mean, flow float64) float64 {
				const perSquareMetre = 10 // J/m2 in a mJ/cm2
				return UVDose(watts, gap, mean, 3600*flow) * perSquareMetre
			})},
		{Name: "Ultraviolet from electricity", Says: "A low-pressure lamp gives off 30 to 38 % of its electrical watts at 254 nm.",
			TeX: `0.30\,P_{\mathrm{el}} \le P \le 0.38\,P_{\mathrm{el}}`, Source: "epa-uvdgm-2006", Locator: "lamp characteristics", Basis: "memory", Function: "media.UVEfficiency",
			Check: calculators.Explicit("P [W] ultraviolet light of the lamp: P_el [W] electrical power of the lamp 5..200", func(electric float64) Range { return UVEfficiency().Times(electric) })},
	}
}

// Doses in mJ/cm2 (figure set media-uv-dose-fish-algae).
const (
	greenWaterDose = 15.0  // from here green water clears by many passes, practice
	algaDose       = 400.0 // kills a green alga in one pass, olsen-2016, abstract
)

func computeUV(in calculators.Inputs) (calculators.Result, error) {
	power, flow, gap := in.In("power", "W"), in.In("flow", "m3/h"), in.In("gap", "m")
	uvc := Range{power, power, power}
	electric := Range{power / UVEfficiency().High, power / UVEfficiency().Likely, power / UVEfficiency().Low}
	if in.Choice("lamp") == "electric" {
		uvc, electric = UVEfficiency().Times(power), uvc
	}
	mean := UVMean(in.In("transmittance", "%")/100, 100*gap)
	best := UVDose(1, gap, mean, flow)
	dose := Range{best * uvc.Low * UVLosses().Low, best * uvc.Likely * UVLosses().Likely, best * uvc.High * UVLosses().High}
	var r calculators.Result
	add(&r, "dose", dose)
	r.Exactly("mean", 100*mean)
	if in.Has("volume") {
		r.Exactly("passes", 24*flow/in.In("volume", "m3"))
		add(&r, "per-volume", electric.Times(1/in.In("volume", "m3")))
	}
	add(&r, "uvc", uvc)
	adviseUV(&r, dose)
	r.Step("Mean in the water, over centimetres", "(1 − {3}^{3}) / (−ln {3} × {3}) = {3 %}", in.In("transmittance", "%")/100, 100*gap, in.In("transmittance", "%")/100, 100*gap, 100*mean)
	r.Step("Dose at its best", "{3 W} × {3 m} × {3} / {3 m3/h} = {3 mJ/cm2}", uvc.Likely, gap, mean, flow, best*uvc.Likely)
	r.Step("With losses", "{3 mJ/cm2} × {2} = {2 mJ/cm2}", best*uvc.Likely, UVLosses().Likely, dose.Likely)
	r.Scale = calculators.Scale{Output: "dose", Log: true, Marks: []calculators.Mark{
		{Value: 2.2, Label: "fish bacteria in clean water, least", Source: "yoshimizu-1990", Locator: "abstract", Basis: "published"},
		{Value: greenWaterDose, Label: "green water, in many passes", Basis: "practice"},
		{Value: 29.4, Label: "fish bacteria in clean water, most", Source: "bullock-stuckey-1977", Locator: "abstract", Basis: "published"},
		{Value: 150, Label: "growth of water moulds stopped, from", Source: "yoshimizu-1990", Locator: "abstract", Basis: "published"},
		{Value: algaDose, Label: "a green alga in one pass", Source: "olsen-2016", Locator: "abstract", Basis: "published"},
	}}
	return r, nil
}

func adviseUV(r *calculators.Result, dose Range) {
	switch {
	case dose.Likely < greenWaterDose:
		r.Advise("Too little even to clear green water: send less water through it, change the lamp, clean the sleeve, or take a stronger one.")
	case dose.Low >= algaDose:
		r.Advise("Even an old lamp in a dirty sleeve gives what kills a green alga in one pass; what does not pass it lives on.")
	case dose.High < algaDose:
		r.Advise("Enough against green water in one to two weeks of many passes, with a filter that catches what clumps; not enough to kill algae in one.")
	default:
		r.Advise("At its best this comes near what kills a green alga in one pass; a clean sleeve and a lamp of this season decide.")
	}
	r.Advise("Unplug it, then clean the sleeve whenever you clean the foam; a new lamp each season, it fades long before it goes out.",
		"Switch it off for one to two weeks after seeding the filter, and as the label says when you treat the water.",
		"Dying algae use up oxygen: give extra air while green water clears.")
}
