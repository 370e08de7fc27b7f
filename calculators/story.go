package calculators

import (
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// With returns the set with the examples, ready scenarios, tables and charts of
// its calculators completed from the ponds they are about, and the gaps of their
// stories filled; those of captions are filled where they are printed. It also returns what cannot be, one sentence each, naming the
// calculator. A set that is complete already stays as it is.
func (s Set) With(ponds Ponds) (Set, []string) {
	var faults []string
	done := Set{all: make([]Calculator, len(s.all))}
	for i, c := range s.all {
		fault := func(what string) { faults = append(faults, c.ID+": "+what) }
		c.Example = s.complete(c, ponds, c.Example, "the example", fault)
		ready := c.Ready
		c.Ready = nil
		for _, r := range ready {
			r.Example = s.complete(c, ponds, r.Example, r.Name, fault)
			c.Ready = append(c.Ready, r)
		}
		c.Lookup.Given = s.about(c, ponds, c.Lookup.Pond, c.Lookup.Day, c.Lookup.Given, "the lookup table", fault)
		c.Chart.Given = s.about(c, ponds, c.Chart.Pond, c.Chart.Day, c.Chart.Given, "the chart", fault)
		c.fill(c.Lookup.Caption, c.Lookup.Given, "the lookup table", fault)
		c.fill(c.Chart.Caption, c.Chart.Given, "the chart", fault)
		done.all[i] = c
	}
	return done, faults
}

func (s Set) complete(c Calculator, ponds Ponds, e Example, what string, fault func(string)) Example {
	e.Given = s.about(c, ponds, e.Pond, e.Day, e.Given, what, fault)
	e.Story = c.fill(e.Story, e.Given, what, fault)
	return e
}

// about puts what is given over what is known of a pond.
func (s Set) about(c Calculator, ponds Ponds, pond, day string, given []Arg, what string, fault func(string)) []Arg {
	if pond == "" {
		return given
	}
	known, ok := ponds.Facts(pond, day)
	if !ok {
		at := pond
		if day != "" {
			at += " on " + day
		}
		fault(what + " is about the pond " + at + ", of which nothing is known")
		return given
	}
	return c.Over(s.Quoted(given, known), known.Args(c))
}

// Quoted puts facts of the pond into given values that name them: "{nitrate}", or
// "{fish.length}", a column of the first row.
func (s Set) Quoted(given []Arg, known Known) []Arg {
	facts := known.All()
	out := make([]Arg, len(given))
	for i, a := range given {
		out[i] = a
		gap, ok := strings.CutPrefix(a.Value, "{")
		if !ok {
			continue
		}
		name, column, _ := strings.Cut(strings.TrimSuffix(gap, "}"), ".")
		if facts[name] == "" {
			continue // to be refused, as it stands
		}
		out[i].Value = facts[name]
		row, _, _ := strings.Cut(facts[name], ";")
		for _, fact := range s.Facts() {
			for j, cell := range fact.Input.Columns {
				if parts := cells(row); fact.Name == name && cell.Name == column && j < len(parts) {
					out[i].Value = parts[j]
				}
			}
		}
	}
	return out
}

// Fill fills the gaps of a sentence, such as a caption, as those of a story are. It
// also returns what it cannot fill, one sentence each.
func (c Calculator) Fill(text string, given []Arg) (filled string, faults []string) {
	filled = c.fill(text, given, "the caption", func(what string) { faults = append(faults, what) })
	return filled, faults
}

// fill puts numbers into the gaps of a sentence: as they were written, if they
// are inputs, and as displayed, if they are outputs.
func (c Calculator) fill(text string, given []Arg, what string, fault func(string)) string {
	var b strings.Builder
	var answer *View
	for {
		before, rest, open := strings.Cut(text, "{")
		b.WriteString(before)
		if !open {
			return b.String()
		}
		gap, after, closed := strings.Cut(rest, "}")
		shown, ok := c.written(gap, given)
		if !ok && closed {
			if answer == nil {
				v, err := c.Reckon(given)
				if err != nil {
					fault(what + " is refused: " + err.Error())
					return b.String() + "{" + rest
				}
				answer = &v
			}
			shown, ok = answer.named(gap)
		}
		if !ok {
			fault(what + " has the gap {" + gap + "}, which is no input with a value and no output of it")
			return b.String() + "{" + rest
		}
		b.WriteString(shown)
		text = after
	}
}

// written is an input as a sentence shows it: "temperature", "flow 2" to two
// digits, or "fish.length", a column of the first row.
func (c Calculator) written(gap string, given []Arg) (string, bool) {
	gap, digits, _ := strings.Cut(gap, " ")
	name, column, _ := strings.Cut(gap, ".")
	d, ok := c.Input(name)
	text, stated := Find(given, name)
	if !stated {
		text = d.Default
	}
	if !ok || text == "" {
		return "", false
	}
	if d.Type != Rows {
		return d.sentence(text, digits)
	}
	row, _, _ := strings.Cut(text, ";")
	parts := cells(row)
	for i, cell := range d.Columns {
		if cell.Name == column && i < len(parts) {
			return cell.sentence(parts[i], digits)
		}
	}
	return "", false
}

// sentence shows the text of a quantity or a choice.
func (d Input) sentence(text, digits string) (string, bool) {
	if d.Type == Choice {
		return text, true
	}
	q, err := quantity.Parse(text, d.Kind, d.Units())
	switch {
	case err != nil:
		return "", false
	case d.Kind == quantity.Money:
		return text, true // its unit is the reader's currency
	}
	if n, err := strconv.Atoi(digits); err == nil {
		return q.Text(n), true
	}
	return plainly(q), true
}

// named is an output of an answer, or an end of its range: "toxic-low".
func (v View) named(gap string) (string, bool) {
	for _, s := range v.Values {
		switch {
		case gap == s.Name:
			return s.Text, true
		case gap == s.Name+"-low" && s.Low != "":
			return s.Low, true
		case gap == s.Name+"-high" && s.High != "":
			return s.High, true
		}
	}
	return "", false
}
