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
	Stays                       float64 // day from which both stay at their limits or below: 0 if neither ever rises over its own
	Down                        float64 // first day after both peaks on which they are
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
// infinite. Bacteria enough for the load let neither peak: what rises to where it
// settles and stays there is highest at the end. Tolerance is the error of a step,
// as a share.
// Figures: media-startup-ode and media-startup-ode-series (scipy-1.10.1).
func RunStartUp(s *StartUp, tanLimit, nitriteLimit, tolerance float64) Course {
	w := &watch{Course: Course{TANPeakDay: math.Inf(1), NitritePeakDay: math.Inf(1)}, limits: [2]float64{tanLimit, nitriteLimit}}
	s.follow(LongestStartUp, tolerance, w.see)
	if w.isOver {
		w.Stays = math.Inf(1)
	}
	w.Down = math.Max(w.Stays, math.Max(w.TANPeakDay, w.NitritePeakDay))
	return w.Course
}

// PeakOfNitrite returns the day on which nitrite is highest, infinite if it rises
// to LongestStartUp.
func PeakOfNitrite(s *StartUp, tolerance float64) float64 {
	peak := math.Inf(1)
	s.follow(LongestStartUp, tolerance, func(step *ode.Step) bool {
		share, ok := top(step, nitriteState)
		if ok {
			peak = day(step, share)
		}
		return !ok
	})
	return peak
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
	isOver bool       // one of them, at the end of the step
}

func (w *watch) see(s *ode.Step) bool {
	w.TANPeakDay, w.TANPeak = highest(s, tanState, w.TANPeakDay, w.TANPeak)
	w.NitritePeakDay, w.NitritePeak = highest(s, nitriteState, w.NitritePeakDay, w.NitritePeak)
	over := func(share float64) float64 {
		return math.Max(s.At(share, tanState)-w.limits[0], s.At(share, nitriteState)-w.limits[1])
	}
	if over(1) > 0 {
		w.isOver = true
		return true
	}
	if w.isOver {
		w.isOver = false
		w.Stays = s.To
		if share, ok := solve.Root(over, 0, 1); ok {
			w.Stays = day(s, share)
		}
	}
	return math.IsInf(w.TANPeakDay, 1) || math.IsInf(w.NitritePeakDay, 1)
}

// highest returns day and level of the highest peak so far, this step's among
// them; without a peak, no day and the highest level.
func highest(s *ode.Step, i int, at, level float64) (float64, float64) {
	if share, ok := top(s, i); ok && (math.IsInf(at, 1) || s.At(share, i) > level) {
		return day(s, share), s.At(share, i)
	}
	if math.IsInf(at, 1) {
		level = math.Max(level, s.After[i])
	}
	return at, level
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
