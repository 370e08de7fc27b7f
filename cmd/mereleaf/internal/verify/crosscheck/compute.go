package crosscheck

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// args are the inputs that a row gives, as a person would type them.
func (e *entry) args(row int) ([]calculators.Arg, *diag.Diagnostic) {
	f := filler{set: e.set, row: row, named: map[string]string{}}
	for _, p := range e.reads {
		text := e.set.Rows[row].Cells[p.column].Text
		found := p.match(text)
		if found == nil {
			return nil, &diag.Diagnostic{Position: e.set.At(row, p.column), Problem: `"` + text + `" is not of the form "` + p.text + `"`, Want: "words that the pattern fits", Remedy: "give the row an entry of its own", Related: e.pos}
		}
		for name, value := range found {
			f.named[name] = value
		}
	}
	var args []calculators.Arg
	for _, g := range e.given {
		if text, ok := f.arg(g); ok {
			args = append(args, calculators.Arg{Name: g.input.Name, Value: text})
		}
	}
	return args, nil
}

// inFigureUnit turns a computed value into the unit of the figure, after
// dividing by what the figure is multiplied by.
func (e *entry) inFigureUnit(v float64, o calculators.Output, unit quantity.Unit) (float64, bool) {
	own := quantity.MustUnit(o.Unit)
	if e.times.Value == 0 {
		return own.Convert(v, unit), own.SameDimension(unit)
	}
	times, err := quantity.ParseUnit("(" + unit.Code + ").(" + e.times.Unit.Code + ")")
	if err != nil || !times.SameDimension(own) {
		return 0, false
	}
	return own.Convert(v, times) / e.times.Value, true
}

// of returns the end of a value that an expectation is about.
func (x expect) of(v calculators.Value) float64 {
	switch x.end {
	case "low":
		return v.Low
	case "high":
		return v.High
	}
	return v.Likely
}
