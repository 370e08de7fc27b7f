package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/water"
)

func TestDoseOfEachCompound(t *testing.T) {
	for _, r := range reftest.Read(t, "water-alkalinity-compounds") {
		// 1 mg/L in 1 m³ takes as many grams as milligrams for each milligram.
		equivalent := r.Float("molar mass [g/mol]") / r.Float("equivalents [1]")
		reftest.Near(t, r, water.AlkalinityDose(1, 1000, equivalent), "dose per alkalinity as CaCO3 [mg/mg]")
	}
}

// The two that are offered, through the calculator.
func TestDoseOfTheProducts(t *testing.T) {
	names := map[string]string{"sodium bicarbonate": "sodium", "potassium bicarbonate": "potassium"}
	for _, r := range reftest.Read(t, "water-alkalinity-compounds") {
		if product := names[r.Text("compound")]; product != "" {
			got := reckon(t, water.BicarbonateDose(), "volume=1 m3", "now=0 mg/L", "wanted=100 mg/L", "product="+product)
			reftest.Near(t, r, likely(t, got, "dose")/100, "dose per alkalinity as CaCO3 [mg/mg]")
			delete(names, r.Text("compound"))
		}
	}
	if len(names) > 0 {
		t.Errorf("not in the set: %v", names)
	}
}

// The caustic compounds, which the calculator does not offer.
func TestDoseOfCausticCompounds(t *testing.T) {
	equivalent := map[string]float64{}
	for _, r := range reftest.Read(t, "water-alkalinity-compounds") {
		equivalent[r.Text("compound")] = r.Float("equivalent mass [g/eq]")
	}
	const litresPerGallon, gramsPerPound = 3.785411784, 453.59237
	compared := 0
	for _, r := range reftest.Read(t, "water-bicarbonate-dose") {
		if r.Text("basis") != "library" {
			continue
		}
		compared++
		dose := water.AlkalinityDose(r.Float("alkalinity rise as CaCO3 [mg/L]"), r.Float("volume [[gal_us]]")*litresPerGallon, equivalent[r.Text("compound")])
		reftest.Near(t, r, dose/gramsPerPound, "dose [[lb_av]]")
	}
	if compared == 0 {
		t.Error("no row compared")
	}
}

// Whatever the unit, the answer leads back to the number put in.
func TestHardnessUnitsReturn(t *testing.T) {
	c := water.HardnessUnits()
	rapid.Check(t, func(rt *rapid.T) {
		amount := rapid.Float64Range(0, 50).Draw(rt, "amount")
		unit := rapid.SampledFrom([]string{"caco3", "german", "french", "english", "meq", "mmol", "us-grain", "bicarbonate"}).Draw(rt, "unit")
		of := "kh"
		if unit == "mmol" {
			of = "gh"
		}
		r := reckon(t, c, "of="+of, "amount="+number(amount), "unit="+unit)
		if back := likely(t, r, unit); math.Abs(back-amount) > 1e-9*(1+amount) {
			rt.Errorf("%v %s comes back as %v", amount, unit, back)
		}
	})
	if !math.IsNaN(water.AsCaCO3("furlong")) {
		t.Error("a unit that is none has a value")
	}
}

// Calcium is no part of KH, nor bicarbonate of GH.
func TestUnitsOfTheWrongThingAreRefused(t *testing.T) {
	for args, ok := range map[string]bool{
		"of=kh unit=mmol": false, "of=gh unit=mmol": true, "of=kh unit=calcium": false, "of=kh unit=magnesium": false, "of=kh unit=bicarbonate": true,
		"of=gh unit=calcium": true, "of=gh unit=magnesium": true, "of=gh unit=bicarbonate": false,
	} {
		_, _, err := water.HardnessUnits().Evaluate(arguments(append(strings.Fields(args), "amount=1")))
		if (err == nil) != ok {
			t.Errorf("%s: %v", args, err)
		}
	}
}

func TestKHAdviceFollowsTheBands(t *testing.T) {
	first := map[string]string{"50": "The pH can crash", "50.1": "Top up", "100": "Top up", "100.1": "Carry on", "200": "Carry on", "200.1": "So much"}
	for amount, words := range first {
		a := reckon(t, water.HardnessUnits(), "amount="+amount, "unit=caco3").Advice
		if !strings.HasPrefix(a[0], words) {
			t.Errorf("%s mg/L: %q", amount, a[0])
		}
	}
	limits := map[float64]bool{}
	for _, r := range reftest.Read(t, "safety-reading-bands") {
		if r.Text("parameter") == "KH" && r.Has("low [mg/L]") {
			limits[r.Float("low [mg/L]")] = true
		}
	}
	for _, m := range reckon(t, water.HardnessUnits(), "amount=5", "unit=german").Scale.Marks {
		if !limits[m.Value] {
			t.Errorf("the mark %q at %v begins no band of the set", m.Label, m.Value)
		}
	}
}

func TestBicarbonateProperties(t *testing.T) {
	c := water.BicarbonateDose()
	rapid.Check(t, func(rt *rapid.T) {
		volume := rapid.Float64Range(100, 50000).Draw(rt, "volume")
		now := rapid.Float64Range(1, 150).Draw(rt, "now")
		rise := rapid.Float64Range(0.1, 150).Draw(rt, "rise")
		args := []string{"now=" + number(now) + " mg/L", "wanted=" + number(now+rise) + " mg/L"}
		once := reckon(t, c, append(args, "volume="+number(volume)+" L")...)
		twice := reckon(t, c, append(args, "volume="+number(2*volume)+" L")...)
		dose := likely(t, once, "dose")
		if d := likely(t, twice, "dose"); math.Abs(d-2*dose) > 1e-9*d {
			rt.Errorf("twice the water takes %v, not twice %v", d, dose)
		}
		if all := likely(t, once, "daily") * likely(t, once, "days"); math.Abs(all-dose) > 1e-9*dose {
			rt.Errorf("the days' shares sum to %v, not %v", all, dose)
		}
		// What the whole dose does in a pond a fifth smaller is the high end, and
		// the dose for that pond is the low one.
		reached, _ := once.Value("reached")
		smaller := reckon(t, c, "volume="+number(0.8*volume)+" L", "now="+number(now)+" mg/L", "wanted="+number(math.Min(300, reached.High))+" mg/L")
		if reached.High <= 300 && math.Abs(likely(t, smaller, "dose")-dose) > 1e-6*dose {
			rt.Errorf("%v g bring a smaller pond to %v, but that takes %v g", dose, reached.High, likely(t, smaller, "dose"))
		}
		if v, _ := once.Value("dose"); math.Abs(v.Low-0.8*dose) > 1e-9*dose || math.Abs(v.High-1.2*dose) > 1e-9*dose {
			rt.Errorf("the dose runs from %v over %v to %v", v.Low, dose, v.High)
		}
	})
}

func TestNothingToRaiseTakesNothing(t *testing.T) {
	for _, now := range []string{"100", "150"} {
		r := reckon(t, water.BicarbonateDose(), "volume=1000 L", "now="+now+" mg/L", "wanted=100 mg/L")
		if likely(t, r, "dose") != 0 || likely(t, r, "days") != 0 || !strings.Contains(r.Advice[0], "dose nothing") {
			t.Errorf("%s: %v, %q", now, r.Values, r.Advice[0])
		}
	}
}

// One day's step more takes one day more.
func TestDaysOfTheDose(t *testing.T) {
	for wanted, days := range map[string]float64{"70": 1, "70.1": 2, "90": 2, "110": 3} {
		r := reckon(t, water.BicarbonateDose(), "volume=1000 L", "now=50 mg/L", "wanted="+wanted+" mg/L")
		if got := likely(t, r, "days"); got != days {
			t.Errorf("to %s mg/L: %v days", wanted, got)
		}
	}
}

// The first day's rise of pH is the one after which the water holds as much
// carbon dioxide as before.
func TestPHRiseKeepsTheGas(t *testing.T) {
	r := reckon(t, water.BicarbonateDose(), "volume=1000 L", "now=60 mg/L", "wanted=120 mg/L")
	rise := likely(t, r, "ph-rise")
	before, after := water.CarbonDioxide(7, 60, 20), water.CarbonDioxide(7+rise, 80, 20)
	if math.Abs(after/before-1) > 0.005 {
		t.Errorf("%v mg/L before, %v after a rise of %v", before, after, rise)
	}
}

func TestGermanDegreesAreTheSameDose(t *testing.T) {
	inDegrees := reckon(t, water.BicarbonateDose(), "volume=1000 L", "kh-in=german", "now-degrees=3", "wanted-degrees=6")
	inMilligrams := reckon(t, water.BicarbonateDose(), "volume=1000 L", "now="+number(3*water.GermanDegree)+" mg/L", "wanted="+number(6*water.GermanDegree)+" mg/L")
	if a, b := likely(t, inDegrees, "dose"), likely(t, inMilligrams, "dose"); math.Abs(a-b) > 1e-9*a {
		t.Errorf("%v and %v", a, b)
	}
}

func TestLowKHIsUrgent(t *testing.T) {
	for now, words := range map[string]string{"0": "four parts", "29": "four parts", "40": "Begin today", "50": "Begin today"} {
		all := strings.Join(reckon(t, water.BicarbonateDose(), "volume=1000 L", "now="+now+" mg/L", "wanted=100 mg/L").Advice, "\n")
		if !strings.Contains(all, words) || !strings.Contains(all, "Begin today") {
			t.Errorf("from %s: %q", now, all)
		}
	}
	calm := strings.Join(reckon(t, water.BicarbonateDose(), "volume=1000 L", "now=50.1 mg/L", "wanted=100 mg/L").Advice, "\n")
	if strings.Contains(calm, "Begin today") || strings.Contains(calm, "four parts") {
		t.Errorf("from 50.1: %q", calm)
	}
}

// Whenever the first day's dose would lift the pH by more than a day may, it is
// split; and a dose of one day is not said to last "1 days".
func TestDosesThatLiftThePHAreSplit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		now := rapid.Float64Range(0, 290).Draw(rt, "now")
		r := reckon(t, water.BicarbonateDose(), "volume=1000 L", "now="+number(now)+" mg/L", "wanted=300 mg/L", "step="+number(rapid.Float64Range(1, 50).Draw(rt, "step"))+" mg/L")
		all := strings.Join(r.Advice, "\n")
		rise, ok := r.Value("ph-rise")
		if split := strings.Contains(all, "four parts"); split != (!ok || rise.Likely > 0.2) {
			rt.Errorf("from %v the pH rises by %v, split %v", now, rise.Likely, split)
		}
		if strings.Contains(all, " 1 days") {
			rt.Errorf("%q", all)
		}
	})
}

func TestChemistryDeclarationsAreComplete(t *testing.T) {
	for _, fault := range pondtest.Some(t, water.AmmoniaAfterPH(), water.CarbonDioxideInWater(), water.HardnessUnits(), water.BicarbonateDose(), water.Nitrite(), water.Nitrate()).Validate() {
		t.Error(fault)
	}
}

// After a crash the plan goes in steps of a quarter, however large a step is stated.
func TestBicarbonateAfterACrashGoesInSmallSteps(t *testing.T) {
	for ph, want := range map[string]float64{"6": 8, "5.2": 8, "6.01": 2, "7.4": 2} {
		r := reckon(t, water.BicarbonateDose(), "volume=9100 L", "now=10 mg/L", "wanted=50 mg/L", "ph="+ph)
		if days := likely(t, r, "days"); days != want {
			t.Errorf("pH %s: %v days, want %v", ph, days, want)
		}
	}
	for args, want := range map[string]float64{"now=17 mg/L": 7, "now=18 mg/L": 2} { // a pH that nobody stated
		if days := likely(t, reckon(t, water.BicarbonateDose(), "volume=9100 L", args, "wanted=50 mg/L"), "days"); days != want {
			t.Errorf("%s: %v days, want %v", args, days, want)
		}
	}
	for _, of := range []float64{1, 9100} { // the dose that the readings say, by molar masses: 84.006 g/mol over 50.043 g/eq
		if got, want := water.CrashDose(of), 5*of/1000*84.006/50.043; math.Abs(got/want-1) > 1e-4 {
			t.Errorf("%v L: %v g, want %v", of, got, want)
		}
	}
}
