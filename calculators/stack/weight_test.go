package stack

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/media"
)

// with returns the example of a calculator with some inputs replaced; an empty
// value takes an input out.
func with(c calculators.Calculator, pairs ...string) []calculators.Arg {
	args := question(c)
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	return args
}

func value(t *testing.T, c calculators.Calculator, output string, pairs ...string) calculators.Value {
	t.Helper()
	_, r, err := c.Evaluate(with(c, pairs...))
	if err != nil {
		t.Fatal(err)
	}
	v, ok := r.Value(output)
	if !ok || v.Low > v.Likely || v.Likely > v.High {
		t.Fatalf("%s: %v, given %v", output, v, ok)
	}
	return v
}

// says reports whether the flags and the advice hold a text.
func says(t *testing.T, c calculators.Calculator, text string, pairs ...string) bool {
	t.Helper()
	v, err := c.Reckon(with(c, pairs...))
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(strings.Join(append(v.Flags, v.Advice...), " "), text)
}

func TestGroundPressures(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-stack-bearing") {
		mass := r.Float("boxes [1]") * r.Float("mass per box wet [kg]")
		reftest.Near(t, r, GroundPressure(mass, r.Float("base length [m]"), r.Float("base width [m]"))/1000, "pressure on base [kPa]")
	}
	grounds := map[string]string{"garden topsoil or fresh fill": "topsoil", "loose sand or gravel": "loose", "firm clay": "firm-clay", "dense sand or gravel": "dense"}
	seen := 0
	for _, r := range reftest.Read(t, "hydraulics-soil-bearing") {
		if ground, ok := grounds[r.Text("soil")]; ok {
			seen++
			reftest.Near(t, r, BearingPressure(ground)/1000, "allowable bearing pressure [kPa]")
		}
	}
	if seen != len(grounds) || BearingPressure("bog") != 0 {
		t.Errorf("%d of %d grounds", seen, len(grounds))
	}
}

func TestFloodedBox(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-bulk-density") {
		if !strings.HasPrefix(r.Text("material"), "flooded box") {
			continue
		}
		light := FloodedDensity(media.Between(60, 199), media.Between(120, 250), media.Between(0.8, 0.9))
		reftest.Near(t, r, light.Low, "bulk density low [kg/m3]")
		reftest.Near(t, r, light.High, "bulk density high [kg/m3]")
		return
	}
	t.Error("the set has no flooded box")
}

// A flooded box is heavier than a drained one, for every medium, and lighter
// than solid rock.
func TestFloodedIsHeavierThanDrained(t *testing.T) {
	for _, m := range media.Table() {
		flooded := FloodedDensity(m.Dry.Range(), m.Wet.Range(), m.Void.Range())
		if flooded.Low <= m.Wet.Low.Value || flooded.Likely <= m.Wet.Range().Likely || flooded.High > 2700 {
			t.Errorf("%s: flooded %v, drained %v", m.Name, flooded, m.Wet.Range())
		}
	}
}

// The marks and the advice are those of the set, for the lower of the two
// readers it knows.
func TestLiftFilters(t *testing.T) {
	marks := map[float64]string{limits.LiftOverhead: "woman|shoulder to above head", limits.LiftAlone: "woman|knuckle to elbow", limits.LiftMan: "man|knuckle to elbow"}
	for want, row := range marks {
		found := false
		for _, r := range reftest.Read(t, "safety-lift-filter") {
			if r.Text("handler")+"|"+r.Text("hand_height") == row && r.Text("reach") == "close to the body" {
				found = true
				reftest.Near(t, r, want, "filter_mass [kg]")
			}
		}
		if !found {
			t.Errorf("the set has no row %s", row)
		}
	}
	c := Weight()
	words := map[string]string{"body twisted more than 45 degrees": "10 a tenth", "once or twice a minute": "30 three tenths"}
	for _, r := range reftest.Read(t, "safety-lift-adjust") {
		if want, ok := words[r.Text("condition")]; ok {
			number, text, _ := strings.Cut(want, " ")
			if r.Text("reduction [%]") != number || !says(t, c, text) {
				t.Errorf("%s: the advice says %q", r.Place, text)
			}
		}
	}
}

func TestBoxesAddUp(t *testing.T) {
	c := Weight()
	dry, drained, running, blocked := value(t, c, "box-dry"), value(t, c, "box-drained"), value(t, c, "box-running"), value(t, c, "box-blocked")
	if dry.Likely >= drained.Likely || drained.Likely >= running.Likely || running.Likely >= blocked.Likely {
		t.Errorf("dry %v, drained %v, running %v, blocked %v", dry, drained, running, blocked)
	}
	if total := value(t, c, "total"); math.Abs(total.Likely-4*blocked.Likely) > 1e-9*total.Likely {
		t.Errorf("four boxes of %v weigh %v", blocked, total)
	}
	// An empty box weighs what it weighs, and full of water that and its water.
	if v := value(t, c, "box-drained", "fill", "0 mm", "box", "3 kg"); v.Low != 3 || v.High != 3 {
		t.Errorf("an empty box of 3 kg weighs %v", v)
	}
	if v := value(t, c, "box-blocked", "fill", "0 mm", "side", "100 mm", "length", "500 mm", "width", "400 mm"); math.Abs(v.Likely-23) > 1e-9 {
		t.Errorf("3 kg and 20 litres of water weigh %v", v)
	}
	if v := value(t, c, "box-running", "fill", "0 mm", "standing", "50 mm", "length", "500 mm", "width", "400 mm"); math.Abs(v.Likely-13) > 1e-9 {
		t.Errorf("3 kg and 10 litres of water weigh %v", v)
	}
}

func TestOwnMedium(t *testing.T) {
	c := Weight()
	own := []string{"medium", "own", "dry", "700 kg/m3", "drained", "900 kg/m3", "void", "40 %", "fill", "250 mm", "side", "250 mm", "length", "400 mm", "width", "500 mm"}
	for output, want := range map[string]float64{"box-dry": 38, "box-drained": 48, "box-blocked": 68, "box-running": 52} {
		if v := value(t, c, output, own...); math.Abs(v.Likely-want) > 1e-9 {
			t.Errorf("%s: %v, not %v", output, v.Likely, want)
		}
	}
}

func TestWeightWords(t *testing.T) {
	c := Weight()
	for text, k := range map[string]struct{ with, not []string }{
		"may give way":         {[]string{"boxes", "12"}, []string{"boxes", "12", "ground", "dense"}},
		"little to spare":      {nil, []string{"ground", "loose"}},
		"do not lift it alone": {nil, []string{"fill", "80 mm"}},
		"16\u00a0kg":           {[]string{"fill", "80 mm"}, []string{"fill", "50 mm"}},
		"bag by bag":           {[]string{"fill", "50 mm"}, []string{"fill", "10 mm"}},
		"no box from a step":   {nil, []string{"fill", "10 mm"}}, // the heaviest least of all
		"Fill the box":         {[]string{"from", "weighed", "weighed", "50 kg", "length", "", "width", "", "fill", "", "side", ""}, nil},
	} {
		if !says(t, c, text, k.with...) {
			t.Errorf("%v: %q is not said", k.with, text)
		}
		if says(t, c, text, k.not...) {
			t.Errorf("%v: %q is said", k.not, text)
		}
	}
}

func TestWeightRefusals(t *testing.T) {
	c := Weight()
	own := []string{"medium", "own", "dry", "700 kg/m3", "void", "40 %"}
	for input, k := range map[string]struct{ bad, good []string }{
		"fill":    {[]string{"fill", "261 mm"}, []string{"fill", "260 mm"}},
		"drained": {append(own, "drained", "699 kg/m3"), append(own, "drained", "700 kg/m3")},
	} {
		if _, err := c.Reckon(with(c, k.bad...)); err == nil || !strings.HasPrefix(err.Error(), input+": ") {
			t.Errorf("%v: %v", k.bad, err)
		}
		if _, err := c.Reckon(with(c, k.good...)); err != nil {
			t.Errorf("%v: %v", k.good, err)
		}
	}
}

func TestTwiceTheBoxesPressTwiceAsHard(t *testing.T) {
	c := Weight()
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 25).Draw(rt, "boxes")
		one, two := value(t, c, "pressure", "boxes", fmt.Sprint(n)), value(t, c, "pressure", "boxes", fmt.Sprint(2*n))
		if math.Abs(two.High-2*one.High) > 1e-9*two.High {
			rt.Errorf("%v and %v", one, two)
		}
		wide := value(t, c, "pressure", "boxes", fmt.Sprint(n), "base-length", "1200 mm")
		if math.Abs(one.Likely-2*wide.Likely) > 1e-9*one.Likely {
			rt.Errorf("on twice the base %v, not half of %v", wide, one)
		}
	})
}
