package water_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// The oxygen formula's vapour pressure against a printed table, to 0.2 %; one
// cell is a slip by the row's own note.
func TestVapourPressureAgreesWithTheTable(t *testing.T) {
	for _, r := range reftest.Read(t, "water-vapour-pressure-crc") {
		if strings.Contains(r.Text("note"), "slip") {
			continue
		}
		reftest.Within(t, r, water.VapourPressure(r.Float("temperature [Cel]")), "vapour pressure [kPa]", 0.002)
	}
}

// terms returns the two coefficients of "w = (95 + 37.4 v)…".
func terms(t *testing.T, r reftest.Row) (still, wind float64) {
	t.Helper()
	m := regexp.MustCompile(`\(([\d.]+) \+ ([\d.]+) v\)`).FindStringSubmatch(r.Text("formula"))
	if m == nil {
		t.Fatalf("%s: no coefficients in %q", r.Place, r.Text("formula"))
	}
	still, _ = strconv.ParseFloat(m[1], 64)
	wind, _ = strconv.ParseFloat(m[2], 64)
	return still, wind
}

// per returns how many of the unit to one of the unit from is.
func per(from, to string) float64 { return quantity.MustUnit(from).Convert(1, quantity.MustUnit(to)) }

// The formulas, computed in their own units from the coefficients as printed.
func TestEvaporationFormulasAreThePrinted(t *testing.T) {
	const over, beyond, wind, latent = 2.4, 1.5, 2.5, 2450.0 // kPa, kPa, m/s, kJ/kg
	inches := 0.0254 / per("kPa", "m[Hg]")                   // kPa in an inch of mercury
	mph, flux := wind*per("m/s", "[mi_i]/h"), per("[lb_av]/h", "kg/d")/per("[ft_i]2", "m2")
	for _, r := range reftest.Read(t, "water-evaporation-formulas") {
		a, b := terms(t, r)
		var want, got, fraction float64
		switch r.Text("source") + " " + r.Text("basis") {
		case "engineering-evaporation published":
			x := func(p float64) float64 { return 0.622 * p / (water.StandardPressure - p) }
			want, got = 24*(a+b*wind)*(x(over)-x(beyond)), water.EvaporationHumidity(over, beyond, wind, water.StandardPressure)
		case "ashrae-evaporation published": // the SI form is rounded
			want, got, fraction = flux*(a+b*mph)*(over-beyond)/inches/(latent*per("kJ/kg", "[Btu_IT]/[lb_av]")), water.EvaporationPool(over, beyond, wind, latent), 0.006
		case "forum-pond-evaporation published":
			want, got, fraction = flux*(a+b*mph)*(over-beyond)/inches/(latent*per("kJ/kg", "[Btu_IT]/[lb_av]")), water.EvaporationQuiet(over, beyond, wind, latent), 1e-5
		case "rafferty-boyd-1998 published": // its wind term, ten times too big by the row's note
			want, got, fraction = flux*(a+b/10*mph)*(over-beyond)*per("kPa", "[psi]"), water.EvaporationFishPond(over, beyond, wind), 1e-5
		case "ashrae-evaporation memory":
			want, got = 86400*(a+b*wind)*(over-beyond)/latent, water.EvaporationPool(over, beyond, wind, latent)
		default:
			t.Errorf("%s: say in this test what computes it", r.Place)
		}
		if math.Abs(got-want) > (fraction+1e-12)*want {
			t.Errorf("%s: %v mm/d as printed, computed %v", r.Place, want, got)
		}
	}
}

func TestEvaporationProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius, air := rapid.Float64Range(0, 39).Draw(t, "water"), rapid.Float64Range(0, 40).Draw(t, "air")
		humidity, wind := rapid.Float64Range(0, 1).Draw(t, "humidity"), rapid.Float64Range(0, 10).Draw(t, "wind")
		low, mean, high := water.Evaporation(celsius, air, humidity, wind)
		if low < 0 || low > mean || mean > high {
			t.Errorf("%v, %v, %v are not in order", low, mean, high)
		}
		if _, warmer, _ := water.Evaporation(celsius+1, air, humidity, wind); warmer < mean {
			t.Errorf("warmer water evaporates less: %v after %v", warmer, mean)
		}
		if _, windier, _ := water.Evaporation(celsius, air, humidity, wind+1); windier < mean {
			t.Errorf("more wind evaporates less: %v after %v", windier, mean)
		}
		if _, damper, _ := water.Evaporation(celsius, air, math.Min(1, humidity+0.1), wind); damper > mean {
			t.Errorf("damper air takes more: %v after %v", damper, mean)
		}
	})
	if low, mean, high := water.Evaporation(10, 25, 1, 2); low+mean+high != 0 {
		t.Errorf("over cold water in damp air %v to %v evaporate", low, high)
	}
}

func TestLeakVerdict(t *testing.T) {
	test := func(args ...string) (string, float64) {
		r := reckon(t, water.EvaporationOrLeak(), append(args, "surface=10 m2", "temperature=20 Cel", "air=20 Cel")...)
		v, _ := r.Value("leak")
		return r.Advice[0], v.Low
	}
	for _, c := range []struct {
		args []string
		want string
		leak bool
	}{
		{nil, "Fix a ruler", false},
		{[]string{"drop=10 mm", "bucket=5 mm"}, "The pond loses more", true},
		{[]string{"drop=6 mm", "bucket=5 mm"}, "The pond loses no more", false},
		{[]string{"drop=40 mm"}, "More than the formulas", true},
		{[]string{"drop=5 mm"}, "Evaporation may explain", false},
		{[]string{"drop=0 mm", "read-error=0.1 mm"}, "The level fell less", false},
	} {
		if advice, low := test(c.args...); !strings.HasPrefix(advice, c.want) || low > 0 != c.leak {
			t.Errorf("%v: %q, leak at least %v L/d", c.args, advice, low)
		}
	}
	// A bucket that falls as the pond does explains it all; the rest is on the
	// whole surface.
	r := reckon(t, water.EvaporationOrLeak(), "surface=10 m2", "temperature=20 Cel", "air=20 Cel", "drop=12 mm", "bucket=4 mm", "time=2 d")
	if got := likely(t, r, "leak"); math.Abs(got-40) > 1e-9 {
		t.Errorf("8 mm more than the bucket in 2 d on 10 m² is %v L/d", got)
	}
}

// Without the tower the pond has no filter and little air: never overnight.
func TestTheTowerStopsByDayOnly(t *testing.T) {
	r := reckon(t, water.EvaporationOrLeak(), "surface=10 m2", "temperature=20 Cel", "air=20 Cel", "drop=30 mm", "bucket=4 mm")
	stops := 0
	for _, text := range append(r.Advice, r.Flags...) {
		if !strings.Contains(text, "Stop the tower") && !strings.Contains(text, "with it off") {
			continue
		}
		stops++
		if !strings.Contains(text, "by day") || !strings.Contains(text, "air pump on") {
			t.Errorf("stops the tower: %q", text)
		}
	}
	if stops != 2 {
		t.Errorf("the tower is stopped %d times: %q %q", stops, r.Advice, r.Flags)
	}
}
