package fish

// Range is a quantity with the least and the most it may be, in one unit.
type Range struct{ Low, Likely, High float64 }

func (b Range) times(f float64) Range { return Range{b.Low * f, b.Likely * f, b.High * f} }

func (b Range) plus(o Range) Range { return Range{b.Low + o.Low, b.Likely + o.Likely, b.High + o.High} }

func (b Range) product(o Range) Range {
	return Range{b.Low * o.Low, b.Likely * o.Likely, b.High * o.High}
}
