package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/water"
)

// A pond that leaks, drop by drop, and is topped up with fresh water loses the salt
// that the calculator reads the leak from; a meter that is off by its error still finds
// the leak in its range.
func TestLeakBySalt(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		volume := rapid.Float64Range(1000, 30000).Draw(rt, "volume")
		leak := rapid.Float64Range(0, 0.05).Draw(rt, "share of the pond lost in a day") * volume
		days := float64(rapid.IntRange(5, 40).Draw(rt, "days"))
		before := rapid.Float64Range(1, 3).Draw(rt, "salt")
		const steps = 20000
		salt := before * volume
		for range steps {
			salt -= salt / volume * leak * days / steps
		}
		wrong := rapid.Float64Range(-0.7, 0.7).Draw(rt, "errors of both readings, of the meter's")
		r := reckon(t, water.EvaporationOrLeak(), "surface=8 m2", "temperature=20 Cel", "air=20 Cel", "volume="+number(volume)+" L", "salt-time="+number(days)+" d",
			"salt-before="+number(before+0.05*wrong)+" g/L", "salt-after="+number(math.Min(salt/volume-0.05*wrong, before+0.05*wrong))+" g/L")
		v, ok := r.Value("leak-salt")
		if !ok || leak > v.High*(1+1e-3)+1e-6 || leak < v.Low*(1-1e-3) {
			rt.Errorf("%v L/d leak, found %v", leak, v)
		}
		all := strings.Join(r.Advice, "\n")
		if found := strings.Contains(all, "leave the pond as water"); found != (v.Low > 0) {
			rt.Errorf("%v: %q", v, all)
		}
	})
	if _, _, err := water.EvaporationOrLeak().Evaluate(arguments([]string{"surface=8 m2", "temperature=20 Cel", "air=20 Cel", "volume=9000 L", "salt-before=1 g/L", "salt-after=1.2 g/L"})); err == nil {
		t.Error("salt that rises is taken for a leak")
	}
}
