package calculators

import (
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// With returns the set with the examples, ready scenarios, tables and charts of
// its calculators completed from the ponds they are about, and the gaps of their
// stories filled. It also returns what cannot be, one sentence each, naming the
// calculator. A set that is complete already stays as it is.
func (s Set) With(ponds Ponds) (Set, []string) {
	var faults []string
	done := Set{all: make([]Calculator, len(s.all))}
	for i, c := range s.all {
		fault := func(what string) { faults = append(faults, c.ID+": "+what) }
		c.Example = c.complete(ponds, c.Example, "the example", fault)
		ready := c.Ready
		c.Ready = nil
		for _, r := range ready {
			r.Example = c.complete(ponds, r.Example, r.Name, fault)
			c.Ready = append(c.Ready, r)
		}
		c.Lookup.Given = c.about(ponds, c.Lookup.Pond, "", c.Lookup.Given, "the lookup table", fault)
		c.Chart.Given = c.about(ponds, c.Chart.Pond, "", c.Chart.Given, "the chart", fault)
		c.Lookup.Caption = c.fill(c.Lookup.Caption, c.Lookup.Given, "the lookup table", fault)
		c.Chart.Caption = c.fill(c.Chart.Caption, c.Chart.Given, "the chart", fault)
		done.all[i] = c
	}
	return done, faults
}

func (c Calculator) complete(ponds Ponds, e Example, what string, fault func(string)) Example {
	e.Given = c.about(ponds, e.Pond, e.Day, e.Given, what, fault)
	e.Story = c.fill(e.Story, e.Given, what, fault)
	return e
}

// about puts what is given over what is known of a pond.
func (c Calculator) about(ponds Ponds, pond, day string, given []Arg, what string, fault func(string)) []Arg {
	if pond == "" {
		return given
	}
	facts, ok := ponds.Facts(pond, day)
	if !ok {
		at := pond
		if day != "" {
			at += " on " + day
		}
		fault(what + " is about the pond " + at + ", of which nothing is known")
		return given
	}
	return c.Over(given, facts.Args(c))
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

// written is an input as a sentence shows it: "temperature", or "fish.length",
// a column of the first row.
func (c Calculator) written(gap string, given []Arg) (string, bool) {
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
		return d.sentence(text)
	}
	row, _, _ := strings.Cut(text, ";")
	parts := cells(row)
	for i, cell := range d.Columns {
		if cell.Name == column && i < len(parts) {
			return cell.sentence(parts[i])
		}
	}
	return "", false
}

// sentence shows the text of a quantity or a choice.
func (d Input) sentence(text string) (string, bool) {
	if d.Type == Choice {
		return text, true
	}
	q, err := quantity.Parse(text, d.Kind, d.Units())
	if err != nil {
		return "", false
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

// plainOutput writes a value of an output as a reader would type it, with the
// digits that are displayed.
func plainOutput(o Output, v float64) string {
	text := strings.ReplaceAll(quantity.FormatNumber(v, o.Digits), ",", "")
	if o.Whole {
		text = strconv.FormatFloat(v, 'f', 0, 64)
	}
	if quantity.Symbol(o.Unit) == "" {
		return text
	}
	return text + " " + o.Unit
}
