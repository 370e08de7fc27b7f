package fish_test

import (
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
)

// What a reader is told holds in the case he is in, and what would be wrong
// there is not said.
func TestAdviceFitsTheCase(t *testing.T) {
	pond := []string{"volume=9100 L", "area=7.9 m2"}
	shower := slices.Clip(append([]string{"tower=falls", "flow=8000 L/h", "tiers=5", "drop=0.4 m", "pump=fine", "air=100 L/min", "stone-depth=1 m"}, pond...))
	few, many := "fish=koi, 30 cm, 2", "fish=koi, 60 cm, 40"
	for _, c := range []struct {
		calculator calculators.Calculator
		args       []string
		says, not  string
	}{
		{fish.OxygenNight(), append(shower, few, "temperature=24 Cel", "start=2 mg/L"), "too low already", "keeps above"},
		{fish.OxygenNight(), append(shower, few, "temperature=24 Cel"), "keeps above", "too low already"},
		{fish.OxygenNight(), append(pond, few, "temperature=20 Cel", "start=14 mg/L"), "keeps above", "air pump helps most"},
		{fish.OxygenNight(), append(pond, many, "temperature=28 Cel"), "shade the pond", "keeps above"},
		{fish.PowerCut(), append(pond, few, "temperature=4 Cel", "wind=6 m/s"), "Two days or more", "Count on"},
		{fish.PowerCut(), append(pond, many, "temperature=28 Cel"), "beyond one person", "Count on"},
		{fish.PowerCut(), append(pond, few, "temperature=15 Cel"), "Count on", "beyond one person"},
		{fish.FeedWaste(), []string{"weight=8 kg", "temperature=4 Cel"}, "still breathe", "meals"},
		{fish.FeedWaste(), []string{"weight=8 kg", "temperature=21 Cel"}, "meals", "still breathe"},
		{fish.FeedWaste(), []string{"from=feed", "feed=50 g/d", "temperature=36 Cel"}, "Feed nothing", "meals"},
		{fish.FishBag(), []string{"length=60 cm", "count=2", "hours=20 h", "gas=air"}, "Do not send", "fill with oxygen"},
		{fish.FishBag(), []string{"length=15 cm", "count=2", "hours=2 h"}, "fill with oxygen", "Do not send"},
		{fish.NewFish(), []string{"bag=5 Cel", "tank=20 Cel"}, "even out in minutes", "no day counts"},
		{fish.NewFish(), []string{"bag=10 Cel", "tank=10 Cel"}, "no day counts", "even out in minutes"},
		{fish.NewFish(), []string{"bag=10 Cel", "tank=10 Cel", "held=40 d"}, "starts the count", "no day counts"},
	} {
		r := reckon(t, c.calculator, c.args...)
		said := strings.Join(append(r.Advice, r.Flags...), "\n")
		if !strings.Contains(said, c.says) || strings.Contains(said, c.not) {
			t.Errorf("%s %v: want %q and not %q in\n%s", c.calculator.ID, c.args, c.says, c.not, said)
		}
	}
}

// With less than an hour left, air comes before the walk to the fuse board.
func TestAirComesBeforeTheFuseBoard(t *testing.T) {
	for temperature, airFirst := range map[string]bool{"28 Cel": true, "10 Cel": false} {
		r := reckon(t, fish.PowerCut(), "fish=koi, 60 cm, 20", "volume=9100 L", "area=7.9 m2", "temperature="+temperature)
		said := strings.Join(r.Advice, "\n")
		air, fuse := strings.Index(said, "Start the battery"), strings.Index(said, "Look at the fuse")
		if air < 0 || fuse < 0 || (air < fuse) != airFirst {
			t.Errorf("%s: %v", temperature, r.Advice)
		}
	}
}

// Fish longer than a bag's figures reach have a bag each at the careful end.
func TestBigFishTravelAlone(t *testing.T) {
	r := reckon(t, fish.FishBag(), "length=30 cm", "count=4", "hours=2 h")
	if bags := value(t, r, "bags"); bags.High != 4 || bags.Likely > bags.High {
		t.Errorf("four big koi: %v bags", bags)
	}
}

// Fish whose quarantine is done need no way back into the warmth.
func TestDoneQuarantineAddsNoWarming(t *testing.T) {
	r := reckon(t, fish.NewFish(), "bag=10 Cel", "tank=10 Cel", "pond-temperature=10 Cel", "held=40 d")
	if days := value(t, r, "days"); days.High != 0 {
		t.Errorf("%v days left", days)
	}
}

// A refusal in the cold does not speak of hot water.
func TestColdRefusalSaysCold(t *testing.T) {
	for celsius, says := range map[string]string{"11": "cold", "31": "hot"} {
		_, _, err := fish.FeedWaste().Evaluate(arguments([]string{"weight=8 kg", "age=young", "temperature=" + celsius + " Cel"}))
		if err == nil || !strings.Contains(err.Error(), says+" water") {
			t.Errorf("%s °C: %v", celsius, err)
		}
	}
}
