package calculators

import "mereleaf/calculators/quantity"

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
	Sheet   []Section
	Unfit   bool         // as in Result
	Unsaid  []string     // as in Result
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
	v := View{ID: c.ID, Flags: r.Flags, Advice: r.Advice, Working: r.Working, Sheet: r.Sheet, Unfit: r.Unfit, Unsaid: r.Unsaid}
	for _, value := range r.Values {
		if o, _ := c.Output(value.Output); !o.Silent {
			v.Values = append(v.Values, c.show(value))
		}
	}
	v.Scale = c.showScale(r)
	for i := range *in.entries {
		if e := &(*in.entries)[i]; e.present && !e.stated {
			v.Assumed = append(v.Assumed, ShownInput{Name: e.Name, Label: e.Label, Text: e.shown()})
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

func (e *entry) shown() string {
	switch e.Type {
	case Choice:
		for i := range e.Options {
			if e.Options[i].Name == e.choice {
				return e.Options[i].Label
			}
		}
		return e.choice
	case Rows:
		return e.Default
	}
	return plainly(e.quantity)
}

// statedFlags says of each input, in rows too, whether it leaves the range that
// the formula is stated for.
func (in Inputs) statedFlags() []string {
	var flags []string
	for i := range *in.entries {
		e := &(*in.entries)[i]
		switch {
		case !e.present:
		case e.Type == Rows:
			for j, row := range e.rows {
				for _, flag := range row.statedFlags() {
					flags = append(flags, quantity.Put(Text("Row {row 0} of {list}: {flag}", float64(j+1)), "list", e.Label, "flag", flag))
				}
			}
		case e.Type == Single && e.Input.Stated.Given():
			stated, v := e.Input.Stated, in.In(e.Name, e.UnitCode())
			if v < stated.Low || v > stated.High {
				flags = append(flags, quantity.Put("{input} is outside the range the formula is stated for, {range} ({origin}): take the answer as a rough guide only.", "input", e.Label, "range", rangeText(stated, e.UnitCode()), "origin", stated.Origin))
			}
		}
	}
	return flags
}
