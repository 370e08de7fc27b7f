package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

func TestOxygenMatchesBensonKrause(t *testing.T) {
	for _, r := range reftest.Read(t, "water-oxygen-saturation-computed") {
		got := water.OxygenAtPressure(r.Float("temperature [Cel]"), r.Float("salinity [g/kg]"), r.Float("pressure [kPa]"))
		reftest.Near(t, r, got, "oxygen [mg/L]")
	}
}

func TestOxygenUnderThinAir(t *testing.T) {
	for _, r := range reftest.Read(t, "water-oxygen-saturation-altitude-computed") {
		// The pressure is printed rounded, so it stands for an interval: the
		// figure must lie in what the formula gives over it.
		at := func(halfSteps float64) float64 {
			pressure := r.Float("pressure [kPa]") + halfSteps*r.Step("pressure [kPa]")/2
			return water.OxygenAtPressure(r.Float("temperature [Cel]"), 0, pressure)
		}
		reftest.Near(t, r, min(max(r.Float("oxygen [mg/L]"), at(-1)), at(1)), "oxygen [mg/L]")
		// The library takes the fall of gravity with height into account, the
		// closed formula does not: 0.01 % at 2000 m.
		reftest.Within(t, r, water.AirPressure(r.Float("altitude [m]")), "pressure [kPa]", 0.0001)
	}
}

func TestOxygenMatchesTextbook(t *testing.T) {
	for _, r := range reftest.Read(t, "water-oxygen-saturation-fresh-chapra") {
		reftest.Near(t, r, water.OxygenSaturation(r.Float("temperature [Cel]"), 0), "oxygen [mg/L]")
	}
}

// The textbook states chloride; its rows' note gives the factor to salinity and
// the agreement, half a per cent, and marks the misprint.
func TestOxygenAgreesWithChlorideTable(t *testing.T) {
	const salinityPerChloride = 1.80655
	misprints := 0
	for _, r := range reftest.Read(t, "water-oxygen-saturation-chloride-chapra") {
		got := water.OxygenSaturation(r.Float("temperature [Cel]"), salinityPerChloride*r.Float("chloride [g/L]"))
		if strings.HasPrefix(r.Text("note"), "misprint") {
			misprints++
			if math.Abs(got/r.Float("oxygen [mg/L]")-1) < 0.02 {
				t.Errorf("%s is called a misprint but is right", r.Place)
			}
			continue
		}
		reftest.Within(t, r, got, "oxygen [mg/L]", 0.005)
	}
	if misprints != 1 {
		t.Errorf("%d misprints, want 1", misprints)
	}
}

// The standard's salt coefficient is 8 to 14 % below the slope of Benson and
// Krause, as its rows say. At 6 and 7 °C the source rounded twice.
func TestOxygenMatchesStandard(t *testing.T) {
	twice := map[string]bool{"6": true, "7": true}
	for _, r := range reftest.Read(t, "water-oxygen-saturation-en25814") {
		celsius := r.Float("temperature [Cel]")
		got := water.OxygenSaturation(celsius, 0)
		if twice[r.Text("temperature [Cel]")] {
			reftest.Within(t, r, got, "oxygen [mg/L]", 0.006)
			delete(twice, r.Text("temperature [Cel]"))
		} else {
			reftest.Near(t, r, got, "oxygen [mg/L]")
		}
		slope := got - water.OxygenSaturation(celsius, 1)
		if below := 1 - r.Float("salt coefficient [mg/L/(g/kg)]")/slope; below < 0.075 || below > 0.145 {
			t.Errorf("%s: salt coefficient is %.1f %% below the slope, not 8 to 14", r.Place, 100*below)
		}
	}
	if len(twice) > 0 {
		t.Errorf("rows not in the set: %v", twice)
	}
}

// Garcia and Gordon is another fit to the measurements: 0.03 % away at most.
func TestOxygenAgreesWithSeawaterLibrary(t *testing.T) {
	for _, r := range reftest.Read(t, "water-oxygen-saturation-gsw-crosscheck") {
		got := water.OxygenSaturation(r.Float("temperature [Cel]"), r.Float("salinity [g/kg]"))
		reftest.Near(t, r, got, "oxygen benson-krause [mg/L]")
		reftest.Within(t, r, got, "oxygen gsw [mg/L]", 0.0003)
	}
}

// The older table was printed before this formula: 1.5 % high at worst, and
// rounded to 0.1 mg/L.
func TestOxygenAgreesWithOlderTable(t *testing.T) {
	const kilopascalPerMillimetre = 0.1333224
	for _, r := range reftest.Read(t, "water-oxygen-saturation-pressure-older-table") {
		got := water.OxygenAtPressure(r.Float("temperature [Cel]"), 0, kilopascalPerMillimetre*r.Float("barometric pressure [mm[Hg]]"))
		reftest.Within(t, r, got, "oxygen [mg/L]", 0.015)
	}
}

func TestAirPressureMatchesStandardAtmosphere(t *testing.T) {
	for _, r := range reftest.Read(t, "water-pressure-altitude-computed") {
		reftest.Near(t, r, water.AirPressure(r.Float("altitude [m]")), "pressure closed formula [kPa]")
	}
	// The printed table departs from the closed formula by 0.02 % at most, as
	// its rows say.
	for _, r := range reftest.Read(t, "water-pressure-altitude-table") {
		reftest.Within(t, r, 1000*water.AirPressure(r.Float("altitude [m]")), "pressure [Pa]", 0.0002)
	}
}

func TestOxygenOutsideTheStatedRangeIsNoNumber(t *testing.T) {
	for what, c := range map[string]struct{ inside, outside float64 }{
		"cold":     {water.OxygenSaturation(0, 0), water.OxygenSaturation(-0.01, 0)},
		"warm":     {water.OxygenSaturation(40, 0), water.OxygenSaturation(40.01, 0)},
		"fresh":    {water.OxygenSaturation(20, 0), water.OxygenSaturation(20, -0.01)},
		"salt":     {water.OxygenSaturation(20, 40), water.OxygenSaturation(20, 40.01)},
		"vapour":   {water.VapourPressure(40), water.VapourPressure(40.01)},
		"vacuum":   {water.OxygenAtPressure(20, 0, 3), water.OxygenAtPressure(20, 0, 2)},
		"altitude": {water.AirPressure(11000), water.AirPressure(11001)},
		"depth":    {water.AirPressure(-11000), water.AirPressure(-11001)},
	} {
		if math.IsNaN(c.inside) || !math.IsNaN(c.outside) {
			t.Errorf("%s: inside %v, outside %v; want a number and NaN", what, c.inside, c.outside)
		}
	}
}

func TestOxygenProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius, salinity := rapid.Float64Range(0, 39).Draw(t, "temperature"), rapid.Float64Range(0, 39).Draw(t, "salinity")
		pressure := rapid.Float64Range(50, 110).Draw(t, "pressure")
		c := water.OxygenAtPressure(celsius, salinity, pressure)
		if water.OxygenAtPressure(celsius+1, salinity, pressure) >= c || water.OxygenAtPressure(celsius, salinity+1, pressure) >= c || water.OxygenAtPressure(celsius, salinity, pressure+1) <= c {
			t.Error("oxygen must fall with warmth and salt and rise with pressure")
		}
		standard := water.OxygenAtPressure(celsius, salinity, water.StandardPressure)
		if got := water.OxygenSaturation(celsius, salinity); math.Abs(got-standard) > 1e-12*got {
			t.Errorf("at the standard pressure the correction is not 1: %v, %v", got, standard)
		}
	})
}

// Each band of the practice table begins with its advice; a reading on the line
// gets the worse one.
func TestOxygenAdviceFollowsTheBands(t *testing.T) {
	first := map[string]string{"good": "Carry on", "watch": "Add air", "act": "Stop feeding", "emergency": "Put in all"}
	bands := 0
	for _, r := range reftest.Read(t, "safety-reading-bands") {
		if r.Text("parameter") != "dissolved oxygen at dawn" {
			continue
		}
		bands++
		inside := r.Float("low [mg/L]") + 0.01
		if r.Has("high [mg/L]") {
			inside = r.Float("high [mg/L]")
		}
		a := reckon(t, water.DissolvedOxygen(), "temperature=10 Cel", "reading="+number(inside)+" mg/L").Advice
		if !strings.HasPrefix(a[0], first[r.Text("band")]) {
			t.Errorf("%s: at %v mg/L the advice begins %q", r.Place, inside, a[0])
		}
	}
	if bands != len(first) {
		t.Errorf("%d bands in the set, want %d", bands, len(first))
	}
}

// A pond that is full needs no more air, whatever its milligrams; the saturation is that
// of the published set.
func TestFullWaterIsNotToldToAddAir(t *testing.T) {
	for _, r := range reftest.Read(t, "water-oxygen-saturation-altitude-computed") {
		advice := strings.Join(reckon(t, water.DissolvedOxygen(), "temperature="+r.Text("temperature [Cel]")+" Cel",
			"altitude="+r.Text("altitude [m]")+" m", "reading="+number(r.Float("oxygen [mg/L]"))+" mg/L").Advice, "\n")
		for _, more := range []string{"Add air", "all the air", "all the water over the tower"} {
			if strings.Contains(advice, more) {
				t.Errorf("%s: %q", r.Place, advice)
			}
		}
	}
}

func TestOverfullWaterIsExplained(t *testing.T) {
	a := reckon(t, water.DissolvedOxygen(), "temperature=25 Cel", "reading=11 mg/L").Advice
	if !strings.Contains(a[0], "over-full") {
		t.Errorf("advice: %q", a)
	}
}

func TestPressureComesFromOnePlace(t *testing.T) {
	c := water.DissolvedOxygen()
	high := reckon(t, c, "temperature=20 Cel", "altitude=1500 m")
	same := reckon(t, c, "temperature=20 Cel", "pressure-from=barometer", "pressure="+number(likely(t, high, "pressure"))+" kPa")
	if a, b := likely(t, high, "saturation"), likely(t, same, "saturation"); math.Abs(a-b) > 1e-9 {
		t.Errorf("by altitude %v, by barometer %v", a, b)
	}
	if _, _, err := c.Evaluate(arguments([]string{"temperature=20 Cel", "pressure=98 kPa"})); err == nil || !strings.Contains(err.Error(), "pressure-from") {
		t.Errorf("a barometer reading beside an altitude: %v", err)
	}
}

func TestHotThinAirIsFlagged(t *testing.T) {
	hot := reckon(t, water.DissolvedOxygen(), "temperature=38 Cel", "altitude=3000 m", "reading=4 mg/L")
	if !strings.Contains(strings.Join(hot.Flags, "\n"), "Even full") {
		t.Errorf("flags: %q", hot.Flags)
	}
	marks := hot.Scale.Marks
	for i := 1; i < len(marks); i++ {
		if marks[i].Value < marks[i-1].Value {
			t.Errorf("marks are not in rising order: %v", marks)
		}
	}
}
