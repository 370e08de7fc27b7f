package calculators

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// Validate returns what is incomplete or wrong in the declarations, one
// sentence each, naming the calculator.
func (s Set) Validate() []string {
	var faults []string
	seen := map[string]bool{}
	for _, c := range s.all {
		f := func(what string) { faults = append(faults, c.ID+": "+what) }
		if !legalID(c.ID) {
			f("the ID must be lower-case words joined by hyphens, such as free-ammonia")
		}
		if seen[c.ID] {
			f("declared twice")
		}
		seen[c.ID] = true
		c.validateTexts(f)
		validateInputs(c.Inputs, f)
		c.validateOutputs(f)
		c.validateShown(f)
	}
	return faults
}

func legalID(s string) bool {
	for word := range strings.SplitSeq(s, "-") {
		if word == "" || strings.Trim(word, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
			return false
		}
	}
	return true
}

func (c Calculator) validateTexts(f func(string)) {
	for _, field := range []struct{ name, text string }{{"Title", c.Title}, {"Question", c.Question}, {"Part", c.Part}, {"Example.Story", c.Example.Story}} {
		if field.text == "" {
			f("has no " + field.name)
		}
	}
	if c.Compute == nil {
		f("has no Compute")
	}
	if len(c.Formulas) == 0 {
		f("has no Formulas")
	}
	for _, m := range c.Formulas {
		if m.Name == "" || m.TeX == "" || m.Says == "" || m.Function == "" {
			f("the formula " + m.Name + " lacks its name, TeX, sentence or function")
		}
		if m.Source == "" && m.Basis != "practice" {
			f("the formula " + m.Name + " has neither a source nor the basis practice")
		}
	}
}

func validateInputs(inputs []Input, f func(string)) {
	seen := map[string]bool{}
	for _, d := range inputs {
		if !legalID(d.Name) || seen[d.Name] {
			f("the input name " + d.Name + " is not legal or stands twice")
		}
		if d.When.Input != "" && !seen[d.When.Input] {
			f("the input " + d.Name + " depends on " + d.When.Input + ", which is not declared before it")
		}
		seen[d.Name] = true
		if d.Label == "" || d.Help == "" {
			f("the input " + d.Name + " has no label or help")
		}
		switch d.Type {
		case Single:
			if !d.Accept.Given() || d.Accept.Origin == "" {
				f("the input " + d.Name + " has no accepted range with an origin")
			}
			if u, err := quantity.ParseUnit(d.UnitCode()); err != nil || !u.SameDimension(quantity.MustUnit(d.Kind.Units()[0])) {
				f("the input " + d.Name + " has a unit that is not a " + d.Kind.String())
			}
		case Choice:
			if len(d.Options) < 2 {
				f("the input " + d.Name + " has no choice")
			}
		case Rows:
			validateInputs(d.Columns, f)
		}
		if d.Default != "" {
			if _, errs := parseEntry(d, d.Default); len(errs) > 0 {
				f("the default of " + d.Name + " is refused: " + errs.Error())
			}
		}
	}
}

func (c Calculator) validateOutputs(f func(string)) {
	if len(c.Outputs) == 0 {
		f("has no Outputs")
	}
	for _, o := range c.Outputs {
		if !legalID(o.Name) || o.Label == "" || o.Digits < 1 || o.Digits > 6 {
			f("the output " + o.Name + " lacks a legal name, a label or 1 to 6 digits")
		}
		for _, code := range append([]string{o.Unit}, o.Also...) {
			if _, err := quantity.ParseUnit(code); err != nil {
				f("the output " + o.Name + ": " + err.Error())
			}
		}
	}
}

// validateShown runs what every page shows: the example, the lookup table's
// corners and the chart's ends.
func (c Calculator) validateShown(f func(string)) {
	if c.Compute == nil || len(c.Outputs) == 0 {
		return
	}
	try := func(what string, args []Arg) {
		if _, err := c.Reckon(args); err != nil {
			f(what + " is refused: " + err.Error())
		}
	}
	try("the example", c.Example.Given)
	for _, row := range c.Lookup.Rows.Values {
		args := With(c.Lookup.Given, Arg{c.Lookup.Rows.Input, row})
		if len(c.Lookup.Columns.Values) == 0 {
			try("the lookup row "+row, args)
		}
		for _, column := range c.Lookup.Columns.Values {
			try("the lookup cell "+row+", "+column, With(args, Arg{c.Lookup.Columns.Input, column}))
		}
	}
	for _, name := range append([]string{c.Chart.Show}, c.Lookup.Show...) {
		if _, ok := c.Output(name); !ok {
			f("the lookup table or chart shows the unknown output " + name)
		}
	}
	if len(c.Lookup.Rows.Values) == 0 || c.Chart.X == "" {
		f("has no lookup table or no chart")
	}
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
