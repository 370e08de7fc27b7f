package calchtml

import (
	"fmt"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// row opens the element around one input.
func (f *form) row(tag, class string, d calculators.Input) {
	attrs := append([]string{"class", class, "data-input", d.Name}, when(d)...)
	if d.Fact != "" {
		attrs = append(attrs, "data-fact", d.Fact)
	}
	if len(d.Once) > 0 {
		attrs = append(attrs, "data-once", strings.Join(d.Once, " "))
	}
	if d.Fine {
		attrs = append(attrs, "data-assumed", assumed(d))
	}
	if _, stated := calculators.Find(f.args, d.Name); stated {
		attrs = append(attrs, "data-stated", "")
	}
	if !calculators.Applies(f.c.Inputs, f.args, d) {
		attrs = append(attrs, "hidden", "hidden")
	}
	f.b.Open(tag, attrs...)
}

// when are the attributes of an input's condition and default.
func when(d calculators.Input) []string {
	var attrs []string
	if d.When.Input != "" {
		attrs = append(attrs, "data-when", d.When.Input, "data-is", strings.Join(d.When.Is, " "))
	}
	if d.Default != "" {
		attrs = append(attrs, "data-default", d.Default)
	}
	return attrs
}

// assumed says what is taken of an input that is not stated.
func assumed(d calculators.Input) string {
	label := inSentence(d.Label)
	switch {
	case d.Default == "":
		return label + " not stated"
	case d.Type == calculators.Choice:
		return label + " " + optionLabel(d, d.Default)
	case d.Type == calculators.Rows:
		return label + " " + rowWords(d)
	}
	number, code, err := split(d, d.Default)
	if err != nil { // not a quantity, and its field shows it as it is
		return label + " " + d.Default
	}
	return label + " " + quantity.WithUnit(number, code)
}

// rowWords says the default of a list in words: "90° elbow 3, hose tail 1".
func rowWords(d calculators.Input) string {
	var rows []string
	for _, row := range rowTexts(d.Default) {
		var cells []string
		for i, cell := range strings.Split(row, ", ") {
			if i < len(d.Columns) {
				cells = append(cells, cellWords(d.Columns[i], cell))
			}
		}
		rows = append(rows, strings.Join(cells, " "))
	}
	return strings.Join(rows, ", ")
}

func cellWords(c calculators.Input, text string) string {
	if c.Type == calculators.Choice {
		return optionLabel(c, text)
	}
	number, code, err := split(c, text)
	if err != nil {
		return text
	}
	return quantity.WithUnit(number, code)
}

// label names the field of an input and says how to get its number.
func (f *form) label(d calculators.Input) (id string) {
	id = f.prefix + "_" + d.Name
	f.b.Open("label", "for", id)
	f.b.Leaf("span", d.Label)
	f.help(d)
	f.b.Close()
	return id
}

func (f *form) help(d calculators.Input) {
	help := d.Help
	if d.Optional {
		help = "May be left empty. " + help
	}
	if help != "" {
		f.b.Text(" ")
		f.b.Leaf("small", help)
	}
}

func (f *form) single(d calculators.Input, value string) error {
	f.row("div", "row", d)
	code, err := f.box(d, value, f.label(d))
	f.unit(d, code)
	f.b.Close()
	return err
}

// box writes the field of a number and returns the unit that belongs to it. An
// input that was not stated shows its default as a placeholder, so that it
// stays assumed until the reader states it.
func (f *form) box(d calculators.Input, value, id string) (code string, err error) {
	number, code, err := split(d, value)
	hint := ""
	if err == nil && value == "" {
		hint, code, err = split(d, d.Default)
	}
	if hint == "" {
		hint = " " // or style could not tell an empty field
	}
	f.b.Void("input", "id", id, "name", d.Name, "type", "text", "inputmode", inputMode(d), "value", number, "placeholder", hint)
	return code, err
}

// inputMode picks a phone's keyboard. The one for decimals has no minus sign.
func inputMode(d calculators.Input) string {
	switch {
	case d.Accept.Low < 0:
		return "text"
	case d.Kind == quantity.Count:
		return "numeric"
	}
	return "decimal"
}

// unit writes the choice of units; one unit alone is text, and none is an empty
// element that keeps the columns.
func (f *form) unit(d calculators.Input, code string) {
	codes := d.Units()
	if !contains(codes, code) {
		codes = append(codes, code)
	}
	if len(codes) == 1 {
		f.b.Leaf("span", quantity.Symbol(code), "class", "unit", "data-unit", unitValue(code))
		return
	}
	f.b.Open("select", "class", "unit", "aria-label", "Unit of "+d.Label)
	for _, u := range codes {
		f.b.Leaf("option", quantity.Symbol(u), "value", unitValue(u), "selected", selected(u == code))
	}
	f.b.Close()
}

// unitValue is what the script writes behind a number: nothing for a pure
// number and for pH.
func unitValue(code string) string {
	if quantity.Symbol(code) == "" {
		return ""
	}
	return code
}

func selected(yes bool) string {
	if yes {
		return "selected"
	}
	return ""
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}

// split parts a value as a person writes it into what the field shows and the
// code of the unit beside it. An empty value has the unit that a reader most
// likely has.
func split(d calculators.Input, value string) (number, code string, err error) {
	if strings.TrimSpace(value) == "" {
		return "", d.UnitCode(), nil
	}
	q, err := quantity.Parse(value, d.Kind, d.Units())
	if err != nil {
		return "", "", fmt.Errorf("%s: %w", d.Name, err)
	}
	n, rest, err := quantity.ReadNumber(value)
	if err != nil {
		return "", "", fmt.Errorf("%s: %w", d.Name, err)
	}
	if n.Value != q.Value { // feet and inches, of which ReadNumber saw the feet only
		return trimZeros(quantity.FormatNumber(q.Value, 6)), q.Unit.Code, nil
	}
	return strings.TrimSpace(strings.TrimSuffix(value, rest)), q.Unit.Code, nil
}

func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func (f *form) choice(d calculators.Input, value string) {
	f.row("div", "row choice", d)
	id := f.label(d)
	f.options(d, value, id)
	f.b.Close()
}

// options writes the choice. One that was not stated stands on an option of its
// own that says what is assumed. The choices of a list can always be taken back,
// or an empty line would say something.
func (f *form) options(d calculators.Input, value, id string) {
	f.b.Open("select", "id", id, "name", d.Name)
	switch {
	case d.Default != "":
		f.b.Leaf("option", optionLabel(d, d.Default)+" (assumed)", "value", "", "selected", selected(value == ""))
	case d.Optional:
		f.b.Leaf("option", "not stated", "value", "", "selected", selected(value == ""))
	case value == "" || id == "":
		f.b.Leaf("option", "choose", "value", "", "selected", selected(value == ""))
	}
	for _, o := range d.Options {
		f.b.Leaf("option", o.Label, "value", o.Name, "selected", selected(o.Name == value))
	}
	f.b.Close()
}

func optionLabel(d calculators.Input, name string) string {
	for _, o := range d.Options {
		if o.Name == name {
			return o.Label
		}
	}
	return name
}

// rows writes a list, one line of fields for each row. Its fields are named by
// the labels around them, so that the script can copy a line as it is.
func (f *form) rows(d calculators.Input, value string) error {
	if value == "" {
		value = d.Default
	}
	f.row("fieldset", "list", d)
	f.b.Open("legend")
	f.b.Leaf("span", d.Label)
	f.help(d)
	f.b.Close()
	f.b.Open("ol", "class", "lines")
	lines := rowTexts(value)
	if len(lines) == 0 {
		lines = []string{""}
	}
	for _, line := range lines {
		if err := f.line(d, line); err != nil {
			return err
		}
	}
	f.b.Close()
	f.b.Leaf("button", "Add a row", "type", "button", "class", "add", "hidden", "hidden")
	f.b.Close()
	return nil
}

// rowTexts parts the text of a list as package calculators reads it.
func rowTexts(value string) []string {
	var lines []string
	for line := range strings.FieldsFuncSeq(value, func(r rune) bool { return r == ';' || r == '\n' }) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

func (f *form) line(d calculators.Input, text string) error {
	cells := strings.Split(text, ", ")
	args := make([]calculators.Arg, 0, len(cells))
	for i, c := range d.Columns {
		if i < len(cells) && strings.TrimSpace(cells[i]) != "" {
			args = append(args, calculators.Arg{Name: c.Name, Value: strings.TrimSpace(cells[i])})
		}
	}
	f.b.Open("li", "class", "line")
	for _, c := range d.Columns {
		attrs := append([]string{"class", "cell", "data-column", c.Name}, when(c)...)
		if !calculators.Applies(d.Columns, args, c) {
			attrs = append(attrs, "hidden", "hidden")
		}
		f.b.Open("div", attrs...)
		value, _ := calculators.Find(args, c.Name)
		if err := f.cell(c, value); err != nil {
			return err
		}
		f.b.Close()
	}
	f.b.Leaf("button", "Remove", "type", "button", "class", "remove", "hidden", "hidden")
	f.b.Close()
	return nil
}

// cell is one field of a line, inside its label.
func (f *form) cell(c calculators.Input, value string) error {
	f.b.Open("label")
	f.b.Leaf("span", c.Label, "class", "head")
	if c.Type == calculators.Choice {
		f.options(c, value, "")
		f.b.Close()
		return nil
	}
	code, err := f.box(c, value, "")
	f.b.Close()
	f.unit(c, code)
	return err
}
