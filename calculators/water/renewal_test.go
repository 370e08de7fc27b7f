package water_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/water"
)

// pondWater is a water as a test mixes it.
type pondWater struct{ total, ph, kh float64 }

// carbon is the dissolved carbonate in mol/L of a water, from its charges: written
// anew, so that no sum of the calculators is checked by itself.
func (w pondWater) carbon(celsius float64) float64 {
	charge, own := charges(w.ph, celsius)
	return (w.kh/50043 - own) / charge
}

// charges are the charge of a mole of dissolved carbonate, and that of water itself
// in mol/L.
func charges(ph, celsius float64) (carbonate, own float64) {
	h := math.Pow(10, -ph)
	k1, k2, kw := math.Pow(10, -water.CarbonicPK1(celsius)), math.Pow(10, -water.CarbonicPK2(celsius)), math.Pow(10, -water.WaterPK(celsius))
	all := h*h + h*k1 + k1*k2
	return (h*k1 + 2*k1*k2) / all, kw/h - h
}

// mixedWith returns the water once a share of it is another.
func (w pondWater) mixedWith(fresh pondWater, share, celsius float64) pondWater {
	mix := func(a, b float64) float64 { return a + share*(b-a) }
	carbon, kh := mix(w.carbon(celsius), fresh.carbon(celsius)), mix(w.kh, fresh.kh)
	low, high := 2.0, 13.0
	for range 100 {
		middle := (low + high) / 2
		if charge, own := charges(middle, celsius); carbon*charge+own < kh/50043 {
			low = middle
		} else {
			high = middle
		}
	}
	return pondWater{mix(w.total, fresh.total), low, kh}
}

// told is the share of water that advice says to change now, 0 if none.
func told(t interface{ Fatal(...any) }, r calculators.Result) float64 {
	found := regexp.MustCompile(`[Cc]hange ([0-9.]+)\x{202f}?\x{a0}?% of the water`).FindStringSubmatch(strings.Join(r.Advice, "\n"))
	if found == nil {
		return 0
	}
	share, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return share / 100
}

// Whatever the pond and the new water, who changes as told and asks again comes out
// of the act band, and no change makes the ammonia more toxic; or the answer says
// that this water does not help, and then none of it would.
func TestChangesForAmmoniaReachTheirAim(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		celsius := rapid.Float64Range(4, 30).Draw(rt, "temperature")
		pond := pondWater{rapid.Float64Range(0.25, 8).Draw(rt, "total"), rapid.Float64Range(6.2, 9.6).Draw(rt, "pH"), rapid.Float64Range(30, 300).Draw(rt, "KH")}
		fresh := pondWater{rapid.SampledFrom([]float64{0, 0, 0.1, 0.5, 1.5}).Draw(rt, "total of the new water"), rapid.Float64Range(6.5, 8.8).Draw(rt, "pH of the new water"), rapid.Float64Range(20, 300).Draw(rt, "KH of the new water")}
		if pond.carbon(celsius) < 0 || fresh.carbon(celsius) < 0 {
			rt.Skip("no such water")
		}
		ask := func(w pondWater) calculators.Result {
			return reckon(t, water.FreeAmmonia(), "tan="+number(w.total)+" mg/L", "ph="+number(w.ph), "temperature="+number(celsius)+" Cel", "alkalinity="+number(w.kh)+" mg/L",
				"tap-tan="+number(fresh.total)+" mg/L", "tap-ph="+number(fresh.ph), "tap-alkalinity="+number(fresh.kh)+" mg/L", "volume=1000 L")
		}
		toxic := func(w pondWater) float64 { return w.total * water.UnionisedFraction(w.ph, celsius, 0) }
		r := ask(pond)
		for output, aim := range map[string]float64{"change": limits.AmmoniaWatch, "change-act": limits.AmmoniaAct} {
			if v, ok := r.Value(output); ok {
				if after := toxic(pond.mixedWith(fresh, v.Likely/100, celsius)); after > aim*(1+1e-6) {
					rt.Errorf("%s of %v %% leaves %v mg/L, not %v", output, v.Likely, after, aim)
				}
			}
		}
		now := pond
		for range 60 {
			share := told(rt, ask(now))
			if share == 0 {
				break
			}
			after := now.mixedWith(fresh, share, celsius)
			if toxic(after) > toxic(now)*(1+1e-6) {
				rt.Fatalf("told to change %v of %+v for %+v, which takes the toxic part from %v to %v", share, now, fresh, toxic(now), toxic(after))
			}
			now = after
		}
		all := strings.Join(ask(now).Advice, "\n")
		if toxic(now) >= limits.AmmoniaAct && !strings.Contains(all, "Change no water") {
			rt.Fatalf("%+v is left at %v mg/L: %q", now, toxic(now), all)
		}
		if strings.Contains(all, "Change no water") {
			least := limits.AmmoniaAct
			if toxic(now) > limits.AmmoniaEmergency {
				least = limits.AmmoniaEmergency
			}
			for i := range 99 {
				if after := toxic(now.mixedWith(fresh, float64(i+1)/100, celsius)); after < least*0.999 && !risesFirst(now, fresh, celsius, toxic) {
					rt.Fatalf("refused, but a change of %d %% of %+v for %+v leaves %v mg/L", i+1, now, fresh, after)
				}
			}
		}
	})
}

// risesFirst reports whether some part of a change makes the ammonia more toxic than
// it was.
func risesFirst(now, fresh pondWater, celsius float64, toxic func(pondWater) float64) bool {
	for i := range 99 {
		if toxic(now.mixedWith(fresh, float64(i+1)/100, celsius)) > toxic(now) {
			return true
		}
	}
	return false
}

// A pH that is too high itself is not cured with water of the same pH, and new water
// of a higher pH whose KH nobody tested is not judged.
func TestWhichWaterIsAskedFor(t *testing.T) {
	for args, want := range map[string]string{
		"tan=1 mg/L ph=8.2":                           "Take water of the same temperature and pH",
		"tan=1 mg/L ph=9":                             "lower pH, of 7 to 8.5",
		"tan=1 mg/L ph=9.4":                           "lower pH, of 7 to 8.5",
		"tan=4 mg/L ph=7.8 tap-ph=8.4":                "Test the KH of both waters",
		"tan=2 mg/L ph=8.2 tap-tan=3 mg/L":            "Change no water",
		"tan=4 mg/L ph=8.5 tap-tan=0.3 mg/L":          "cannot bring the toxic part below 0.02",
		"tan=4 mg/L ph=8.5 tap-tan=0.3 mg/L tap-ph=8": "cannot bring the toxic part below 0.02",
	} {
		given := append(regexp.MustCompile(`[a-z-]+=[0-9.]+(?: mg/L)?`).FindAllString(args, -1), "temperature=20 Cel")
		if all := strings.Join(reckon(t, water.FreeAmmonia(), given...).Advice, "\n"); !strings.Contains(all, want) {
			t.Errorf("%s: no %q in %q", args, want, all)
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		ph := rapid.Float64Range(9, 11).Draw(rt, "pH")
		total := rapid.Float64Range(0, 20).Draw(rt, "total")
		after := rapid.Float64Range(9, 11).Draw(rt, "pH afterwards")
		for _, r := range []calculators.Result{
			reckon(t, water.FreeAmmonia(), "tan="+number(total)+" mg/L", "ph="+number(ph), "temperature=20 Cel"),
			reckon(t, water.AmmoniaAfterPH(), "tan="+number(total)+" mg/L", "ph="+number(ph), "temperature=20 Cel", "ph-after="+number(after)),
		} {
			if all := strings.Join(r.Advice, "\n"); strings.Contains(all, "temperature and pH") {
				rt.Errorf("at pH %v: %q", ph, all)
			}
		}
	})
}

// Who changes as told for nitrite comes down to where the act band begins; where the
// new water holds as much the answer refuses.
func TestChangesForNitriteReachTheirAim(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.Float64Range(0, 10).Draw(rt, "nitrite")
		tap := rapid.SampledFrom([]float64{0, 0, 0.1, 0.3, 2}).Draw(rt, "nitrite of the new water")
		ask := func(n float64) calculators.Result {
			return reckon(t, water.Nitrite(), "reading="+number(n)+" mg/L", "volume=1000 L", "tap="+number(tap)+" mg/L")
		}
		if v, ok := ask(n).Value("change"); ok {
			if after := n + v.Likely/100*(tap-n); after > limits.NitriteAct*(1+1e-9) && after > n {
				rt.Errorf("%v %% leave %v mg/L", v.Likely, after)
			}
		}
		for range 60 {
			share := told(rt, ask(n))
			if share == 0 {
				break
			}
			after := n + share*(tap-n)
			if after >= n {
				rt.Fatalf("told to change %v: %v mg/L become %v", share, n, after)
			}
			n = after
		}
		// A share is said with two digits, which may leave the reading a hair above.
		if all := strings.Join(ask(n).Advice, "\n"); n > limits.NitriteAct*1.05 && !strings.Contains(all, "Change no water") {
			rt.Errorf("left at %v mg/L with new water of %v: %q", n, tap, all)
		}
	})
}

// A change brings down what it is to bring down, and up what it is to bring up, to the
// target; or it is refused, and then no share of this water does.
func TestWaterChangeReachesItsTargetOrIsRefused(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		reading := rapid.Float64Range(0, 100).Draw(rt, "reading")
		tap := rapid.Float64Range(0, 100).Draw(rt, "new water")
		target := rapid.Float64Range(0, 100).Draw(rt, "target")
		raise := rapid.Bool().Draw(rt, "raise")
		find, sign := "find=target", 1.0
		if raise {
			find, sign = "find=raise", -1
		}
		_, r, err := water.WaterChange().Evaluate(arguments([]string{"volume=1000 L", find, "reading=" + number(reading) + " mg/L", "tap=" + number(tap) + " mg/L", "target=" + number(target) + " mg/L"}))
		there := sign*reading <= sign*target
		switch {
		case err != nil:
			if there || sign*tap < sign*target {
				rt.Errorf("%s: from %v with %v to %v is refused: %v", find, reading, tap, target, err)
			}
		case there:
			if likely(t, r, "share") != 0 {
				rt.Errorf("%s: %v is at %v already, and %v %% are to be changed", find, reading, target, likely(t, r, "share"))
			}
		default:
			if after := likely(t, r, "after"); sign*after > sign*target+1e-9 {
				rt.Errorf("%s: from %v with %v to %v: the changes end at %v", find, reading, tap, target, after)
			}
		}
	})
	r := reckon(t, water.WaterChange(), "volume=1000 L", "find=left", "count=3", "reading=20 mg/L", "tap=45 mg/L")
	if all := strings.Join(r.Flags, "\n"); told(t, r) != 0 || !strings.Contains(all, "Make none of them") {
		t.Errorf("with a tap that holds more: %q, %q", r.Advice, all)
	}
}

// Soft water that would take the KH down to where the pH crashes does not go in as it
// is; and a change that the pond bears is told without that.
func TestSoftWaterIsBufferedFirst(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kh, tap := rapid.Float64Range(0, 200).Draw(rt, "KH"), rapid.Float64Range(0, 200).Draw(rt, "KH of the new water")
		r := reckon(t, water.WaterChange(), "volume=1000 L", "reading=60 mg/L", "target=30 mg/L", "alkalinity="+number(kh)+" mg/L", "tap-alkalinity="+number(tap)+" mg/L")
		end := likely(t, r, "alkalinity")
		if first := strings.HasPrefix(r.Advice[0], "First bring the KH"); first != (end < kh && end <= 50) {
			rt.Errorf("KH %v to %v: %q", kh, end, r.Advice)
		}
	})
}

// The change down to 0.05 and to 0.02 mg/L is the same whatever the kit counts, is said
// in litres and in both gallons, and the one that goes further takes more water.
func TestChangeInEveryBasisAndUnit(t *testing.T) {
	perNitrogen := map[string]float64{"as-n": 1, "as-nh3": 17.031 / 14.007, "as-nh4": 18.039 / 14.007} // molar masses: IUPAC
	rapid.Check(t, func(rt *rapid.T) {
		n, ph := rapid.Float64Range(0.1, 8).Draw(rt, "nitrogen"), rapid.Float64Range(7.5, 8.9).Draw(rt, "pH")
		volume := rapid.Float64Range(500, 40000).Draw(rt, "volume")
		toxic := n * water.UnionisedFraction(ph, 20, 0)
		for _, basis := range []string{"as-n", "as-nh3", "as-nh4"} {
			r := reckon(t, water.FreeAmmonia(), "tan="+number(n*perNitrogen[basis])+" mg/L", "basis="+basis, "ph="+number(ph), "temperature=20 Cel", "volume="+number(volume)+" L")
			for output, aim := range map[string]float64{"change": 0.02, "change-act": 0.05} {
				want := math.Max(0, 1-aim/toxic)
				water := strings.Replace(output, "change", "water", 1)
				if got := likely(t, r, output) / 100; math.Abs(got-want) > 1e-4 || math.Abs(likely(t, r, water)-got*volume) > 1e-6*volume {
					rt.Errorf("%s, %v mg/L: %s %v of the water, want %v; %v L of %v", basis, toxic, output, got, want, likely(t, r, water), volume)
				}
			}
		}
	})
	for _, o := range water.FreeAmmonia().Outputs {
		if strings.HasPrefix(o.Name, "water") && !(o.Unit == "L" && len(o.Also) == 2) {
			t.Errorf("%s is not in litres and both gallons: %s %v", o.Name, o.Unit, o.Also)
		}
	}
}

// Against ammonia and nitrite a tenth of the water is the least that is told to be
// changed, as in the table of what emergencies take (advice-emergencies), and where
// that is more than is needed it is said.
func TestNoLessThanATenthIsTold(t *testing.T) {
	for _, c := range []struct {
		calculator calculators.Calculator
		given      []string
		want       float64
	}{
		{water.Nitrite(), []string{"reading=0.152 mg/L", "volume=1000 L"}, 0.1},
		{water.Nitrite(), []string{"reading=0.2 mg/L", "volume=1000 L"}, 0.25},
		{water.FreeAmmonia(), []string{"tan=0.45 mg/L", "ph=8.5", "temperature=20 Cel", "tap-tan=0.3 mg/L", "tap-ph=8.5", "volume=1000 L"}, 0.1},
	} {
		r := reckon(t, c.calculator, c.given...)
		all := strings.Join(r.Advice, "\n")
		if got := told(t, r); got != c.want || strings.Contains(all, "less would be enough") != (c.want == 0.1) {
			t.Errorf("%s: %v is told, not %v: %q", c.calculator.ID, got, c.want, all)
		}
		// Of the pond's 1,000 L; the calculator of nitrite says it as a number only.
		if c.calculator.ID == "free-ammonia" && !strings.Contains(all, "Of your pond that is 100\u00a0L now.") {
			t.Errorf("%s: a tenth of 1,000 L is not said as 100 L: %q", c.calculator.ID, all)
		}
	}
}
