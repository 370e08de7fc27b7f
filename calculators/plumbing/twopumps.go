package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// SeriesHead returns the head in m at a flow in m3/s of equal pumps in line, each
// pressing into the next, from the curve of one: the same water passes through
// all and each adds its head.
//
//	H(Q) = n H1(Q)
//
// No range of its own. Basis: common practice; follows from the energy that each
// pump gives to the same water.
func SeriesHead(one PumpCurve, pumps, flow float64) float64 { return pumps * one.Head(flow) }

// SeriesCurve is the curve of SeriesHead.
type SeriesCurve struct {
	One   PumpCurve
	Pumps float64
}

// Head returns SeriesHead.
func (c SeriesCurve) Head(flow float64) float64 { return SeriesHead(c.One, c.Pumps, flow) }

// End returns the flow of one pump at no head.
func (c SeriesCurve) End() float64 { return c.One.End() }

// TwoPumps declares the calculator that compares two equal pumps with one.
func TwoPumps() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "two-pumps",
		Inputs: twoPumpsInputs(),
		Outputs: []calculators.Output{
			{Name: "side-by-side", Label: "Two pumps side by side into the one pipe", Unit: "L/h", Digits: 2, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
			{Name: "gain", Label: "More than one pump, side by side", Unit: "%", Digits: 2, Whole: true},
			{Name: "one", Label: "One pump into the pipe", Unit: "L/h", Digits: 2, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
			{Name: "own-pipes", Label: "Two pumps, each with a pipe like this", Unit: "L/h", Digits: 2},
			{Name: "second-pipe", Label: "One pump into two pipes like this", Unit: "L/h", Digits: 2, Help: "What the money for a second pump may buy as pipe."},
			{Name: "in-line", Label: "Two pumps in line, one pressing into the other", Unit: "L/h", Digits: 2},
			{Name: "gain-in-line", Label: "More than one pump, in line", Unit: "%", Digits: 2, Whole: true, Fine: true},
		},
		Compute: computeTwoPumps,
	}
	if calculators.Documented {
		documentTwoPumps(&c)
	}
	return c
}

func twoPumpsInputs() []calculators.Input {
	inputs := append(curveInputs(), liftInput())
	return append(inputs, runInputs()...)
}

func documentTwoPumps(c *calculators.Calculator) {
	c.Title = "Two pumps instead of one"
	c.Question = "How much more water do two pumps bring than one, through one pipe or two?"
	c.Part = "filtration"
	c.Formulas = []calculators.Formula{
		{Name: "Pumps side by side", Says: "At the same head two equal pumps give twice the flow of one; the pipe then asks for more head.",
			TeX: `H(Q) = H_1\left(\frac{Q}{n}\right)`, Source: "epanet-22-manual", Locator: "variable speed pump equations", Basis: "published", Function: "plumbing.AffinityHead",
			Check: calculators.Explicit("H [m], H_1 [m] head of one pump: Q [m3/s] 0.0001..0.002, n [1] number of pumps 1|2|3", func(flow, pumps float64) (head float64, one func(float64) float64) {
				pump := RatedCurve{CurvePoint{0.001, 3}}
				return AffinityHead(pump, 1, pumps, flow), pump.Head
			})},
		{Name: "Pumps in line", Says: "At the same flow two equal pumps in line make twice the head of one.",
			TeX: `H(Q) = n\,H_1(Q)`, Basis: "practice", Function: "plumbing.SeriesHead",
			Check: calculators.Explicit("H [m], H_1 [m] head of one pump: Q [m3/s] 0.0001..0.002, n [1] number of pumps 1|2|3", func(flow, pumps float64) (head float64, one func(float64) float64) {
				pump := RatedCurve{CurvePoint{0.001, 3}}
				return SeriesHead(pump, pumps, flow), pump.Head
			})},
		{Name: "Loss in pipe and fittings", Says: "Twice the flow in the same pipe loses about four times the head.",
			TeX: `h = \left(f\frac{L}{D} + \sum K\right)\frac{V^2}{2g}`, Source: "maurer-2023", Locator: "Example 4.3", Basis: "published", Function: "plumbing.PipeLoss",
			Check: calculators.Explicit("h [m]: f [1] friction factor 0.01..0.08, L [m] 0.5..50, D [m] 0.015..0.1, ΣK [1] 0..20, V [m/s] 0.1..3, g [m/s2] 9.80665", func(f, length, bore, k, v, _ float64) float64 { return PipeLoss(f, length, bore, k, v).Total() })},
	}
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Solvents, calculators.Spill}
	c.Cautions = []string{
		"Two pumps mean two plugs to pull.",
		"The trays, the outlet and the overflow must carry the flow of both pumps: reckon them again before you add a pump.",
	}
	c.Example = calculators.Example{
		Story: "Ines thinks of a second pump like the one she has, into the same {length} of pipe of {bore} bore.",
		Pond:  "ines",
	}
	c.Lookup = calculators.Lookup{
		Caption: "What a second pump adds: {largest-flow} and {largest-head} at most each, {length} of ribbed hose",
		Rows:    calculators.Axis{Input: "lift", Values: []string{"0.5 m", "1 m", "1.5 m", "2 m"}},
		Columns: calculators.Axis{Input: "bore", Values: []string{"25 mm", "32 mm", "40 mm", "50 mm"}},
		Show:    []string{"gain"},
		Given:   largestPump(),
	}
	c.Chart = calculators.Chart{
		Caption: "What a second pump adds, over the lift: {largest-flow} and {largest-head} at most each, {length} of ribbed hose",
		X:       "lift", From: "0 m", To: "3 m",
		Series: calculators.Axis{Input: "bore", Values: []string{"25 mm", "32 mm", "50 mm"}},
		Show:   "gain",
		Given:  largestPump(),
	}
}

// twoPumps are the flows in m3/s of the ways to use two pumps.
type twoPumps struct{ one, beside, inLine, secondPipe Spread }

func computeTwoPumps(in calculators.Inputs) (calculators.Result, error) {
	l, err := readRig(in)
	if err != nil {
		return calculators.Result{}, err
	}
	one := l.pump.One
	q := twoPumps{
		one:        l.meet(one, 1),
		beside:     l.meet(DrivenCurve{one, 1, 2}, 1),
		inLine:     l.meet(SeriesCurve{one, 2}, 1),
		secondPipe: l.meet(one, 0.5),
	}
	var r calculators.Result
	scaled(&r, "side-by-side", q.beside, 3.6e6)
	gain(&r, "gain", &q.beside, &q.one)
	scaled(&r, "one", q.one, 3.6e6)
	scaled(&r, "own-pipes", q.one, 2*3.6e6)
	scaled(&r, "second-pipe", q.secondPipe, 3.6e6)
	scaled(&r, "in-line", q.inLine, 3.6e6)
	gain(&r, "gain-in-line", &q.inLine, &q.one)
	if last := len(l.points) - 1; last >= 0 && max(q.secondPipe.High, q.inLine.High) > l.points[last].Flow {
		r.Flag("One of the answers, or the upper end of its range, lies beyond the last point of the curve: it stands on the last line drawn on, a guess.")
	} else if last < 0 {
		flagGuess(&r)
	}
	adviseTwoPumps(&r, &q, one.Head(0), l.height)
	l.workTwoPumps(&r, &q)
	return r, nil
}

// gain adds by how many percent a flow exceeds another, with the range of both
// together: pipe and fittings are the same pipe and fittings in both.
func gain(r *calculators.Result, output string, more, than *Spread) {
	if than.Low <= 0 {
		return
	}
	a, b := 100*(more.Low/than.Low-1), 100*(more.High/than.High-1)
	likely := 100 * (more.Likely/than.Likely - 1)
	r.Between(output, min(a, b, likely), likely, max(a, b, likely))
}

func adviseTwoPumps(r *calculators.Result, q *twoPumps, most, lift float64) {
	if q.one.Likely == 0 {
		r.Say("One pump holds at most {most 3 m} of water, and the lift is {lift 3 m}: no second pump beside it changes that. In line they add their heads, but one pump made for the height is cheaper to run.", most, lift)
		return
	}
	if more := 100 * (q.beside.Likely/q.one.Likely - 1); more < 90 {
		r.Say("“Two pumps double the flow” is not so here: side by side they bring {more 0 %} more, for about twice the electricity.", more)
	}
	if q.secondPipe.Likely > q.beside.Likely {
		r.Advise("A second pipe for the one pump brings more than a second pump, and costs nothing to run.")
	}
	r.Advise(
		"Two pumps with a pipe each bring twice the flow of one, and if one fails the other keeps the filter alive.",
		"Put a non-return valve behind each pump that shares a pipe: water falls back through one that stands still. Count the valve among the fittings.",
		"Do not mix a strong and a weak pump on one pipe: the weak one may be pressed to a standstill and overheat.",
	)
}

func (l *lift) workTwoPumps(r *calculators.Result, q *twoPumps) {
	l.balance(r, "One pump", q.one.Likely, 1)
	l.balance(r, "Side by side", q.beside.Likely, 1)
	l.balance(r, "In line", q.inLine.Likely, 1)
	l.balance(r, "One pump, two pipes", q.secondPipe.Likely, 0.5)
}

func (l *lift) balance(r *calculators.Result, label string, flow, share float64) {
	loss := l.pipe.LossAt(Likely, share*flow, l.viscosity)
	r.Step(quantity.Put("{case}, lift and losses at {3 L/h}", "case", label), "{3 m} + {3 m} = {3 m}", 3.6e6*flow, l.height, loss.Total(), l.height+loss.Total())
}
