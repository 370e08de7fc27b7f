package quantities

import (
	"errors"
	"slices"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

// Printed is a quantity as a link's text says it.
type Printed struct {
	Text    string
	Amounts []figures.Amount // one, or the factors of a product such as 560 × 360 × 270 mm
	Unit    quantity.Unit    // of all of them; the unit 1 for a number and for a count
	Noun    string           // what is counted, as written: "boxes"; "" for a unit or nothing
}

// bare reports whether neither a unit nor a noun is printed.
func (p Printed) bare() bool { return p.Noun == "" && p.Amounts[0].Unit == "" }

// Nouns are the things that are counted, their plurals by their singulars.
type Nouns map[string]string

// one returns the singular of a counted noun in either form.
func (n Nouns) one(word string) (string, bool) {
	word = strings.ToLower(word)
	for one, many := range n {
		if word == one || word == many {
			return one, true
		}
	}
	return "", false
}

// Read reads a link's text, which must be one quantity and nothing else. The error
// is a *figures.AmountError.
func Read(text string, nouns Nouns) (Printed, error) {
	r := reader{rest: strings.TrimSpace(text), nouns: nouns}
	p := Printed{Text: text}
	unit := r.prefix()
	for {
		a, err := r.amount()
		if err != nil {
			return Printed{}, err
		}
		p.Amounts = append(p.Amounts, a)
		rest, times := strings.CutPrefix(strings.TrimLeft(r.rest, blanks), "×")
		if !times {
			break
		}
		r.rest = rest
	}
	if rest := strings.Trim(r.rest, blanks); unit == "" {
		unit = rest
	} else if rest != "" {
		return Printed{}, r.more(rest)
	}
	return r.measured(p, unit)
}

// reader takes a quantity from the start of a text.
type reader struct {
	rest  string
	nouns Nouns
}

const blanks = " \t\u00a0\u202f"

// prefix takes what stands before the number in place of a unit behind it.
func (r *reader) prefix() string {
	for _, p := range []struct{ sign, unit string }{{"pH ", "[pH]"}, {"pH\u00a0", "[pH]"}, {"€", "{currency}"}, {"£", "{currency}"}, {"$", "{currency}"}} {
		if rest, ok := strings.CutPrefix(r.rest, p.sign); ok {
			r.rest = rest
			return p.unit
		}
	}
	return ""
}

// amount takes a number or a range.
func (r *reader) amount() (figures.Amount, error) {
	low, err := r.number()
	if err != nil {
		return figures.Amount{}, err
	}
	a := figures.Amount{Low: low, High: low}
	rest := strings.TrimLeft(r.rest, blanks)
	for _, to := range []string{"–", "to "} {
		if tail, ok := strings.CutPrefix(rest, to); ok {
			r.rest = tail
			if a.High, err = r.number(); err != nil {
				return figures.Amount{}, err
			}
			a.Range = true
			if !(a.High.Value > a.Low.Value) {
				return figures.Amount{}, &figures.AmountError{Problem: "is a range whose end is not above its start", Remedy: "write the smaller number first", Number: true}
			}
		}
	}
	return a, nil
}

// number takes a number in digits or as a word.
func (r *reader) number() (figures.Number, error) {
	r.rest = strings.TrimLeft(r.rest, blanks)
	word, rest, _ := strings.Cut(r.rest, " ")
	if v, ok := numberWord(strings.ToLower(word)); ok {
		r.rest = rest
		return figures.Number{Value: v, Step: step(v)}, nil
	}
	n, rest, err := quantity.ReadNumber(r.rest)
	if err != nil {
		problem, remedy := err.Error(), "write it as 1,234.5"
		var e *quantity.NumberError
		if errors.As(err, &e) {
			problem, remedy = e.Reason, e.Advice
		}
		return figures.Number{}, &figures.AmountError{Problem: problem, Remedy: remedy}
	}
	if n.Comma {
		return figures.Number{}, &figures.AmountError{Problem: "has a decimal comma", Remedy: "print the decimal mark as a point, such as 1.5", Number: true}
	}
	r.rest = rest
	return n, nil
}

// step is what the last digit of a number word is worth: a half is exact.
func step(v float64) float64 {
	if v < 1 {
		return 0
	}
	return 1
}

func numberWord(word string) (float64, bool) {
	switch word {
	case "half":
		return 0.5, true
	case "quarter":
		return 0.25, true
	}
	i := slices.Index([]string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"}, word)
	return float64(i + 1), i >= 0
}

// measured completes a quantity with the unit, or the counted noun, behind it.
func (r *reader) measured(p Printed, unit string) (Printed, error) {
	_, counted := r.nouns.one(unit)
	u, known := figures.ReadUnit(unit)
	switch {
	case counted:
		p.Noun = unit
	case unit != "" && !known:
		return Printed{}, r.more(unit)
	}
	if counted || unit == "" {
		u = quantity.MustUnit("1")
	}
	p.Unit = u
	for i := range p.Amounts {
		if !counted {
			p.Amounts[i].Unit = unit
		}
	}
	return p, nil
}

// more says why what follows the number is no part of a quantity.
func (r *reader) more(rest string) error {
	if name, _, _ := strings.Cut(strings.ToLower(rest), "/"); slices.Contains([]string{"gal", "gals", "gallon", "gallons", "gph", "gpm"}, strings.TrimSpace(name)) {
		return &figures.AmountError{Problem: "does not say which gallon", Remedy: "write gal (US) or gal (imp)", Number: true}
	}
	return &figures.AmountError{Problem: `ends in "` + rest + `", which is neither a unit nor a noun that is counted`,
		Remedy: "write the number with its unit alone in the link and all other words outside, or add the noun to content/handbook.toml", Number: true}
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
