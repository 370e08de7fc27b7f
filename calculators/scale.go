package calculators

import (
	"math"

	"mereleaf/calculators/quantity"
)

// showScale places the answer and the limits on a line from a little under the
// least of them to a little over the greatest.
func (c Calculator) showScale(r Result) ShownScale {
	if r.Scale.Output == "" || len(r.Scale.Marks) == 0 {
		return ShownScale{}
	}
	v, ok := r.Value(r.Scale.Output)
	o, declared := c.Output(r.Scale.Output)
	if !ok || !declared {
		return ShownScale{}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, m := range r.Scale.Marks {
		low, high = math.Min(low, m.Value), math.Max(high, m.Value)
	}
	if !r.Scale.Log {
		low = math.Min(0, low)
	}
	place := func(x float64) float64 { return linear(x, low, high) }
	if r.Scale.Log {
		place = func(x float64) float64 { return logarithmic(x, low, high) }
	}
	s := ShownScale{Label: quantity.Put("{output} {value}", "output", o.Label, "value", ShowOutput(o, v.Likely)), At: place(v.Likely), Low: place(v.Low), High: place(v.High)}
	for _, m := range r.Scale.Marks {
		s.Marks = append(s.Marks, ShownMark{At: place(m.Value), Text: showMark(o, m.Value), Label: m.Label, Source: m.Source, Locator: m.Locator, Basis: m.Basis})
	}
	return s
}

// showMark prints a limit as sentences do, without idle noughts: 0.05 mg/L, and
// not 0.050, whatever the digits of the answer drawn against it.
func showMark(o Output, v float64) string {
	if o.Whole {
		return ShowOutput(o, v)
	}
	return quantity.WithUnit(quantity.FormatPlain(v, o.Digits), o.Unit)
}

// The marks take the middle four fifths of the line; an answer beyond them
// stays at the line's end.
func linear(x, low, high float64) float64 {
	return clamp(0.1 + 0.8*(x-low)/(high-low))
}

func logarithmic(x, low, high float64) float64 {
	if x <= 0 {
		return 0
	}
	return clamp(0.1 + 0.8*math.Log(x/low)/math.Log(high/low))
}

func clamp(x float64) float64 {
	if math.IsNaN(x) {
		return 0.5
	}
	return math.Min(1, math.Max(0, x))
}
