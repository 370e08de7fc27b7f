package tower_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/media"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/tower"
)

// Two pumps that do not reach the top of the first stack tried, and a plan with
// more stacks that they do serve.
func TestThePumpThatServesLowerStacksIsNotRefused(t *testing.T) {
	weak := []string{"fish=koi, 25 cm, 12", "points=0 L/h, 1.36 m; 3000 L/h, 1.06 m; 6000 L/h, 0.14 m"}
	for _, most := range []string{"3", "4", "6", "12"} {
		r := plan(t, append(weak, "most-boxes="+most)...)
		if likely(r, "faults") != 0 || likely(r, "boxes") != 6 || likely(r, "stacks") != 2 {
			t.Errorf("at most %s boxes: %v in %v stacks, %q", most, likely(r, "boxes"), likely(r, "stacks"), r.Advice)
		}
	}
	large := []string{"volume=40000 L", "fish=koi, 55 cm, 60", "feed=1600 g/d", "summer=23 Cel", "box-length=760 mm", "box-width=560 mm", "box-height=400 mm", "recess=40 mm", "most-stacks=6", "most-boxes=8",
		"points=0 L/h, 5 m; 8000 L/h, 4.2 m; 14000 L/h, 3.2 m; 20000 L/h, 1.2 m", "bore=63 mm", "run=6 m", "bar-bore=50 mm", "outlet-bore=104 mm", "power=180 W"}
	r := plan(t, large...)
	if likely(r, "faults") > 1 || likely(r, "ammonia") > 0.25 {
		t.Errorf("%v stacks of %v boxes leave %v mg/L; %q", likely(r, "stacks"), likely(r, "tiers"), likely(r, "ammonia"), r.Advice)
	}
	// Only the ground under it is too weak; with slabs it stands.
	r = plan(t, append(large, "slab-length=1200 mm", "slab-width=900 mm")...)
	if likely(r, "faults") != 0 {
		t.Errorf("on slabs: %q", r.Advice)
	}
}

// weakPump is a pond with a pump that may reach the top or not. Water comes in by
// hose, leaves open over the pond and meets plastic, on ground that bears anything
// a stack weighs: what decides is pump, pipe and medium.
type weakPump struct {
	volume, feed          float64 // L, g/d
	length, width, height float64 // mm
	head, most            float64 // m, L/h
	boxes, stacks         int
}

func drawWeakPump(t *rapid.T) weakPump {
	whole := func(low, high int, name string) float64 { return float64(rapid.IntRange(low, high).Draw(t, name)) }
	w := weakPump{volume: whole(1000, 30000, "litres"), length: whole(300, 700, "length"), width: whole(250, 500, "width"), height: whole(180, 400, "height"),
		head: whole(80, 300, "head in cm") / 100, boxes: int(whole(3, 9, "boxes")), stacks: int(whole(1, 5, "stacks"))}
	w.feed = max(31, whole(2, 200, "feed per m3")*w.volume/10000) // more than two boxes carry
	w.most = w.volume * whole(3, 20, "turnover") / 10
	return w
}

func (w weakPump) given(boxes int) []calculators.Arg {
	f := func(v float64, unit string) string { return strconv.FormatFloat(v, 'f', 2, 64) + " " + unit }
	return args("volume="+f(w.volume, "L"), "fish=koi, 20 cm, 5", "feed="+f(w.feed, "g/d"), "box-length="+f(w.length, "mm"), "box-width="+f(w.width, "mm"), "box-height="+f(w.height, "mm"),
		"recess=60 mm", "drills=6 mm; 8 mm; 10 mm; 12 mm", "points="+w.points(), "bore=50 mm", "inlet=hose", "bottom=open", "media=plastic-packing, 1", "ground=dense", "foam-grades=2", "slab-length=2000 mm", "slab-width=2000 mm",
		"most-boxes="+strconv.Itoa(boxes), "most-stacks="+strconv.Itoa(w.stacks))
}

func (w weakPump) points() string {
	f := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	return "0 L/h, " + f(w.head) + " m; " + f(0.5*w.most) + " L/h, " + f(0.78*w.head) + " m; " + f(w.most) + " L/h, " + f(0.1*w.head) + " m"
}

// fewest tries every number of boxes and stacks by itself and returns the fewest
// boxes with which the water that the pump brings cleans what the feed fouls,
// without leaving the medium dry and with no holes that spill; 0 if none. It asks
// what a pump brings and what a film cleans, and knows nothing of how the tower
// searches.
func (w weakPump) fewest(boxes int) int {
	best := 0
	f := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	for stacks := 1; stacks <= w.stacks; stacks++ {
		for tiers := 1; tiers+1 <= boxes; tiers++ {
			// Walls, floors and lids are 3 mm; a box stands in the 60 mm recess of the
			// lid below. The foot is 0.3 m above the pond, the hose 60 mm below the top.
			tall := float64(tiers+1)*(w.height+6) - float64(tiers)*60
			_, pump, err := plumbing.PumpWorkingPoint().Evaluate(args("pump=curve", "points="+w.points(), "lift="+shownLift(0.3+(tall-60)/1000)+" m", "bore=50 mm", "length=4 m",
				"fittings=elbow-90, 3; hose-tail, 1", "temperature=21 Cel", "volume="+f(w.volume)+" L"))
			if err != nil || likely(pump, "flow") < 20 {
				continue
			}
			flow := shownFlow(likely(pump, "flow"))
			_, m, err := media.Volume().Evaluate(args("from=feed", "feed="+f(w.feed)+" g/d", "medium=plastic-packing", "protein=36 %", "target=0.25 mg/L", "temperature=21 Cel", "oxygen=7.58 mg/L",
				"length="+f(w.length)+" mm", "width="+f(w.width)+" mm", "height="+f(w.height)+" mm", "fill=70 %", "flow="+f(flow)+" L/h", "stacks="+strconv.Itoa(stacks)))
			if err != nil || likely(m, "hydraulic-load") < 30 {
				continue
			}
			litres := float64(stacks*tiers) * w.length * w.width * w.height * 0.7 / 1e6
			if all := stacks * (tiers + 1); litres >= likely(m, "volume")*1.001 && w.drills(shownFlow(flow/float64(stacks))) && (best == 0 || all < best) {
				best = all
			}
		}
	}
	return best
}

// shownLift is a lift as it is read off an answer, to three digits: so it is handed on.
// A few millimetres can be one more step of the flow that is shown.
func shownLift(lift float64) string { return strconv.FormatFloat(lift, 'g', 3, 64) }

// shownFlow is a flow as it is read off an answer, to two digits: so it is handed on.
func shownFlow(flow float64) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(flow, 'e', 1, 64), 64)
	return v
}

// drills reports whether some drill makes holes that pass the flow of a stack.
func (w weakPump) drills(flow float64) bool {
	f := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	for _, hole := range []string{"6", "8", "10", "12"} {
		_, tray, err := plumbing.HolesPerTray().Evaluate(args("flow="+f(flow)+" L/h", "hole="+hole+" mm", "floor=3 mm", "head=36 mm", "length="+f(w.length)+" mm", "width="+f(w.width)+" mm", "margin=20 mm", "side=60 mm", "blocked=33 %"))
		if err != nil {
			continue
		}
		v, _ := tray.Value("reserve")
		size, _ := strconv.ParseFloat(hole, 64)
		if v.Low >= 0 && likely(tray, "holes") <= 250 && math.Max(likely(tray, "pitch-staggered"), likely(tray, "pitch-square")) >= 2*size {
			return true
		}
	}
	return false
}

// Wherever a search through every number of boxes and stacks finds a tower, the
// plan finds one that is no larger; and who allows more boxes gets no worse one.
func TestThePlanIsFoundWhereverThereIsOne(t *testing.T) {
	t.Parallel()
	found, none := 0, 0
	one := func(t *rapid.T) {
		w := drawWeakPump(t)
		last := 0.0 // boxes of the tower that fits with fewer allowed; 0: none yet
		for boxes := 2; boxes <= w.boxes; boxes++ {
			want := w.fewest(boxes)
			_, r, err := tower.Tower().Evaluate(w.given(boxes))
			fits := err == nil && likely(r, "faults") == 0
			switch {
			case want > 0 && err != nil:
				t.Fatalf("%+v, at most %d boxes: refused, and %d would do: %v", w, boxes, want, err)
			case want > 0 && (!fits || likely(r, "boxes") > float64(want)):
				t.Fatalf("%+v, at most %d boxes: %v boxes, and %d would do: %q", w, boxes, likely(r, "boxes"), want, r.Advice)
			case last > 0 && (!fits || likely(r, "boxes") > last):
				t.Fatalf("%+v, at most %d boxes: %v boxes; with fewer allowed %v did: %q", w, boxes, likely(r, "boxes"), last, r.Advice)
			}
			if fits {
				last = likely(r, "boxes")
			}
		}
		if last > 0 {
			found++
		} else {
			none++
		}
	}
	for tries := 0; found == 0 || none == 0; tries++ { // a few ponds may all be of one kind
		if tries == 20 {
			t.Fatalf("%d towers and %d ponds without one do not try both sides", found, none)
		}
		if rapid.Check(t, one); t.Failed() {
			return
		}
	}
	t.Logf("%d towers, %d ponds without one", found, none)
}

// Whatever the pond, allowing more boxes or stacks never turns a plan into a
// refusal, nor one that fits into one that does not or has more boxes.
func TestMoreAllowedIsNeverWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		given := pond(t)
		few, more := rapid.IntRange(2, 6).Draw(t, "boxes"), rapid.IntRange(1, 6).Draw(t, "more")
		with := func(boxes int) []calculators.Arg {
			return calculators.With(given, calculators.Arg{Name: "most-boxes", Value: strconv.Itoa(boxes)})
		}
		_, a, errA := tower.Tower().Evaluate(with(few))
		_, b, errB := tower.Tower().Evaluate(with(few + more))
		if errA != nil {
			return
		}
		if errB != nil || likely(a, "faults") == 0 && likely(b, "faults") > 0 {
			t.Fatalf("%v: at most %d boxes do, at most %d do not: %v, %q", given, few, few+more, errB, strings.Join(b.Advice, " "))
		}
	})
}

// More feed never means a smaller tower.
func TestMoreFeedIsNeverASmallerTower(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := drawWeakPump(t)
		last, at := 0.0, 0.0
		for range 4 {
			_, r, err := tower.Tower().Evaluate(w.given(w.boxes))
			fits := err == nil && likely(r, "faults") == 0
			if fits && (at > 0 && last == 0 || likely(r, "boxes") < last) {
				t.Fatalf("%+v: %v g/d need %v boxes, %v g/d %v", w, at, last, w.feed, likely(r, "boxes"))
			}
			at, last = w.feed, 0
			if fits {
				last = likely(r, "boxes")
			}
			w.feed *= 1.4
		}
	})
}

// The feed that would be carried is less than is fed, and what is needed does not read
// like what fits: at 300 L/h media-volume asks for 145 L, and seven boxes hold 142.
func TestTheFeedThatWouldFitIsLess(t *testing.T) {
	t.Parallel()
	w := weakPump{volume: 1000, feed: 31, length: 321, width: 500, height: 181, head: 1.72, most: 600, boxes: 8, stacks: 1}
	_, r, err := tower.Tower().Evaluate(w.given(8))
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(r.Advice, "\n"); !strings.Contains(all, "Feed 30\u00a0g/d or less") || !strings.Contains(all, "150\u00a0L are needed, 140\u00a0L fit") {
		t.Errorf("fed 31 g/d: %q", all)
	}
}
