package catalog_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
)

// TestNoHazardCanBeDropped takes each declared hazard out of each calculator, one
// at a time, and demands that the set be refused: so a caution that is lost is
// found whatever else the calculator is tested for. It catches, among the rest,
// electricity dropped from the power cut, from the pump's cost or from the holes
// of a tray, toppling from the weight of the stack, chlorine from a water change.
func TestNoHazardCanBeDropped(t *testing.T) {
	for _, c := range catalog.All().All() {
		for i, h := range c.Hazards {
			if h == calculators.NoHazard {
				continue
			}
			less := c
			less.Hazards = slices.Delete(slices.Clone(c.Hazards), i, i+1)
			faults := fmt.Sprint(calculators.NewSet(less).Validate())
			if want := "leaves out the hazard " + string(h) + ", though"; len(less.Hazards) > 0 && !strings.Contains(faults, want) || faults == "[]" {
				t.Errorf("%s without %s: %s", c.ID, h, faults)
			}
		}
	}
}
