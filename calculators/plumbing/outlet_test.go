package plumbing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func TestPartFullPipes(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-part-full-geometry") {
		s := CircleSegment(r.Float("depth to diameter [1]"))
		reftest.Near(t, r, s.Area, "area over D squared [1]")
		reftest.Near(t, r, s.Edge, "wetted perimeter over D [1]")
		reftest.Near(t, r, s.Area/s.Edge, "hydraulic radius over D [1]")
		reftest.Near(t, r, s.Top, "top width over D [1]")
	}
	full := ManningFlow(0.012, 0.1, 0.01, 1)
	for _, r := range reftest.Read(t, "hydraulics-part-full-pipe") {
		depth := r.Float("depth to diameter [1]")
		area, flow := CircleSegment(depth).Area/CircleSegment(1).Area, ManningFlow(0.012, 0.1, 0.01, depth)/full
		reftest.Near(t, r, area, "area ratio [1]")
		reftest.Near(t, r, flow, "flow ratio Q/Qfull [1]")
		reftest.Near(t, r, flow/area, "velocity ratio V/Vfull [1]")
	}
}

func TestManningPipes(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-gravity-pipe-manning") {
		n, bore, slope := r.Float("manning n [1]"), r.Float("bore [mm]")/1000, r.Float("slope [1]")
		reftest.Near(t, r, ManningFlow(n, bore, slope, 1)/CircleArea(bore), "velocity full [m/s]")
	}
	for _, r := range reftest.Read(t, "hydraulics-worked-examples") {
		if r.Text("example") != "hyd-03" {
			continue
		}
		var bore, n, slope, flow float64
		words := r.Text("inputs in words")
		if _, err := fmt.Sscanf(words, "Circular pipe %f m bore, n %f, slope %f, flow %f m3/s", &bore, &n, &slope, &flow); err != nil {
			t.Fatalf("%s: %q: %v", r.Place, words, err)
		}
		reftest.Within(t, r, bore*NormalDepth(flow, n, bore, slope), "expected", 0.01) // the row's own tolerance
	}
}

func TestManningCoefficients(t *testing.T) {
	states := map[string]string{"plastic pipe, smooth interior (PVC, HDPE)": "clean", "sanitary sewer coated with slime, bends and connections": "slimed"}
	seen := 0
	for _, r := range reftest.Read(t, "hydraulics-manning-n") {
		if state, ok := states[r.Text("conduit")]; ok {
			seen++
			n := ManningCoefficient(state)
			reftest.Near(t, r, n.Low, "n low [1]")
			reftest.Near(t, r, n.Likely, "n design [1]")
			reftest.Near(t, r, n.High, "n high [1]")
		}
	}
	if seen != len(states) {
		t.Errorf("%d of %d rows", seen, len(states))
	}
}

// Capacities of a plumbing code, full pipes of Schedule 40: those of 4 in fit
// Manning with n = 0.010, those of 2 in lie 9 to 13 % above. Vertical pipes are
// allowed to run a third full around the wall; a pipe that only breathes carries
// less.
func TestDrainsOfACode(t *testing.T) {
	const gallonAMinute = 3.785411784e-3 / 60
	bores, compared := schedule40(t), 0
	for _, r := range reftest.Read(t, "hydraulics-drain-capacity") {
		bore, ok := bores[r.Text("pipe size [[in_i]]")]
		if !ok {
			continue // no bore of this size is in the pipe table
		}
		compared++
		printed := r.Float("capacity [[gal_us]/min]") * gallonAMinute
		if r.Text("position") == "vertical" {
			if breathes := SelfVentingFlow(bore); breathes >= printed {
				t.Errorf("%s: the breathing pipe carries %v, the code allows %v", r.Place, breathes, printed)
			}
			continue
		}
		full := ManningFlow(0.010, bore, r.Float("slope [1]"), 1)
		low, high := 0.99, 1.01
		if r.Text("pipe size [[in_i]]") == "2" {
			low, high = 1.09, 1.13
		}
		if ratio := printed / full; ratio < low || ratio > high {
			t.Errorf("%s: the code allows %v of the full flow, not %v to %v", r.Place, ratio, low, high)
		}
	}
	if compared < 6 {
		t.Errorf("only %d rows compared", compared)
	}
}

// Codes that vent their stacks allow more than a plain pipe that breathes, at
// bores that are no wider than their nominal size.
func TestVentedStacksAreAllowedMore(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-vertical-drain") {
		if breathes := 1000 * SelfVentingFlow(r.Float("bore or nominal size [mm]")/1000); r.Text("source") != "hills-1983" && breathes >= r.Float("flow [L/s]") {
			t.Errorf("%s: %v L/s", r.Place, breathes)
		}
	}
}

func TestNormalDepthReturns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore, slope := rapid.Float64Range(0.02, 0.2).Draw(t, "bore"), rapid.Float64Range(0.001, 0.1).Draw(t, "slope")
		depth := rapid.Float64Range(0.001, 0.93).Draw(t, "depth")
		flow := ManningFlow(0.013, bore, slope, depth)
		if back := NormalDepth(flow, 0.013, bore, slope); math.Abs(back-depth) > 1e-6 {
			t.Errorf("%v comes back as %v", depth, back)
		}
		if more := ManningFlow(0.013, bore, slope, depth+0.005); more <= flow {
			t.Errorf("at a greater depth %v runs instead of %v", more, flow)
		}
		if NormalDepth(1.01*ManningFlow(0.013, bore, slope, 0.938), 0.013, bore, slope) != 1 {
			t.Error("an overloaded pipe has a free surface")
		}
	})
	if ManningFlow(0.013, 0.1, 0.01, 0) != 0 || NormalDepth(0, 0.013, 0.1, 0.01) != 0 {
		t.Error("an empty pipe runs")
	}
}

func TestFlowUnderAHeadLosesIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, nu := drawPipe(t)
		p.Fittings = Spread{1, 1.5, 2}
		head := rapid.Float64Range(0.001, 3).Draw(t, "head")
		q := Spread{p.FlowUnder(Low, head, nu), p.FlowUnder(Likely, head, nu), p.FlowUnder(High, head, nu)}
		// Where the flow turns turbulent the ends of the range may jump over the head.
		const hair = 1e-9
		for i, flow := range []float64{q.High, q.Likely, q.Low} {
			under, over := losses(p, flow*(1-hair), nu)[i], losses(p, flow*(1+hair), nu)[i]
			if under > head || over < head {
				t.Errorf("under %v the flow loses %v to %v", head, under, over)
			}
		}
		if p.FlowUnder(Likely, 2*head, nu) <= q.Likely {
			t.Error("more head brings no more")
		}
	})
	p := Pipe{Bore: 0.05, Fittings: Spread{1, 1, 1}}
	if p.FlowUnder(Likely, 0, 1e-6) != 0 {
		t.Error("no head drives a flow")
	}
}

// losses returns the least, likely and greatest loss.
func losses(p Pipe, flow, viscosity float64) [3]float64 {
	low, likely, high := p.HeadLoss(flow, viscosity)
	return [3]float64{low.Total(), likely.Total(), high.Total()}
}

// The least bore, put in, carries the flow and the margin, and a bore 1 % less
// does not.
func TestLeastBoreIsLeast(t *testing.T) {
	c := GravityOutlet()
	for _, kind := range [][]string{
		{"head", "100 mm"},
		{"kind", "sloping", "head", "", "length", ""},
		{"kind", "drop", "head", "", "length", ""},
	} {
		args := append(kind, "flow", "12000 L/h", "spare", "30 %")
		bore := likely(t, c, with(c, args...), "least-bore")
		if bore <= 40 {
			t.Fatalf("%v: %v mm", kind, bore)
		}
		low := func(bore float64) float64 {
			_, r, err := c.Evaluate(with(c, append(args, "bore", fmt.Sprintf("%.9f mm", bore))...))
			if err != nil {
				t.Fatal(err)
			}
			v, _ := r.Value("margin")
			return v.Low
		}
		if at, under := low(bore), low(0.99*bore); math.Abs(at-30) > 0.001 || under >= 30 {
			t.Errorf("%v: %v mm leaves %v %%, a little less %v %%", kind, bore, at, under)
		}
	}
	if bore := likely(t, c, with(c, "flow", "50 L/h"), "least-bore"); bore != 40 {
		t.Errorf("a trickle may leave through %v mm", bore)
	}
}

func TestOutletAnswers(t *testing.T) {
	c := GravityOutlet()
	two, less := likely(t, c, question(c), "capacity"), likely(t, c, question(c), "one-blocked")
	if math.Abs(two-2*less) > 1e-9*two {
		t.Errorf("two carry %v, one %v", two, less)
	}
	if _, r, _ := c.Evaluate(with(c, "outlets", "1")); has(r, "one-blocked") {
		t.Error("a single outlet has another")
	}
	// The height that the flow needs, given as the height, carries that flow.
	needed := likely(t, c, with(c, "flow", "16000 L/h"), "needed")
	if m := likely(t, c, with(c, "flow", "16000 L/h", "head", fmt.Sprintf("%.9f mm", needed)), "margin"); math.Abs(m) > 1e-4 {
		t.Errorf("at the height needed %v %% are to spare", m)
	}
	if _, r, _ := c.Evaluate(question(c)); has(r, "needed") {
		t.Error("a pipe that runs part empty needs a height by the formula of full ones")
	}
}

func TestOutletWords(t *testing.T) {
	c := GravityOutlet()
	drop := []string{"kind", "drop", "head", "", "length", ""}
	for word, k := range map[string]struct{ with, not []string }{
		"under 40\u00a0mm":   {[]string{"bore", "39.9 mm"}, []string{"bore", "40 mm"}},
		"one and a half":     {[]string{"head", "85 mm"}, []string{"head", "86 mm"}},
		"may run over":       {[]string{"flow", "30000 L/h"}, nil},
		"less to spare":      {append(drop, "flow", "3600 L/h"), append(drop, "flow", "2000 L/h")},
		"Fit a second":       {[]string{"outlets", "1"}, nil},
		"With one outlet bl": {append(drop, "flow", "3000 L/h"), drop},
		"vented stacks":      {drop, nil},
	} {
		for _, side := range []struct {
			pairs []string
			want  bool
		}{{k.with, true}, {k.not, false}} {
			v := reckon(t, c, side.pairs...)
			if said := strings.Contains(strings.Join(append(v.Flags, v.Advice...), " "), word); said != side.want {
				t.Errorf("%v: %q said: %v", side.pairs, word, said)
			}
		}
	}
}
