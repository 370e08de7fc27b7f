package calculators

import (
	"strconv"

	"mereleaf/calculators/quantity"
)

// View is an answer as displayed: every number already rounded and printed.
// The terminal, the page and the tests all show a View, so they cannot differ
// in a digit.
type View struct {
	ID      string
	Values  []Shown
	Flags   []string
	Advice  []string
	Working []Step
	Scale   ShownScale
	Assumed []ShownInput // inputs that were not stated, with the default taken
}

// Shown is one displayed output. Text and the others carry their unit.
type Shown struct {
	_           Incomparable
	Name, Label string
	Text        string   // likely value
	Low, High   string   // empty when there is no range
	Also        []string // the likely value in the output's further units
	Fine        bool     // as in Output
}

// ShownInput is a displayed input.
type ShownInput struct {
	_                 Incomparable
	Name, Label, Text string
}

// ShownScale is a Scale ready to draw: positions from 0 to 1 along the line.
type ShownScale struct {
	Label string // what is drawn, with its value, for people who cannot see it
	At    float64
	Low   float64 // ends of the answer's range
	High  float64
	Marks []ShownMark
}

// ShownMark is a limit on a ShownScale.
type ShownMark struct {
	_     Incomparable
	At    float64
	Text  string // "0.025 mg/L"
	Label string

	Source, Locator, Basis string // as in Mark
}

// Reckon computes and displays. The error is an InputErrors.
func (c Calculator) Reckon(args []Arg) (View, error) {
	in, r, err := c.Evaluate(args)
	if err != nil {
		return View{}, err
	}
	v := View{ID: c.ID, Flags: r.Flags, Advice: r.Advice, Working: r.Working}
	for _, value := range r.Values {
		v.Values = append(v.Values, c.show(value))
	}
	v.Scale = c.showScale(r)
	for _, d := range c.Inputs {
		if in.Has(d.Name) && !in.Stated(d.Name) {
			v.Assumed = append(v.Assumed, ShownInput{Name: d.Name, Label: d.Label, Text: shownInput(d, in)})
		}
	}
	return v, nil
}

func (c Calculator) show(v Value) Shown {
	o, ok := c.Output(v.Output)
	if !ok {
		panic("calculators: " + c.ID + " returns the undeclared output " + v.Output)
	}
	s := Shown{Name: o.Name, Label: o.Label, Text: ShowOutput(o, v.Likely), Fine: o.Fine}
	if low, high := ShowOutput(o, v.Low), ShowOutput(o, v.High); low != high {
		s.Low, s.High = low, high
	}
	own := quantity.MustUnit(o.Unit)
	for _, code := range o.Also {
		u := quantity.MustUnit(code)
		s.Also = append(s.Also, quantity.Quantity{Value: own.Convert(v.Likely, u), Unit: u}.Text(o.Digits))
	}
	return s
}

// ShowOutput prints a value of an output with its unit.
func ShowOutput(o Output, v float64) string {
	if o.Whole {
		return quantity.WithUnit(quantity.FormatWhole(v), o.Unit)
	}
	return quantity.WithUnit(quantity.FormatNumber(v, o.Digits), o.Unit)
}

func shownInput(d Input, in Inputs) string {
	switch d.Type {
	case Choice:
		name := in.Choice(d.Name)
		for _, o := range d.Options {
			if o.Name == name {
				return o.Label
			}
		}
		return name
	case Rows:
		return d.Default
	}
	return plainly(in.Quantity(d.Name))
}

// statedFlags says of each input, in rows too, whether it leaves the range that
// the formula is stated for.
func statedFlags(declared []Input, in Inputs) []string {
	var flags []string
	for _, d := range declared {
		switch {
		case !in.Has(d.Name):
		case d.Type == Rows:
			for i, row := range in.Rows(d.Name) {
				for _, flag := range statedFlags(d.Columns, row) {
					flags = append(flags, "Row "+strconv.Itoa(i+1)+" of "+d.Label+": "+flag)
				}
			}
		case d.Type == Single && d.Stated.Given():
			v := in.In(d.Name, d.UnitCode())
			if v < d.Stated.Low || v > d.Stated.High {
				flags = append(flags, d.Label+" is outside the range the formula is stated for, "+rangeText(d.Stated, d.UnitCode())+" ("+d.Stated.Origin+"): take the answer as a rough guide only.")
			}
		}
	}
	return flags
}
