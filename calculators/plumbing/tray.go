package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// mostHoles is the count beyond which a tray is no longer drilled by hand.
const mostHoles = 5000

// HolesPerTray declares the calculator that finds how many holes a tray needs,
// or how high the water stands over the holes it has.
func HolesPerTray() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "holes-per-tray",
		Inputs:  trayInputs(),
		Outputs: trayOutputs(),
		Compute: computeTray,
	}
	if calculators.Documented {
		c.Title = "Holes in a tray"
		c.Question = "How many holes of which size pass the water, and how high does it stand when some are blocked?"
		c.Part = "filtration"
		c.Formulas = trayFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Tools, calculators.Spill}
		c.Cautions = []string{
			"Look at the trays every week.",
		}
		c.Example = calculators.Example{
			Story: "Each tray of Ines's stack takes the {flow} of her pump. She drills floors and lids, {length} by {width} inside, with a bit of {hole}. The recess of a lid holds {side} of water up to its spill edge.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Holes to drill for {head} of water with a third of them blocked (floor {floor} thick)",
			Rows:    calculators.Axis{Input: "hole", Values: []string{"5 mm", "6 mm", "8 mm", "10 mm", "12 mm"}},
			Columns: calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "3000 L/h", "4000 L/h", "6000 L/h"}},
			Show:    []string{"holes"},
			Pond:    "ines", Given: []calculators.Arg{{Name: "head", Value: "60 mm"}, {Name: "side"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Water over {count} holes at {flow} as they block",
			X:       "blocked", From: "0 %", To: "75 %",
			Series: calculators.Axis{Input: "hole", Values: []string{"6 mm", "8 mm"}},
			Show:   "head-blocked",
			Pond:   "ines",
			Given:  []calculators.Arg{{Name: "find", Value: "head"}, {Name: "count", Value: "45"}, {Name: "flow", Value: "2000 L/h"}, {Name: "side"}},
		}
	}
	return c
}

func trayInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "flow", Label: "Water to the tray", Kind: quantity.Flow, Accept: calculators.Range{Low: 1, High: 100000, Origin: "sanity limit"},
			Help: "What falls onto this one tray, by bucket and watch; with two stacks, half of the flow."},
		{Name: "find", Label: "Find", Type: calculators.Choice, Default: "holes",
			Options: []calculators.Option{{Name: "holes", Label: "how many holes to drill"}, {Name: "head", Label: "how high the water stands over the holes I have"}, {Name: "stopped", Label: "how many of them are blocked, by the water that stands on the tray"}},
			Help:    "The first for a new tray, the others for one already drilled."},
		{Name: "drill", Label: "Drill", Type: calculators.Choice, Default: "own-size", Options: drillOptions(),
			Help: "The bit you have; for any other hole choose own size."},
		{Name: "hole", Label: "Hole diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 100, Origin: "sanity limit"}, Default: "8 mm",
			When: calculators.When{Input: "drill", Is: []string{"own-size"}},
			Help: calculators.Hint("The size stamped on the bit; holes under {least mm} block in days.", 1000*smallHole)},
		{Name: "floor", Fact: "box-wall", Label: "Thickness of the floor", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0.1, High: 50, Origin: "sanity limit"}, Default: "3 mm",
			Help: "Measured at the first hole; it matters only when it is more than half the hole."},
		{Name: "head", Label: "Wanted depth of water on the tray", Kind: quantity.Head, Unit: "mm", Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"}, Default: "60 mm",
			When: calculators.When{Input: "find", Is: []string{"holes"}},
			Help: "How high the water may stand once the allowed share of holes is blocked."},
		{Name: "count", Label: "Holes in the tray", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: mostHoles, Origin: "sanity limit"}, Default: "50",
			When: calculators.When{Input: "find", Is: []string{"head", "stopped"}},
			Help: "Count one row and multiply by the rows."},
		{Name: "depth", Label: "Water on the tray now", Kind: quantity.Head, Unit: "mm", Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"},
			When: calculators.When{Input: "find", Is: []string{"stopped"}},
			Help: "Measured from the floor, in the middle, with the pump running."},
		{Name: "mark", Label: "Water when its holes were clean", Kind: quantity.Head, Unit: "mm", Optional: true, Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"},
			When: calculators.When{Input: "find", Is: []string{"stopped"}},
			Help: "The line you marked, at the same flow. It narrows the answer most."},
		{Name: "length", Fact: "box-length", Label: "Length of the floor inside", Kind: quantity.Size, Accept: calculators.Range{Low: 20, High: 5000, Origin: "sanity limit"},
			Help: "Measured on the floor, not at the rim: boxes taper."},
		{Name: "width", Fact: "box-width", Label: "Width of the floor inside", Kind: quantity.Size, Accept: calculators.Range{Low: 20, High: 5000, Origin: "sanity limit"},
			Help: "Measured on the floor, across the length."},
		{Name: "margin", Label: "Kept free along the walls", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"}, Default: "20 mm",
			Help: "From the wall to the middle of the outermost holes; a floor cracks easily near the wall."},
		{Name: "side", Fact: "spill-depth", Label: "Depth to the spill edge", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 3000, Origin: "sanity limit"}, Optional: true,
			Help: "From the floor up to where water would run over: rim, recess of a lid, or overflow hole."},
		{Name: "blocked", Label: "Share of holes to allow as blocked", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}, Default: "33 %",
			Help: "A third is common practice between two cleanings."},
		{Name: "coefficient", Label: "Discharge coefficient", Kind: quantity.Number, Fine: true, Accept: calculators.Range{Low: 0.3, High: 1, Origin: "sanity limit"}, Optional: true,
			Help: "Leave it empty unless you measured it with bucket and watch."},
	}
}

// drill is a bit by name with the hole it makes in mm.
type drill struct {
	_           calculators.Incomparable
	name, label string
	millimetres float64
}

// drills lists the bits a keeper has, metric and by the inch (exactly 25.4 mm).
func drills() []drill {
	const inch = 25.4
	return []drill{
		{name: "5-mm", label: "5 mm", millimetres: 5}, {name: "6-mm", label: "6 mm", millimetres: 6}, {name: "8-mm", label: "8 mm", millimetres: 8}, {name: "10-mm", label: "10 mm", millimetres: 10}, {name: "12-mm", label: "12 mm", millimetres: 12},
		{name: "1-4-in", label: "1/4 in", millimetres: inch / 4}, {name: "5-16-in", label: "5/16 in", millimetres: inch * 5 / 16}, {name: "3-8-in", label: "3/8 in", millimetres: inch * 3 / 8}, {name: "1-2-in", label: "1/2 in", millimetres: inch / 2},
	}
}

func drillOptions() []calculators.Option {
	options := []calculators.Option{{Name: "own-size", Label: "own size"}}
	for _, d := range drills() {
		options = append(options, calculators.Option{Name: d.name, Label: d.label})
	}
	return options
}

// holeDiameter returns the hole in mm, from the drill or as measured.
func holeDiameter(in calculators.Inputs) float64 {
	for _, d := range drills() {
		if d.name == in.Choice("drill") {
			return d.millimetres
		}
	}
	return in.In("hole", "mm")
}

func trayOutputs() []calculators.Output {
	inches := []string{"[in_i]"}
	return []calculators.Output{
		{Name: "stopped", Label: "Holes that are blocked now", Unit: "%", Digits: 2},
		{Name: "open", Label: "Holes still open", Unit: "1", Digits: 2, Whole: true},
		{Name: "holes", Label: "Holes", Unit: "1", Digits: 2, Whole: true, Help: "Enough to pass the flow at the wanted depth with the allowed share blocked. The range comes from how cleanly a hole runs."},
		{Name: "head-clean", Label: "Depth of water, all holes open", Unit: "mm", Digits: 2, Whole: true, Also: inches},
		{Name: "head-blocked", Label: "Depth of water with the allowed share blocked", Unit: "mm", Digits: 2, Whole: true, Also: inches},
		{Name: "head-half", Label: "Depth of water with half of the holes blocked", Unit: "mm", Digits: 2, Whole: true, Also: inches, Help: "Four times the depth of the clean tray."},
		{Name: "reserve", Label: "Left below the spill edge with the allowed share blocked", Unit: "mm", Digits: 2, Whole: true, Also: inches, Help: "Less than nothing means that the tray runs over."},
		{Name: "drain-down", Label: "Water on the tray that drains down when the pump stops", Unit: "L", Digits: 2, Help: "With the allowed share blocked; add up the trays and keep that room free in the bottom box or the pond."},
		{Name: "pitch-staggered", Label: "Hole to hole, staggered rows", Unit: "mm", Digits: 2, Whole: true, Also: inches, Help: calculators.Hint("Every second row moved by half a pitch, rows {apart 2} pitch apart. Spreads the water best.", math.Sqrt(3)/2)},
		{Name: "pitch-square", Label: "Hole to hole, square pattern", Unit: "mm", Digits: 2, Whole: true, Fine: true, Also: inches},
		{Name: "flow-per-hole", Label: "Flow through one open hole at the wanted depth", Unit: "L/min", Digits: 2, Fine: true, Help: "For a tray you have, at the depth with the allowed share blocked. Catch one jet in a jug for a minute to check."},
		{Name: "open-area", Label: "Area of all holes", Unit: "cm2", Digits: 3, Fine: true},
		{Name: "open-share", Label: "Holes as a share of the floor", Unit: "%", Digits: 2, Fine: true},
	}
}

func trayFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Orifice equation", Says: "The flow through a hole grows with its area and with the square root of the depth above it; for a free jet from a drilled hole.",
			TeX: `Q = C_d A \sqrt{2 g h}`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.OrificeFlow",
			Check: calculators.Explicit("Q [m3/s] flow through the holes: C_d [1] 0.6..0.8, A [m2] area of the holes 0.00001..0.01, h [m] depth over the holes 0.005..0.5, g [m/s2] 9.80665", func(cd, area, head, _ float64) float64 { return OrificeFlow(cd, area, head) })},
		{Name: "Depth over the holes", Says: "The orifice equation solved for the depth: twice the flow needs four times the depth.",
			TeX: `h = \frac{1}{2g}\left(\frac{Q}{C_d A}\right)^2`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.OrificeHead",
			Check: calculators.Explicit("h [m] depth over the holes: C_d [1] 0.6..0.8, A [m2] area of the holes 0.0001..0.01, Q [m3/s] flow through the holes 0.0001..0.005, g [m/s2] 9.80665", func(cd, area, flow, _ float64) float64 { return OrificeHead(cd, area, flow) })},
		{Name: "Blocked holes", Says: "How many times deeper the water stands when a share s of the holes is blocked: half of them, four times.",
			TeX: `h_s = \frac{h}{(1-s)^2}`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.BlockedFactor",
			Check: calculators.Explicit("h_s [m] depth when holes are blocked: h [m] depth with all holes open 0.005..0.2, s [1] share of the holes blocked 0..0.9", func(head, blocked float64) float64 { return head * BlockedFactor(blocked) })},
		{Name: "Holes that are blocked", Says: "The share s of n holes that no longer passes water, by the depth that stands over them; by the depth of the clean tray, the same without flow and holes.",
			TeX: `s = 1 - \frac{Q}{n C_d A \sqrt{2 g h}},\quad s_0 = 1 - \sqrt{\frac{h_0}{h}}`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.BlockedShare",
			Check: calculators.Explicit("s [1] share of the holes blocked, s_0 [1] share blocked by the mark: Q [m3/s] flow through the holes 0.0001..0.001, n [1] holes in the tray 50..200, C_d [1] 0.6..0.8, A [m2] area of one hole 0.00003..0.0001, h [m] depth over the holes 0.02..0.2, g [m/s2] 9.80665, h_0 [m] depth with all holes open 0.002..0.02", func(flow, holes, cd, area, head, _, clean float64) (share, marked float64) {
				return BlockedShare(OrificeHead(cd, holes*area, flow), head), BlockedShare(clean, head)
			})},
		{Name: "Discharge coefficient", Says: "0.60 to 0.62 for a floor thinner than half the hole, rising to 0.61 to 0.80 for a floor as thick as the hole.",
			TeX: `0.60 \le C_\mathrm{thin} \le 0.62,\quad 0.61 \le C_\mathrm{thick} \le 0.80`, Source: "orifice-eq-note", Locator: "typical tube", Basis: "published", Function: "plumbing.DischargeCoefficient",
			Check: calculators.Explicit("C_thin [1] discharge coefficient of a thin floor, C_thick [1] discharge coefficient of a thick floor", func() (thin, thick Spread) { return DischargeCoefficient(0.5, 1), DischargeCoefficient(1, 1) })},
	}
}

// tray is a checked set of inputs, in SI units.
type tray struct {
	flow, hole, blocked float64
	area                float64 // of the whole floor
	floor               Floor
	cd                  Spread
	count               Spread
}

func computeTray(in calculators.Inputs) (calculators.Result, error) {
	t, err := readTray(in)
	if err != nil {
		return calculators.Result{}, err
	}
	heads := t.heads()
	staggered, square := t.floor.StaggeredPitch(t.count.Likely), t.floor.SquarePitch(t.count.Likely)
	area := t.count.Likely * CircleArea(t.hole)
	var r calculators.Result
	if in.Choice("find") == "stopped" {
		t.stopped(in, &r)
	}
	r.Between("holes", t.count.Low, t.count.Likely, t.count.High)
	scaled(&r, "head-clean", heads.clean, 1000)
	scaled(&r, "head-blocked", heads.blocked, 1000)
	scaled(&r, "head-half", heads.half, 1000)
	scaled(&r, "drain-down", heads.blocked, 1000*t.area)
	r.Exactly("pitch-staggered", 1000*staggered)
	r.Exactly("pitch-square", 1000*square)
	scaled(&r, "flow-per-hole", t.perHole(in, heads), 60000)
	r.Exactly("open-area", 1e4*area)
	r.Exactly("open-share", 100*area/t.area)
	if in.Has("side") {
		side := in.In("side", "m")
		r.Between("reserve", 1000*(side-heads.blocked.High), 1000*(side-heads.blocked.Likely), 1000*(side-heads.blocked.Low))
	}
	t.flag(&r, heads)
	t.advise(in, &r, heads, math.Max(staggered, square))
	t.work(in, &r, heads)
	if in.Choice("find") != "stopped" { // the depth with some blocked is not what stands there
		r.Scale = t.scale(in)
	}
	return r, nil
}

func readTray(in calculators.Inputs) (*tray, error) {
	length, width, margin := in.In("length", "m"), in.In("width", "m"), in.In("margin", "m")
	t := &tray{
		flow: in.In("flow", "m3/h") / 3600, hole: holeDiameter(in) / 1000, blocked: in.In("blocked", "%") / 100,
		area: length * width, floor: Floor{length - 2*margin, width - 2*margin},
	}
	if t.floor.Length <= 0 || t.floor.Width <= 0 {
		return nil, calculators.Refuse("margin", "leaves no floor to drill",
			"less than half the shorter side, {half 3 mm}", "check length and width, or keep less free", 500*math.Min(length, width))
	}
	t.cd = DischargeCoefficient(in.In("floor", "m"), t.hole)
	if in.Has("coefficient") {
		c := in.In("coefficient", "1")
		t.cd = Spread{c, c, c}
	}
	if in.Choice("find") != "holes" {
		n := in.In("count", "1")
		t.count = Spread{n, n, n}
		return t, nil
	}
	return t, t.size(in.In("head", "m"))
}

// size gives the tray the holes it needs for a depth of water in m.
func (t *tray) size(head float64) error {
	cd := Widen(t.cd, t.hole, head/BlockedFactor(t.blocked))
	need := func(c float64) float64 {
		return HolesFor(t.flow, OrificeFlow(c, CircleArea(t.hole), head), t.blocked)
	}
	t.count = Spread{need(cd.High), need(cd.Likely), need(cd.Low)}
	if t.count.High > mostHoles {
		return calculators.Refuse("hole", "is so small that the tray needs {holes 0} holes",
			"at most {most 0} holes", "take a larger drill, a greater depth of water or less flow", t.count.Likely, mostHoles)
	}
	return nil
}

// trayHeads are the depths of water in m.
type trayHeads struct{ clean, blocked, half Spread }

func (t *tray) heads() *trayHeads {
	return &trayHeads{t.head(0), t.head(t.blocked), t.head(0.5)}
}

// head returns the depth over the likely count of holes with a share blocked.
func (t *tray) head(blocked float64) Spread {
	open := t.count.Likely * CircleArea(t.hole) * (1 - blocked)
	likely := OrificeHead(t.cd.Likely, open, t.flow)
	cd := Widen(t.cd, t.hole, likely)
	return Spread{OrificeHead(cd.High, open, t.flow), likely, OrificeHead(cd.Low, open, t.flow)}
}

func (t *tray) flowPerHole(head float64) float64 {
	return OrificeFlow(t.cd.Likely, CircleArea(t.hole), head)
}

func (t *tray) perHole(in calculators.Inputs, h *trayHeads) Spread {
	depth := h.blocked.Likely
	if in.Choice("find") == "holes" {
		depth = in.In("head", "m")
	}
	cd, area := Widen(t.cd, t.hole, depth), CircleArea(t.hole)
	return Spread{OrificeFlow(cd.Low, area, depth), OrificeFlow(cd.Likely, area, depth), OrificeFlow(cd.High, area, depth)}
}

// flagSmall says what surface tension does to a hole of a diameter in m.
func flagSmall(r *calculators.Result, hole float64) {
	if hole < smallHole {
		r.Doubt("The holes are under {least mm}: surface tension makes the flow uncertain by up to {doubt %}, and such holes block within days.", 1000*smallHole, 100*surfaceTensionDoubt)
	}
}

func (t *tray) flag(r *calculators.Result, h *trayHeads) {
	flagSmall(r, t.hole)
	if h.clean.Likely < lowHead {
		r.Doubt("With all holes open the water stands under {least mm}: surface tension makes the flow uncertain by up to {doubt %}, and on a tray that is not level some holes run dry.", 1000*lowHead, 100*surfaceTensionDoubt)
	}
}

func (t *tray) advise(in calculators.Inputs, r *calculators.Result, h *trayHeads, pitch float64) {
	if in.Has("side") {
		switch side := in.In("side", "m"); {
		case h.clean.High > side:
			r.Advise("The tray may run over with all its holes open: drill more or larger holes, or take a higher side.")
		case h.blocked.High > side:
			r.Advise("The tray may run over once the allowed share of holes is blocked: drill more or larger holes, or take a higher side.")
		case h.half.High > side:
			r.Advise("The tray may run over once half of the holes are blocked: clean it before then, and lead the overflow back to the pond.")
		}
	} else {
		r.Say("Check that the spill edge of the tray lies above {depth 0 mm}, the depth with half of the holes blocked.", 1000*h.half.High)
	}
	if n := t.count.Likely; n > 1 && pitch < 2*t.hole {
		r.Advise("So many holes do not fit: less than one hole's width of floor would be left between them. Take fewer, larger holes or less flow.")
	}
	r.Advise(
		"Twice the depth of the clean tray means that three holes in ten are blocked; four times, half of them. Mark the clean depth on the side.",
		"Take the burr off every hole on the upper side: a burred edge passes about a tenth less.",
	)
}

func (t *tray) work(in calculators.Inputs, r *calculators.Result, h *trayHeads) {
	area := CircleArea(t.hole)
	r.Step("Area of one hole", "π/4 × ({3 mm})² = {3 mm2}", 1000*t.hole, 1e6*area)
	r.Step("Discharge coefficient", "{2} ({2} to {2})", t.cd.Likely, t.cd.Low, t.cd.High)
	if in.Choice("find") == "holes" {
		head := in.In("head", "m")
		q := 60000 * t.flowPerHole(head)
		r.Step("One hole at {3 mm}", "{2} × {3 mm2} × √(2 × 9.80665 m/s² × {3 m}) = {3 L/min}", 1000*head, t.cd.Likely, 1e6*area, head, q)
		r.Step("Holes", "{3 L/min} / ({3 L/min} × (1 − {2})), rounded up = {0}", 60000*t.flow, q, t.blocked, t.count.Likely)
	}
	r.Step("Depth, all open", "({3 L/min} / ({2} × {3 cm2}))² / (2 × 9.80665 m/s²) = {0 mm}", 60000*t.flow, t.cd.Likely, t.count.Likely*area*1e4, 1000*h.clean.Likely)
	r.Step("Depth, half blocked", "{0 mm} / (1 − 0.5)² = {0 mm}", 1000*h.clean.Likely, 1000*h.half.Likely)
}

// scale draws the depth against the least one that runs evenly and the edge of
// the tray.
func (t *tray) scale(in calculators.Inputs) calculators.Scale {
	s := calculators.Scale{Output: "head-blocked", Marks: []calculators.Mark{
		{Value: 1000 * lowHead, Label: "below this the holes run unevenly", Basis: "practice"},
	}}
	if in.Has("side") && in.In("side", "m") > lowHead {
		s.Marks = append(s.Marks, calculators.Mark{Value: in.In("side", "mm"), Label: "spill edge of this tray", Basis: "practice"})
	}
	return s
}
