package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

func TestAlkalinityFactorsAreThePrintedOnes(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-oxygen-alkalinity") {
		switch {
		case strings.HasPrefix(r.Text("item"), "alkalinity used per nitrogen"):
			reftest.Near(t, r, AlkalinityFall(1)/7, "value_min")
			done++
		case strings.HasPrefix(r.Text("item"), "sodium bicarbonate per mg/L"):
			reftest.Near(t, r, fish.BicarbonatePerNitrogen/fish.AlkalinityPerNitrogen, "value_min")
			done++
		case strings.HasPrefix(r.Text("item"), "alkalinity for start-up"):
			reftest.Near(t, r, startAlkalinity, "value_min")
			done++
		}
	}
	if done != 3 {
		t.Errorf("%d factors", done)
	}
}

// The closed form is the week after week of it.
func TestAlkalinityAfterWeeks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now, tap := rapid.Float64Range(0, 300).Draw(t, "now"), rapid.Float64Range(0, 300).Draw(t, "tap")
		fall, share := rapid.Float64Range(0, 60).Draw(t, "fall"), rapid.SampledFrom([]float64{0, 0.05, 0.1, 0.3, 0.9}).Draw(t, "share")
		kh, floor := now, rapid.Float64Range(10, 100).Draw(t, "floor")
		first := math.Inf(1)
		if now <= floor {
			first = 0
		}
		for week := 1.0; week <= 40; week++ {
			kh -= fall
			if got := AlkalinityAfter(now, fall, tap, share, week); math.Abs(got-kh) > 1e-9*(now+tap+100*fall) {
				t.Fatalf("week %v: %v, want %v", week, got, kh)
			}
			if kh <= floor {
				first = math.Min(first, 7*week)
			}
			kh += share * (tap - kh)
		}
		day, ok := AlkalinityDays(now, fall, tap, share, floor)
		if !math.IsInf(first, 1) && !(ok && day <= first+1e-9 && day >= first-7-1e-9) {
			t.Errorf("day %v, %v; by the week it is day %v", day, ok, first)
		}
		if math.IsInf(first, 1) && ok && day < 7*40-7 {
			t.Errorf("day %v, but in 40 weeks it does not come down", day)
		}
	})
}

func alkaline(t testing.TB, pairs ...string) calculators.Result {
	t.Helper()
	args := question(AlkalinityUse())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	_, r, err := AlkalinityUse().Evaluate(args)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// With the bicarbonate found, KH before each change comes back to the reading,
// wherever it started.
func TestBicarbonateHoldsTheKH(t *testing.T) {
	r := alkaline(t)
	raised := valueOf(t, r, "bicarbonate").Likely * fish.AlkalinityPerNitrogen / fish.BicarbonatePerNitrogen / 9.1
	kh := 100.0
	for range 300 {
		kh += 0.1 * (90 - kh)
		kh += raised - valueOf(t, r, "fall").Likely
	}
	if math.Abs(kh-80) > 1e-6 {
		t.Errorf("in the end KH is %v", kh)
	}
}

func TestAlkalinityInTheLongRun(t *testing.T) {
	r := alkaline(t, "feed", "20 g/d", "change", "30 %")
	if got, want := valueOf(t, r, "settles").Likely, AlkalinityAfter(80, valueOf(t, r, "fall").Likely, 90, 0.3, 500); math.Abs(got-want) > 1e-9 {
		t.Errorf("settles at %v, after ten years %v", got, want)
	}
	if _, ok := alkaline(t, "change", "0 %").Value("settles"); ok {
		t.Error("without water changes it settles")
	}
}

func TestNothingFedUsesNothing(t *testing.T) {
	r := alkaline(t, "feed", "0 g/d")
	for _, output := range []string{"bicarbonate", "fall", "used"} {
		if v := valueOf(t, r, output); v.High != 0 {
			t.Errorf("%v", v)
		}
	}
	if _, ok := r.Value("days"); ok {
		t.Error("comes down")
	}
	if v := valueOf(t, alkaline(t, "feed", "0 g/d", "tap", "10 mg/L"), "days"); v.Low != v.High || v.Likely <= 0 {
		t.Errorf("soft tap water alone: %v", v)
	}
}

func TestAlkalinityAdviceOnBothSides(t *testing.T) {
	for _, c := range []struct {
		says    string
		yes, no []string
	}{
		{"crash overnight", []string{"kh", "50 mg/L"}, []string{"kh", "51 mg/L"}},
		{"Begin this week", []string{"kh", "120 mg/L"}, []string{"kh", "170 mg/L"}},
		{"Begin today", []string{"kh", "60 mg/L"}, []string{"kh", "120 mg/L"}},
		{"If the toxic part of the ammonia is", []string{"kh", "50 mg/L"}, []string{"kh", "51 mg/L"}},
		{"Add none yet", []string{"kh", "201 mg/L"}, []string{"kh", "200 mg/L"}},
		{"too much to dose", []string{"volume", "900 L"}, []string{"volume", "1900 L"}},
		{"a week, in daily shares", []string{"kh", "51 mg/L"}, []string{"kh", "50 mg/L"}},
		{"KH goes down slowly", []string{"kh", "170 mg/L"}, []string{"kh", "120 mg/L"}},
		{"nothing to add", []string{"feed", "5 g/d", "tap", "200 mg/L"}, []string{"feed", "80 g/d"}},
		{"nothing to add", []string{"feed", "5 g/d", "tap", "200 mg/L"}, []string{"feed", "0 g/d", "kh", "0 mg/L", "tap", "0 mg/L"}},
		{"no upper end", []string{"feed", "12 g/d", "change", "5 %"}, []string{"feed", "80 g/d"}},
	} {
		for i, pairs := range [][]string{c.yes, c.no} {
			r := alkaline(t, pairs...)
			if got := strings.Contains(strings.Join(append(r.Flags, r.Advice...), "\n"), c.says); got != (i == 0) {
				t.Errorf("%v: %q %v: %v %v", pairs, c.says, got, r.Flags, r.Advice)
			}
		}
	}
}

// The days to fifty, to a degree and to nothing follow each other, and so do the doses:
// carried out day by day, KH is at the floor on the day that is said; with the dose of a
// pond that never changes its water it stays where it is.
func TestDaysAndDosesOfKHComeTrue(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kh, tap := rapid.Float64Range(60, 300).Draw(rt, "KH"), rapid.Float64Range(0, 100).Draw(rt, "tap")
		change := float64(rapid.IntRange(0, 40).Draw(rt, "change"))
		feed := rapid.Float64Range(20, 200).Draw(rt, "feed")
		number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
		r := alkaline(t, "kh", number(kh)+" mg/L", "tap", number(tap)+" mg/L", "change", number(change)+" %", "feed", number(feed)+" g/d", "volume", "9100 L")
		fall := valueOf(t, r, "fall").Likely
		last := 0.0
		for output, floor := range map[string]float64{"days": 50, "days-degree": 17.848, "days-none": 0} {
			v, ok := r.Value(output)
			if !ok {
				continue
			}
			now := kh
			for day := 1.0; day <= v.Likely; day++ {
				if now -= fall / 7; math.Mod(day, 7) == 0 && v.Likely-day > 1e-9 {
					now += change / 100 * (tap - now)
				}
			}
			if now -= fall / 7 * math.Mod(v.Likely, 1); math.Abs(now-floor) > 0.01+change/100*math.Abs(tap-now) {
				rt.Errorf("on day %v KH is %v, not %v", v.Likely, now, floor)
			}
			last = math.Max(last, v.Likely)
		}
		if v, ok := r.Value("days-none"); ok && v.Likely != last {
			rt.Errorf("nothing on day %v, but some floor on day %v", v.Likely, last)
		}
		if dose := valueOf(t, r, "bicarbonate-alone").Likely * 50.043 / 84.006 / 9.1; math.Abs(dose/fall-1) > 0.002 {
			rt.Errorf("without changes a week's dose brings %v of the %v mg/L that are used", dose, fall)
		}
		if soft := valueOf(t, r, "bicarbonate").Likely > valueOf(t, r, "bicarbonate-alone").Likely; change > 0 && math.Abs(tap-kh) > 0.01 && soft != (tap < kh) {
			rt.Errorf("tap of %v, pond of %v: %v with changes, %v without", tap, kh, valueOf(t, r, "bicarbonate"), valueOf(t, r, "bicarbonate-alone"))
		}
	})
}
