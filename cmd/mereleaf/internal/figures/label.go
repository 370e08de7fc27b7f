package figures

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// LooseNumber returns the first number of a text that is not part of a word
// (IPX8, NO2, CaCO3) or of a standard's name (BS 7671); "" if there is none.
func LooseNumber(s string) string {
	for _, n := range looseNumbers(s) {
		return n.text
	}
	return ""
}

type loose struct {
	text string // as printed
	rest string // what follows it
}

// looseNumbers lists the numbers of a text that claim something.
func looseNumbers(s string) []loose {
	var out []loose
	previous := ""
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case unicode.IsLetter(r):
			end := wordEnd(s, i)
			previous = s[i:end]
			i = end
		case isDigit(s[i]) || strings.ContainsRune("½¼¾⅓⅔⅛⅜⅝⅞", r):
			text, rest := cutNumber(s[i:])
			if !standardsBody(previous) {
				out = append(out, loose{text, rest})
			}
			previous = ""
			i = len(s) - len(rest)
		default:
			if r != ' ' && r != '\u00a0' {
				previous = ""
			}
			i += size
		}
	}
	return out
}

// wordEnd returns where the word that starts at i ends. Digits and hyphened
// parts behind a letter belong to the word: IPX8, NO2-N.
func wordEnd(s string, i int) int {
	for i < len(s) {
		r, size := utf8.DecodeRuneInString(s[i:])
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' && r != '’' {
			break
		}
		i += size
	}
	return i
}

func cutNumber(s string) (text, rest string) {
	_, rest, err := quantity.ReadNumber(s)
	if err != nil || rest == s {
		i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' && r != ',' })
		if i <= 0 {
			_, i = utf8.DecodeRuneInString(s)
			if len(s) > 0 && isDigit(s[0]) {
				i = len(s)
			}
		}
		return s[:i], s[i:]
	}
	return s[:len(s)-len(rest)], rest
}

// standardsBody reports whether a word in front of a number makes the two the
// name of a standard: BS 7671, EN 60529, ISO 7010.
func standardsBody(word string) bool {
	return len(word) >= 2 && len(word) <= 5 && word == strings.ToUpper(word) && strings.IndexFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }) < 0
}

// checkLabels checks that the numbers in the caption and in linked headings are
// those that their links ask for: "pH 8.2" must link to pH 8.2.
func (lay *layout) checkLabels() {
	caption := lay.views[0]
	lay.checkText(lay.table.Caption.Text, lay.table.Caption.Pos, func(l loose) bool { return said(l, caption.constraints) })
	for i, h := range lay.table.Head {
		text, _ := splitUnit(h.Text)
		if h.Ref == nil || !lay.headings[i].bound {
			if !lay.headings[i].bound {
				lay.checkText(text, h.Pos, func(loose) bool { return false })
			}
			continue
		}
		v := lay.views[lay.headings[i].view]
		lay.checkText(text, h.Pos, func(l loose) bool { return said(l, v.constraints) })
	}
}

func (lay *layout) checkText(text string, pos diag.Position, ok func(loose) bool) {
	for _, l := range looseNumbers(text) {
		if !ok(l) {
			lay.list.Add(diag.Diagnostic{Position: pos, Problem: "the number " + l.text + ` in "` + text + `" is bound to no figure`, Want: "a number that its link asks for", Remedy: "add it to the link as column=value, or leave it out of the text"})
		}
	}
}

// said reports whether a constraint asks for the number.
func said(l loose, constraints []constraint) bool {
	p, ok := l.printed()
	if !ok {
		return false
	}
	for _, c := range constraints {
		if c.numeric && (c.is(c.amount.Low, p) || c.is(c.amount.High, p)) {
			return true
		}
		if !c.numeric && mentions(c.pair.Value, p) {
			return true
		}
	}
	return false
}

// is reports whether a printed number is one of the constraint's: 2 m² is not 2 L.
func (c constraint) is(n Number, p printed) bool {
	if !p.hasUnit || c.unit.Code == "" {
		return near(n.Value, p.Low.Value)
	}
	v, ok := Convert(n.Value, c.unit, p.unit)
	return ok && near(v, p.Low.Value)
}

// printed reads the number with the unit behind it, if there is one.
func (l loose) printed() (printed, bool) {
	n, _, err := quantity.ReadNumber(l.text)
	if err != nil {
		return printed{}, false
	}
	p := printed{Amount: Amount{Low: n, High: n}}
	words := strings.FieldsFunc(l.rest, func(r rune) bool { return strings.ContainsRune(blanks+",;:", r) })
	if len(words) > 0 && (strings.HasPrefix(l.rest, " ") || strings.HasPrefix(l.rest, "\u00a0") || strings.HasPrefix(l.rest, words[0])) {
		p.unit, p.hasUnit = ReadUnit(words[0])
	}
	return p, true
}

// mentions reports whether a text holds the number.
func mentions(text string, p printed) bool {
	for _, l := range looseNumbers(text) {
		if n, _, err := quantity.ReadNumber(l.text); err == nil && near(n.Value, p.Low.Value) {
			return true
		}
	}
	return false
}

// checkRowLabels checks that every number in the text of a linked cell is one
// that its figure row states.
func (lay *layout) checkRowLabels(row []BodyCell, links map[*Set][]constraint, out []Bound) {
	for _, cell := range row {
		if cell.Ref == nil {
			continue
		}
		lay.checkText(cell.Text, cell.Pos, func(l loose) bool {
			p, ok := l.printed()
			if !ok {
				return false
			}
			for _, constraints := range links {
				if said(l, constraints) {
					return true
				}
			}
			for _, b := range out {
				if b.Numeric && b.Set.states(b.Row, p) {
					return true
				}
			}
			return false
		})
	}
}

// states reports whether a row holds the number, in a cell of its own or in
// words.
func (s *Set) states(row int, p printed) bool {
	for i, c := range s.Rows[row].Cells {
		if s.isOrigin(i) {
			continue
		}
		if !c.numeric {
			if mentions(c.Text, p) {
				return true
			}
			continue
		}
		q := p
		unit := s.unit(row, i)
		if !q.hasUnit || !q.unit.SameDimension(unit) {
			q.unit, q.hasUnit = unit, true
		}
		for _, n := range []Number{c.amount.Low, c.amount.High} {
			if compareNumber(p.Low, q, n, unit) == same {
				return true
			}
		}
	}
	return false
}
