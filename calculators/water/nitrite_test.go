package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

func TestSaltAndChloride(t *testing.T) {
	compared := 0
	for _, r := range reftest.Read(t, "water-nitrogen-unit-conversions") {
		switch r.Text("conversion") {
		case "sodium chloride per chloride":
			reftest.Near(t, r, water.SaltForChloride(0, 1000, 1), "ratio [g/g]")
			compared++
		case "chloride per sodium chloride":
			reftest.Near(t, r, 1/chemistry.SaltPerChloride, "ratio [g/g]")
			compared++
		}
	}
	for _, r := range reftest.Read(t, "water-salt-doses") {
		if strings.HasPrefix(r.Text("use"), "nitrite protection") {
			reftest.Near(t, r, water.SaltForChloride(0, 100, 1), "salt [g/L]")
			compared++
		}
	}
	if compared != 3 {
		t.Errorf("%d rows compared", compared)
	}
}

// A step holds from its lower bound to just below the upper one, and is never
// interpolated; at 10 mg/L the step below still holds.
func TestStepsOfBritishColumbia(t *testing.T) {
	for _, r := range reftest.Read(t, "water-nitrite-limit-chloride-bc") {
		limit := water.NitriteMaximum
		if strings.HasPrefix(r.Text("term"), "long") {
			limit = water.NitriteMean
		}
		from, to := r.Float("chloride from [mg/L]"), 1e6
		if r.Has("chloride to [mg/L]") {
			to = r.Float("chloride to [mg/L]")
		} else {
			from = math.Nextafter(from, to)
		}
		for _, chloride := range []float64{from, (from + to) / 2, math.Nextafter(to, 0)} {
			reftest.Near(t, r, limit(chloride), "nitrite as nitrogen [mg/L]")
		}
	}
	if water.NitriteMaximum(10) != water.NitriteMaximum(9) || water.NitriteMean(10) != water.NitriteMean(9) {
		t.Error("the step from 8 does not hold at 10")
	}
}

// At every chloride, and most of all where there is none to shield, the answer
// shows both lines of British Columbia, which never fall as the chloride rises.
func TestBritishColumbiaIsShownAtAnyChloride(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		chloride := rapid.Float64Range(0, 20).Draw(rt, "chloride")
		r := reckon(t, water.Nitrite(), "reading=1 mg/L", "volume=1000 L", "chloride="+number(chloride)+" mg/L")
		more := reckon(t, water.Nitrite(), "reading=1 mg/L", "volume=1000 L", "chloride="+number(1.5*chloride)+" mg/L")
		for _, output := range []string{"bc-maximum", "bc-mean"} {
			if v := likely(t, r, output); !(v > 0) || likely(t, more, output) < v {
				rt.Errorf("%s at %v mg/L chloride is %v, at more %v", output, chloride, v, likely(t, more, output))
			}
		}
	})
}

func TestCoarseFishSteps(t *testing.T) {
	last := math.NaN()
	for _, r := range reftest.Read(t, "water-nitrite-limit-chloride-eifac") {
		chloride := r.Float("chloride [mg/L]")
		reftest.Near(t, r, water.CoarseFishNitrite(chloride), "coarse fish mean nitrite as nitrogen [mg/L]")
		if below := water.CoarseFishNitrite(math.Nextafter(chloride, 0)); below != last && !(math.IsNaN(below) && math.IsNaN(last)) {
			t.Errorf("just below %v mg/L: %v, not the step before, %v", chloride, below, last)
		}
		last = r.Float("coarse fish mean nitrite as nitrogen [mg/L]")
	}
}

func TestNitriteMarksMatchTheLimits(t *testing.T) {
	marks := reckon(t, water.Nitrite(), "reading=1 mg/L", "volume=1000 L").Scale.Marks
	compared := 0
	for _, r := range reftest.Read(t, "water-nitrite-nitrate-chloride-limits") {
		if r.Text("limit") == "nitrite guide, EU cyprinid waters" {
			reftest.Near(t, r, marks[0].Value*chemistry.NitritePerNitrogen, "concentration [mg/L]")
			compared++
		}
	}
	for _, m := range reckon(t, water.Nitrate(), "volume=1000 L", "from=tan", "tan=1 g/d", "tap=0 mg/L", "share=10 %").Scale.Marks {
		for _, r := range reftest.Read(t, "water-nitrite-nitrate-chloride-limits") {
			switch {
			case r.Text("limit") == "nitrate, British Columbia long term" && m.Source == "bc-wqg-2014":
				reftest.Near(t, r, m.Value/chemistry.NitratePerNitrogen, "concentration [mg/L]")
				compared++
			case r.Text("limit") == "nitrate, carp, maximum admissible" && m.Source == "svobodova-1993":
				reftest.Near(t, r, m.Value, "concentration [mg/L]")
				compared++
			}
		}
	}
	if compared != 3 {
		t.Errorf("%d marks compared", compared)
	}
}

// Where the chloride lets coarse fish bear it, a little nitrite is no reason to
// feed less: a filter that works as designed leaves it. More of it always is.
func TestChlorideLetsAWorkingFilterBeFed(t *testing.T) {
	for _, c := range []struct{ reading, chloride, want string }{
		{"0.1", "0", "Halve"}, {"0.1", "4", "Halve"}, {"0.1", "5", "Feed as usual"}, {"0.14", "5", "Halve"}, {"0.14", "10", "Feed as usual"},
		{"0.15", "100", "Stop"},
	} {
		a := reckon(t, water.Nitrite(), "reading="+c.reading+" mg/L", "chloride="+c.chloride+" mg/L", "volume=1000 L").Advice
		if !strings.HasPrefix(a[0], c.want) {
			t.Errorf("%s mg/L with %s mg/L chloride: the advice begins %q; want %q", c.reading, c.chloride, a[0], c.want)
		}
	}
}

func TestNitriteAdviceFollowsTheBands(t *testing.T) {
	first := map[string]string{"good": "So little is what a ripe filter may leave", "watch": "Halve", "act": "Stop feeding, and", "emergency": "Stop feeding now"}
	bands := 0
	for _, r := range reftest.Read(t, "safety-reading-bands") {
		if r.Text("parameter") != "nitrite" {
			continue
		}
		bands++
		just := math.Max(r.Float("low [mg/L]"), 0.001)
		a := reckon(t, water.Nitrite(), "reading="+number(just)+" mg/L", "volume=1000 L").Advice
		if !strings.HasPrefix(a[0], first[r.Text("band")]) {
			t.Errorf("%s: at %v mg/L the advice begins %q", r.Place, just, a[0])
		}
	}
	if bands != len(first) {
		t.Errorf("%d bands", bands)
	}
}

// Salted as told, the water has the chloride asked for; as NO2 or as nitrogen
// the answer is the same; twice the water takes twice the salt.
func TestNitriteProperties(t *testing.T) {
	c := water.Nitrite()
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.Float64Range(0, 10).Draw(rt, "nitrite")
		volume := rapid.Float64Range(100, 50000).Draw(rt, "volume")
		chloride := rapid.Float64Range(0, 300).Draw(rt, "chloride")
		args := []string{"chloride=" + number(chloride) + " mg/L"}
		r := reckon(t, c, append(args, "reading="+number(n)+" mg/L", "volume="+number(volume)+" L")...)
		salt, wanted := likely(t, r, "salt"), likely(t, r, "chloride-wanted")
		after := chloride + salt*1e6/chemistry.SaltPerChloride/volume
		if math.Abs(after-math.Max(chloride, wanted)) > 1e-9*(1+wanted) {
			rt.Errorf("%v kg make %v mg/L chloride of %v, but %v is wanted", salt, after, chloride, wanted)
		}
		ion := reckon(t, c, append(args, "basis=as-no2", "reading="+number(n*chemistry.NitritePerNitrogen)+" mg/L", "volume="+number(2*volume)+" L")...)
		if d := likely(t, ion, "salt") - 2*salt; math.Abs(d) > 1e-9*(1+salt) {
			rt.Errorf("as NO2 and in twice the water %v kg, not twice %v", likely(t, ion, "salt"), salt)
		}
	})
}

func TestNoNitriteNeedsNoSalt(t *testing.T) {
	r := reckon(t, water.Nitrite(), "reading=0 mg/L", "volume=1000 L")
	for _, output := range []string{"salt", "chloride-wanted", "change", "nitrite-no2"} {
		if v, _ := r.Value(output); v.Low != 0 || v.Likely != 0 || v.High != 0 {
			t.Errorf("%s is %v", output, v)
		}
	}
	if _, ok := r.Value("ratio"); ok {
		t.Error("a ratio to nothing")
	}
}

// Whoever is told to salt is told of the vet, of zeolite and how to undo it; so
// much nitrite that it takes over 1 g/L is for the vet alone.
func TestSaltAdviceIsSafe(t *testing.T) {
	for reading, words := range map[string][]string{
		"0.5": {"vet", "zeolite", "undo"},
		"20":  {"only on a vet's word"},
	} {
		r := reckon(t, water.Nitrite(), "reading="+reading+" mg/L", "volume=1000 L")
		all := strings.Join(r.Advice, "\n")
		for _, word := range words {
			if !strings.Contains(all, word) {
				t.Errorf("%s mg/L: no %q in %q", reading, word, all)
			}
		}
		if flagged := strings.Contains(strings.Join(r.Flags, "\n"), "more salt than 1\u00a0g/L"); flagged != (reading == "20") {
			t.Errorf("%s mg/L: flagged %v", reading, flagged)
		}
	}
	met := reckon(t, water.Nitrite(), "reading=0.5 mg/L", "chloride=25 mg/L", "volume=1000 L").Advice
	if all := strings.Join(met, "\n"); !strings.Contains(all, "ratio is met") || strings.Contains(all, "in all for") {
		t.Errorf("with chloride enough: %q", all)
	}
	// Ten to one on NO2 is met exactly, and rounding must not ask for a trace.
	just := reckon(t, water.Nitrite(), "reading=0.5 mg/L", "basis=as-no2", "chloride=5 mg/L", "volume=1200 L")
	if all := strings.Join(just.Advice, "\n"); likely(t, just, "salt") != 0 || !strings.Contains(all, "ratio is met") {
		t.Errorf("with just enough chloride: %q", all)
	}
	plenty := reckon(t, water.Nitrite(), "reading=0.5 mg/L", "chloride=100 mg/L", "volume=1000 L").Advice
	if !strings.Contains(strings.Join(plenty, "\n"), "add no salt") {
		t.Errorf("with 100 mg/L chloride: %q", plenty)
	}
}
