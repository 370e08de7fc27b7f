package solve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestRootsOfClosedForms(t *testing.T) {
	for _, c := range []struct {
		name      string
		f         func(float64) float64
		low, high float64
		want      float64
	}{
		{"line", func(x float64) float64 { return 3*x - 1 }, -5, 5, 1.0 / 3},
		{"square root", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		{"falling", func(x float64) float64 { return 2 - x*x }, 0, 2, math.Sqrt2},
		{"logarithm", func(x float64) float64 { return math.Exp(x) - 10 }, 0, 10, math.Ln10},
		{"cosine", math.Cos, 0, 3, math.Pi / 2},
		{"flat at the root", func(x float64) float64 { return math.Pow(x-1, 3) }, 0, 3, 1},
		{"a step", func(x float64) float64 { return math.Copysign(1, x-0.7) }, 0, 1, 0.7},
		{"ends the wrong way round", func(x float64) float64 { return x*x - 2 }, 2, 0, math.Sqrt2},
		{"tiny", func(x float64) float64 { return x - 1e-9 }, 0, 1, 1e-9},
		{"at an end", func(x float64) float64 { return x }, 0, 1, 0},
		{"at the other end", func(x float64) float64 { return x - 1 }, 0, 1, 1},
	} {
		got, ok := Root(c.f, c.low, c.high)
		if !ok || math.Abs(got-c.want) > Tolerance*math.Abs(c.want) {
			t.Errorf("%s: %v, %v; want %v", c.name, got, ok, c.want)
		}
	}
}

func TestNoRootIsReported(t *testing.T) {
	nan := func(x float64) float64 { return math.Log(x) }
	for name, f := range map[string]func(float64) float64{
		"same sign":               func(x float64) float64 { return x*x + 1 },
		"not a number at the end": func(x float64) float64 { return nan(x - 0.5) },
		"not a number inside": func(x float64) float64 {
			if x == 0.5 {
				return math.NaN()
			}
			return x - 0.3
		},
	} {
		if x, ok := Root(f, 0, 1); ok || !math.IsNaN(x) {
			t.Errorf("%s: %v", name, x)
		}
	}
}

func TestCubesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(1e-3, 1e6).Draw(t, "root") // smaller ones underflow when cubed
		x, ok := Root(func(x float64) float64 { return x*x*x - want*want*want }, -2e6, 2e6)
		if !ok || math.Abs(x-want) > 1e-10*math.Abs(want) {
			t.Errorf("%v comes back as %v, %v", want, x, ok)
		}
	})
}
