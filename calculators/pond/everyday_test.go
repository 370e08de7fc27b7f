package pond_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/pond"
)

func evaluate(t *testing.T, c calculators.Calculator, pairs ...string) calculators.Result {
	t.Helper()
	_, r, err := c.Evaluate(args(pairs...))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func found(t *testing.T, r calculators.Result, output string) float64 {
	t.Helper()
	v, ok := r.Value(output)
	if !ok {
		t.Fatalf("there is no %s in the answer", output)
	}
	return v.Likely
}

func TestGallonsAreThoseOfTheTable(t *testing.T) {
	seen := 0
	for _, r := range reftest.Read(t, "hydraulics-unit-conversions") {
		switch r.Text("from") {
		case "imperial gallon":
			seen++
			if got := pond.ImperialGallons(r.Float("factor")); got != 1 {
				t.Errorf("%s: %v L are %v imperial gallons", r.Place, r.Float("factor"), got)
			}
		case "US gallon per hour":
			seen++
			if got := pond.USGallons(r.Float("factor")); got != 1 {
				t.Errorf("%s: %v L are %v US gallons", r.Place, r.Float("factor"), got)
			}
		}
	}
	if seen != 2 {
		t.Errorf("%d gallons in the set, want 2", seen)
	}
}

// Whichever gallon a volume is given in, both are shown, and neither without
// its name.
func TestUnitsNeverSayPlainGallon(t *testing.T) {
	v, err := pond.Units().Reckon(args("volume", "100 gal (US)"))
	if err != nil {
		t.Fatal(err)
	}
	if got := []string{v.Values[0].Text, v.Values[1].Text, v.Values[2].Text}; got[0] != "378.5\u00a0L" || got[1] != "83.27\u00a0gal\u00a0(imp)" || got[2] != "100.0\u00a0gal\u00a0(US)" {
		t.Errorf("100 US gallons are %q", got)
	}
	if _, err := pond.Units().Reckon(args("volume", "100 gal")); err == nil || !strings.Contains(err.Error(), "which gallon") {
		t.Errorf("100 gal: %v", err)
	}
}

func TestEveryKindOfUnitAnswers(t *testing.T) {
	for kind, value := range map[string]string{"volume": "1 L", "flow": "1 L/h", "length": "1 m", "area": "1 m2", "weight": "1 kg", "temperature": "20 Cel"} {
		r := evaluate(t, pond.Units(), "kind", kind, kind, value)
		if len(r.Values) < 2 || r.Values[0].Likely == r.Values[1].Likely {
			t.Errorf("%s: %v", kind, r.Values)
		}
	}
	if got := found(t, evaluate(t, pond.Units(), "kind", "temperature", "temperature", "50 [degF]"), "celsius"); math.Abs(got-10) > 1e-9 {
		t.Errorf("50 °F is %v °C", got)
	}
}

func TestFillingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume, time := rapid.Float64Range(0.1, 1e5).Draw(t, "volume"), rapid.Float64Range(0.01, 100).Draw(t, "time")
		flow := pond.FillFlow(volume, time)
		if got := pond.FillTime(volume, flow); math.Abs(got-time) > 1e-9*time {
			t.Errorf("%v L at the flow that brings them in %v h take %v h", volume, time, got)
		}
		if twice := pond.FillTime(2*volume, flow); math.Abs(twice-2*time) > 1e-9*time {
			t.Errorf("twice the water takes %v h, once %v h", twice, time)
		}
	})
}

// A bucket, a meter and a known flow that mean the same give the same.
func TestWaysToMeasureAgree(t *testing.T) {
	bucket := evaluate(t, pond.Filling(), "bucket", "10 L", "seconds", "36 s", "water", "500 L")
	meter := evaluate(t, pond.Filling(), "from", "meter", "metered", "100 L", "minutes", "6 min", "water", "500 L")
	known := evaluate(t, pond.Filling(), "from", "known", "flow", "1000 L/h", "water", "500 L")
	for _, r := range []calculators.Result{bucket, meter, known} {
		if flow, time := found(t, r, "flow"), found(t, r, "time"); math.Abs(flow-1000) > 1e-9 || math.Abs(time-0.5) > 1e-12 {
			t.Errorf("%v L/h, %v h", flow, time)
		}
	}
	ran := evaluate(t, pond.Filling(), "from", "known", "flow", "1000 L/h", "find", "water", "running", "30 min")
	if got := found(t, ran, "water"); math.Abs(got-500) > 1e-9 {
		t.Errorf("half an hour at 1000 L/h is %v L", got)
	}
	for seconds, flagged := range map[string]bool{"4.9 s": true, "5 s": false} {
		r := evaluate(t, pond.Filling(), "bucket", "10 L", "seconds", seconds, "water", "500 L")
		if got := len(r.Flags) > 0; got != flagged {
			t.Errorf("a bucket full in %s: flags %q", seconds, r.Flags)
		}
	}
}

func TestLinerProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side, depth, overlap := rapid.Float64Range(0.1, 50).Draw(t, "side"), rapid.Float64Range(0.1, 5).Draw(t, "depth"), rapid.Float64Range(0, 2).Draw(t, "overlap")
		liner := pond.LinerSide(side, depth, overlap)
		if over := pond.LinerSide(side, 0, 0); over != side {
			t.Errorf("no depth and no overlap, yet %v for %v", over, side)
		}
		if scaled := pond.LinerSide(2*side, 2*depth, 2*overlap); math.Abs(scaled-2*liner) > 1e-9 {
			t.Errorf("twice the pond needs %v, once %v", scaled, liner)
		}
		// A sheet 1 mm thick of the density of water weighs 1 kg on each m2.
		if got := pond.LinerMass(side*side, 1, 1000); math.Abs(got-side*side) > 1e-9*got {
			t.Errorf("%v m2 weigh %v kg", side*side, got)
		}
	})
}

func TestHeavyLinerAsksForHelp(t *testing.T) {
	help := func(length string) bool {
		r := evaluate(t, pond.Liner(), "length", length, "width", "1 m", "depth", "1 m")
		return strings.Contains(strings.Join(r.Advice, "\n"), "with others")
	}
	if help("0.2 m") || !help("3 m") {
		t.Error("a small sheet needs no help, a large one does")
	}
}

// The sentences that keep fish and people from harm stand where they belong.
func TestWarningsOnBothSides(t *testing.T) {
	said := func(r calculators.Result) string { return strings.Join(r.Advice, "\n") }
	for after, warned := range map[string]bool{"3 g/L": false, "3.1 g/L": true} {
		r := reckon(t, "shape", "salt", "salt", "30 kg", "before", "0 g/L", "after", after)
		if strings.Contains(said(r), "ask a vet") != warned || !strings.Contains(said(r), "Only water changes") {
			t.Errorf("%s of salt: %v", after, r.Advice)
		}
	}
	for find, warned := range map[string]bool{"water": true, "time": false} {
		r := evaluate(t, pond.Filling(), "bucket", "10 L", "seconds", "60 s", "find", find, map[string]string{"water": "running", "time": "water"}[find], map[string]string{"water": "3 h", "time": "900 L"}[find])
		if strings.Contains(said(r), "for the whole pond") != warned {
			t.Errorf("find %s: %v", find, r.Advice)
		}
	}
}

// A timer is set to no more figures than the flow is known to.
func TestTimerHasTwoFigures(t *testing.T) {
	r := evaluate(t, pond.Filling(), "bucket", "10 L", "seconds", "55 s", "water", "9999 L")
	minutes := strings.Fields(strings.ReplaceAll(r.Advice[0], "\u00a0", " "))[4]
	if digits := strings.Trim(strings.ReplaceAll(minutes, ",", ""), "0"); len(digits) > 2 {
		t.Errorf("%q has more than two figures: %s", minutes, r.Advice[0])
	}
}
