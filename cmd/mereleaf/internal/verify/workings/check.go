package workings

import (
	"fmt"
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// Kind is what a clause of a working is.
type Kind uint8

// The kinds.
const (
	Sum Kind = iota
	Value
	Sentence
	Statement // what stands in a table, declared to be no sum
)

// Check evaluates a line of working and returns what its clauses are. The error
// says which does not come out or cannot be evaluated.
func Check(s calculators.Step) ([]Kind, error) {
	if s.Form == "" {
		return []Kind{Statement}, nil
	}
	all, err := pieces(s.Form, s.Text)
	if err != nil {
		return nil, err
	}
	var kinds []Kind
	for _, clause := range clauses(all) {
		k, err := check(clause)
		if err != nil {
			return kinds, err
		}
		kinds = append(kinds, k)
	}
	return kinds, nil
}

// clauses splits pieces at "; ".
func clauses(all []piece) [][]piece {
	out := [][]piece{nil}
	for _, p := range all {
		if p.gap {
			out[len(out)-1] = append(out[len(out)-1], p)
			continue
		}
		for i, part := range strings.Split(p.text, "; ") {
			if i > 0 {
				out = append(out, nil)
			}
			out[len(out)-1] = append(out[len(out)-1], piece{text: part})
		}
	}
	return out
}

func check(clause []piece) (Kind, error) {
	text := ""
	for _, p := range clause {
		text += p.text
	}
	if !strings.ContainsAny(text, "0123456789") {
		return Sentence, nil
	}
	tokens, err := lex(clause)
	if err != nil {
		return 0, err
	}
	p := &parser{tokens: tokens}
	if !strings.ContainsAny(text, "=≈") {
		if err := p.value(); err != nil {
			return 0, fmt.Errorf("%q is no sum, no value and no sentence without numbers: %w", text, err)
		}
		return Value, nil
	}
	left, err := p.side()
	for err == nil && (p.accept("=") || p.accept("≈")) {
		var right measure
		if right, err = p.side(); err == nil {
			err = same(left, right)
		}
		left = right
	}
	if err == nil && p.peek().kind != end {
		err = fmt.Errorf("%q stands behind it", p.peek().text)
	}
	if err != nil {
		return 0, fmt.Errorf("%q: %w", text, err)
	}
	return Sum, nil
}

// side is a sum and how it is rounded.
func (p *parser) side() (measure, error) {
	m, err := p.sum()
	if err != nil || p.peek().text != "," {
		return m, err
	}
	switch words := p.words(); words {
	case ", rounded up":
		m.Interval = texeval.Interval{Low: math.Ceil(m.Low - 1e-9), High: math.Ceil(m.High - 1e-9)}
	case ", rounded down":
		m.Interval = texeval.Interval{Low: math.Floor(m.Low + 1e-9), High: math.Floor(m.High + 1e-9)}
	default:
		return m, fmt.Errorf("%q is no way to round", words)
	}
	return m, nil
}

// words takes the words that follow.
func (p *parser) words() string {
	var all []string
	for p.peek().kind == word {
		all = append(all, p.peek().text)
		p.at++
	}
	return strings.Join(all, " ")
}

// value is a number with its unit, a range, or a number with its range.
func (p *parser) value() error {
	one := func() error {
		p.accept("−")
		p.accept("±")
		if p.peek().kind != number {
			return fmt.Errorf("%q stands where a number is expected", p.peek().text)
		}
		p.at++
		if p.peek().kind == unit {
			p.at++
		}
		return nil
	}
	err := one()
	if err == nil && p.accept("to") {
		err = one()
	}
	if err == nil && p.accept("(") {
		if err = one(); err == nil && p.accept("to") {
			err = one()
		}
		if err == nil && !p.accept(")") {
			err = fmt.Errorf("a range is not closed")
		}
	}
	if err == nil && p.peek().kind != end {
		err = fmt.Errorf("%q stands behind the value", p.peek().text)
	}
	return err
}

// same says in which way two sides differ. The numbers of an empirical formula
// have no units: it gives the number that stands before the result's.
func same(left, right measure) error {
	if left.dim != right.dim && !left.units && right.bare != nil {
		right = pure(*right.bare)
	}
	if left.dim != right.dim {
		return fmt.Errorf("its sides are not of one kind")
	}
	if !left.Valid() || !left.Meets(right.Interval, 1e-9) {
		return fmt.Errorf("does not come out: %.5g to %.5g on the left and %.5g to %.5g on the right, in SI units", left.Low, left.High, right.Low, right.High)
	}
	return nil
}
