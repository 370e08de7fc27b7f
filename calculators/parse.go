package calculators

import (
	"math"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// parseInputs reads all arguments and reports all faults together.
func parseInputs(declared []Input, args []Arg) (Inputs, InputErrors) {
	entries := make([]entry, len(declared))
	for i := range declared {
		entries[i].Input = &declared[i]
	}
	in := Inputs{&entries}
	errs := in.sort(declared, args)
	for i := range entries {
		in.partUnit(&entries[i])
	}
	for i := range entries {
		errs = append(errs, in.take(&entries[i])...)
	}
	return in, errs
}

// sort gives each input the text of its argument. It returns an error for each
// name that is unknown or given twice.
func (in Inputs) sort(declared []Input, args []Arg) InputErrors {
	var errs InputErrors
	for _, a := range args {
		e := in.find(a.Name)
		if e == nil {
			e = in.once(a.Name)
		}
		switch {
		case e == nil:
			errs = append(errs, InputError{Input: quantity.Clean(a.Name), Problem: "is not an input here", Accept: quantity.Put(oneOf, "names", inputNames(declared))})
		case e.stated:
			errs = append(errs, InputError{Input: a.Name, Problem: "is given twice", Remedy: "give it once"})
		default:
			e.given, e.stated = a.Value, true
		}
	}
	return errs
}

// partUnit takes the unit behind a number for the answer to the choice of its unit.
// It wins over what the choice says, as a unit in a field does over the one beside it.
func (in Inputs) partUnit(e *entry) {
	number, option, ok := e.parted(e.given)
	if on := in.find(e.Counts.Input); ok && on != nil {
		e.given = number
		on.given, on.stated = option, true
	}
}

// parted splits a number from a unit that one of the options of Counts means. ok is
// false for any other text.
func (d *Input) parted(text string) (number, option string, ok bool) {
	if d.Counts.Input == "" {
		return text, "", false
	}
	q, err := quantity.Parse(text, d.Counts.Kind, nil)
	if err != nil {
		return text, "", false
	}
	for _, as := range d.Counts.As {
		if as.Code == q.Unit.Code {
			return quantity.PlainDigits(q.Value), as.Option, true
		}
	}
	first := d.Counts.As[0]
	return quantity.PlainDigits(q.In(quantity.MustUnit(first.Code)).Value), first.Option, true
}

// take reads the text of an entry, or its default, if the input applies.
func (in Inputs) take(e *entry) InputErrors {
	text := strings.TrimSpace(e.given)
	e.stated = text != ""
	applies, open := in.applies(e)
	switch {
	case open:
		// Whether the input applies is not known yet: only what is plainly
		// wrong with it is worth a word.
		e.open = true
		if e.stated {
			return (&entry{Input: e.Input}).read(text)
		}
		return nil
	case applies:
		errs := e.takeOrAssume(text)
		e.present = len(errs) == 0 && (e.stated || e.Default != "")
		e.open = len(errs) > 0
		return errs
	case e.stated:
		return InputErrors{in.notApplying(e)}
	}
	return nil
}

func (e *entry) takeOrAssume(text string) InputErrors {
	if !e.stated {
		text = e.Default
	}
	switch {
	case text != "":
		return e.read(text)
	case e.Optional:
		return nil
	}
	return InputErrors{{Input: e.Name, Problem: "is missing", Accept: e.AcceptText()}}
}

// applies reports whether the condition of an input holds, or cannot be known
// because the choice it hangs on is open.
func (in Inputs) applies(e *entry) (holds, open bool) {
	if e.When.Input == "" {
		return true, false
	}
	on := in.entry(e.When.Input)
	for _, is := range e.When.Is {
		holds = holds || on.choice == is
	}
	return holds, on.open
}

func (in Inputs) notApplying(e *entry) InputError {
	if choice := in.Choice(e.When.Input); choice != "" {
		return InputError{Input: e.Name, Problem: quantity.Put("does not apply when {input} is {choice}", "input", e.When.Input, "choice", choice),
			Remedy: quantity.Put("leave it out, or choose {input}={choices}", "input", e.When.Input, "choices", strings.Join(e.When.Is, " or "))}
	}
	return InputError{Input: e.Name, Problem: "does not apply here", Remedy: "leave it out"}
}

// read takes a text, which is not empty.
func (e *entry) read(text string) InputErrors {
	switch e.Type {
	case Choice:
		for i := range e.Options {
			if quantity.SameLetters(text, e.Options[i].Name) {
				e.choice = e.Options[i].Name
				return nil
			}
		}
		return InputErrors{{Input: e.Name, Problem: quantity.Put(itIs, "value", quantity.Quote(text)), Accept: e.AcceptText()}}
	case Rows:
		return e.readRows(text)
	}
	q, err := quantity.Parse(text, e.Kind, e.Units())
	if err != nil {
		return InputErrors{unread(e.Input, err)}
	}
	e.quantity = q
	return checkRange(e.Input, q)
}

func unread(d *Input, err error) InputError {
	e := InputError{Input: d.Name, Problem: err.Error(), Accept: d.AcceptText()}
	if p, ok := err.(*quantity.ParseError); ok {
		e.Problem, e.Remedy = quantity.Put("{text} {reason}", "reason", p.Reason, "text", quantity.Quote(p.Text)), p.Advice
	}
	return e
}

func checkRange(d *Input, q quantity.Quantity) InputErrors {
	v := q.In(quantity.MustUnit(d.UnitCode())).Value
	// A converted bound may miss by the last bit: 32 °F is 0 °C.
	slack := 1e-9 * math.Max(math.Abs(d.Accept.Low), math.Abs(d.Accept.High))
	if v < d.Accept.Low-slack || v > d.Accept.High+slack {
		return InputErrors{{Input: d.Name, Problem: quantity.Put(itIs, "value", plainly(q)), Accept: d.AcceptText()}}
	}
	if d.Kind == quantity.Count && v != math.Trunc(v) {
		return InputErrors{{Input: d.Name, Problem: quantity.Put(itIs, "value", plainly(q)), Accept: quantity.Put("a whole number, {range}", "range", d.AcceptText())}}
	}
	return nil
}

// plainly prints a quantity as the reader wrote it, to ten digits.
func plainly(q quantity.Quantity) string {
	number := quantity.FormatPlain(q.Value, 10)
	if len(number) > 30 { // a slip of the finger, not worth a line of noughts
		number = quantity.Put("out of all proportion: {value}", "value", strconv.FormatFloat(q.Value, 'g', 4, 64))
	}
	return quantity.WithUnit(number, q.Unit.Code)
}

// mostRows bounds a list; no pond has more fish, boxes or soundings than that.
const mostRows = 1000

// readRows reads "koi, 45 cm, 3; goldfish, 15 cm, 10": rows separated by
// semicolons or line ends, cells by commas. Cells that are empty or left off at
// the end take the column's default.
func (e *entry) readRows(text string) InputErrors {
	var errs InputErrors
	for line := range strings.SplitSeq(strings.ReplaceAll(text, "\n", ";"), ";") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if len(e.rows) == mostRows {
			return InputErrors{{Input: e.Name, Problem: Text("has more than {most 0|row|rows}", mostRows), Remedy: "put like ones into one row"}}
		}
		row, es := parseRow(e.Input, rowOf(e.Name, len(e.rows)), cells(line))
		errs = append(errs, es...)
		e.rows = append(e.rows, row)
	}
	if len(e.rows) == 0 {
		errs = append(errs, InputError{Input: e.Name, Problem: "has no rows", Accept: e.AcceptText()})
	}
	return errs
}

func parseRow(d *Input, name string, texts []string) (Inputs, InputErrors) {
	if len(texts) > len(d.Columns) {
		return Inputs{}, InputErrors{{Input: name, Problem: Text("has {cells 0|cell|cells}", float64(len(texts))), Accept: quantity.Put(Text("at most {most 0}, as in {row}", float64(len(d.Columns))), "row", d.AcceptText())}}
	}
	args := make([]Arg, len(texts))
	for i, text := range texts {
		args[i] = Arg{Name: d.Columns[i].Name, Value: text}
	}
	row, errs := parseInputs(d.Columns, args)
	for i := range errs {
		errs[i].Input = quantity.Put("{row}, {column}", "row", name, "column", errs[i].Input)
	}
	return row, errs
}

// cells splits a row at its commas, except at one that stands between two
// digits and so separates thousands.
func cells(line string) []string {
	var out []string
	start := 0
	for i := range len(line) {
		if line[i] != ',' || digitAt(line, i-1) && digitAt(line, i+1) {
			continue
		}
		out = append(out, strings.TrimSpace(line[start:i]))
		start = i + 1
	}
	return append(out, strings.TrimSpace(line[start:]))
}

func digitAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

func inputNames(inputs []Input) string {
	names := ""
	for i := range inputs {
		if i > 0 {
			names += ", "
		}
		names += inputs[i].Name
	}
	return names
}

// Check returns why the text would be refused as this input; nil if it is not.
func (d Input) Check(text string) error {
	text, _, _ = d.parted(text)
	if errs := (&entry{Input: &d}).read(text); len(errs) > 0 {
		return errs
	}
	return nil
}

// CheckKept returns why a text that a pond record keeps under the given key (Key or
// Keys of an input) would be refused by every calculator that asks for it; nil if one
// takes it, or if none asks. "" is a field that was emptied, and in order.
func (s Set) CheckKept(key, text string) error {
	if text == "" {
		return nil
	}
	of, name, own := strings.Cut(key, ".")
	var refused error
	for i := range s.all {
		c := &s.all[i]
		if own && c.ID != of {
			continue
		}
		for j := range c.Inputs {
			d := &c.Inputs[j]
			if own && (d.Name != name || d.Fact != "") && !d.wasCalled(name) || !own && d.Fact != key {
				continue
			}
			err := d.Check(text)
			if err == nil {
				return nil
			}
			if refused == nil {
				refused = err
			}
		}
	}
	return refused
}
