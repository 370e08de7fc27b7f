package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
	"mereleaf/calculators/quantity"
)

// Overflow declares the calculator of a box's overflow.
func Overflow() calculators.Calculator {
	c := calculators.Calculator{
		ID: "overflow",
		Inputs: []calculators.Input{
			{Name: "flow", Fact: "pump-flow", Label: "Flow of the pump", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"},
				Help: "All that comes to this box; with two stacks, half of the pump's."},
			{Name: "kind", Label: "Kind of overflow", Type: calculators.Choice, Default: "slot",
				Options: []calculators.Option{{Name: "slot", Label: "notch with level crest, cut into a side"}, {Name: "full-width", Label: "a whole side cut down"}, {Name: "v-notch", Label: "V-notch with a right angle"}, {Name: "standpipe", Label: "upright pipe, open at the top"}},
				Help:    "Where the water goes when the outlet does not take it."},
			{Name: "width", Label: "Width of the crest", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 5000, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"slot", "full-width"}},
				Help: "Along the level edge."},
			{Name: "edge", Label: "Edge of the crest", Type: calculators.Choice, Default: "thin", When: calculators.When{Input: "kind", Is: []string{"slot", "full-width"}},
				Options: []calculators.Option{{Name: "thin", Label: "thin, a few millimetres"}, {Name: "thick", Label: "thick, folded or a plank"}},
				Help:    "Over a thick edge a fifth less runs."},
			{Name: "bore", Label: "Bore of the upright pipe", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 500, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"standpipe"}},
				Help: "Inside, at the rim."},
			{Name: "room", Label: "Height from the crest to the rim of the box", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 1000, Origin: "sanity limit"},
				Help: "From the crest, the point of the V or the rim of the pipe up to where water would run over."},
			{Name: "spare", Label: "Wanted margin over the pump", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"}, Default: "50 %",
				Help: "For leaves on the crest and a box that is not level."},
		},
		Outputs: []calculators.Output{
			{Name: "rise", Label: "The water rises over the crest by", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}},
			{Name: "left", Label: "Left below the rim of the box", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}, Help: "Less than nothing means that the box runs over."},
			{Name: "capacity", Label: "What runs off with the water at the rim", Unit: "L/h", Digits: 2, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
			{Name: "margin", Label: "To spare over the pump", Unit: "%", Digits: 2, Whole: true},
			{Name: "least-room", Label: "Least height to the rim for the wanted margin", Unit: "mm", Digits: 2, Whole: true},
			{Name: "least-width", Label: "Least width or bore for the wanted margin", Unit: "mm", Digits: 3, Whole: true},
		},
		Compute: computeOverflow,
	}
	if calculators.Documented {
		documentOverflow(&c)
	}
	return c
}

func documentOverflow(c *calculators.Calculator) {
	c.Title = "Overflow of a box"
	c.Question = "How high does the water rise over the overflow when the outlet is blocked, and is there room for it?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Drowning, calculators.Tools, calculators.Spill}
	c.Cautions = []string{
		"Lead an overflow back to the pond by its own pipe, and never put a valve or a fine grid on it.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Level crest", Says: "Flow over a level edge: with a thin edge c = 0.62 to 0.68, with a thick one 0.47 to 0.55.",
			TeX: `Q = \tfrac{2}{3}\,c\,b\sqrt{2g}\,H^{3/2}`, Source: "eb1911-hydraulics", Locator: "Blackwell experiments", Basis: "published", Function: "plumbing.WeirFlow",
			Check: calculators.Explicit("Q [m3/s]: c [1] coefficient of the edge 0.47..0.68, b [m] width of the crest 0.05..1, H [m] head over the crest 0.005..0.1, g [m/s2] 9.80665", func(c, width, head, _ float64) float64 { return WeirFlow(c, width, head) })},
		{Name: "Narrowed stream", Says: "In a notch cut into a side the stream is narrower than the notch by a tenth of the head at each end.",
			TeX: `b' = b - 0.2H`, Source: "eb1911-hydraulics", Locator: "formula of Francis", Basis: "memory", Function: "plumbing.ContractedWidth",
			Check: calculators.Explicit("b' [m] width of the stream: b [m] width of the notch 0.1..1, H [m] head over the crest 0.005..0.1", ContractedWidth)},
		{Name: "V-notch of 90°", Says: "The newer coefficient, 1.365, is likely; older authors print up to 1.472.",
			TeX: `Q = 1.365\,(H + 0.00085)^{5/2}`, Source: "iso-1438", Locator: "90 degree fully contracted notch", Basis: "memory", Function: "plumbing.VNotchFlow",
			Check: calculators.Rounded("Q [m3/s]: H [m] head over the point of the notch 0.005..0.2", func(head float64) float64 { return VNotchFlow(VNotchCoefficient().Likely, head) })},
		{Name: "Upright pipe", Says: "The rim works as a crest up to a head of a fifth of the bore; higher, the pipe chokes and gulps.",
			TeX: `Q = 1.7\,\pi D H^{3/2},\quad H \le D/5`, Source: "pond-practice", Locator: "standpipe rim", Basis: "practice", Function: "plumbing.StandpipeFlow",
			Check: calculators.Explicit("Q [m3/s]: D [m] 0.05..0.11, H [m] head over the rim 0.002..0.01", StandpipeFlow)},
	}
	c.Example = calculators.Example{
		Story: "Ines cuts a notch of {width} into the side of her bottom box, its crest {room} below the rim, for the {flow} of her stack.",
		Pond:  "ines",
	}
	c.Lookup = calculators.Lookup{
		Caption: "How high the water rises over a notch with level crest and thin edge",
		Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "4000 L/h", "6000 L/h", "10000 L/h"}},
		Columns: calculators.Axis{Input: "width", Values: []string{"80 mm", "120 mm", "200 mm", "300 mm"}},
		Show:    []string{"rise"},
		Given:   []calculators.Arg{{Name: "room", Value: "60 mm"}},
	}
	c.Chart = calculators.Chart{
		Caption: "How high the water rises over an upright pipe",
		X:       "flow", From: "200 L/h", To: "4000 L/h",
		Series: calculators.Axis{Input: "bore", Values: []string{"50 mm", "75 mm", "104 mm"}},
		Show:   "rise",
		Given:  []calculators.Arg{{Name: "kind", Value: "standpipe"}, {Name: "room", Value: "60 mm"}},
	}
}

// clings is the head in m below which a stream clings to the edge that it falls
// over (figure set hydraulics-weir-flow: Rehbock's formula is for heads from it).
const clings = 0.03

// overflow is a checked set of inputs, in SI units; width is the bore of an
// upright pipe.
type overflow struct {
	kind        string
	thick       bool
	width, room float64
}

func computeOverflow(in calculators.Inputs) (calculators.Result, error) {
	o := overflow{kind: in.Choice("kind"), room: in.In("room", "m")}
	switch o.kind {
	case "standpipe":
		o.width = in.In("bore", "m")
	case "slot", "full-width":
		o.width, o.thick = in.In("width", "m"), in.Choice("edge") == "thick"
	}
	flow, wanted := in.In("flow", "m3/h")/3600, 1+in.In("spare", "%")/100
	rise := Spread{o.rise(flow, 2), o.rise(flow, 1), o.rise(flow, 0)}
	capacity := o.passes(o.counted(o.room))
	var r calculators.Result
	scaled(&r, "rise", rise, 1000)
	r.Between("left", 1000*(o.room-rise.High), 1000*(o.room-rise.Likely), 1000*(o.room-rise.Low))
	scaled(&r, "capacity", capacity, 3.6e6)
	r.Between("margin", 100*(capacity.Low/flow-1), 100*(capacity.Likely/flow-1), 100*(capacity.High/flow-1))
	r.Exactly("least-room", 1000*o.rise(wanted*flow, 0))
	if o.kind != "v-notch" {
		r.Exactly("least-width", 1000*o.leastWidth(wanted*flow))
	}
	o.words(&r, rise, capacity.Low/flow, wanted)
	r.Step("Over the crest at {3 L/h}", "{3 mm} ({3 mm} to {3 mm})", 3.6e6*flow, 1000*rise.Likely, 1000*rise.Low, 1000*rise.High)
	r.Step("With {3 mm} over the crest", "{3 L/h} ({3 L/h} to {3 L/h})", 1000*o.counted(o.room), 3.6e6*capacity.Likely, 3.6e6*capacity.Low, 3.6e6*capacity.High)
	return r, nil
}

// passes returns the flow in m3/s under a head in m.
func (o *overflow) passes(head float64) Spread {
	switch o.kind {
	case "v-notch":
		c := VNotchCoefficient()
		return Spread{VNotchFlow(c.Low, head), VNotchFlow(c.Likely, head), VNotchFlow(c.High, head)}
	case "standpipe":
		q := StandpipeFlow(o.width, head)
		return Spread{q, q, q}
	}
	c, narrowed := WeirCoefficient(o.thick), o.width
	if o.kind == "slot" {
		narrowed = ContractedWidth(o.width, head)
	}
	return Spread{WeirFlow(c.Low, narrowed, head), WeirFlow(c.Likely, narrowed, head), WeirFlow(c.High, o.width, head)}
}

// counted returns the head in m to count on: an upright pipe chokes above a
// fifth of its bore.
func (o *overflow) counted(head float64) float64 {
	if o.kind == "standpipe" {
		return min(head, o.width/5)
	}
	return head
}

// rise returns the head in m under which a flow passes: 0, by the lower end of
// passes; 1, by the likely one; 2, by the upper one.
func (o *overflow) rise(flow float64, end int) float64 {
	missing := func(head float64) float64 {
		q := o.passes(head)
		return [...]float64{q.Low, q.Likely, q.High}[end] - flow
	}
	high := 0.01
	for missing(high) < 0 {
		high *= 2 // every kind passes any flow under some head
	}
	head, _ := solve.Root(missing, 0, high)
	return head
}

// leastWidth returns the width or bore in m that passes a flow with the water at
// the rim.
func (o *overflow) leastWidth(flow float64) float64 {
	missing := func(width float64) float64 {
		other := overflow{kind: o.kind, thick: o.thick, width: width}
		return other.passes(other.counted(o.room)).Low - flow
	}
	high := 0.01
	for missing(high) < 0 {
		high *= 2
	}
	width, _ := solve.Root(missing, 0, high)
	return width
}

func (o *overflow) words(r *calculators.Result, rise Spread, share, wanted float64) {
	if rise.Likely < clings && o.kind != "standpipe" {
		r.Doubt("Under {least mm} the stream clings to the edge and the formula is less sure: leave a tenth more height.", 1000*clings)
	}
	if o.kind == "slot" && rise.Likely > o.width/3 {
		r.Flag("The water stands higher than a third of the notch's width, beyond what the formula was made for.")
	}
	if o.kind == "standpipe" {
		r.Flag("The figures for upright pipes are common practice; no published test of small ones was found.")
	}
	switch {
	case share < 1:
		r.Advise("With the outlet blocked the box may run over: make the overflow wider or its crest lower before you switch on.")
	case share < wanted:
		r.Advise("The overflow carries the flow, with less to spare than wanted: a leaf on the crest takes the rest.")
	}
	if o.kind == "standpipe" && rise.Likely > o.width/5 {
		r.Advise("The pipe chokes and gulps at this flow, and may stop for a while: take a wider one.")
	}
	r.Advise(
		"Try it: pump unplugged, stop the outlet with a bung. Plug in from a dry place and watch where the water goes. Unplug before you take the bung out.",
		"Water that runs over the overflow means a blocked outlet: clean it the same day.",
	)
}
