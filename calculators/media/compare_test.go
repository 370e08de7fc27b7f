package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
)

func compared(t testing.TB, pairs ...string) (calculators.Inputs, calculators.Result) {
	t.Helper()
	args := question(Compare())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	in, r, err := Compare().Evaluate(args)
	if err != nil {
		t.Fatal(err)
	}
	return in, r
}

func valueOf(t testing.TB, r calculators.Result, output string) calculators.Value {
	t.Helper()
	v, ok := r.Value(output)
	if !ok || !(v.Low <= v.Likely && v.Likely <= v.High) {
		t.Errorf("%s: %v, %v", output, v, ok)
	}
	return v
}

// The medium found is what media-volume finds for the same water on the floor.
func TestCompareAgreesWithVolume(t *testing.T) {
	for _, medium := range mediumNames() {
		want := evaluate(t, "medium", medium)
		load := strconv.FormatFloat(want["hydraulic-load"].Likely, 'f', -1, 64) + " m3/m2/d"
		_, r := compared(t, "medium", medium, "load", load)
		if got := valueOf(t, r, "volume"); math.Abs(got.Likely-want["volume"].Likely) > 1e-9*got.Likely {
			t.Errorf("%s: %v, %v", medium, got, want["volume"])
		}
	}
}

func TestRanking(t *testing.T) {
	in, r := compared(t)
	rate, _ := Rate(0.25, 7, 21)
	all := contenders(in, rate)
	if len(all) != len(Table()) {
		t.Fatalf("%d of %d media", len(all), len(Table()))
	}
	for i := range all[1:] {
		a, b := &all[i], &all[i+1]
		switch {
		case a.price < 0 && b.price >= 0:
			t.Errorf("%s has no price and ranks before %s", a.name, b.name)
		case b.price >= 0 && a.price*a.litres.Likely > b.price*b.litres.Likely:
			t.Errorf("%s costs more than %s after it", a.name, b.name)
		case a.price < 0 && a.litres.Likely > b.litres.Likely:
			t.Errorf("%s takes more room than %s after it", a.name, b.name)
		}
	}
	if len(r.Working) != len(all)+1 || !strings.Contains(r.Advice[0], all[0].label) {
		t.Errorf("working of %d lines; %s", len(r.Working), r.Advice[0])
	}
	if in, r := compared(t, "prices", ""); contenders(in, rate)[0].price >= 0 || !strings.Contains(r.Advice[0], "State prices") {
		t.Errorf("without prices: %v", r.Advice)
	}
}

func TestCostFollowsPriceAndLoad(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		price := rapid.Float64Range(0.01, 5).Draw(rt, "price")
		row := func(p float64) string { return "lava, " + strconv.FormatFloat(p, 'f', -1, 64) }
		_, one := compared(t, "prices", row(price))
		_, two := compared(t, "prices", row(2*price), "feed", "160 g/d")
		if a, b := valueOf(t, one, "cost"), valueOf(t, two, "cost"); math.Abs(4*a.Likely-b.Likely) > 1e-9*b.Likely {
			rt.Errorf("twice the price for twice the feed: %v, %v", a, b)
		}
		if a, b := valueOf(t, one, "cost-gram"), valueOf(t, two, "cost-gram"); math.Abs(2*a.High-b.High) > 1e-9*b.High {
			rt.Errorf("twice the price: %v, %v", a, b)
		}
	})
	if _, r := compared(t, "medium", "brush"); len(r.Values) == 0 {
		t.Error("no values")
	} else if _, ok := r.Value("cost"); ok {
		t.Error("a medium without price has a cost")
	}
}

// A medium that comes first by its surface alone comes with what to watch.
func TestTheFirstComesWithItsNote(t *testing.T) {
	for _, m := range Table() {
		_, r := compared(t, "prices", m.Name+", 0.01")
		if m.Note != "" && !strings.Contains(strings.Join(r.Advice, "\n"), m.Note) {
			t.Errorf("%s: %v", m.Name, r.Advice)
		}
	}
}

func TestNitrateIsToldHonestly(t *testing.T) {
	_, r := compared(t, "purpose", "nitrate")
	if !strings.Contains(r.Advice[0], "change water") {
		t.Errorf("first advice: %s", r.Advice[0])
	}
	if loss := valueOf(t, r, "nitrate-lost"); loss.Likely != 0 {
		t.Errorf("promises %v", loss)
	}
	if bed, v := valueOf(t, r, "nitrate-bed"), valueOf(t, r, "volume"); bed.Likely < v.Likely {
		t.Errorf("the bed is smaller than the shower: %v, %v", bed, v)
	}
	if _, r := compared(t); strings.Contains(strings.Join(r.Advice, " "), "hydrogen sulfide") {
		t.Error("warns of a bed nobody asked for")
	}
}

func TestCompareRefusesWhatStarves(t *testing.T) {
	for target, ok := range map[string]bool{"0.07 mg/L": false, "0.071 mg/L": true} {
		args := calculators.With(question(Compare()), calculators.Arg{Name: "target", Value: target})
		if _, err := Compare().Reckon(args); (err == nil) != ok {
			t.Errorf("%s: %v", target, err)
		}
	}
}

func TestLittleOxygenIsFlagged(t *testing.T) {
	for oxygen, want := range map[string]bool{"0.8 mg/L": true, "0.82 mg/L": false} {
		_, r := compared(t, "oxygen", oxygen)
		if got := strings.Contains(strings.Join(r.Flags, "\n"), "Oxygen and not ammonia"); got != want {
			t.Errorf("%s: %v", oxygen, r.Flags)
		}
	}
}

// A shop's medium is ranked by its claim, the same as a medium of the table with that
// surface; pores that it counts do not.
func TestAShopsClaimIsRankedAndCapped(t *testing.T) {
	ask := func(pairs ...string) calculators.Result {
		args := question(Compare())
		for i := 0; i < len(pairs); i += 2 {
			args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
		}
		_, r, err := Compare().Evaluate(args)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := ask("medium", "gravel-20", "claimed", "180 m2/m3", "claimed-price", "0.50")
	table, shop := valueOf(t, r, "litres"), valueOf(t, r, "claimed-litres")
	if math.Abs(table.Likely-shop.Likely) > 1e-9*shop.Likely { // the gravel's surface is 165 to 195
		t.Errorf("gravel of 180 m2/m3 %v, a claim of as much %v", table, shop)
	}
	if cost := valueOf(t, r, "claimed-cost"); math.Abs(cost.Likely-shop.Likely/2) > 1e-9*cost.Likely {
		t.Errorf("costs %v", cost)
	}
	doubted := func(r calculators.Result) bool {
		return strings.Contains(strings.Join(r.Flags, "\n"), "counts inner pores")
	}
	pores := ask("claimed", "600000 m2/m3")
	if got, want := valueOf(t, pores, "claimed-litres").Likely, valueOf(t, ask("claimed", "1000 m2/m3"), "claimed-litres").Likely; got != want || !doubted(pores) || doubted(r) {
		t.Errorf("inner pores: %v, without %v, doubted %v and %v", got, want, doubted(pores), doubted(r))
	}
	if cheap := ask("claimed", "1000 m2/m3", "claimed-price", "0.01"); !strings.Contains(strings.Join(cheap.Advice, "\n"), "the shop's medium") {
		t.Errorf("the cheapest is not named: %v", cheap.Advice)
	}
}
