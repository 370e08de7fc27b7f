package quantities

import (
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

// Printed is a quantity as a link's text says it.
type Printed struct {
	Amounts []figures.Amount // one, or the numbers of a product, 560 × 360 × 270 mm, or of a list
	Unit    quantity.Unit    // of all of them; the unit 1 for a number and for a count
	Noun    string           // what is counted, in the singular: "box"; "" for a unit or nothing
	List    bool             // of numbers, such as 15 and 20 °C
	Both    *Printed         // the same in another unit, "10 °C (50 °F)"; nil for none
}

// Nouns are the things that are counted, their plurals by their singulars.
type Nouns map[string]string

// one returns the singular of a counted noun in either form.
func (n Nouns) one(word string) (string, bool) {
	word = strings.ToLower(word)
	if _, ok := n[word]; ok {
		return word, true
	}
	for one, many := range n {
		if word == many {
			return one, true
		}
	}
	return "", false
}

// Grammar reads prose with these nouns.
func (n Nouns) Grammar() quantity.Grammar { return quantity.Grammar{Nouns: n.one, Words: true} }

// Read reads a link's text, which must be one quantity and nothing else. A number
// without unit or noun passes here: whether its source has none either is found
// when the two are compared. The error is a *figures.AmountError.
func Read(text string, nouns Nouns) (Printed, error) {
	text = strings.Join(strings.Fields(text), " ")
	spans := nouns.Grammar().Scan(text)
	switch len(spans) {
	case 0:
		return bareNumber(text)
	case 1:
		for _, label := range []string{"pH ", "KH ", "GH "} { // which the grammar leaves before the number
			if strings.HasPrefix(text, label) && spans[0].Start == len(label) {
				return single(text[len(label):], shifted(spans[0], -len(label)))
			}
		}
		return single(text, spans[0])
	}
	return Printed{}, several()
}

func several() error {
	return &figures.AmountError{Problem: "holds several quantities", Remedy: "give each a link of its own", Number: true}
}

// shifted returns a span of a text to which so many bytes are added at its start.
func shifted(s quantity.Span, by int) quantity.Span {
	s.Start, s.End, s.Lead = s.Start+by, s.End+by, s.Lead+by
	s.NumStart, s.NumEnd = s.NumStart+by, s.NumEnd+by
	s.UnitStart, s.UnitEnd = s.UnitStart+by, s.UnitEnd+by
	if s.Both != nil {
		other := shifted(*s.Both, by)
		s.Both = &other
	}
	return s
}

// single reads a text that holds one span, which must be all of it.
func single(text string, s quantity.Span) (Printed, error) {
	end := s.End
	for other := s.Both; other != nil; other = other.Both {
		end = other.End
	}
	before, after := text[:s.Start], text[end:]
	if s.Both != nil {
		after = strings.TrimPrefix(after, ")")
	}
	switch {
	case s.Fault != nil:
		return Printed{}, &figures.AmountError{Problem: s.Fault.Reason, Remedy: s.Fault.Advice, Number: true}
	case s.Mark != quantity.Plain || before != "":
		return Printed{}, extra(text[:s.NumStart])
	case after != "":
		return Printed{}, extra(after)
	}
	p, err := printed(s)
	if err == nil && s.Both != nil {
		var both Printed
		both, err = single(text[s.Both.Start:end], shifted(*s.Both, -s.Both.Start))
		p.Both = &both
	}
	return p, err
}

// printed takes the numbers of a span.
func printed(s quantity.Span) (Printed, error) {
	p := Printed{Unit: s.Unit, Noun: s.Noun, List: s.Form == quantity.List}
	unit := ""
	if s.HasUnit {
		unit = s.Unit.Code
	}
	for _, n := range s.Numbers {
		if n.Comma {
			return Printed{}, &figures.AmountError{Problem: "has a decimal comma", Remedy: "print the decimal mark as a point, such as 1.5", Number: true}
		}
		p.Amounts = append(p.Amounts, figures.Amount{Low: n, High: n, Unit: unit})
	}
	if s.Form == quantity.Range {
		return p.ranged()
	}
	return p, nil
}

// ranged makes a range of two numbers.
func (p Printed) ranged() (Printed, error) {
	a := p.Amounts[0]
	a.High, a.Range = p.Amounts[1].Low, true
	if !(a.High.Value > a.Low.Value) {
		return Printed{}, &figures.AmountError{Problem: "is a range whose end is not above its start", Remedy: "write the smaller number first", Number: true}
	}
	p.Amounts = []figures.Amount{a}
	return p, nil
}

func extra(words string) error {
	return &figures.AmountError{Problem: `says "` + strings.Trim(words, " ") + `" beside the quantity`, Remedy: "write all other words outside the link", Number: true}
}

// bareNumber reads a number, in digits or as a word, with nothing behind it. To the
// grammar it is made one of things.
func bareNumber(text string) (Printed, error) {
	const thing = "thing"
	spans := quantity.Grammar{Words: true, Nouns: func(word string) (string, bool) { return thing, word == thing }}.Scan(text + " " + thing)
	if len(spans) != 1 || spans[0].NumEnd != len(text) {
		return Printed{}, &figures.AmountError{Problem: "is no quantity", Remedy: "write the number with its unit, or with a noun that content/handbook.toml lists, and all other words outside the link"}
	}
	s := spans[0]
	s.Noun, s.End = "", s.NumEnd
	return single(text, s)
}

// marked is the quantity as a page marks it.
func (p Printed) marked(difference bool) *page.Quantity {
	q := &page.Quantity{Unit: p.Unit.Code, Difference: difference}
	for _, a := range p.Amounts {
		q.Values = append(q.Values, a.Low.Value)
		if a.Range {
			q.Values = append(q.Values, a.High.Value)
		}
	}
	return q
}
