package plumbing

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
)

// with returns the example of a calculator with some inputs replaced; an empty
// value takes an input out.
func with(c calculators.Calculator, pairs ...string) []calculators.Arg {
	args := question(c)
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	return args
}

func likely(t *testing.T, c calculators.Calculator, args []calculators.Arg, output string) float64 {
	t.Helper()
	_, r, err := c.Evaluate(args)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := r.Value(output)
	if !ok || v.Low > v.Likely || v.Likely > v.High {
		t.Fatalf("%s: %v, given %v", output, v, ok)
	}
	return v.Likely
}

func TestTrayKeepsBelowTheWantedDepth(t *testing.T) {
	c := HolesPerTray()
	n, h := likely(t, c, question(c), "holes"), likely(t, c, question(c), "head-blocked")
	if h > 60 || h < 60*math.Pow((n-1)/n, 2) {
		t.Errorf("%v holes give %v mm: not the least count for 60 mm", n, h)
	}
	if half, clean := likely(t, c, question(c), "head-half"), likely(t, c, question(c), "head-clean"); math.Abs(half-4*clean) > 1e-9*half {
		t.Errorf("half blocked %v, clean %v", half, clean)
	}
}

// The tray found by count, given back as a count, stands as deep.
func TestTrayBothWaysRound(t *testing.T) {
	c := HolesPerTray()
	n := likely(t, c, question(c), "holes")
	back := with(c, "find", "head", "head", "", "count", strconv.FormatFloat(n, 'f', -1, 64))
	for _, output := range []string{"head-clean", "head-blocked", "head-half", "reserve", "open-area", "pitch-square"} {
		if a, b := likely(t, c, question(c), output), likely(t, c, back, output); a != b {
			t.Errorf("%s: %v and %v", output, a, b)
		}
	}
}

func TestDrillsByNameEqualTheirSize(t *testing.T) {
	c := HolesPerTray()
	for _, d := range drills() {
		byName := with(c, "hole", "", "drill", d.name)
		bySize := with(c, "hole", d.label)
		a, b := likely(t, c, byName, "open-area"), likely(t, c, bySize, "open-area")
		if math.Abs(a-b) > 1e-9*a {
			t.Errorf("%s: %v by name, %v by size", d.name, a, b)
		}
	}
}

func TestTraySaysWhenItRunsOver(t *testing.T) {
	c := HolesPerTray()
	for side, says := range map[string]string{"20 mm": "all its holes open", "59 mm": "once the allowed share", "80 mm": "once half", "2000 mm": ""} {
		v, err := c.Reckon(with(c, "side", side))
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if strings.Contains(v.Advice[0], "run") {
			got = v.Advice[0]
		}
		if !strings.Contains(got, says) || (says == "") != (got == "") {
			t.Errorf("side %s: %q", side, got)
		}
	}
}

func TestTrayFlagsSmallHolesAndLowHeads(t *testing.T) {
	c := HolesPerTray()
	for _, k := range []struct {
		pairs []string
		flags int
	}{
		{[]string{"hole", "5 mm"}, 0}, {[]string{"hole", "4.9 mm"}, 1},
		{[]string{"head", "50 mm"}, 1}, {[]string{"hole", "4.9 mm", "head", "50 mm"}, 2},
	} {
		v, err := c.Reckon(with(c, k.pairs...))
		if err != nil || len(v.Flags) != k.flags {
			t.Errorf("%v: %v, %v", k.pairs, v.Flags, err)
		}
	}
}

func TestTrayRefusesWhatCannotBeDrilled(t *testing.T) {
	c := HolesPerTray()
	for input, pairs := range map[string][]string{
		"margin": {"margin", "180 mm"},
		"hole":   {"hole", "1 mm", "flow", "50 m3/h"},
	} {
		_, err := c.Reckon(with(c, pairs...))
		if err == nil || !strings.HasPrefix(err.Error(), input+": ") {
			t.Errorf("%v: %v", pairs, err)
		}
	}
	if _, err := c.Reckon(with(c, "margin", "179 mm")); err != nil {
		t.Error(err)
	}
}

func has(r calculators.Result, output string) bool {
	_, ok := r.Value(output)
	return ok
}

// What stands on the tray is its floor times its depth.
func TestTrayDrainsDownWhatStandsOnIt(t *testing.T) {
	c := HolesPerTray()
	square := with(c, "length", "500 mm", "width", "400 mm")
	if litres, depth := likely(t, c, square, "drain-down"), likely(t, c, square, "head-blocked"); math.Abs(litres-0.2*depth) > 1e-9*litres {
		t.Errorf("%v L at %v mm on 0.2 m2", litres, depth)
	}
}

// A tray whose holes are stopped one by one, with the water that the flow then piles
// up over the others reckoned here: the depth tells how many were stopped.
func TestTheDepthTellsHowManyHolesAreBlocked(t *testing.T) {
	c := HolesPerTray()
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 8, 64) }
	for stopped := 0.0; stopped <= 90; stopped += 9 {
		// Q = Cd n A sqrt(2 g h): 120 holes of 8 mm with Cd 0.7, 3,000 L/h.
		area := (120 - stopped) * math.Pi / 4 * 0.008 * 0.008
		depth := 1000 * math.Pow(3.0/3600/(0.7*area), 2) / (2 * 9.80665)
		pairs := []string{"find", "stopped", "head", "", "flow", "3000 L/h", "hole", "8 mm", "count", "120", "coefficient", "0.7", "depth", number(math.Max(depth, 1)) + " mm"}
		if depth < 1 {
			continue
		}
		if got := likely(t, c, with(c, pairs...), "stopped"); math.Abs(got-100*stopped/120) > 0.01 {
			t.Errorf("%v of 120 stopped: %v %%", stopped, got)
		}
		if got := likely(t, c, with(c, pairs...), "open"); got != 120-stopped {
			t.Errorf("%v of 120 stopped: %v open", stopped, got)
		}
	}
	// By the mark alone: four times the depth is half of the holes, whatever they are.
	for _, hole := range []string{"6 mm", "10 mm"} {
		if got := likely(t, c, with(c, "find", "stopped", "head", "", "hole", hole, "mark", "7 mm", "depth", "28 mm"), "stopped"); math.Abs(got-50) > 1e-9 {
			t.Errorf("%s: %v %% at four times the clean depth", hole, got)
		}
	}
}

// Water lower than over open holes is a wrong flow or count, and no holes less than
// none are blocked.
func TestLessThanNoHolesAreNotBlocked(t *testing.T) {
	c := HolesPerTray()
	_, r, err := c.Evaluate(with(c, "find", "stopped", "head", "", "flow", "4000 L/h", "hole", "6 mm", "count", "50", "depth", "5 mm"))
	if v, _ := r.Value("stopped"); err != nil || v.Likely != 0 || !strings.Contains(strings.Join(r.Flags, " "), "check the flow") {
		t.Errorf("%v, %q, %v", v, r.Flags, err)
	}
}
