package pond_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/pond"
)

// A dose weighed out for one volume and dissolved in another has the strength that is
// said, and the change that is told brings it down to what was meant.
func TestTrueStrengthAfterAWrongVolume(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		length, width := rapid.Float64Range(1, 8).Draw(rt, "length"), rapid.Float64Range(1, 5).Draw(rt, "width")
		dosed := rapid.Float64Range(500, 60000).Draw(rt, "litres dosed for")
		_, r, err := pond.Volume().Evaluate(args("shape", "rectangle", "length", metres(length), "width", metres(width), "depth", "1.2 m", "dosed-for", strings.TrimSuffix(metres(dosed), "m")+"L"))
		if err != nil {
			rt.Fatal(err)
		}
		value := func(output string) float64 {
			v, ok := r.Value(output)
			if !ok {
				rt.Fatalf("no %s", output)
			}
			return v.Likely
		}
		const meant = 2.0 // mg/L
		given := meant * dosed / (1000 * length * width * 1.2)
		if got := meant * value("strength") / 100; math.Abs(got/given-1) > 1e-9 {
			rt.Errorf("%v mg/L, the dose makes %v", got, given)
		}
		if after := given * (1 - value("too-much")/100); after > meant*(1+1e-9) && after > given*(1+1e-9) || given > meant && math.Abs(after/meant-1) > 1e-9 {
			rt.Errorf("after the change %v mg/L of %v, meant were %v", after, given, meant)
		}
		all := strings.Join(r.Advice, "\n")
		if tooMuch := strings.Contains(all, "There is too much"); tooMuch != (given > 1.2*meant*(1+1e-9)) && math.Abs(given/meant-1.2) > 1e-6 {
			rt.Errorf("%v mg/L of %v meant: %q", given, meant, all)
		}
	})
}

// Of gallons that do not say which, the careful litres give the smaller dose: for a
// pond in gallons the smaller pond, for a label the more water to a dose.
func TestUnknownGallonsGiveTheSmallerDose(t *testing.T) {
	for _, of := range []string{"pond", "label"} {
		_, r, err := pond.Units().Evaluate([]calculators.Arg{{Name: "kind", Value: "gallons"}, {Name: "gallons", Value: "1000"}, {Name: "gallons-of", Value: of}})
		if err != nil {
			t.Fatal(err)
		}
		v, _ := r.Value("litres")
		if math.Abs(v.Low-3785.411784) > 1e-6 || math.Abs(v.High-4546.09) > 1e-6 { // litres to the gallon: NIST SP 811, Appendix B.8
			t.Errorf("%v", v)
		}
		dose := func(litres float64) float64 {
			if of == "pond" {
				return 10 * litres / 1000 // 10 g to 1,000 L
			}
			return 10 * 9100 / litres // 10 g to so much, in 9,100 L
		}
		if dose(v.Likely) > math.Min(dose(v.Low), dose(v.High)) {
			t.Errorf("%s: %v L give %v g, the other gallon gives %v", of, v.Likely, dose(v.Likely), math.Min(dose(v.Low), dose(v.High)))
		}
	}
}
