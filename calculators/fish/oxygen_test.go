package fish_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

// A cell of the set is blank where its form is not stated for the temperature.
func TestUptakesMatch(t *testing.T) {
	forms := map[string]func(weight, celsius float64) float64{
		"uptake_crucian [mg/kg/h]": fish.CrucianUptake,
		"uptake_bighead [mg/kg/h]": fish.BigheadUptake,
		"uptake_winberg [mg/kg/h]": fish.CyprinidUptake,
	}
	for _, r := range reftest.Read(t, "stocking-fish-oxygen-uptake-computed") {
		weight, celsius := r.Float("weight [g]"), r.Float("temperature [Cel]")
		for column, form := range forms {
			if r.Has(column) {
				reftest.Near(t, r, form(weight, celsius), column)
			} else if v := form(weight, celsius); !math.IsNaN(v) {
				t.Errorf("%s: %s is blank, computed %v", r.Place, column, v)
			}
		}
		b := fish.RestingUptake(weight, celsius)
		for column := range forms {
			if r.Has(column) && (r.Float(column) < b.Low-r.Step(column) || r.Float(column) > b.High+r.Step(column)) {
				t.Errorf("%s: %s lies outside %v", r.Place, column, b)
			}
		}
	}
}

// The forms themselves, as published: coefficients row by row.
func TestUptakeCoefficientsMatch(t *testing.T) {
	const weight, celsius = 50.0, 22.0
	found := 0
	for _, r := range reftest.Read(t, "stocking-fish-oxygen-models") {
		form := func() float64 {
			return r.Float("coefficient [1]") * math.Pow(weight, r.Float("weight_exponent [1]")) * math.Exp(celsius*r.Float("temperature_coefficient [1/K]"))
		}
		var got, want float64
		switch {
		case strings.HasPrefix(r.Text("quantity"), "routine oxygen uptake, mg/(g h)"):
			got, want = fish.CrucianUptake(weight, celsius), 1000*form()
		case strings.HasPrefix(r.Text("quantity"), "oxygen uptake, g/(g d)"):
			got, want = fish.BigheadUptake(weight, celsius), 1e6/24*form()
		case r.Text("source") == "winberg1956":
			perFish := 1.429 * r.Float("coefficient [1]") * math.Pow(weight, r.Float("weight_exponent [1]"))
			got, want = fish.CyprinidUptake(weight, 20), 1000*perFish/weight
		case r.Text("source") == "swann": // beyond 30 °C it doubles for each 10 °C
			got, want = fish.RestingUptake(weight, 34).Low/fish.RestingUptake(weight, 30).Low, math.Pow(r.Float("q10 [1]"), 0.4)
		default:
			continue
		}
		found++
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: computed %v, want %v", r.Place, got, want)
		}
	}
	if found != 4 {
		t.Errorf("%d forms compared, want 4", found)
	}
}

// Only every fifth degree is in the function: the other entries lie on its lines
// to half a per cent.
func TestTemperatureFactorMatches(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-oxygen-temperature-factor") {
		celsius, column := r.Float("temperature [Cel]"), "divide_20C_rate_by [1]"
		if math.Mod(celsius, 5) == 0 {
			reftest.Near(t, r, fish.KroghFactor(celsius), column)
		}
		reftest.Within(t, r, fish.KroghFactor(celsius), column, 0.005)
	}
}

func TestFallsMatch(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-weir-aeration-computed") {
		ratio := fish.FallRatio(r.Float("drop [m]"), r.Float("temperature [Cel]"), r.Float("a [1]"), r.Float("b [1]"))
		reftest.Near(t, r, ratio, "deficit_ratio [1]")
		reftest.Near(t, r, fish.FallShare(ratio, 1), "efficiency [%]")
	}
	for _, r := range reftest.Read(t, "stocking-weir-aeration-nakasone-computed") {
		got := fish.FallRatioByFlow(r.Float("drop [m]"), r.Float("unit_flow [m3/h/m]"), r.Float("tailwater [m]"), 20, 1, 1)
		reftest.Near(t, r, got, "r20_delft [1]")
		// The older coefficients of the same formula, which are not used here.
		reftest.Within(t, r, got, "r20_nakasone [1]", 0.065)
	}
}

// Coefficients of the two formulas for falling water and of the three for the
// surface, as the sources print them.
func TestAirCoefficientsMatch(t *testing.T) {
	const drop, flow, pool, celsius = 0.4, 12.0, 0.15, 17.0
	found := 0
	for _, r := range reftest.Read(t, "stocking-weir-aeration-equations") {
		var got, want float64
		switch {
		case strings.Contains(r.Text("form"), "0.11 h"):
			got = fish.FallRatio(drop, celsius, 1.3, 0.8)
			want = 1 + r.Float("coefficient [1]")*1.3*0.8*drop*(1-0.11*drop)*(1+celsius*r.Float("temperature_coefficient [1/K]"))
		case strings.HasPrefix(r.Text("model"), "Nakasone hybrid"):
			got = math.Log(fish.FallRatioByFlow(drop, flow, pool, 20, 1, 1))
			want = r.Float("coefficient [1]") * math.Pow(drop, r.Float("drop_exponent [1]")) * math.Pow(flow, r.Float("flow_exponent [1]")) * math.Pow(pool, r.Float("tailwater_exponent [1]"))
		default:
			continue
		}
		found++
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: computed %v, want %v", r.Place, got, want)
		}
	}
	for _, r := range reftest.Read(t, "stocking-surface-reaeration-models") {
		const wind = 1.7
		if r.Text("model") == "DBS" {
			found++
			got := fish.SurfaceVelocity(wind, 20) - fish.SurfaceVelocity(0, 20)
			if want := r.Float("coefficient [1]") * math.Pow(wind, r.Float("exponent [1]")); math.Abs(got/want-1) > 1e-9 {
				t.Errorf("%s: computed %v, want %v", r.Place, got, want)
			}
		}
		if r.Text("model") == "Banks-Herrera" && !strings.Contains(r.Text("form"), "0.317") {
			t.Errorf("%s: the form is not the one computed", r.Place)
		}
	}
	if found != 4 {
		t.Errorf("%d forms compared, want 4", found)
	}
}

func TestSurfaceMatches(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-surface-reaeration-computed") {
		wind, celsius := r.Float("wind [m/s]"), r.Float("temperature [Cel]")
		reftest.Near(t, r, fish.SurfaceVelocity(wind, celsius), "k_dbs [m/d]")
		reftest.Near(t, r, fish.WindVelocity(wind, celsius), "k_wanninkhof [m/d]")
		reftest.Near(t, r, fish.LakeVelocity(wind, celsius), "k_banks_herrera [m/d]")
	}
}

func TestBubblesMatch(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-diffused-air-computed") {
		reftest.Near(t, r, fish.AirOxygen(r.Float("air_flow [L/min]"), r.Float("sote_per_metre [%/m]"), r.Float("depth [m]")), "sotr [g/h]")
	}
	fine, coarse := fish.FineBubbles(), fish.CoarseBubbles()
	ends := 0
	for _, r := range reftest.Read(t, "stocking-diffuser-sote") {
		low, high := "sote_per_metre_low [%/m]", "sote_per_metre_high [%/m]"
		switch {
		case r.Text("placement") == "single spiral roll" && r.Text("bubbles") == "fine":
			reftest.Near(t, r, fine.Low, low)
			if middle := (r.Float(low) + r.Float(high)) / 2; math.Abs(middle-fine.Likely) > 0.01 {
				t.Errorf("%s: likely is %v, the middle %v", r.Place, fine.Likely, middle)
			}
			ends++
		case r.Text("placement") == "single spiral roll":
			reftest.Near(t, r, coarse.Low, low)
			ends++
		case r.Text("bubbles") == "coarse":
			reftest.Near(t, r, coarse.High, high)
			ends++
		case r.Text("placement") == "grid" && fine.High > r.Float(high):
			t.Errorf("%s: the most of fine bubbles, %v, is more than a grid's", r.Place, fine.High)
		}
	}
	if ends != 3 {
		t.Errorf("%d ends compared, want 3", ends)
	}
}

// The set takes another formula of saturation, and so another value at 20 °C:
// 0.02 % apart, and then it is rounded.
func TestFieldTransferMatches(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-oxygen-transfer-correction-computed") {
		got := fish.FieldTransfer(r.Float("temperature [Cel]"), r.Float("oxygen [mg/L]"), r.Float("saturation [mg/L]"), r.Float("alpha [1]"), r.Float("beta [1]"))
		reftest.Within(t, r, got, "field_to_standard [1]", 0.001)
	}
}

func TestPondBreathMatches(t *testing.T) {
	var share, least float64
	found := 0
	for _, r := range reftest.Read(t, "stocking-pond-respiration") {
		switch {
		case strings.HasPrefix(r.Text("item"), "plankton night respiration"):
			least = r.Float("oxygen_per_hour [mg/L/h]")
			reftest.Near(t, r, fish.PondBreath("clear").Likely, "oxygen_per_hour [mg/L/h]")
			found++
		case strings.HasPrefix(r.Text("item"), "plankton share"):
			share = r.Float("percent [%]") / 100
			found++
		case strings.HasPrefix(r.Text("item"), "pond bottom demand"):
			// In water 1 m deep, mg/L are g/m2.
			reftest.Near(t, r, fish.BottomDemand().Likely, "oxygen_per_day [mg/L]")
			found++
		}
	}
	if got := fish.PondBreath("clear").High; found != 3 || math.Abs(got-least/share) > 1e-9 {
		t.Errorf("%d rows; clear water breathes up to %v, want %v", found, got, least/share)
	}
	if fish.PondBreath("pink") != (fish.Range{}) {
		t.Error("an unknown look breathes")
	}
}

func TestOxygenFormulasEndWhereTheyAreStated(t *testing.T) {
	for what, c := range map[string]struct{ inside, outside float64 }{
		"crucian, cold":      {fish.CrucianUptake(100, 15), fish.CrucianUptake(100, 14.99)},
		"crucian, warm":      {fish.CrucianUptake(100, 30), fish.CrucianUptake(100, 30.01)},
		"crucian, no weight": {fish.CrucianUptake(1, 20), fish.CrucianUptake(0, 20)},
		"bighead, no weight": {fish.BigheadUptake(1, 20), fish.BigheadUptake(0, 20)},
		"factor, cold":       {fish.KroghFactor(5), fish.KroghFactor(4.99)},
		"factor, warm":       {fish.KroghFactor(30), fish.KroghFactor(30.01)},
		"family, warm":       {fish.CyprinidUptake(100, 30), fish.CyprinidUptake(100, 30.01)},
		"at rest, no weight": {fish.RestingUptake(1, 40).Likely, fish.RestingUptake(0, 20).Likely},
		"fall, none":         {fish.FallRatio(0, 20, 1, 1), fish.FallRatio(-0.01, 20, 1, 1)},
		"fall, tall":         {fish.FallRatio(4.5, 20, 1, 1), fish.FallRatio(4.51, 20, 1, 1)},
		"fall by flow":       {fish.FallRatioByFlow(0, 1, 1, 20, 1, 1), fish.FallRatioByFlow(-0.1, 1, 1, 20, 1, 1)},
		"wind":               {fish.SurfaceVelocity(0, 20), fish.SurfaceVelocity(-0.1, 20)},
		"wind on a lake":     {fish.LakeVelocity(0, 20), fish.LakeVelocity(-0.1, 20)},
		"wind, cold":         {fish.WindVelocity(1, 0), fish.WindVelocity(1, -0.1)},
		"wind, hot":          {fish.WindVelocity(1, 35), fish.WindVelocity(1, 35.1)},
	} {
		if math.IsNaN(c.inside) || !math.IsNaN(c.outside) {
			t.Errorf("%s: inside %v, outside %v; want a number and NaN", what, c.inside, c.outside)
		}
	}
}

// The closed solution against small steps of the balance it solves, and the time
// against the oxygen at that time.
func TestNightBalances(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		start := rapid.Float64Range(4, 14).Draw(rt, "start")
		s := rapid.Float64Range(-1, 4).Draw(rt, "s")
		r := rapid.Float64Range(0, 0.6).Draw(rt, "r")
		hours := rapid.Float64Range(0, 24).Draw(rt, "hours")
		const steps = 20000
		c, dt := start, hours/steps
		for range steps {
			middle := c + dt/2*(s-r*c)
			c += dt * (s - r*middle)
		}
		if got := fish.OxygenAfter(start, s, r, hours); math.Abs(got-math.Max(0, c)) > 1e-5 {
			rt.Errorf("%v mg/L after %v h, by small steps %v", got, hours, c)
		}
		limit := rapid.Float64Range(0.5, 10).Draw(rt, "limit")
		until := fish.HoursUntil(start, limit, s, r)
		switch {
		case until == 0 && start > limit:
			rt.Error("the limit is reached at once")
		case math.IsInf(until, 1):
			if fish.OxygenAfter(start, s, r, 1e4) < limit-1e-9 {
				rt.Error("the limit is never reached, but it is")
			}
		case start > limit:
			if got := fish.OxygenAfter(start, s, r, until); math.Abs(got-limit) > 1e-7 {
				rt.Errorf("%v mg/L after the %v h until %v mg/L", got, until, limit)
			}
		}
	})
}

func TestTiersBeatOneTallFall(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		drop := rapid.Float64Range(0.05, 0.5).Draw(rt, "drop")
		tiers := rapid.IntRange(2, 8).Draw(rt, "tiers")
		celsius := rapid.Float64Range(0, 30).Draw(rt, "temperature")
		n := float64(tiers)
		if math.Pow(fish.FallRatio(drop, celsius, 1, 0.8), n) <= fish.FallRatio(drop*n, celsius, 1, 0.8) {
			rt.Error("one fall does more than tiers of the same height")
		}
		if fish.FallShare(1, n) != 0 || fish.FallRatio(0, celsius, 1, 0.8) != 1 || fish.FallRatioByFlow(drop, 0, 1, celsius, 1, 1) != 1 {
			rt.Error("no fall does something")
		}
	})
}
