package calculators

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// Fault is what is incomplete or wrong in a declaration, in one sentence.
type Fault struct {
	_          Incomparable
	Calculator string // its ID, so that the fault's place can be found in the source
	Problem    string
}

// String returns the fault on one line, behind the calculator's ID.
func (f Fault) String() string { return f.Calculator + ": " + f.Problem }

// Validate returns what is incomplete or wrong in the declarations.
func (s Set) Validate() []Fault {
	var faults []Fault
	seen := map[string]bool{}
	for _, c := range s.all {
		before := len(faults)
		f := func(what string) { faults = append(faults, Fault{Calculator: c.ID, Problem: what}) }
		if !legalID(c.ID) {
			f("the ID must be lower-case words joined by hyphens, such as free-ammonia")
		}
		if seen[c.ID] {
			f("declared twice")
		}
		seen[c.ID] = true
		c.validateTexts(f)
		validateInputs(c.Inputs, f)
		validateNames(c.Inputs, f)
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
	c.validateHazards(f)
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
		if fault := countsFault(d.Counts, inputs[i+1:]); fault != "" {
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

// countsFault compares what units a number may bear with the choice of them.
func countsFault(counts Counts, after []Input) string {
	if counts.Input == "" {
		return ""
	}
	for _, on := range after {
		if on.Name != counts.Input {
			continue
		}
		for _, as := range counts.As {
			if u, err := quantity.ParseUnit(as.Code); err != nil || !u.SameDimension(quantity.MustUnit(counts.Kind.Units()[0])) || !on.offers(as.Option) {
				return "counts in " + as.Code + " as " + as.Option + ", which is no unit of its kind or no option of " + on.Name
			}
		}
		return ""
	}
	return "counts in the unit of " + counts.Input + ", which is not declared behind it"
}

// validateNames looks for names that a chapter's block means otherwise, and for
// earlier names that two inputs claim.
func validateNames(inputs []Input, f func(string)) {
	claimed := map[string]bool{}
	for _, d := range inputs {
		claimed[d.Name] = true
		if d.Name == PondSetting || d.Name == DaySetting {
			f("the input " + d.Name + " has the name by which chapters and links mean a pond of the handbook and a day of its log")
		}
	}
	for _, d := range inputs {
		for _, once := range d.Once {
			if claimed[once] && (once != d.Name || d.Fact == "") || !legalID(once) {
				f("the earlier name " + once + " of " + d.Name + " is not legal or is another input's")
			}
			claimed[once] = true
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
		if (o.Fine || o.Silent) && len(seen) == 0 {
			f("the output " + o.Name + " is the answer and cannot be fine or silent")
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
	c.try("the example", c.Example.Given, f)
	for _, ready := range c.Ready {
		c.try(ready.Name, ready.Given, f)
	}
	c.validateLookup(f)
	c.validateChart(f)
}

// try reports what is asked on a page and finds no full answer.
func (c Calculator) try(what string, args []Arg, f func(string)) {
	_, r, err := c.Evaluate(args)
	if err != nil {
		f(what + " is refused: " + err.Error())
	}
	for _, output := range r.Unsaid {
		f(what + " gives no number for " + output)
	}
}

func (c Calculator) validateLookup(f func(string)) {
	l := c.Lookup
	switch {
	case l.Caption == "" && len(l.Rows.Values) == 0 && len(l.Show) == 0:
		f("has no Lookup: a table to read off is for whoever has no script; give it a Caption, Rows and what it shows")
		return
	case l.Caption == "":
		f("has a lookup table without a caption")
	case len(l.Rows.Values) == 0:
		f("has a lookup table without rows")
	case len(l.Show) == 0:
		f("has a lookup table that shows no output")
	case len(l.Columns.Values) > 0 && len(l.Show) > 1:
		f("has a lookup table that shows several outputs in one column")
	}
	for _, name := range l.Show {
		if _, ok := c.Output(name); !ok {
			f("the lookup table shows the unknown output " + name)
		}
	}
	for _, cell := range l.Cells() {
		c.try("the lookup cell "+cell.Name, cell.Args, f)
	}
}

func (c Calculator) validateChart(f func(string)) {
	ch := c.Chart
	switch {
	case ch.Caption == "" && ch.X == "" && ch.Show == "":
		f("has no Chart: one input along X shows what it does to the answer; give it a Caption, X, From, To and what it shows")
		return
	case ch.Caption == "":
		f("has a chart without a caption")
	case ch.X == "":
		f("has a chart without an input along X")
	case ch.From == ch.To:
		f("has a chart that runs from " + ch.From + " to the same")
	case ch.Show == "":
		f("has a chart that shows no output")
	}
	if _, ok := c.Output(ch.Show); !ok && ch.Show != "" {
		f("the chart shows the unknown output " + ch.Show)
	}
	for _, end := range ch.Ends() {
		c.try("the chart's end "+end.Name, end.Args, f)
	}
}
