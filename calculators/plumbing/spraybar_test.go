package plumbing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

// Another program's bar, whose holes are driven by all the head. It takes
// g = 9.8146 and Swamee and Jain's friction factor: 0.3 % in flow. The set does
// not state the wall; that program's other networks have new plastic.
func TestBarOfAnotherProgram(t *testing.T) {
	rows := reftest.Read(t, "hydraulics-epanet-spray-bar")
	last := rows[len(rows)-1]
	bar := Bar{
		Bore: last.Float("bar bore [mm]") / 1000, Spacing: last.Float("hole spacing [m]"),
		Hole: last.Float("hole diameter [mm]") / 1000, Holes: last.Float("holes [1]"),
		Coefficient: last.Float("discharge coefficient [1]"), Roughness: 0.0015e-3,
	}
	if bar.Holes != float64(len(rows)) {
		t.Fatalf("%d rows for %v holes", len(rows), bar.Holes)
	}
	head, flow, nu := last.Float("head at hole [m]"), 0.0, last.Float("kinematic viscosity [m2/s]")
	for i := len(rows) - 1; i >= 0; i-- {
		q := bar.HoleFlow(head, flow)
		reftest.Within(t, rows[i], head, "head at hole [m]", 0.0015)
		reftest.Within(t, rows[i], 1000*q, "flow from hole [L/s]", 0.0015)
		flow += q
		head += bar.SegmentLoss(flow, nu)
	}
	o := bar.Walk(last.Float("head at hole [m]"), nu)
	if math.Abs(o.Total-flow) > 1e-12 || math.Abs(o.Inlet-head) > 1e-12 {
		t.Errorf("walked in one go: %v and %v, step by step %v and %v", o.Inlet, o.Total, head, flow)
	}
}

func TestChristiansenFactor(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-christiansen-f") {
		reftest.Near(t, r, ChristiansenFactor(r.Float("flow exponent [1]"), r.Float("outlets [1]")), "factor F [1]")
	}
}

// The printed counts of holes keep the variation along the pipe under 10 % by
// friction alone; at twice the count our steps find more than 10 %. One foot of
// head, the least that such pipes run at.
func TestHolesForTenPercent(t *testing.T) {
	bores, compared := schedule40(t), 0
	for _, r := range reftest.Read(t, "hydraulics-perforated-lateral-max-holes") {
		bore, ok := bores[r.Text("lateral nominal size [[in_i]]")]
		if !ok {
			continue // no bore of 3 in pipe is in the pipe table
		}
		compared++
		var over, under float64
		if _, err := fmt.Sscanf(r.Text("hole diameter as fraction of an inch"), "%f/%f", &over, &under); err != nil {
			t.Fatalf("%s: %v", r.Place, err)
		}
		bar := Bar{Bore: bore, Spacing: r.Float("hole spacing [[ft_i]]") * 0.3048, Hole: over / under * 0.0254,
			Holes: r.Float("most holes for under 10 % variation [1]"), Coefficient: 0.6}
		o := bar.Walk(0.3048, KinematicViscosity(15))
		bar.Holes *= 2
		twice := bar.Walk(0.3048, KinematicViscosity(15))
		if o.Evenness() < 0.9 || twice.Evenness() >= 0.9 {
			t.Errorf("%s: evenness %v, with twice the holes %v", r.Place, o.Evenness(), twice.Evenness())
		}
	}
	if compared < 25 {
		t.Errorf("only %d rows compared", compared)
	}
}

func drawBar(t *rapid.T) Bar {
	bore, hole := rapid.Float64Range(0.015, 0.1).Draw(t, "bore"), rapid.Float64Range(0.05, 0.5).Draw(t, "hole")
	most := int(min(40, mostShare/(hole*hole)))
	return Bar{Bore: bore, Spacing: rapid.Float64Range(0.01, 0.3).Draw(t, "spacing"), Hole: bore * hole,
		Holes: float64(rapid.IntRange(1, most).Draw(t, "holes")), Roughness: 0.05e-3, Coefficient: 0.62, Recovery: rapid.Float64Range(0, 1).Draw(t, "recovery")}
}

func TestBarPassesWhatItIsFed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, flow := drawBar(t), rapid.Float64Range(1e-5, 3e-3).Draw(t, "flow")
		o := b.Fed(flow, 1e-6)
		if math.Abs(o.Total-flow) > 1e-9*flow {
			t.Errorf("fed %v, out come %v", flow, o.Total)
		}
		if o.Least > o.Most || o.Least > min(o.First, o.Last) || o.Most < max(o.First, o.Last) {
			t.Errorf("%+v", o)
		}
		more := b.Fed(1.5*flow, 1e-6)
		if more.Inlet <= o.Inlet {
			t.Errorf("more flow asks for %v instead of %v", more.Inlet, o.Inlet)
		}
	})
}

// In a long thin bar the far holes run dry. What its holes together pass, and the
// head that it asks for, are those of the same equations solved all at once by
// another program (SciPy 1.17.1, optimize.root, with the friction of fluids 1.3.1 and
// the viscosity of IAPWS SR6-08): head 0.01609 m, first hole 0.04776 L/min.
func TestALongThinBarRunsDryAtItsEnd(t *testing.T) {
	const flow = 14.7784 / 3.6e6
	b := Bar{Bore: 0.0080184, Spacing: 18.1174 / 31, Hole: 0.00167454, Holes: 31, Roughness: 0.05e-3, Coefficient: 0.75, Recovery: 1}
	o := b.Fed(flow, KinematicViscosity(2.96953))
	if math.Abs(o.Total-flow) > 1e-9*flow {
		t.Errorf("fed %v, out come %v", flow, o.Total)
	}
	if math.Abs(o.Inlet-0.01609) > 0.003*0.01609 || math.Abs(60000*o.First-0.04776) > 0.003*0.04776 {
		t.Errorf("head %v m, first hole %v L/min", o.Inlet, 60000*o.First)
	}
	if o.Last != 0 || o.Least != 0 || o.Evenness() != 0 {
		t.Errorf("the farthest hole passes %v, the weakest %v", o.Last, o.Least)
	}
}

// Without friction and with static pressure alone the far end runs stronger; by
// friction alone weaker (chou-cheng-2001).
func TestWhichEndRunsStronger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBar(t)
		b.Holes = max(2, b.Holes)
		flow := rapid.Float64Range(1e-5, 3e-3).Draw(t, "flow")
		b.Recovery = 0
		if o := b.Fed(flow, 1e-6); o.Last > o.First {
			t.Errorf("friction alone: first %v, last %v", o.First, o.Last)
		}
		b.Recovery, b.Spacing = 1, 1e-9
		if o := b.Fed(flow, 1e-6); o.Last <= o.First {
			t.Errorf("pressure alone: first %v, last %v", o.First, o.Last)
		}
	})
}

// A hole's flow satisfies the equation it is the solution of.
func TestHoleFlowSatisfiesItsEquation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBar(t)
		head, beyond := rapid.Float64Range(0.001, 5).Draw(t, "head"), rapid.Float64Range(0, 1e-3).Draw(t, "beyond")
		q := b.HoleFlow(head, beyond)
		v := Pipe{Bore: b.Bore}.Velocity(q + beyond)
		want := OrificeFlow(b.Coefficient, CircleArea(b.Hole), head-b.Recovery*VelocityHead(v))
		if q > 0 && math.Abs(q-want) > 1e-9*q {
			t.Errorf("%v, not %v", q, want)
		}
	})
}

func TestSprayBarCountsHoles(t *testing.T) {
	c := SprayBar()
	n := likely(t, c, question(c), "holes")
	for _, output := range []string{"evenness", "head", "spacing", "far"} {
		back := with(c, "find", "evenness", "count", fmt.Sprint(n))
		if a, b := likely(t, c, question(c), output), likely(t, c, back, output); a != b {
			t.Errorf("%s: %v and %v", output, a, b)
		}
	}
	if share := likely(t, c, question(c), "area-share"); math.Abs(share-40) > 100*math.Pow(8./36, 2)/2 {
		t.Errorf("%v holes have %v %% of the bore's area", n, share)
	}
	open, third := likely(t, c, question(c), "head"), likely(t, c, with(c, "blocked", "50 %"), "head-blocked")
	if math.Abs(third-4*open) > 1e-9*third {
		t.Errorf("half blocked %v, open %v", third, open)
	}
}

func TestSprayBarWords(t *testing.T) {
	c := SprayBar()
	for word, k := range map[string]struct{ with, not []string }{
		"under 5\u00a0mm": {[]string{"hole", "4.9 mm"}, []string{"hole", "5 mm"}},
		"less than 25":    {[]string{"flow", "500 L/h"}, nil},
		"runs unevenly":   {[]string{"find", "evenness", "count", "30"}, nil},
		"weaken":          {[]string{"length", "0.12 m"}, nil},
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

func TestSprayBarRefusesWhatCannotBeDrilled(t *testing.T) {
	c := SprayBar()
	for _, pairs := range [][]string{{"hole", "33 mm"}, {"hole", "1 mm", "bore", "60 mm"}, {"find", "evenness", "count", "33"}} {
		if _, err := c.Reckon(with(c, pairs...)); err == nil || !strings.HasPrefix(err.Error(), "hole: ") {
			t.Errorf("%v: %v", pairs, err)
		}
	}
	for _, pairs := range [][]string{{"hole", "32 mm"}, {"find", "evenness", "count", "32"}} {
		if _, err := c.Reckon(with(c, pairs...)); err != nil {
			t.Errorf("%v: %v", pairs, err)
		}
	}
}

// A bar that takes the pump's head away is warned of, and only such a one.
func TestABarThatAsksForMuchHeadIsWarnedOf(t *testing.T) {
	c := SprayBar()
	bar := []string{"find", "evenness", "count", "10"}
	for flow, warned := range map[string]bool{"1000 L/h": false, "2000 L/h": false, "4000 L/h": true} {
		v := reckon(t, c, append(bar, "flow", flow)...)
		if got := strings.Contains(strings.Join(v.Advice, " "), "on top of the lift"); got != warned {
			t.Errorf("%s: warned %v: %q", flow, got, v.Advice)
		}
	}
}
