package texeval

import "math"

// Interval is every number from Low to High.
type Interval struct{ Low, High float64 }

// Point is the interval of one number.
func Point(v float64) Interval { return Interval{v, v} }

// Around is v with an error of up to off on both sides.
func Around(v, off float64) Interval { return Interval{v - off, v + off} }

// Valid reports whether both ends are numbers, in order.
func (a Interval) Valid() bool { return a.Low <= a.High }

// Mid is the middle.
func (a Interval) Mid() float64 { return (a.Low + a.High) / 2 }

// Meets reports whether the intervals have a number in common, give or take a
// relative slack.
func (a Interval) Meets(b Interval, slack float64) bool {
	off := slack * math.Max(a.size(), b.size())
	return a.Low <= b.High+off && b.Low <= a.High+off
}

// Holds reports whether a relation may hold, give or take a relative slack.
func (a Interval) Holds(relation string, b Interval, slack float64) bool {
	off := slack * math.Max(a.size(), b.size())
	switch relation {
	case "=":
		return a.Meets(b, slack)
	case "≤":
		return a.Low <= b.High+off
	case "≥":
		return b.Low <= a.High+off
	case "<":
		return a.Low < b.High+off
	case ">":
		return b.Low < a.High+off
	}
	return false
}

// size is the largest number of the interval, without its sign.
func (a Interval) size() float64 { return math.Max(math.Abs(a.Low), math.Abs(a.High)) }

// hull is the smallest interval that holds all the values.
func hull(values ...float64) Interval {
	r := Point(values[0])
	for _, v := range values {
		if math.IsNaN(v) {
			return Point(math.NaN())
		}
		r.Low, r.High = math.Min(r.Low, v), math.Max(r.High, v)
	}
	return r
}

// Plus adds.
func (a Interval) Plus(b Interval) Interval { return Interval{a.Low + b.Low, a.High + b.High} }

// Minus subtracts.
func (a Interval) Minus(b Interval) Interval { return Interval{a.Low - b.High, a.High - b.Low} }

// Times multiplies.
func (a Interval) Times(b Interval) Interval {
	return hull(product(a.Low, b.Low), product(a.Low, b.High), product(a.High, b.Low), product(a.High, b.High))
}

// product takes nothing of anything, however much, for nothing.
func product(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	return a * b
}

// Over divides. What is divided by an interval that holds 0 may be anything.
func (a Interval) Over(b Interval) Interval {
	switch {
	case b.Low == 0 && b.High == 0:
		return Point(math.NaN())
	case b.Low <= 0 && b.High >= 0:
		return Interval{math.Inf(-1), math.Inf(1)}
	}
	return hull(a.Low/b.Low, a.Low/b.High, a.High/b.Low, a.High/b.High)
}

// Power raises a to b. Of a negative base only whole powers have a value.
func (a Interval) Power(b Interval) Interval {
	whole := b.Low == b.High && b.Low == math.Trunc(b.Low)
	if !whole && a.Low < 0 {
		if a.High < 0 {
			return Point(math.NaN())
		}
		a.Low = 0
	}
	r := hull(math.Pow(a.Low, b.Low), math.Pow(a.Low, b.High), math.Pow(a.High, b.Low), math.Pow(a.High, b.High))
	if whole && a.Low < 0 && a.High > 0 {
		if b.Low < 0 {
			return Interval{math.Inf(-1), math.Inf(1)}
		}
		r.Low, r.High = math.Min(r.Low, 0), math.Max(r.High, 0)
	}
	return r
}

// rising applies a function that rises, or falls, all along.
func (a Interval) rising(f func(float64) float64) Interval { return hull(f(a.Low), f(a.High)) }

// magnitude drops the sign.
func (a Interval) magnitude() Interval {
	if a.Low <= 0 && a.High >= 0 {
		return Interval{0, a.size()}
	}
	return hull(math.Abs(a.Low), math.Abs(a.High))
}
