package calculators

import (
	"math"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// parseInputs reads all arguments and reports all faults together.
func parseInputs(declared []Input, args []Arg) (Inputs, InputErrors) {
	in := Inputs{declared: declared, entries: make(map[string]entry, len(declared))}
	given, errs := sortArgs(declared, args)
	open := map[string]bool{} // choices that the reader has still to make
	for _, d := range declared {
		text := strings.TrimSpace(given[d.Name])
		var es InputErrors
		switch {
		case d.When.Input != "" && open[d.When.Input]:
			// Whether the input applies is not known yet: only what is plainly
			// wrong with it is worth a word.
			open[d.Name] = true
			if text != "" {
				_, es = parseEntry(d, text)
			}
		case !in.applies(d):
			if text != "" {
				es = InputErrors{in.notApplying(d)}
			}
		default:
			es = in.read(d, text)
			open[d.Name] = len(es) > 0
		}
		errs = append(errs, es...)
	}
	return in, errs
}

// sortArgs returns the text given for each input, and an error for each name
// that is unknown or given twice.
func sortArgs(declared []Input, args []Arg) (map[string]string, InputErrors) {
	var errs InputErrors
	given := make(map[string]string, len(args))
	for _, a := range args {
		_, twice := given[a.Name]
		switch {
		case !declares(declared, a.Name):
			errs = append(errs, InputError{Input: quantity.Clean(a.Name), Problem: "is not an input here", Accept: "one of " + strings.Join(inputNames(declared), ", ")})
		case twice:
			errs = append(errs, InputError{Input: a.Name, Problem: "is given twice", Remedy: "give it once"})
		default:
			given[a.Name] = a.Value
		}
	}
	return given, errs
}

// read takes the text of an input that applies, or its default.
func (in Inputs) read(d Input, text string) InputErrors {
	stated := text != ""
	if !stated {
		text = d.Default
	}
	if text == "" {
		if d.Optional {
			return nil
		}
		return InputErrors{{Input: d.Name, Problem: "is missing", Accept: d.AcceptText()}}
	}
	e, errs := parseEntry(d, text)
	if len(errs) == 0 {
		e.assumed = !stated
		in.entries[d.Name] = e
	}
	return errs
}

func (in Inputs) applies(d Input) bool {
	if d.When.Input == "" {
		return true
	}
	choice := in.entries[d.When.Input].choice
	for _, is := range d.When.Is {
		if choice == is {
			return true
		}
	}
	return false
}

func (in Inputs) notApplying(d Input) InputError {
	e := InputError{Input: d.Name, Problem: "does not apply here", Remedy: "leave it out"}
	if choice := in.entries[d.When.Input].choice; choice != "" {
		e.Problem = "does not apply when " + d.When.Input + " is " + choice
		e.Remedy = "leave it out, or choose " + d.When.Input + "=" + strings.Join(d.When.Is, " or ")
	}
	return e
}

func parseEntry(d Input, text string) (entry, InputErrors) {
	switch d.Type {
	case Choice:
		for _, o := range d.Options {
			if quantity.SameLetters(text, o.Name) {
				return entry{choice: o.Name}, nil
			}
		}
		return entry{}, InputErrors{{Input: d.Name, Problem: "is " + quantity.Quote(text), Accept: d.AcceptText()}}
	case Rows:
		return parseRows(d, text)
	}
	q, err := quantity.Parse(text, d.Kind, d.Units())
	if err != nil {
		return entry{}, InputErrors{unread(d, err)}
	}
	if err := checkRange(d, q); err != nil {
		return entry{}, InputErrors{*err}
	}
	return entry{quantity: q}, nil
}

func unread(d Input, err error) InputError {
	e := InputError{Input: d.Name, Problem: err.Error(), Accept: d.AcceptText()}
	if p, ok := err.(*quantity.ParseError); ok {
		e.Problem, e.Remedy = quantity.Quote(p.Text)+" "+p.Reason, p.Advice
	}
	return e
}

func checkRange(d Input, q quantity.Quantity) *InputError {
	v := q.In(quantity.MustUnit(d.UnitCode())).Value
	// A converted bound may miss by the last bit: 32 °F is 0 °C.
	slack := 1e-9 * math.Max(math.Abs(d.Accept.Low), math.Abs(d.Accept.High))
	if v < d.Accept.Low-slack || v > d.Accept.High+slack {
		return &InputError{Input: d.Name, Problem: "is " + plainly(q), Accept: d.AcceptText()}
	}
	if d.Kind == quantity.Count && v != math.Trunc(v) {
		return &InputError{Input: d.Name, Problem: "is " + plainly(q), Accept: "a whole number, " + d.AcceptText()}
	}
	return nil
}

// plainly prints a quantity as the reader wrote it, to ten digits.
func plainly(q quantity.Quantity) string {
	number := quantity.FormatPlain(q.Value, 10)
	if len(number) > 30 { // a slip of the finger, not worth a line of noughts
		number = "out of all proportion: " + strconv.FormatFloat(q.Value, 'g', 4, 64)
	}
	return quantity.WithUnit(number, q.Unit.Code)
}

// mostRows bounds a list; no pond has more fish, boxes or soundings than that.
const mostRows = 1000

// parseRows reads "koi, 45 cm, 3; goldfish, 15 cm, 10": rows separated by
// semicolons or line ends, cells by commas. Cells that are empty or left off at
// the end take the column's default.
func parseRows(d Input, text string) (entry, InputErrors) {
	var rows []Inputs
	var errs InputErrors
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if len(rows) == mostRows {
			return entry{}, InputErrors{{Input: d.Name, Problem: "has more than " + strconv.Itoa(mostRows) + " rows", Remedy: "put like ones into one row"}}
		}
		row, es := parseRow(d, d.Name+" row "+strconv.Itoa(len(rows)+1), cells(line))
		errs = append(errs, es...)
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		errs = append(errs, InputError{Input: d.Name, Problem: "has no rows", Accept: d.AcceptText()})
	}
	return entry{rows: rows}, errs
}

func parseRow(d Input, name string, texts []string) (Inputs, InputErrors) {
	if len(texts) > len(d.Columns) {
		return Inputs{}, InputErrors{{Input: name, Problem: "has " + strconv.Itoa(len(texts)) + " cells", Accept: "at most " + strconv.Itoa(len(d.Columns)) + ", as in " + d.AcceptText()}}
	}
	args := make([]Arg, len(texts))
	for i, text := range texts {
		args[i] = Arg{Name: d.Columns[i].Name, Value: text}
	}
	row, errs := parseInputs(d.Columns, args)
	for i := range errs {
		errs[i].Input = name + ", " + errs[i].Input
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

func declares(inputs []Input, name string) bool {
	for _, d := range inputs {
		if d.Name == name {
			return true
		}
	}
	return false
}

func inputNames(inputs []Input) []string {
	names := make([]string, len(inputs))
	for i, d := range inputs {
		names[i] = d.Name
	}
	return names
}
