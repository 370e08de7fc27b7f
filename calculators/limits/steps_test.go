package limits_test

import (
	"testing"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
)

// What the chapter of emergencies advises is what the calculators reckon with: each of
// its sizes that a calculator has too is the same figure.
func TestStepsOfEmergenciesAreThoseOfTheFigures(t *testing.T) {
	constants := map[string]float64{
		"water changed at a time for gasping fish":                         limits.ChangeGasps,
		"most water changed at one time":                                   limits.ChangeMost,
		"water changed at a time where the KH is low, or after a pH crash": limits.ChangeLeast,
		"KH given in a day after a pH crash":                               limits.KHStepCrash,
		"KH given in a day otherwise":                                      limits.KHStepDay,
		"test again while there is danger after":                           limits.RetestEmergency,
		"test again after acting in":                                       limits.RetestAct,
	}
	seen := 0
	for _, row := range reftest.Read(t, "advice-emergencies") {
		if want, ok := constants[row.Text("advice")]; ok {
			reftest.Near(t, row, want, "value")
			seen++
		}
	}
	if seen != len(constants) {
		t.Errorf("%d of the %d steps stand in the figures", seen, len(constants))
	}
}
