package calchtml

import (
	"fmt"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Lookup returns a table of ready answers, each figure marked as reckoned by
// this book. The error names in one line the cell that has no answer.
func (p *Pad) Lookup(c calculators.Calculator, l calculators.Lookup) (string, error) {
	t := table{c: c, l: l}
	rows, ok := c.Input(l.Rows.Input)
	if !ok {
		return "", fmt.Errorf("calculator %s: a lookup table has the unknown input %q in its rows", c.ID, l.Rows.Input)
	}
	t.rows = rows
	if t.columns, ok = c.Input(l.Columns.Input); !ok && l.Columns.Input != "" {
		return "", fmt.Errorf("calculator %s: a lookup table has the unknown input %q in its columns", c.ID, l.Columns.Input)
	}
	if err := t.outputs(); err != nil {
		return "", err
	}
	caption, err := caption(c, l.Caption, l.Given)
	if err != nil {
		return "", err
	}
	t.l.Caption = caption
	return t.html()
}

// table is a lookup table in the making.
type table struct {
	b       markup.Builder
	c       calculators.Calculator
	l       calculators.Lookup
	rows    calculators.Input
	columns calculators.Input // zero if the columns are the outputs in show
	show    []calculators.Output
	ranged  bool // an answer shown without its range has one
}

func (t *table) outputs() error {
	for _, name := range t.l.Show {
		o, ok := t.c.Output(name)
		if !ok {
			return fmt.Errorf("calculator %s: a lookup table shows the unknown output %q", t.c.ID, name)
		}
		t.show = append(t.show, o)
	}
	if len(t.show) == 0 || len(t.show) > 1 && t.columns.Name != "" {
		return fmt.Errorf("calculator %s: a lookup table shows %d outputs; expected one, or several without columns", t.c.ID, len(t.show))
	}
	return nil
}

func (t *table) html() (string, error) {
	t.b.Open("div", "class", "table", "role", "region", "aria-label", t.l.Caption, "tabindex", "0")
	t.b.Open("table", "class", "lookup")
	t.b.Leaf("caption", t.l.Caption)
	t.head()
	t.b.Open("tbody")
	t.b.Line()
	for _, value := range t.l.Rows.Values {
		if err := t.row(value); err != nil {
			return "", err
		}
	}
	t.b.Close()
	t.b.Close()
	t.b.Close()
	t.b.Line()
	if t.ranged {
		which := "Each figure is the likely one of a range; the calculator gives the range."
		if t.l.Low {
			which = "Each figure is the low end of a range, the one to plan with; the calculator gives the range."
		}
		t.b.Leaf("p", which, "class", "key")
		t.b.Line()
	}
	return t.b.String(), nil
}

// head has one line; a table with two inputs has a line above that says what
// the columns are and in which unit the figures.
func (t *table) head() {
	t.b.Open("thead")
	if t.columns.Name == "" {
		t.b.Open("tr")
		t.b.Leaf("th", t.rows.Label, "scope", "col", "class", "words")
		for _, o := range t.show {
			t.b.Leaf("th", withUnit(o.Label, o.Unit), "scope", "col")
		}
		t.b.Close()
	} else {
		t.b.Open("tr")
		t.b.Leaf("th", t.rows.Label, "scope", "col", "class", "words", "rowspan", "2")
		text := withUnit(t.show[0].Label, t.show[0].Unit) + ", by " + inSentence(t.columns.Label)
		t.b.Leaf("th", text, "class", "words", "scope", "colgroup", "colspan", fmt.Sprint(len(t.l.Columns.Values)))
		t.b.Close()
		t.b.Open("tr")
		for _, value := range t.l.Columns.Values {
			t.b.Leaf("th", axisText(t.columns, value), "scope", "col")
		}
		t.b.Close()
	}
	t.b.Close()
	t.b.Line()
}

func withUnit(label, unit string) string {
	if symbol := quantity.Symbol(unit); symbol != "" {
		return label + " (" + strings.ReplaceAll(symbol, " ", "\u00a0") + ")"
	}
	return label
}

// inSentence lowers the first letter of a label, unless it is a sign such as pH
// or an abbreviation.
func inSentence(label string) string {
	if len(label) > 1 && strings.ToUpper(label[1:2]) == label[1:2] {
		return label
	}
	return strings.ToLower(label[:1]) + label[1:]
}

// axisText is a value of a table's edge as it is printed.
func axisText(d calculators.Input, value string) string {
	if d.Type == calculators.Choice {
		return optionLabel(d, value)
	}
	number, code, err := split(d, value)
	if err != nil { // reckoning the cells reports it
		return value
	}
	if d.Kind == quantity.PH {
		return "pH\u00a0" + number
	}
	return quantity.WithUnit(number, code)
}

func (t *table) row(value string) error {
	t.b.Open("tr")
	t.b.Leaf("th", axisText(t.rows, value), "scope", "row")
	args := calculators.With(t.l.Given, calculators.Arg{Name: t.l.Rows.Input, Value: value})
	if t.columns.Name == "" {
		v, err := reckon(t.c, args)
		if err != nil {
			return fmt.Errorf("%w, in the lookup row %s", err, value)
		}
		for _, o := range t.show {
			t.cell(v, o, true)
		}
	}
	for _, column := range t.l.Columns.Values {
		v, err := reckon(t.c, calculators.With(args, calculators.Arg{Name: t.l.Columns.Input, Value: column}))
		if err != nil {
			return fmt.Errorf("%w, in the lookup cell %s, %s", err, value, column)
		}
		t.cell(v, t.show[0], false)
	}
	t.b.Close()
	t.b.Line()
	return nil
}

// cell prints an output without its unit, which stands in the head. A table
// with two inputs has no room for ranges.
func (t *table) cell(v calculators.View, o calculators.Output, ranges bool) {
	t.b.Open("td")
	defer t.b.Close()
	for _, s := range v.Values {
		if s.Name != o.Name {
			continue
		}
		shown := s.Text
		if t.l.Low && s.Low != "" {
			shown = s.Low
		}
		t.b.Leaf("span", bare(shown, o.Unit), "class", "r")
		switch {
		case s.Low == "":
		case ranges:
			t.b.Text(" ")
			t.b.Leaf("small", bare(s.Low, o.Unit)+"–"+bare(s.High, o.Unit))
		default:
			t.ranged = true
		}
		return
	}
	t.b.Text("—") // the calculator gives no such value here
}

// bare takes the unit off a displayed value.
func bare(text, unit string) string {
	return strings.TrimSuffix(text, quantity.WithUnit("", unit))
}
