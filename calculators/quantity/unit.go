package quantity

import "strings"

// Dimension is the exponent of each base dimension of a unit. Two units convert
// into each other only if their dimensions are equal.
type Dimension struct {
	Length, Mass, Time, Temperature, Current, Amount, Money, Acidity, Turbidity int8
}

func (d Dimension) plus(e Dimension, times int8) Dimension {
	return Dimension{
		Length:      d.Length + times*e.Length,
		Mass:        d.Mass + times*e.Mass,
		Time:        d.Time + times*e.Time,
		Temperature: d.Temperature + times*e.Temperature,
		Current:     d.Current + times*e.Current,
		Amount:      d.Amount + times*e.Amount,
		Money:       d.Money + times*e.Money,
		Acidity:     d.Acidity + times*e.Acidity,
		Turbidity:   d.Turbidity + times*e.Turbidity,
	}
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
	Code string // the whole code as given
	Atom string // the part that is not known
}

func (e *UnitError) Error() string {
	if e.Atom == "" || e.Atom == e.Code {
		return "unknown unit " + quote(e.Code)
	}
	return "unknown unit " + quote(e.Atom) + " in " + quote(e.Code)
}

// ParseUnit reads a UCUM code such as "mg/L", "[gal_us]/min" or "m3/m2/d".
// It returns a *UnitError for a code it does not know.
func ParseUnit(code string) (Unit, error) {
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
	u, err := p.component()
	if err != nil {
		return Unit{}, err
	}
	for p.rest != "" && (p.rest[0] == '.' || p.rest[0] == '/') {
		op := p.rest[0]
		p.rest = p.rest[1:]
		w, err := p.component()
		if err != nil {
			return Unit{}, err
		}
		times := int8(1)
		if op == '/' {
			times = -1
		}
		u = Unit{Dim: u.Dim.plus(w.Dim, times), Factor: u.Factor * intPow(w.Factor, times)}
	}
	return u, nil
}

func (p *unitParser) component() (Unit, error) {
	switch {
	case p.rest == "":
		return Unit{}, &UnitError{Code: p.code}
	case p.rest[0] == '/': // a leading slash stands for 1/unit
		return Unit{Factor: 1}, nil
	case p.rest[0] == '(':
		p.rest = p.rest[1:]
		u, err := p.term()
		if err != nil {
			return Unit{}, err
		}
		if !strings.HasPrefix(p.rest, ")") {
			return Unit{}, &UnitError{Code: p.code, Atom: p.rest}
		}
		p.rest = p.rest[1:]
		return u, nil
	}
	name := p.name()
	power := p.power()
	u, ok := atom(name)
	if !ok {
		return Unit{}, &UnitError{Code: p.code, Atom: name}
	}
	if power != 1 {
		u = Unit{Dim: Dimension{}.plus(u.Dim, power), Factor: intPow(u.Factor, power)}
	}
	return u, nil
}

// name takes an atom's letters. What stands in square brackets or braces
// belongs to the name whole, digits included.
func (p *unitParser) name() string {
	if strings.HasPrefix(p.rest, "1") {
		p.rest = p.rest[1:]
		return "1"
	}
	i, closer := 0, byte(0)
	for ; i < len(p.rest); i++ {
		c := p.rest[i]
		if closer != 0 {
			if c == closer {
				closer = 0
			}
			continue
		}
		switch {
		case c == '[':
			closer = ']'
		case c == '{':
			closer = '}'
		case c == '.' || c == '/' || c == '(' || c == ')' || c == '-' || c >= '0' && c <= '9':
			name := p.rest[:i]
			p.rest = p.rest[i:]
			return name
		}
	}
	name := p.rest
	p.rest = ""
	return name
}

func (p *unitParser) power() int8 {
	i := 0
	if strings.HasPrefix(p.rest, "-") {
		i = 1
	}
	j := i
	n := int8(0)
	for j < len(p.rest) && p.rest[j] >= '0' && p.rest[j] <= '9' && n < 10 {
		n = n*10 + int8(p.rest[j]-'0')
		j++
	}
	if j == i {
		return 1
	}
	p.rest = p.rest[j:]
	if i == 1 {
		return -n
	}
	return n
}

func intPow(x float64, n int8) float64 {
	if n < 0 {
		return 1 / intPow(x, -n)
	}
	y := 1.0
	for ; n > 0; n-- {
		y *= x
	}
	return y
}

func quote(s string) string { return `"` + s + `"` }
