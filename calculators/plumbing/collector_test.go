package plumbing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
)

// A code prints n for drilled plastic pipe, another for plain PVC; friction goes
// with n squared.
func TestDrilledPipeIsRougher(t *testing.T) {
	var plain, drilled float64
	for _, r := range reftest.Read(t, "hydraulics-manning-n") {
		switch r.Text("conduit") {
		case "PVC":
			plain = r.Float("n design [1]")
		case "plastic pipe, smooth wall, perforated":
			drilled = r.Float("n design [1]")
		}
	}
	f := PerforatedFriction(Spread{1, 1, 1})
	if want := math.Pow(drilled/plain, 2); math.Abs(f.High-want) > 1e-9 || f.Low != 1 {
		t.Errorf("%v, the codes make it %v at most", f, want)
	}
}

// A waterworks handbook keeps the holes of a lateral at 6 to 19 mm.
func TestHolesOfTheHandbookAreAccepted(t *testing.T) {
	c := CollectorPipe()
	for _, r := range reftest.Read(t, "hydraulics-manifold-rules") {
		if r.Text("rule") != "hole diameter" {
			continue
		}
		reftest.Near(t, r, waterworksLeast, "low")
		reftest.Near(t, r, waterworksMost, "high")
		for _, column := range []string{"low", "high"} {
			if _, err := c.Reckon(with(c, "hole", r.Text(column)+" mm")); err != nil {
				t.Errorf("%s: %v", r.Place, err)
			}
		}
	}
}

func TestCollectorLossLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Collector{
			Bore: rapid.Float64Range(0.02, 0.2).Draw(t, "bore"), Length: rapid.Float64Range(0.1, 5).Draw(t, "length"),
			Friction: PerforatedFriction(Spread{0.02, 0.03, 0.04}), Holes: float64(rapid.IntRange(1, 200).Draw(t, "holes")),
		}
		flow := rapid.Float64Range(1e-5, 1e-2).Draw(t, "flow")
		one, two := c.Loss(flow), c.Loss(2*flow)
		if one.Low > one.Likely || one.Likely > one.High || math.Abs(two.Likely-4*one.Likely) > 1e-9*two.Likely {
			t.Errorf("%v, at twice the flow %v", one, two)
		}
		if c.Loss(0) != (Spread{}) {
			t.Error("still water loses head")
		}
		head := VelocityHead(Pipe{Bore: c.Bore}.Velocity(flow))
		if one.Likely <= 2*head {
			t.Errorf("%v is no more than two velocity heads %v", one.Likely, 2*head)
		}
	})
}

func TestCollectorAnswers(t *testing.T) {
	c := CollectorPipe()
	n := likely(t, c, question(c), "holes")
	blocked := likely(t, c, question(c), "holes-blocked")
	if blocked > 20 || blocked < 20*math.Pow((n-1)/n, 2) {
		t.Errorf("%v holes give %v mm: not the least count for 20 mm", n, blocked)
	}
	if clean := likely(t, c, question(c), "holes-clean"); math.Abs(blocked-4*clean) > 1e-9*blocked {
		t.Errorf("half blocked %v, clean %v", blocked, clean)
	}
	sum := likely(t, c, question(c), "holes-clean") + likely(t, c, question(c), "pipe")
	if whole := likely(t, c, question(c), "head-clean"); math.Abs(whole-sum) > 1e-9*sum {
		t.Errorf("%v is not %v", whole, sum)
	}
	back := with(c, "find", "head", "count", fmt.Sprint(n))
	if a := likely(t, c, back, "holes-blocked"); a != blocked {
		t.Errorf("given back as a count: %v and %v", a, blocked)
	}
	if two := likely(t, c, calculators.With(back, calculators.Arg{Name: "pipes", Value: "2"}), "pipe"); two >= likely(t, c, back, "pipe") {
		t.Error("two pipes lose as much as one")
	}
}

func TestCollectorWords(t *testing.T) {
	c := CollectorPipe()
	for word, k := range map[string]struct{ with, not []string }{
		"uncertain":     {[]string{"hole", "4.9 mm", "head", "100 mm"}, []string{"hole", "5 mm", "head", "100 mm"}},
		"in the pipe t": {[]string{"bore", "40 mm"}, []string{"bore", "100 mm"}},
		"weaken":        {[]string{"length", "0.1 m"}, nil},
	} {
		for _, side := range []struct {
			pairs []string
			want  bool
		}{{k.with, true}, {k.not, false}} {
			v := reckon(t, c, side.pairs...)
			if said := strings.Contains(strings.Join(append(v.Flags, v.Advice...), " "), word); said != side.want && side.pairs != nil {
				t.Errorf("%v: %q said: %v", side.pairs, word, said)
			}
		}
	}
	if _, err := c.Reckon(with(c, "bore", "20 mm", "hole", "19 mm")); err == nil || !strings.HasPrefix(err.Error(), "hole: ") {
		t.Error(err)
	}
}
