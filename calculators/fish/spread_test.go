package fish_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

// between runs in proportion where all are above zero, as a factor does, else straight.
func between(b fish.Range, shift float64) float64 {
	end, share := b.High, shift
	if shift < 0 {
		end, share = b.Low, -shift
	}
	if b.Low > 0 {
		return b.Likely * math.Pow(end/b.Likely, share)
	}
	return b.Likely + share*(end-b.Likely)
}

// pond is what a night is reckoned of, by hand.
type pond struct {
	length, count, volume, area, celsius float64
	look                                 string
}

func draw(rt *rapid.T) pond {
	return pond{
		rapid.Float64Range(20, 60).Draw(rt, "length"), float64(rapid.IntRange(2, 30).Draw(rt, "count")),
		rapid.Float64Range(3, 30).Draw(rt, "volume"), rapid.Float64Range(4, 30).Draw(rt, "area"),
		rapid.Float64Range(16, 28).Draw(rt, "temperature"), rapid.SampledFrom([]string{"clear", "green"}).Draw(rt, "look"),
	}
}

func (p pond) args() []string {
	return []string{
		"fish=koi, " + number(p.length) + " cm, " + number(p.count), "volume=" + number(p.volume) + " m3",
		"area=" + number(p.area) + " m2", "temperature=" + number(p.celsius) + " Cel", "look=" + p.look,
	}
}

// dawn is the oxygen after a still night of nine hours, with errors drawn by chance: the
// same balance, put together anew from the published formulas.
func (p pond) dawn(saturation float64, chance func() float64) float64 {
	weight := between(fish.CarpWeight(p.length), chance())
	rest := p.count * weight / 1e6 * between(fish.RestingUptake(weight, p.celsius), chance())
	feed := between(fish.GrownRation(p.celsius), chance()) / 100 * p.count * weight
	use := rest + between(fish.Range{Likely: 1, High: 1}, chance())*math.Max(0, fish.FishAndFilterOxygen(0.36).Low*feed/24-rest)
	use += feed * between(fish.AmmoniaFromFeed(0.36), chance()) * fish.OxygenPerNitrogen / 24
	use += between(fish.Range{High: 1}, chance()) * math.Max(0, fish.FeedOxygenDemand(0.36).High*feed/24-use)
	use += p.volume*between(fish.PondBreath(p.look), chance()) + p.area/24*between(fish.BottomDemand(), chance())
	filled := p.area / 24 * between(fish.SurfaceRange(0, p.celsius), chance())
	return fish.OxygenAfter(saturation, (saturation*filled-use)/p.volume, filled/p.volume, 9)
}

// Independent errors by another way: drawn by chance, one in forty beyond each end of
// each part, they pass the ends of the answer up to three times as often, or as seldom,
// as the combination of ends promises.
func TestNightRangeByChance(t *testing.T) {
	const draws, deviations = 5000, 1.959964
	rapid.Check(t, func(rt *rapid.T) {
		p := draw(rt)
		r := reckon(t, fish.OxygenNight(), p.args()...)
		dawn, saturation := value(t, r, "dawn"), value(t, r, "saturation").Likely
		if dawn.Low == 0 {
			return // less than nothing cannot be drawn
		}
		chance := rand.New(rand.NewPCG(3, 4))
		below, above := 0.0, 0.0
		for range draws {
			switch v := p.dawn(saturation, func() float64 { return chance.NormFloat64() / deviations }); {
			case v < dawn.Low:
				below += 1.0 / draws
			case v > dawn.High:
				above += 1.0 / draws
			}
		}
		if math.Max(below, above) > 3.0/40 || below < 1.0/120 {
			rt.Errorf("%v: %.3f below %v and %.3f above %v", p, below, dawn.Low, above, dawn.High)
		}
	})
}

// More fish have no more hours in a power cut, and leave no more oxygen at dawn, at
// either end and in between.
func TestMoreFishNeverHelp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := draw(rt)
		more := p
		if rapid.Bool().Draw(rt, "longer") {
			more.length *= rapid.Float64Range(1, 1.3).Draw(rt, "times")
		} else {
			more.count += float64(rapid.IntRange(1, 10).Draw(rt, "more"))
		}
		for _, c := range []struct {
			calculator calculators.Calculator
			outputs    []string
		}{
			{fish.PowerCut(), []string{"count-on", "until-act", "until-four", "until-last"}},
			{fish.OxygenNight(), []string{"dawn", "until-act", "until-four", "until-last"}},
		} {
			few, many := reckon(t, c.calculator, p.args()...), reckon(t, c.calculator, more.args()...)
			for _, output := range c.outputs {
				a, b := value(t, few, output), value(t, many, output)
				for _, end := range [][2]float64{{a.Low, b.Low}, {a.Likely, b.Likely}, {a.High, b.High}} {
					if end[1] > end[0]*(1+1e-6)+1e-6 {
						rt.Errorf("%s of %s: %v with %v, %v with %v", output, c.calculator.ID, end[0], p, end[1], more)
					}
				}
			}
		}
	})
}

// More feed never makes less ammonia, nor do more fish.
func TestMoreFeedNeverMakesLessAmmonia(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kilos, times := rapid.Float64Range(0.1, 200).Draw(rt, "weight"), rapid.Float64Range(1, 3).Draw(rt, "times")
		celsius := "temperature=" + number(rapid.Float64Range(0, 32).Draw(rt, "temperature")) + " Cel"
		for _, ask := range []struct{ from, name, unit string }{{"fish", "weight", "kg"}, {"feed", "feed", "g/d"}} {
			less := value(t, reckon(t, fish.FeedWaste(), "from="+ask.from, ask.name+"="+number(kilos)+" "+ask.unit, celsius), "tan")
			more := value(t, reckon(t, fish.FeedWaste(), "from="+ask.from, ask.name+"="+number(kilos*times)+" "+ask.unit, celsius), "tan")
			if more.Low < less.Low || more.Likely < less.Likely || more.High < less.High {
				rt.Errorf("%s: %v times as much make %v of ammonia, not %v", ask.from, times, more, less)
			}
		}
	})
}

// Two readings in the dark tell what is used: a fall without any surface to speak of is
// the demand, by hand, and the range becomes narrower.
func TestTwoReadingsTellTheDemand(t *testing.T) {
	args := []string{"fish=koi, 30 cm, 20", "volume=10 m3", "area=0.1 m2", "temperature=24 Cel", "start=7.5 mg/L"}
	guessed := value(t, reckon(t, fish.PowerCut(), args...), "until-act")
	r := reckon(t, fish.PowerCut(), append(args, "use=measured", "first=7.5 mg/L", "later=6.5 mg/L", "after=4 h")...)
	demand, hours := value(t, r, "demand"), value(t, r, "until-act")
	// 1 mg/L of 10 m3 in 4 h, and a surface that brings next to nothing.
	if math.Abs(demand.Likely-10.0/4) > 0.01 || math.Abs(hours.Likely-10) > 0.1 {
		t.Errorf("%v g/h and %v h", demand.Likely, hours.Likely)
	}
	if hours.High/hours.Low > 0.5*guessed.High/guessed.Low {
		t.Errorf("two readings leave %v to %v h, none %v to %v h", hours.Low, hours.High, guessed.Low, guessed.High)
	}
}

// What the tower brings, by what enters and leaves it.
func TestTowerByWhatLeavesIt(t *testing.T) {
	args := []string{"fish=koi, 30 cm, 20", "volume=9.1 m3", "area=7.9 m2", "temperature=24 Cel", "flow=3000 L/h"}
	guessed := value(t, reckon(t, fish.OxygenNight(), append(args, "tower=falls", "tiers=4", "drop=80 mm")...), "from-tower")
	args = append(args, "tower=measured")
	r := reckon(t, fish.OxygenNight(), append(args, "entering=5 mg/L", "leaving=7 mg/L")...)
	// 3 m3/h gain 2 mg/L at 5 mg/L in the pond.
	if got := value(t, r, "from-tower"); math.Abs(got.Likely-6) > 0.01 || math.Abs(value(t, r, "tower-leaves").Likely-7) > 0.01 || got.High/got.Low > 0.5*guessed.High/guessed.Low {
		t.Errorf("%v", got)
	}
	for _, fault := range [][]string{{"entering=5 mg/L"}, {"entering=8.3 mg/L", "leaving=8.4 mg/L"}} {
		if _, _, err := fish.OxygenNight().Evaluate(arguments(append(args, fault...))); err == nil {
			t.Errorf("%v is answered", fault)
		}
	}
}

// The weight of all fish stands for their lengths.
func TestKilogramsStandForLengths(t *testing.T) {
	rest := []string{"volume=9.1 m3", "area=7.9 m2", "temperature=24 Cel"}
	byLength := value(t, reckon(t, fish.PowerCut(), append(rest, "fish=koi, 30 cm, 20")...), "demand")
	weight := value(t, reckon(t, fish.Weight(), "fish=koi, 30 cm, 20"), "weight").Likely
	byWeight := value(t, reckon(t, fish.PowerCut(), append(rest, "stock=weight", "number=20", "kilograms="+number(weight)+" kg")...), "demand")
	if math.Abs(byLength.Likely/byWeight.Likely-1) > 1e-9 || byWeight.High > byLength.High || byWeight.Low < byLength.Low {
		t.Errorf("by length %v, by weight %v", byLength, byWeight)
	}
}

// A range of more than tenfold says which one measurement would narrow it most, and the
// calculator takes that.
func TestWideRangesSayWhatToMeasure(t *testing.T) {
	wide := []string{"fish=koi, 45 cm, 10", "volume=9.1 m3", "area=7.9 m2", "temperature=24 Cel", "look=green"}
	r := reckon(t, fish.OxygenNight(), wide...)
	if dawn := value(t, r, "dawn"); dawn.High <= 10*dawn.Low {
		t.Fatalf("%v is not wide", dawn)
	}
	if said := strings.Join(r.Flags, "\n"); !strings.Contains(said, "would narrow it most: two readings in the dark.") {
		t.Errorf("%q", said)
	}
	r = reckon(t, fish.OxygenNight(), append(wide, "use=measured", "first=8 mg/L", "later=7 mg/L", "after=4 h")...)
	if dawn := value(t, r, "dawn"); dawn.High > 10*dawn.Low || strings.Contains(strings.Join(r.Flags, "\n"), "would narrow") {
		t.Errorf("measured: %v, %q", dawn, r.Flags)
	}
}

// A day's feed puts its ammonia into the water of a pond without a filter: by hand, 50 g
// with 36 % of protein, of which 9.2 % are ammonia nitrogen (timmons-ebeling-2010).
func TestAmmoniaOfADayWithoutTheFilter(t *testing.T) {
	r := reckon(t, fish.PowerCut(), "fish=koi, 30 cm, 20", "volume=10 m3", "area=8 m2", "temperature=20 Cel", "feed=50 g/d")
	if got := value(t, r, "ammonia").Likely; math.Abs(got-50*0.36*0.092/10) > 1e-9 {
		t.Errorf("%v mg/L", got)
	}
}

// Salted water holds less, as the published set says.
func TestSaltLeavesLessOxygen(t *testing.T) {
	args := []string{"fish=koi, 30 cm, 20", "volume=10 m3", "area=8 m2", "temperature=20 Cel"}
	for _, r := range reftest.Read(t, "water-oxygen-saturation-computed") {
		if r.Float("temperature [Cel]") != 20 || r.Float("pressure [kPa]") != 101.325 || r.Float("salinity [g/kg]") > 30 {
			continue
		}
		got := value(t, reckon(t, fish.PowerCut(), append(args, "salt="+r.Text("salinity [g/kg]")+" g/L")...), "saturation")
		reftest.Near(t, r, got.Likely, "oxygen [mg/L]")
	}
}

// Known parents take the guess out of how long fish grow.
func TestParentsNarrowTheGrowth(t *testing.T) {
	wide := value(t, reckon(t, fish.FishGrowth(), "length=15 cm", "count=6"), "adult-weight")
	known := value(t, reckon(t, fish.FishGrowth(), "length=15 cm", "count=6", "final=60 cm"), "adult-weight")
	most := 6 * value(t, reckon(t, fish.Weight(), "from=one", "length=60 cm"), "weight").High
	if known.High/known.Low > 0.5*wide.High/wide.Low || known.High > most*(1+1e-9) {
		t.Errorf("%v, with the parents known %v, at most %v", wide, known, most)
	}
}

// High up a litre of pumped air holds less oxygen, as the pressure does (the published
// set), and the feed that the tower carries is its oxygen over that of the feed.
func TestThinAirAndTheFeedOfATower(t *testing.T) {
	args := []string{"fish=koi, 30 cm, 20", "volume=9.1 m3", "area=7.9 m2", "temperature=20 Cel", "pump=fine", "air=40 L/min", "stone-depth=1 m"}
	low := value(t, reckon(t, fish.OxygenNight(), args...), "bubbles").Likely
	for _, r := range reftest.Read(t, "water-pressure-altitude-computed") {
		if r.Float("altitude [m]") > 5000 {
			continue
		}
		got := value(t, reckon(t, fish.OxygenNight(), append(args, "altitude="+r.Text("altitude [m]")+" m")...), "bubbles").Likely
		if want := low * r.Float("pressure [kPa]") / 101.325; math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s: bubbles bring %v g/h, want %v", r.Place, got, want)
		}
	}
	r := reckon(t, fish.OxygenNight(), "fish=koi, 30 cm, 20", "volume=9.1 m3", "area=7.9 m2", "temperature=24 Cel", "flow=3000 L/h", "tower=measured", "entering=5 mg/L", "leaving=7 mg/L", "protein=35 %")
	for _, row := range reftest.Read(t, "stocking-feed-oxygen-demand-computed") {
		if row.Float("feed_protein [%]") == 35 {
			want := 24 * value(t, r, "from-tower").Likely / row.Float("feed_oxygen_demand [kg/kg]")
			if got := value(t, r, "tower-carries").Likely; math.Abs(got/want-1) > 0.005 {
				t.Errorf("%s: %v g of feed, want %v", row.Place, got, want)
			}
		}
	}
}
