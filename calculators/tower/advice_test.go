package tower_test

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/tower"
)

// line returns what a sheet says beside a label, "" if nothing.
func line(r calculators.Result, label string) string {
	for _, section := range r.Sheet {
		for _, l := range section.Lines {
			if l.Label == label {
				return l.Text
			}
		}
	}
	return ""
}

// A tap of 45 mg/L, legal in Europe, leaves no room for a weekly change; with none
// changed nothing settles. Neither is an advice to change 0 %.
func TestNoChangeOfNothingIsAdvised(t *testing.T) {
	for given, says := range map[string]string{
		"tap-nitrate=45 mg/L": "No weekly change holds 50\u00a0mg/L",
		"tap-nitrate=60 mg/L": "No change of this water holds 50\u00a0mg/L",
		"fish=koi, 45 cm, 20": "No weekly change holds 50\u00a0mg/L",
		"change=0 %":          "never settles",
		"tap-nitrate=20 mg/L": "a week to hold 50\u00a0mg/L",
		"feed=150 g/d":        "twice a week to hold 50\u00a0mg/L",
	} {
		r := plan(t, given)
		warnings := strings.Join(r.Flags, "\n")
		if !strings.Contains(warnings, says) || strings.Contains(warnings, "hange 0\u00a0%") || strings.Contains(warnings, "No ") && strings.Contains(warnings, "to hold") {
			t.Errorf("%s: the sheet warns:\n%s", given, warnings)
		}
	}
	r := plan(t, "change=0 %")
	if text := line(r, "Nitrate in the long run, as NO3"); text != "" {
		t.Errorf("with nothing changed it comes to %s", text)
	}
	if text := line(r, "Nitrate in the long run"); !strings.HasPrefix(text, "never settles") {
		t.Errorf("with nothing changed: %q", text)
	}
}

// number returns the first number behind some words of a text.
func number(text, behind string) (float64, bool) {
	_, after, ok := strings.Cut(text, behind)
	if !ok {
		return 0, false
	}
	after = strings.ReplaceAll(after, "\u00a0", " ")
	v, err := strconv.ParseFloat(strings.ReplaceAll(strings.FieldsFunc(after, func(c rune) bool { return c == ' ' || c == '%' })[0], ",", ""), 64)
	return v, err == nil
}

// What the sheet advises against nitrate is carried out week by week, by a sum of
// its own: the pond comes to 50 mg/L or less, and where no change is advised none
// gets there. The nitrogen of the feed is 0.092 of its protein (Timmons and Ebeling
// 2010), and each gram becomes 62.004/14.007 g of nitrate.
func TestTheWaterChangeOfTheSheetReachesItsAim(t *testing.T) {
	t.Parallel()
	advised, refused := 0, 0
	one := func(t *rapid.T) {
		tap := float64(rapid.IntRange(0, 60).Draw(t, "tap"))
		change := rapid.SampledFrom([]string{"0", "5", "20", "60"}).Draw(t, "change")
		given := append(pond(t), args("tap-nitrate="+strconv.FormatFloat(tap, 'f', 0, 64)+" mg/L", "change="+change+" %", "size-for=now")...)
		litres := 0.0
		var stated []calculators.Arg // the pond draws a change of its own
		for _, a := range given {
			stated = calculators.With(stated, a)
			if a.Name == "volume" {
				litres, _ = strconv.ParseFloat(strings.TrimSuffix(a.Value, " L"), 64)
			}
		}
		_, r, err := tower.Tower().Evaluate(stated)
		if err != nil {
			return
		}
		feed := likely(r, "eaten")
		daily := feed * 0.36 * 0.092 * 62.004 / 14.007 * 1000 / litres // mg/L
		settles := func(share float64, days int) float64 {
			before, after := tap, tap
			for range 4000 {
				before = after + daily*float64(days)/2
				after = before + share/100*(tap-before)
			}
			return before
		}
		warnings := strings.Join(r.Flags, "\n")
		// Half days, so that twice a week is every seven of them.
		if share, ok := number(warnings, "Change "); ok {
			days := 14
			if strings.Contains(warnings, "twice a week to hold") {
				days = 7
			}
			advised++
			if v := settles(share, days); v > 50*1.006 || share > 50 || share <= 0 {
				t.Fatalf("%v: %v %% every %v half days comes to %v:\n%s", stated, share, days, v, warnings)
			}
		} else if strings.Contains(warnings, "weekly change holds") || strings.Contains(warnings, "change of this water holds") {
			refused++
			if v := settles(100, 14); v < 50*0.994 {
				t.Fatalf("%v: all the water each week would hold %v:\n%s", stated, v, warnings)
			}
		} else if share, _ := strconv.ParseFloat(change, 64); share == 0 && daily > 0 || share > 0 && settles(share, 14) > 50*1.006 {
			t.Fatalf("%v: nothing is said of a nitrate of %v", stated, settles(share, 14))
		}
	}
	ponds := 200
	if testing.Short() { // with many seeds, or the race detector
		ponds = 20
	}
	// A few ponds may all be of one kind; some dozens are not.
	for tries := 0; advised+refused < ponds || tries < 50 && (advised == 0 || refused == 0); tries++ {
		rapid.Check(t, one)
		if t.Failed() {
			return
		}
	}
	t.Logf("%d changes advised, %d times none", advised, refused)
	if advised == 0 || refused == 0 {
		t.Error("the ponds drawn do not try both sides")
	}
}

// Five boxes in each of two stacks are not five in all.
func TestBoxesOfAllStacksAreCounted(t *testing.T) {
	r := plan(t, "fish=koi, 25 cm, 12", "points=0 L/h, 1.36 m; 3000 L/h, 1.06 m; 6000 L/h, 0.14 m")
	if likely(r, "stacks") < 2 || !strings.Contains(r.Advice[0], "2 stacks of 3 boxes, side by side (6 in all)") {
		t.Errorf("%v stacks: %q", likely(r, "stacks"), r.Advice[0])
	}
	if r := plan(t); !strings.Contains(r.Advice[0], "1 stack of 5 boxes,") {
		t.Errorf("%q", r.Advice[0])
	}
}

// A tower that carries little more than the fish eat says how much, and one whose
// range passes under it says that; one that carries far more says nothing.
func TestAThinMarginIsSaid(t *testing.T) {
	for given, says := range map[string]bool{"fish=koi, 30 cm, 20": true, "fish=koi, 20 cm, 1": false} {
		r := plan(t, given, "media=plastic-packing, 1")
		carries, _ := r.Value("carries")
		if text := strings.Join(r.Advice, " "); likely(r, "faults") > 0 || strings.Contains(text, "margin") != says || says != (carries.Low < likely(r, "eaten")) {
			t.Errorf("%s, which carries %v of %v: %s", given, carries, likely(r, "eaten"), text)
		}
	}
}

// The weight from which it is reckoned whether the stack stands is beside that
// which one finds: the least that drained boxes weigh.
func TestTheWeightThatStandsIsPrinted(t *testing.T) {
	r := plan(t)
	found, fault := replay(r)
	if fault != "" {
		t.Fatal(fault)
	}
	want := calculators.ShowOutput(calculators.Output{Unit: "kg", Digits: 3}, input(found["stack-tipping"], "drained"))
	if text := line(r, "Stack drained, at its lightest: by this it stands or tips"); text != want {
		t.Errorf("%q is printed, %s is reckoned with", text, want)
	}
}
