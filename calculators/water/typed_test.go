package water_test

import (
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// One reading of KH, written in each unit, is one reading. The factors are those of
// the table in karrasch-eckert-2009, which TestDegreesOfHardnessAgreeWithTheTable of
// package quantity compares.
func TestKHIsReadInTheUnitItIsTypedIn(t *testing.T) {
	for _, c := range []struct {
		of        calculators.Calculator
		one, same []string
		output    string
	}{
		{water.HardnessUnits(), []string{"amount=3dKH"}, []string{"amount=3", "unit=german"}, "caco3"},
		{water.HardnessUnits(), []string{"amount=5 °fH"}, []string{"amount=5", "unit=french"}, "caco3"},
		{water.HardnessUnits(), []string{"amount=54 ppm"}, []string{"amount=54", "unit=caco3"}, "german"},
		{water.HardnessUnits(), []string{"amount=1,5 meq/L"}, []string{"amount=1.5", "unit=meq"}, "german"},
		{water.HardnessUnits(), []string{"amount=3 °dH", "unit=french"}, []string{"amount=3", "unit=german"}, "caco3"},
		{water.CarbonDioxideInWater(), []string{"ph=7.2", "temperature=20 Cel", "alkalinity=5 °dH"}, []string{"ph=7.2", "temperature=20 Cel", "kh-in=german", "degrees=5"}, "carbon-dioxide"},
		{water.CarbonDioxideInWater(), []string{"ph=7.2", "temperature=20 Cel", "kh-in=german", "degrees=100 ppm"}, []string{"ph=7.2", "temperature=20 Cel", "alkalinity=100 mg/L"}, "carbon-dioxide"},
	} {
		if a, b := found(t, c.of, c.output, c.one), found(t, c.of, c.output, c.same); a/b-1 > 1e-12 || b/a-1 > 1e-12 {
			t.Errorf("%s %v gives %v, and %v gives %v", c.of.ID, c.one, a, c.same, b)
		}
	}
}

// The units by which the grammar reads hardness are those of the calculator.
func TestUnitsOfHardnessAreDeclaredOnce(t *testing.T) {
	for _, as := range water.CountsAs("unit", "caco3", "german", "french", "english", "meq", "us-grain").As {
		got, want := quantity.MustUnit(as.Code).ToSI(1)*1000, water.AsCaCO3(as.Option)
		if got/want-1 > 1e-12 || want/got-1 > 1e-12 {
			t.Errorf("%s is %v mg/L, and %s is %v", as.Code, got, as.Option, want)
		}
	}
}

func found(t *testing.T, c calculators.Calculator, output string, texts []string) float64 {
	t.Helper()
	v, ok := reckon(t, c, texts...).Value(output)
	if !ok {
		t.Fatalf("%s has no %s", c.ID, output)
	}
	return v.Likely
}
