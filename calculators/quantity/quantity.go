package quantity

import (
	"math"
	"strings"
)

// Quantity is a value in a unit.
type Quantity struct {
	Value float64 // in Unit
	Unit  Unit
}

// SI returns the value in the coherent SI unit of the quantity's dimension.
func (q Quantity) SI() float64 { return q.Unit.ToSI(q.Value) }

// In returns the quantity in another unit of the same dimension.
func (q Quantity) In(u Unit) Quantity { return Quantity{q.Unit.Convert(q.Value, u), u} }

// ParseError says why a text is not a quantity of the wanted kind.
type ParseError struct {
	Text   string
	Kind   Kind
	Reason string // what is wrong with it
	Advice string // what to write instead
}

func (e *ParseError) Error() string {
	s := quote(e.Text) + " " + e.Reason
	if e.Advice != "" {
		s += "; " + e.Advice
	}
	return s
}

// Parse reads a quantity of the given kind as a person writes it: "1,200 gal
// (US)", "4 ft 6 in", "68 °F", "1½ in", "1.5mg/L", or with a UCUM code, "21
// Cel". Only kinds without a unit of their own (numbers, counts, pH) may stand
// without one; units restricts what is accepted further and may be nil. The
// unit is never guessed: "gal" alone is an error.
func Parse(text string, kind Kind, units []string) (Quantity, error) {
	s := strings.TrimSpace(text)
	if s == "" {
		return Quantity{}, &ParseError{text, kind, "is empty", "write a " + kind.String() + " such as " + example(kind, units)}
	}
	n, rest, err := ReadNumber(s)
	if err != nil {
		if e, ok := err.(*NumberError); ok {
			return Quantity{}, &ParseError{text, kind, e.Reason, e.Advice}
		}
		return Quantity{}, err
	}
	unit, err := readUnit(text, strings.TrimSpace(rest), kind, units)
	if err != nil {
		return compound(text, n.Value, rest, kind, err)
	}
	if math.IsNaN(n.Value) || math.IsInf(n.Value, 0) {
		return Quantity{}, &ParseError{text, kind, "is not a finite number", "write a " + kind.String() + " such as " + example(kind, units)}
	}
	return Quantity{n.Value, unit}, nil
}

// compound reads feet and inches, "4 ft 6 in" and `4' 6"`, after the plain
// reading failed with the error that is returned if this fails too.
func compound(text string, first float64, rest string, kind Kind, plain error) (Quantity, error) {
	if kind != Length && kind != Size && kind != Head {
		return Quantity{}, plain
	}
	i := strings.IndexFunc(rest, func(r rune) bool { return r >= '0' && r <= '9' })
	if i < 0 || first != math.Trunc(first) {
		return Quantity{}, plain
	}
	if code, ok := unitNamed(strings.TrimSpace(rest[:i]), kind); !ok || code != "[ft_i]" {
		return Quantity{}, plain
	}
	n, tail, err := ReadNumber(rest[i:])
	if err != nil || n.Value < 0 || n.Value >= 12 {
		return Quantity{}, plain
	}
	if code, ok := unitNamed(strings.TrimSpace(tail), kind); !ok || code != "[in_i]" {
		return Quantity{}, plain
	}
	sign := 1.0
	if math.Signbit(first) {
		sign = -1
	}
	return Quantity{first + sign*n.Value/12, MustUnit("[ft_i]")}, nil
}

func readUnit(text, name string, kind Kind, units []string) (Unit, error) {
	if units == nil {
		units = kind.Units()
	}
	fail := func(reason string) (Unit, error) {
		return Unit{}, &ParseError{text, kind, reason, "write it in " + unitList(units)}
	}
	if name == "" {
		if unitless(kind) {
			return MustUnit(kind.Units()[0]), nil
		}
		return fail("has no unit")
	}
	if ambiguousGallon(name) {
		return Unit{}, &ParseError{text, kind, "does not say which gallon", "write gal (US) or gal (imp)"}
	}
	code, ok := unitNamed(name, kind)
	if !ok {
		code = name
	}
	u, err := ParseUnit(code)
	if err != nil {
		return fail("has the unknown unit " + quote(name))
	}
	if !u.SameDimension(MustUnit(units[0])) {
		return fail("is not a " + kind.String())
	}
	return u, nil
}

func unitless(k Kind) bool { return k == Number || k == Count || k == PH }

func example(kind Kind, units []string) string {
	if units == nil {
		units = kind.Units()
	}
	return strings.TrimSpace("12 " + Symbol(units[0]))
}

func unitList(units []string) string {
	var b strings.Builder
	for i, code := range units {
		switch {
		case i == 0:
		case i == len(units)-1:
			b.WriteString(" or ")
		default:
			b.WriteString(", ")
		}
		if s := Symbol(code); s != "" {
			b.WriteString(s)
		} else {
			b.WriteString("a plain number")
		}
	}
	return b.String()
}
