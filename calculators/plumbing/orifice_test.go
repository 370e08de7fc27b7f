package plumbing

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func TestOrificeFlowOfSmallHoles(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-orifice-flow-small-holes") {
		area := CircleArea(r.Float("hole diameter [mm]") / 1000)
		head := r.Float("head over hole [mm]") / 1000
		q := OrificeFlow(r.Float("discharge coefficient [1]"), area, head)
		reftest.Near(t, r, q*60000, "flow per hole [L/min]")
	}
}

// The printed tables of two codes state no coefficient; their notes say which
// range they fit. The flow at either end of the range of a thin floor, rounded
// as the table is, must take the printed flow between them.
func TestOrificeFlowEnclosesPrintedTables(t *testing.T) {
	const inch = 0.0254
	const foot, gallon = 12 * inch, 231 * inch * inch * inch
	for _, r := range reftest.Read(t, "hydraulics-orifice-flow") {
		area := CircleArea(r.Float("hole diameter [[in_i]]") * inch)
		head := r.Float("head [[ft_i]]") * foot
		cd := DischargeCoefficient(0, 1)
		column := "flow per hole [[gal_us]/min]"
		half := r.Step(column) / 2
		low := OrificeFlow(cd.Low, area, head)/gallon*60 - half
		high := OrificeFlow(cd.High, area, head)/gallon*60 + half
		if want := r.Float(column); want < low || want > high {
			t.Errorf("%s: %v gal (US)/min is not within %.3f to %.3f", r.Place, want, low, high)
		}
	}
}

// Every coefficient that the figures give for a round, deburred hole lies in
// the range returned for its wall; the coefficient of 0.8 is that of a tube.
func TestDischargeCoefficientHoldsPublishedOnes(t *testing.T) {
	thin := DischargeCoefficient(0, 1)
	for _, r := range reftest.Read(t, "hydraulics-orifice-cd") {
		if r.Text("hole") != "circular, sharp edge" {
			continue
		}
		if c := r.Float("discharge coefficient [1]"); c < thin.Low || c > thin.High {
			t.Errorf("%s: %v is not within %v", r.Place, c, thin)
		}
	}
	for _, r := range reftest.Read(t, "hydraulics-orifice-cd-rules") {
		c := r.Float("discharge coefficient [1]")
		switch {
		case r.Text("locator") == "typical tube":
			reftest.Near(t, r, DischargeCoefficient(2, 1).High, "discharge coefficient [1]")
		case r.Has("wall thickness [mm]") && r.Text("locator") != "burred or punched edge facing the water":
			s := DischargeCoefficient(r.Float("wall thickness [mm]"), r.Float("hole diameter [mm]"))
			if c < s.Low || c > s.High {
				t.Errorf("%s: %v is not within %v", r.Place, c, s)
			}
		}
	}
}

func TestDischargeCoefficientIsContinuousAtItsLimits(t *testing.T) {
	const step = 1e-9
	for _, ratio := range []float64{0.5, 1} {
		below, above := DischargeCoefficient(ratio-step, 1), DischargeCoefficient(ratio+step, 1)
		for _, d := range []float64{above.Low - below.Low, above.Likely - below.Likely, above.High - below.High} {
			if math.Abs(d) > 1e-8 {
				t.Errorf("the coefficient jumps by %v at a floor of %v holes", d, ratio)
			}
		}
	}
	if a, b := DischargeCoefficient(0.1, 1), DischargeCoefficient(0.49, 1); a != b {
		t.Errorf("thin floors differ: %v and %v", a, b)
	}
}

func TestSurfaceTensionWidensBothSidesOfItsLimits(t *testing.T) {
	cd := DischargeCoefficient(0, 1)
	for _, c := range []struct {
		hole, head float64
		wider      bool
	}{{0.005, 0.025, false}, {0.00499, 0.025, true}, {0.005, 0.0249, true}} {
		w := Widen(cd, c.hole, c.head)
		if wider := w.Low < cd.Low && w.High > cd.High; wider != c.wider {
			t.Errorf("hole %v m, head %v m: widened %v, want %v", c.hole, c.head, wider, c.wider)
		}
		if w.Likely != cd.Likely {
			t.Error("the likely coefficient changed")
		}
	}
}

func TestTrayOfTheWorkedExample(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-worked-examples") {
		if r.Text("example") != "hyd-11" {
			continue
		}
		var count, hole, cd, flow float64
		words := r.Text("inputs in words")
		if _, err := fmt.Sscanf(words, "Tray with %f drilled holes of %f mm, Cd %f, must pass %f L/min", &count, &hole, &cd, &flow); err != nil {
			t.Fatalf("%s: %q: %v", r.Place, words, err)
		}
		h := OrificeHead(cd, count*CircleArea(hole/1000), flow/60000)
		reftest.Near(t, r, h*1000, "expected")
		return
	}
	t.Error("the worked example of the tray is missing")
}

func TestOrificeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cd := rapid.Float64Range(0.5, 0.85).Draw(t, "cd")
		area := rapid.Float64Range(1e-6, 1e-2).Draw(t, "area")
		flow := rapid.Float64Range(1e-6, 1e-2).Draw(t, "flow")
		h := OrificeHead(cd, area, flow)
		if back := OrificeFlow(cd, area, h); math.Abs(back-flow) > 1e-12*flow {
			t.Errorf("flow %v comes back as %v", flow, back)
		}
		if half := OrificeHead(cd, area/2, flow); math.Abs(half/h-4) > 1e-12 || BlockedFactor(0.5) != 4 {
			t.Errorf("half the area needs %v times the head", half/h)
		}
		s := rapid.Float64Range(0, 0.9).Draw(t, "blocked")
		if got := OrificeHead(cd, area*(1-s), flow); math.Abs(got-h*BlockedFactor(s)) > 1e-9*got {
			t.Errorf("a share of %v blocked needs %v, the factor says %v", s, got, h*BlockedFactor(s))
		}
	})
	if OrificeFlow(0.6, 1, 0) != 0 || OrificeFlow(0.6, 1, -1) != 0 || OrificeHead(0.6, 1, 0) != 0 {
		t.Error("no head and no flow do not belong together")
	}
}

func TestHolesPassTheFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := rapid.Float64Range(1, 1e5).Draw(t, "flow")
		each := rapid.Float64Range(0.1, 500).Draw(t, "each")
		s := rapid.Float64Range(0, 0.9).Draw(t, "blocked")
		n := HolesFor(flow, each, s)
		if n != math.Trunc(n) || n*each*(1-s) < flow*(1-1e-8) || (n-1)*each*(1-s) >= flow {
			t.Errorf("%v holes of %v with %v blocked for %v", n, each, s, flow)
		}
	})
	if n := HolesFor(9, 3, 0); n != 3 {
		t.Errorf("nine by threes takes %v holes", n)
	}
}
