package media

import (
	"math"

	"mereleaf/calculators/internal/ode"
	"mereleaf/calculators/internal/solve"
)

// StartUp is a filter that begins with few bacteria. Bacteria sit on the media:
// water changes take none away.
type StartUp struct {
	Ammonia, Nitrite         Organism // at the water's temperature and oxygen
	Load                     float64  // ammonia nitrogen, mg per litre of pond a day
	Dilution                 float64  // share of the water changed, per day
	SeedAmmonia, SeedNitrite float64  // bacteria at the start, mg per litre of pond
}

// Course is what a filter goes through, in days and in mg/L of nitrogen.
type Course struct {
	TANPeakDay, TANPeak         float64
	NitritePeakDay, NitritePeak float64
	Down                        float64 // first day after both peaks with both at their limits or below
}

// LongestStartUp is the day on which a start-up is given up.
const LongestStartUp = 730.0

// Places in the state of a start-up.
const (
	tanState = iota
	nitriteState
	ammoniaState
	nitriteEaters
	startUpStates
)

// RunStartUp follows the start-up until ammonia and nitrite have peaked and come down
// to their limits in mg/L, to LongestStartUp at most. Days that do not come are
// infinite. Tolerance is the error of a step, as a share.
// Figures: media-startup-ode and media-startup-ode-series (scipy-1.10.1).
func RunStartUp(s *StartUp, tanLimit, nitriteLimit, tolerance float64) Course {
	w := &watch{Course: Course{TANPeakDay: math.Inf(1), NitritePeakDay: math.Inf(1), Down: math.Inf(1)}, limits: [2]float64{tanLimit, nitriteLimit}}
	s.follow(LongestStartUp, tolerance, w.see)
	return w.Course
}

// follow calls visit with every step to the day end. Values below a hundredth of
// a milligram of nitrogen need no more digits; those of the bacteria, which
// start from traces, do.
func (s *StartUp) follow(end, tolerance float64, visit func(*ode.Step) bool) {
	state := []float64{0, 0, s.SeedAmmonia, s.SeedNitrite}
	control := ode.Control{Tolerance: tolerance, Small: []float64{0.01, 0.01, 1e-12, 1e-12}, First: 0.01}
	ode.Solve(ode.System{Rates: func(y, rates []float64) { StartUpRates(s, y, rates) }, Jacobian: s.jacobian}, state, end, control, visit)
}

// StartUpRates puts the changes a day of a start-up into rates. Of both slices
// the elements are ammonia and nitrite nitrogen S, the bacteria X that live on
// ammonia and those that live on nitrite, all in mg/L.
//
//	dS1/dt = L - D S1 - q1        q1 = mu1 S1/(K1 + S1) X1/Y1
//	dS2/dt = q1 - D S2 - q2       q2 = mu2 S2/(K2 + S2) X2/Y2
//	dX1/dt = Y1 q1 - b1 X1        dX2/dt = Y2 q2 - b2 X2
//
// Growth by Monod's law as in metcalf-eddy-2014, without a lag and without
// inhibition.
func StartUpRates(s *StartUp, y, rates []float64) {
	a, n := &s.Ammonia, &s.Nitrite
	grownA := a.Growth * y[tanState] / (a.HalfNitrogen + y[tanState]) * y[ammoniaState]
	grownN := n.Growth * y[nitriteState] / (n.HalfNitrogen + y[nitriteState]) * y[nitriteEaters]
	rates[tanState] = s.Load - s.Dilution*y[tanState] - grownA/a.Yield
	rates[nitriteState] = grownA/a.Yield - s.Dilution*y[nitriteState] - grownN/n.Yield
	rates[ammoniaState] = grownA - a.Decay*y[ammoniaState]
	rates[nitriteEaters] = grownN - n.Decay*y[nitriteEaters]
}

func (s *StartUp) jacobian(y, j []float64) {
	a, n := &s.Ammonia, &s.Nitrite
	below, half := a.HalfNitrogen+y[tanState], a.Growth*y[tanState]/(a.HalfNitrogen+y[tanState])
	bySA, byXA := a.Growth*a.HalfNitrogen/(below*below)*y[ammoniaState], half
	below, half = n.HalfNitrogen+y[nitriteState], n.Growth*y[nitriteState]/(n.HalfNitrogen+y[nitriteState])
	bySN, byXN := n.Growth*n.HalfNitrogen/(below*below)*y[nitriteEaters], half

	row := j[tanState*startUpStates:]
	row[tanState], row[ammoniaState] = -s.Dilution-bySA/a.Yield, -byXA/a.Yield
	row = j[nitriteState*startUpStates:]
	row[tanState], row[ammoniaState] = bySA/a.Yield, byXA/a.Yield
	row[nitriteState], row[nitriteEaters] = -s.Dilution-bySN/n.Yield, -byXN/n.Yield
	row = j[ammoniaState*startUpStates:]
	row[tanState], row[ammoniaState] = bySA, byXA-a.Decay
	row = j[nitriteEaters*startUpStates:]
	row[nitriteState], row[nitriteEaters] = bySN, byXN-n.Decay
}

// watch notes the peaks as the steps go by, and the day when both are down.
type watch struct {
	Course
	limits [2]float64 // of ammonia and nitrite
}

func (w *watch) see(s *ode.Step) bool {
	if share, ok := top(s, tanState); ok && s.At(share, tanState) > w.TANPeak {
		w.TANPeakDay, w.TANPeak = day(s, share), s.At(share, tanState)
	}
	from := 0.0
	if share, ok := top(s, nitriteState); ok && s.At(share, nitriteState) > w.NitritePeak {
		w.NitritePeakDay, w.NitritePeak = day(s, share), s.At(share, nitriteState)
		from = share
	}
	over := func(share float64) float64 {
		return math.Max(s.At(share, tanState)-w.limits[0], s.At(share, nitriteState)-w.limits[1])
	}
	if math.IsInf(w.TANPeakDay, 1) || math.IsInf(w.NitritePeakDay, 1) || over(1) > 0 {
		return true
	}
	if share, ok := solve.Root(over, from, 1); ok {
		from = share
	}
	w.Down = day(s, from)
	return false
}

// day returns the time at a share of a step.
func day(s *ode.Step, share float64) float64 { return s.From + share*(s.To-s.From) }

// top returns the share of a step at which y[i] stops rising, if it does.
func top(s *ode.Step, i int) (float64, bool) {
	if !(s.RatesBefore[i] > 0 && s.RatesAfter[i] <= 0) {
		return 0, false
	}
	return solve.Root(func(share float64) float64 { return s.RateAt(share, i) }, 0, 1)
}
