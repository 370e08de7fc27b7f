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

// maturing evaluates the example with some inputs replaced.
func maturing(t testing.TB, pairs ...string) (calculators.Result, error) {
	t.Helper()
	args := question(Maturing())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	_, r, err := Maturing().Evaluate(args)
	return r, err
}

func matured(t testing.TB, output string, pairs ...string) calculators.Value {
	t.Helper()
	r, err := maturing(t, pairs...)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := r.Value(output)
	if !ok || !(v.Low <= v.Likely && v.Likely <= v.High) {
		t.Errorf("%v: %v, %v", pairs, v, ok)
	}
	return v
}

// observed returns what must be put in for a run of the set of observed ones, and
// which output it tells. Where a row states no temperature, warm water is 27
// Celsius and cool water 12; where no load, it is 0.3 mg/L a day.
func observed(r reftest.Row) (output string, given []string) {
	given = []string{"from", "tan", "feed", "", "protein", "", "tan", "0.3 g/d", "volume", "1000 L", "change", "0 %", "temperature", "27 Cel", "seeding", "none"}
	if r.Text("temperature [Cel]") != "" {
		given = append(given, "temperature", r.Text("temperature [Cel]")+" Cel")
	}
	switch r.Text("event") {
	case "nitrite peak":
		output = "nitrite-day"
	case "TAN peak":
		output = "tan-day"
	case "full capacity":
		output = "mature"
	case "complete", "nitrification established":
		output = "down"
	case "complete nitrification":
		output = "down"
		given = append(given, "temperature", "12 Cel")
	}
	if r.Text("seeded") == "yes" {
		given = append(given, "seeding", "media", "share", "10 %") // a bag of it
	}
	return output, given
}

// The middle of every observed run lies in the answer's range.
func TestObservedStartUpsLieInTheRange(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-startup-observed") {
		output, given := observed(r)
		if output == "" {
			continue // the plateau below, and a single dose
		}
		at := r.Float("day_max [d]")
		if r.Has("day_min [d]") {
			at = (at + r.Float("day_min [d]")) / 2
		}
		if v := matured(t, output, given...); at < v.Low || at > v.High {
			t.Errorf("%s: %s on day %v, computed %v to %v", r.Place, r.Text("event"), at, v.Low, v.High)
		}
		done++
	}
	if done != 9 {
		t.Errorf("%d runs", done)
	}
}

// The best run observed: ammonia reached its plateau in so many days, which
// tells the load; all of the nitrite peaks seen, their days and heights, lie in
// the range, and so does the plateau.
func TestTheCarpRunLiesInTheRange(t *testing.T) {
	var load string
	for _, r := range reftest.Read(t, "media-startup-observed") {
		if r.Text("source") != "sikora-2020" {
			continue
		}
		switch r.Text("event") {
		case "TAN plateau reached":
			load = strconv.FormatFloat(r.Float("tan_max [mg/L]")/r.Float("day_max [d]"), 'f', -1, 64) + " g/d"
		case "nitrite peak":
			given := []string{"from", "tan", "feed", "", "protein", "", "tan", load, "volume", "1000 L", "change", "0 %", "temperature", "25 Cel", "seeding", "none"}
			for column, output := range map[string]string{"day": "nitrite-day", "nitrite": "nitrite-peak"} {
				unit := map[string]string{"day": " [d]", "nitrite": " [mg/L]"}[column]
				v := matured(t, output, given...)
				if r.Float(column+"_min"+unit) < v.Low || r.Float(column+"_max"+unit) > v.High {
					t.Errorf("%s: %s computed %v to %v", r.Place, column, v.Low, v.High)
				}
			}
		}
	}
	if load == "" {
		t.Fatal("no run of carp")
	}
}

func TestMaturingLaws(t *testing.T) {
	text := func(f float64, unit string) string { return strconv.FormatFloat(f, 'f', -1, 64) + unit }
	rapid.Check(t, func(rt *rapid.T) {
		feed := rapid.Float64Range(1, 20).Draw(rt, "feed")
		celsius := rapid.Float64Range(10, 27).Draw(rt, "temperature")
		seeding := rapid.SampledFrom([]string{"none", "some"}).Draw(rt, "seeding")
		given := []string{"feed", text(feed, " g/d"), "temperature", text(celsius, " Cel"), "seeding", seeding}
		down := matured(t, "down", given...)
		twice := matured(t, "down", append(given, "feed", text(2*feed, " g/d"), "volume", "2400 L")...)
		if math.Abs(twice.Likely-down.Likely) > 1e-6*down.Likely {
			rt.Errorf("twice the pond with twice the feed: %v, %v", twice, down)
		}
		if warm := matured(t, "down", append(given, "temperature", text(celsius+1, " Cel"))...); warm.Likely > down.Likely {
			rt.Errorf("a degree more: %v, %v", warm, down)
		}
		if stale := matured(t, "down", append(given, "oxygen", "4 mg/L")...); stale.Likely < down.Likely {
			rt.Errorf("less oxygen: %v, %v", stale, down)
		}
		peak := matured(t, "nitrite-peak", append(given, "change", "0 %")...)
		if fresh := matured(t, "nitrite-peak", append(given, "change", "30 %")...); fresh.Likely >= peak.Likely {
			rt.Errorf("water changed: nitrite %v, else %v", fresh, peak)
		}
	})
}

func TestSeedingHelps(t *testing.T) {
	none, some := matured(t, "down", "seeding", "none"), matured(t, "down", "seeding", "some")
	media := matured(t, "down", "seeding", "media", "share", "50 %")
	if !(media.Likely < some.Likely && some.Likely < none.Likely) {
		t.Errorf("none %v, some %v, media %v", none, some, media)
	}
}

func TestWhatNeverMatures(t *testing.T) {
	for _, c := range []struct{ input, pairs string }{
		{"feed", "feed=0 g/d"},
		{"temperature", "oxygen=0.5 mg/L temperature=4 Cel feed=0.5 g/d change=80 %"},
		{"temperature", "feed=1 g/d change=90 %"}, // 0.03 mg/L a day, of which a third is changed
	} {
		if _, err := maturing(t, pairsOf(c.pairs)...); err == nil || !strings.HasPrefix(err.Error(), c.input+": ") {
			t.Errorf("%s: %v", c.pairs, err)
		}
	}
	r, err := maturing(t, "oxygen", "0.8 mg/L")
	if err != nil || !strings.Contains(strings.Join(r.Flags, "\n"), "does not come down") {
		t.Errorf("little oxygen: %v, %v", r.Flags, err)
	}
	if v, _ := r.Value("down"); v.High != LongestStartUp {
		t.Errorf("at most %v days", v.High)
	}
	if r, _ := maturing(t); strings.Contains(strings.Join(r.Flags, "\n"), "does not come down") {
		t.Errorf("enough of all: %v", r.Flags)
	}
}

// pairsOf parts "a=1 g/d b=2 %" at the names.
func pairsOf(s string) []string {
	var pairs []string
	for word := range strings.FieldsSeq(s) {
		if name, value, ok := strings.Cut(word, "="); ok {
			pairs = append(pairs, name, value)
		} else {
			pairs[len(pairs)-1] += " " + word
		}
	}
	return pairs
}

func TestMaturingNeverPromisesADay(t *testing.T) {
	v, err := Maturing().Reckon(question(Maturing()))
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Advice) == 0 || !strings.Contains(v.Advice[0], "every day") {
		t.Errorf("the first advice is %v", v.Advice)
	}
	for _, s := range append(append(v.Advice, v.Flags...), Maturing().Cautions...) {
		if strings.Contains(strings.ToLower(s), "safe from") {
			t.Errorf("promises: %s", s)
		}
	}
}

func BenchmarkMaturing(b *testing.B) {
	c := Maturing()
	for b.Loop() {
		if _, _, err := c.Evaluate(question(c)); err != nil {
			b.Fatal(err)
		}
	}
}
