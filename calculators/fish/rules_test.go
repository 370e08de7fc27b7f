package fish_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

// What a rule allows, in kg/m3 and by hand from the figures of the set: so much water for
// a fish, or for each centimetre, or for the first and each next.
func TestRulesInKilograms(t *testing.T) {
	const litres = 9100.0
	r := reckon(t, fish.StockingRules(), "fish=koi, 30 cm, 20", "volume="+number(litres)+" L")
	each := value(t, reckon(t, fish.Weight(), "from=one", "length=30 cm"), "weight").Likely
	found, first := 0, 0.0
	for _, row := range reftest.Read(t, "stocking-density-guidance") {
		output, fishes := "", 0.0
		switch row.Text("kind") {
		case "rule, by length":
			output, fishes = "by-inch", litres/row.Float("volume_per_length [L/cm]")/30
		case "rule, by length, metric":
			output, fishes = "by-metric", litres/row.Float("volume_per_length [L/cm]")/30
		case "rule, by fish, US":
			output, fishes = "by-gallons", litres/row.Float("volume_per_fish [L]")
		case "rule, first fish":
			first = row.Float("volume_per_fish [L]")
			continue
		case "rule, each next fish":
			output, fishes = "by-first", 1+(litres-first)/row.Float("volume_per_fish [L]")
		default:
			continue
		}
		found++
		if got := value(t, r, output).Likely * litres / 1000 / each; math.Abs(got/fishes-1) > 0.003 { // the set is rounded to three digits
			t.Errorf("%s: %v fish, want %v", row.Place, got, fishes)
		}
	}
	if found != 4 {
		t.Errorf("%d rules compared, want 4", found)
	}
	if v := value(t, reckon(t, fish.StockingRules(), "fish=koi, 30 cm", "volume=3000 L"), "by-first"); v.Likely != 0 {
		t.Errorf("there is not water enough for the first fish, and the rule allows %v kg/m3", v.Likely)
	}
}

// Litres alone say how many grown fish there is room for; the surface is not asked.
func TestLitresToGrownFish(t *testing.T) {
	room := value(t, reckon(t, fish.StockingRules(), "stock=grown", "volume=9100 L"), "room")
	each := value(t, reckon(t, fish.Weight(), "from=one", "length=60 cm"), "weight")
	// 2 kg in 1,000 L.
	if room.Likely != math.Floor(2*9.1/each.Likely) || room.Low != math.Floor(2*9.1/each.High) {
		t.Errorf("%v of %v kg each", room, each)
	}
}

// One total length is one load by a rule of length, and many times the kilograms in
// grown fish.
func TestOneLengthInSmallAndGrownFish(t *testing.T) {
	r := reckon(t, fish.StockingRules(), "fish=koi, 30 cm, 20", "volume=9100 L", "grown=60 cm")
	weigh := func(cm string) float64 {
		return value(t, reckon(t, fish.Weight(), "from=one", "length="+cm+" cm"), "weight").Likely
	}
	if got := value(t, r, "as-small").Likely; math.Abs(got-600.0/15*weigh("15")) > 1e-9 {
		t.Errorf("as small fish %v kg", got)
	}
	if got := value(t, r, "as-grown").Likely; math.Abs(got-600.0/60*weigh("60")) > 1e-9 {
		t.Errorf("as grown fish %v kg", got)
	}
}

// From length to weight and back, for each kind.
func TestWeightAndLengthAreEachOthersReverse(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kind := "species=" + rapid.SampledFrom([]string{"koi", "goldfish", "tench"}).Draw(rt, "kind")
		length := rapid.Float64Range(5, 45).Draw(rt, "length")
		weight := value(t, reckon(t, fish.Weight(), "from=one", kind, "length="+number(length)+" cm"), "weight").Likely
		back := value(t, reckon(t, fish.Weight(), "from=weight", kind, "mass="+number(1000*weight)+" g"), "length")
		if math.Abs(back.Likely/length-1) > 1e-9 || back.Low >= length || back.High < length {
			rt.Errorf("%s of %v cm comes back as %v", kind, length, back)
		}
		for _, end := range []float64{back.Low, back.High} {
			band := value(t, reckon(t, fish.Weight(), "from=one", kind, "length="+number(end)+" cm"), "weight")
			if weight < band.Low*(1-1e-9) || weight > band.High*(1+1e-9) {
				rt.Errorf("%s of %v cm does not reach %v kg: %v", kind, end, weight, band)
			}
		}
	})
}

// Fish by weight are bagged and grow as fish of the length that goes with it.
func TestWeightStandsForLength(t *testing.T) {
	grams := number(1000 * value(t, reckon(t, fish.Weight(), "from=one", "length=25 cm"), "weight").Likely)
	a := value(t, reckon(t, fish.FishGrowth(), "length=25 cm"), "weight")
	b := value(t, reckon(t, fish.FishGrowth(), "by=weight", "mass="+grams+" g"), "weight")
	if math.Abs(a.Likely/b.Likely-1) > 1e-6 {
		t.Errorf("by length %v, by weight %v", a, b)
	}
	c := value(t, reckon(t, fish.FishBag(), "length=25 cm", "count=9", "hours=2 h"), "bags")
	d := value(t, reckon(t, fish.FishBag(), "by=weight", "mass="+grams+" g", "count=9", "hours=2 h"), "bags")
	if c.Likely != d.Likely {
		t.Errorf("by length %v bags, by weight %v", c, d)
	}
	e := value(t, reckon(t, fish.FeedWaste(), "from=list", "fish=koi, 25 cm, 9", "temperature=22 Cel"), "feed")
	f := value(t, reckon(t, fish.FeedWaste(), "weight="+number(9)+" kg", "temperature=22 Cel"), "feed")
	if grams := 9 * value(t, reckon(t, fish.Weight(), "from=one", "length=25 cm"), "weight").Likely; math.Abs(e.Likely-grams*f.Likely/9) > 1e-6 {
		t.Errorf("by lengths %v, by 9 kg %v", e, f)
	}
	for _, fault := range []string{"species=goldfish", "species=tench"} {
		if _, _, err := fish.FishGrowth().Evaluate(arguments([]string{fault, "by=weight", "mass=20 kg"})); err == nil {
			t.Errorf("%s of 20 kg grows", fault)
		}
	}
}
