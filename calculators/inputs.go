package calculators

import (
	"math"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// Inputs are the checked inputs of one call. Its methods panic on a name the
// calculator does not declare, which is a mistake in the calculator.
type Inputs struct {
	declared []Input
	entries  map[string]entry
}

type entry struct {
	quantity quantity.Quantity
	choice   string
	rows     []Inputs
	assumed  bool
}

// Has reports whether the input was stated or has a default.
func (in Inputs) Has(name string) bool {
	in.declaration(name)
	_, ok := in.entries[name]
	return ok
}

// Stated reports whether the reader stated the input, rather than its default
// being assumed.
func (in Inputs) Stated(name string) bool {
	in.declaration(name)
	e, ok := in.entries[name]
	return ok && !e.assumed
}

// In returns a quantity in the unit with the given UCUM code; NaN if it is
// optional and absent.
func (in Inputs) In(name, code string) float64 {
	in.declaration(name)
	e, ok := in.entries[name]
	if !ok {
		return math.NaN()
	}
	return e.quantity.In(quantity.MustUnit(code)).Value
}

// Quantity returns a quantity as the reader wrote it.
func (in Inputs) Quantity(name string) quantity.Quantity {
	in.declaration(name)
	return in.entries[name].quantity
}

// Choice returns the name of the chosen option.
func (in Inputs) Choice(name string) string {
	in.declaration(name)
	return in.entries[name].choice
}

// Rows returns the rows of a list.
func (in Inputs) Rows(name string) []Inputs {
	in.declaration(name)
	return in.entries[name].rows
}

func (in Inputs) declaration(name string) Input {
	for _, d := range in.declared {
		if d.Name == name {
			return d
		}
	}
	panic("calculators: input not declared: " + name)
}

// UnitCode returns the unit in which the input's ranges are declared.
func (d Input) UnitCode() string {
	if d.Unit != "" {
		return d.Unit
	}
	return d.Kind.Units()[0]
}

// Units returns the UCUM codes a reader may choose from, the declared one first.
func (d Input) Units() []string {
	codes := []string{d.UnitCode()}
	for _, c := range d.Kind.Units() {
		if c != codes[0] {
			codes = append(codes, c)
		}
	}
	return codes
}

// AcceptText says what is accepted, in words.
func (d Input) AcceptText() string {
	switch d.Type {
	case Choice:
		names := make([]string, len(d.Options))
		for i, o := range d.Options {
			names[i] = o.Name
		}
		return "one of " + strings.Join(names, ", ")
	case Rows:
		names := make([]string, len(d.Columns))
		for i, c := range d.Columns {
			names[i] = c.Name
		}
		return "rows of \"" + strings.Join(names, ", ") + "\" separated by semicolons"
	}
	s := rangeText(d.Accept, d.UnitCode())
	if d.Accept.Origin != "" {
		s += " (" + d.Accept.Origin + ")"
	}
	return s
}

func rangeText(r Range, code string) string {
	low, high := quantity.FormatNumber(r.Low, 6), quantity.FormatNumber(r.High, 6)
	return trimZeros(low) + " to " + quantity.WithUnit(trimZeros(high), code)
}

func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// parseInputs reads all arguments and reports all faults together.
func parseInputs(declared []Input, args []Arg) (Inputs, InputErrors) {
	in := Inputs{declared: declared, entries: make(map[string]entry, len(declared))}
	var errs InputErrors
	given := make(map[string]string, len(args))
	for _, a := range args {
		if !declares(declared, a.Name) {
			errs = append(errs, InputError{Input: a.Name, Problem: "is not an input here", Accept: "one of " + strings.Join(inputNames(declared), ", ")})
			continue
		}
		if _, twice := given[a.Name]; twice {
			errs = append(errs, InputError{Input: a.Name, Problem: "is given twice", Remedy: "give it once"})
			continue
		}
		given[a.Name] = a.Value
	}
	for _, d := range declared {
		text, stated := given[d.Name]
		if !in.applies(d) {
			if stated && strings.TrimSpace(text) != "" {
				errs = append(errs, InputError{Input: d.Name, Problem: "does not apply when " + d.When.Input + " is " + in.entries[d.When.Input].choice, Remedy: "leave it out, or choose " + d.When.Input + "=" + strings.Join(d.When.Is, " or ")})
			}
			continue
		}
		if strings.TrimSpace(text) == "" {
			if d.Default == "" {
				if !d.Optional {
					errs = append(errs, InputError{Input: d.Name, Problem: "is missing", Accept: d.AcceptText()})
				}
				continue
			}
			text, stated = d.Default, false
		}
		e, es := parseEntry(d, text)
		errs = append(errs, es...)
		if len(es) == 0 {
			e.assumed = !stated
			in.entries[d.Name] = e
		}
	}
	return in, errs
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

func parseEntry(d Input, text string) (entry, InputErrors) {
	switch d.Type {
	case Choice:
		name := strings.ToLower(strings.TrimSpace(text))
		for _, o := range d.Options {
			if name == o.Name {
				return entry{choice: o.Name}, nil
			}
		}
		return entry{}, InputErrors{{Input: d.Name, Problem: `is "` + text + `"`, Accept: d.AcceptText()}}
	case Rows:
		return parseRows(d, text)
	}
	q, err := quantity.Parse(text, d.Kind, d.Units())
	if err != nil {
		e := InputError{Input: d.Name, Problem: err.Error(), Accept: d.AcceptText()}
		return entry{}, InputErrors{e}
	}
	if err := checkRange(d, q); err != nil {
		return entry{}, InputErrors{*err}
	}
	return entry{quantity: q}, nil
}

func checkRange(d Input, q quantity.Quantity) *InputError {
	v := q.In(quantity.MustUnit(d.UnitCode())).Value
	// A converted bound may miss by the last bit: 32 °F is 0 °C.
	slack := 1e-9 * math.Max(math.Abs(d.Accept.Low), math.Abs(d.Accept.High))
	if v < d.Accept.Low-slack || v > d.Accept.High+slack {
		return &InputError{Input: d.Name, Problem: "is " + trimZeros(quantity.FormatNumber(q.Value, 6)) + unitSuffix(q.Unit.Code), Accept: d.AcceptText()}
	}
	if d.Kind == quantity.Count && q.Value != math.Trunc(q.Value) {
		return &InputError{Input: d.Name, Problem: "is " + quantity.FormatNumber(q.Value, 6), Accept: "a whole number, " + d.AcceptText()}
	}
	return nil
}

func unitSuffix(code string) string { return strings.TrimPrefix(quantity.WithUnit("x", code), "x") }

// parseRows reads "koi, 45 cm, 3; goldfish, 15 cm, 10": rows separated by
// semicolons or line ends, cells by a comma and a space.
func parseRows(d Input, text string) (entry, InputErrors) {
	var rows []Inputs
	var errs InputErrors
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		n := strconv.Itoa(len(rows) + 1)
		cells := strings.Split(strings.TrimSpace(line), ", ")
		if len(cells) > len(d.Columns) {
			errs = append(errs, InputError{Input: d.Name + " row " + n, Problem: "has " + strconv.Itoa(len(cells)) + " cells", Accept: d.AcceptText()})
			rows = append(rows, Inputs{})
			continue
		}
		args := make([]Arg, len(cells))
		for i, c := range cells {
			args[i] = Arg{d.Columns[i].Name, strings.TrimSpace(c)}
		}
		row, es := parseInputs(d.Columns, args)
		for _, e := range es {
			e.Input = d.Name + " row " + n + ", " + e.Input
			errs = append(errs, e)
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 && len(errs) == 0 {
		errs = append(errs, InputError{Input: d.Name, Problem: "has no rows", Accept: d.AcceptText()})
	}
	return entry{rows: rows}, errs
}

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
