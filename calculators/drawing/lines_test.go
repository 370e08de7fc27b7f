package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/markup/markuptest"
)

func parabola(label string, factor float64) Series {
	s := Series{Label: label}
	for x := 0.0; x <= 10; x++ {
		s.Points = append(s.Points, Point{x, factor * x * x})
	}
	return s
}

func chart(series ...Series) Chart {
	return Chart{Title: "Square <law>", X: Axis{Label: "Side (m)", Low: 0, High: 10}, Y: Axis{Label: "Area (m²)"}, Series: series}
}

func TestSVG(t *testing.T) {
	all := markuptest.Elements(t, chart(parabola("once", 1), parabola("twice", 2)).SVG())
	svg := all[0]
	if svg.Name != "svg" || svg.Attrs["role"] != "img" || svg.Attrs["viewBox"] != "0 0 640 460" {
		t.Errorf("the drawing starts with %s %v", svg.Name, svg.Attrs)
	}
	if got := markuptest.Find(all, "title", "")[0].Text; got != "Square <law>" {
		t.Errorf("the title is %q", got)
	}
	desc := markuptest.Find(all, "desc", "")[0].Text
	for _, want := range []string{"Area (m²) over Side (m).", "once: from 0 at 0 to 100 at 10.", "twice: from 0 at 0 to 200 at 10."} {
		if !strings.Contains(desc, want) {
			t.Errorf("the description %q lacks %q", desc, want)
		}
	}
	paths := markuptest.Find(all, "path", "")
	if len(paths) != 3 || paths[1].Attrs["stroke-dasharray"] == paths[2].Attrs["stroke-dasharray"] {
		t.Errorf("the two lines are not told apart by dashes: %v", paths)
	}
	for _, e := range all {
		for name, value := range e.Attrs {
			colour := name == "fill" || name == "stroke" || name == "color"
			if colour && value != "none" && value != "currentColor" {
				t.Errorf("%s has the colour %q", e.Path, value)
			}
			if (name == "stroke-width" || name == "font-size") && e.Name != "g" {
				t.Errorf("%s has its own %s: one weight of line, one size of letter", e.Path, name)
			}
		}
	}
}

// The line must pass through its points: checked on the ticks, whose places and
// texts are the axis that a reader reads it off.
func TestPointsFallOnTicks(t *testing.T) {
	for _, log := range []bool{false, true} {
		s := newScale(1, 100, log, true)
		f := frame{left: 100, right: 500, top: 50, bottom: 350, x: newScale(0, 1, false, false), y: s}
		texts := s.texts()
		for i, tick := range s.ticks {
			shown, err := strconv.ParseFloat(strings.ReplaceAll(texts[i], ",", ""), 64)
			if err != nil {
				t.Fatal(err)
			}
			if f.up(shown) != f.up(tick) {
				t.Errorf("log %v: the tick %q is drawn at %g, its value at %g", log, texts[i], f.up(tick), f.up(shown))
			}
		}
		if f.up(s.low) != 350 || f.up(s.high) != 50 {
			t.Errorf("log %v: the axis ends at %g and %g", log, f.up(s.low), f.up(s.high))
		}
	}
	s := newScale(1, 100, true, true)
	if got := s.at(10); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("ten is at %g between one and a hundred on a logarithmic axis", got)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high  float64
		log, round bool
		want       string
	}{
		{0, 10, false, false, "0 2 4 6 8 10"},
		{6.5, 9.5, false, false, "7 8 9"},
		{0, 97, false, true, "0 20 40 60 80 100"},
		{0.002, 0.019, false, true, "0 0.005 0.010 0.015 0.020"},
		{-3, 4, false, true, "−4 −2 0 2 4"},
		{900, 1300, false, true, "900 1,000 1,100 1,200 1,300"},
		{0.03, 64, true, true, "0.01 0.1 1 10 100"},
		{0.3, 40, true, true, "0.2 0.5 1 2 5 10 20 50"},
		{5, 5, false, true, "2 3 4 5 6 7 8"},
		{5, 5, true, true, "2 5 10"},
	} {
		s := newScale(c.low, c.high, c.log, c.round)
		got := strings.Join(s.texts(), " ")
		// A zero is a zero with any decimals.
		if strings.Replace(got, "0 0.005", "0 0.005", 1) != c.want && got != c.want {
			t.Errorf("%g to %g, log %v: ticks %s; want %s", c.low, c.high, c.log, got, c.want)
		}
	}
}

func TestScaleHoldsItsValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := rapid.Bool().Draw(t, "log")
		a := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "a"))
		b := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "b"))
		low, high := math.Min(a, b), math.Max(a, b)
		s := newScale(low, high, log, true)
		const unseen = 1e-6 // of the axis: less than a thousandth of a pixel
		if s.at(low) < -unseen || s.at(high) > 1+unseen {
			t.Errorf("%g to %g, log %v: the axis from %g to %g does not hold them", low, high, log, s.low, s.high)
		}
		if len(s.ticks) < 2 || len(s.ticks) > 14 {
			t.Errorf("%g to %g, log %v: %d ticks", low, high, log, len(s.ticks))
		}
		texts := s.texts()
		if slices.Sort(texts); len(slices.Compact(texts)) != len(s.ticks) {
			t.Errorf("%g to %g, log %v: two ticks have one text: %q", low, high, log, texts)
		}
	})
}

func TestLineIsPartedWhereNothingCanBeDrawn(t *testing.T) {
	s := Series{Points: []Point{{0, 1}, {1, 10}, {2, math.NaN()}, {3, 10}, {4, -1}, {5, 100}, {6, math.Inf(1)}, {7, 100}}}
	c := chart(s)
	count := func(log bool) int {
		c.Y.Log = log
		all := markuptest.Elements(t, c.SVG())
		return strings.Count(markuptest.Find(all, "path", "")[1].Attrs["d"], "M")
	}
	if got := count(false); got != 3 {
		t.Errorf("the line has %d parts; want 3", got)
	}
	if got := count(true); got != 4 {
		t.Errorf("on a logarithmic axis the line has %d parts; want 4, for −1 has no place", got)
	}
}

func TestNothingToDraw(t *testing.T) {
	empty := chart(Series{})
	nan := chart(Series{Points: []Point{{1, math.NaN()}}})
	zero := chart(Series{Points: []Point{{1, 0}}})
	zero.Y.Log = true
	backwards := chart(parabola("", 1))
	backwards.X.High = -1
	for name, c := range map[string]Chart{"no points": empty, "not a number": nan, "zero on a logarithm": zero, "backwards": backwards, "no lines": chart()} {
		if got := c.SVG(); got != "" {
			t.Errorf("%s: %s", name, got)
		}
	}
}

func TestLabelsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.SliceOfN(rapid.Float64Range(50, 350), 1, 8).Draw(t, "places")
		moved := spread(places, letterSize, 50, 350)
		sorted := slices.Sorted(slices.Values(moved))
		for i := 1; i < len(sorted); i++ {
			if sorted[i]-sorted[i-1] < letterSize-1e-9 {
				t.Errorf("%v are %g apart", sorted[i-1:i+1], sorted[i]-sorted[i-1])
			}
		}
		if sorted[0] < 50-1e-9 || sorted[len(sorted)-1] > 350+1e-9 {
			t.Errorf("%v leave the drawing", sorted)
		}
		for i := range places {
			for j := range places {
				if places[i] < places[j] && moved[i] > moved[j] {
					t.Errorf("%g and %g change places", places[i], places[j])
				}
			}
		}
	})
}

func TestLongLabelsGoBelow(t *testing.T) {
	long := []string{"a label that is far too long to stand beside its line", "b"}
	all := markuptest.Elements(t, chart(parabola(long[0], 1), parabola(long[1], 2)).SVG())
	var got []string
	for _, e := range markuptest.Find(all, "text", "") {
		y, err := strconv.ParseFloat(e.Attrs["y"], 64)
		if err != nil {
			t.Fatal(err)
		}
		if y > height {
			got = append(got, e.Text)
		}
	}
	if want := []string{"a label that is far too long to stand", "beside its line", "b"}; !slices.Equal(got, want) {
		t.Errorf("below the drawing stand %q; want %q", got, want)
	}
	// Axes, two lines, and a sample of each.
	if n := len(markuptest.Find(all, "path", "")); n != 5 {
		t.Errorf("%d paths; want 5", n)
	}
}

// A long name of the upright axis takes two lines, and the chart begins below
// them.
func TestLongAxisNameIsWrapped(t *testing.T) {
	c := chart(parabola("", 1))
	short := markuptest.Find(markuptest.Elements(t, c.SVG()), "path", "")[0].Attrs["d"]
	c.Y.Label = "a name that is far too long to stand over an axis (L)"
	all := markuptest.Elements(t, c.SVG())
	var lines []string
	for _, e := range markuptest.Find(all, "text", "") {
		if e.Attrs["x"] == "0" {
			lines = append(lines, e.Text)
		}
	}
	if want := []string{"a name that is far too long to stand over an", "axis (L)"}; !slices.Equal(lines, want) {
		t.Errorf("the axis is named %q; want %q", lines, want)
	}
	if axes := markuptest.Find(all, "path", "")[0].Attrs["d"]; axes == short {
		t.Error("the chart does not make room")
	}
}

// The numbers of an axis must not touch each other on a phone.
func TestNumbersKeepApart(t *testing.T) {
	c := chart(parabola("a line with a long label", 12345), parabola("b", 1))
	c.X.High = 123456
	all := markuptest.Elements(t, c.SVG())
	end, n := math.Inf(-1), 0
	for _, e := range markuptest.Find(all, "text", "") {
		if e.Attrs["text-anchor"] != "middle" {
			continue
		}
		n++
		x, err := strconv.ParseFloat(e.Attrs["x"], 64)
		if err != nil {
			t.Fatal(err)
		}
		half := widest([]string{e.Text}) / 2
		if x-half < end || x+half > width {
			t.Errorf("%q touches its neighbour or leaves the drawing", e.Text)
		}
		end = x + half
	}
	if n < 2 {
		t.Errorf("the axis has %d numbers", n)
	}
}
