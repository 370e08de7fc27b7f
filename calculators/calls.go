package calculators

// Call is the arguments of one call of a calculator, with a name for messages.
type Call struct {
	Name string // "10 Cel, 7.0"
	Args []Arg
}

// Cells returns the call behind each cell of the table, row by row; one for
// each row if the table has no column input.
func (l Lookup) Cells() []Call {
	var calls []Call
	for _, row := range l.Rows.Values {
		args := With(l.Given, Arg{Name: l.Rows.Input, Value: row})
		if len(l.Columns.Values) == 0 {
			calls = append(calls, Call{row, args})
		}
		for _, column := range l.Columns.Values {
			calls = append(calls, Call{row + ", " + column, With(args, Arg{Name: l.Columns.Input, Value: column})})
		}
	}
	return calls
}

// Ends returns the calls at both ends of each line of the chart.
func (c Chart) Ends() []Call {
	if c.X == "" {
		return nil
	}
	var calls []Call
	for _, x := range []string{c.From, c.To} {
		args := With(c.Given, Arg{Name: c.X, Value: x})
		if len(c.Series.Values) == 0 {
			calls = append(calls, Call{x, args})
		}
		for _, line := range c.Series.Values {
			calls = append(calls, Call{x + ", " + line, With(args, Arg{Name: c.Series.Input, Value: line})})
		}
	}
	return calls
}

// With returns the arguments with one set or replaced. It does not change args.
func With(args []Arg, a Arg) []Arg {
	out := make([]Arg, 0, len(args)+1)
	for _, b := range args {
		if b.Name != a.Name {
			out = append(out, b)
		}
	}
	return append(out, a)
}
