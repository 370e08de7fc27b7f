package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// The power in W, in kW for pumps of pools, by which the trade tells kinds of
// pumps apart (figure set hydraulics-pump-efficiency, common practice).
const (
	smallPump = 100.0
	pondPump  = 300.0
	poolLeast = 0.5
	poolMost  = 1.0
)

// saved is the power in W whose cost in a year is shown: a lamp's.
const saved = 10.0

// RunningCost declares the calculator of what a pump's electricity costs.
func RunningCost() calculators.Calculator {
	c := calculators.Calculator{
		ID: "running-cost",
		Inputs: []calculators.Input{
			{Name: "from", Label: "What you know", Type: calculators.Choice, Default: "power",
				Options: []calculators.Option{{Name: "power", Label: "the power the pump draws"}, {Name: "water", Label: "flow and head, before you buy"}},
				Help:    "A plug-in power meter beats every sum."},
			{Name: "power", Fact: "pump-power", Label: "Power drawn", Kind: quantity.Power, Accept: calculators.Range{Low: 0.5, High: 10000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"power"}},
				Help: "By a plug-in meter while it runs in its place; the label often states the most it can draw."},
			{Name: "flow", Label: "Flow", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"water"}},
				Help: "What comes out at the top, not what the box promises."},
			{Name: "head", Label: "Head", Kind: quantity.Head, Accept: calculators.Range{Low: 0.05, High: 100, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"water"}},
				Help: "Lift and losses of the pipe together."},
			{Name: "kind", Label: "Kind of pump", Type: calculators.Choice, Default: "pond", When: calculators.When{Input: "from", Is: []string{"water"}},
				Options: []calculators.Option{
					{Name: "small", Label: calculators.Text("small submersible, under {power W}", smallPump)}, {Name: "pond", Label: calculators.Text("pond submersible, {least ~} to {most W}", smallPump, pondPump)},
					{Name: "controlled", Label: "small, electronically controlled speed"}, {Name: "pool", Label: calculators.Text("dry-set pool type, {least ~} to {most kW}", poolLeast, poolMost)}, {Name: "own", Label: "efficiency from a data sheet"},
				},
				Help: "It decides how much of the electricity reaches the water."},
			{Name: "efficiency", Label: "Efficiency from plug to water", Kind: quantity.Share, Accept: calculators.Range{Low: 0.5, High: 90, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"own"}},
				Help: "Motor and pump together; the pump alone is much better."},
			{Name: "price", Fact: "price-power", Label: "Price of one kWh", Kind: quantity.Money, Accept: calculators.Range{Low: 0, High: 1e6, Origin: "sanity limit"},
				Help: "From your bill, taxes included, in your currency."},
			{Name: "hours", Label: "Hours a day", Kind: quantity.Number, Fine: true, Accept: calculators.Range{Low: 0, High: 24, Origin: "sanity limit"}, Default: "24",
				Help: "A filter runs day and night; its bacteria need the oxygen."},
			{Name: "days", Label: "Days a year", Kind: quantity.Number, Fine: true, Accept: calculators.Range{Low: 0, High: 366, Origin: "sanity limit"}, Default: "365",
				Help: "Fewer if the pump rests in winter."},
			{Name: "speed", Label: "Speed of the pump", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 10, High: 120, Origin: "sanity limit"}, Default: "100 %",
				Stated: calculators.Range{Low: 50, High: 120, Origin: "epanet-22-manual, variable speed pump equations"},
				Help:   "If the pump will run slower than when its power was measured."},
		},
		Outputs: []calculators.Output{
			{Name: "cost-year", Label: "Cost in a year", Unit: "{currency}", Digits: 3},
			{Name: "cost-day", Label: "Cost in a day", Unit: "{currency}", Digits: 2},
			{Name: "energy-year", Label: "Electricity in a year", Unit: "kW.h", Digits: 3},
			{Name: "energy-day", Label: "Electricity in a day", Unit: "kW.h", Digits: 2, Fine: true},
			{Name: "power", Label: "Power drawn", Unit: "W", Digits: 3},
			{Name: "hydraulic", Label: "Power that reaches the water", Unit: "W", Digits: 3, Fine: true},
			{Name: "ten-watts", Label: calculators.Text("What each {saved W} less saves in a year", saved), Unit: "{currency}", Digits: 2},
		},
		Compute: computeCost,
	}
	if calculators.Documented {
		documentCost(&c)
	}
	return c
}

func documentCost(c *calculators.Calculator) {
	c.Title = "What the pump costs to run"
	c.Question = "How much electricity does my pump take, and what does that cost in a year?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.FishHealth}
	c.Cautions = []string{
		"A plug-in power meter is not made for wet places: plug it in indoors or in the dry, never beside the pond.",
		"Do not save by stopping a shower filter at night: its bacteria suffer when they stand dry or without oxygen, and oxygen in the pond is lowest at sunrise.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Power of lifted water", Says: "What the water takes up: its weight each second times the head.",
			TeX: `P_h = \rho g Q H`, Source: "numpy-1.24.2", Locator: "P = rho*g*Q*H/eff", Basis: "memory", Function: "plumbing.HydraulicPower",
			Check: calculators.Explicit("P_h [W] power that the water takes up, ρ [kg/m3]: Q [m3/s] 0.0001..0.01, H [m] 0.2..10, g [m/s2] 9.80665", func(flow, head, _ float64) (power, density float64) { return HydraulicPower(flow, head), WaterDensity })},
		{Name: "Power drawn", Says: "Small pumps waste most of what they draw: 5 to 45 % reaches the water.",
			TeX: `P = \frac{P_h}{\eta}`, Source: "pond-practice", Locator: "range used in the trade", Basis: "practice", Function: "plumbing.ElectricPower",
			Check: calculators.Explicit("P [W] power drawn: P_h [W] power that the water takes up 1..200, η [1] share of the power that reaches the water 0.05..0.45", ElectricPower)},
		{Name: "Slower pump", Says: "Power goes with the cube of the speed at best; with a lift the saving is less.",
			TeX: `P = P_1\,s^3`, Source: "epanet-22-manual", Locator: "variable speed pump equations", Basis: "memory", Function: "plumbing.AffinityPower",
			Check: calculators.Explicit("P [W] power drawn: P_1 [W] power drawn at full speed 5..500, s [1] speed as a share of full speed 0.3..1", func(full, speed float64) float64 { return full * AffinityPower(speed) })},
		{Name: "Energy", Says: "Power times hours.",
			TeX: `E = P\,t`, Basis: "practice", Function: "plumbing.Energy",
			Check: calculators.Explicit("E [kW.h] energy: P [kW] power drawn 0.005..0.5, t [h] time of running 1..8760", func(power, hours float64) float64 { return Energy(1000*power, hours) })},
	}
	c.Example = calculators.Example{
		Story: "Ines's pump draws {power} by the plug-in meter. A kilowatt-hour costs her {price} in her currency.",
		Pond:  "ines",
	}
	c.Lookup = calculators.Lookup{
		Caption: "Cost of a pump that runs all year, day and night",
		Rows:    calculators.Axis{Input: "power", Values: []string{"20 W", "40 W", "60 W", "100 W", "150 W", "250 W"}},
		Columns: calculators.Axis{Input: "price", Values: []string{"0.15", "0.25", "0.35", "0.45"}},
		Show:    []string{"cost-year"},
	}
	c.Chart = calculators.Chart{
		Caption: "Cost in a year at {price} a kilowatt-hour: lifting water through {head}, by the kind of pump",
		X:       "flow", From: "1000 L/h", To: "10000 L/h",
		Series: calculators.Axis{Input: "kind", Values: []string{"small", "pond", "controlled"}},
		Show:   "cost-year",
		Given:  []calculators.Arg{{Name: "from", Value: "water"}, {Name: "head", Value: "2.5 m"}, {Name: "price", Value: "0.30"}},
	}
}

func computeCost(in calculators.Inputs) (calculators.Result, error) {
	var r calculators.Result
	power := drawn(in, &r)
	speed := in.In("speed", "%") / 100
	if speed != 1 {
		slow := AffinityPower(speed)
		r.Step("At {~3 %} of the speed", "{3 W} × {2}³ = {3 W}", 100*speed, power.Likely, speed, power.Likely*slow)
		r.Flag("Power goes with the cube of the speed only where there is no lift: a filter's pump changes less. Measure it at the new speed.")
		power = Spread{power.Low * slow, power.Likely * slow, power.High * slow}
	}
	price, hours := in.In("price", "{currency}"), in.In("hours", "1")
	year := hours * in.In("days", "1")
	scaled(&r, "cost-year", power, Energy(price, year))
	scaled(&r, "cost-day", power, Energy(price, hours))
	scaled(&r, "energy-year", power, Energy(1, year))
	scaled(&r, "energy-day", power, Energy(1, hours))
	scaled(&r, "power", power, 1)
	if in.Choice("from") == "water" {
		r.Exactly("hydraulic", waterPower(in))
	}
	r.Exactly("ten-watts", saved*Energy(price, year))
	r.Step("Electricity in a year", "{3 W} × {~4 h} × {~3} = {3 kW.h}", power.Likely, hours, in.In("days", "1"), Energy(power.Likely, year))
	r.Step("Cost in a year", "{3 kW.h} × {~4}/kWh = {3}", Energy(power.Likely, year), price, Energy(power.Likely*price, year))
	if hours < 24 {
		r.Advise("A filter that stands still loses its bacteria, and the pond its air, worst at night: only a pump that feeds no filter may rest.")
	}
	r.Advise(
		"Look first at the head: a wider pipe, fewer elbows and a lower top tray each save electricity every hour of the year.",
		"A dearer pump that draws less may pay for itself: compare this sum for both at the flow you need.",
	)
	return r, nil
}

func waterPower(in calculators.Inputs) float64 {
	return HydraulicPower(in.In("flow", "m3/h")/3600, in.In("head", "m"))
}

// drawn returns the power in W at full speed.
func drawn(in calculators.Inputs, r *calculators.Result) Spread {
	if in.Choice("from") == "power" {
		p := in.In("power", "W")
		return Spread{p, p, p}
	}
	hydraulic := waterPower(in)
	eta := PumpEfficiency(in.Choice("kind"))
	if in.Choice("kind") == "own" {
		own := in.In("efficiency", "%")
		eta = Spread{own, own, own}
	} else {
		r.Flag("No published test of pumps of this class was found: the efficiency is common practice. Measure the pump with a plug-in meter once you have it.")
	}
	p := Spread{ElectricPower(hydraulic, eta.High/100), ElectricPower(hydraulic, eta.Likely/100), ElectricPower(hydraulic, eta.Low/100)}
	r.Step("Power that reaches the water", "{~4 kg/m3} × 9.80665 m/s² × {3 L/h} × {3 m} = {3 W}", WaterDensity, in.In("flow", "L/h"), in.In("head", "m"), hydraulic)
	r.Step("Power drawn", "{3 W} / {3 %} = {3 W}", hydraulic, eta.Likely, p.Likely)
	return p
}
