package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// The holes of collector pipes in waterworks, mm: awwa-asce-wtpd, pipe lateral
// guidelines, p. 8.22 (figure set hydraulics-manifold-rules).
const (
	waterworksLeast = 6.0
	waterworksMost  = 19.0
)

// CollectorPipe declares the calculator of a perforated pipe in the bottom box.
func CollectorPipe() calculators.Calculator {
	c := calculators.Calculator{
		ID: "collector",
		Inputs: []calculators.Input{
			{Name: "flow", Label: "Water through the box", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 100000, Origin: "sanity limit"},
				Help: "All that the pump brings to this box."},
			{Name: "pipes", Label: "Collector pipes", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 20, Origin: "sanity limit"}, Default: "1",
				Help: "Equal pipes side by side, each with its share of the flow."},
			{Name: "bore", Label: "Bore of a pipe", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 250, Origin: "sanity limit"},
				Help: "Inside diameter."},
			{Name: "length", Label: "Drilled length of a pipe", Kind: quantity.Length, Accept: calculators.Range{Low: 0.05, High: 10, Origin: "sanity limit"},
				Help: "From the closed end to the wall of the box."},
			{Name: "hole", Label: "Hole diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 2, High: 50, Origin: "sanity limit"}, Default: "10 mm",
				Help: calculators.Hint("Smaller than the smallest piece of media; {least ~} to {most mm} in waterworks.", waterworksLeast, waterworksMost)},
			{Name: "find", Label: "Find", Type: calculators.Choice, Default: "holes",
				Options: []calculators.Option{{Name: "holes", Label: "how many holes to drill"}, {Name: "head", Label: "the head for the holes I have"}},
				Help:    "The first for a new pipe, the second for one already drilled."},
			{Name: "head", Label: "Head to spare for the holes", Kind: quantity.Head, Unit: "mm", Accept: calculators.Range{Low: 1, High: 1000, Origin: "sanity limit"}, Default: "20 mm",
				When: calculators.When{Input: "find", Is: []string{"holes"}}, Help: "What the water may stand higher outside the pipe once the allowed share is blocked."},
			{Name: "count", Label: "Holes in a pipe", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 2000, Origin: "sanity limit"},
				When: calculators.When{Input: "find", Is: []string{"head"}}, Help: "Only those that lie under water."},
			{Name: "blocked", Label: "Share of holes to allow as blocked", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 0, High: 95, Origin: "sanity limit"}, Default: "50 %",
				Help: "Half: nobody sees these holes before the box runs over."},
			{Name: "wall", Label: "Thickness of the pipe's wall", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0.3, High: 30, Origin: "sanity limit"}, Default: "2 mm",
				Help: "It matters when it is more than half the hole."},
			{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, Default: "15 Cel",
				Help: "It matters by a hundredth."},
		},
		Outputs: []calculators.Output{
			{Name: "holes", Label: "Holes in each pipe, under water", Unit: "1", Digits: 3, Whole: true},
			{Name: "head-clean", Label: "Water stands higher than at the outlet, all holes open", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}},
			{Name: "head-blocked", Label: "The same with the allowed share blocked", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}},
			{Name: "holes-clean", Label: "Of that over the holes, all open", Unit: "mm", Digits: 2, Fine: true},
			{Name: "holes-blocked", Label: "Over the holes with the allowed share blocked", Unit: "mm", Digits: 2, Fine: true},
			{Name: "pipe", Label: "Of that in the pipe", Unit: "mm", Digits: 2, Fine: true},
			{Name: "velocity", Label: "Velocity at the outlet of a pipe", Unit: "m/s", Digits: 2},
			{Name: "area-share", Label: "Area of all holes, of the bore's", Unit: "%", Digits: 2, Fine: true},
		},
		Compute: computeCollector,
	}
	if calculators.Documented {
		documentCollector(&c)
	}
	return c
}

func documentCollector(c *calculators.Calculator) {
	c.Title = "Collector pipe in the bottom box"
	c.Question = "How many holes does the pipe need that gathers the water in the bottom box, and how much higher does the water stand there?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Tools, calculators.Spill}
	c.Cautions = []string{
		"Put a cap on the pipe's end so that you can clean it.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Head over the holes", Says: "The orifice equation solved for the head; holes under water pass about what holes in air do.",
			TeX: `h = \frac{1}{2g}\left(\frac{Q}{C_d A}\right)^2`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.OrificeHead",
			Check: calculators.Explicit("h [m] head over the holes: C_d [1] 0.6..0.8, A [m2] area of the holes 0.0001..0.01, Q [m3/s] flow through the holes 0.0001..0.005, g [m/s2] 9.80665", func(cd, area, flow, _ float64) float64 { return OrificeHead(cd, area, flow) })},
		{Name: "Blocked holes", Says: "Half of the holes blocked needs four times the head.",
			TeX: `h_s = \frac{h}{(1-s)^2}`, Source: "mn-ostp", Locator: "Table E-6 perforation discharge", Basis: "published", Function: "plumbing.BlockedFactor",
			Check: calculators.Explicit("h_s [m] head when holes are blocked: h [m] head with all holes open 0.005..0.2, s [1] share of the holes blocked 0..0.9", func(head, blocked float64) float64 { return head * BlockedFactor(blocked) })},
		{Name: "Loss in the collector", Says: "Friction of a flow that grows along the pipe, and one to two velocity heads to set the water moving.",
			TeX: `h = \left(F f\frac{L}{D} + k\right)\frac{V^2}{2g}`, Basis: "practice", Function: "plumbing.CollectorLoss",
			Check: calculators.Explicit("h [m], F [1] Christiansen's factor: f [1] friction factor 0.02..0.15, L [m] 0.2..1, D [m] 0.03..0.1, - [1] 5..60, k [1] velocity heads that set the water moving 1..2, V [m/s] 0.05..1, g [m/s2] 9.80665", func(f, length, bore, holes, heads, v, _ float64) (loss, factor float64) {
				return CollectorLoss(f, length, bore, holes, heads, v), ChristiansenFactor(2, holes)
			})},
		{Name: "Friction of a drilled pipe", Says: "One to four times that of the plain pipe: a code of practice doubles Manning's n for drilled pipe.",
			TeX: `f \le f_p \le 4\,f`, Source: "austin-dcm", Locator: "Table 5-2", Basis: "published", Function: "plumbing.PerforatedFriction",
			Check: calculators.Explicit("f_p [1] friction factor of the drilled pipe: f [1] friction factor of the plain pipe 0.01..0.08", func(f float64) Spread { return PerforatedFriction(Spread{f, f, f}) })},
	}
	c.Example = calculators.Example{
		Story: "Under the grid of her bottom box Ines lays a pipe of {bore} bore and {length} length, with holes of {hole}, for {flow}.",
		Pond:  "ines",
	}
	given := []calculators.Arg{{Name: "bore", Value: "57 mm"}, {Name: "length", Value: "0.5 m"}}
	c.Lookup = calculators.Lookup{
		Caption: "Holes in one pipe of {bore} bore, {head} of head over them with half of them blocked",
		Rows:    calculators.Axis{Input: "flow", Values: []string{"1000 L/h", "2000 L/h", "4000 L/h", "6000 L/h"}},
		Columns: calculators.Axis{Input: "hole", Values: []string{"6 mm", "8 mm", "10 mm", "12 mm"}},
		Show:    []string{"holes"}, Given: given,
	}
	c.Chart = calculators.Chart{
		Caption: "How much higher the water stands as {count} holes of {hole} block, one pipe of {bore} bore",
		X:       "blocked", From: "0 %", To: "80 %",
		Series: calculators.Axis{Input: "flow", Values: []string{"2000 L/h", "4000 L/h"}},
		Show:   "head-blocked",
		Given:  calculators.With(calculators.With(given, calculators.Arg{Name: "find", Value: "head"}), calculators.Arg{Name: "count", Value: "60"}),
	}
}

func computeCollector(in calculators.Inputs) (calculators.Result, error) {
	flow := in.In("flow", "m3/h") / 3600 / in.In("pipes", "1")
	c := Collector{Bore: in.In("bore", "m"), Length: in.In("length", "m")}
	hole, blocked := in.In("hole", "m"), in.In("blocked", "%")/100
	if hole > 0.9*c.Bore {
		return calculators.Result{}, calculators.Refuse("hole", "is as wide as the pipe", "a hole well under the bore of {bore 3 mm}", "take a smaller drill or a wider pipe", 1000*c.Bore)
	}
	cd, area := DischargeCoefficient(in.In("wall", "m"), hole), CircleArea(hole)
	if in.Choice("find") == "head" {
		c.Holes = in.In("count", "1")
	} else {
		c.Holes = HolesFor(flow, OrificeFlow(cd.Likely, area, in.In("head", "m")), blocked)
	}
	v := Pipe{Bore: c.Bore}.Velocity(flow)
	re := Reynolds(v, c.Bore, KinematicViscosity(in.In("temperature", "Cel")))
	smooth, slimed := Friction(re, 0.01e-3/c.Bore), Friction(re, 0.3e-3/c.Bore)
	c.Friction = PerforatedFriction(Spread{smooth.Low, Friction(re, 0.05e-3/c.Bore).Likely, slimed.High})
	pipe := c.Loss(flow)
	likely := OrificeHead(cd.Likely, c.Holes*area, flow)
	cd = Widen(cd, hole, likely)
	clean := Spread{OrificeHead(cd.High, c.Holes*area, flow), likely, OrificeHead(cd.Low, c.Holes*area, flow)}
	worse := BlockedFactor(blocked)

	var r calculators.Result
	r.Exactly("holes", c.Holes)
	r.Between("head-clean", 1000*(clean.Low+pipe.Low), 1000*(clean.Likely+pipe.Likely), 1000*(clean.High+pipe.High))
	r.Between("head-blocked", 1000*(worse*clean.Low+pipe.Low), 1000*(worse*clean.Likely+pipe.Likely), 1000*(worse*clean.High+pipe.High))
	scaled(&r, "holes-clean", clean, 1000)
	scaled(&r, "holes-blocked", clean, 1000*worse)
	scaled(&r, "pipe", pipe, 1000)
	r.Exactly("velocity", v)
	share := c.Holes * area / CircleArea(c.Bore)
	r.Exactly("area-share", 100*share)
	c.words(&r, &pipe, &clean, hole)
	r.Step("Over the holes, all open", "({3 L/min} / ({2} × {0} × {3 mm2}))² / (2 × 9.80665 m/s²) = {2 mm}", 60000*flow, cd.Likely, c.Holes, 1e6*area, 1000*likely)
	r.Step("With {~3 %} blocked", "{3} × {2 mm} = {2 mm}", 100*blocked, worse, 1000*likely, 1000*worse*likely)
	r.Step("In the pipe", "({3} × {2} × {3 m} / {3 m} + 2) × ({3 m/s})² / (2 × 9.80665 m/s²) = {2 mm}", ChristiansenFactor(2, c.Holes), c.Friction.Likely, c.Length, c.Bore, v, 1000*pipe.Likely)
	return r, nil
}

func (c *Collector) words(r *calculators.Result, pipe, clean *Spread, hole float64) {
	if hole < smallHole || clean.Likely < 0.005 {
		r.Doubt("Holes under {least mm}, or a head over them of a few millimetres: surface tension and slime make the head uncertain, twice as much is possible.", 1000*smallHole)
	}
	if pipe.Likely > clean.Likely {
		r.Advise("More head goes in the pipe than over its holes: most of the water then enters near the outlet. Take a wider pipe or two of them.")
	}
	if n := c.Holes / 4; n > 1 && c.Length/n < 1.5*hole {
		r.Advise("So many holes weaken the pipe, even in four rows: take a longer or wider pipe, or two of them.")
	}
	r.Advise(
		"The blocked figure is how much higher the water may stand in the box than in its outlet: keep the overflow and the rim above that.",
		"All the holes must lie under water, on the sides and the lower half: a hole in air draws air and chokes the outlet.",
		"Lead a capped end up and out of the box: a hose through it flushes the pipe without unpacking the media.",
	)
}
