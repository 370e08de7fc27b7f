package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
)

// outlet is a checked set of inputs, in SI units.
type outlet struct {
	kind            string
	flow, count     float64
	pipe            Pipe // bore only, unless short
	head, viscosity float64
	n               Spread
	slope, fill     float64
}

func computeOutlet(in calculators.Inputs) (calculators.Result, error) {
	o := readOutlet(in)
	one := o.carries(o.pipe.Bore)
	each, area := o.flow/o.count, CircleArea(o.pipe.Bore)
	var r calculators.Result
	scaled(&r, "capacity", one, 3.6e6*o.count)
	share := func(capacity float64) float64 { return 100 * (capacity*o.count/o.flow - 1) }
	r.Between("margin", share(one.Low), share(one.Likely), share(one.High))
	if o.count > 1 {
		scaled(&r, "one-blocked", one, 3.6e6*(o.count-1))
	}
	wanted := 1 + in.In("spare", "%")/100
	if bore := o.leastBore(wanted); bore < widestOutlet {
		r.Exactly("least-bore", 1000*bore)
	}
	switch o.kind {
	case "short":
		low, likely, high := o.pipe.HeadLoss(each, o.viscosity)
		if likely.Total() >= o.pipe.Bore/2 { // less leaves the pipe part empty, and the formula says nothing
			r.Between("needed", 1000*low.Total(), 1000*likely.Total(), 1000*high.Total())
		}
		r.Exactly("velocity", each/area)
	case "sloping":
		depth := Spread{NormalDepth(each, o.n.Low, o.pipe.Bore, o.slope), NormalDepth(each, o.n.Likely, o.pipe.Bore, o.slope), NormalDepth(each, o.n.High, o.pipe.Bore, o.slope)}
		r.Exactly("velocity", each/(CircleSegment(depth.Likely).Area*o.pipe.Bore*o.pipe.Bore))
		scaled(&r, "depth", depth, 100)
		full := func(n float64) float64 { return 3.6e6 * o.count * ManningFlow(n, o.pipe.Bore, o.slope, 1) }
		r.Between("full-bore", full(o.n.High), full(o.n.Likely), full(o.n.Low))
	default:
		r.Exactly("velocity", each/area)
	}
	o.flag(&r)
	o.advise(&r, &one, wanted)
	o.work(&r, &one)
	return r, nil
}

func readOutlet(in calculators.Inputs) *outlet {
	o := &outlet{kind: in.Choice("kind"), flow: in.In("flow", "m3/h") / 3600, count: in.In("outlets", "1")}
	switch o.kind {
	case "short":
		o.pipe, o.head = readRun(in), in.In("head", "m")
		o.viscosity = KinematicViscosity(in.In("temperature", "Cel"))
		k := Entrance()
		o.pipe.Fittings.Low += k.Low
		o.pipe.Fittings.Likely += k.Likely
		o.pipe.Fittings.High += k.High
	case "sloping":
		o.slope, o.fill, o.n = in.In("fall", "%")/100, in.In("fill", "%")/100, ManningCoefficient(in.Choice("inside"))
		if in.Choice("inside") == "own" {
			n := in.In("manning", "1")
			o.n = Spread{n, n, n}
		}
	}
	o.pipe.Bore = in.In("bore", "m")
	return o
}

// carries returns what one outlet carries, in m3/s, if it had another bore in m.
func (o *outlet) carries(bore float64) Spread {
	return Spread{o.carriesAt(Low, bore), o.carriesAt(Likely, bore), o.carriesAt(High, bore)}
}

// carriesAt returns one end of carries.
func (o *outlet) carriesAt(end End, bore float64) float64 {
	switch o.kind {
	case "short":
		p := o.pipe
		p.Bore = bore
		return p.FlowUnder(end, o.head, o.viscosity)
	case "sloping":
		return ManningFlow(o.n.At(High-end), bore, o.slope, o.fill)
	}
	return SelfVentingFlow(bore)
}

// widestOutlet is the bore in m up to which a least bore is sought.
const widestOutlet = 1.0

// leastBore returns the bore in m at which the outlets carry the flow times a
// factor at the lower end of their range, but LeastOutlet at least.
func (o *outlet) leastBore(factor float64) float64 {
	short := func(bore float64) float64 { return o.carriesAt(Low, bore)*o.count - factor*o.flow }
	if short(LeastOutlet) >= 0 {
		return LeastOutlet
	}
	if short(widestOutlet) <= 0 {
		return widestOutlet
	}
	bore, _ := solve.Root(short, LeastOutlet, widestOutlet)
	return bore
}

func (o *outlet) flag(r *calculators.Result) {
	if o.pipe.Bore < LeastOutlet {
		r.Doubt("The bore is under {least mm}, less than common practice allows for an outlet whatever the sum says: one leaf closes it.", 1000*LeastOutlet)
	}
	switch {
	case o.kind == "short" && o.head < 1.5*o.pipe.Bore:
		r.Flag("With less water over the outlet's middle than one and a half bores it draws air in a whirl and carries less than this.")
	case o.kind == "short":
		o.pipe.flag(r, Reynolds(o.pipe.Velocity(o.flow/o.count), o.pipe.Bore, o.viscosity))
	case o.kind == "drop":
		r.Flag("Drain codes allow more in vented stacks; this is the flow at which a plain open pipe still runs quietly.")
	}
}

func (o *outlet) advise(r *calculators.Result, one *Spread, wanted float64) {
	switch most := one.Low * o.count; {
	case most < o.flow:
		r.Say("The box may run over: the outlets carry {least 2 L/h} at the lower end of the range, and the pump brings {flow 2 L/h}. Fit wider or more outlets before you switch on.", 3.6e6*most, 3.6e6*o.flow)
	case most < wanted*o.flow:
		r.Advise("The outlets carry the flow, with less to spare than wanted: slime and leaves will take the rest.")
	}
	switch {
	case o.count == 1:
		r.Advise("Fit a second outlet: a single one that blocks empties the pond onto the ground.")
	case one.Low*(o.count-1) < o.flow:
		r.Advise("With one outlet blocked the others do not carry the flow: the box then depends on its overflow.")
	}
	r.Advise("Cover the way in with a coarse grid of several times the pipe's area, and clean it every week.")
}

func (o *outlet) work(r *calculators.Result, one *Spread) {
	mm := 1000 * o.pipe.Bore
	switch o.kind {
	case "short":
		k := o.pipe.Fittings
		v := o.pipe.Velocity(one.Likely)
		loss := o.pipe.LossAt(Likely, one.Likely, o.viscosity)
		r.Step("Sum of K, way in and open end included", "{3} ({3} to {3})", k.Likely, k.Low, k.High)
		r.Step("One outlet", "{3 m/s} × π/4 × ({3 mm})² = {3 L/h}", v, mm, 3.6e6*one.Likely)
		r.Step("Friction and fittings", "{2 mm} + {2 mm} = {3 mm}", 1000*loss.Friction, 1000*loss.Fittings, 1000*loss.Total())
	case "sloping":
		s := CircleSegment(o.fill)
		area, radius := s.Area*o.pipe.Bore*o.pipe.Bore, s.Area/s.Edge*o.pipe.Bore
		r.Step("Area, filled to {~3 %}", "{3} × ({3 mm})² = {3 cm2}", 100*o.fill, s.Area, mm, 1e4*area)
		r.Step("Area over the wetted edge", "{3} × {3 mm} / {3} = {3 mm}", s.Area, mm, s.Edge, 1000*radius)
		r.Step("One outlet by Manning, in metres and seconds", "{3} × {3}^⅔ × √{~3} / {~3} = {3 m3/s}", area, radius, o.slope, o.n.Likely, one.Likely)
		r.Step("In an hour", "{3 m3/s} = {3 L/h}", one.Likely, 3.6e6*one.Likely)
	default:
		r.Step("One outlet", "0.3 × √(9.80665 m/s² × {3 m}) × {3 cm2} = {3 L/h}", o.pipe.Bore, 1e4*CircleArea(o.pipe.Bore), 3.6e6*one.Likely)
	}
	r.Step("Together", "{0} × {3 L/h} = {3 L/h}", o.count, 3.6e6*one.Likely, 3.6e6*one.Likely*o.count)
	r.Step("The pump brings", "{3 L/h}", 3.6e6*o.flow)
}
