package readings

import (
	"math"

	"mereleaf/calculators/water"
)

// Shares of water at a time: common practice.
const (
	half    = 0.5  // the most
	quarter = 0.25 // a usual part change, when no reading says how much
	tenth   = 0.1  // where the water must change slowly
)

// Steps of the pond's temperature that one change may make, in degrees Celsius:
// a fall of more than 1 a day may hurt (aquarium-water-maintenance); the larger
// one, against a danger that kills sooner, is common practice.
const (
	gentleStep = 1.0
	dangerStep = 3.0
)

// largestPHStep is how far the new water's pH may differ before changes are to
// be small: eu-2006-44, Annex I, note a.
const largestPHStep = 0.5

// ShareForStep returns the largest share of water, 0 to 1, to renew in one go so
// that the pond's temperature moves by at most the given step; all in degrees
// Celsius, the step above 0. It is the heat balance of one mixed change.
func ShareForStep(pond, replacement, step float64) float64 {
	difference := math.Abs(replacement - pond)
	if difference <= step {
		return 1
	}
	return step / difference
}

// change works out the water to change in all and now, at most the given share.
func (s *survey) change(most float64) {
	s.needed = s.shareNeeded()
	s.now = min(s.needed, most)
	if s.level[chlorine] >= act {
		s.now = 0 // the tap may be where it comes from
	}
}

// shareNeeded returns the share of water that the readings and the fish ask
// for, with new water that is like the pond's but holds nothing bad.
func (s *survey) shareNeeded() float64 {
	share := 0.0
	if s.level[ammonia] >= act {
		share = max(share, tenth, water.ChangeNeeded(s.value[ammonia], ammoniaGood))
	}
	if s.level[nitrite] >= act {
		share = max(share, tenth, water.ChangeNeeded(s.value[nitrite], nitriteAct))
	}
	if s.worstOf(fish, oxygen) == danger {
		share = max(share, quarter)
	}
	if s.value[acidity] <= acidDanger || s.heatAct() {
		share = max(share, tenth)
	}
	return share
}

// mostAtOnce returns the largest share of water to change at a time, and what
// holds it to less than half.
func (s *survey) mostAtOnce() (most float64, why string) {
	most = half
	if s.in.Has("tap-temperature") && s.tested(temperature) {
		step := gentleStep
		if s.worst == danger {
			step = dangerStep
		}
		if share := ShareForStep(s.t, s.in.In("tap-temperature", "Cel"), step); share < most {
			most, why = share, "The new water's temperature allows no more at a time: run it in over hours."
		}
	}
	tap := s.in.In("tap-ph", "[pH]")
	switch {
	case tap > s.ph+phError && (s.ammoniaShows() || s.level[ammonia] > inOrder):
		if most > tenth {
			most, why = tenth, "The new water's pH is higher and makes the ammonia more toxic: a little at a time, and test pH after each."
		}
	case math.Abs(tap-s.value[acidity]) > largestPHStep && most > quarter:
		most, why = quarter, "The new water's pH differs by more than 0.5: no more at a time."
	}
	if s.lowBuffer() {
		limit := tenth
		if s.worst == danger && math.Abs(tap-s.value[acidity]) <= phError {
			limit = quarter // like water makes no leap, and the danger does not wait
		}
		if most > limit {
			most, why = limit, "With so little KH a large change makes the pH jump: a little at a time, and test pH after each."
		}
	}
	return most, why
}
