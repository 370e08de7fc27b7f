package crosscheck

import (
	"slices"
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// pattern names the numbers in a column of words: "length {length}, depth
// {depth}".
type pattern struct {
	column int
	text   string
	names  []string
}

func (b *builder) patterns(set *figures.Set, v value) []pattern {
	var out []pattern
	for _, f := range v.fields {
		column, ok := set.ColumnNamed(f.name)
		if !ok {
			b.noColumn(f.pos, set, f.name)
			continue
		}
		p := pattern{column: column, text: f.value.text, names: placeholders(f.value.text)}
		if len(p.names) == 0 {
			b.fault(f.value.pos, "the pattern names nothing", `words with names in braces, such as "length {length}"`, "put names in braces where the numbers stand")
		}
		out = append(out, p)
	}
	return out
}

// term is what stands in braces: a name, perhaps with a factor before it and a
// number to add behind it: {radius}, {2*radius}, {sum of K - 1}.
type term struct {
	name        string
	times, plus float64
}

func readTerm(s string) term {
	t := term{name: s, times: 1}
	if number, name, ok := strings.Cut(s, "*"); ok {
		if f, err := strconv.ParseFloat(number, 64); err == nil {
			t.name, t.times = name, f
		}
	}
	for _, sign := range []string{" - ", " + "} {
		if name, number, ok := strings.Cut(t.name, sign); ok {
			if f, err := strconv.ParseFloat(strings.TrimSpace(sign)+number, 64); err == nil {
				t.name, t.plus = name, f
			}
		}
	}
	return t
}

// of applies the term to the number that a text begins with. A bare name leaves
// the text as it is printed.
func (t term) of(text string) string {
	if t.times == 1 && t.plus == 0 {
		return text
	}
	n, rest, err := quantity.ReadNumber(text)
	if err != nil {
		return text
	}
	const digits = 12 // more than any figure has, fewer than a sum gets wrong
	return strconv.FormatFloat(n.Value*t.times+t.plus, 'g', digits, 64) + rest
}

// placeholders lists the names in braces.
func placeholders(text string) []string {
	var out []string
	for {
		_, rest, ok := strings.Cut(text, "{")
		inside, after, closed := strings.Cut(rest, "}")
		if !ok || !closed {
			return out
		}
		out = append(out, readTerm(inside).name)
		text = after
	}
}

// match reads a text by the pattern. It is nil if the text is of another form.
func (p pattern) match(text string) map[string]string {
	found := map[string]string{}
	pattern := p.text
	for {
		before, rest, open := strings.Cut(pattern, "{")
		if !open {
			if text != before {
				return nil
			}
			return found
		}
		name, after, _ := strings.Cut(rest, "}")
		next, _, _ := strings.Cut(after, "{")
		text, open = strings.CutPrefix(text, before)
		end := len(text)
		if next != "" {
			end = strings.Index(text, next)
		}
		if !open || end <= 0 {
			return nil
		}
		found[name], text, pattern = text[:end], text[end:], after
	}
}

// filler fills templates with the figures of a row.
type filler struct {
	set   *figures.Set
	row   int
	named map[string]string // numbers found in words
}

// arg is the text of an input; false if all its figures are blank.
func (f filler) arg(g given) (string, bool) {
	var parts []string
	for part := range strings.SplitSeq(g.template, ";") {
		text, blank := f.fill(part, g.input)
		if !blank {
			parts = append(parts, text)
		}
	}
	return strings.TrimSpace(strings.Join(parts, ";")), len(parts) > 0
}

// fill replaces the names in a part of a template. blank reports that a figure
// is missing.
func (f filler) fill(text string, input calculators.Input) (filled string, blank bool) {
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(text, "{")
		b.WriteString(before)
		if !open {
			return b.String(), false
		}
		inside, after, _ := strings.Cut(rest, "}")
		value := f.value(readTerm(inside), input)
		if value == "" {
			return "", true
		}
		b.WriteString(value)
		text = after
	}
}

// value is a row's figure, as a person would type it: with its unit, where the
// input takes one.
func (f filler) value(t term, input calculators.Input) string {
	if text, ok := f.named[t.name]; ok {
		return t.of(text)
	}
	column, _ := f.set.ColumnNamed(t.name)
	text := t.of(f.set.Rows[f.row].Cells[column].Text)
	unit, ok := f.set.Unit(f.row, column)
	switch {
	case !ok || unit.Code == "[pH]" || unit.Code == "1" && unitless(input):
		return text
	case unit.Code == "1": // people write a share in percent
		return (term{times: 100}).of(text) + " %"
	}
	return text + " " + unit.Code
}

// unitless reports whether an input takes plain numbers.
func unitless(d calculators.Input) bool {
	return d.Type != calculators.Single || slices.Contains([]quantity.Kind{quantity.Number, quantity.Count, quantity.PH}, d.Kind)
}
