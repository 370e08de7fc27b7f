package units

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

const root = "../../../../.."

// The factors that the script gets are those printed in the set of figures
// hydraulics-unit-conversions and, for what it does not hold, in NIST SP 811,
// appendix B.
func TestFactorsArePublished(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root, "testdata/reference/hydraulics-unit-conversions.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var table map[string]struct{ F, O float64 }
	if err := json.Unmarshal([]byte(Defines()["UNITS"]), &table); err != nil {
		t.Fatal(err)
	}
	has := map[string]float64{}
	for code, u := range table {
		has[code] = u.F
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
		if _, twice := turns[u.Key()]; twice {
			t.Errorf("%s is turned twice", u.Key())
		}
		turns[u.Key()] = u
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

// Each stay has its reason, and none is turned all the same.
func TestStaysAreNotTurned(t *testing.T) {
	for _, s := range Stays() {
		if s.Reason == "" {
			t.Errorf("%+v lacks a reason", s)
		}
		for _, u := range Turns() {
			if s.Unit == Symbol(u.Code) && !strings.Contains(u.Code, "K") {
				t.Errorf("%s stays and is turned", s.Unit)
			}
		}
	}
}
