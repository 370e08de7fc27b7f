package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// mostBarHoles is the count beyond which a bar is no longer drilled by hand.
const mostBarHoles = 500

// mostShare is the area of all holes over that of the bore beyond which the
// pressure at the first holes, by the steps of Bar, falls to a third and less.
const mostShare = 1.6

// strongHead is the head in m at the feed above which a bar takes more than
// common practice gives it.
const strongHead = 0.5

// The area of a bar's holes, per cent of that of its bore: common practice
// (figure set hydraulics-manifold-rules).
const (
	usualShareLeast = 30.0
	usualShareMost  = 50.0
)

// evenEnough is the weakest hole, per cent of the strongest, from which a bar
// runs evenly (mn-ostp, worksheet line 7; figure set hydraulics-manifold-rules).
const evenEnough = 90.0

// SprayBar declares the calculator of a bar of holes over the top tray.
func SprayBar() calculators.Calculator {
	c := calculators.Calculator{
		ID: "spray-bar",
		Inputs: []calculators.Input{
			{Name: "flow", Label: "Flow into the bar", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 100000, Origin: "sanity limit"},
				Help: "What the pump brings to this one bar; half of it for each of two."},
			{Name: "bore", Fact: "bar-bore", Label: "Bore of the bar", Kind: quantity.Size, Accept: calculators.Range{Low: 8, High: 200, Origin: "sanity limit"},
				Help: "Inside diameter of the drilled pipe."},
			{Name: "length", Label: "Drilled length", Kind: quantity.Length, Accept: calculators.Range{Low: 0.05, High: 20, Origin: "sanity limit"},
				Help: "From the feed to the closed end; for a bar fed in the middle take half the bar and half the flow."},
			{Name: "hole", Label: "Hole diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 50, Origin: "sanity limit"}, Default: "8 mm",
				Help: calculators.Hint("Holes under {least mm} block in days.", 1000*smallHole)},
			{Name: "find", Label: "Find", Type: calculators.Choice, Default: "holes",
				Options: []calculators.Option{{Name: "holes", Label: "how many holes to drill"}, {Name: "evenness", Label: "how evenly the holes I have run"}},
				Help:    "The first for a new bar, the second for one already drilled."},
			{Name: "share", Label: "Area of all holes, of the bore's", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 5, High: 150, Origin: "sanity limit"}, Default: "40 %",
				When: calculators.When{Input: "find", Is: []string{"holes"}}, Help: calculators.Hint("{least ~} to {most %} is common practice; fewer holes run more evenly and ask for more head.", usualShareLeast, usualShareMost)},
			{Name: "count", Label: "Holes in the bar", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: mostBarHoles, Origin: "sanity limit"},
				When: calculators.When{Input: "find", Is: []string{"evenness"}}, Help: "All that are open."},
			{Name: "wall", Label: "Thickness of the pipe's wall", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0.3, High: 30, Origin: "sanity limit"}, Default: "2 mm",
				Help: "At the cut end; it matters when it is more than half the hole."},
			{Name: "blocked", Label: "Share of holes to allow as blocked", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}, Default: "33 %",
				Help: "For the head at the feed when the bar is due for cleaning."},
			{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, Default: "15 Cel",
				Help: "It matters by a hundredth."},
		},
		Outputs: []calculators.Output{
			{Name: "holes", Label: "Holes", Unit: "1", Digits: 3, Whole: true},
			{Name: "evenness", Label: "Weakest hole, of the strongest", Unit: "%", Digits: 2, Whole: true, Help: calculators.Hint("{whole %} is perfectly even; {good %} and more is good.", 100, evenEnough)},
			{Name: "head", Label: "Head at the feed, all holes open", Unit: "m", Digits: 2, Also: []string{"[in_i]"}, Help: "The pump must make this on top of lift and losses."},
			{Name: "head-blocked", Label: "Head at the feed with the allowed share blocked", Unit: "m", Digits: 2, Also: []string{"[in_i]"}},
			{Name: "spacing", Label: "Hole to hole", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}},
			{Name: "far", Label: "Farthest hole, of the first", Unit: "%", Digits: 3, Whole: true, Help: calculators.Hint("Above {whole %} the closed end runs stronger.", 100)},
			{Name: "first-flow", Label: "Flow of the first hole", Unit: "L/min", Digits: 2, Fine: true, Help: "Catch the jet in a jug for a minute to check."},
			{Name: "last-flow", Label: "Flow of the farthest hole", Unit: "L/min", Digits: 2, Fine: true},
			{Name: "velocity", Label: "Velocity at the feed", Unit: "m/s", Digits: 2, Fine: true},
			{Name: "velocity-head", Label: "Velocity head at the feed", Unit: "mm", Digits: 2, Fine: true, Help: "What makes the closed end of a short bar run stronger."},
			{Name: "area-share", Label: "Area of all holes, of the bore's", Unit: "%", Digits: 2, Fine: true},
		},
		Compute: computeBar,
	}
	if calculators.Documented {
		documentBar(&c)
	}
	return c
}

func documentBar(c *calculators.Calculator) {
	c.Title = "Holes in a spray bar"
	c.Question = "How many holes of which size make a spray bar run evenly, and what head does it ask for?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Tools, calculators.Spill}
	c.Cautions = []string{
		"A bar that blocks presses the water out elsewhere: fix it so that it cannot jump off, over a tray whose overflow leads back to the pond.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Flow of a hole in a bar", Says: "The jet is driven by the total head less a share r, 0 to 1, of the velocity head in the bar. That the closed end runs stronger but for friction is published; the share is not: likely 1.",
			TeX: `q = C_d a\sqrt{2g\left(E - r\frac{(Q+q)^2}{2gA^2}\right)}`, Source: "chou-cheng-2001", Locator: "abstract", Basis: "practice", Function: "plumbing.OrificeFlow",
			Check: calculators.Implicit("q [m3/s] flow of the hole: C_d [1] 0.6..0.8, a [m2] area of the hole 0.00001..0.0001, A [m2] area of the bore 0.0003..0.002, E [m] total head in the bar 0.1..1, Q [m3/s] flow that goes on past the hole 0..0.0003, r [1] share of the velocity head 0..1, g [m/s2] 9.80665", func(cd, hole, bar, head, beyond, recovery, _ float64) float64 {
				across := func(area float64) float64 { return math.Sqrt(4 * area / math.Pi) }
				b := Bar{Bore: across(bar), Hole: across(hole), Coefficient: cd, Recovery: recovery}
				return b.HoleFlow(head, beyond)
			})},
		{Name: "Loss in pipe and fittings", Says: "Friction from hole to hole, at the flow that is left there.",
			TeX: `h = f\frac{L}{D}\frac{V^2}{2g}`, Source: "maurer-2023", Locator: "Example 4.3", Basis: "published", Function: "plumbing.PipeLoss",
			Check: calculators.Explicit("h [m]: f [1] friction factor 0.01..0.08, L [m] distance between holes 0.05..3, D [m] 0.015..0.1, V [m/s] 0.1..3, g [m/s2] 9.80665", func(f, length, bore, v, _ float64) float64 { return PipeLoss(f, length, bore, 0, v).Total() })},
		{Name: "Christiansen's factor", Says: "A check: friction of a bar, as a share of that of a pipe that carries all the flow to its end.",
			TeX: `F = \frac{1}{m+1} + \frac{1}{2N} + \frac{\sqrt{m-1}}{6N^2}`, Source: "christiansen-1942", Locator: "factor F", Basis: "memory", Function: "plumbing.ChristiansenFactor",
			Check: calculators.Explicit("F [1] Christiansen's factor: m [1] exponent of the flow in the friction 1.75..2, N [1] number of holes 2..60", ChristiansenFactor)},
	}
	c.Example = calculators.Example{
		Story: "Ines hangs a bar of {length} under the top lid: pipe of {bore} bore, holes of {hole}, {flow}.",
		Pond:  "ines",
	}
	given := []calculators.Arg{{Name: "bore", Value: "36 mm"}, {Name: "find", Value: "evenness"}, {Name: "count", Value: "10"}, {Name: "length", Value: "1 m"}}
	c.Lookup = calculators.Lookup{
		Caption: "Head at the feed of a bar of {bore} bore with {count} holes",
		Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "3000 L/h", "4000 L/h", "6000 L/h"}},
		Columns: calculators.Axis{Input: "hole", Values: []string{"5 mm", "6 mm", "8 mm", "10 mm"}},
		Show:    []string{"head"}, Given: given,
	}
	c.Chart = calculators.Chart{
		Caption: "How evenly a bar of {length} with {count} holes runs, over their size, at {flow}",
		X:       "hole", From: "4 mm", To: "9 mm",
		Series: calculators.Axis{Input: "bore", Values: []string{"25 mm", "36 mm", "50 mm"}},
		Show:   "evenness",
		Given:  calculators.With(given[1:], calculators.Arg{Name: "flow", Value: "3000 L/h"}),
	}
}

// barRun is a checked set of inputs, in SI units, and what comes out of the bar:
// as is likely, with only friction at work, and with only static pressure.
type barRun struct {
	bar                    Bar
	cd                     Spread
	flow, viscosity, share float64
	likely, friction, pure Outflow
}

func computeBar(in calculators.Inputs) (calculators.Result, error) {
	b, err := readBar(in)
	if err != nil {
		return calculators.Result{}, err
	}
	var r calculators.Result
	r.Exactly("holes", b.bar.Holes)
	even := b.likely.Evenness()
	least, most := b.friction.Evenness(), b.pure.Evenness()
	r.Between("evenness", 100*min(least, even, most), 100*even, 100*max(least, even, most))
	blocked := 1 - in.In("blocked", "%")/100
	low, high := b.heads()
	r.Between("head", low, b.likely.Inlet, high)
	factor := BlockedFactor(1 - blocked)
	r.Between("head-blocked", low*factor, b.likely.Inlet*factor, high*factor)
	r.Exactly("spacing", 1000*b.bar.Spacing)
	far, weak, strong := b.likely.Last/b.likely.First, b.friction.Last/b.friction.First, b.pure.Last/b.pure.First
	r.Between("far", 100*min(far, weak, strong), 100*far, 100*max(far, weak, strong))
	r.Exactly("first-flow", 60000*b.likely.First)
	r.Exactly("last-flow", 60000*b.likely.Last)
	v := b.flow / CircleArea(b.bar.Bore)
	r.Exactly("velocity", v)
	r.Exactly("velocity-head", 1000*VelocityHead(v))
	r.Exactly("area-share", 100*b.share)
	b.words(&r, even, v)
	r.Scale = calculators.Scale{Output: "evenness", Marks: []calculators.Mark{
		{Value: evenEnough, Label: "variation allowed along a drilled pipe", Source: "mn-ostp", Locator: "worksheet line 7", Basis: "published"},
		{Value: 97, Label: "short bar with a third to half of the bore's area", Basis: "practice"},
	}}
	return r, nil
}

func readBar(in calculators.Inputs) (*barRun, error) {
	b := &barRun{flow: in.In("flow", "m3/h") / 3600, viscosity: KinematicViscosity(in.In("temperature", "Cel"))}
	b.bar = Bar{Bore: in.In("bore", "m"), Hole: in.In("hole", "m")}
	if b.bar.Hole > 0.9*b.bar.Bore {
		return nil, calculators.Refuse("hole", "is as wide as the bar", "a hole well under the bore of {bore 3 mm}", "take a smaller drill or a wider pipe", 1000*b.bar.Bore)
	}
	one := CircleArea(b.bar.Hole) / CircleArea(b.bar.Bore)
	if in.Choice("find") == "holes" {
		b.bar.Holes = math.Max(1, math.Round(in.In("share", "%")/100/one))
	} else {
		b.bar.Holes = in.In("count", "1")
	}
	if b.bar.Holes > mostBarHoles {
		return nil, calculators.Refuse("hole", "is so small that the bar needs {holes 0} holes", "at most {most 0} holes", "take a larger drill", b.bar.Holes, mostBarHoles)
	}
	b.share = one * b.bar.Holes
	if b.share > mostShare && b.bar.Holes > 1 {
		return nil, calculators.Refuse("hole", "makes the holes {share 0 %} of the bore's area, so that the water shoots past the first ones", "at most {most 0 %}", "take fewer or smaller holes, or a wider pipe", 100*b.share, 100*mostShare)
	}
	b.bar.Spacing = in.In("length", "m") / b.bar.Holes
	b.cd = DischargeCoefficient(in.In("wall", "m"), b.bar.Hole)
	b.likely = b.with(b.cd.Likely, 0.05e-3, 1)
	b.friction = b.with(b.cd.High, 0.3e-3, 0)
	b.pure = b.with(b.cd.High, 0.01e-3, 1)
	return b, nil
}

// with returns the outflow for one discharge coefficient, roughness of the
// slimed wall in m and share of static recovery.
func (b *barRun) with(coefficient, roughness, recovery float64) Outflow {
	bar := b.bar
	bar.Coefficient, bar.Roughness, bar.Recovery = coefficient, roughness, recovery
	return bar.Fed(b.flow, b.viscosity)
}

// heads returns the least and the greatest head at the feed in m.
func (b *barRun) heads() (low, high float64) {
	cd := Widen(b.cd, b.bar.Hole, b.likely.Inlet)
	least, most := b.with(cd.High, 0.01e-3, 0), b.with(cd.Low, 0.3e-3, 1)
	return math.Min(least.Inlet, b.likely.Inlet), math.Max(most.Inlet, b.likely.Inlet)
}

func (b *barRun) words(r *calculators.Result, even, velocity float64) {
	flagSmall(r, b.bar.Hole)
	if b.likely.Inlet < lowHead {
		r.Doubt("The bar runs with less than {least mm} of head: on a bar that is not level some holes run dry. Drill fewer or smaller holes.", 1000*lowHead)
	}
	if b.bar.Holes > 1 && b.bar.Spacing < 2*b.bar.Hole {
		r.Advise("The holes stand so close that they weaken the pipe: take a longer bar, two bars or larger holes.")
	}
	if b.likely.Inlet > strongHead {
		r.Say("The bar asks the pump for {head 2 m} of head on top of the lift: drill more or larger holes, or take a wider pipe.", b.likely.Inlet)
	}
	if even < evenEnough/100 {
		r.Advise("The bar runs unevenly: drill fewer holes, take a wider pipe, or feed the bar in the middle (half the length and half the flow).")
	}
	r.Advise(
		"Give the far end a cap that comes off: a bottle brush through the bar once a month keeps the holes open.",
		"Drill on the upper side and let the water spill over, or on the lower side over a splash plate; take the burr off inside.",
	)
	r.Step("Holes, of the bore", "{0} × ({3 mm})² / ({3 mm})² = {2 %}", b.bar.Holes, 1000*b.bar.Hole, 1000*b.bar.Bore, 100*b.share)
	r.Step("Velocity at the feed", "{3 L/h} / (π/4 × ({3 mm})²) = {3 m/s}", 3.6e6*b.flow, 1000*b.bar.Bore, velocity)
	r.Step("Head of that velocity", "({3 m/s})² / (2 × 9.80665 m/s²) = {2 mm}", velocity, 1000*VelocityHead(velocity))
	r.Step("Friction along the bar, and by Christiansen's factor, to compare", "{2 mm}; {2 mm}", 1000*b.likely.Friction, 1000*b.christiansen())
	r.Step("First and farthest hole", "{3 L/min}; {3 L/min}", 60000*b.likely.First, 60000*b.likely.Last)
	r.Step("Farthest hole, of the first, if only friction counts, and if only static pressure drives it", "{3 %}; {3 %}", 100*b.friction.Last/b.friction.First, 100*b.pure.Last/b.pure.First)
}

// christiansen returns the friction along the bar in m by the factor F.
func (b *barRun) christiansen() float64 {
	whole := b.bar
	whole.Spacing *= b.bar.Holes
	whole.Roughness = 0.05e-3
	return ChristiansenFactor(2, b.bar.Holes) * whole.SegmentLoss(b.flow, b.viscosity)
}
