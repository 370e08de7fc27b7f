package fish_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/fish"
	"mereleaf/calculators/internal/reftest"
)

// The curves are fits: 7 % and 1.5 % from the trials at most.
func TestRationFitsTheTrials(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-carp-ration-growth-temperature") {
		celsius := r.Float("temperature [Cel]")
		reftest.Within(t, r, fish.MaintenanceRation(celsius), "ration_maintenance [%/d]", 0.07)
		reftest.Within(t, r, fish.BestGrowth(celsius), "growth_max [%/d]", 0.015)
	}
}

// In the middle of each band of practice, the ration is the band; at the stop
// temperatures it ends.
func TestGrownRationFollowsPractice(t *testing.T) {
	bands, stops := 0, 0
	for _, r := range reftest.Read(t, "stocking-feeding-rate-guidance") {
		switch {
		case r.Text("stage") == "adult, hobby band":
			b := fish.GrownRation((r.Float("temperature_min [Cel]") + r.Float("temperature_max [Cel]")) / 2)
			reftest.Near(t, r, b.Low, "ration_min [%/d]")
			reftest.Near(t, r, b.High, "ration_max [%/d]")
			bands++
		case r.Text("stage") == "hobby stop temperature, common", strings.Contains(r.Text("stage"), "wintering"):
			b := fish.GrownRation(math.Nextafter(r.Float("temperature_max [Cel]"), 0))
			reftest.Near(t, r, b.Likely, "ration_min [%/d]")
			stops++
		}
	}
	if bands != 5 || stops != 2 {
		t.Errorf("%d bands and %d stops compared, want 5 and 2", bands, stops)
	}
	if fish.GrownRation(6.99).High != 0 || fish.GrownRation(7).High == 0 || fish.GrownRation(10).Low == 0 {
		t.Error("feeding does not stop at 7 and 10 °C")
	}
}

// Ten kilograms of koi at 26 °C eat what keepers give between 24 and 28, and not less
// than at 22: the line once left that band out.
func TestRationOfTheWarmBand(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-feeding-rate-guidance") {
		if r.Text("stage") != "adult, hobby band" {
			continue
		}
		low, high := r.Float("temperature_min [Cel]"), r.Float("temperature_max [Cel]")
		feed := value(t, reckon(t, fish.FeedWaste(), "weight=10 kg", "temperature="+number((low+high)/2)+" Cel"), "feed")
		for end, want := range map[float64]float64{feed.Low: r.Float("ration_min [%/d]"), feed.High: r.Float("ration_max [%/d]"), feed.Likely: (r.Float("ration_min [%/d]") + r.Float("ration_max [%/d]")) / 2} {
			if math.Abs(end-100*want) > 1e-9 {
				t.Errorf("%s: %v g of feed, want %v", r.Place, end, 100*want)
			}
		}
	}
}

// From 10 °C on the ration runs without a jump: no degree changes it by more than the
// steepest step between the middles of two bands.
func TestRationNeverJumps(t *testing.T) {
	steepest := 0.0 // per cent a day, per kelvin
	var before *reftest.Row
	for _, r := range reftest.Read(t, "stocking-feeding-rate-guidance") {
		if r.Text("stage") != "adult, hobby band" {
			continue
		}
		if before != nil {
			apart := (r.Float("temperature_min [Cel]") + r.Float("temperature_max [Cel]") - before.Float("temperature_min [Cel]") - before.Float("temperature_max [Cel]")) / 2
			for _, column := range []string{"ration_min [%/d]", "ration_max [%/d]"} {
				steepest = math.Max(steepest, math.Abs(r.Float(column)-before.Float(column))/apart)
			}
		}
		before = &r
	}
	const step = 0.01
	for celsius := 10.0; celsius < 32-step; celsius += step {
		a, b := fish.GrownRation(celsius), fish.GrownRation(celsius+step)
		for _, end := range [][2]float64{{a.Low, b.Low}, {a.Likely, b.Likely}, {a.High, b.High}} {
			if math.Abs(end[1]-end[0]) > steepest*step*(1+1e-9) {
				t.Errorf("from %.2f °C on the ration goes from %v to %v", celsius, end[0], end[1])
			}
		}
	}
}

func TestAmmoniaFromFeedMatches(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-tan-per-feed-computed") {
		tan := 1000 * fish.AmmoniaFromFeed(r.Float("feed_protein [%]")/100).Likely
		reftest.Near(t, r, tan, "tan [g/kg]")
		reftest.Near(t, r, tan*fish.OxygenPerNitrogen, "oxygen_to_nitrify [g/kg]")
		reftest.Near(t, r, tan*fish.AlkalinityPerNitrogen, "alkalinity_caco3 [g/kg]")
	}
	ends := 0
	for _, r := range reftest.Read(t, "stocking-waste-nitrogen") {
		switch {
		case strings.HasPrefix(r.Text("item"), "TAN coefficient: "):
			reftest.Near(t, r, 100*fish.AmmoniaFromFeed(1).Likely, "low [%]")
			ends++
		case strings.HasPrefix(r.Text("item"), "TAN coefficient, zero-exchange"):
			reftest.Near(t, r, 100*fish.AmmoniaFromFeed(1).High, "high [%]")
			ends++
		case strings.HasPrefix(r.Text("item"), "ammonia per kg feed, farm rule"):
			reftest.Near(t, r, 1000*fish.AmmoniaFromFeed(0.35).Low, "tan_per_feed [g/kg]")
			ends++
		}
	}
	if ends != 3 {
		t.Errorf("%d coefficients compared, want 3", ends)
	}
}

func TestNitrificationFactorsMatch(t *testing.T) {
	want := map[string]float64{
		"vanhaandel-stoich oxygen consumed, ammonia to nitrate, no growth":  fish.OxygenPerNitrogen,
		"wastewater-operator-notes alkalinity consumed as CaCO3, no growth": fish.AlkalinityPerNitrogen,
		"aquaculture-consultancy-alkalinity sodium bicarbonate consumed":    fish.BicarbonatePerNitrogen,
	}
	for _, r := range reftest.Read(t, "water-nitrification-stoichiometry") {
		key := r.Text("source") + " " + r.Text("quantity")
		if got, ok := want[key]; ok {
			reftest.Near(t, r, got, "mass per nitrogen [g/g]")
			delete(want, key)
		}
	}
	if len(want) > 0 {
		t.Errorf("not in the set: %v", want)
	}
}

func TestFeedOxygenDemandMatches(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-feed-oxygen-demand-computed") {
		reftest.Near(t, r, fish.FeedOxygenDemand(r.Float("feed_protein [%]")/100).Likely, "feed_oxygen_demand [kg/kg]")
	}
	found := 0
	for _, r := range reftest.Read(t, "stocking-oxygen-co2-per-feed") {
		switch {
		case r.Text("item") == "whole-system feed oxygen demand":
			reftest.Near(t, r, fish.FeedOxygenDemand(0.36).High, "oxygen_per_feed [kg/kg]")
			found++
		case r.Text("source") == "seagrant-proc" && r.Has("oxygen_per_feed [kg/kg]"):
			b := fish.FishAndFilterOxygen(0.36)
			reftest.Near(t, r, b.Low, "oxygen_per_feed [kg/kg]")
			reftest.Near(t, r, 100*b.Low/b.High, "percent [%]")
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d rows compared, want 2", found)
	}
}

func TestSolidsAndPhosphorusMatch(t *testing.T) {
	found := 0
	for _, r := range reftest.Read(t, "stocking-waste-solids-phosphorus") {
		switch r.Text("item") {
		case "faecal dry matter per kg feed":
			if g := 1000 * fish.SolidsFromFeed().Likely; g < r.Float("low [g/kg]") || g > r.Float("high [g/kg]") {
				t.Errorf("%s: %v g/kg", r.Place, g)
			}
			found++
		case "suspended solids per kg feed, range":
			reftest.Near(t, r, 1000*fish.SolidsFromFeed().Low, "low [g/kg]")
			reftest.Near(t, r, 1000*fish.SolidsFromFeed().High, "high [g/kg]")
			found++
		case "total P in commercial carp feed":
			reftest.Near(t, r, 2*1000*fish.PhosphorusFromFeed().Low, "low [g/kg]")
			reftest.Near(t, r, 1000*fish.PhosphorusFromFeed().High, "high [g/kg]")
			found++
		}
	}
	if found != 3 {
		t.Errorf("%d rows compared, want 3", found)
	}
}

func TestFeedFormulasEndWhereTheyAreStated(t *testing.T) {
	for what, c := range map[string]struct{ inside, outside float64 }{
		"maintenance, cold": {fish.MaintenanceRation(12), fish.MaintenanceRation(11.99)},
		"maintenance, warm": {fish.MaintenanceRation(30), fish.MaintenanceRation(30.01)},
		"growth, cold":      {fish.BestGrowth(12), fish.BestGrowth(11.99)},
		"growth, warm":      {fish.BestGrowth(30), fish.BestGrowth(30.01)},
		"young":             {fish.YoungRation(30).High, fish.YoungRation(30.01).High},
		"grown":             {fish.GrownRation(32).Likely, fish.GrownRation(32.01).Likely},
		"no temperature":    {fish.GrownRation(0).Likely, fish.GrownRation(math.NaN()).Likely},
		"protein, all":      {fish.AmmoniaFromFeed(1).Likely, fish.AmmoniaFromFeed(1.01).Likely},
		"protein, negative": {fish.FeedOxygenDemand(0).Likely, fish.FeedOxygenDemand(-0.01).Likely},
		"filter":            {fish.FishAndFilterOxygen(1).Likely, fish.FishAndFilterOxygen(1.01).Likely},
	} {
		if math.IsNaN(c.inside) || !math.IsNaN(c.outside) {
			t.Errorf("%s: inside %v, outside %v; want a number and NaN", what, c.inside, c.outside)
		}
	}
}

func TestFeedProperties(t *testing.T) {
	c := fish.FeedWaste()
	rapid.Check(t, func(rt *rapid.T) {
		kilos := rapid.Float64Range(0, 100).Draw(rt, "weight")
		protein := rapid.Float64Range(0.05, 0.70).Draw(rt, "protein")
		args := []string{
			"temperature=" + number(rapid.Float64Range(0, 32).Draw(rt, "temperature")) + " Cel",
			"protein=" + number(100*protein) + " %",
		}
		once := reckon(t, c, append(args, "weight="+number(kilos)+" kg")...)
		twice := reckon(t, c, append(args, "weight="+number(2*kilos)+" kg")...)
		for _, v := range once.Values {
			if !(0 <= v.Low && v.Low <= v.Likely*(1+1e-12) && v.Likely <= v.High*(1+1e-12)) {
				rt.Errorf("%s: %v, %v, %v is no range", v.Output, v.Low, v.Likely, v.High)
			}
			if d := value(t, twice, v.Output).Likely - 2*v.Likely; v.Output != "ration" && math.Abs(d) > 1e-6 {
				rt.Errorf("%s: twice the fish miss twice the figure by %v", v.Output, d)
			}
		}
		// What is reckoned from the fish must come out again from their feed.
		feed := value(t, once, "feed").Likely
		again := reckon(t, c, append(args, "from=feed", "feed="+number(feed)+" g/d")...)
		for _, output := range []string{"tan", "oxygen", "alkalinity", "solids", "carbon-dioxide", "phosphorus"} {
			if a, b := value(t, once, output).Likely, value(t, again, output).Likely; math.Abs(a-b) > 1e-9*(1+a) {
				rt.Errorf("%s: %v from the fish, %v from their feed", output, a, b)
			}
		}
		// Protein is 16 % nitrogen: no more leaves than went in, and no more dry
		// matter than feed.
		most := value(t, once, "feed").High
		if value(t, once, "tan").High > 0.16*protein*most+1e-9 {
			rt.Error("more nitrogen leaves than the feed holds")
		}
		if value(t, once, "solids").High > most {
			rt.Error("more solids leave than feed goes in")
		}
	})
}

func TestFeedStopsInTheColdAndTheHeat(t *testing.T) {
	c := fish.FeedWaste()
	for celsius, first := range map[string]string{"6.9": "Do not feed", "9.9": "Do not feed", "10": "Give it", "27.9": "Give it", "28": "At 28\u00a0°C and more the oxygen", "32": "At 28\u00a0°C and more the oxygen"} {
		for _, from := range [][]string{{"weight=8 kg"}, {"from=feed", "feed=50 g/d"}} {
			r := reckon(t, c, append(from, "temperature="+celsius+" Cel")...)
			if !strings.HasPrefix(r.Advice[0], first) {
				t.Errorf("%s °C, %s: advice begins %q", celsius, from[0], r.Advice[0])
			}
			if warned := strings.Contains(strings.Join(r.Flags, "\n"), "°C"); warned != (first != "Give it") {
				t.Errorf("%s °C, %s: flags %q", celsius, from[0], r.Flags)
			}
		}
	}
	for _, args := range [][]string{{"temperature=32.1 Cel"}, {"temperature=11.9 Cel", "age=young"}, {"temperature=30.1 Cel", "age=young"}} {
		if _, _, err := c.Evaluate(arguments(append(args, "weight=8 kg"))); err == nil || !strings.HasPrefix(err.Error(), "temperature: ") {
			t.Errorf("%v: %v", args, err)
		}
	}
	for _, args := range [][]string{{"temperature=32 Cel"}, {"temperature=12 Cel", "age=young"}, {"temperature=9 Cel", "age=young"}} {
		if _, _, err := c.Evaluate(arguments(append(args, "weight=8 kg"))); err != nil {
			t.Errorf("%v: %v", args, err)
		}
	}
}
