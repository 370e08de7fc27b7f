package pond

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// FillFlow returns the flow in L/h that brings a volume in L in a time in h.
func FillFlow(volume, time float64) float64 { return volume / time }

// FillTime returns the time in h that a flow in L/h takes to bring a volume in L.
func FillTime(volume, flow float64) float64 { return volume / flow }

// Filling declares the calculator of a hose's flow by bucket or water meter, and
// of the time or water that follows from it.
func Filling() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "fill-time",
		Inputs:  fillInputs(),
		Outputs: fillOutputs(),
		Compute: computeFill,
	}
	if calculators.Documented {
		c.Title = "Flow of a hose or pump, and time to fill"
		c.Question = "How much comes out of my hose or pump, and how long does filling take?"
		c.Part = "water"
		c.Formulas = []calculators.Formula{
			{Name: "Flow by bucket or meter", Says: "Volume over time.", TeX: `Q = \frac{V}{t}`, Basis: "practice", Function: "pond.FillFlow",
				Check: calculators.Explicit("Q [L/h]: V [L] 1..20, t [h] 0.001..0.1", FillFlow)},
			{Name: "Time to fill", Says: "At a flow that stays the same.", TeX: `t = \frac{V}{Q}`, Basis: "practice", Function: "pond.FillTime",
				Check: calculators.Explicit("t [h] time to fill: V [L] 10..50000, Q [L/h] 50..2000", FillTime)},
		}
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Chlorine, calculators.Spill}
		c.Cautions = []string{
			"Set a timer that rings, or one that shuts the tap.",
		}
		c.Example = calculators.Example{
			Story: "Ines's hose fills a bucket of {bucket} in {seconds}. She wants {water} of new water for Lower Reach.",
			Given: []calculators.Arg{{Name: "bucket", Value: "10 L"}, {Name: "seconds", Value: "55 s"}, {Name: "water", Value: "900 L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Flow by the time a bucket takes",
			Rows:    calculators.Axis{Input: "seconds", Values: []string{"5 s", "10 s", "15 s", "20 s", "30 s", "45 s", "60 s", "90 s"}},
			Columns: calculators.Axis{Input: "bucket", Values: []string{"5 L", "10 L", "12 L", "15 L", "60 L"}},
			Show:    []string{"flow"},
			Given:   []calculators.Arg{{Name: "water", Value: "1000 L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Time to fill by the flow",
			X:       "water", From: "100 L", To: "10000 L",
			Series: calculators.Axis{Input: "flow", Values: []string{"500 L/h", "1000 L/h", "2000 L/h"}},
			Show:   "time",
			Given:  []calculators.Arg{{Name: "from", Value: "known"}},
		}
	}
	return c
}

func fillInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "from", Label: "Flow from", Type: calculators.Choice, Default: "bucket", Help: "A bucket for a hose or a pump, the house's meter for a long run.",
			Options: []calculators.Option{{Name: "bucket", Label: "bucket and watch"}, {Name: "meter", Label: "water meter"}, {Name: "known", Label: "I know the flow"}}},
		{Name: "bucket", Label: "Water in the bucket", Kind: quantity.Volume, Help: "Up to a mark; weigh it full and empty: a kilogram is a litre.",
			Accept: calculators.Range{Low: 0.1, High: 2000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"bucket"}}},
		{Name: "seconds", Label: "Time to fill it", Kind: quantity.Duration, Unit: "s", Help: calculators.Text("Mean of three times; under {short s} take a larger bucket.", shortest),
			Accept: calculators.Range{Low: 0.5, High: 7200, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"bucket"}}},
		{Name: "metered", Label: "Water through the meter", Kind: quantity.Volume, Help: "Reading after less reading before; no other tap open.",
			Accept: calculators.Range{Low: 1, High: 1e6, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"meter"}}},
		{Name: "minutes", Label: "Time between both readings", Kind: quantity.Duration, Unit: "min", Help: "Five minutes or more.",
			Accept: calculators.Range{Low: 0.5, High: 100000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"meter"}}},
		{Name: "flow", Label: "Flow", Kind: quantity.Flow, Help: "Measured at the height at which it runs out.",
			Accept: calculators.Range{Low: 1, High: 1e6, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"known"}}},
		{Name: "find", Label: "Find", Type: calculators.Choice, Default: "time", Help: "The time for so much water, or the water of so much time.",
			Options: []calculators.Option{{Name: "time", Label: "how long it takes"}, {Name: "water", Label: "how much ran in"}}},
		{Name: "water", Label: "Water wanted", Kind: quantity.Volume, Help: "From the water-change or pond-volume calculator.",
			Accept: calculators.Range{Low: 0, High: 1e7, Origin: "sanity limit"}, When: calculators.When{Input: "find", Is: []string{"time"}}},
		{Name: "running", Label: "Time it ran", Kind: quantity.Duration, Unit: "h", Help: "From tap on to tap off.",
			Accept: calculators.Range{Low: 0, High: 2400, Origin: "sanity limit"}, When: calculators.When{Input: "find", Is: []string{"water"}}},
		{Name: "error", Label: "Error of the flow", Kind: quantity.Share, Fine: true, Default: "10 %", Help: calculators.Text("A bucket and a watch are good to a tenth, a meter to {meter %} (common practice).", 2),
			Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"}},
	}
}

// shortest is the time in s under which a bucket cannot be timed by hand: common
// practice.
const shortest = 5

func fillOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "flow", Label: "Flow", Unit: "L/h", Digits: 2, Also: []string{"L/min", "[gal_br]/h", "[gal_us]/h"}},
		{Name: "time", Label: "Time to fill", Unit: "h", Digits: 2, Also: []string{"min"}},
		{Name: "water", Label: "Water that ran in", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
	}
}

func computeFill(in calculators.Inputs) (calculators.Result, error) {
	flow, e := in.In("flow", "L/h"), in.In("error", "%")/100
	var r calculators.Result
	switch in.Choice("from") {
	case "bucket":
		flow = FillFlow(in.In("bucket", "L"), in.In("seconds", "h"))
		r.Step("Flow", "{3 L} / {3 s} = {3 L/h}", in.In("bucket", "L"), in.In("seconds", "s"), flow)
		if in.In("seconds", "s") < shortest {
			r.Doubt("A bucket that fills in under {short s} cannot be timed by hand: take a larger one, or a vat.", shortest)
		}
	case "meter":
		flow = FillFlow(in.In("metered", "L"), in.In("minutes", "h"))
		r.Step("Flow", "{3 L} / {3 min} = {3 L/h}", in.In("metered", "L"), in.In("minutes", "min"), flow)
	}
	r.Between("flow", flow*(1-e), flow, flow*(1+e))
	if in.Choice("find") == "time" {
		volume := in.In("water", "L")
		r.Between("time", FillTime(volume, flow*(1+e)), FillTime(volume, flow), FillTime(volume, flow*(1-e)))
		r.Step("Time", "{3 L} / {3 L/h} = {3 h}", volume, flow, FillTime(volume, flow))
		r.Say("Set a timer to {time 2 min} and look then.", 60*FillTime(volume, flow*(1+e)))
	} else {
		t := in.In("running", "h")
		r.Between("water", flow*(1-e)*t, flow*t, flow*(1+e)*t)
		r.Step("Water", "{3 L/h} × {3 h} = {3 L}", flow, t, flow*t)
		r.Advise("Did chlorinated tap water go in untreated? Dose the neutraliser now by its label, for the whole pond, with all the air on, and watch the fish.", "To treat this much new water by itself, dose for the high end of the range.")
	}
	r.Advise("The flow falls when other taps are open, the hose kinks or a filter fills up: time it again on the day.")
	return r, nil
}
