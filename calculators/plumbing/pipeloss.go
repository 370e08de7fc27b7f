package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// PipeFriction declares the calculator of what a flow loses in a pipe.
func PipeFriction() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "pipe-loss",
		Inputs: pipeLossInputs(),
		Outputs: []calculators.Output{
			{Name: "loss", Label: "Head lost in pipe, fittings and outlet", Unit: "m", Digits: 2, Also: []string{"[ft_i]"}, Help: "The pump must make this on top of the lift."},
			{Name: "velocity", Label: "Velocity in the pipe", Unit: "m/s", Digits: 2},
			{Name: "friction", Label: "Lost to friction in the pipe", Unit: "m", Digits: 2},
			{Name: "fittings-loss", Label: "Lost in fittings and at the outlet", Unit: "m", Digits: 2},
			{Name: "wider", Label: "Next bore up", Unit: "mm", Digits: 3, Whole: true, Also: []string{"[in_i]"}},
			{Name: "wider-loss", Label: "Head lost in that bore", Unit: "m", Digits: 2},
			{Name: "per-metre", Label: "Friction per metre of pipe", Unit: "mm", Digits: 2, Fine: true},
			{Name: "bore", Label: "Bore reckoned with", Unit: "mm", Digits: 3, Fine: true},
			{Name: "reynolds", Label: "Reynolds number", Unit: "1", Digits: 2, Fine: true, Help: reynoldsHelp()},
			{Name: "hazen-williams", Label: "Friction by Hazen and Williams, to compare with charts", Unit: "m", Digits: 2, Fine: true},
		},
		Compute: computePipeLoss,
	}
	if calculators.Documented {
		documentPipeLoss(&c)
	}
	return c
}

func pipeLossInputs() []calculators.Input {
	inputs := []calculators.Input{
		{Name: "flow", Label: "Flow", Kind: quantity.Flow, Accept: calculators.Range{Low: 1, High: 1000000, Origin: "sanity limit"},
			Help: "By bucket and watch, or the flow you want."},
		{Name: "measured", Label: "What you can measure", Type: calculators.Choice, Default: "bore",
			Options: []calculators.Option{{Name: "bore", Label: "the bore"}, {Name: "outside", Label: "outside and wall thickness"}},
			Help:    "Pipes are named by the outside, hoses by the bore."},
		{Name: "bore", Fact: "pump-pipe-bore", Label: "Bore of the pipe", Kind: quantity.Size, Accept: calculators.Range{Low: 5, High: 500, Origin: "sanity limit"}, When: calculators.When{Input: "measured", Is: []string{"bore"}},
			Help: "Inside diameter; pipes are often named by the outside, so measure."},
		{Name: "outside", Label: "Outside diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 6, High: 600, Origin: "sanity limit"}, When: calculators.When{Input: "measured", Is: []string{"outside"}},
			Help: calculators.Hint("Lay a tape round the pipe and divide by {pi 3}.", math.Pi)},
		{Name: "thickness", Label: "Thickness of the wall", Kind: quantity.Size, Accept: calculators.Range{Low: 0.3, High: 60, Origin: "sanity limit"}, When: calculators.When{Input: "measured", Is: []string{"outside"}},
			Help: "At a cut end."},
	}
	return append(inputs, runInputs()[1:]...) // all but the bore, asked for above
}

func documentPipeLoss(c *calculators.Calculator) {
	c.Title = "Head lost in a pipe"
	c.Question = "How much head does this flow lose in pipe and fittings, and what would the next size up save?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Solvents, calculators.Spill}
	c.Cautions = []string{
		"A buried or hidden pipe that leaks empties the pond: pump from no deeper than you can afford to lose.",
	}
	c.Formulas = append(runFormulas(), []calculators.Formula{
		{Name: "Hazen and Williams", Says: "Friction by the formula of the water trade, for comparison only: it shows 5 to 30 % too little in smooth pond pipes.",
			TeX: `h = \frac{10.667\,L\,Q^{1.852}}{C^{1.852}D^{4.871}}`, Source: "epanet-22-manual", Locator: "head loss formulas", Basis: "memory", Function: "plumbing.HazenWilliamsLoss",
			Check: calculators.Explicit("h [m]: C [1] coefficient of smoothness 100..150, Q [m3/s] 0.0001..0.01, D [m] 0.015..0.1, L [m] 0.5..50", HazenWilliamsLoss)},
		{Name: "Bore", Says: "Outside diameter less the wall on both sides.",
			TeX: `D = D_o - 2t`, Source: "astm-d1785", Locator: "pipe data table", Basis: "published", Function: "plumbing.BoreOf",
			Check: calculators.Explicit("D [mm]: D_o [mm] outside diameter 20..110, t [mm] thickness of the wall 1..5", BoreOf)},
	}...)
	c.Example = calculators.Example{
		Story: "Tomas's pump brings {flow} through {length} of smooth hose of {bore} bore with {fittings.count} pairs of hose tails.",
		Pond:  "tub",
		Given: []calculators.Arg{{Name: "wall", Value: "spiral-hose"}, {Name: "fittings", Value: "hose-tail, 2"}},
	}
	c.Lookup = calculators.Lookup{
		Caption: "Head lost in {length} of slimed plastic pipe with {fittings.count} elbows",
		Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "4000 L/h", "6000 L/h", "8000 L/h", "12000 L/h"}},
		Columns: calculators.Axis{Input: "bore", Values: []string{"25 mm", "32 mm", "40 mm", "50 mm", "63 mm"}},
		Show:    []string{"loss"},
		Given:   []calculators.Arg{{Name: "length", Value: "5 m"}, {Name: "fittings", Value: "elbow-90, 2"}},
	}
	c.Chart = calculators.Chart{
		Caption: "Head lost in {length} of slimed plastic pipe with {fittings.count} elbows",
		X:       "flow", From: "500 L/h", To: "8000 L/h",
		Series: calculators.Axis{Input: "bore", Values: []string{"32 mm", "40 mm", "50 mm"}},
		Show:   "loss",
		Given:  []calculators.Arg{{Name: "length", Value: "5 m"}, {Name: "fittings", Value: "elbow-90, 2"}},
	}
}

// leastPipe is the least bore in m that is reckoned with: a sanity limit.
const leastPipe = 0.003

func computePipeLoss(in calculators.Inputs) (calculators.Result, error) {
	p, flow := readRun(in), in.In("flow", "m3/h")/3600
	if in.Choice("measured") == "outside" {
		p.Bore = BoreOf(in.In("outside", "m"), in.In("thickness", "m"))
		if p.Bore < leastPipe {
			return calculators.Result{}, calculators.Refuse("thickness", "leaves a bore of {bore 3 mm}", "a wall that leaves {least mm} or more", "measure the wall at a cut end", 1000*p.Bore, 1000*leastPipe)
		}
	}
	nu := KinematicViscosity(in.In("temperature", "Cel"))
	low, likely, high := p.HeadLoss(flow, nu)
	v := p.Velocity(flow)
	re := Reynolds(v, p.Bore, nu)
	var r calculators.Result
	r.Between("loss", low.Total(), likely.Total(), high.Total())
	r.Exactly("velocity", v)
	r.Between("friction", low.Friction, likely.Friction, high.Friction)
	r.Between("fittings-loss", low.Fittings, likely.Fittings, high.Fittings)
	next := p
	next.Bore = NextBore(p.Bore)
	least, less, most := next.HeadLoss(flow, nu)
	if next.Bore > p.Bore {
		r.Exactly("wider", 1000*next.Bore)
		r.Between("wider-loss", least.Total(), less.Total(), most.Total())
	}
	if p.Length > 0 {
		r.Between("per-metre", 1000*low.Friction/p.Length, 1000*likely.Friction/p.Length, 1000*high.Friction/p.Length)
	}
	r.Exactly("bore", 1000*p.Bore)
	r.Exactly("reynolds", re)
	if c := HazenWilliams(in.Choice("wall")); c.Low > 0 && p.Length > 0 {
		hw := func(c float64) float64 { return HazenWilliamsLoss(c, flow, p.Bore, p.Length) }
		r.Between("hazen-williams", hw(c.High), hw(c.Likely), hw(c.Low))
	}
	p.flag(&r, re)
	adviseVelocity(&r, v)
	if next.Bore > p.Bore {
		r.Say("With {bore 0 mm} bore the loss falls from {loss 2 m} to {less 2 m}.", 1000*next.Bore, likely.Total(), less.Total())
	}
	r.Advise("Slime and dirt narrow a pipe within weeks: reckon with the upper end of the range when you buy the pump.")
	p.work(&r, flow, re, nu, &likely)
	return r, nil
}
