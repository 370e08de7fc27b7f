package fish

// Range is a quantity with the least and the most it may be, in one unit.
type Range struct{ Low, Likely, High float64 }

func (b Range) times(f float64) Range { return Range{b.Low * f, b.Likely * f, b.High * f} }

func (b Range) plus(o Range) Range { return Range{b.Low + o.Low, b.Likely + o.Likely, b.High + o.High} }

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
