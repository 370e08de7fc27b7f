package media

import "math"

// Range is what is known of a quantity: the likely value between a low and a
// high one.
type Range struct{ Low, Likely, High float64 }

// Between returns the range from low to high with their mean as likely.
func Between(low, high float64) Range { return Range{low, (low + high) / 2, high} }

// Times returns the range with all three multiplied by a factor of 0 or more.
func (r Range) Times(factor float64) Range {
	return Range{r.Low * factor, r.Likely * factor, r.High * factor}
}

// Quotient returns top/(product of below), with the range that follows if the
// errors of all of them are independent: the ratios of the ends to the likely
// values combine as the root of the sum of the squares of their logarithms. The
// ends multiplied out, all errors falling on one side, would be twice as far
// apart and hardly ever happen. All values must be above 0, but top may be 0.
// Our own practice.
func Quotient(top Range, below ...Range) Range {
	if top.Likely == 0 {
		return Range{}
	}
	likely := top.Likely
	down, up := squaredLog(top.Low, top.Likely), squaredLog(top.High, top.Likely)
	for _, b := range below {
		likely /= b.Likely
		down += squaredLog(b.High, b.Likely)
		up += squaredLog(b.Low, b.Likely)
	}
	return Range{likely * math.Exp(-math.Sqrt(down)), likely, likely * math.Exp(math.Sqrt(up))}
}

func squaredLog(a, b float64) float64 {
	l := math.Log(a / b)
	return l * l
}

// product returns r times f, with the range that follows if their errors are
// independent, as in Quotient.
func (r Range) product(f Range) Range { return Quotient(r, Range{1 / f.High, 1 / f.Likely, 1 / f.Low}) }

// cappedAt returns the range with nothing above most.
func (r Range) cappedAt(most float64) Range {
	return Range{math.Min(r.Low, most), math.Min(r.Likely, most), math.Min(r.High, most)}
}
