package calculators

import (
	"math"
	"strings"

	"mereleaf/calculators/quantity"
)

// Inputs are the checked inputs of one call. Its methods panic on a name the
// calculator does not declare, which is a mistake in the calculator.
type Inputs struct{ entries *[]entry } // one word, because every reading of an input passes it

// entry is what is known of one input.
type entry struct {
	*Input
	given    string // what the reader wrote
	quantity quantity.Quantity
	choice   string
	rows     []Inputs
	present  bool // stated or assumed, and read without fault
	stated   bool
	open     bool // the reader has still to make this choice
}

// Has reports whether the input was stated or has a default.
func (in Inputs) Has(name string) bool { return in.entry(name).present }

// Stated reports whether the reader stated the input, rather than its default
// being assumed.
func (in Inputs) Stated(name string) bool {
	e := in.entry(name)
	return e.present && e.stated
}

// In returns a quantity in the unit with the given UCUM code; NaN if it is
// absent, because it is optional or does not apply. It panics on a unit of
// another dimension, which is a mistake in the calculator.
func (in Inputs) In(name, code string) float64 {
	e := in.entry(name)
	if e.present && e.quantity.Unit.Code == code {
		return e.quantity.Value
	}
	u := quantity.MustUnit(code)
	if !u.SameDimension(quantity.MustUnit(e.UnitCode())) {
		panic("calculators: " + name + " is not measured in " + code)
	}
	if !e.present {
		return math.NaN()
	}
	return e.quantity.In(u).Value
}

// Quantity returns a quantity as the reader wrote it.
func (in Inputs) Quantity(name string) quantity.Quantity { return in.entry(name).quantity }

// Choice returns the name of the chosen option.
func (in Inputs) Choice(name string) string { return in.entry(name).choice }

// Written returns an input as the reader wrote it, or its default.
func (in Inputs) Written(name string) string {
	e := in.entry(name)
	if e.stated {
		return e.given
	}
	return e.Default
}

// Label returns the label of the chosen option.
func (in Inputs) Label(name string) string { return in.entry(name).shown() }

// Rows returns the rows of a list.
func (in Inputs) Rows(name string) []Inputs { return in.entry(name).rows }

func (in Inputs) entry(name string) *entry {
	e := in.find(name)
	if e == nil {
		panic("calculators: input not declared: " + name)
	}
	return e
}

// find returns nil for a name that is not declared.
func (in Inputs) find(name string) *entry {
	for i := range *in.entries {
		if e := &(*in.entries)[i]; e.Name == name {
			return e
		}
	}
	return nil
}

// once finds an input by an earlier name; nil if none ever had it.
func (in Inputs) once(name string) *entry {
	for i := range *in.entries {
		if e := &(*in.entries)[i]; e.wasCalled(name) {
			return e
		}
	}
	return nil
}

func (d *Input) wasCalled(name string) bool {
	for _, once := range d.Once {
		if once == name {
			return true
		}
	}
	return false
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
		for i := range d.Options {
			names[i] = d.Options[i].Name
		}
		return quantity.Put(oneOf, "names", strings.Join(names, ", "))
	case Rows:
		return quantity.Put("rows of \"{columns}\" separated by semicolons", "columns", inputNames(d.Columns))
	}
	s := rangeText(d.Accept, d.UnitCode())
	if d.Accept.Origin != "" {
		s += " (" + d.Accept.Origin + ")"
	}
	return s
}

func rangeText(r Range, code string) string {
	return quantity.Put("{low} to {high}", "low", quantity.FormatPlain(r.Low, 6), "high", quantity.WithUnit(quantity.FormatPlain(r.High, 6), code))
}
