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
		before := len(faults)
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
		if len(faults) == before { // an unsound declaration must not run
			c.validateShown(f)
		}
	}
	return append(faults, s.factFaults()...)
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
		m.validate(f)
	}
}

func (m Formula) validate(f func(string)) {
	if m.Name == "" || m.TeX == "" || m.Says == "" {
		f("the formula " + m.Name + " lacks its name, TeX or sentence")
	}
	if pkg, function, ok := strings.Cut(m.Function, "."); !ok || pkg == "" || function == "" {
		f("the formula " + m.Name + " must name its Go function as package.Function")
	}
	switch m.Basis {
	case "practice":
	case "published", "memory":
		if m.Source == "" || m.Locator == "" {
			f("the formula " + m.Name + " lacks a source or its locator")
		}
	default:
		f("the formula " + m.Name + " must have the basis published, memory or practice")
	}
}

func validateInputs(inputs []Input, f func(string)) {
	seen := map[string]Input{}
	for i, d := range inputs {
		if fault := groupFault(inputs[:i], d); fault != "" {
			f("the input " + d.Name + " " + fault)
		}
		if _, twice := seen[d.Name]; twice || !legalID(d.Name) {
			f("the input name " + d.Name + " is not legal or stands twice")
		}
		if fault := whenFault(d.When, seen); fault != "" {
			f("the input " + d.Name + " " + fault)
		}
		if fault := fineFault(d, seen); fault != "" {
			f("the input " + d.Name + " " + fault)
		}
		seen[d.Name] = d
		if d.Label == "" || d.Help == "" {
			f("the input " + d.Name + " has no label or help")
		}
		if len([]rune(d.Help)) > longestHelp {
			f("the help of " + d.Name + " is too long to stand over a field on a phone; what is more than one short sentence belongs to the cautions or the chapter")
		}
		switch d.Type {
		case Single:
			validateSingle(d, f)
		case Choice:
			validateOptions(d, f)
		case Rows:
			validateColumns(d, f)
		}
		if d.Default != "" {
			if errs := (&entry{Input: &d}).read(d.Default); len(errs) > 0 {
				f("the default of " + d.Name + " is refused: " + errs.Error())
			}
		}
	}
}

// longestHelp is three lines on a phone, in letters.
const longestHelp = 100

// whenFault says what is wrong with a condition on an input declared earlier.
func whenFault(w When, earlier map[string]Input) string {
	if w.Input == "" {
		return ""
	}
	decider, ok := earlier[w.Input]
	if !ok || decider.Type != Choice {
		return "depends on " + w.Input + ", which is not a choice declared before it"
	}
	if len(w.Is) == 0 {
		return "depends on " + w.Input + " but on no option of it"
	}
	for _, is := range w.Is {
		if !decider.offers(is) {
			return "depends on the option " + is + ", which " + w.Input + " does not have"
		}
	}
	return ""
}

// groupFault says why an input does not stand with those of its group.
func groupFault(before []Input, d Input) string {
	if len(before) == 0 || before[len(before)-1].Group == d.Group {
		return ""
	}
	for _, b := range before {
		if b.Group == d.Group {
			return "stands apart from the group " + d.Group + " it belongs to"
		}
	}
	return ""
}

// fineFault says why an input cannot be folded away, or must be because what it
// depends on is.
func fineFault(d Input, earlier map[string]Input) string {
	decider := earlier[d.When.Input]
	switch {
	case decider.Fine && !d.Fine:
		return "depends on " + decider.Name + ", which is fine, and is not fine itself"
	case d.Fine && !decider.Fine && d.Default == "" && !d.Optional:
		return "is fine, but an answer needs it: it has no default and is not optional"
	}
	return ""
}

func (d Input) offers(option string) bool {
	for _, o := range d.Options {
		if o.Name == option {
			return true
		}
	}
	return false
}

func validateSingle(d Input, f func(string)) {
	if !d.Accept.Given() || d.Accept.Origin == "" || d.Accept.Low >= d.Accept.High {
		f("the input " + d.Name + " has no accepted range with an origin")
	}
	if d.Stated.Given() && (d.Stated.Origin == "" || d.Stated.Low < d.Accept.Low || d.Stated.High > d.Accept.High) {
		f("the input " + d.Name + " has a stated range without origin, or beyond what is accepted")
	}
	if u, err := quantity.ParseUnit(d.UnitCode()); err != nil || !u.SameDimension(quantity.MustUnit(d.Kind.Units()[0])) {
		f("the input " + d.Name + " has a unit that is not one of " + d.Kind.String())
	}
}

func validateOptions(d Input, f func(string)) {
	if len(d.Options) < 2 {
		f("the input " + d.Name + " has no choice")
	}
	seen := map[string]bool{}
	for _, o := range d.Options {
		if !legalID(o.Name) || o.Label == "" || seen[o.Name] {
			f("the option " + o.Name + " of " + d.Name + " has no legal name of its own, or no label")
		}
		seen[o.Name] = true
	}
}

func validateColumns(d Input, f func(string)) {
	if len(d.Columns) == 0 {
		f("the list " + d.Name + " has no columns")
	}
	for _, c := range d.Columns {
		if c.Type == Rows {
			f("the list " + d.Name + " has a list in a column")
		}
		if c.Fine {
			f("the list " + d.Name + " has a fine column; a row is shown whole")
		}
	}
	validateInputs(d.Columns, f)
}

func (c Calculator) validateOutputs(f func(string)) {
	if len(c.Outputs) == 0 {
		f("has no Outputs")
	}
	seen := map[string]bool{}
	for _, o := range c.Outputs {
		if o.Fine && len(seen) == 0 {
			f("the output " + o.Name + " is the answer and cannot be fine")
		}
		if seen[o.Name] || !legalID(o.Name) || o.Label == "" || o.Digits < 1 || o.Digits > 6 {
			f("the output " + o.Name + " lacks a legal name of its own, a label or 1 to 6 digits")
		}
		seen[o.Name] = true
		own, err := quantity.ParseUnit(o.Unit)
		if err != nil {
			f("the output " + o.Name + ": " + err.Error())
		}
		for _, code := range o.Also {
			if u, err := quantity.ParseUnit(code); err != nil || !u.SameDimension(own) {
				f("the output " + o.Name + " cannot be shown in " + code)
			}
		}
	}
}

// validateShown runs what every page shows: the example, each cell of the
// lookup table and the chart's ends.
func (c Calculator) validateShown(f func(string)) {
	try := func(what string, args []Arg) {
		if _, err := c.Reckon(args); err != nil {
			f(what + " is refused: " + err.Error())
		}
	}
	try("the example", c.Example.Given)
	for _, ready := range c.Ready {
		try(ready.Name, ready.Given)
	}
	for _, cell := range c.Lookup.Cells() {
		try("the lookup cell "+cell.Name, cell.Args)
	}
	for _, end := range c.Chart.Ends() {
		try("the chart's end "+end.Name, end.Args)
	}
	for _, name := range append([]string{c.Chart.Show}, c.Lookup.Show...) {
		if _, ok := c.Output(name); !ok {
			f("the lookup table or chart shows the unknown output " + name)
		}
	}
	if len(c.Lookup.Show) == 0 || len(c.Lookup.Columns.Values) > 0 && len(c.Lookup.Show) > 1 {
		f("the lookup table shows no output, or several in one column")
	}
	if len(c.Lookup.Rows.Values) == 0 || c.Chart.X == "" || c.Chart.From == c.Chart.To || c.Lookup.Caption == "" || c.Chart.Caption == "" {
		f("has no lookup table or no chart, or one without caption")
	}
}
