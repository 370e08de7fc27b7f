package media

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func TestFilmRate(t *testing.T) {
	for _, r := range reftest.Read(t, "media-nitrification-monod") {
		reftest.Near(t, r, FilmRate(r.Float("tan [mg/L]")), "rate [g/m2/d]")
	}
	if FilmRate(LeastTAN) != 0 || FilmRate(0) != 0 || FilmRate(LeastTAN+1e-9) <= 0 {
		t.Error("the rate does not begin at the least ammonia")
	}
}

func TestTemperatureFactor(t *testing.T) {
	for _, r := range reftest.Read(t, "media-temperature-factor") {
		got := TemperatureFactor(r.Float("theta [1]"), r.Float("temperature [Cel]"), 20)
		reftest.Near(t, r, got, "factor_to_20 [1]")
	}
}

// kinetic returns the row of the kinetics set with a parameter.
func kinetic(t *testing.T, parameter string) reftest.Row {
	t.Helper()
	for _, r := range reftest.Read(t, "media-nitrification-kinetics") {
		if strings.HasPrefix(r.Text("parameter"), parameter) {
			return r
		}
	}
	t.Fatalf("no parameter %q", parameter)
	return reftest.Row{}
}

// The constants in the rates are the printed ones, read back from the functions.
func TestRateConstants(t *testing.T) {
	at := func(r reftest.Row, got float64) { reftest.Near(t, r, got, "value_min") }
	at(kinetic(t, "minimum TAN"), LeastTAN)
	at(kinetic(t, "intercept b"), HalfOrderRate(1)-slope())
	at(kinetic(t, "slope of r"), slope())
	transition := kinetic(t, "transition TAN").Float("value_min")
	if HalfOrderRate(transition) == HalfOrderRate(transition*1.0001) || HalfOrderRate(transition*1.0001) != HalfOrderRate(10) {
		t.Error("the half-order rate does not level off at the transition")
	}
	switching := kinetic(t, "oxygen to TAN ratio")
	reftest.Near(t, switching, OxygenPerTAN().Low, "value_min")
	reftest.Near(t, switching, OxygenPerTAN().High, "value_max")
}

// slope is the rise of HalfOrderRate over the root of the ammonia.
func slope() float64 { return (HalfOrderRate(1.44) - HalfOrderRate(0.25)) / (1.2 - 0.5) }

func TestGrowthIsThePrintedOne(t *testing.T) {
	for _, r := range reftest.Read(t, "media-nitrification-temperature") {
		switch {
		case r.Text("source") == "zhu-chen-2002" && r.Text("limited_by") == "oxygen":
			reftest.Near(t, r, 100*(MildGrowth-1), "sensitivity [%/K]")
		case r.Text("source") == "zhu-chen-2002" && r.Text("limited_by") == "TAN":
			reftest.Near(t, r, 100*(FilmGrowth-1), "sensitivity [%/K]")
		case r.Text("process") == "moving-bed nitrification, intrinsic":
			if SteepGrowth < r.Float("theta_min [1]") || SteepGrowth > r.Float("theta_max [1]") {
				t.Errorf("%s: %v is not in the range", r.Place, SteepGrowth)
			}
		}
	}
}

// The caps are the plateau and the best rate of the printed table, and the
// likely rate stays under what it gives for warm shower filters.
func TestRateCapsAreThePrintedOnes(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-nitrification-areal") {
		switch {
		case r.Text("source") == "bovendeur-1987":
			reftest.Near(t, r, RateCap().Low, "rate_max [g/m2/d]")
			reftest.Near(t, r, HalfOrderRate(3), "rate_max [g/m2/d]")
			done++
		case r.Text("source") == "mofokeng-2009" && strings.HasPrefix(r.Text("note"), "best"):
			if RateCap().High != r.Float("rate_max [g/m2/d]") {
				t.Errorf("%s: the cap is %v", r.Place, RateCap().High)
			}
			done++
		}
	}
	if done != 2 {
		t.Errorf("%d of 2 rows", done)
	}
}

func TestRateLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tan := rapid.Float64Range(0.0701, 5).Draw(t, "tan")
		oxygen := rapid.Float64Range(1, 12).Draw(t, "oxygen")
		celsius := rapid.Float64Range(0, 35).Draw(t, "temperature")
		r, limit := Rate(tan, oxygen, celsius)
		if !(0 < r.Low && r.Low <= r.Likely && r.Likely <= r.High && r.High <= RateCap().High) {
			t.Errorf("out of order: %v", r)
		}
		if more, _ := Rate(1.2*tan, oxygen, celsius); limit != ByOxygen && tan*1.2 < oxygen/OxygenPerTAN().High && more.Likely < r.Likely {
			t.Errorf("more ammonia is removed slower: %v, %v", more, r)
		}
		if more, _ := Rate(tan, 1.2*oxygen, FilmTemperature); limit == ByOxygen {
			if now, _ := Rate(tan, oxygen, FilmTemperature); more.Likely < now.Likely {
				t.Errorf("more oxygen removes slower: %v, %v", more, now)
			}
		}
		if warm, _ := Rate(tan, oxygen, celsius+1); warm.Likely < r.Likely || warm.Low < r.Low || warm.High < r.High {
			t.Errorf("a degree more removes less: %v, %v", warm, r)
		}
	})
}

func TestWhatLimits(t *testing.T) {
	ratio := OxygenPerTAN().Likely
	for _, c := range []struct {
		tan, oxygen float64
		want        Limit
	}{{0.99, ratio, ByAmmonia}, {1.01, ratio, ByOxygen}, {1, 20, ByAmmonia}, {4, 20, ByCap}} {
		if _, limit := Rate(c.tan, c.oxygen, 20); limit != c.want {
			t.Errorf("TAN %v, oxygen %v: limit %v, want %v", c.tan, c.oxygen, limit, c.want)
		}
	}
}

func TestRateAtTheTemperatureOfTheMeasurement(t *testing.T) {
	r, _ := Rate(0.5, 10, FilmTemperature)
	if math.Abs(r.Likely-FilmRate(0.5)) > 1e-12 {
		t.Errorf("%v, measured %v", r.Likely, FilmRate(0.5))
	}
}
