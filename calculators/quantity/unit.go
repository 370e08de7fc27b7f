package quantity

import "strings"

// Dimension is the exponent of each base dimension of a unit. Two units convert
// into each other only if their dimensions are equal.
type Dimension struct {
	Length, Mass, Time, Temperature, Current, Amount, Money, Acidity, Turbidity, Level int8
}

// plus returns the dimension of a product with the n-th power of another, and
// false if an exponent leaves the range of any quantity in use.
func (d Dimension) plus(e Dimension, n int) (Dimension, bool) {
	ok := true
	sum := func(a, b int8) int8 {
		v := int(a) + n*int(b)
		if v < -20 || v > 20 {
			ok = false
			return 0
		}
		return int8(v)
	}
	return Dimension{
		Length:      sum(d.Length, e.Length),
		Mass:        sum(d.Mass, e.Mass),
		Time:        sum(d.Time, e.Time),
		Temperature: sum(d.Temperature, e.Temperature),
		Current:     sum(d.Current, e.Current),
		Amount:      sum(d.Amount, e.Amount),
		Money:       sum(d.Money, e.Money),
		Acidity:     sum(d.Acidity, e.Acidity),
		Turbidity:   sum(d.Turbidity, e.Turbidity),
		Level:       sum(d.Level, e.Level),
	}, ok
}

// Unit is a unit of measure. A value v in the unit is v*Factor + Offset in the
// coherent SI unit of the same dimension. The zero Unit is not valid; a pure
// number has the unit "1".
type Unit struct {
	Code   string // UCUM code, as written
	Dim    Dimension
	Factor float64
	Offset float64 // other than 0 only for Celsius and Fahrenheit
}

// UnitError reports a unit code that cannot be read.
type UnitError struct {
	Code   string // the whole code as given
	Atom   string // the part that is at fault; may be empty
	Reason string // what is wrong with it, if it is not just unknown
}

// Error says in one line the code and the part of it at fault.
func (e *UnitError) Error() string {
	switch {
	case e.Reason != "":
		return Put("unit {unit}: {reason}", "reason", e.Reason, "unit", Quote(e.Code))
	case e.Atom == "" || e.Atom == e.Code:
		return Put("unknown unit {unit}", "unit", Quote(e.Code))
	}
	return Put("unknown unit {part} in {unit}", "part", Quote(e.Atom), "unit", Quote(e.Code))
}

// longestCode bounds the codes ParseUnit looks at, and so how deep its brackets
// can nest.
const longestCode = 100

// ParseUnit reads a UCUM code such as "mg/L", "[gal_us]/min" or "m3/m2/d". The
// error is a *UnitError: for a code it does not know, and for one that
// multiplies a temperature scale ("Cel/d"), since 20 °C is not ten times 2 °C;
// rates of temperature are in K/d.
func ParseUnit(code string) (Unit, error) {
	if len(code) > longestCode {
		return Unit{}, &UnitError{Code: code, Reason: "is longer than any unit"}
	}
	p := unitParser{code: code, rest: code}
	u, err := p.term()
	if err != nil {
		return Unit{}, err
	}
	if p.rest != "" {
		return Unit{}, &UnitError{Code: code, Atom: p.rest}
	}
	u.Code = code
	return u, nil
}

// MustUnit is ParseUnit for codes written in Go source. It panics on a code
// that cannot be read, which is a mistake of the programmer.
func MustUnit(code string) Unit {
	u, err := ParseUnit(code)
	if err != nil {
		panic(err.Error())
	}
	return u
}

// ToSI converts a value in u to the coherent SI unit of its dimension.
func (u Unit) ToSI(v float64) float64 { return v*u.Factor + u.Offset }

// FromSI converts a value in the coherent SI unit to u.
func (u Unit) FromSI(v float64) float64 { return (v - u.Offset) / u.Factor }

// SameDimension reports whether values convert between u and w.
func (u Unit) SameDimension(w Unit) bool { return u.Dim == w.Dim }

// Convert converts a value in u to w. Both must have the same dimension;
// the caller checks with SameDimension.
func (u Unit) Convert(v float64, w Unit) float64 {
	if u.Code == w.Code {
		return v
	}
	return w.FromSI(u.ToSI(v))
}

type unitParser struct{ code, rest string }

func (p *unitParser) term() (Unit, error) {
	u := Unit{Factor: 1}
	if !strings.HasPrefix(p.rest, "/") { // a leading slash stands for 1/unit
		first, err := p.component()
		if err != nil {
			return Unit{}, err
		}
		u = first
	}
	for p.rest != "" && (p.rest[0] == '.' || p.rest[0] == '/') {
		power := 1
		if p.rest[0] == '/' {
			power = -1
		}
		p.rest = p.rest[1:]
		w, err := p.component()
		if err != nil {
			return Unit{}, err
		}
		if u, err = p.times(u, w, power); err != nil {
			return Unit{}, err
		}
	}
	return u, nil
}

func (p *unitParser) component() (Unit, error) {
	if strings.HasPrefix(p.rest, "(") {
		p.rest = p.rest[1:]
		u, err := p.term()
		if err != nil {
			return Unit{}, err
		}
		if !strings.HasPrefix(p.rest, ")") {
			return Unit{}, &UnitError{Code: p.code, Reason: "an opening bracket is not closed"}
		}
		p.rest = p.rest[1:]
		return u, nil
	}
	name := p.name()
	u, ok := atom(name)
	if !ok {
		return Unit{}, &UnitError{Code: p.code, Atom: name}
	}
	power, stated, ok := p.power()
	if !ok {
		return Unit{}, &UnitError{Code: p.code, Reason: "an exponent must be 1 to 9, with or without a minus"}
	}
	if !stated {
		return u, nil
	}
	return p.times(Unit{Factor: 1}, u, power)
}

// times returns u·wⁿ. It refuses a unit with an offset, and products no
// quantity has, whose factor would not be a number any more.
func (p *unitParser) times(u, w Unit, n int) (Unit, error) {
	if u.Offset != 0 || w.Offset != 0 {
		return Unit{}, &UnitError{Code: p.code, Reason: "multiplies degrees of a temperature scale; write the difference in K or [degR]"}
	}
	dim, ok := u.Dim.plus(w.Dim, n)
	factor := u.Factor * intPow(w.Factor, n)
	if !ok || !(factor > 1e-200 && factor < 1e200) {
		return Unit{}, &UnitError{Code: p.code, Reason: "is a product no quantity has"}
	}
	return Unit{Dim: dim, Factor: factor}, nil
}

// name takes an atom's letters, or the digits of the unit 1. What stands in
// square brackets or braces belongs to the name whole, digits included.
func (p *unitParser) name() string {
	if end := digitsEnd(p.rest, 0); end > 0 {
		return p.take(end)
	}
	closer := byte(0)
	for i := 0; i < len(p.rest); i++ {
		c := p.rest[i]
		switch {
		case closer != 0:
			if c == closer {
				closer = 0
			}
		case c == '[':
			closer = ']'
		case c == '{':
			closer = '}'
		case isDigit(c) || strings.IndexByte("./()-", c) >= 0:
			return p.take(i)
		}
	}
	return p.take(len(p.rest))
}

func (p *unitParser) take(n int) string {
	s := p.rest[:n]
	p.rest = p.rest[n:]
	return s
}

// power takes an exponent of one digit; ok is false for any other.
func (p *unitParser) power() (n int, stated, ok bool) {
	sign := 1
	i := 0
	if strings.HasPrefix(p.rest, "-") {
		sign, i = -1, 1
	}
	end := digitsEnd(p.rest, i)
	if end == 0 {
		return 1, false, true
	}
	digits := p.take(end)[i:]
	if len(digits) != 1 || digits == "0" {
		return 0, true, false
	}
	return sign * int(digits[0]-'0'), true, true
}

func intPow(x float64, n int) float64 {
	if n < 0 {
		return 1 / intPow(x, -n)
	}
	y := 1.0
	for ; n > 0; n-- {
		y *= x
	}
	return y
}
