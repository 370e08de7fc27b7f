package plumbing

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/solve"

	"mereleaf/calculators/internal/reftest"
)

func TestAffinity(t *testing.T) {
	one := RatedCurve{CurvePoint{0.001, 3}}
	for _, r := range reftest.Read(t, "hydraulics-affinity") {
		s := r.Float("speed ratio [1]")
		slow := DrivenCurve{one, s, 1}
		reftest.Near(t, r, slow.End()/one.End(), "flow ratio [1]")
		for _, x := range []float64{0, 0.3, 0.8} {
			q := x * one.End()
			reftest.Near(t, r, slow.Head(s*q)/one.Head(q), "head ratio [1]")
		}
	}
}

// fittedCurve is H = A - B Q^C through a point at no flow and two more, as the
// program behind the set hydraulics-epanet-operating-points fits three points.
type fittedCurve struct{ a, b, c float64 }

func fitted(p JoinedCurve) fittedCurve {
	c := math.Log((p[0].Head-p[2].Head)/(p[0].Head-p[1].Head)) / math.Log(p[2].Flow/p[1].Flow)
	return fittedCurve{p[0].Head, (p[0].Head - p[1].Head) / math.Pow(p[1].Flow, c), c}
}

func (f fittedCurve) Head(flow float64) float64 { return f.a - f.b*math.Pow(flow, f.c) }
func (f fittedCurve) End() float64              { return math.Pow(f.a/f.b, 1/f.c) }

// networkCurve reads the pump of a row, which may leave trailing points out.
func networkCurve(t *testing.T, r reftest.Row) PumpCurve {
	t.Helper()
	var points JoinedCurve
	for i := 1; i <= 5; i++ {
		n := strconv.Itoa(i)
		if r.Has("pump flow " + n + " [L/s]") {
			points = append(points, CurvePoint{r.Float("pump flow "+n+" [L/s]") / 1000, r.Float("pump head " + n + " [m]")})
		}
	}
	var one PumpCurve
	switch kind := r.Text("curve type"); kind {
	case "one-point":
		one = RatedCurve{points[0]}
	case "three-point":
		one = fitted(points)
	case "polyline":
		one = points
	default:
		t.Fatalf("%s: unknown curve type %q", r.Place, kind)
	}
	return DrivenCurve{one, r.Float("relative speed [1]"), r.Float("pumps in parallel [1]")}
}

// networkPipe reads pipe 1 or 2 of a row; the sum of K there includes the exit.
func networkPipe(r reftest.Row, n string) Pipe {
	e, k := r.Float("pipe "+n+" roughness [mm]")/1000, r.Float("pipe "+n+" sum of K [1]")
	return Pipe{
		Bore: r.Float("pipe "+n+" bore [mm]") / 1000, Length: r.Float("pipe " + n + " length [m]"),
		Roughness: Spread{e, e, e}, Fittings: Spread{k, k, k},
	}
}

// The figures are another program's. It takes g = 9.8146 and Swamee and Jain's
// friction factor, and stops at a relative error in flow of its own; its flows
// were found within 0.15 % of Colebrook with standard gravity outside Re 2000
// to 4000. Inside, it joins the two with a cubic and the row n12 itself states
// a tolerance of 10 %; there the range must hold its answer.
func TestWorkingPointsOfAnotherProgram(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-epanet-operating-points") {
		pump := networkCurve(t, r)
		pipes := []Pipe{networkPipe(r, "1")}
		if r.Has("pipe 2 length [m]") {
			pipes = append(pipes, networkPipe(r, "2"))
		}
		nu := r.Float("kinematic viscosity [m2/s]")
		at := func(pick func(a, b, c Loss) Loss) float64 {
			return WorkingFlow(pump, r.Float("static lift [m]"), func(q float64) float64 {
				sum := 0.0
				for _, p := range pipes {
					sum += pick(p.HeadLoss(q, nu)).Total()
				}
				return sum
			})
		}
		likely := at(func(_, b, _ Loss) Loss { return b })
		re := Reynolds(pipes[0].Velocity(likely), pipes[0].Bore, nu)
		tolerance := 0.0015
		if re > LaminarUpTo && re < TurbulentFrom {
			tolerance = 0.10
			least, most := at(func(_, _, c Loss) Loss { return c }), at(func(a, _, _ Loss) Loss { return a })
			if q := r.Float("flow [L/s]"); q < 1000*least || q > 1000*most {
				t.Errorf("%s: %v L/s is not within %v to %v", r.Place, q, 1000*least, 1000*most)
			}
		}
		reftest.Within(t, r, 1000*likely, "flow [L/s]", tolerance)
		reftest.Within(t, r, pump.Head(likely), "pump head at that flow [m]", tolerance)
		reftest.Within(t, r, pipes[0].Velocity(likely), "velocity pipe 1 [m/s]", tolerance)
	}
}

// A full pipe between two water levels: the loss at the flow that the other
// program finds must use up the level difference. As head goes with the square
// of the flow, 0.15 % in flow is 0.3 % in head.
func TestLossUsesUpTheFall(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-epanet-gravity-return") {
		e, k := r.Float("roughness [mm]")/1000, r.Float("sum of K [1]")
		p := Pipe{Bore: r.Float("pipe bore [mm]") / 1000, Length: r.Float("pipe length [m]"),
			Roughness: Spread{e, e, e}, Fittings: Spread{k, k, k}}
		_, loss, _ := p.HeadLoss(r.Float("flow [L/s]")/1000, r.Float("kinematic viscosity [m2/s]"))
		reftest.Within(t, r, loss.Total(), "head available [m]", 0.003)
		reftest.Within(t, r, p.Velocity(r.Float("flow [L/s]")/1000), "velocity [m/s]", 1e-5)
	}
}

// drawCurve draws a falling curve of two to six points.
func drawCurve(t *rapid.T) JoinedCurve {
	steps := rapid.SliceOfN(rapid.Float64Range(1e-5, 1e-3), 2, 6).Draw(t, "flows")
	c, flow, head := JoinedCurve{}, 0.0, 0.0
	for _, s := range steps {
		c = append(c, CurvePoint{flow, 0})
		flow += s
	}
	for i := len(c) - 1; i >= 0; i-- {
		c[i].Head = head
		head += rapid.Float64Range(0.05, 2).Draw(t, "fall")
	}
	return c
}

func TestJoinedCurveMeetsItsPointsAndEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		if n, reason := c.Check(); n != 0 {
			t.Fatalf("point %d %s", n, reason)
		}
		for _, p := range c {
			if math.Abs(c.Head(p.Flow)-p.Head) > 1e-9 {
				t.Errorf("at %v the head is %v, not %v", p.Flow, c.Head(p.Flow), p.Head)
			}
		}
		if h := c.Head(c.End()); math.Abs(h) > 1e-9 {
			t.Errorf("at its end the curve has %v", h)
		}
	})
}

func TestCurvesThatCannotBe(t *testing.T) {
	for want, c := range map[string]JoinedCurve{
		"is the only point":                                   {{0, 3}},
		"has no more flow than the point before it":           {{0, 3}, {0, 2}},
		"has more head than the point before it":              {{0, 3}, {1, 4}, {2, 0}},
		"is the last and has the head of the point before it": {{0, 3}, {1, 2}, {2, 2}},
	} {
		if n, reason := c.Check(); n == 0 || reason != want {
			t.Errorf("%v: point %d %q", c, n, reason)
		}
	}
	if n, _ := (JoinedCurve{{0, 3}, {1, 3}, {2, 2}}).Check(); n != 0 {
		t.Error("a curve that starts flat is refused")
	}
}

func TestRatedCurveFromEitherEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rated := CurvePoint{rapid.Float64Range(1e-4, 1e-2).Draw(t, "flow"), rapid.Float64Range(0.1, 20).Draw(t, "head")}
		c := RatedCurve{rated}
		if math.Abs(c.Head(rated.Flow)-rated.Head) > 1e-12*rated.Head || math.Abs(c.Head(c.End())) > 1e-12 {
			t.Errorf("the curve of %v misses it", rated)
		}
		back := RatedFromEnds(CurvePoint{c.End(), c.Head(0)})
		if math.Abs(back.Rated.Flow-rated.Flow) > 1e-12 || math.Abs(back.Rated.Head-rated.Head) > 1e-9 {
			t.Errorf("%v comes back as %v", rated, back)
		}
	})
}

func TestWorkingFlowLaws(t *testing.T) {
	const known = 1 + 2*solve.Tolerance // two roots compare no closer than each is known
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		p, nu := drawPipe(t)
		loss := func(q float64) float64 { _, l, _ := p.HeadLoss(q, nu); return l.Total() }
		lift := rapid.Float64Range(0, 1.2*c.Head(0)).Draw(t, "lift")
		q := WorkingFlow(c, lift, loss)
		if (q == 0) != (lift >= c.Head(0)) {
			t.Fatalf("lift %v, shut-off %v, flow %v", lift, c.Head(0), q)
		}
		if higher := WorkingFlow(c, lift*1.1, loss); higher > q*known {
			t.Errorf("a higher lift brings %v instead of %v", higher, q)
		}
		longer := func(q float64) float64 { return 1.5 * loss(q) }
		if less := WorkingFlow(c, lift, longer); less > q*known {
			t.Errorf("a longer pipe brings %v instead of %v", less, q)
		}
		two := WorkingFlow(DrivenCurve{c, 1, 2}, lift, loss)
		if two*known < q || two > 2*q*(1+1e-9) {
			t.Errorf("two pumps bring %v, one %v", two, q)
		}
	})
}

// With a loss in step with the square of the flow and no lift, flow goes with
// the speed; any lift takes more of it at the lower speed.
func TestSlowPumpLosesMoreThanItsSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		a := rapid.Float64Range(1e3, 1e9).Draw(t, "a")
		loss := func(q float64) float64 { return a * q * q }
		s := rapid.Float64Range(0.5, 0.95).Draw(t, "speed")
		slow := DrivenCurve{c, s, 1}
		if full, part := WorkingFlow(c, 0, loss), WorkingFlow(slow, 0, loss); math.Abs(part-s*full) > 1e-9*full {
			t.Errorf("no lift: %v of %v at %v speed", part, full, s)
		}
		lift := rapid.Float64Range(0.1, 0.9).Draw(t, "lift") * c.Head(0)
		if full, part := WorkingFlow(c, lift, loss), WorkingFlow(slow, lift, loss); part >= s*full {
			t.Errorf("lift %v: %v of %v at %v speed", lift, part, full, s)
		}
	})
}

func TestNoLiftAndNoLossGivesTheEnd(t *testing.T) {
	c := JoinedCurve{{0, 3}, {0.001, 1}}
	if q := WorkingFlow(c, 0, func(float64) float64 { return 0 }); math.Abs(q-c.End()) > 1e-12 {
		t.Errorf("%v, not %v", q, c.End())
	}
}
