package drawing

import (
	"math"

	"mereleaf/calculators/quantity"
)

// scale maps values to places from 0 to 1 along an axis.
type scale struct {
	low, high float64
	log       bool
	ticks     []float64
}

// newScale makes an axis that holds low to high with ticks at round values.
// With round set it is stretched to the ticks beyond its ends, and a linear one
// that starts near zero starts at zero.
func newScale(low, high float64, log, round bool) scale {
	if log {
		return logScale(low, high, round)
	}
	if round && low > 0 && low < 0.4*high {
		low = 0
	}
	if flat(low, high) {
		low, high = low-math.Max(math.Abs(low)/2, 0.5), high+math.Max(math.Abs(high)/2, 0.5)
	}
	step := niceStep((high - low) / 5)
	first, last := math.Ceil(low/step-1e-9), math.Floor(high/step+1e-9)
	if round {
		first, last = math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
		low, high = first*step, last*step
	}
	s := scale{low: low, high: high}
	for k := first; k <= last; k++ {
		s.ticks = append(s.ticks, k*step)
	}
	return s
}

// flat reports whether two values are the same but for what cannot be seen.
func flat(low, high float64) bool {
	return high-low <= 1e-6*math.Max(math.Abs(low), math.Abs(high))
}

// niceStep is the least of 1, 2 and 5 times a power of ten that is not below x.
func niceStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= x*(1-1e-9) {
			return n * power
		}
	}
	return 10 * power
}

// logScale has ticks at 1, 2 and 5 times powers of ten, or at the powers only
// if it spans more than three of them.
func logScale(low, high float64, round bool) scale {
	if flat(low, high) {
		low, high = low/2, high*2
	}
	digits := []float64{1, 2, 5}
	if high/low > 1000 {
		digits = []float64{1}
	}
	from, to := low, high
	if round {
		from, to = logTick(low, digits, false), logTick(high, digits, true)
	}
	s := scale{low: from, high: to, log: true}
	for e := math.Floor(math.Log10(from)); e <= math.Ceil(math.Log10(to)); e++ {
		for _, n := range digits {
			if t := n * math.Pow(10, e); t >= from*(1-1e-9) && t <= to*(1+1e-9) {
				s.ticks = append(s.ticks, t)
			}
		}
	}
	return s
}

// logTick is the tick next to x on a logarithmic axis, from above or below.
func logTick(x float64, digits []float64, above bool) float64 {
	e := math.Floor(math.Log10(x) + 1e-12)
	last := digits[0] * math.Pow(10, e)
	for k := range 2 {
		for _, n := range digits {
			t := n * math.Pow(10, e+float64(k))
			if above && t >= x*(1-1e-9) {
				return t
			}
			if !above && t > x*(1+1e-9) {
				return last
			}
			last = t
		}
	}
	return last
}

// in is the scale with its ticks at round values of another unit, to which turn
// turns. The places of all values stay.
func (s scale) in(turn func(float64) float64) scale {
	o := newScale(turn(s.low), turn(s.high), s.log, false)
	s.low, s.high, s.ticks = turn(s.low), turn(s.high), o.ticks
	return s
}

func (s scale) at(v float64) float64 {
	if s.log {
		return math.Log(v/s.low) / math.Log(s.high/s.low)
	}
	return (v - s.low) / (s.high - s.low)
}

// drawable reports whether a value has a place on the axis.
func (s scale) drawable(v float64) bool { return finite(v) && (!s.log || v > 0) }

// texts prints the ticks, all of a linear axis with the same decimals.
func (s scale) texts() []string {
	texts := make([]string, len(s.ticks))
	for i, t := range s.ticks {
		digits := 1
		if !s.log && len(s.ticks) > 1 && t != 0 {
			step := s.ticks[1] - s.ticks[0]
			digits = int(math.Floor(math.Log10(math.Abs(t))+1e-9)-math.Floor(math.Log10(step)+1e-9)) + 1
		}
		texts[i] = quantity.FormatNumber(t, max(digits, 1))
	}
	return texts
}
