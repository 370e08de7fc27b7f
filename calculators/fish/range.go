package fish

import (
	"math"

	"mereleaf/calculators/internal/spread"
)

// Range is a quantity with the least and the most it may be, in one unit.
type Range struct{ Low, Likely, High float64 }

func (b Range) times(f float64) Range { return Range{b.Low * f, b.Likely * f, b.High * f} }

func (b Range) plus(o Range) Range { return Range{b.Low + o.Low, b.Likely + o.Likely, b.High + o.High} }

// at returns the quantity at a shift from its likely value, as spread.Part does.
func (b Range) at(shift float64) float64 { return spread.Part(b).At(shift) }

// SumOfIndependent returns the range of the sum of quantities that err independently of
// each other: the ends of each shift it, and the shifts add as squares,
//
//	U = sqrt(sum of U_i^2).
//
// For what runs in proportion between its ends that is so nearly; package spread says
// how ends are combined. Source: jcgm-100-2008, 5.1.2 and 6.2.1.
func SumOfIndependent(parts ...Range) Range {
	return Range(spread.Of(len(parts), func(shifts []float64) float64 {
		sum := 0.0
		for i, p := range parts {
			sum += p.at(shifts[i])
		}
		return sum
	}))
}

// ProductOfIndependent returns the range of a product of two quantities that err
// independently of each other.
func ProductOfIndependent(a, b Range) Range {
	return Range(spread.Of(2, func(shifts []float64) float64 { return a.at(shifts[0]) * b.at(shifts[1]) }))
}

// above returns the range with its ends and what is likely at least so much.
func (b Range) above(least float64) Range {
	return Range{math.Max(least, b.Low), math.Max(least, b.Likely), math.Max(least, b.High)}
}

// withoutTraces returns the three with nothing in place of what subtracting milligrams
// leaves of nothing.
func (b Range) withoutTraces() Range {
	clean := func(v float64) float64 {
		if math.Abs(v) < 1e-9 {
			return 0
		}
		return v
	}
	return Range{clean(b.Low), clean(b.Likely), clean(b.High)}
}

// over returns how many times as much as o each of the three is. The low ones may
// differ by more than the likely ones do, because the least weight is that of
// another line at another length; the ends are the least and the most of them.
func (b Range) over(o Range) Range {
	low, likely, high := b.Low/o.Low, b.Likely/o.Likely, b.High/o.High
	return Range{min(low, likely, high), likely, max(low, likely, high)}
}

func (b Range) product(o Range) Range {
	return Range{b.Low * o.Low, b.Likely * o.Likely, b.High * o.High}
}

// knots returns the two of some rising positions between which x stands.
func knots(at []float64, x float64) (below, above float64) {
	i := 1
	for i < len(at)-1 && x > at[i] {
		i++
	}
	return at[i-1], at[i]
}
