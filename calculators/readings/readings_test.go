package readings_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/readings"
	"mereleaf/calculators/water"
)

func TestDeclarationIsComplete(t *testing.T) {
	for _, fault := range pondtest.Some(t, readings.Readings()).Validate() {
		t.Error(fault)
	}
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// reckon evaluates with "name=value" arguments.
func reckon(t tester, args ...string) calculators.Result {
	t.Helper()
	list := make([]calculators.Arg, len(args))
	for i, text := range args {
		list[i].Name, list[i].Value, _ = strings.Cut(text, "=")
	}
	_, r, err := readings.Readings().Evaluate(list)
	if err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	return r
}

func value(t tester, r calculators.Result, output string) float64 {
	t.Helper()
	v, ok := r.Value(output)
	if !ok {
		t.Fatalf("there is no %s in the answer", output)
	}
	return v.Likely
}

func urgency(t tester, r calculators.Result) int {
	t.Helper()
	return int(value(t, r, "urgency"))
}

// says reports whether a line of advice with the prefix holds the words.
func says(r calculators.Result, prefix, words string) bool {
	return slices.ContainsFunc(r.Advice, func(line string) bool {
		return strings.HasPrefix(line, prefix) && strings.Contains(strings.ToLower(line), strings.ToLower(words))
	})
}

func prefixOf(level int) string { return []string{"", "These days: ", "Today: ", "Now: "}[level] }

func levelOf(t tester, band string) int {
	t.Helper()
	i := slices.Index([]string{"good", "watch", "act", "emergency"}, band)
	if i < 0 {
		t.Fatalf("the band %q is none", band)
	}
	return i
}

// band is a row of the bands, with its limits; ±Inf where there is none.
type band struct {
	reftest.Row
	parameter string
	level     int
	low, high float64
}

func bands(t *testing.T) []band {
	t.Helper()
	var all []band
	for _, r := range reftest.Read(t, "safety-reading-bands") {
		b := band{Row: r, parameter: r.Text("parameter"), level: levelOf(t, r.Text("band")), low: math.Inf(-1), high: math.Inf(1)}
		for _, unit := range []string{"[mg/L]", "[pH]", "[Cel]"} {
			if r.Has("low " + unit) {
				b.low = r.Float("low " + unit)
			}
			if r.Has("high " + unit) {
				b.high = r.Float("high " + unit)
			}
		}
		all = append(all, b)
	}
	return all
}

// probes are values within a band: close to its ends, and well inside.
func (b band) probes() []float64 {
	const close = 1e-6
	switch {
	case b.low == b.high:
		return []float64{b.low}
	case math.IsInf(b.low, -1):
		return []float64{b.high - close, 0.9 * b.high}
	case math.IsInf(b.high, 1):
		return []float64{b.low + close, 1.1 * b.low}
	}
	return []float64{b.low + close, (b.low + b.high) / 2, b.high - close}
}

// given turns a value of a row's parameter into arguments that leave all else
// in order.
func given(t tester, parameter string, v float64) []string {
	t.Helper()
	switch parameter {
	case "un-ionised ammonia":
		const ph, warm = 8.4, 24.5 // in order both, and little total ammonia makes the toxic part
		tan := v / water.UnionisedFraction(ph, warm, 0) * (1 + 1e-12)
		return []string{"tan=" + number(tan) + " mg/L", "ph=8.4", "temperature=24.5 Cel"}
	case "nitrite":
		return []string{"nitrite=" + number(v) + " mg/L"}
	case "nitrate":
		return []string{"nitrate=" + number(v) + " mg/L"}
	case "chlorine total":
		return []string{"chlorine=" + number(v) + " mg/L"}
	case "pH":
		return []string{"ph=" + number(v)}
	case "KH":
		return []string{"kh=" + number(v)}
	case "dissolved oxygen at dawn":
		return []string{"oxygen=" + number(v) + " mg/L", "time=dawn"}
	case "temperature":
		return []string{"temperature=" + number(v) + " Cel"}
	}
	t.Fatalf("the parameter %q is not read here", parameter)
	return nil
}

func TestEveryBandIsFound(t *testing.T) {
	for _, b := range bands(t) {
		for _, v := range b.probes() {
			if got := urgency(t, reckon(t, given(t, b.parameter, v)...)); got != b.level {
				t.Errorf("%s: %s %v has the urgency %d, want %d", b.Place, b.parameter, v, got, b.level)
			}
		}
	}
}

func TestTheWorseBandHoldsOnTheLine(t *testing.T) {
	all := bands(t)
	for _, b := range all {
		for _, edge := range []float64{b.low, b.high} {
			if math.IsInf(edge, 0) {
				continue
			}
			want := 0
			for _, o := range all {
				if o.parameter != b.parameter || o.low != edge && o.high != edge {
					continue
				}
				if want = max(want, o.level); o.low == o.high {
					want = o.level // a band of this one value
					break
				}
			}
			if got := urgency(t, reckon(t, given(t, b.parameter, edge)...)); got != want {
				t.Errorf("%s: at %v the urgency is %d, want %d", b.Place, edge, got, want)
			}
		}
	}
}

// asAdvised has, for what a row says to do, words of the advice.
func asAdvised() map[string]string {
	return map[string]string{
		"carry on": "carry on", "halve feed": "halve the feed", "retest next day": "tomorrow", "check KH and flow": "check KH and the flow",
		"stop feed": "stop feeding", "more air": "more air", "part water change with dechlorinated water of like temperature and pH": "change part of the water",
		"look for the cause": "look for the cause", "repeat": "repeat", "call a fish vet": "call a fish vet", "retest daily": "daily",
		"part water change": "dechlorinated water of like temperature and pH", "check chloride": "check chloride", "ask a vet about salt": "ask a vet about salt",
		"gasping with good oxygen and brown gills is an alarm": "brown gills, are an alarm", "larger weekly water change": "larger weekly water change",
		"plan changes over weeks and review stock and feed":    "plan changes over weeks, review stock and feed",
		"dose dechlorinator for the whole volume by its label": "dechlorinator for the whole volume, by its label",
		"shut the tap": "shut the tap", "dechlorinate": "dose dechlorinator", "aerate": "all the air", "move fish only if safe water is at hand": "move fish only if safe water",
		"test at dawn and dusk": "test pH at dawn and dusk", "shade": "shade the pond", "test ammonia": "test ammonia", "shade and more air": "shade the pond",
		"test ammonia at once": "test ammonia at once", "find the cause (algae": "find the cause", "raw cement": "raw cement", "lime)": "lime", "test KH": "test KH",
		"test KH first": "test KH first", "raise KH in small steps": "raise KH in small steps", "pH crash": "pH crash",
		"little hydrogencarbonate and small water changes often": "small water changes, often", "a fast rise turns ammonium into ammonia": "a fast rise turns ammonium into ammonia",
		"no harm by itself": "no harm by itself", "check pH": "check pH", "top up buffer": "top up the buffer", "test weekly": "test KH weekly",
		"raise in steps over days before any large change": "raise KH in small steps over days, before any large change", "clean": "clean out", "add air at night": "add air at night",
		"full air": "full on", "water over the tower": "water over the tower", "no medicine": "no medicine",
		"all air and fresh dechlorinated cool water now": "fresh dechlorinated cool water", "power cut plan": "power cut plan", "air at night": "air at night", "less feed": "less feed",
		"slow cool change": "cool slowly", "no feed": "no feed", "keep one hole open in ice without blows": "one hole open in the ice without blows",
		"lift pumps off the floor so the warmer deep layer stays": "lift pumps off the floor", "little or no feed and no handling": "little or no feed",
	}
}

// actions are the single things a row says to do; "as act and at once" stands
// for those of the parameter's row of the band act.
func actions(b band, all []band) []string {
	var list []string
	for part := range strings.FieldsFuncSeq(b.Text("do"), func(r rune) bool { return strings.ContainsRune(",;:", r) }) {
		if part = strings.TrimSpace(part); part != "as act and at once" {
			list = append(list, part)
			continue
		}
		for _, o := range all {
			if o.parameter == b.parameter && o.Text("band") == "act" {
				list = append(list, actions(o, all)...)
			}
		}
	}
	return list
}

func TestWhatARowSaysToDoIsAdvised(t *testing.T) {
	all, words := bands(t), asAdvised()
	unused := asAdvised()
	for _, b := range all {
		for _, action := range actions(b, all) {
			want, known := words[action]
			if !known {
				t.Fatalf("%s: no words of advice are known for %q", b.Place, action)
			}
			delete(unused, action)
			if action == "more air" && b.level == 3 {
				want = "all the air"
			}
			for _, v := range b.probes() {
				if r := reckon(t, given(t, b.parameter, v)...); !says(r, prefixOf(b.level), want) {
					t.Errorf("%s: %s %v: no %q after %q in %q", b.Place, b.parameter, v, want, prefixOf(b.level), r.Advice)
				}
			}
		}
	}
	for action := range unused {
		t.Errorf("no row says %q any more", action)
	}
}

// The limits named with the bands are those of their publications.
func TestNamedLimitsAreThoseOfTheirSources(t *testing.T) {
	r := reckon(t, "fish=normal", "tan=0 mg/L", "ph=8", "temperature=20 Cel", "nitrite=0 mg/L", "oxygen=8 mg/L", "kh=120", "nitrate=5 mg/L", "chlorine=0 mg/L")
	named := map[string]string{
		"edis-fa016": "toxic ammonia", "wef-mop8": "chlorine", "azeah-alkalinity second": "KH", "nsw-dpi-do": "oxygen", "petfishdoc-chem comfort upper": "water at",
		"no-effect-limits nitrite": "nitrite", "bc-nitrogen-2009 under 2": "nitrite", "oata-2008 NO3": "nitrate",
	}
	seen := 0
	for _, row := range reftest.Read(t, "safety-water-actions") {
		for key, reading := range named {
			source, rest, _ := strings.Cut(key, " ")
			if about := row.Text("parameter") + " " + row.Text("expressed_as") + " " + row.Text("level") + " " + row.Text("locator"); row.Text("source") != source || !strings.Contains(about, rest) {
				continue
			}
			for _, column := range []string{"value [mg/L]", "value [Cel]"} {
				if !row.Has(column) {
					continue
				}
				seen++
				if limit := number(row.Float(column)); !slices.ContainsFunc(r.Working, func(s calculators.Step) bool {
					return strings.HasPrefix(s.Label, "Band of "+reading) && slices.Contains(strings.FieldsFunc(s.Text, func(r rune) bool { return strings.ContainsRune(" \u00a0:;(),", r) }), limit)
				}) {
					t.Errorf("%s: the band of %s does not name %s", row.Place, reading, limit)
				}
			}
		}
	}
	if seen < len(named) {
		t.Errorf("%d of %d limits compared", seen, len(named))
	}
}

func TestExampleOfTheScenario(t *testing.T) {
	v, err := readings.Readings().Reckon(pondtest.Given(t, readings.Readings()))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(v.Advice[0], "Danger now: fish gasp. Act today: toxic ammonia 0.095\u00a0mg/L") || !strings.HasPrefix(v.Advice[1], "Now: all the air") {
		t.Errorf("advice begins %q", v.Advice[:2])
	}
	free, err := water.FreeAmmonia().Reckon(pondtest.Given(t, water.FreeAmmonia()))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range free.Values {
		for _, mine := range v.Values {
			if s.Name == "toxic" && mine.Name == "toxic" && (s.Text != mine.Text || s.Low != mine.Low || s.High != mine.High) {
				t.Errorf("here %+v, alone %+v", mine, s)
			}
		}
	}
}

// tester is what the helpers need of a test, and of a draw of a property.
type tester interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}
