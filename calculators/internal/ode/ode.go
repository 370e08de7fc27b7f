// Package ode follows systems of ordinary differential equations in time, stiff
// ones included.
//
// Method: Rosenbrock's of four stages and order four, with the coefficients of
// Shampine (1982) and an embedded formula of order three that tells the error of
// each step. It solves linear equations with the system's Jacobian instead of
// iterating, and is stable however stiff the system is. A step whose error is too
// large is taken again, shorter. The same start gives the same steps on every
// machine.
package ode

import "math"

// System is dy/dt = f(y), with time nowhere in f: a system that needs the time
// carries it as one more y with the rate 1.
type System struct {
	// Rates puts f(y) into rates, which is as long as y.
	Rates func(y, rates []float64)
	// Jacobian puts the derivative of rate i by y[j] into j[i*len(y)+j]. All of
	// j is 0 before.
	Jacobian func(y, j []float64)
}

// Step is a step that was taken. The slices are used again in the next one.
type Step struct {
	From, To                float64
	Before, After           []float64 // y at its ends
	RatesBefore, RatesAfter []float64
}

// At returns y[i] at a share of the step, 0 to 1, by the cubic that fits values
// and rates at both ends.
func (s *Step) At(share float64, i int) float64 {
	h, a, b := s.To-s.From, s.Before[i], s.After[i]
	u, v := share, 1-share
	return v*v*(1+2*u)*a + u*u*(1+2*v)*b + h*u*v*(v*s.RatesBefore[i]-u*s.RatesAfter[i])
}

// RateAt returns the rate of that cubic.
func (s *Step) RateAt(share float64, i int) float64 {
	u, v := share, 1-share
	return 6*u*v*(s.After[i]-s.Before[i])/(s.To-s.From) + v*(v-2*u)*s.RatesBefore[i] + u*(u-2*v)*s.RatesAfter[i]
}

// Control says how exactly a system is followed. The error of a step stays below
// Tolerance times y[i], or times Small[i] where y[i] is smaller than that.
type Control struct {
	Tolerance float64
	Small     []float64
	First     float64 // length of the first step that is tried
}

// Limits of a run.
const (
	maxSteps = 100000
	safety   = 0.9
	shorter  = 0.2 // a step that fails is repeated at least at this share of its length
	longer   = 4.0 // the next one is at most so many times longer
)

// Solve follows the system from y at time 0 to the time end and leaves y there.
// It calls visit after each step and stops early when that returns false. It
// reports false if the system cannot be followed so far: a rate is not finite,
// or the steps become endlessly many.
func Solve(f System, y []float64, end float64, c Control, visit func(*Step) bool) bool {
	w := newWork(f, len(y))
	s := &Step{Before: y, After: w.next, RatesBefore: w.rates, RatesAfter: w.nextRates}
	f.Rates(y, w.rates)
	h := math.Min(c.First, end)
	w.linearise(y)
	for range maxSteps {
		if s.From >= end {
			return true
		}
		h = math.Min(h, end-s.From)
		wrong := w.try(y, h, c)
		if !(wrong <= 1) {
			h *= clamp(safety*math.Pow(wrong, -1.0/3), shorter, safety)
			continue
		}
		s.To = s.From + h
		if end-s.To < 1e-12*end {
			s.To = end
		}
		f.Rates(w.next, w.nextRates)
		on := visit(s)
		copy(y, w.next)
		copy(w.rates, w.nextRates)
		s.From = s.To
		if !on {
			return true
		}
		w.linearise(y)
		h *= clamp(safety*math.Pow(wrong, -1.0/4), shorter, longer)
	}
	return false
}

// clamp takes what is not a number for low: a step into infinity is repeated
// much shorter.
func clamp(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return math.Min(x, high)
}
