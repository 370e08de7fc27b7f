package plumbing

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

// Another program's answers for one pump and for two of them in the same pipe
// (networks n02 and p01): what the second pump adds must be the same. Each of
// its flows is within 0.15 % of ours, so their ratio is within twice that.
func TestSecondPumpAddsWhatAnotherProgramFinds(t *testing.T) {
	var two, one reftest.Row
	for _, r := range reftest.Read(t, "hydraulics-epanet-operating-points") {
		switch r.Text("network") {
		case "n02":
			one = r
		case "p01":
			two = r
		}
	}
	flow := func(r reftest.Row) float64 {
		pipe := networkPipe(r, "1")
		return 1000 * WorkingFlow(networkCurve(t, r), r.Float("static lift [m]"), func(q float64) float64 {
			_, loss, _ := pipe.HeadLoss(q, r.Float("kinematic viscosity [m2/s]"))
			return loss.Total()
		})
	}
	reftest.Within(t, one, flow(one), "flow [L/s]", 0.0015)
	reftest.Within(t, two, flow(two), "flow [L/s]", 0.0015)
	printed := two.Float("flow [L/s]") / one.Float("flow [L/s]")
	if ours := flow(two) / flow(one); math.Abs(ours-printed) > 0.003*printed {
		t.Errorf("%s: the second pump brings %v times the flow, printed %v", two.Place, ours, printed)
	}
}

func TestTwoPumpsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		p, nu := drawPipe(t)
		loss := func(q float64) float64 { _, l, _ := p.HeadLoss(q, nu); return l.Total() }
		lift := rapid.Float64Range(0, 2.4*c.Head(0)).Draw(t, "lift")
		one, inLine := WorkingFlow(c, lift, loss), WorkingFlow(SeriesCurve{c, 2}, lift, loss)
		if (inLine > 0) != (lift < 2*c.Head(0)) {
			t.Fatalf("lift %v, shut-off of two in line %v, flow %v", lift, 2*c.Head(0), inLine)
		}
		if inLine < one {
			t.Errorf("two in line bring %v, one %v", inLine, one)
		}
		// At twice the lift and twice the loss two in line do what one does.
		same := WorkingFlow(SeriesCurve{c, 2}, 2*lift, func(q float64) float64 { return 2 * loss(q) })
		if math.Abs(same-one) > 1e-9*one {
			t.Errorf("%v, not %v", same, one)
		}
	})
}

func TestTwoPumpsAgainstTheSinglePump(t *testing.T) {
	c, single := TwoPumps(), PumpWorkingPoint()
	for _, lift := range []string{"0 m", "1.6 m", "2.5 m"} {
		args := with(c, "lift", lift)
		one, two := likely(t, c, args, "one"), likely(t, c, args, "side-by-side")
		if s := likely(t, single, with(single, "lift", lift), "flow"); s != one {
			t.Errorf("lift %s: one pump %v, alone %v", lift, one, s)
		}
		if s := likely(t, single, with(single, "lift", lift, "pumps", "two"), "flow"); s != two {
			t.Errorf("lift %s: two pumps %v, by the other calculator %v", lift, two, s)
		}
		if g := likely(t, c, args, "gain"); math.Abs(two-one*(1+g/100)) > 1e-9*two || g <= 0 || g >= 100 {
			t.Errorf("lift %s: %v and %v is a gain of %v %%", lift, one, two, g)
		}
		if own := likely(t, c, args, "own-pipes"); own != 2*one {
			t.Errorf("lift %s: with a pipe each %v, one %v", lift, own, one)
		}
		if pipe := likely(t, c, args, "second-pipe"); pipe <= one {
			t.Errorf("lift %s: a second pipe brings %v, one pipe %v", lift, pipe, one)
		}
	}
}

func TestTwoPumpsThatCannotLift(t *testing.T) {
	c := TwoPumps()
	v := reckon(t, c, "lift", "3.2 m")
	if v.Values[0].Text != "0\u00a0L/h" || !strings.Contains(v.Advice[0], "in line") && !strings.Contains(v.Advice[0], "In line") {
		t.Errorf("at the shut-off head: %v, %q", v.Values[0], v.Advice)
	}
	if likely(t, c, with(c, "lift", "3.2 m"), "in-line") <= 0 {
		t.Error("two in line do not lift what one cannot")
	}
	if v := reckon(t, c, "lift", "3.19 m"); v.Values[0].Text == "0\u00a0L/h" {
		t.Error("just below it nothing comes")
	}
}

func TestTwoPumpsFlags(t *testing.T) {
	c := TwoPumps()
	short := reckon(t, c, "points", "0 L/h, 3.2 m; 2000 L/h, 2.8 m").Flags
	whole := reckon(t, c, "points", "0 L/h, 3.2 m; 2000 L/h, 2.8 m; 6000 L/h, 0.4 m").Flags
	if len(short) != 1 || !strings.Contains(short[0], "beyond the last point") || len(whole) != 0 {
		t.Errorf("%q and %q", short, whole)
	}
	guess := reckon(t, c, "pump", "largest", "points", "", "largest-flow", "6 m3/h", "largest-head", "3 m").Flags
	if len(guess) != 1 || !strings.Contains(guess[0], "guessed") {
		t.Errorf("%q", guess)
	}
}
