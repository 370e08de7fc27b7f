package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

// A pound in 100 US gallons is what the conversion table says it is, and so a
// fifth more than the trade's 0.1 %.
func TestTradeRuleOfSalt(t *testing.T) {
	found := false
	for _, r := range reftest.Read(t, "hydraulics-unit-conversions") {
		if r.Text("from") != "pound per 100 US gallons" {
			continue
		}
		found = true
		content := r.Float("factor")
		got := reckon(t, water.Salt(), "volume=1000 L", "target="+number(content)+" g/L")
		if pounds := likely(t, got, "per-us"); math.Abs(pounds-1) > 1e-6 {
			t.Errorf("%s: %v lb in 100 US gallons make %v g/L", r.Place, pounds, content)
		}
	}
	if !found {
		t.Error("the row is not in the set")
	}
}

func TestSaltBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := rapid.Float64Range(1, 50000).Draw(t, "volume")
		before, after := rapid.Float64Range(0, 40).Draw(t, "before"), rapid.Float64Range(0, 40).Draw(t, "after")
		mass := water.SaltMass(volume, before, after)
		if got := before + mass/volume; math.Abs(got-math.Max(before, after)) > 1e-9 {
			t.Errorf("%v g in %v L raise %v to %v, want %v", mass, volume, before, got, after)
		}
		if twice := water.SaltMass(2*volume, before, after); math.Abs(twice-2*mass) > 1e-9*mass {
			t.Errorf("twice the water takes %v g, once %v g", twice, mass)
		}
	})
}

func TestSaltInPerCentIsTenGramsALitre(t *testing.T) {
	a := reckon(t, water.Salt(), "volume=1000 L", "target=3 g/L")
	b := reckon(t, water.Salt(), "volume=1000 L", "use=percent", "target-percent=0.3 %")
	if x, y := likely(t, a, "dose"), likely(t, b, "dose"); math.Abs(x-y) > 1e-9 {
		t.Errorf("3 g/L is %v kg, 0.3 %% is %v kg", x, y)
	}
}

func TestStrongSaltStaysOutOfThePond(t *testing.T) {
	pond := reckon(t, water.Salt(), "volume=1000 L", "target=3 g/L")
	tub := reckon(t, water.Salt(), "volume=100 L", "target=3.01 g/L")
	if all := strings.Join(tub.Advice, "\n"); strings.Contains(all, "nitrite") || strings.Contains(all, "evaporated") {
		t.Errorf("a tub is talked to as a pond: %q", all)
	}
	if strings.Contains(pond.Advice[0], "Not in the pond") || !strings.Contains(tub.Advice[0], "Not in the pond") {
		t.Errorf("at 3 g/L %q, above it %q", pond.Advice[0], tub.Advice[0])
	}
	for target, beyond := range map[string]bool{"30": false, "30.1": true} {
		r := reckon(t, water.Salt(), "volume=100 L", "target="+target+" g/L")
		if strings.Contains(strings.Join(r.Flags, "\n"), "No source") != beyond {
			t.Errorf("%s g/L: %q", target, r.Flags)
		}
	}
	there := reckon(t, water.Salt(), "volume=1000 L", "target=1 g/L", "present=1 g/L")
	if likely(t, there, "dose") != 0 || !strings.Contains(there.Advice[0], "add none") {
		t.Errorf("salt enough: %v, %q", there.Values, there.Advice)
	}
	if low, _ := water.SaltBath("soup"); !math.IsNaN(low) {
		t.Errorf("an unknown use has the content %v", low)
	}
}

// The undoing it states leaves no more than asked, and one change fewer more.
func TestSaltIsUndone(t *testing.T) {
	r := reckon(t, water.Salt(), "volume=1000 L", "target=1 g/L", "each=30 %", "may-stay=10 %")
	n := likely(t, r, "undo")
	if water.LeftAfterChanges(0.3, n) > 0.1 || water.LeftAfterChanges(0.3, n-1) <= 0.1 {
		t.Errorf("%v changes of 30 %% leave %v", n, water.LeftAfterChanges(0.3, n))
	}
}
