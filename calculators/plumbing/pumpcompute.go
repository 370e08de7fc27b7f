package plumbing

import "mereleaf/calculators"

// lift is a checked set of inputs of the pump calculator, in SI units.
type lift struct {
	pump      DrivenCurve
	points    JoinedCurve // empty unless the curve was given by points
	height    float64
	pipe      Pipe
	viscosity float64
}

func computePump(in calculators.Inputs) (calculators.Result, error) {
	l, err := readLift(in)
	if err != nil {
		return calculators.Result{}, err
	}
	q := l.flows()
	v := l.pipe.Velocity(q.Likely)
	loss := l.pipe.LossAt(Likely, q.Likely, l.viscosity)
	reynolds := Reynolds(v, l.pipe.Bore, l.viscosity)
	var r calculators.Result
	scaled(&r, "flow", q, 3.6e6)
	// Where next to nothing is lifted, the three flows differ by less than they are
	// solved to, and the heads may change places.
	head := l.pump.Head(q.Likely)
	r.Between("head", min(head, l.pump.Head(q.High)), head, max(head, l.pump.Head(q.Low)))
	scaled(&r, "velocity", q, 1/CircleArea(l.pipe.Bore))
	r.Exactly("friction", loss.Friction)
	r.Exactly("fittings-loss", loss.Fittings)
	r.Exactly("reynolds", reynolds)
	if in.Has("volume") && q.Low > 0 {
		hours := in.In("volume", "m3") / 3600
		r.Between("turnover", hours/q.High, hours/q.Likely, hours/q.Low)
	}
	l.flag(&r, q, reynolds)
	l.advise(&r, q, v, &loss)
	l.work(&r, q, reynolds, &loss)
	return r, nil
}

func scaled(r *calculators.Result, output string, s Spread, factor float64) {
	r.Between(output, factor*s.Low, factor*s.Likely, factor*s.High)
}

func readLift(in calculators.Inputs) (*lift, error) {
	l, err := readRig(in)
	if err != nil {
		return nil, err
	}
	l.pump.Speed = in.In("speed", "%") / 100
	if in.Choice("pumps") == "two" {
		l.pump.Pumps = 2
	}
	return l, nil
}

// readRig reads one pump at full speed, its lift and its pipe.
func readRig(in calculators.Inputs) (*lift, error) {
	curve, points, err := readCurve(in)
	if err != nil {
		return nil, err
	}
	return &lift{
		pump:      DrivenCurve{curve, 1, 1},
		points:    points,
		height:    in.In("lift", "m"),
		viscosity: KinematicViscosity(in.In("temperature", "Cel")),
		pipe:      readRun(in),
	}, nil
}

func readRun(in calculators.Inputs) Pipe {
	return Pipe{
		Bore: in.In("bore", "m"), Length: in.In("length", "m"),
		Roughness: readRoughness(in), Fittings: readFittings(in),
	}
}

func readCurve(in calculators.Inputs) (PumpCurve, JoinedCurve, error) {
	point := func(name string) CurvePoint {
		return CurvePoint{in.In(name+"-flow", "m3/h") / 3600, in.In(name+"-head", "m")}
	}
	switch in.Choice("pump") {
	case "largest":
		return RatedFromEnds(point("largest")), nil, nil
	case "rated":
		return RatedCurve{point("rated")}, nil, nil
	}
	var points JoinedCurve
	for _, row := range in.Rows("points") {
		points = append(points, CurvePoint{row.In("flow", "m3/h") / 3600, row.In("head", "m")})
	}
	if n, reason := points.Check(); n > 0 {
		return nil, nil, calculators.Refuse(calculators.Text("points row {row 0}", float64(n)), reason,
			"two points or more, with rising flow and falling head",
			"put them in the order of the flow, or choose pump=largest if you know only the two ends")
	}
	return points, points, nil
}

func readRoughness(in calculators.Inputs) Spread {
	if in.Choice("wall") == "own" {
		e := in.In("roughness", "m")
		return Spread{e, e, e}
	}
	for _, w := range Walls() {
		if w.Name == in.Choice("wall") {
			return Spread{w.Low.Value / 1000, w.Likely.Value / 1000, w.High.Value / 1000}
		}
	}
	panic("plumbing: wall without figures: " + in.Choice("wall"))
}

func readFittings(in calculators.Inputs) Spread {
	fixed := in.In("more-k", "1") + Outlet().Value
	sum := Spread{fixed, fixed, fixed}
	if !in.Has("fittings") {
		return sum
	}
	for _, row := range in.Rows("fittings") {
		for _, f := range Fittings() {
			if n := row.In("count", "1"); f.Name == row.Choice("fitting") {
				sum.Low += n * f.Low.Value
				sum.Likely += n * f.Likely.Value
				sum.High += n * f.High.Value
			}
		}
	}
	return sum
}

// flows returns where pump and pipe meet, in m3/s: most flow with the least loss.
func (l *lift) flows() Spread { return l.meet(l.pump, 1) }

// meet returns where the pipe meets another pump than its own, if only a share
// of the flow goes through the pipe: half of it where there are two such pipes.
func (l *lift) meet(pump PumpCurve, share float64) Spread {
	at := func(end End) float64 {
		return WorkingFlow(pump, l.height, func(flow float64) float64 {
			return l.pipe.LossAt(end, share*flow, l.viscosity).Total()
		})
	}
	return Spread{Low: at(High), Likely: at(Likely), High: at(Low)}
}
