package calculators

import (
	"math"
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
// absent, because it is optional or does not apply. It panics on a unit of
// another dimension, which is a mistake in the calculator.
func (in Inputs) In(name, code string) float64 {
	d := in.declaration(name)
	u := quantity.MustUnit(code)
	if !u.SameDimension(quantity.MustUnit(d.UnitCode())) {
		panic("calculators: " + name + " is not measured in " + code)
	}
	e, ok := in.entries[name]
	if !ok {
		return math.NaN()
	}
	return e.quantity.In(u).Value
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
	return quantity.FormatPlain(r.Low, 6) + " to " + quantity.WithUnit(quantity.FormatPlain(r.High, 6), code)
}
