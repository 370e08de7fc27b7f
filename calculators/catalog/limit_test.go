package catalog_test

import (
	"math"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// A default must be text, because it is shown and parsed as a reader's own. Those
// that are limits say what the table of limits says.
func TestDefaultsThatAreLimitsAreThoseOfTheTable(t *testing.T) {
	wanted := map[string]float64{
		"target": limits.MatureAmmonia, "volume-error": limits.VolumeError, "tap-chlorine": limits.TapMost,
		"ammonia-after-ph.limit": limits.AmmoniaAct, "bicarbonate-dose.step": limits.KHStepDay, "free-ammonia.ph-error": water.KitPHError,
	}
	for _, c := range catalog.All().All() {
		for _, d := range c.Inputs {
			want, ok := wanted[c.ID+"."+d.Name]
			if !ok {
				want, ok = wanted[d.Fact]
			}
			if !ok || d.Default == "" {
				continue
			}
			q, err := quantity.Parse(d.Default, d.Kind, d.Units())
			if err != nil {
				t.Errorf("%s.%s: %v", c.ID, d.Name, err)
				continue
			}
			if got := q.Unit.Convert(q.Value, quantity.MustUnit(d.UnitCode())); math.Abs(got-want) > 1e-12 {
				t.Errorf("%s.%s has the default %s, the table of limits %v", c.ID, d.Name, d.Default, want)
			}
			delete(wanted, c.ID+"."+d.Name)
		}
	}
	for name := range wanted {
		if name != "target" && name != "volume-error" && name != "tap-chlorine" {
			t.Errorf("there is no %s with a default", name)
		}
	}
}
