package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
)

// with returns the example with some inputs replaced; an empty value takes an
// input out.
func with(pairs ...string) []calculators.Arg {
	args := question(Volume())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	return args
}

func evaluate(t testing.TB, pairs ...string) map[string]calculators.Value {
	t.Helper()
	_, r, err := Volume().Evaluate(with(pairs...))
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]calculators.Value{}
	for _, v := range r.Values {
		if !(v.Low <= v.Likely && v.Likely <= v.High) {
			t.Errorf("%v: out of order", v)
		}
		values[v.Output] = v
	}
	return values
}

func TestNoLoadNeedsNoMedium(t *testing.T) {
	for _, name := range []string{"volume", "boxes", "tiers", "surface-needed", "weight-wet", "oxygen-used"} {
		if v := evaluate(t, "feed", "0 g/d")[name]; v.High != 0 {
			t.Errorf("%v", v)
		}
	}
}

func TestTwiceTheLoadNeedsTwiceTheMedium(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		feed := rapid.Float64Range(1, 200).Draw(r, "feed")
		amount := func(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) + " g/d" }
		one, two := evaluate(t, "feed", amount(feed)), evaluate(t, "feed", amount(2*feed))
		for _, name := range []string{"volume", "surface-needed", "load", "weight-dry", "oxygen-used", "alkalinity-used"} {
			a, b := one[name], two[name]
			for _, d := range []float64{2*a.Low - b.Low, 2*a.Likely - b.Likely, 2*a.High - b.High} {
				if math.Abs(d) > 1e-9*b.High {
					r.Errorf("%v, twice the load %v", a, b)
				}
			}
		}
	})
}

// The medium found removes the load, and the boxes hold it and no more.
func TestVolumeRemovesTheLoad(t *testing.T) {
	for _, medium := range append(mediumNames(), "") {
		pairs := []string{"medium", medium}
		if medium == "" {
			pairs = []string{"medium", "own", "made", "plastic", "surface", "250 m2/m3"}
		}
		v := evaluate(t, pairs...)
		in, _, err := Volume().Evaluate(with(pairs...))
		if err != nil {
			t.Fatal(err)
		}
		s := readSizing(in)
		removed := v["volume"].Likely / 1000 * s.surface.Likely * v["wetted"].Likely / 100 * v["rate"].Likely
		if math.Abs(removed-v["load"].Likely) > 1e-9*removed {
			t.Errorf("%s: removes %v of %v", medium, removed, v["load"].Likely)
		}
		n := v["boxes"].Likely
		if n != math.Trunc(n) || n*s.boxed*1000 < v["volume"].Likely*(1-1e-8) || (n-1)*s.boxed*1000 >= v["volume"].Likely {
			t.Errorf("%s: %v boxes of %v L for %v L", medium, n, s.boxed*1000, v["volume"].Likely)
		}
		if v["box-flooded"].Likely <= v["box-weight"].Likely {
			t.Errorf("%s: a box weighs %v flooded, %v drained", medium, v["box-flooded"].Likely, v["box-weight"].Likely)
		}
	}
}

func TestPiecesByTheirSizeEqualTheirSurface(t *testing.T) {
	a := evaluate(t, "medium", "pieces", "piece", "20 mm", "void", "40 %")
	b := evaluate(t, "medium", "own", "made", "stone", "surface", "180 m2/m3", "void", "40 %")
	if math.Abs(a["volume"].Likely-b["volume"].Likely) > 1e-9*b["volume"].Likely {
		t.Errorf("%v by size, %v by surface", a["volume"], b["volume"])
	}
}

func TestAmmoniaStatedEqualsItsFeed(t *testing.T) {
	feed := evaluate(t)
	tan := strconv.FormatFloat(feed["load"].Likely, 'f', -1, 64) + " g/d"
	stated := evaluate(t, "from", "tan", "feed", "", "protein", "", "tan", tan)
	if math.Abs(stated["volume"].Likely-feed["volume"].Likely) > 1e-9*feed["volume"].Likely {
		t.Errorf("%v stated, %v from feed", stated["volume"], feed["volume"])
	}
	if stated["volume"].High >= feed["volume"].High {
		t.Error("a stated load is no surer than one from feed")
	}
}

func TestImpossibleTargetsAreRefused(t *testing.T) {
	for _, c := range []struct{ input, value, says string }{
		{"target", "0.07 mg/L", "target: "},
		{"target", "0.02 mg/L", "target: "},
		{"flow", "300 L/h", "flow: "},
	} {
		_, err := Volume().Reckon(with(c.input, c.value))
		if err == nil || !strings.HasPrefix(err.Error(), c.says) {
			t.Errorf("%s %s: %v", c.input, c.value, err)
		}
	}
	if v := evaluate(t, "target", "0.071 mg/L", "flow", "1000 m3/h"); v["volume"].Likely < 50*evaluate(t)["volume"].Likely {
		t.Error("just above what bacteria can live on, little medium is enough")
	}
}

// The least flow named in the refusal is the limit: a little more is taken.
func TestLeastFlowIsTheLimit(t *testing.T) {
	v := evaluate(t)
	least := v["load"].Likely / (0.25 - LeastTAN) / 24 * 1000
	litres := func(f float64) string { return strconv.FormatFloat(f, 'f', 6, 64) + " L/h" }
	if _, err := Volume().Reckon(with("flow", litres(least*0.999))); err == nil {
		t.Error("less than the least flow is taken")
	}
	if _, err := Volume().Reckon(with("flow", litres(least*1.001))); err != nil {
		t.Error(err)
	}
}

func TestFlagsAndAdviceOnBothSides(t *testing.T) {
	reckon := func(pairs []string) string {
		v, err := Volume().Reckon(with(pairs...))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(append(v.Flags, v.Advice...), "\n")
	}
	for _, c := range []struct {
		says    string
		yes, no []string
	}{
		{"Oxygen and not ammonia", []string{"oxygen", "2 mg/L", "target", "0.62 mg/L"}, []string{"oxygen", "2 mg/L", "target", "0.61 mg/L"}},
		{"the most ever seen", []string{"target", "4 mg/L", "oxygen", "20 mg/L"}, []string{"target", "1 mg/L", "oxygen", "20 mg/L"}},
		{"One pass takes out", []string{"flow", "2100 L/h"}, []string{"flow", "2300 L/h"}},
		{"dry in places", []string{"stacks", "16"}, []string{"stacks", "15"}},
		{"thinner than on fish farms", []string{"stacks", "5"}, []string{"stacks", "4"}},
		{"thicker than on fish farms", []string{"flow", "4300 L/h"}, []string{"flow", "4100 L/h"}},
		{"may flood a box", []string{"flow", "6800 L/h"}, []string{"flow", "6600 L/h"}},
		{"may flood a box", []string{"flow", "6800 L/h"}, []string{"flow", "6800 L/h", "medium", "plastic-packing"}},
		{"should lift", []string{"medium", "gravel-20"}, []string{"medium", "plastic-packing"}},
		{"Fresh pumice floats", []string{"medium", "pumice"}, []string{"medium", "lava"}},
		{"above 1,000", []string{"medium", "own", "made", "plastic", "surface", "1001 m2/m3"}, []string{"medium", "own", "made", "plastic", "surface", "1000 m2/m3"}},
		{"clog soon", []string{"medium", "pieces", "piece", "7.9 mm"}, []string{"medium", "pieces", "piece", "8 mm"}},
		{"more than a mature filter leaves", []string{"target", "0.26 mg/L"}, []string{"target", "0.25 mg/L"}},
		{"Nothing to remove", []string{"feed", "0 g/d"}, []string{"feed", "1 g/d"}},
		{"boxes and leave room", []string{"feed", "80 g/d"}, []string{"feed", "0 g/d"}},
		{"outside the range", []string{"temperature", "4 Cel"}, []string{"temperature", "5 Cel"}},
	} {
		if got := reckon(c.yes); !strings.Contains(got, c.says) {
			t.Errorf("%v: %q is not said in\n%s", c.yes, c.says, got)
		}
		if got := reckon(c.no); strings.Contains(got, c.says) {
			t.Errorf("%v: %q is said in\n%s", c.no, c.says, got)
		}
	}
}

func TestColdNeedsMore(t *testing.T) {
	if cold, warm := evaluate(t, "temperature", "8 Cel")["volume"], evaluate(t)["volume"]; cold.Likely <= warm.Likely {
		t.Errorf("cold %v, warm %v", cold, warm)
	}
}
