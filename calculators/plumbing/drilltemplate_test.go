package plumbing

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
)

// Asked for as many holes as the tray needs, the template keeps the pitch that
// the calculator of holes in a tray found, or more.
func TestTemplateKeepsThePitchOfTheTray(t *testing.T) {
	tray, template := HolesPerTray(), DrillTemplate()
	for _, hole := range []string{"5 mm", "6 mm", "8 mm", "12 mm"} {
		asked := with(tray, "hole", hole)
		count := strconv.FormatFloat(likely(t, tray, asked, "holes"), 'f', -1, 64)
		for pattern, output := range map[string]string{"staggered": "pitch-staggered", "square": "pitch-square"} {
			want := likely(t, tray, asked, output)
			got := likely(t, template, with(template, "drill", "", "hole", hole, "count", count, "pattern", pattern), "pitch")
			if got < want*(1-1e-9) || got > 1.1*want {
				t.Errorf("%s holes of %s, %s: %v mm from hole to hole, in the tray %v mm", count, hole, pattern, got, want)
			}
		}
	}
}

// What is refused fits with the count that the refusal names, and with one more
// it does not.
func TestTemplateNamesTheCountThatFits(t *testing.T) {
	c := DrillTemplate()
	rapid.Check(t, func(t *rapid.T) {
		millimetres := func(name string, low, high int) string {
			return strconv.Itoa(rapid.IntRange(low, high).Draw(t, name)) + " mm"
		}
		args := []calculators.Arg{
			{Name: "length", Value: millimetres("length", 80, 600)}, {Name: "width", Value: millimetres("width", 80, 400)}, {Name: "margin", Value: "30 mm"},
			{Name: "count", Value: strconv.Itoa(rapid.IntRange(2, 300).Draw(t, "count"))}, {Name: "hole", Value: millimetres("hole", 1, 50)},
			{Name: "pattern", Value: rapid.SampledFrom([]string{"staggered", "square"}).Draw(t, "pattern")},
		}
		_, r, err := c.Evaluate(args)
		if err == nil {
			web, _ := r.Value("web")
			pitch, _ := r.Value("pitch")
			if hole := pitch.Likely - web.Likely; web.Likely < math.Max(3, hole)-1e-6 {
				t.Errorf("%v: %v mm left between holes of %v mm", args, web.Likely, hole)
			}
			return
		}
		_, rest, found := strings.Cut(err.Error(), "expected at most ")
		if !found {
			if !strings.HasPrefix(err.Error(), "hole: is too large for two holes") {
				t.Errorf("%v: %v", args, err)
			}
			return
		}
		fits, err := strconv.Atoi(strings.Fields(rest)[0])
		if err != nil {
			t.Fatal(err)
		}
		for more, refused := range []bool{false, true} {
			count := calculators.Arg{Name: "count", Value: strconv.Itoa(fits + more)}
			if _, _, err := c.Evaluate(calculators.With(args, count)); (err != nil) != refused {
				t.Errorf("%v with %s holes: %v", args, count.Value, err)
			}
		}
	})
}

func TestTemplateRefusesHolesInTheWall(t *testing.T) {
	c := DrillTemplate()
	for margin, refused := range map[string]bool{"0 mm": true, "6.9 mm": true, "7 mm": false, "179 mm": false, "180 mm": true} {
		_, err := c.Reckon(with(c, "margin", margin, "count", "2"))
		if refused != (err != nil && strings.HasPrefix(err.Error(), "margin: ")) || !refused && err != nil {
			t.Errorf("margin %s: %v", margin, err)
		}
	}
}

// The sheets are as many as said, of the paper asked for, and mirrored if the
// floor is marked from below.
func TestTemplateComesOnSheets(t *testing.T) {
	c := DrillTemplate()
	for _, k := range []struct{ paper, marked, class, says string }{
		{"a4", "above", `class="tile a4"`, "Mark it from above."}, {"letter", "below", `class="tile letter"`, "Mirrored: mark it from below."},
	} {
		args := with(c, "paper", k.paper, "marked", k.marked)
		v, err := c.Reckon(args)
		if err != nil {
			t.Fatal(err)
		}
		prints := v.Sheet[len(v.Sheet)-1].Prints
		if float64(len(prints)) != likely(t, c, args, "sheets") {
			t.Errorf("%d sheets", len(prints))
		}
		for _, tile := range prints {
			if !strings.Contains(tile, k.class) || !strings.Contains(tile, k.says) {
				t.Errorf("no %q or %q on %.200s", k.class, k.says, tile)
			}
		}
	}
}
