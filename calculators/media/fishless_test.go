package media

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/reftest"
)

func fishless(t testing.TB, pairs ...string) (calculators.Result, error) {
	t.Helper()
	args := question(FishlessStart())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	_, r, err := FishlessStart().Evaluate(args)
	return r, err
}

func fishlessValue(t testing.TB, output string, pairs ...string) calculators.Value {
	t.Helper()
	r, err := fishless(t, pairs...)
	if err != nil {
		t.Fatal(err)
	}
	return valueOf(t, r, output)
}

// The density is within half a unit of its third decimal, which is the last shown, of
// the printed table, which is against water at 16 degrees; and of the table at 20
// degrees, from memory, within half a per cent, of which no digit of a dose is seen.
func TestDensityOfAmmoniaSolution(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-ammonia-solution") {
		within := 0.0005
		if r.Text("basis") == "memory" {
			within = 0.005
		}
		if got, want := SolutionDensity(r.Float("ammonia [%]")), r.Float("density [g/mL]"); math.Abs(got-want) > within {
			t.Errorf("%s: %v, computed %v", r.Place, want, got)
		}
		done++
	}
	if done != 16 {
		t.Errorf("%d rows", done)
	}
}

// A litre of solution of 25 % holds 227 g of ammonia by its density of 0.907, which
// raises 100 m3 by 1.87 mg/L of nitrogen: worked on paper with atomic weights.
func TestALitreOfAmmoniaSolution(t *testing.T) {
	const density, strength, volume = 0.907, 0.25, 100.0
	nitrogen := 1000 * density * strength * 14.007 / 17.031
	v := fishlessValue(t, "solution", "volume", "100 m3", "strength", "25 %", "aim", number(nitrogen/volume)+" mg/L")
	if math.Abs(v.Likely-1000) > 3 {
		t.Errorf("a litre is needed, computed %v mL", v)
	}
}

// What is poured in brings the reading to the aim, on whatever the kit counts, and
// parts add up to it.
func TestTheDoseReachesItsAim(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		volume, strength := rapid.Float64Range(100, 50000).Draw(rt, "volume"), rapid.Float64Range(1, 35).Draw(rt, "strength")
		now := rapid.Float64Range(0, 3).Draw(rt, "now")
		aim := now + rapid.Float64Range(0.5, 4).Draw(rt, "more")
		basis := rapid.SampledFrom([]string{"as-n", "as-nh3", "as-nh4"}).Draw(rt, "basis")
		given := []string{"volume", number(volume) + " L", "strength", number(strength) + " %", "now", number(now) + " mg/L", "aim", number(aim) + " mg/L", "basis", basis, "parts", "4"}
		r, err := fishless(t, given...)
		if err != nil {
			rt.Fatal(err)
		}
		// mL x g/mL x share of ammonia, and of that as what the kit counts.
		ammonia := valueOf(t, r, "solution").Likely * valueOf(t, r, "density").Likely * strength / 100
		counted := map[string]float64{"as-n": 1 / chemistry.AmmoniaPerNitrogen, "as-nh3": 1, "as-nh4": chemistry.AmmoniumPerNitrogen / chemistry.AmmoniaPerNitrogen}[basis]
		if reads := now + 1000*ammonia*counted/volume; math.Abs(reads-aim) > 0.02*aim {
			rt.Errorf("reads %v after the dose, wanted %v", reads, aim)
		}
		if part := valueOf(t, r, "part").Likely; math.Abs(4*part-valueOf(t, r, "solution").Likely) > 1e-9*part {
			rt.Errorf("four parts of %v mL", part)
		}
	})
}

// The dose for a day's feed is the ammonia that the same feed gives in the start-up,
// and the KH for it is that of the start-up too.
func TestTheDoseOfAFeedIsItsLoad(t *testing.T) {
	dose := fishlessValue(t, "rise", "by", "feed", "feed", "4 g/d", "protein", "36 %")
	load := matured(t, "load")
	if math.Abs(dose.Likely-load.Likely) > 1e-9*load.Likely {
		t.Errorf("dosed %v a day, from feed %v", dose.Likely, load.Likely)
	}
	if kh, week := fishlessValue(t, "kh-used", "by", "feed", "feed", "4 g/d", "protein", "36 %"), matured(t, "kh-week"); math.Abs(7*kh.Likely-week.Likely) > 1e-9*week.Likely {
		t.Errorf("KH of seven doses %v, of a week %v", 7*kh.Likely, week.Likely)
	}
	if feed := fishlessValue(t, "ready-feed", "by", "feed", "feed", "4 g/d", "protein", "36 %"); math.Abs(feed.Likely-4) > 1e-9 {
		t.Errorf("ready for %v", feed)
	}
}

func TestWhatAStartWithoutFishSays(t *testing.T) {
	for _, c := range []struct {
		says    string
		yes, no []string
	}{
		{"at once holds back", []string{"aim", "4.1 mg/L"}, []string{"aim", "4 mg/L"}},
		{"uses up more KH than", []string{"aim", "2.9 mg/L"}, []string{"aim", "2.7 mg/L"}},
		{"in 3 parts", nil, []string{"parts", "1"}},
		{"no fish", nil, []string{"x"}},
	} {
		for i, pairs := range [][]string{c.yes, c.no} {
			if len(pairs) == 1 {
				continue // always said
			}
			r, err := fishless(t, pairs...)
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Contains(strings.Join(append(r.Flags, r.Advice...), "\n"), c.says); got != (i == 0) {
				t.Errorf("%v: %q %v", pairs, c.says, got)
			}
		}
	}
	for _, c := range []struct{ input, pairs string }{
		{"now", "now=2 mg/L"},
		{"feed", "by=feed feed=0 g/d"},
	} {
		if _, err := fishless(t, pairsOf(c.pairs)...); err == nil || !strings.HasPrefix(err.Error(), c.input+": ") {
			t.Errorf("%s: %v", c.pairs, err)
		}
	}
}
