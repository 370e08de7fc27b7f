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

// Error says in one line what the text is and what to write instead.
func (e *ParseError) Error() string { return sentence(e.Text, e.Reason, e.Advice) }

// Parse reads a quantity of the given kind as a person writes it: "1,200 gal
// (US)", "4 ft 6 in", "68 °F", "1½ in", "1.5mg/L", or with a UCUM code, "21
// Cel". Only kinds without a unit of their own (numbers, counts, pH, money), and
// German degrees where they are the field's own, may stand without one. The unit is
// never guessed: "gal" or "pint" alone is an error; "cup" is the one of the United
// States, which alone has a statute for it. An unknown unit is refused with the names
// most like it. Nor is a
// number of two readings ("1,234 L", "15.000 L"; ReadNumber says which): it is
// refused with both, and whoever means a count has no second one. Any
// unit of the right dimension is accepted; units are the codes an error
// proposes, nil for those of the kind. The error is a *ParseError.
func Parse(text string, kind Kind, units []string) (Quantity, error) {
	if units == nil {
		units = kind.Units()
	}
	r := reader{text, kind, units}
	s := strings.TrimSpace(text)
	if kind == PH && len(s) > 2 && SameLetters(s[:2], "pH") {
		s = s[2:] // "pH 8.2"
	}
	if s == "" {
		return Quantity{}, r.fault("is empty", Put("write {kind} such as {example}", "kind", aKind(kind), "example", strings.TrimSpace("12 "+Symbol(units[0]))))
	}
	n, rest, err := ReadNumber(joined(s))
	if err != nil {
		if e, ok := err.(*NumberError); ok {
			return Quantity{}, r.fault(e.Reason, e.Advice)
		}
		return Quantity{}, err
	}
	if n.Other != 0 && kind != Count {
		return Quantity{}, r.fault(Put("may be {one} or {other}", "one", PlainDigits(n.Value), "other", PlainDigits(n.Other)), "write the one that is meant, without a comma")
	}
	if q, ok := r.compound(n, rest); ok {
		return q, nil
	}
	unit, err := r.unit(strings.TrimSpace(rest))
	if err != nil {
		return Quantity{}, err
	}
	if si := unit.ToSI(n.Value); math.IsNaN(si) || math.IsInf(si, 0) {
		return Quantity{}, r.fault("is too large a number", "check the digits")
	}
	return Quantity{n.Value, unit}, nil
}

// joined puts no-break spaces between thousands that a plain blank parts, "1 500 L",
// as a keyboard has no other. A field holds one number, so nothing else can be meant.
func joined(s string) string {
	const blank = "\u202f"
	i := digitsEnd(s, 0)
	if i < 1 || i > 3 || s[0] == '0' {
		return s
	}
	for i < len(s) && s[i] == ' ' && digitsEnd(s, i+1) == i+4 && !strings.HasPrefix(s[i+4:], "/") {
		s = s[:i] + blank + s[i+1:]
		i += len(blank) + 3
	}
	return s
}

// reader is what one call of Parse reads for, kept for its errors.
type reader struct {
	text  string
	kind  Kind
	units []string
}

func (r reader) fault(reason, advice string) error {
	return &ParseError{r.text, r.kind, reason, advice}
}

// compound reads what people measure in two units at once: "4 ft 6 in", `4'
// 6"`, "5 lb 3 oz", "1 h 30 min".
func (r reader) compound(first Printed, rest string) (Quantity, bool) {
	i := strings.IndexFunc(rest, func(c rune) bool { return c >= '0' && c <= '9' })
	if i < 0 {
		return Quantity{}, false
	}
	n, tail, err := ReadNumber(rest[i:])
	if err != nil {
		return Quantity{}, false
	}
	large, err := ParseUnit(unitNamed(rest[:i], r.kind))
	if err != nil || large.Dim != MustUnit(r.units[0]).Dim {
		return Quantity{}, false
	}
	small, err := ParseUnit(unitNamed(tail, r.kind))
	if err != nil {
		return Quantity{}, false
	}
	sum, ok := compound(first, large, n, small)
	return Quantity{sum.Value, large}, ok
}

// Ungrouped takes out the commas that the handbook prints between thousands, so
// that Parse reads the number one way only.
func Ungrouped(text string) string {
	var b strings.Builder
	for i := range len(text) {
		if text[i] == ',' && i > 0 && isDigit(text[i-1]) && nextDigit(text, i+1) {
			continue
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

// PlainDigits prints a number so that Parse reads it one way only.
func PlainDigits(v float64) string { return Ungrouped(FormatPlain(v, 15)) }

// unit reads the unit that stands behind the number.
func (r reader) unit(name string) (Unit, error) {
	for _, code := range r.units { // nearly always; the rest is for what people write
		if name == code {
			return MustUnit(code), nil
		}
	}
	writeIn := Put("write it in {units}", "units", unitList(r.units))
	switch {
	case name == "" && (unitless(r.kind) || r.units[0] == drops):
		return MustUnit(r.units[0]), nil
	case name == "":
		return Unit{}, r.fault("has no unit", writeIn)
	case ambiguous(name) == "gallon":
		return Unit{}, r.fault("does not say which gallon", "write gal (US) or gal (imp)")
	case ambiguous(name) != "":
		return Unit{}, r.fault(Put("does not say which {measure}", "measure", ambiguous(name)), Put("write {name} (US) or {name} (imp)", "name", name))
	case nextDigit(name, 0):
		return Unit{}, r.fault("holds two numbers", "write one, with thousands as 1,500")
	}
	u, err := ParseUnit(unitNamed(name, r.kind))
	switch {
	case err != nil:
		if near := r.nearest(name); near != "" && !unitless(r.kind) {
			writeIn = Put("is it {near}? {write}", "near", near, "write", writeIn)
		}
		return Unit{}, r.fault(Put("has the unknown unit {unit}", "unit", Quote(name)), writeIn)
	case !u.SameDimension(MustUnit(r.units[0])), (r.kind == Number || r.kind == Count) && u.Code != "1":
		return Unit{}, r.fault(Put("is not {kind}", "kind", aKind(r.kind)), writeIn)
	}
	return u, nil
}

// aKind names a kind with its article.
func aKind(k Kind) string {
	name := k.String()
	if strings.IndexByte("aeiou", name[0]) >= 0 {
		return Put("an {kind}", "kind", name)
	}
	return Put("a {kind}", "kind", name)
}

// drops is the unit of kits that count drops, whose number people write alone.
const drops = "{°dH}"

func unitless(k Kind) bool { return k == Number || k == Count || k == PH || k == Money }

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
		if s := Symbol(code); s != "" && code != "{currency}" {
			b.WriteString(s)
		} else {
			b.WriteString("a plain number")
		}
	}
	return b.String()
}
