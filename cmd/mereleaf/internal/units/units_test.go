package units

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

// The factors that the script gets are those printed in the set of figures
// hydraulics-unit-conversions and, for what it does not hold, in NIST SP 811,
// appendix B.
func TestFactorsArePublished(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root, "testdata/reference/hydraulics-unit-conversions.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var table struct {
		Units []struct {
			C    string
			F, O float64
		}
	}
	if err := json.Unmarshal([]byte(Defines()["UNITS"]), &table); err != nil {
		t.Fatal(err)
	}
	has := map[string]float64{}
	for _, u := range table.Units {
		has[u.C] = u.F
	}
	printed := func(from string) float64 {
		for line := range strings.Lines(string(text)) {
			if cells := strings.Split(line, ","); cells[0] == from {
				v, err := strconv.ParseFloat(cells[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
		}
		t.Fatalf("the set has no %s", from)
		return 0
	}
	for _, c := range []struct {
		code, metric string
		want         float64
	}{
		{"[gal_br]", "L", printed("imperial gallon")},
		{"[gal_us]/h", "L/h", printed("US gallon per hour")},
		{"[gal_br]/min", "L/s", printed("imperial gallon per minute")},
		{"[in_i]", "mm", printed("inch")},
		{"[ft_i]", "m", printed("foot")},
		{"[ft_i]2", "m2", printed("square foot")},
		{"[ft_i]3", "L", printed("cubic foot")},
		{"[oz_av]", "g", printed("ounce (avoirdupois)")},
		{"[lb_av]/[ft_i]3", "kg/m3", printed("pound per cubic foot")},
		{"[lb_av]", "kg", 0.45359237},
		{"[mi_i]/h", "m/s", 0.44704},
		{"[psi]", "kPa", 6.894757},
		{"[lbf_av]", "N", 4.448222},
		{"[lbf_av].[ft_i]", "N.m", 1.355818},
	} {
		if got := has[c.code] / has[c.metric]; math.Abs(got/c.want-1) > 3e-7 {
			t.Errorf("%s is %g %s; printed %g", c.code, got, c.metric, c.want)
		}
	}
	// Water freezes at 32 and boils at 212 °F; the two scales meet at -40.
	cel, fahr := quantity.MustUnit("Cel"), quantity.MustUnit("[degF]")
	for c, f := range map[float64]float64{0: 32, 100: 212, -40: -40} {
		if got := cel.Convert(c, fahr); math.Abs(got-f) > 1e-9 {
			t.Errorf("%g °C is %g °F, want %g", c, got, f)
		}
	}
}

// A unit turns into one of its own dimension that stays in that system, or the
// script would turn a number twice.
func TestTurnsEndInTheirSystem(t *testing.T) {
	turns := map[string]Turn{}
	for _, u := range Turns() {
		if _, twice := turns[u.Code]; twice {
			t.Errorf("%s is turned twice", u.Code)
		}
		turns[u.Code] = u
	}
	for _, u := range Turns() {
		for _, to := range []struct {
			system System
			code   string
		}{{Metric, u.Metric}, {Imperial, u.Imperial}, {US, u.US}} {
			if to.code == "" {
				continue
			}
			if !quantity.MustUnit(u.Code).SameDimension(quantity.MustUnit(to.code)) {
				t.Errorf("%s turns into %s, of another dimension", u.Code, to.code)
			}
			onward := turns[to.code]
			if next := map[System]string{Metric: onward.Metric, Imperial: onward.Imperial, US: onward.US}[to.system]; next != "" {
				t.Errorf("%s: %s turns into %s, and that into %s", to.system, u.Code, to.code, next)
			}
			if symbol := Symbol(to.code); strings.Contains(symbol, "gal") && !strings.Contains(symbol, "(US)") && !strings.Contains(symbol, "(imp)") {
				t.Errorf("%s does not say which gallon", symbol)
			}
		}
	}
}

// Each word of a Stay is written somewhere, and each stay has its reason.
func TestStaysAreOfUse(t *testing.T) {
	var all strings.Builder
	for _, folder := range []string{"content", "calculators"} {
		for _, ending := range []string{".md", ".go"} {
			walk(t, folder, ending, func(path string, text []byte) {
				if !strings.HasSuffix(path, "_test.go") {
					all.Write(text)
				}
			})
		}
	}
	text := regexp.MustCompile(`\s+`).ReplaceAllString(all.String(), " ")
	for _, s := range Stays() {
		if s.Reason == "" || (s.Unit != "") == (s.Place+s.Phrase != "") {
			t.Errorf("%+v lacks a reason, or what it stands for", s)
		}
		if !strings.Contains(text, s.Phrase) {
			t.Errorf("%q stands nowhere", s.Phrase)
		}
	}
	for _, s := range Stays() {
		for _, u := range Turns() {
			if s.Unit != "" && s.Unit == Symbol(u.Code) {
				t.Errorf("%s stays and is turned", s.Unit)
			}
		}
	}
}

// What a script takes for a difference, and what not.
func TestDifference(t *testing.T) {
	for text, want := range map[string]bool{
		"Are they within 2 °C? Net the fish.":        true,
		"warmed by 1 °C a day reached":               true,
		"moves by more than 1 °C: let":               true,
		"by no more than a step of 1 °C, in":         true,
		"in danger by 3 °C (common practice)":        true,
		"up to 2 °C of difference.":                  true,
		"{2} °C between bag and tank":                true,
		"at 1 °C a minute":                           true,
		"Below 10 °C and from":                       false,
		"{3 Cel} to {3 Cel} at":                      false,
		"a mean of -4 °C after":                      false,
		"stayed above 10 °C for a week.":             false,
		"at 21 °C and 120 m above":                   false,
		"one for each degree. At 20 °C the filter":   false,
		"in the cold, 4 °C: less":                    false,
		"It is 28 °C or more.":                       false,
		"cools from 21 to 19.6 °C. That is a degree": false,
	} {
		found := Temperatures(text)
		if len(found) == 0 || found[0].Difference != want {
			t.Errorf("%q: %+v, want a difference: %v", text, found, want)
		}
	}
}
