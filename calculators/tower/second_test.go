package tower_test

import (
	"math"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/media"
)

// lineOf returns what a section of a sheet says beside a label.
func lineOf(r calculators.Result, title, label string) calculators.Line {
	for _, section := range r.Sheet {
		for _, l := range section.Lines {
			if strings.HasPrefix(section.Title, title) && l.Label == label {
				return l
			}
		}
	}
	return calculators.Line{}
}

// pondOfTwo runs a pond with two towers hour by hour until its ammonia stands still:
// the fish give off load g/d, each tower takes of the water that it gets what its
// film takes, and the weekly change its share.
func pondOfTwo(load, each, target, oxygen, celsius, flow, volume, change float64, behind bool) (pond, between float64) {
	rate := func(s float64) float64 { r, _ := media.Rate(s, oxygen, celsius); return r.Likely }
	film := each / rate(target) // m2
	for range 24 * 400 {
		first, second := film*rate(pond), film*rate(pond)
		between = pond - first/flow
		if behind {
			second = film * rate(between)
		}
		pond += (load - first - second - pond*volume*change/7) / volume / 24
	}
	return pond, between
}

// What the sheet says of two towers is where a pond comes to that is run hour by
// hour. Together they leave less than one does, and with one shut there is what one
// leaves.
func TestTwoTowersLeaveWhatAPondComesTo(t *testing.T) {
	strong := []string{"points=0 L/h, 6 m; 3000 L/h, 5.5 m; 6000 L/h, 4 m; 9000 L/h, 1 m", "outlet-bore=104 mm", "most-stacks=4", "media=plastic-packing, 1"}
	one := plan(t, strong...)
	for _, way := range []string{"beside", "behind"} {
		r := plan(t, append(strong, "second="+way)...)
		title := "Two such towers"
		m := lineOf(r, title, "Water on each square metre of floor")
		_, answer, err := media.Volume().Evaluate(m.By.Args)
		if err != nil {
			t.Fatal(way, err)
		}
		asked := asked{line: m}
		litres := likely(r, "medium")
		if way == "beside" {
			litres *= 2
		}
		cleans := likely(answer, "load") * litres / likely(answer, "volume") // g/d at the target: of both, or of each
		if way == "beside" {
			cleans /= 2
		}
		flow := input(asked, "flow")
		pond, between := pondOfTwo(likely(answer, "load"), cleans, 0.25, input(asked, "oxygen"), 21, flow*24/1000, 9.1, 0.2, way == "behind")
		text := lineOf(r, title, "Ammonia of today's fish settles at").Text
		said, _ := number(" "+text, " ")
		if math.Abs(said-pond) > 0.006+0.005*pond {
			t.Errorf("%s: the sheet says %s, the pond comes to %v", way, text, pond)
		}
		if v := likely(r, "together"); math.Abs(v-pond) > 1e-3*pond {
			t.Errorf("%s: %v with both, the pond comes to %v", way, v, pond)
		}
		if way == "behind" {
			if v, _ := number(" "+lineOf(r, title, "Ammonia between the two").Text, " "); math.Abs(v-between) > 0.006 {
				t.Errorf("between the towers the sheet says %v, the pond has %v", v, between)
			}
		}
		if said >= likely(one, "ammonia") {
			t.Errorf("%s: two towers leave %v, one %v", way, said, likely(one, "ammonia"))
		}
		if shut, _ := number(" "+lineOf(r, title, "Ammonia of today's fish while one is shut").Text, " "); math.Abs(shut-likely(one, "ammonia")) > 0.005 {
			t.Errorf("%s: with one shut %v; one leaves %v", way, shut, likely(one, "ammonia"))
		}
		// Either is drilled for all the water.
		found, fault := replay(r)
		if fault != "" {
			t.Fatal(fault)
		}
		alone, _ := number(" "+lineOf(r, title, "Water through the other then").Text, " ")
		if holes := input(found["holes-per-tray"], "flow"); holes != shownFlow(alone/likely(r, "stacks")) || alone != likely(one, "flow") {
			t.Errorf("%s: drilled for %v, alone it gets %v", way, holes, alone)
		}
	}
}

// A pump that cannot fill a tower above another is named, and the sheet stays.
func TestATowerAboveAnotherNeedsTheHead(t *testing.T) {
	r := plan(t, "second=behind")
	for _, section := range r.Sheet {
		if strings.HasPrefix(section.Title, "Two such towers") {
			if text := strings.Join(section.Says, " "); !strings.Contains(text, "too little water") || len(section.Lines) > 0 {
				t.Errorf("%q, %v", text, section.Lines)
			}
			return
		}
	}
	t.Error("nothing is said of the second tower")
}
