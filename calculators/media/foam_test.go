package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
)

// The speeds are the slowest and the fastest of the trials.
func TestFoamSpeedsAreThoseOfTheTrials(t *testing.T) {
	slow, fast := math.Inf(1), 0.0
	for _, r := range reftest.Read(t, "media-foam-filtration") {
		if r.Has("velocity [mm/s]") {
			v := r.Float("velocity [mm/s]")
			slow, fast = math.Min(slow, v), math.Max(fast, v)
		}
	}
	if math.Abs(slowFoam-slow) > 0.5e-5 || fastFoam != fast {
		t.Errorf("%v and %v, printed %v and %v", slowFoam, fastFoam, slow, fast)
	}
}

func TestPorePitch(t *testing.T) {
	for _, r := range reftest.Read(t, "media-foam-geometry") {
		reftest.Within(t, r, PorePitch(r.Float("pores_per_inch [/[in_i]]")), "pore_pitch [mm]", 1e-5) // six digits, the last noughts left out
	}
}

func TestFoamCatchIsWhatIsNotTooFine(t *testing.T) {
	for _, r := range reftest.Read(t, "media-solids-settling") {
		if r.Text("measure") == "share of mass below 20 um" {
			c := FoamCatch()
			reftest.Near(t, r, 100*(1-c.High), "value_min")
			reftest.Near(t, r, 100*(1-c.Low), "value_max")
			return
		}
	}
	t.Error("no share of fine solids")
}

func TestGradesAreThoseOfPractice(t *testing.T) {
	for _, r := range reftest.Read(t, "media-foam-rules") {
		if r.Text("rule") != "order for ponds" {
			continue
		}
		reftest.Near(t, r, finest(1), "value_min")
		reftest.Near(t, r, finest(4), "value_max")
		for i, word := range strings.Split(foamOrder(4), ", ") {
			if !strings.Contains(r.Text("statement"), word) || word != strconv.FormatFloat(finest(float64(i+1)), 'f', -1, 64) {
				t.Errorf("%s: %s is not in %q", r.Place, word, r.Text("statement"))
			}
		}
		return
	}
	t.Error("no order for ponds")
}

func foamed(t testing.TB, pairs ...string) calculators.Result {
	t.Helper()
	args := question(FoamStage())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	_, r, err := FoamStage().Evaluate(args)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the foam catches between two rinses is what it holds, and what flows
// through its face is the flow.
func TestFoamBalances(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		feed, flow := rapid.Float64Range(5, 300).Draw(rt, "feed"), rapid.Float64Range(500, 20000).Draw(rt, "flow")
		r := foamed(t, "feed", strconv.FormatFloat(feed, 'f', -1, 64)+" g/d", "flow", strconv.FormatFloat(flow, 'f', -1, 64)+" L/h")
		held := valueOf(t, r, "interval").Likely * valueOf(t, r, "caught").Likely
		if want := FoamHolds().Likely * valueOf(t, r, "foam").Likely; math.Abs(held-want) > 1e-9*want {
			rt.Errorf("holds %v, catches %v", want, held)
		}
		face := valueOf(t, r, "sheets").Likely * 0.56 * 0.36
		if through := face * valueOf(t, r, "speed").Likely / 1000 * 3600 * 1000; math.Abs(through-flow) > 1e-9*flow {
			rt.Errorf("%v through the face of %v", through, flow)
		}
		if face < valueOf(t, r, "area").Likely*(1-1e-9) {
			rt.Errorf("the sheets are too few: %v of %v", face, valueOf(t, r, "area").Likely)
		}
	})
	if _, ok := foamed(t, "feed", "0 g/d").Value("interval"); ok {
		t.Error("foam without dirt must be rinsed")
	}
}

func TestFoamAdviceOnBothSides(t *testing.T) {
	for _, c := range []struct {
		says    string
		yes, no []string
	}{
		{"Faster than foam was tried", []string{"sheets", "1"}, []string{"sheets", "2"}},
		{"blocks first", []string{"grades", "4"}, []string{"grades", "3"}},
		{"full in a day or two", []string{"feed", "1100 g/d"}, []string{"feed", "1000 g/d"}},
		{"full in about", []string{"feed", "500 g/d"}, []string{"feed", "200 g/d"}},
		{"may be full after", []string{"feed", "76 g/d"}, []string{"feed", "74 g/d"}},
		{"even if they still pass water", []string{"feed", "74 g/d"}, []string{"feed", "76 g/d"}},
	} {
		for i, pairs := range [][]string{c.yes, c.no} {
			r := foamed(t, pairs...)
			if got := strings.Contains(strings.Join(append(r.Flags, r.Advice...), "\n"), c.says); got != (i == 0) {
				t.Errorf("%v: %q %v", pairs, c.says, got)
			}
		}
	}
}

// Foam that was seen to last answers without a range, and as seen at the same feed;
// twice the feed fills it in half the time, twice the foam lasts twice as long.
func TestFoamLastsAsItWasSeenTo(t *testing.T) {
	seen := []string{"known", "days", "lasted", "9 d", "lasted-feed", "80 g/d", "lasted-foam", "30.24 L", "sheets", "1"}
	ask := func(pairs ...string) calculators.Value {
		args := question(FoamStage())
		for i := 0; i < len(pairs); i += 2 {
			args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
		}
		_, r, err := FoamStage().Evaluate(args)
		if err != nil {
			t.Fatal(err)
		}
		if advice := strings.Join(r.Advice, "\n"); strings.Contains(advice, "narrows the days most") != (len(pairs) == 0) {
			t.Errorf("%v: %s", pairs, advice)
		}
		return valueOf(t, r, "interval")
	}
	if v := ask(); v.High < wideRange*v.Low {
		t.Errorf("nothing known: %v", v)
	}
	for _, c := range []struct {
		more []string
		want float64
	}{{nil, 9}, {[]string{"feed", "160 g/d"}, 4.5}, {[]string{"sheets", "2"}, 18}} {
		if v := ask(append(seen[:len(seen):len(seen)], c.more...)...); math.Abs(v.Likely-c.want) > 1e-9 || v.Low != v.High {
			t.Errorf("%v: %v, want %v", c.more, v, c.want)
		}
	}
}
