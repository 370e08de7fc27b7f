package water_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

func TestMetalConstantsAreThePrinted(t *testing.T) {
	const hardness = 120
	for _, r := range reftest.Read(t, "water-copper-zinc-criteria-constants") {
		printed := water.MetalCriterion(hardness, r.Float("m [1]"), r.Float("b [1]"), r.Float("conversion factor [1]"))
		acute := strings.HasPrefix(r.Text("criterion"), "acute")
		got := water.ZincCriterion(hardness, acute)
		if r.Text("metal") == "copper" {
			got = water.CopperCriterion(hardness, acute)
		}
		want := 1.0
		if strings.Contains(r.Text("criterion"), "Washington (older)") {
			want = 1.27 // its note: 27 % above the federal table
		}
		if ratio := printed / got; math.Abs(ratio-want) > 0.005 || want == 1 && ratio != 1 {
			t.Errorf("%s: the constants give %v times our criterion, want %v", r.Place, ratio, want)
		}
	}
}

// linear evaluates "0.04*H", "0.094*H + 2", "0.75*(H - 90) + 7.5" and "2".
func linear(t *testing.T, text string, h float64) float64 {
	t.Helper()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
		return v
	}
	factor, rest, ok := strings.Cut(text, "*")
	if !ok {
		return number(text)
	}
	body, constant, has := rest, "0", false
	if body, constant, has = strings.Cut(rest, " + "); !has {
		constant = "0"
	}
	if from, inner := strings.CutPrefix(body, "(H - "); inner {
		h -= number(strings.TrimSuffix(from, ")"))
	}
	return number(factor)*h + number(constant)
}

func TestColumbiaFormulasAreThePrinted(t *testing.T) {
	for _, r := range reftest.Read(t, "water-copper-zinc-bc-formulas") {
		limit := r.Text("limit")
		metal := water.ZincColumbia
		if strings.HasPrefix(limit, "copper") {
			metal = water.CopperColumbia
		}
		for _, h := range []float64{20, 50, 50.01, 90, 90.01, 200} {
			if _, bound, ok := strings.Cut(limit, "up to "); ok && h > atof(bound) {
				continue
			}
			if _, bound, ok := strings.Cut(limit, "above "); ok && h <= atof(bound) {
				continue
			}
			want, got := linear(t, r.Text("formula"), h), metal(h, strings.Contains(limit, "short term"))
			if math.Abs(got-want) > 1e-12*want {
				t.Errorf("%s: at hardness %v %v, computed %v", r.Place, h, want, got)
			}
		}
	}
}

func atof(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func TestEuropeanStepsTakeTheLower(t *testing.T) {
	for _, r := range reftest.Read(t, "water-copper-zinc-eu-hardness") {
		h := r.Float("hardness as CaCO3 [mg/L]")
		for _, c := range []struct {
			column string
			value  func(float64) float64
		}{
			{"zinc salmonid [mg/L]", func(h float64) float64 { return water.EuropeanZinc(h, true) }},
			{"zinc cyprinid [mg/L]", func(h float64) float64 { return water.EuropeanZinc(h, false) }},
			{"copper dissolved guide [mg/L]", water.EuropeanCopper},
		} {
			if !r.Has(c.column) {
				continue
			}
			reftest.Near(t, r, c.value(h)/1000, c.column)
			if below := c.value(h - 0.01); below >= c.value(h) {
				t.Errorf("%s: just below, %s is %v, not the step before", r.Place, c.column, below)
			}
		}
	}
	if got := water.EuropeanCopper(9.9); !math.IsNaN(got) {
		t.Errorf("below the listed hardness copper is %v", got)
	}
}

func TestHarderWaterBearsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(5, 999).Draw(t, "hardness")
		for name, f := range map[string]func(float64, bool) float64{"copper": water.CopperCriterion, "zinc": water.ZincCriterion, "copper BC": water.CopperColumbia, "zinc BC": water.ZincColumbia} {
			for _, acute := range []bool{false, true} {
				if f(h+1, acute) < f(h, acute) {
					t.Errorf("%s falls with hardness at %v", name, h)
				}
			}
		}
	})
}

func TestMetalReadingsAreJudged(t *testing.T) {
	columbia, chronic, acute := water.CopperColumbia(100, false), water.CopperCriterion(100, false), water.CopperCriterion(100, true)
	for reading, want := range map[float64]string{columbia * 0.99: "below the limits", columbia * 1.01: "above British Columbia", chronic * 0.99: "above British Columbia", chronic * 1.01: "four-day", acute * 1.01: "one-hour"} {
		r := reckon(t, water.CopperZinc(), "hardness=100 mg/L", "copper="+number(reading)+" ug/L")
		if !strings.Contains(r.Advice[0], want) {
			t.Errorf("%v µg/L: %q", reading, r.Advice[0])
		}
	}
	for hardness, flagged := range map[string]bool{"24": true, "25": false, "400": false, "401": true} {
		r := reckon(t, water.CopperZinc(), "hardness="+hardness+" mg/L")
		if got := strings.Contains(strings.Join(r.Flags, "\n"), "outside the range"); got != flagged {
			t.Errorf("hardness %s flagged %v, want %v", hardness, got, flagged)
		}
	}
}
