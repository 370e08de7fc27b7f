package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

func TestDilutionMatchesTheTables(t *testing.T) {
	for _, r := range reftest.Read(t, "water-change-dilution-computed") {
		share, n := r.Float("change [%]")/100, r.Float("changes [1]")
		reftest.Near(t, r, water.LeftAfterChanges(share, n), "remaining after batch changes [1]")
		reftest.Near(t, r, water.LeftAfterRunThrough(share*n), "remaining after same volume run through [1]")
		if got := water.ChangesToReplace(1-water.LeftAfterChanges(share, n), share); got != n {
			t.Errorf("%s: %v changes replace what %v do", r.Place, got, n)
		}
	}
	for _, r := range reftest.Read(t, "water-flush-volumes-computed") {
		reftest.Near(t, r, water.RunThroughVolumes(r.Float("old water removed [%]")/100), "pond volumes needed [1]")
	}
}

func TestDilutionProperties(t *testing.T) {
	unit := func(t *rapid.T, name string) float64 { return rapid.Float64Range(0.01, 0.95).Draw(t, name) }
	rapid.Check(t, func(t *rapid.T) {
		now, tap, part := rapid.Float64Range(0, 100).Draw(t, "now"), rapid.Float64Range(0, 100).Draw(t, "tap"), unit(t, "part")
		if math.Abs(now-tap) > 0.1 {
			target := water.Mixed(now, tap, part)
			if got := water.ShareToReplace(now, tap, target); math.Abs(got-part) > 1e-9 {
				t.Errorf("replacing %v brings %v to %v, but %v is asked for", part, now, target, got)
			}
			if got := water.ShareToReplace(now, tap, now+(now-tap)); got != 0 {
				t.Errorf("a target beyond the pond's own value asks for %v", got)
			}
			if got := water.ShareToReplace(now, tap, tap-(now-tap)); !math.IsNaN(got) {
				t.Errorf("a target beyond the tap's value asks for %v", got)
			}
		}
		each := unit(t, "each")
		n := water.ChangesToReplace(part, each)
		if water.LeftAfterChanges(each, n) > 1-part+1e-9 || n > 1 && water.LeftAfterChanges(each, n-1) < 1-part-1e-9 {
			t.Errorf("%v changes of %v are not the fewest that replace %v", n, each, part)
		}
		if got := water.LeftAfterRunThrough(water.RunThroughVolumes(part)); math.Abs(got-(1-part)) > 1e-12 {
			t.Errorf("running through what replaces %v leaves %v", part, got)
		}
		if water.RunThroughVolumes(part) < part {
			t.Error("running through must take more water than one change")
		}
	})
}

// A pond twice as large needs twice the water, whichever way it is changed.
func TestChangeScalesWithThePond(t *testing.T) {
	c := water.WaterChange()
	small := reckon(t, c, "volume=1000 L", "reading=4 mg/L", "tap=1 mg/L", "target=2 mg/L")
	large := reckon(t, c, "volume=2000 L", "reading=4 mg/L", "tap=1 mg/L", "target=2 mg/L")
	for _, output := range []string{"water", "changes-water", "run-water"} {
		if a, b := likely(t, small, output), likely(t, large, output); math.Abs(b-2*a) > 1e-9 {
			t.Errorf("%s is %v in 1000 L and %v in 2000 L", output, a, b)
		}
	}
}

func TestTargetsOutOfReachAreRefused(t *testing.T) {
	for _, target := range []string{"9 mg/L", "10 mg/L"} {
		_, _, err := water.WaterChange().Evaluate(arguments([]string{"volume=1000 L", "reading=50 mg/L", "tap=10 mg/L", "target=" + target}))
		if err == nil || !strings.Contains(err.Error(), "cannot bring about") {
			t.Errorf("target %s: %v", target, err)
		}
	}
	if r := reckon(t, water.WaterChange(), "volume=1000 L", "reading=50 mg/L", "tap=10 mg/L", "target=10.1 mg/L"); likely(t, r, "share") < 99 {
		t.Errorf("just within reach: %v", r.Values)
	}
	if r := reckon(t, water.WaterChange(), "volume=1000 L", "reading=1 mg/L", "target=2 mg/L"); likely(t, r, "share") != 0 || likely(t, r, "changes") != 0 {
		t.Errorf("a reading below the target still asks for water: %v", r.Values)
	}
}

func TestMixedPH(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		alkalinity := rapid.Float64Range(20, 300)
		a, b := alkalinity.Draw(t, "a"), alkalinity.Draw(t, "b")
		one, two := rapid.Float64Range(6.5, 9).Draw(t, "one"), rapid.Float64Range(6.5, 9).Draw(t, "two")
		share, celsius := rapid.Float64Range(0, 1).Draw(t, "share"), rapid.Float64Range(0, 40).Draw(t, "temperature")
		got := water.MixedPH(one, a, two, b, share, celsius)
		if got < math.Min(one, two)-0.01 || got > math.Max(one, two)+0.01 {
			t.Errorf("pH %v and %v mix to %v", one, two, got)
		}
		if same := water.MixedPH(one, a, one, a, share, celsius); math.Abs(same-one) > 1e-9 {
			t.Errorf("water of pH %v mixed with itself has %v", one, same)
		}
		if whole := water.MixedPH(one, a, two, b, 1, celsius); math.Abs(whole-two) > 1e-9 {
			t.Errorf("all new water of pH %v has %v", two, whole)
		}
	})
	if got := water.MixedPH(11, 10, 7, 100, 0.5, 20); !math.IsNaN(got) {
		t.Errorf("10 mg/L alkalinity cannot have pH 11, yet it mixes to %v", got)
	}
}

func TestChangeWarnsOfTheNewWater(t *testing.T) {
	base := []string{"volume=1000 L", "reading=4 mg/L", "target=2 mg/L", "each=50 %"}
	for what, c := range map[string]struct {
		more []string
		flag string
	}{
		"cold tap":      {[]string{"temperature=20 Cel", "tap-temperature=10 Cel"}, "temperature by more than 1\u202f°C"},
		"soft tap":      {[]string{"alkalinity=60 mg/L", "tap-alkalinity=10 mg/L"}, "below 50\u00a0mg/L"},
		"higher pH":     {[]string{"alkalinity=60 mg/L", "tap-alkalinity=60 mg/L", "ph=7", "tap-ph=8.5"}, "pH rises"},
		"impossible pH": {[]string{"alkalinity=60 mg/L", "tap-alkalinity=0 mg/L", "ph=7", "tap-ph=8.5"}, "cannot have such a pH"},
	} {
		r := reckon(t, water.WaterChange(), append(append([]string{}, base...), c.more...)...)
		if !strings.Contains(strings.Join(r.Flags, "\n"), c.flag) {
			t.Errorf("%s: flags %q", what, r.Flags)
		}
		if plain := reckon(t, water.WaterChange(), base...); strings.Contains(strings.Join(plain.Flags, "\n"), c.flag) {
			t.Errorf("%s: flagged without cause: %q", what, plain.Flags)
		}
	}
}

// However little is to be replaced, it takes a change; a number of changes that the
// logarithms compute a hair too high is no further one.
func TestALittleTakesAChange(t *testing.T) {
	for part, want := range map[float64]float64{0: 0, 3e-10: 1, 0.25: 1, 0.4375: 2, 0.438: 3} {
		if got := water.ChangesToReplace(part, 0.25); got != want {
			t.Errorf("to replace %v takes %v changes of a quarter, not %v", part, got, want)
		}
	}
}
