package fish_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

func TestIceMatchesTheTable(t *testing.T) {
	bare, snow := fish.IceCoefficients(false), fish.IceCoefficients(true)
	for _, r := range reftest.Read(t, "stocking-ice-thickness-computed") {
		frost := r.Float("freezing_degree_days [K.d]")
		reftest.Near(t, r, fish.IceThickness(bare.Likely, frost), "ice_windy_no_snow [cm]")
		reftest.Near(t, r, fish.IceThickness(snow.Low, frost), "ice_snow_low [cm]")
		reftest.Near(t, r, fish.IceThickness(snow.High, frost), "ice_snow_high [cm]")
		reftest.Near(t, r, fish.IceThickness(fish.IceLimit(), frost), "ice_stefan_limit [cm]")
	}
}

func TestIceCoefficientsMatchTheirSources(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-ice-growth-coefficients") {
		var low, high float64
		switch r.Text("condition") {
		case "windy lake, no snow":
			low, high = fish.IceCoefficients(false).Low, fish.IceCoefficients(false).Likely
		case "average lake with snow":
			low, high = fish.IceCoefficients(true).Low, fish.IceCoefficients(true).High
		case "bare ice, pure conduction limit":
			low, high = fish.IceLimit(), fish.IceLimit()
		default: // rivers and a club's advice are not what the calculator is for
			continue
		}
		reftest.Near(t, r, low, "c_low_metric [1]")
		reftest.Near(t, r, high, "c_high_metric [1]")
	}
}

// Twice the frost makes the root of two times the ice, and none makes none.
func TestIceGrowsAsTheRoot(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.Float64Range(1, 4).Draw(rt, "coefficient")
		s := rapid.Float64Range(0, 1000).Draw(rt, "degree days")
		if got, want := fish.IceThickness(c, 2*s), math.Sqrt2*fish.IceThickness(c, s); math.Abs(got-want) > 1e-9*want {
			rt.Fatalf("twice %g K d gives %g cm, want %g", s, got, want)
		}
	})
	if got := fish.IceThickness(3, 0); got != 0 {
		t.Errorf("no frost makes %g cm of ice", got)
	}
}

func TestTemperingMatchesItsSources(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-acclimation") {
		switch r.Text("source") {
		case "golovanov-carp":
			reftest.Near(t, r, 10/fish.AcclimationDays(10), "rate_per_day [K/d]")
		case "harrison-tempering":
			if r.Has("rate [K/min]") {
				reftest.Near(t, r, 10/fish.TemperingMinutes(10), "rate [K/min]")
			}
		default: // the hobby's limit: up to it no mixing, beyond it some
			step := r.Float("step [K]")
			if fish.TemperingMinutes(step) != 0 || fish.TemperingMinutes(step+0.1) == 0 {
				t.Errorf("%s: mixing does not begin above %g K", r.Place, step)
			}
		}
	}
}

// What the calculator counts as quarantine holds the whole range that the
// keeper is told, and not the cold in which the disease hides.
func TestQuarantineIsWarm(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-quarantine-guidance") {
		if r.Text("item") != "hold within the KHV range for the whole period" {
			continue
		}
		low, high := r.Float("temperature_low [Cel]"), r.Float("temperature_high [Cel]")
		for _, at := range []float64{low, high} {
			if !fish.CountsAsQuarantine(at) {
				t.Errorf("%s: a day at %g °C does not count", r.Place, at)
			}
		}
		for _, at := range []float64{low - 0.1, high + 0.1} {
			if fish.CountsAsQuarantine(at) {
				t.Errorf("%s: a day at %g °C counts", r.Place, at)
			}
		}
	}
	for _, r := range reftest.Read(t, "stocking-khv-temperature") {
		switch r.Text("item") {
		case "outbreak range":
			reftest.Near(t, r, fish.OutbreakCold, "temperature_low [Cel]")
			reftest.Near(t, r, fish.OutbreakWarm, "temperature_high [Cel]")
		case "experimental infection of koi":
			if none := r.Float("mortality_high [%]") == 0; none != (r.Float("temperature_high [Cel]") == fish.VirusHides) {
				t.Errorf("%s: the virus does not hide at %v alone", r.Place, fish.VirusHides)
			}
		}
		if r.Has("mortality_high [%]") && r.Float("mortality_high [%]") == 0 && fish.CountsAsQuarantine(r.Float("temperature_high [Cel]")) {
			t.Errorf("%s: days count at a temperature at which no fish shows the disease", r.Place)
		}
	}
}

func TestFryPerBagMatchesTheTable(t *testing.T) {
	compared := 0
	for _, r := range reftest.Read(t, "stocking-fish-bag-density") {
		switch r.Text("source") {
		case "fish-packing-lesson":
			n := fish.FryPerBag(r.Float("fish_size [cm]"))
			reftest.Near(t, r, n.Low, "number_low [1]")
			reftest.Near(t, r, n.Likely, "number_mean [1]")
			reftest.Near(t, r, n.High, "number_high [1]")
			compared++
		case "mekong-packing": // another trade, other bags: the ranges meet
			n := value(t, reckon(t, fish.FishBag(), "length="+r.Text("fish_size [cm]")+" cm", "hours="+r.Text("duration [h]")+" h"), "per-bag")
			if n.Low > r.Float("number_high [1]") || n.High < r.Float("number_low [1]") {
				t.Errorf("%s: %v to %v fish a bag", r.Place, n.Low, n.High)
			}
			compared++
		}
	}
	if compared != 9 {
		t.Errorf("%d rows compared, want 9", compared)
	}
	for _, length := range []float64{0.99, 8.01} {
		if n := fish.FryPerBag(length); !math.IsNaN(n.Likely) {
			t.Errorf("fry of %g cm, outside the table, are given as %g a bag", length, n.Likely)
		}
	}
}

// Where the table ends, the next fish travel no closer, and no steeper change comes
// than the steepest between two rows of the table: 4.6 times as many from 7 to 7.1 cm
// was one. Beyond the table fish of every kind are compared.
func TestFishPerBagNeitherJumpNorRise(t *testing.T) {
	steepest := 0.0 // of the logarithm, per cm
	var before reftest.Row
	for i, r := range reftest.Read(t, "stocking-fish-bag-density") {
		if r.Text("source") != "fish-packing-lesson" {
			continue
		}
		if i > 0 {
			for _, column := range []string{"number_low [1]", "number_mean [1]", "number_high [1]"} {
				steepest = math.Max(steepest, math.Log(before.Float(column)/r.Float(column))/(r.Float("fish_size [cm]")-before.Float("fish_size [cm]")))
			}
		}
		before = r
	}
	for _, kind := range []string{"koi", "goldfish", "tench"} {
		for _, hours := range []string{"2", "12", "24"} {
			packed := func(length float64) calculators.Value {
				return value(t, reckon(t, fish.FishBag(), "species="+kind, "length="+number(length)+" cm", "hours="+hours+" h"), "per-bag")
			}
			last := packed(1)
			for length := 1.1; length < 40; length += 0.1 {
				next := packed(length)
				for _, end := range [][2]float64{{last.Low, next.Low}, {last.Likely, next.Likely}, {last.High, next.High}} {
					// Whole fish only, so one fish more is no jump.
					if least := end[0]*math.Exp(-0.1*steepest) - 1; end[1] > end[0] || end[1] < least-1e-9 {
						t.Errorf("%s of %.1f cm, %s h: %v a bag, %v when a little shorter", kind, length, hours, end[1], end[0])
					}
				}
				last = next
			}
		}
	}
}

func TestBagShareMatchesItsSource(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-fish-bag-density") {
		if r.Text("source") != "bionet-shipping" {
			continue
		}
		share := fish.BagShare(r.Float("duration [h]"))
		reftest.Near(t, r, share.Low, "fish_share_low [%]")
		reftest.Near(t, r, share.High, "fish_share_high [%]")
	}
	if share := fish.BagShare(24.1); !math.IsNaN(share.Likely) {
		t.Errorf("beyond a day a bag still takes %g %%", share.Likely)
	}
}

// Fish grow, never shrink, and never beyond the final length.
func TestGrowthStaysBelowTheFinalLength(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		final := rapid.Float64Range(20, 130).Draw(rt, "final")
		length := rapid.Float64Range(1, final).Draw(rt, "length")
		k := rapid.Float64Range(0.05, 0.5).Draw(rt, "k")
		one := rapid.Float64Range(0, 20).Draw(rt, "years")
		grown := fish.LengthAfter(length, final, k, one)
		if grown < length-1e-12 || grown > final+1e-12 {
			rt.Fatalf("from %g cm to %g in %g years, with %g at the end", length, grown, one, final)
		}
		// Growing on from there is growing through.
		through := fish.LengthAfter(length, final, k, 2*one)
		if on := fish.LengthAfter(grown, final, k, one); math.Abs(on-through) > 1e-9*final {
			rt.Fatalf("in two steps %g cm, in one %g", on, through)
		}
	})
}

// The published lines of tench lie within what the calculator spans.
func TestTenchLinesAreTheirSources(t *testing.T) {
	a, b, _ := fish.GrowthLines("tench")
	for _, r := range reftest.Read(t, "stocking-fish-growth-parameters") {
		switch r.Text("source") {
		case "wright1991":
			reftest.Near(t, r, b.Final, "linf [cm]")
			reftest.Near(t, r, b.K, "k [1/a]")
		case "altindag1998":
			reftest.Near(t, r, a.Final*fish.ForkPerTotal, "linf [cm]")
			reftest.Near(t, r, a.K, "k [1/a]")
		}
	}
}

// A rule in other terms, put back into them, is the rule.
func TestStockingRulesInOneTerm(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-density-guidance") {
		if r.Has("volume_per_fish [L]") {
			const weight = 1.7
			density := fish.DensityByFish(weight, r.Float("volume_per_fish [L]"))
			reftest.Near(t, r, 1000*weight/density, "volume_per_fish [L]")
		}
		if r.Has("area_per_length [cm2/cm]") {
			const area, volume, weight, length = 8.0, 9.0, 0.4, 30.0
			fishes := fish.DensityByLength(area, volume, weight, length, r.Float("area_per_length [cm2/cm]")) * volume / weight
			reftest.Near(t, r, 1e4*area/(fishes*length), "area_per_length [cm2/cm]")
		}
	}
}
