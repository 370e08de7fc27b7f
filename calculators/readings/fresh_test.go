package readings_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/media"
	"mereleaf/calculators/water"
)

// Total ammonia alone alarms nobody: the pH is asked for first, before anything is
// said of the ammonia, and then it is judged.
func TestLoneAmmoniaAsksForThePH(t *testing.T) {
	for _, total := range []string{"0.25", "1", "4", "20"} {
		r := reckon(t, "tan="+total+" mg/L")
		if !strings.HasPrefix(r.Advice[0], "Test pH and temperature now") || urgency(t, r) != 1 || !flagged(r, "pH not tested") || value(t, r, "test-again") != 1 || value(t, r, "change-now") != 0 {
			t.Errorf("%s mg/L alone: %q %q", total, r.Flags, r.Advice)
		}
		if _, ok := r.Value("toxic"); ok {
			t.Errorf("%s mg/L alone: a toxic part is shown", total)
		}
	}
	if r := reckon(t, "tan=0 mg/L"); urgency(t, r) != 0 || strings.HasPrefix(r.Advice[0], "Test pH") {
		t.Errorf("none: %q", r.Advice)
	}
	if r := reckon(t, "tan=1 mg/L", "fish=gasping"); urgency(t, r) != 3 || !says(r, "Now: ", "test pH and temperature too") {
		t.Errorf("with gasping fish: %q", r.Advice)
	}
	if r := reckon(t, "tan=1 mg/L", "ph=8.5", "temperature=20 Cel"); urgency(t, r) < 2 {
		t.Errorf("with pH 8.5: %q", r.Advice)
	}
}

// Whatever the readings and the new water, a change that is told never brings the
// ammonia or the nitrite up into the act band, nor a low pH further down, nor asks for
// water of the same pH where the pH is too high. Told again and again it brings both
// out of the act band, or the answer says that this water does not help.
func TestChangesToldByReadingsReachTheirAim(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
		total, ph, kh, n := draw("total", 0, 6), draw("pH", 5, 9.8), draw("KH", 20, 300), draw("nitrite", 0, 2)
		newTotal, newPH, newKH, newN := rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(rt, "new total"), draw("new pH", 6, 8.8), draw("new KH", 20, 300), rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(rt, "new nitrite")
		celsius := draw("temperature", 5, 27)
		if c := water.CarbonDioxide(ph, kh, celsius); !(c == c) {
			rt.Skip("no such water")
		}
		ask := func() calculators.Result {
			return reckon(t, "tan="+number(total)+" mg/L", "ph="+number(ph), "kh="+number(kh), "nitrite="+number(n)+" mg/L", "temperature="+number(celsius)+" Cel",
				"tap-tan="+number(newTotal)+" mg/L", "tap-ph="+number(newPH), "tap-kh="+number(newKH)+" mg/L", "tap-nitrite="+number(newN)+" mg/L")
		}
		toxic := func() float64 { return total * water.UnionisedFraction(ph, celsius, 0) }
		for range 200 { // a tenth at a time takes long where the new water is hardly better
			r := ask()
			share := value(t, r, "change-now") / 100
			if share == 0 {
				break
			}
			if ph >= 9 && says(r, "", "like temperature and pH") {
				rt.Fatalf("at pH %v water of like pH: %q", ph, r.Advice)
			}
			oldToxic, oldN, oldPH := toxic(), n, ph
			after := water.MixedPH(ph, kh, newPH, newKH, share, celsius)
			total, kh, n, ph = water.Mixed(total, newTotal, share), water.Mixed(kh, newKH, share), water.Mixed(n, newN, share), after
			if toxic() > oldToxic*(1+1e-6) && toxic() >= limits.AmmoniaAct || n > oldN*(1+1e-9) && n >= limits.NitriteAct {
				rt.Fatalf("a change of %v takes the toxic part from %v to %v, nitrite from %v to %v: %q", share, oldToxic, toxic(), oldN, n, r.Advice)
			}
			if oldPH <= 6 && ph < oldPH-1e-9 {
				rt.Fatalf("pH %v goes down to %v: %q", oldPH, ph, r.Advice)
			}
		}
		r := ask()
		if toxic() >= limits.AmmoniaAct && !says(r, "", "change no water") || n >= limits.NitriteAct*1.05 && !says(r, "", "change no water") {
			rt.Errorf("left at %v mg/L toxic and nitrite %v: %q", toxic(), n, r.Advice)
		}
	})
}

// A crashed pH with ammonia present has one rule, whichever calculator is asked: a tenth
// of the water, and bicarbonate for 5 mg/L of KH a day, by molar masses 8.4 g to a
// thousand litres.
func TestOneRuleForACrash(t *testing.T) {
	answer := func(c calculators.Calculator, given ...string) string {
		var args []calculators.Arg
		for _, g := range given {
			name, v, _ := strings.Cut(g, "=")
			args = append(args, calculators.Arg{Name: name, Value: v})
		}
		_, r, err := c.Evaluate(args)
		if err != nil {
			t.Fatal(err)
		}
		return strings.ReplaceAll(strings.Join(append(r.Advice, r.Flags...), "\n"), "\u00a0", " ")
	}
	crash := []string{"tan=3 mg/L", "ph=5.8", "temperature=20 Cel"}
	for name, c := range map[string]struct {
		says string
		want []string
	}{
		"readings":         {strings.ReplaceAll(strings.Join(reckon(t, append(crash, "kh=5", "volume=9100 L")...).Advice, "\n"), "\u00a0", " "), []string{"10 %", "a tenth", "5 mg/L of KH", "76 g for 9,100 L", "four parts"}},
		"free-ammonia":     {answer(water.FreeAmmonia(), crash...), []string{"a tenth", "5 mg/L of KH", "8.4 g for every 1,000 L", "four parts"}},
		"ammonia-after-ph": {answer(water.AmmoniaAfterPH(), append(crash, "ph-after=8")...), []string{"a tenth", "5 mg/L of KH", "8.4 g for every 1,000 L", "four parts"}},
		"bicarbonate-dose": {answer(water.BicarbonateDose(), "volume=9100 L", "now=5 mg/L", "wanted=50 mg/L", "ph=5.8"), []string{"76 g a day", "5 mg/L of KH", "four parts"}},
		"alkalinity-use":   {answer(media.AlkalinityUse(), "feed=93 g/d", "protein=36 %", "volume=9100 L", "kh=5 mg/L", "tap=90 mg/L"), []string{"a tenth", "5 mg/L of KH", "76 g", "four parts"}},
	} {
		for _, want := range c.want {
			if !strings.Contains(c.says, want) {
				t.Errorf("%s: no %q in %q", name, want, c.says)
			}
		}
	}
}
