package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

func TestFeedNitrogenAgainstFigures(t *testing.T) {
	for _, r := range reftest.Read(t, "stocking-tan-per-feed-computed") {
		_, likely, _ := water.FeedNitrogen(r.Float("feed_protein [%]") / 100)
		reftest.Near(t, r, 1000*likely, "tan [g/kg]")
	}
}

// Without load and with clean water the way to the plateau is plain dilution.
func TestWithoutLoadItIsDilution(t *testing.T) {
	for _, r := range reftest.Read(t, "water-change-dilution-computed") {
		share, n := r.Float("change [%]"), r.Float("changes [1]")
		left := water.LeftAfterChanges(share/100, n)
		reftest.Near(t, r, water.Toward(1, water.PlateauOfChanges(0, 0, share/100), left), "remaining after batch changes [1]")
		left = water.LeftAfterRunThrough(share / 100 * n)
		reftest.Near(t, r, water.Toward(1, water.PlateauOfDrip(0, 0, share), left), "remaining after same volume run through [1]")
	}
}

// The closed form is what a bookkeeper finds who goes from change to change.
func TestPlateauIsWhereTheBooksSettle(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		in, rise := rapid.Float64Range(0, 50).Draw(rt, "tap"), rapid.Float64Range(0, 30).Draw(rt, "rise")
		share, now := rapid.Float64Range(0.05, 1).Draw(rt, "share"), rapid.Float64Range(0, 300).Draw(rt, "now")
		plateau, value := water.PlateauOfChanges(in, rise, share), now
		for n := 1.0; n <= 400; n++ {
			value = water.Mixed(value, in, share) + rise
			if closed := water.Toward(now, plateau, water.LeftAfterChanges(share, n)); math.Abs(closed-value) > 1e-9*(1+value) {
				rt.Fatalf("change %v: %v by the books, %v by the formula", n, value, closed)
			}
		}
		if math.Abs(value-plateau) > 1e-6*(1+plateau) {
			rt.Errorf("the books settle at %v, not %v", value, plateau)
		}
	})
}

func TestNitrateProperties(t *testing.T) {
	c := water.Nitrate()
	rapid.Check(t, func(rt *rapid.T) {
		volume := rapid.Float64Range(500, 50000).Draw(rt, "volume")
		feed := rapid.Float64Range(0, 200).Draw(rt, "feed")
		tap := rapid.Float64Range(0, 40).Draw(rt, "tap")
		share := rapid.Float64Range(1, 100).Draw(rt, "share")
		args := []string{"feed=" + number(feed) + " g/d", "tap=" + number(tap) + " mg/L", "share=" + number(share) + " %"}
		r := reckon(t, c, append(args, "volume="+number(volume)+" L")...)
		plateau := likely(t, r, "plateau")
		if larger := likely(t, reckon(t, c, append(args, "volume="+number(2*volume)+" L")...), "plateau"); math.Abs(2*(larger-tap)-(plateau-tap)) > 1e-9*plateau {
			rt.Errorf("twice the water: %v over the tap, not half of %v", larger-tap, plateau-tap)
		}
		if needed, ok := r.Value("share-needed"); ok && needed.Likely >= 1 {
			held := func(share float64) float64 {
				return likely(t, reckon(t, c, args[0], args[1], "share="+number(share)+" %", "volume="+number(volume)+" L"), "plateau")
			}
			// It is rounded up to the two digits shown.
			unit := math.Pow(10, math.Floor(math.Log10(needed.Likely))-1)
			if v := held(needed.Likely); v > 50+1e-6 {
				rt.Errorf("the share needed holds %v", v)
			}
			if less := needed.Likely - 1.001*unit; less >= 1 && needed.Likely > 1 && held(less) <= 50 {
				rt.Errorf("%v is needed, and %v would do", needed.Likely, less)
			}
		}
		if lowest := likely(t, r, "lowest"); math.Abs(water.Mixed(plateau, tap, share/100)-lowest) > 1e-9*(1+plateau) {
			rt.Errorf("a change takes %v to %v, not %v", plateau, water.Mixed(plateau, tap, share/100), lowest)
		}
	})
}

// Nothing fed comes to the tap's nitrate, and the drip that is needed holds the
// level.
func TestNitrateOfADrip(t *testing.T) {
	idle := reckon(t, water.Nitrate(), "volume=1000 L", "feed=0 g/d", "tap=12 mg/L", "how=drip", "drip=1 L/h")
	if v, _ := idle.Value("plateau"); v.Low != 12 || v.High != 12 {
		t.Errorf("nothing fed: %v", v)
	}
	args := []string{"volume=10000 L", "from=tan", "tan=2 g/d", "tap=10 mg/L", "how=drip"}
	needed := likely(t, reckon(t, water.Nitrate(), append(args, "drip=1 L/h")...), "drip-needed")
	if v := likely(t, reckon(t, water.Nitrate(), append(args, "drip="+number(needed)+" L/h")...), "plateau"); v > 50 || v < 49 {
		t.Errorf("the drip needed holds %v", v)
	}
}

// The same in nitrogen gives the same answer.
func TestNitrateAsNitrogen(t *testing.T) {
	same := []string{"volume=10000 L", "from=tan", "tan=2 g/d", "share=20 %"}
	ion := reckon(t, water.Nitrate(), append(same, "tap=20 mg/L", "now=100 mg/L", "wanted=60 mg/L")...)
	scale := func(v float64) string { return number(v/chemistry.NitratePerNitrogen) + " mg/L" }
	n := reckon(t, water.Nitrate(), append(same, "basis=as-n", "tap="+scale(20), "now="+scale(100), "wanted="+scale(60))...)
	for _, v := range ion.Values {
		if other := likely(t, n, v.Output); math.Abs(other-v.Likely) > 1e-9*(1+v.Likely) {
			t.Errorf("%s is %v, and %v in nitrogen", v.Output, v.Likely, other)
		}
	}
}

// Whether and when the level is passed: on the way up, on the way down, never.
func TestTimeUntilTheLevel(t *testing.T) {
	// 20 g/d of nitrogen would settle at 10 + 8.85 x 7/0.2, far above 50.
	for args, passes := range map[string]bool{
		"tan=2 now=20": true, "tan=0.1 now=90": true, "tan=0.1 now=30": false, "tan=2 now=60": false,
	} {
		tan, now, _ := strings.Cut(args, " ")
		r := reckon(t, water.Nitrate(), "volume=1000 L", "from=tan", tan+" g/d", now+" mg/L", "tap=10 mg/L", "share=20 %")
		v, ok := r.Value("until")
		if ok != passes {
			t.Errorf("%s: until %v, passes %v", args, v, ok)
		}
		if ok && (v.Likely <= 0 || math.Mod(v.Likely, 7) > 1e-9) {
			t.Errorf("%s: after %v days, which is no change day", args, v.Likely)
		}
	}
	all := reckon(t, water.Nitrate(), "volume=1000 L", "from=tan", "tan=0.1 g/d", "now=90 mg/L", "tap=10 mg/L", "share=100 %")
	if likely(t, all, "until") != 7 || likely(t, all, "nearly") != 7 {
		t.Errorf("changing it all takes %v and %v days", likely(t, all, "until"), likely(t, all, "nearly"))
	}
}

func TestATapAboveTheLevelIsSaid(t *testing.T) {
	for tap, said := range map[string]bool{"49.9": false, "50": true} {
		r := reckon(t, water.Nitrate(), "volume=100000 L", "from=tan", "tan=0.001 g/d", "tap="+tap+" mg/L", "share=20 %")
		if _, ok := r.Value("share-needed"); ok == said || strings.Contains(strings.Join(r.Flags, "\n"), "no change of it gets there") != said {
			t.Errorf("tap %s: share needed %v, %q", tap, ok, r.Flags)
		}
	}
}

func TestHighNitrateGoesDownSlowly(t *testing.T) {
	for now, slow := range map[string]bool{"100": false, "100.1": true} {
		a := reckon(t, water.Nitrate(), "volume=1000 L", "from=tan", "tan=0.1 g/d", "tap=10 mg/L", "share=20 %", "now="+now+" mg/L").Advice
		if strings.HasPrefix(a[0], "Go down slowly") != slow {
			t.Errorf("now %s: %q", now, a[0])
		}
	}
}

func TestChangesOfMoreThanHalfAreFlagged(t *testing.T) {
	for share, flagged := range map[string]bool{"50": false, "50.1": true} {
		r := reckon(t, water.Nitrate(), "volume=1000 L", "from=tan", "tan=0.1 g/d", "tap=10 mg/L", "share="+share+" %")
		if strings.Contains(strings.Join(r.Flags, "\n"), "more than half") != flagged {
			t.Errorf("changes of %s %%: %q", share, r.Flags)
		}
	}
}

// Without a change there is no long run: the nitrate rises, as a bookkeeper finds
// who adds each day's.
func TestWithoutChangesNitrateNeverSettles(t *testing.T) {
	r := reckon(t, water.Nitrate(), "volume=10000 L", "from=tan", "tan=2 g/d", "tap=10 mg/L", "share=0 %", "now=20 mg/L")
	if _, ok := r.Value("plateau"); ok {
		t.Error("it settles")
	}
	book, passed := 20.0, 0.0
	for day := 1.0; day <= 28; day++ {
		if book += 2 * chemistry.NitratePerNitrogen / 10; book > 50 && passed == 0 { // g/d in m3
			passed = day
		}
	}
	if v := likely(t, r, "month"); math.Abs(v-book) > 1e-9*book {
		t.Errorf("after four weeks %v, by the book %v", v, book)
	}
	if v, ok := r.Value("until"); passed == 0 && ok && v.Likely < 28 {
		t.Errorf("it passes the level after %v days; not in a month by the book", v.Likely)
	}
	if advice := strings.Join(r.Advice, " "); !strings.Contains(advice, "never settles") {
		t.Errorf("%q", r.Advice)
	}
}

// What is advised is carried out, week by week, by a bookkeeper who knows none of
// the closed forms: wherever a change is named it holds the level, and where none
// could hold it none is advised.
func TestTheChangeAdvisedReachesItsAim(t *testing.T) {
	c := water.Nitrate()
	rapid.Check(t, func(rt *rapid.T) {
		volume := rapid.Float64Range(500, 50000).Draw(rt, "volume")
		load := rapid.Float64Range(0.1, 20).Draw(rt, "load") * volume / 10000
		tap, wanted := rapid.Float64Range(0, 80).Draw(rt, "tap"), rapid.Float64Range(10, 100).Draw(rt, "wanted")
		every := rapid.SampledFrom([]float64{1, 3.5, 7, 14}).Draw(rt, "every")
		share := rapid.Float64Range(1, 100).Draw(rt, "share")
		r := reckon(t, c, "volume="+number(volume)+" L", "from=tan", "tan="+number(load)+" g/d", "tap="+number(tap)+" mg/L",
			"share="+number(share)+" %", "every="+number(every)+" d", "wanted="+number(wanted)+" mg/L")
		settles := func(share float64) float64 { // the most that the kit shows, after years
			v := tap
			for range int(6000 / every) {
				for range int(every * 2) { // by half days
					v += load * chemistry.NitratePerNitrogen * 1000 / volume / 2
				}
				if v > 1e7 {
					break
				}
				v += share / 100 * (tap - v)
			}
			for range int(every * 2) {
				v += load * chemistry.NitratePerNitrogen * 1000 / volume / 2
			}
			return v
		}
		needed, ok := r.Value("share-needed")
		if ok && needed.Likely > 2 {
			if v := settles(needed.Likely); v > wanted*(1+1e-6) {
				rt.Errorf("%v %% is said to hold %v, and comes to %v", needed.Likely, wanted, v)
			}
		}
		if !ok && settles(100) < wanted*(1-1e-6) {
			rt.Errorf("no change is said to hold %v, and all the water does", wanted)
		}
		advice, level := strings.Join(r.Advice, " "), math.Min(wanted, 50)
		if strings.Contains(strings.ToLower(advice), "renew") && settles(50) > level*(1+1e-6) {
			rt.Errorf("more water is advised, and half of it at a time still comes to %v: %s", settles(50), advice)
		}
		if strings.Contains(advice, "holds it.") && settles(share) > level*(1+1e-6) {
			rt.Errorf("it is said to be held, and comes to %v: %s", settles(share), advice)
		}
	})
}
