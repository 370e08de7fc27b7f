package chemistry_test

import (
	"testing"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/reftest"
)

func TestConversionsAreThoseOfTheFigures(t *testing.T) {
	ratios := map[string]float64{
		"ammonia NH3 per N": chemistry.AmmoniaPerNitrogen, "ammonium NH4 per N": chemistry.AmmoniumPerNitrogen,
		"nitrite NO2 per N": chemistry.NitritePerNitrogen, "nitrate NO3 per N": chemistry.NitratePerNitrogen,
		"chloride per sodium chloride": 1 / chemistry.SaltPerChloride, "sodium chloride per chloride": chemistry.SaltPerChloride,
	}
	for _, row := range reftest.Read(t, "water-nitrogen-unit-conversions") {
		if ratio, ok := ratios[row.Text("conversion")]; ok {
			reftest.Near(t, row, ratio, "ratio [g/g]")
			delete(ratios, row.Text("conversion"))
		}
	}
	for name := range ratios {
		t.Errorf("no figure for %s", name)
	}
}
