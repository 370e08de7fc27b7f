package readings_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/readings"
)

// parameters are the names that the figure sets have for what a log draws.
func parameters() map[string]string {
	return map[string]string{
		"un-ionised ammonia": "toxic", "nitrite": "nitrite", "nitrate": "nitrate", "chlorine total": "chlorine", "pH": "ph", "KH": "kh",
		"dissolved oxygen at dawn": "oxygen", "temperature": "temperature",
	}
}

// levelBy judges a value by the limits alone.
func levelBy(rows []limits.Limit, v float64) int {
	level := 0
	for _, l := range rows {
		if v == l.Value() || (v < l.Value()) == (l.Side == limits.Below) {
			level = max(level, l.Band)
		}
	}
	return level
}

// The limits are those of the figure set, no more and no fewer: each band of it,
// judged by the limits, has the band's level, and each limit is a band's end.
func TestLimitsAreTheBandsOfTheFigures(t *testing.T) {
	rows := bands(t)
	for _, s := range readings.AllSeries() {
		if s.Name == "tan" {
			continue // kits differ, and no figure set has their first step
		}
		ends, seen := []float64{}, 0
		for _, b := range rows {
			if parameters()[b.parameter] != s.Name {
				continue
			}
			seen++
			ends = append(ends, b.low, b.high)
			for _, v := range b.probes() {
				if got := levelBy(s.Limits, v); got != b.level {
					t.Errorf("%s: %s %v is at level %d by the limits, want %d", b.Place, s.Name, v, got, b.level)
				}
			}
		}
		if seen == 0 {
			t.Errorf("no figures for %s", s.Name)
		}
		for _, l := range s.Limits {
			if !slices.ContainsFunc(ends, func(end float64) bool { return math.Abs(end-l.Value()) < 1e-9 }) {
				t.Errorf("%s has a limit at %v, where no band ends: %v", s.Name, l.Value(), ends)
			}
		}
	}
}

// Every series is of an input or output of the calculator, in its unit, and what
// the calculator judges is drawn.
func TestSeriesAreDeclared(t *testing.T) {
	c := readings.Readings()
	for _, s := range readings.AllSeries() {
		if o, ok := c.Output(s.Name); ok {
			if o.Unit != s.Unit {
				t.Errorf("%s: the limits are in %s, the output in %s", s.Name, s.Unit, o.Unit)
			}
			continue
		}
		d, ok := c.Input(s.Name)
		if !ok {
			t.Fatalf("%s is nothing of the calculator", s.Name)
		}
		if d.Kind != quantity.Number && d.UnitCode() != s.Unit {
			t.Errorf("%s: the limits are in %s, the input in %s", s.Name, s.Unit, d.UnitCode())
		}
		if s.Basis == "" {
			continue
		}
		basis, ok := c.Input(s.Basis)
		if !ok || basis.Type != calculators.Choice {
			t.Errorf("%s: %s is no choice of the calculator", s.Name, s.Basis)
		}
	}
}

// What a kit reads otherwise is put into the terms of the bands by the figures of
// chemistry and trade.
func TestBasisTurnsIntoBands(t *testing.T) {
	seen := 0
	for _, row := range reftest.Read(t, "water-nitrogen-unit-conversions") {
		for conversion, got := range map[string]float64{
			"ammonia NH3 per N":  1 / readings.InBands("ammonia-basis", "as-nh3", 1),
			"ammonium NH4 per N": 1 / readings.InBands("ammonia-basis", "as-nh4", 1),
			"nitrite NO2 per N":  1 / readings.InBands("nitrite-basis", "as-no2", 1),
			"nitrate NO3 per N":  readings.InBands("nitrate-basis", "as-n", 1),
		} {
			if row.Text("conversion") == conversion {
				reftest.Near(t, row, got, "ratio [g/g]")
				seen++
			}
		}
	}
	for _, row := range reftest.Read(t, "water-hardness-conversion-table") {
		if row.Text("one unit of") == "German degree" {
			reftest.Within(t, row, readings.InBands("kh-unit", "german", 1), "as CaCO3 [mg/L]", 0.003)
			seen++
		}
	}
	if seen < 5 {
		t.Errorf("%d of 5 figures compared", seen)
	}
	for _, s := range readings.AllSeries() {
		basis, _ := readings.Readings().Input(s.Basis)
		plain := 0
		for _, o := range basis.Options {
			if readings.InBands(s.Basis, o.Name, 1) == 1 {
				plain++
			}
		}
		if s.Basis != "" && plain != 1 {
			t.Errorf("%s: %d options count as the bands do, want 1", s.Basis, plain)
		}
	}
}

// After how long to test again follows from how pressing it is, and the advice
// says the same.
func TestHoursToTheNextTest(t *testing.T) {
	for _, test := range []struct {
		given string
		hours float64
		says  string
	}{
		{"fish=gasping", 1, "test again one hour"},
		{"oxygen=2 mg/L", 1, "test again one hour"},
		{"nitrite=0.2 mg/L", 12, "test again in 12 hours"},
		{"nitrate=120 mg/L", 24, "test again tomorrow"},
		{"nitrate=60 mg/L", 24, "test again: ammonia and nitrite tomorrow"},
		{"nitrate=10 mg/L", 7 * 24, ""},
	} {
		r := reckon(t, test.given)
		if got := value(t, r, "test-again"); got != test.hours {
			t.Errorf("%s: test again after %v h, want %v", test.given, got, test.hours)
		}
		if test.says != "" && !slices.ContainsFunc(r.Advice, func(line string) bool { return strings.Contains(line, test.says) }) {
			t.Errorf("%s: the advice does not say %q: %q", test.given, test.says, r.Advice)
		}
	}
	all := reckon(t, "fish=normal", "tan=0 mg/L", "ph=8", "temperature=20 Cel", "nitrite=0 mg/L", "oxygen=8 mg/L", "kh=120", "nitrate=5 mg/L", "chlorine=0 mg/L")
	if !strings.Contains(all.Advice[0], "test again next week") || value(t, all, "test-again") != 168 {
		t.Errorf("all in order: %q", all.Advice[0])
	}
}
