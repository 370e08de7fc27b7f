package stack

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func TestWindPressures(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-wind-pressure") {
		v := r.Float("wind speed [m/s]")
		reftest.Near(t, r, WindPressure(v, AirDensity), "dynamic pressure at 1.25 kg/m3 [Pa]")
		// The other code's factor is 0.613 v^2, half of 1.226.
		reftest.Near(t, r, WindPressure(v, 1.226), "dynamic pressure at 1.226 kg/m3 [Pa]")
	}
}

// The published coefficients are the likely ones; the ends hold what two other
// codes say of stacks as slender as ours, their end effects counted.
func TestForceCoefficients(t *testing.T) {
	low, likely, high := ForceCoefficient(false)
	_, round, _ := ForceCoefficient(true)
	seen := 0
	for _, r := range reftest.Read(t, "hydraulics-wind-force-coefficient") {
		switch r.Text("shape") {
		case "chimney, tank or solid tower, square or rectangular":
			reftest.Near(t, r, likely, "force coefficient [1]")
			seen++
		case "chimney, tank or solid tower, round":
			reftest.Near(t, r, round, "force coefficient [1]")
			seen++
		case "square, wind normal to face, h/D 1":
			reftest.Near(t, r, low, "force coefficient [1]")
			seen++
		case "infinitely long square prism":
			if r.Float("force coefficient [1]")*0.7 > high+0.05 {
				t.Errorf("%s: with the end effect above %v", r.Place, high)
			}
			seen++
		}
	}
	if seen != 4 {
		t.Errorf("%d of 4 rows", seen)
	}
}

// The ratio from which common practice ties a stack of boxes.
func TestSlendernessIsThatOfTheTable(t *testing.T) {
	for _, r := range reftest.Read(t, "safety-stack-ratio") {
		if strings.HasPrefix(r.Text("object"), "stack of boxes") {
			reftest.Near(t, r, slenderest, "ratio_up_to [1]")
			return
		}
	}
	t.Error("the set has no row for boxes")
}

func TestTippingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mass, base := rapid.Float64Range(1, 1000).Draw(t, "mass"), rapid.Float64Range(0.1, 2).Draw(t, "base")
		height := rapid.Float64Range(0.2, 3).Draw(t, "height")
		// A push that tips, at its height, makes the restoring moment.
		if m := TippingForce(mass, base, height) * height; math.Abs(m-RestoringMoment(mass, base)) > 1e-9*m {
			t.Errorf("%v", m)
		}
		if TippingForce(mass, base, 1.1*height) >= TippingForce(mass, base, height) || TippingAngle(base, 1.1*height) >= TippingAngle(base, height) {
			t.Error("a higher stack holds better")
		}
		// At the angle of tipping the centre of mass is above the edge.
		a := TippingAngle(base, height) * math.Pi / 180
		if off := base/2*math.Cos(a) - height*math.Sin(a); math.Abs(off) > 1e-9 {
			t.Errorf("at %v degrees the centre is %v m off the edge", a, off)
		}
		// A child as heavy as the stack, half the base outside, just balances it.
		if r := ClimbingRatio(mass, base, mass, base/2); math.Abs(r-1) > 1e-12 {
			t.Errorf("%v", r)
		}
	})
	if WindPressure(0, AirDensity) != 0 {
		t.Error("still air presses")
	}
}

// With the tie that it asks for, a stack holds as wanted.
func TestTieGivesTheWantedHold(t *testing.T) {
	c := Tipping()
	for _, wind := range []string{"10 m/s", "25 m/s", "40 m/s"} {
		pull := value(t, c, "tie", "wind", wind).Likely
		holds, turns := value(t, c, "restoring", "wind", wind).Likely, value(t, c, "overturning", "wind", wind).Likely
		ratio := (holds + pull*1.2) / turns
		if pull > 0 && math.Abs(ratio-WantedRatio) > 1e-9 || pull == 0 && ratio < WantedRatio {
			t.Errorf("%s: a tie of %v N gives %v", wind, pull, ratio)
		}
	}
}

func TestTippingAnswers(t *testing.T) {
	c := Tipping()
	base := value(t, c, "ratio").Likely
	if v := value(t, c, "ratio", "wind", "50 m/s").Likely; math.Abs(v-base/4) > 1e-9*base {
		t.Errorf("in twice the wind %v, not a quarter of %v", v, base)
	}
	if v := value(t, c, "ratio", "drained", "90 kg").Likely; math.Abs(v-base/2) > 1e-9*base {
		t.Errorf("half as heavy it holds %v", v)
	}
	if wet := value(t, c, "ratio-running").Likely; wet <= base {
		t.Errorf("running it holds %v, drained %v", wet, base)
	}
	if v := value(t, c, "ratio", "shape", "round"); v.Low != v.High || v.Likely <= base {
		t.Errorf("round %v, with corners %v", v, base)
	}
	if top, half := value(t, c, "tipping-force").Likely, value(t, c, "tipping-force", "push", "600 mm").Likely; math.Abs(half-2*top) > 1e-9*half {
		t.Errorf("at half the height %v N, at the top %v", half, top)
	}
	if v := value(t, c, "angle", "centre", "600 mm"); v.Likely != value(t, c, "angle").Likely {
		t.Error("the centre of mass is not at half the height")
	}
}

func TestTippingWords(t *testing.T) {
	c := Tipping()
	for text, k := range map[string]struct{ with, not []string }{
		"child that climbs":   {[]string{"child", "45 kg"}, []string{"child", "35 kg"}},
		"may tip the drained": {[]string{"wind", "31 m/s"}, []string{"wind", "29 m/s"}},
		"less than wanted":    {nil, []string{"wind", "24 m/s"}},
		"twice its narrow":    {nil, []string{"height", "800 mm"}},
	} {
		if !says(t, c, text, k.with...) {
			t.Errorf("%v: %q is not said", k.with, text)
		}
		if says(t, c, text, k.not...) {
			t.Errorf("%v: %q is said", k.not, text)
		}
	}
	if !says(t, c, "Tie every stack", "wind", "1 m/s", "height", "300 mm") {
		t.Error("a low stack in no wind need not be tied")
	}
}

func TestTippingRefusals(t *testing.T) {
	c := Tipping()
	for input, k := range map[string]struct{ bad, good string }{
		"push": {"1201 mm", "1200 mm"}, "centre": {"1201 mm", "1200 mm"}, "running": {"179 kg", "180 kg"},
	} {
		if _, err := c.Reckon(with(c, input, k.bad)); err == nil || !strings.HasPrefix(err.Error(), input+": ") {
			t.Errorf("%s: %v", k.bad, err)
		}
		if _, err := c.Reckon(with(c, input, k.good)); err != nil {
			t.Error(err)
		}
	}
}
