package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func number(f float64) string { return strconv.FormatFloat(f, 'f', 2, 64) }

// More feed never needs less medium, in litres or in boxes, whatever the medium.
func TestMoreFeedNeverNeedsLessMedium(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		given := []string{"medium", rapid.SampledFrom(mediumNames()).Draw(rt, "medium"), "temperature", number(rapid.Float64Range(4, 30).Draw(rt, "temperature")) + " Cel", "flow", "20000 L/h"}
		little := rapid.Float64Range(1, 300).Draw(rt, "feed")
		much := rapid.Float64Range(little, 400).Draw(rt, "more")
		feed := func(v float64) []string {
			return append(given[:len(given):len(given)], "feed", number(v)+" g/d")
		}
		a, b := evaluate(t, feed(little)...), evaluate(t, feed(much)...)
		for _, name := range []string{"volume", "boxes", "surface-needed", "box-weight"} {
			if a, b := a[name], b[name]; b.Low < a.Low || b.Likely < a.Likely || b.High < a.High {
				rt.Errorf("%v, more feed %v", a, b)
			}
		}
	})
}

// Ripe medium as much as is needed carries the feed that it was reckoned for, and
// half of it half.
func TestRipeMediumCarriesWhatItWasReckonedFor(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		feed := rapid.Float64Range(5, 200).Draw(rt, "feed")
		given := []string{"feed", number(feed) + " g/d", "temperature", number(rapid.Float64Range(5, 28).Draw(rt, "temperature")) + " Cel", "flow", "20000 L/h"}
		needed := evaluate(t, given...)
		half := evaluate(t, append(given, "ripe", strconv.FormatFloat(needed["volume"].Likely/2, 'f', 6, 64)+" L")...)
		if got, want := half["carries"].Likely, needed["load"].Likely/2; math.Abs(got-want) > 1e-6*want {
			rt.Errorf("half of what %v g/d needs removes %v, want %v", feed, got, want)
		}
		if got := half["carries-feed"].Likely; math.Abs(got-feed/2) > 0.01 {
			rt.Errorf("half of what %v g/d needs carries %v", feed, got)
		}
	})
}

// A box of a plastic that is known by its surface weighs what plastic packing weighs
// wet (figure set hydraulics-bulk-density), not what stone does: 63 kg, once.
func TestAMediumByItsSurfaceDoesNotWeighAsStone(t *testing.T) {
	litres := 0.7 * 5.6 * 3.6 * 2.7
	v := evaluate(t, "medium", "own", "made", "plastic", "surface", "250 m2/m3")["box-weight"]
	done := 0
	for _, r := range reftest.Read(t, "hydraulics-bulk-density") {
		name := r.Text("material")
		if !strings.Contains(name, "plastic") || !strings.Contains(name, "drained wet with biofilm") {
			continue
		}
		done++
		low, high := r.Float("bulk density low [kg/m3]")*litres/1000, r.Float("bulk density high [kg/m3]")*litres/1000
		if v.Low > low*1.001 || v.High < high*0.999 {
			t.Errorf("%s: %v to %v kg, computed %v", r.Place, low, high, v)
		}
	}
	if done != 2 || v.High > 0.4*litres*1.001 {
		t.Errorf("%d rows, a box of %v L weighs %v", done, litres, v)
	}
	stone := evaluate(t, "medium", "own", "made", "stone", "surface", "250 m2/m3")["box-weight"]
	if stone.Low <= v.Low || stone.High < 2*v.High {
		t.Errorf("stone %v, plastic %v", stone, v)
	}
}

// Litres that were poured in count, whatever the box would hold.
func TestLitresOfABoxCount(t *testing.T) {
	v := evaluate(t, "litres", "20 L")
	if want := math.Ceil(v["volume"].Likely / 20); v["boxes"].Likely != want {
		t.Errorf("%v boxes of 20 L for %v L", v["boxes"].Likely, v["volume"].Likely)
	}
	for litres, doubted := range map[string]bool{"60 L": true, "54 L": false} { // the box holds 54.4
		_, r, err := Volume().Evaluate(with("litres", litres))
		if err != nil || strings.Contains(strings.Join(r.Flags, "\n"), "than its measures hold") != doubted {
			t.Errorf("%s: %v, %v", litres, r.Flags, err)
		}
	}
}

// What a filter has proven replaces what the film is thought to do, and leaves no
// range; a range that spans more than tenfold asks for it.
func TestAProvenFilterNarrowsTheVolume(t *testing.T) {
	v := evaluate(t, "proven", "0.8 g/d")["volume"]
	if v.Low != 100 || v.High != 100 {
		t.Errorf("80 g/d at 0.8 g/d a litre: %v", v)
	}
	says := func(pairs ...string) string {
		_, r, err := Volume().Evaluate(with(pairs...))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(r.Advice, "\n")
	}
	const asks = "narrows this most"
	wide := []string{"target", "0.12 mg/L", "temperature", "5 Cel", "flow", "20000 L/h"}
	if w := evaluate(t, wide...)["volume"]; w.High < wideRange*w.Low {
		t.Fatalf("no wide range: %v", w)
	}
	if got := says(wide...); !strings.Contains(got, asks) {
		t.Errorf("a wide range, and %s", got)
	}
	if got := says(append(wide, "proven", "0.2 g/d")...); strings.Contains(got, asks) {
		t.Errorf("proven, and %s", got)
	}
	if got := says(); strings.Contains(got, asks) {
		t.Errorf("a narrow range, and %s", got)
	}
}
