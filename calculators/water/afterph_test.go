package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

// The inverse leads back to the pH of each row of the figures.
func TestHighestPHReturns(t *testing.T) {
	for _, r := range reftest.Read(t, "water-nh3-fraction-emerson-computed") {
		reftest.Near(t, r, water.HighestPH(1, r.Float("fraction [1]"), r.Float("temperature [Cel]"), 0), "ph [pH]")
	}
	rapid.Check(t, func(rt *rapid.T) {
		ph := rapid.Float64Range(5, 10).Draw(rt, "pH")
		celsius, salinity := rapid.Float64Range(0, 50).Draw(rt, "t"), rapid.Float64Range(0, 35).Draw(rt, "S")
		limit := 3 * water.UnionisedFraction(ph, celsius, salinity)
		if back := water.HighestPH(3, limit, celsius, salinity); math.Abs(back-ph) > 1e-9 {
			rt.Errorf("pH %v comes back as %v", ph, back)
		}
	})
	if !math.IsInf(water.HighestPH(0.05, 0.05, 20, 0), 1) || !math.IsNaN(water.HighestPH(1, 0.05, 51, 0)) {
		t.Error("a total at the limit has a highest pH, or 51 °C an answer")
	}
}

func TestAfterPHProperties(t *testing.T) {
	c, free := water.AmmoniaAfterPH(), water.FreeAmmonia()
	rapid.Check(t, func(rt *rapid.T) {
		tan := "tan=" + number(rapid.Float64Range(0, 10).Draw(rt, "tan")) + " mg/L"
		ph, rise := rapid.Float64Range(6, 8).Draw(rt, "pH"), rapid.Float64Range(0, 1.5).Draw(rt, "rise")
		celsius := "temperature=" + number(rapid.Float64Range(0, 35).Draw(rt, "t")) + " Cel"
		r := reckon(t, c, tan, "ph="+number(ph), celsius, "ph-after="+number(ph+rise))
		before := likely(t, reckon(t, free, tan, "ph="+number(ph), celsius), "toxic")
		after := likely(t, reckon(t, free, tan, "ph="+number(ph+rise), celsius), "toxic")
		if d := math.Abs(likely(t, r, "before")-before) + math.Abs(likely(t, r, "after")-after); d > 1e-12 {
			rt.Errorf("before and after miss the free ammonia of the two by %v", d)
		}
		if times := likely(t, r, "times"); times < 1-1e-12 || times > math.Pow(10, rise)+1e-9 {
			rt.Errorf("%v times as much after a rise of %v", times, rise)
		}
		if v, ok := r.Value("highest-ph"); ok && (v.Likely > ph+rise) != (after < 0.05) {
			rt.Errorf("%v mg/L afterwards, but the limit of 0.05 is reached at %v, not %v", after, v.Likely, ph+rise)
		}
	})
}

func TestAfterPHIsSafeAdvice(t *testing.T) {
	for args, first := range map[string]string{
		"tan=0.1 mg/L ph=7 ph-after=7.5":  "Go slowly",
		"tan=1 mg/L ph=7 ph-after=8.5":    "Do not raise",
		"tan=0.66 mg/L ph=7 ph-after=8.2": "Do not raise", // below the limit, but not with the readings' error
		"tan=2 mg/L ph=8.4 ph-after=8.5":  "The water is harmful",
	} {
		a := reckon(t, water.AmmoniaAfterPH(), fields(args)...).Advice
		if !strings.HasPrefix(a[0], first) {
			t.Errorf("%s: %q", args, a[0])
		}
	}
}

// A crash is an emergency even where the pH may rise, and no limit may be set
// at which gills are harmed.
func TestAfterPHNeverCallsHarmGood(t *testing.T) {
	crash := reckon(t, water.AmmoniaAfterPH(), fields("tan=1 mg/L ph=5.8 ph-after=7")...).Advice
	if !strings.Contains(strings.Join(crash, "\n"), "call a fish vet") {
		t.Errorf("a crash is taken calmly: %q", crash)
	}
	for _, r := range reftest.Read(t, "safety-water-actions") {
		if r.Text("parameter") != "un-ionised ammonia" || r.Text("level") != "harm begins" {
			continue
		}
		harm := r.Float("value [mg/L]")
		for limit, ok := range map[float64]bool{harm: true, 1.01 * harm: false} {
			args := []calculators.Arg{{Name: "tan", Value: "4 mg/L"}, {Name: "ph", Value: "7"}, {Name: "temperature", Value: "20 Cel"}, {Name: "ph-after", Value: "8.5"}, {Name: "limit", Value: number(limit) + " mg/L"}}
			if _, _, err := water.AmmoniaAfterPH().Evaluate(args); (err == nil) != ok {
				t.Errorf("limit %v mg/L: %v", limit, err)
			}
		}
		return
	}
	t.Error("no row says where harm begins")
}

// fields splits "tan=1 mg/L ph=7" before each name and adds 20 °C.
func fields(text string) []string {
	var all []string
	for _, word := range strings.Fields(text) {
		if strings.Contains(word, "=") {
			all = append(all, word)
		} else {
			all[len(all)-1] += " " + word
		}
	}
	return append(all, "temperature=20 Cel")
}

func TestLittleAmmoniaNeedsNoHighestPH(t *testing.T) {
	r := reckon(t, water.AmmoniaAfterPH(), "tan=0.05 mg/L", "ph=7", "ph-after=9", "temperature=20 Cel")
	if _, ok := r.Value("highest-ph"); ok || !strings.Contains(strings.Join(r.Flags, "\n"), "no pH brings it") {
		t.Errorf("%v, %q", r.Values, r.Flags)
	}
	just := reckon(t, water.AmmoniaAfterPH(), "tan=0.0501 mg/L", "ph=7", "ph-after=9", "temperature=20 Cel")
	if _, ok := just.Value("highest-ph"); !ok {
		t.Error("a total above the limit has no highest pH")
	}
	none := reckon(t, water.AmmoniaAfterPH(), "tan=0 mg/L", "ph=7", "ph-after=9", "temperature=20 Cel")
	if likely(t, none, "after") != 0 || likely(t, none, "before") != 0 {
		t.Errorf("zero in, %v out", none.Values)
	}
}

// Warming alone counts too, and more warmth is more toxic.
func TestWarmingAlone(t *testing.T) {
	same := []string{"tan=1 mg/L", "ph=8", "ph-after=8", "temperature=10 Cel"}
	last := 1.0
	for _, warm := range []string{"15", "20", "25"} {
		times := likely(t, reckon(t, water.AmmoniaAfterPH(), append(same, "temperature-after="+warm+" Cel")...), "times")
		if times <= last {
			t.Errorf("%s °C: %v times", warm, times)
		}
		last = times
	}
}
