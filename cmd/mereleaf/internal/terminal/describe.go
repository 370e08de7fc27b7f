package terminal

import (
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// List returns all calculators, one to a line where the question is short
// enough: its ID and what it answers.
func List(set calculators.Set) string {
	s := &sheet{}
	longest := 0
	for _, c := range set.All() {
		longest = max(longest, length(c.ID))
	}
	for _, c := range set.All() {
		s.hang(padRight(c.ID, longest)+"  ", c.Question)
	}
	return s.String()
}

// Describe returns what a calculator answers, what it wants to know, and a line
// to try.
func Describe(c calculators.Calculator, cite Cite, warn Warn) string {
	s := &sheet{}
	s.heading(c.Title)
	s.hang("", c.Question)
	s.heading("What to give")
	for i, d := range c.Inputs {
		if d.Group != "" && (i == 0 || c.Inputs[i-1].Group != d.Group) {
			s.heading(d.Group)
		}
		s.input(d)
	}
	s.heading("For example")
	s.hang("  ", c.Example.Story)
	s.lines = append(s.lines, commandLine(c, c.Example.Given)...)
	s.ready(c)
	refs := &references{cite: cite}
	s.formulas(c.Formulas, refs)
	s.list("Caution", warn.all(c))
	s.sources(refs)
	return s.String()
}

// ready lists the scenarios to start from.
func (s *sheet) ready(c calculators.Calculator) {
	if len(c.Ready) == 0 {
		return
	}
	s.heading("Or start from")
	for _, r := range c.Ready {
		s.hang("  ", r.Name+". "+r.Story)
		s.lines = append(s.lines, commandLine(c, r.Given)...)
	}
}

func (s *sheet) input(d calculators.Input) {
	s.hang("  "+d.Name+"=…  ", d.Label+" ("+need(d)+")")
	s.hang("      ", d.Help)
	switch d.Type {
	case calculators.Choice:
		longest := 0
		for _, o := range d.Options {
			longest = max(longest, length(o.Name))
		}
		for _, o := range d.Options {
			s.hang("      "+d.Name+"="+padRight(o.Name, longest)+"  ", o.Label)
		}
	case calculators.Rows:
		s.hang("      ", "Accepted: "+d.AcceptText())
		for _, column := range d.Columns {
			s.hang("        "+column.Name+": ", column.Label+", "+accepted(column))
		}
		s.hang("      ", "Write "+d.Name+"=- to read the rows from standard input.")
	default:
		s.hang("      ", "Accepted: "+accepted(d))
	}
}

func accepted(d calculators.Input) string {
	text := d.AcceptText()
	if units := unitNames(d); d.Type == calculators.Single && units != "" {
		text += "; in " + units
	}
	return text
}

func unitNames(d calculators.Input) string {
	var names []string
	for _, code := range d.Units() {
		if symbol := quantity.Symbol(code); symbol != "" {
			names = append(names, symbol)
		}
	}
	return strings.Join(names, ", ")
}

func need(d calculators.Input) string {
	text := "needed"
	switch {
	case d.Default != "":
		text = "taken as " + defaultText(d) + " if you leave it out"
	case d.Optional:
		text = "may be left out"
	}
	if d.When.Input != "" {
		text += "; only with " + d.When.Input + "=" + strings.Join(d.When.Is, " or ")
	}
	return text
}

// defaultText prints a default as a reader would write it, with the unit's
// symbol in place of its code.
func defaultText(d calculators.Input) string {
	q, err := quantity.Parse(d.Default, d.Kind, d.Units())
	if d.Type != calculators.Single || err != nil {
		return d.Default
	}
	number := strconv.FormatFloat(q.Value, 'f', -1, 64)
	return quantity.WithUnit(number, q.Unit.Code)
}

// commandLine returns the call of a calculator, continued over lines that fit the
// terminal.
func commandLine(c calculators.Calculator, given []calculators.Arg) []string {
	lines := []string{"  mereleaf reckon " + c.ID}
	for _, a := range given {
		word := a.Name + "=" + short(c, a)
		if strings.ContainsFunc(word, special) {
			word = `"` + strings.ReplaceAll(word, `"`, `\"`) + `"`
		}
		last := len(lines) - 1
		if length(lines[last])+1+length(word) > width-2 {
			lines[last] += " \\"
			lines = append(lines, "     ")
			last++
		}
		lines[last] += " " + word
	}
	return lines
}

// short leaves out the space before a unit where the value stays the same, so
// that the word needs no quotes.
func short(c calculators.Calculator, a calculators.Arg) string {
	d, ok := c.Input(a.Name)
	joined := strings.ReplaceAll(a.Value, " ", "")
	if !ok || d.Type != calculators.Single || strings.ContainsFunc(joined, special) {
		return a.Value
	}
	want, err := quantity.Parse(a.Value, d.Kind, d.Units())
	got, err2 := quantity.Parse(joined, d.Kind, d.Units())
	if err != nil || err2 != nil || got != want {
		return a.Value
	}
	return joined
}

// special characters mean something to a shell.
func special(r rune) bool { return strings.ContainsRune(" ;'\"()[]{}&|<>*?$`!#~\\", r) }
