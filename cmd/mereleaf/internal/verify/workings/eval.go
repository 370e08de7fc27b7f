package workings

import (
	"fmt"
	"math"
	"reflect"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// measure is an interval in coherent SI units, with the powers of its dimension.
type measure struct {
	texeval.Interval
	dim [10]float64

	units bool              // some number of it has a unit
	bare  *texeval.Interval // of a number alone: what stands before its unit
}

func powers(d quantity.Dimension) (p [10]float64) {
	v := reflect.ValueOf(d)
	for i := range v.NumField() {
		p[i] = float64(v.Field(i).Int())
	}
	return p
}

func pure(v texeval.Interval) measure { return measure{Interval: v} }

// with adds the dimensions of two factors, the second to a power.
func (m measure) with(o measure, power float64, v texeval.Interval) measure {
	r := measure{Interval: v, units: m.units || o.units}
	for i := range r.dim {
		r.dim[i] = m.dim[i] + power*o.dim[i]
	}
	return r
}

type parser struct {
	tokens []token
	at     int
}

func (p *parser) peek() token { return p.tokens[p.at] }

func (p *parser) accept(text string) bool {
	if t := p.peek(); t.kind == mark && t.text == text || t.kind == word && t.text == text {
		p.at++
		return true
	}
	return false
}

// sum is terms with + and − between them, all of one dimension.
func (p *parser) sum() (measure, error) {
	m, err := p.signed()
	for err == nil {
		minus := p.peek().text == "−" || p.peek().text == "-"
		if p.peek().kind != mark || !minus && p.peek().text != "+" {
			return m, nil
		}
		p.at++
		var o measure
		if o, err = p.signed(); err != nil {
			break
		}
		if o.dim != m.dim {
			return m, fmt.Errorf("adds quantities of two kinds")
		}
		m.units, m.bare = m.units || o.units, nil
		if minus {
			m.Interval = m.Minus(o.Interval)
		} else {
			m.Interval = m.Plus(o.Interval)
		}
	}
	return m, err
}

func (p *parser) signed() (measure, error) {
	if p.accept("−") || p.accept("-") {
		m, err := p.product()
		m.Interval = texeval.Point(0).Minus(m.Interval)
		return m, err
	}
	return p.product()
}

func (p *parser) product() (measure, error) {
	m, err := p.power()
	for err == nil {
		var o measure
		switch {
		case p.accept("×"):
			if o, err = p.power(); err == nil {
				m = m.with(o, 1, m.Times(o.Interval))
			}
		case p.accept("/"):
			if o, err = p.power(); err == nil {
				m = m.with(o, -1, m.Over(o.Interval))
			}
		default:
			return m, nil
		}
	}
	return m, err
}

// power is a factor and what it is raised to.
func (p *parser) power() (measure, error) {
	m, err := p.factor()
	if err != nil {
		return m, err
	}
	exponent := measure{}
	switch {
	case p.accept("²"):
		exponent = pure(texeval.Point(2))
	case p.accept("³"):
		exponent = pure(texeval.Point(3))
	case p.accept("^"):
		minus := p.accept("−")
		if exponent, err = p.factor(); err != nil {
			return m, err
		}
		if minus {
			exponent.Interval = texeval.Point(0).Minus(exponent.Interval)
		}
	default:
		return m, nil
	}
	if exponent.dim != (measure{}).dim {
		return m, fmt.Errorf("raises to a quantity with a unit")
	}
	return measure{}.with(m, exponent.Mid(), m.Power(exponent.Interval)), nil
}

func (p *parser) factor() (measure, error) {
	t := p.peek()
	switch {
	case t.kind == number:
		p.at++
		m := measure{Interval: t.value, bare: &t.value}
		if u := p.peek(); u.kind == unit {
			p.at++
			m.Interval = m.Times(texeval.Point(u.unit.Factor))
			m.dim, m.units = powers(u.unit.Dim), true
		}
		return m, nil
	case p.accept("√"):
		m, err := p.factor()
		return measure{}.with(m, 0.5, m.Power(texeval.Point(0.5))), err
	case p.accept("ln"), p.accept("−ln"):
		m, err := p.factor()
		v := texeval.Interval{Low: math.Log(m.Low), High: math.Log(m.High)}
		if t.text == "−ln" {
			v = texeval.Point(0).Minus(v)
		}
		return pure(v), err
	case p.accept("exp"):
		m, err := p.factor()
		return pure(texeval.Interval{Low: math.Exp(m.Low), High: math.Exp(m.High)}), err
	case p.accept("("):
		m, err := p.sum()
		if err == nil && !p.accept(")") {
			err = fmt.Errorf("a bracket is not closed before %q", p.peek().text)
		}
		return m, err
	}
	return measure{}, fmt.Errorf("%q stands where a number is expected", t.text)
}
