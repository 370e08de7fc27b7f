package quantity_test

import (
	"math"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

func TestUnitsThatMeanTheSameConvertOneToOne(t *testing.T) {
	for _, pair := range [][2]string{
		{"m3", "kL"}, {"L", "l"}, {"L/s", "dm3/s"}, {"mg/L", "g/m3"}, {"g/kg", "[ppth]"}, {"mg/kg", "[ppm]"},
		{"N/m2", "Pa"}, {"J/s", "W"}, {"V.A", "W"}, {"kgf/kg", "gf/g"}, {"m3/m2/d", "m/d"}, {"1/K", "/K"},
		{"m2/m3", "1/m"}, {"m-1", "1/m"}, {"kg/(kW.h)", "kg/kW/h"}, {"mPa.s", "cP"}, {"mm2/s", "cSt"}, {"t", "Mg"},
	} {
		a, b := quantity.MustUnit(pair[0]), quantity.MustUnit(pair[1])
		if got := a.Convert(1, b); !a.SameDimension(b) || math.Abs(got-1) > 1e-15 {
			t.Errorf("1 %s is %v %s", pair[0], got, pair[1])
		}
	}
}

func TestUnitsThatMustNotMix(t *testing.T) {
	for _, pair := range [][2]string{
		{"m", "m2"}, {"L", "kg"}, {"mg/L", "g/kg"}, {"[pH]", "1"}, {"{NTU}", "1"}, {"{currency}", "1"}, {"dB", "%"},
		{"Cel", "K/d"}, {"J", "kW"}, {"m2/m3", "m3/m2"},
	} {
		if quantity.MustUnit(pair[0]).SameDimension(quantity.MustUnit(pair[1])) {
			t.Errorf("%s converts to %s", pair[0], pair[1])
		}
	}
}

// A temperature is a point on a scale; a rate or a product needs a difference.
func TestTemperatureScalesAreNotMultiplied(t *testing.T) {
	for _, code := range []string{"Cel/d", "1/Cel", "/Cel", "Cel2", "Cel-1", "mg/L/Cel", "[degF].d", "(Cel)/d", "W/([degF])"} {
		_, err := quantity.ParseUnit(code)
		if err == nil || !strings.Contains(err.Error(), "write the difference in K") {
			t.Errorf("%s: %v", code, err)
		}
	}
	for _, code := range []string{"K/d", "[degR]/h", "K.d", "Cel", "(Cel)", "[degF]"} {
		if _, err := quantity.ParseUnit(code); err != nil {
			t.Errorf("%s: %v", code, err)
		}
	}
	if got := quantity.MustUnit("[degR]/h").Convert(9, quantity.MustUnit("K/h")); math.Abs(got-5) > 1e-12 {
		t.Errorf("a difference of 9 °F is %v K, want 5", got)
	}
}

func TestUnknownUnitsAreRefused(t *testing.T) {
	for _, code := range []string{
		"", " ", "gal", "foo", "m/", "/", "//m", "m//s", "m..s", "(m", "m)", "()", "m0", "m10", "m-", "12", "10", "1 m", "m s",
		"[in_i", "in_i]", "{x", "x}", "kmin", "dd", "uu", "m9.m9.m9.m9", "[ppb]9.[ppb]9.[ppb]9", "K9/mK9.K9/mK9.K9/mK9.K9/mK9.K9/mK9.K9/mK9.K9/mK9.K9/mK9",
		strings.Repeat("(", 5000), strings.Repeat("m/", 60) + "m", "\xff", "m\n",
	} {
		u, err := quantity.ParseUnit(code)
		if err == nil {
			t.Errorf("%q is read as %+v", code, u)
			continue
		}
		if _, ok := err.(*quantity.UnitError); !ok || strings.ContainsAny(err.Error(), "\n") || len(err.Error()) > 200 {
			t.Errorf("%q: %T %v", code, err, err)
		}
	}
}

func TestSymbols(t *testing.T) {
	for code, want := range map[string]string{
		"1": "", "[pH]": "", "Cel": "°C", "[degF]": "°F", "kW.h": "kWh", "m2/m3": "m²/m³", "[gal_us]": "gal (US)", "[gal_br]/h": "gal (imp)/h",
		"um": "µm", "mm[Hg]": "mmHg", "%": "%", "g/m2/a": "g/m²/year", "a": "years", "mg/L/(g/kg)": "mg/L/(g/kg)", "N.m": "N·m", "m-2": "m⁻²",
		"/cm": "/cm", "{m^0.5/s}": "m^0.5/s", "{currency}/(kW.h)": "money/(kW·h)", "[ft_i]2/[ft_i]3": "ft²/ft³", "[lbf_av]": "lbf", "[ppth]": "ppt",
	} {
		if got := quantity.Symbol(code); got != want {
			t.Errorf("Symbol(%s) is %q, want %q", code, got, want)
		}
	}
}
