package pond_test

import (
	"math"
	"testing"

	"mereleaf/calculators/pond"
	"pgregory.net/rapid"
)

// size draws a measurement of a pond in m.
func size(t *rapid.T, name string) float64 { return rapid.Float64Range(0.1, 50).Draw(t, name) }

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b)) }

func TestDoublingEveryLengthMakesEightfold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, w, d := size(t, "length"), size(t, "width"), size(t, "depth")
		p, q := size(t, "bottom length"), size(t, "bottom width")
		for name, f := range map[string]func(k float64) float64{
			"RectanglePrism":   func(k float64) float64 { return pond.RectanglePrism(k*l, k*w, k*d) },
			"EllipticPrism":    func(k float64) float64 { return pond.EllipticPrism(k*l, k*w, k*d) },
			"SlopingRectangle": func(k float64) float64 { return pond.SlopingRectangle(k*l, k*w, k*p, k*q, k*d) },
			"SlopingEllipse":   func(k float64) float64 { return pond.SlopingEllipse(k*l, k*w, k*p, k*q, k*d) },
			"HalfEllipsoid":    func(k float64) float64 { return pond.HalfEllipsoid(k*l, k*w, k*d) },
			"SphericalCap":     func(k float64) float64 { return pond.SphericalCap(k*l, k*d) },
		} {
			if !near(f(2), 8*f(1)) {
				t.Fatalf("%s: %v doubled is %v", name, f(1), f(2))
			}
		}
	})
}

func TestShapesMeetWhereTheyMust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, w, d := size(t, "length"), size(t, "width"), size(t, "depth")
		r := size(t, "bottom radius")
		for name, pair := range map[string][2]float64{
			"sides that do not slope":      {pond.SlopingRectangle(l, w, l, w, d), pond.RectanglePrism(l, w, d)},
			"oval sides that do not slope": {pond.SlopingEllipse(l, w, l, w, d), pond.EllipticPrism(l, w, d)},
			"a circle":                     {pond.EllipseArea(l, l), math.Pi * (l / 2) * (l / 2)},
			"a pyramid":                    {pond.SlopingRectangle(l, w, 0, 0, d), l * w * d / 3},
			"a cone":                       {pond.SlopingEllipse(l, w, 0, 0, d), pond.EllipseArea(l, w) * d / 3},
			"a cone cut off":               {pond.SlopingEllipse(2*l, 2*l, 2*r, 2*r, d), math.Pi / 3 * d * (l*l + l*r + r*r)},
			"half a sphere":                {pond.SphericalCap(l, l), pond.HalfEllipsoid(2*l, 2*l, l)},
		} {
			if !near(pair[0], pair[1]) {
				t.Fatalf("%s: %v and %v", name, pair[0], pair[1])
			}
		}
	})
}

// A pond with sloping sides holds less than one with upright walls, more than
// a cone, and less than the mean of the areas at top and bottom would say.
func TestSlopingSidesHoldLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, w, d := size(t, "length"), size(t, "width"), size(t, "depth")
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		v := pond.SlopingRectangle(l, w, share*l, share*w, d)
		if v >= pond.RectanglePrism(l, w, d) || v <= pond.RectanglePrism(l, w, d)/3 || v >= d*l*w*(1+share*share)/2 {
			t.Fatalf("%v m3 of %v × %v × %v m, bottom %v of the top", v, l, w, d, share)
		}
	})
}

// Simpson's rules are exact for any cubic, for an odd number of steps too, the trapezoid rule for straight lines.
func TestRulesAreExactWhereTheyMustBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SliceOfN(rapid.Float64Range(0.1, 5), 4, 4).Draw(t, "coefficients")
		steps := rapid.IntRange(2, 13).Draw(t, "steps")
		step := rapid.Float64Range(0.1, 2).Draw(t, "step")
		var cubic, line, at []float64
		for i := range steps + 1 {
			x := float64(i) * step
			at = append(at, x)
			cubic = append(cubic, c[0]+x*(c[1]+x*(c[2]+x*c[3])))
			line = append(line, c[0]+c[1]*x)
		}
		x := float64(steps) * step
		if want := x * (c[0] + x*(c[1]/2+x*(c[2]/3+x*c[3]/4))); !near(pond.Simpson(cubic, step), want) {
			t.Fatalf("Simpson gives %v, the integral is %v", pond.Simpson(cubic, step), want)
		}
		if want := x * (c[0] + x*c[1]/2); !near(pond.Trapezoid(at, line), want) {
			t.Fatalf("Trapezoid gives %v, the integral is %v", pond.Trapezoid(at, line), want)
		}
	})
}

func TestRulesRefuseWhatTheyCannotDo(t *testing.T) {
	for _, values := range [][]float64{nil, {1}, {1, 2}} {
		if v := pond.Simpson(values, 1); !math.IsNaN(v) {
			t.Errorf("Simpson of %v is %v", values, v)
		}
	}
	if v := pond.Trapezoid([]float64{0, 1}, []float64{1, 2, 3}); !math.IsNaN(v) {
		t.Errorf("Trapezoid of two positions and three values is %v", v)
	}
	if v := pond.Trapezoid([]float64{0}, []float64{1}); !math.IsNaN(v) {
		t.Errorf("Trapezoid of one value is %v", v)
	}
}

func TestSaltBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, before, rise := rapid.Float64Range(0.1, 100).Draw(t, "salt"), rapid.Float64Range(0, 5).Draw(t, "before"), rapid.Float64Range(0.1, 5).Draw(t, "rise")
		v := pond.SaltVolume(m, before, before+rise)
		if math.Abs(pond.SaltVolume(2*m, before, before+rise)-2*v) > 1e-9*v {
			t.Fatalf("twice the salt for the same rise is not twice the water")
		}
		// What went in is what the water gained.
		if math.Abs(v*rise-m) > 1e-9*m*(1+before/rise) {
			t.Fatalf("%v m3 gaining %v g/L hold %v kg of salt, not %v", v, rise, v*rise, m)
		}
	})
}

// Water is heaviest near 4 Celsius.
func TestDensityHasItsGreatestValueNearFour(t *testing.T) {
	best := 0.0
	for c := 0.0; c <= 40; c += 0.01 {
		if pond.Density(c) > pond.Density(best) {
			best = c
		}
	}
	if best < 3.9 || best > 4.1 {
		t.Errorf("densest at %v Celsius", best)
	}
}
