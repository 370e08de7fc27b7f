package ode

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// linear returns the system dy/dt = A y.
func linear(n int, a ...float64) System {
	return System{
		Rates: func(y, rates []float64) {
			for i := range n {
				rates[i] = 0
				for j := range n {
					rates[i] += a[i*n+j] * y[j]
				}
			}
		},
		Jacobian: func(_, j []float64) { copy(j, a) },
	}
}

func logistic() System {
	return System{
		Rates:    func(y, rates []float64) { rates[0] = y[0] * (1 - y[0]) },
		Jacobian: func(y, j []float64) { j[0] = 1 - 2*y[0] },
	}
}

func always(*Step) bool { return true }

func follow(t testing.TB, f System, y []float64, end, tolerance float64) []float64 {
	t.Helper()
	small := make([]float64, len(y))
	for i := range small {
		small[i] = 1e-6
	}
	if !Solve(f, y, end, Control{tolerance, small, end / 1000}, always) {
		t.Fatal("not followed to the end")
	}
	return y
}

func TestClosedForms(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     System
		start []float64
		end   float64
		want  []float64
	}{
		{"decay", linear(1, -0.3), []float64{2}, 7, []float64{2 * math.Exp(-2.1)}},
		{"growth", linear(1, 0.5), []float64{1e-4}, 20, []float64{1e-4 * math.Exp(10)}},
		{"oscillation", linear(2, 0, 1, -1, 0), []float64{1, 0}, 10, []float64{math.Cos(10), -math.Sin(10)}},
		{"logistic growth", logistic(), []float64{1e-3}, 12, []float64{1 / (1 + 999*math.Exp(-12))}},
		// Bateman: a decays into b at rate 1, b away at rate 3.
		{"a chain", linear(2, -1, 0, 1, -3), []float64{1, 0}, 2, []float64{math.Exp(-2), (math.Exp(-2) - math.Exp(-6)) / 2}},
		// The pair needs its rows exchanged when it is solved.
		{"a zero on the diagonal", linear(2, 500, 1000, -1000, 0), []float64{1, 0}, 0.002, pivoted(0.002)},
		{"stiff by a million", linear(2, -1, 0, 1e6, -1e6), []float64{1, 0}, 3, []float64{math.Exp(-3), math.Exp(-3) / (1 - 1e-6)}},
	} {
		got := follow(t, c.f, c.start, c.end, 1e-9)
		for i := range c.want {
			if math.Abs(got[i]-c.want[i]) > 1e-7*math.Max(1e-6, math.Abs(c.want[i])) {
				t.Errorf("%s: y[%d] = %v, want %v", c.name, i, got[i], c.want[i])
			}
		}
	}
}

// pivoted is the closed form of dy/dt = (500 y0 + 1000 y1, -1000 y0) from (1, 0).
func pivoted(t float64) []float64 {
	const a = 250.0
	w := math.Sqrt(1e6 - a*a)
	grow := math.Exp(a * t)
	return []float64{grow * (math.Cos(w*t) + a/w*math.Sin(w*t)), -grow * 1000 / w * math.Sin(w*t)}
}

// A stiff system is followed with few steps: an explicit method would need a
// million.
func TestStiffSystemsNeedFewSteps(t *testing.T) {
	steps := 0
	y := []float64{1, 0}
	Solve(linear(2, -1, 0, 1e6, -1e6), y, 3, Control{1e-6, []float64{1e-6, 1e-6}, 1e-3}, func(*Step) bool { steps++; return true })
	if steps < 5 || steps > 300 {
		t.Errorf("%d steps", steps)
	}
}

// Half the step has a sixteenth of the error: the method is of order four.
func TestOrder(t *testing.T) {
	wrong := func(steps float64) float64 {
		y := []float64{0.1}
		w := newWork(logistic(), len(y))
		for range int(steps) {
			w.f.Rates(y, w.rates)
			w.linearise(y)
			w.try(y, 4/steps, Control{1, []float64{1}, 1})
			copy(y, w.next)
		}
		return math.Abs(y[0] - 1/(1+9*math.Exp(-4)))
	}
	for n := 64.0; n <= 512; n *= 2 {
		if order := math.Log2(wrong(n) / wrong(2*n)); order < 3.9 || order > 4.2 {
			t.Errorf("from %v steps to twice as many: order %.2f", n, order)
		}
	}
}

// The error found is that of the embedded formula: it goes with the fourth power
// of the step, and it is an error.
func TestErrorOfAStep(t *testing.T) {
	wrong := func(h float64) float64 {
		y := []float64{0.1}
		w := newWork(logistic(), len(y))
		w.f.Rates(y, w.rates)
		w.linearise(y)
		return w.try(y, h, Control{1, []float64{1}, 1})
	}
	if order := math.Log2(wrong(0.02) / wrong(0.01)); order < 3.8 || order > 4.2 {
		t.Errorf("the error goes with the power %.2f of the step", order)
	}
}

func TestTighterToleranceIsCloser(t *testing.T) {
	want := 1 / (1 + 999*math.Exp(-12))
	last := math.Inf(1)
	for _, tolerance := range []float64{1e-3, 1e-5, 1e-7, 1e-9} {
		wrong := math.Abs(follow(t, logistic(), []float64{1e-3}, 12, tolerance)[0] - want)
		if wrong > 30*tolerance || wrong >= last {
			t.Errorf("tolerance %g: wrong by %g", tolerance, wrong)
		}
		last = wrong
	}
}

func TestInsideAStep(t *testing.T) {
	y := []float64{1, 0}
	end := 0.0
	Solve(linear(2, 0, 1, -1, 0), y, 6, Control{1e-8, []float64{1e-3, 1e-3}, 0.01}, func(s *Step) bool {
		if s.From != end || s.To <= s.From {
			t.Fatalf("a step from %v to %v after %v", s.From, s.To, end)
		}
		end = s.To
		for _, share := range []float64{0, 0.3, 0.5, 1} {
			at := s.From + share*(s.To-s.From)
			if got := s.At(share, 0); math.Abs(got-math.Cos(at)) > 2e-6 {
				t.Errorf("at %v: %v, want %v", at, got, math.Cos(at))
			}
			if got := s.RateAt(share, 0); math.Abs(got+math.Sin(at)) > 1e-4 {
				t.Errorf("at %v: rate %v, want %v", at, got, -math.Sin(at))
			}
		}
		return true
	})
	if end != 6 {
		t.Errorf("ends at %v", end)
	}
}

func TestStopsWhereTold(t *testing.T) {
	y := []float64{1}
	stopped := 0.0
	if !Solve(linear(1, -1), y, 10, Control{1e-6, []float64{1e-6}, 0.01}, func(s *Step) bool { stopped = s.To; return s.To < 2 }) {
		t.Fatal("not followed")
	}
	if stopped < 2 || stopped > 5 || math.Abs(y[0]-math.Exp(-stopped)) > 1e-5 {
		t.Errorf("stopped at %v with %v", stopped, y[0])
	}
}

// What runs into infinity or is not a number is reported, not looped over.
func TestWhatCannotBeFollowed(t *testing.T) {
	blowUp := System{
		Rates:    func(y, rates []float64) { rates[0] = y[0] * y[0] },
		Jacobian: func(y, j []float64) { j[0] = 2 * y[0] },
	}
	if Solve(blowUp, []float64{1}, 2, Control{1e-6, []float64{1}, 0.01}, always) {
		t.Error("followed beyond the pole at 1")
	}
	nan := System{
		Rates:    func(_, rates []float64) { rates[0] = math.NaN() },
		Jacobian: func(_, j []float64) {},
	}
	if Solve(nan, []float64{1}, 2, Control{1e-6, []float64{1}, 0.01}, always) {
		t.Error("followed what is not a number")
	}
}

// Amounts that only move about keep their sum, whatever the rates.
func TestSumsAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := func(name string) float64 { return math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, name)) }
		ab, ba, bc := rate("ab"), rate("ba"), rate("bc")
		y := []float64{1, 0, 0}
		f := linear(3, -ab, ba, 0, ab, -ba-bc, 0, 0, bc, 0)
		if !Solve(f, y, 10, Control{1e-5, []float64{1e-4, 1e-4, 1e-4}, 1e-4}, always) {
			t.Fatal("not followed")
		}
		if sum := y[0] + y[1] + y[2]; math.Abs(sum-1) > 1e-9 {
			t.Errorf("the sum is %v", sum)
		}
	})
}
