package readings

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
)

// Shares of water at a time.
const (
	half    = limits.ChangeMost / 100
	quarter = limits.ChangeUsual / 100
	fifth   = limits.ChangeGasps / 100
	tenth   = limits.ChangeLeast / 100
)

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
	s.needed = s.wanted()
	s.now = min(s.needed, most)
	if s.harms(s.now) || s.level[ammonia] >= act && !s.fresh.Told() {
		s.needed, s.now = 0, 0
	}
	if s.level[chlorine] >= act {
		s.now = 0 // the tap may be where it comes from
	}
}

// wanted returns the share of water that the readings and the fish ask for, as far
// as this new water can give it.
func (s *survey) wanted() float64 {
	share, most := 0.0, 0.0
	if s.level[ammonia] >= act {
		most, s.aim = s.ammoniaShare()
		share = max(share, most)
	}
	if s.level[nitrite] >= act {
		most, s.aimed = s.nitriteShare()
		share = max(share, most)
	}
	if s.worstOf(fish, oxygen) == danger {
		share = max(share, fifth)
	}
	lower := s.fresh.NewPH < s.ph // new water that would take a low pH further down
	warmer := s.in.In("tap-temperature", "Cel") >= s.t
	if s.value[acidity] <= limits.PHLowEmergency && !lower || s.heatAct() && !warmer {
		share = max(share, tenth)
	}
	return share
}

// mostAtOnce returns the largest share of water to change at a time, and what
// holds it to less than half.
func (s *survey) mostAtOnce() (most float64, why string) {
	most = half
	if s.in.Has("tap-temperature") && s.tested(temperature) {
		step := limits.WarmthStep
		if s.worst == danger {
			step = limits.WarmthDanger
		}
		if share := ShareForStep(s.t, s.in.In("tap-temperature", "Cel"), step); share < most {
			most, why = share, "the new water's temperature allows no more at a time: run it in over hours."
		}
	}
	tap := s.in.In("tap-ph", "[pH]")
	switch {
	case s.value[acidity] >= limits.PHHighAct:
		most, why = min(most, tenth), "so high a pH is to come down slowly: a little at a time, and test pH after each."
	case tap > s.ph+phError && (s.ammoniaShows() || s.level[ammonia] > inOrder):
		if most > tenth {
			most, why = tenth, "the new water's pH is higher and makes the ammonia more toxic: a little at a time, and test pH after each."
		}
	case math.Abs(tap-s.value[acidity]) > limits.PHStepMost && most > quarter:
		most, why = quarter, calculators.Text("the new water's pH differs by more than {step ~}: no more at a time.", limits.PHStepMost)
	}
	if s.lowBuffer() {
		limit := tenth
		if s.level[acidity] < danger && s.worst == danger && math.Abs(tap-s.value[acidity]) <= phError {
			limit = quarter // like water makes no leap, and the danger does not wait
		}
		if most > limit {
			most, why = limit, "with so little KH a large change makes the pH jump: a little at a time, and test pH after each."
		}
	}
	return most, why
}
