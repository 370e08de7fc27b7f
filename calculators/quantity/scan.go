package quantity

import (
	"strings"
	"unicode/utf8"
)

// Form says how the numbers of a Span belong together.
type Form uint8

// The forms.
const (
	Single  Form = iota
	Range        // "18 to 25 °C", "between 2 and 5 mg/L", "5 or 6 boxes"
	List         // "15 and 20 °C"
	Product      // "560 × 360 × 270 mm"
)

// Mark is the sign or the word in front of a number that changes what it claims.
type Mark uint8

// The marks.
const (
	Plain   Mark = iota
	AtLeast      // ≥, at least
	AtMost       // ≤, at most, up to
	Above        // >, over, above, more than
	Below        // <, under, below, less than
	About        // ~, ≈, about
)

// String returns the mark as printed.
func (m Mark) String() string {
	switch m {
	case AtLeast:
		return "≥"
	case AtMost:
		return "≤"
	case Above:
		return ">"
	case Below:
		return "<"
	case About:
		return "about"
	}
	return ""
}

// Span is one quantity in a text as people write it.
type Span struct {
	Start, End         int // byte offsets: sign, numbers, unit or noun
	Lead               int // where the word in front of it begins ("about"), else Start
	NumStart, NumEnd   int // from the first number to the last
	UnitStart, UnitEnd int // the unit or noun as written behind the numbers; equal if there is none

	Numbers  []Printed // one; more in a range, a list or a product
	Form     Form
	Mark     Mark
	Unit     Unit // if HasUnit; the unit 1 else
	HasUnit  bool
	Noun     string // the counted noun in the singular, "pH", "KH" or "GH"; "" for a unit
	Currency string // "£"; its Unit is of money
	Compound bool   // "4 ft 6 in": one number, in the larger unit
	Words    bool   // the number is written in words

	Both  *Span        // what follows it in other units: "10 °C (50 °F)"
	Fault *NumberError // why it cannot be told what is meant: "5 gal"
}

// Grammar is what a text may hold.
type Grammar struct {
	// Nouns returns the singular of a noun that is counted; nil for none.
	Nouns func(word string) (singular string, ok bool)
	// Words has numbers in words read, one to twenty, half and quarter. It is
	// for prose only.
	Words bool

	signs bool // quotation marks may be feet and inches
}

// Scan returns the quantities of a text in order: each number, in digits or in
// words, with a unit, a counted noun, pH, KH or a currency sign. A year, a page,
// a step's number and a time of day are none.
func (g Grammar) Scan(text string) []Span {
	var found []Span
	g.each(text, func(s Span, _ int) {
		if s.NumEnd > 0 {
			found = append(found, s)
		}
	})
	return pairs(text, found)
}

// Read reads a text that begins with a number, or a range, and its mark, with a
// unit or without: "9.1", "≥ 30", "about 30 to 40 °C", "4 ft 6 in". What follows
// is the caller's; the error is a *NumberError.
func Read(text string) (Span, error) {
	g := Grammar{signs: true}
	i := 0
	for i < len(text) && (isLetter(text[i]) || !g.mayBegin(text, i)) {
		i++
	}
	if all := g.members(text, i); len(all) > 0 {
		if s := g.join(text, all, 0); strings.Trim(text[:s.Lead], blanks) == "" {
			return s, nil
		}
	}
	_, _, err := ReadNumber(text[i:])
	if err == nil || i > 0 {
		err = &NumberError{Text: firstWord(text), Reason: "is not a number", Advice: "write digits, such as 12.5"}
	}
	return Span{}, err
}

// Bare is a number that is no quantity.
type Bare struct {
	Start, End int
	Reason     Reason
}

// ScanBare returns the other numbers of a text and why they are no quantities.
func (g Grammar) ScanBare(text string) []Bare {
	var found []Bare
	g.each(text, func(s Span, from int) {
		if s.NumEnd == 0 {
			found = append(found, Bare{s.Start, s.End, reason(text, from, s.Start, s.End)})
		}
	})
	return found
}

// each calls yield with each quantity, or with a Span of Start and End alone for a
// number that is none, and with where the one before it ends.
func (g Grammar) each(text string, yield func(s Span, from int)) {
	from := 0 // where the last one ended
	for i := 0; i < len(text); {
		if !g.mayBegin(text, i) {
			_, size := utf8.DecodeRuneInString(text[i:])
			i += size
			continue
		}
		if end := codeEnd(text, i); end > 0 {
			yield(Span{Start: i, End: end}, from)
			i, from = end, end
			continue
		}
		s, end, ok := g.at(text, from, i)
		if end == 0 { // a word, or a sign of no number
			i = max(wordEnd(text, i), i+1)
			continue
		}
		if !ok {
			s = Span{Start: i, End: end}
		}
		yield(s, from)
		i, from = end, end
	}
}

// mayBegin is a cheap test for the first character of a number.
func (g Grammar) mayBegin(text string, i int) bool {
	c := text[i]
	switch {
	case isDigit(c):
		return true
	case c == '-' || c == '+' || c == '.':
		return nextDigit(text, i+1) && (i == 0 || strings.IndexByte(" \t\n(≥≤><=~[", text[i-1]) >= 0 || text[i-1] >= utf8.RuneSelf)
	case c >= utf8.RuneSelf:
		if strings.HasPrefix(text[i:], "−") {
			return nextDigit(text, i+len("−"))
		}
		_, size := fractionRune(text[i:])
		return size > 0
	}
	return isLetter(c) && (i == 0 || !isLetter(text[i-1]) && text[i-1] != '-')
}

// number reads the number at i. A word is one only in prose.
func (g Grammar) number(text string, i int) (n Printed, end int, words, ok bool) {
	if i >= len(text) {
		return n, 0, false, false
	}
	if isLetter(text[i]) {
		if !g.Words {
			return n, 0, false, false
		}
		n, end, ok = wordNumber(text, i)
		return n, end, true, ok
	}
	if c := text[i]; c == ' ' || c == '\t' || c == '\n' || strings.HasPrefix(text[i:], "\u00a0") {
		return n, 0, false, false
	}
	n, rest, err := ReadNumber(text[i:])
	if err != nil {
		return n, 0, false, false
	}
	return n, len(text) - len(rest), false, true
}

// member is one number of a Span with the unit right behind it.
type member struct {
	n          Printed
	start, end int
	unit       unitName
	words      bool
	joint      joint // to the number before it
}

// at reads the quantity whose number begins at i; from is where the text before
// it belongs to another. If it is none, end is that of the number, or 0 if there
// is no number.
func (g Grammar) at(text string, from, i int) (s Span, end int, ok bool) {
	all := g.members(text, i)
	if len(all) == 0 {
		return Span{}, 0, false
	}
	s = g.join(text, all, from)
	if s.Fault == nil && !s.HasUnit && s.Noun == "" {
		return Span{}, all[0].end, false
	}
	return s, s.End, true
}

// join makes one quantity of the first numbers, as many as belong together.
func (g Grammar) join(text string, all []member, from int) Span {
	i := all[0].start
	label := labelBefore(text, from, i)
	between := wordBefore(text, from, i) == "between"
	all = together(all, between, label != "")
	last := all[len(all)-1]
	if last.unit.rate {
		if sign, _ := currencyBefore(text, from, i); sign == "" {
			last.unit = unitName{} // "3 per boxful"
		}
	}
	s := Span{Start: i, NumStart: i, NumEnd: last.end, Form: form(all, between), Words: all[0].words, Unit: Unit{Code: "1", Factor: 1}}
	s.Numbers = make([]Printed, len(all))
	for i, m := range all {
		s.Numbers[i] = m.n
	}
	g.unit(text, &s, last)
	for _, n := range s.Numbers {
		if n.Comma && s.Fault == nil {
			s.Fault = &NumberError{Text: text[s.NumStart:s.NumEnd], Reason: "has a decimal comma", Advice: "print the decimal mark as a point, such as 1.5"}
		}
	}
	g.before(text, &s, from, label)
	return s
}

// unit adds what stands behind the last number: a unit, perhaps with a second
// number in a smaller one, a currency, or a noun.
func (g Grammar) unit(text string, s *Span, last member) {
	s.End, s.UnitStart, s.UnitEnd = last.end, last.end, last.end
	switch u := last.unit; {
	case u.end > 0:
		s.UnitStart, s.UnitEnd, s.End = u.start, u.end, u.end
		s.Unit, s.HasUnit, s.Fault = u.unit, u.fault == nil, u.fault
		s.Currency = u.currency
		if s.HasUnit && s.Form == Single {
			g.smaller(text, s)
		}
	default:
		if noun, start, end := g.noun(text, last.end); noun != "" {
			s.Noun, s.UnitStart, s.UnitEnd, s.End = noun, start, end, end
			if noun == "pH" {
				s.Unit, s.HasUnit = MustUnit("[pH]"), true
			}
		}
	}
}

// smaller takes the inches behind feet.
func (g Grammar) smaller(text string, s *Span) {
	at := s.End + blankSize(text[s.End:])
	n, end, _, ok := g.number(text, at)
	if !ok || isLetter(text[at]) {
		return
	}
	u := g.unitBehind(text, end)
	if u.end == 0 || u.fault != nil {
		return
	}
	if n, ok := compound(s.Numbers[0], s.Unit, n, u.unit); ok {
		s.Numbers[0], s.Compound = n, true
		s.NumEnd, s.UnitStart, s.UnitEnd, s.End = end, u.start, u.end, u.end
	}
}

// compound adds what people measure in two units at once: "4 ft 6 in", "5 lb 3
// oz", "1 h 30 min". The second part must be less than one of the first, or
// something else is meant.
func compound(first Printed, large Unit, second Printed, small Unit) (Printed, bool) {
	scale := small.Factor / large.Factor
	part := second.Value * scale
	whole := first.Value == float64(int64(first.Value))
	if !whole || large.Dim == (Dimension{}) || !small.SameDimension(large) || small.Offset != 0 || large.Offset != 0 || scale >= 1 || part < 0 || part >= 1 {
		return first, false
	}
	if first.Value < 0 {
		part = -part
	}
	return Printed{Value: first.Value + part, Step: second.Step * scale}, true
}

// before adds what stands in front of the number.
func (g Grammar) before(text string, s *Span, from int, label string) {
	if sign, start := currencyBefore(text, from, s.Start); sign != "" && !s.HasUnit && s.Noun == "" {
		s.Currency, s.Start, s.HasUnit, s.Unit, s.Fault = sign, start, true, MustUnit("{currency}"), nil
		if u := g.unitBehind(text, s.NumEnd); u.end > 0 && u.rate { // "£0.30 per kWh"
			if unit, err := ParseUnit("{currency}" + u.code); err == nil {
				s.Unit, s.UnitStart, s.UnitEnd, s.End, s.Fault = unit, u.start, u.end, u.end, nil
			}
		}
	}
	if label != "" && !s.HasUnit && s.Noun == "" {
		s.Noun = label
		if label == "pH" {
			s.Unit, s.HasUnit = MustUnit("[pH]"), true
		}
	}
	s.Mark, s.Start, s.Lead = markBefore(text, from, s.Start)
}

// pairs puts what says the same in other units into the span before it.
func pairs(text string, found []Span) []Span {
	kept := found[:0]
	for i := 0; i < len(found); i++ {
		s := found[i]
		last := &s
		for i+1 < len(found) && sameAgain(text, *last, found[i+1]) {
			other := found[i+1]
			last.Both = &other
			last = &other
			i++
		}
		kept = append(kept, s)
	}
	return kept
}

// sameAgain reports whether b, the next quantity, says a in another unit.
func sameAgain(text string, a, b Span) bool {
	if !a.HasUnit || !b.HasUnit || a.Fault != nil || b.Fault != nil || !a.Unit.SameDimension(b.Unit) || a.Unit.Code == b.Unit.Code || len(a.Numbers) != len(b.Numbers) {
		return false
	}
	gap := plainBlanks(text[a.End:b.Lead])
	gap, opened := strings.CutSuffix(gap, "(")
	switch {
	case opened && gap == " ", !opened && (gap == " or " || gap == ", or " || gap == ", " || gap == ", and "):
	case opened && strings.HasPrefix(gap, " ") && strings.HasSuffix(gap, " ") && strings.Count(gap, " ") <= 3 && strings.Trim(gap, "abcdefghijklmnopqrstuvwxyz ") == "": // "10 L bucket (2.6 gal (US))"
	default:
		return false
	}
	for i := range a.Numbers {
		if !near(a.Numbers[i].Value, a.Unit, b.Numbers[i].Value, b.Unit) {
			return false
		}
	}
	return true
}

// near reports whether two values may be one, each rounded on its own.
// Temperatures may be readings or steps.
func near(a float64, au Unit, b float64, bu Unit) bool {
	x, y := au.ToSI(a), bu.ToSI(b)
	if au.Offset == 0 && bu.Offset == 0 {
		return within(x-y, 0.16*x)
	}
	return within(x-y, 1) || within(a*au.Factor-b*bu.Factor, 0.1)
}

func within(difference, bound float64) bool {
	return max(difference, -difference) <= max(bound, -bound)
}
