package plumbing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"mereleaf/calculators/internal/reftest"
)

func TestEnergyOfPumps(t *testing.T) {
	for _, r := range reftest.Read(t, "hydraulics-pump-energy") {
		hydraulic := HydraulicPower(r.Float("flow [L/s]")/1000, r.Float("head [m]"))
		reftest.Near(t, r, hydraulic, "hydraulic power [W]")
		power := ElectricPower(hydraulic, r.Float("wire-to-water efficiency [%]")/100)
		reftest.Near(t, r, power, "electric power [W]")
	}
	for _, r := range reftest.Read(t, "hydraulics-affinity") {
		reftest.Near(t, r, AffinityPower(r.Float("speed ratio [1]")), "power ratio [1]")
	}
	for _, r := range reftest.Read(t, "hydraulics-worked-examples") {
		if r.Text("example") != "hyd-12" {
			continue
		}
		flow, head, eta := wordedEnergy(t, r)
		reftest.Within(t, r, ElectricPower(HydraulicPower(flow/1000, head), eta/100), "expected", 1e-5)
	}
}

func TestEfficienciesAreThoseOfTheTable(t *testing.T) {
	kinds := map[string]string{"small submersible": "small", "pond submersible": "pond", "electronically commutated": "controlled", "external centrifugal": "pool"}
	seen := 0
	for _, r := range reftest.Read(t, "hydraulics-pump-efficiency") {
		for start, kind := range kinds {
			if !strings.HasPrefix(r.Text("pump"), start) {
				continue
			}
			seen++
			e := PumpEfficiency(kind)
			end := e.Low
			if strings.HasSuffix(r.Text("pump"), "high end") {
				end = e.High
			}
			reftest.Near(t, r, end, "wire-to-water efficiency [%]")
			if e.Likely != (e.Low+e.High)/2 {
				t.Errorf("%s: the likely efficiency is not the middle: %v", kind, e)
			}
		}
	}
	if seen != 2*len(kinds) {
		t.Errorf("%d of %d rows", seen, 2*len(kinds))
	}
	if PumpEfficiency("unheard-of") != (Spread{}) {
		t.Error("an unknown pump has an efficiency")
	}
}

func TestCostGoesWithPowerTimeAndPrice(t *testing.T) {
	c := RunningCost()
	cost := func(pairs ...string) float64 { return likely(t, c, with(c, pairs...), "cost-year") }
	base := cost()
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %v, not %v", what, got, want)
		}
	}
	near("half the hours", cost("hours", "12"), base/2)
	near("twice the power", cost("power", "124 W"), 2*base)
	near("half the price", cost("price", "0.15"), base/2)
	near("half the speed", cost("speed", "50 %"), base/8)
	near("ten watts", 6.2*likely(t, c, question(c), "ten-watts"), base)
	for _, nothing := range [][]string{{"hours", "0"}, {"days", "0"}, {"price", "0"}} {
		if v := cost(nothing...); v != 0 {
			t.Errorf("%v costs %v", nothing, v)
		}
	}
}

// Flow and head with an efficiency give the power that, measured, gives the same
// cost.
func TestCostBothWays(t *testing.T) {
	c := RunningCost()
	water := with(c, "power", "", "from", "water", "flow", "4000 L/h", "head", "2.3 m", "kind", "own", "efficiency", "25 %")
	power := likely(t, c, water, "power")
	if p := likely(t, c, water, "hydraulic"); math.Abs(p-power/4) > 1e-9*p {
		t.Errorf("a quarter of %v W is not %v W", power, p)
	}
	if a, b := likely(t, c, water, "cost-year"), likely(t, c, with(c), "cost-year")*power/62; math.Abs(a-b) > 1e-9*a {
		t.Errorf("%v and %v", a, b)
	}
}

func TestCostFlags(t *testing.T) {
	c := RunningCost()
	for flag, k := range map[string]struct{ with, not []string }{
		"cube of the speed": {[]string{"speed", "80 %"}, nil},
		"outside the range": {[]string{"speed", "49 %"}, []string{"speed", "50 %"}},
		"No published test": {[]string{"power", "", "from", "water", "flow", "4 m3/h", "head", "2 m"}, []string{"power", "", "from", "water", "flow", "4 m3/h", "head", "2 m", "kind", "own", "efficiency", "20 %"}},
	} {
		if flags := strings.Join(reckon(t, c, k.with...).Flags, " "); !strings.Contains(flags, flag) {
			t.Errorf("%v: %q is not in %q", k.with, flag, flags)
		}
		if flags := strings.Join(reckon(t, c, k.not...).Flags, " "); strings.Contains(flags, flag) {
			t.Errorf("%v: %q is in %q", k.not, flag, flags)
		}
	}
}

// wordedEnergy reads the worked example of a pump's energy.
func wordedEnergy(t *testing.T, r reftest.Row) (flow, head, efficiency float64) {
	t.Helper()
	if _, err := fmt.Sscanf(r.Text("inputs in words"), "%f L/s against %f m at %f %% wire-to-water", &flow, &head, &efficiency); err != nil {
		t.Fatalf("%s: %v", r.Place, err)
	}
	return flow, head, efficiency
}

func TestAPumpThatRestsIsWarnedOf(t *testing.T) {
	for hours, warned := range map[string]bool{"24": false, "23": true} {
		if got := strings.Contains(reckon(t, RunningCost(), "hours", hours).Advice[0], "stands still"); got != warned {
			t.Errorf("%s hours a day: %v", hours, got)
		}
	}
}
