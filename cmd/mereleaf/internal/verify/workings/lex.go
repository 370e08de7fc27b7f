package workings

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// kind is what a token is.
type kind uint8

const (
	number kind = iota
	unit
	mark // an operator or a bracket
	word
	end
)

type token struct {
	kind  kind
	text  string
	value texeval.Interval // of a number
	unit  quantity.Unit
}

// piece is a stretch of a line: as written in the calculator, or what filled a
// gap.
type piece struct {
	text   string
	digits int // of a gap: how many the number was rounded to; 0 for a whole one
	gap    bool
}

// pieces takes a line apart along the form that it was filled from.
func pieces(form, text string) ([]piece, error) {
	var all []piece
	for {
		before, after, found := strings.Cut(form, "{")
		if !strings.HasPrefix(text, before) {
			return nil, fmt.Errorf("%q does not come from %q", text, form)
		}
		if before != "" {
			all = append(all, piece{text: before})
		}
		text = text[len(before):]
		if !found {
			return all, nil
		}
		close := strings.IndexByte(after, '}')
		if strings.HasPrefix(after[close+1:], "}") {
			close++
		}
		inside := after[:close]
		form = after[close+1:]
		next, _, _ := strings.Cut(form, "{")
		length := len(text)
		if next != "" {
			if length = strings.Index(text, next); length < 0 {
				return nil, fmt.Errorf("%q does not come from its form", text)
			}
		}
		all = append(all, piece{text: text[:length], digits: digits(inside), gap: true})
		text = text[length:]
	}
}

// digits is how many digits a gap prints: 0 for a whole number, six where the
// number stands as it is.
func digits(gap string) int {
	for field := range strings.FieldsSeq(gap) {
		n := strings.TrimPrefix(field, "~")
		if n != "" && n[0] >= '0' && n[0] <= '9' && !strings.Contains(n, "/") {
			return int(n[0] - '0')
		}
	}
	return 6
}

// lex splits the pieces of a clause into tokens.
func lex(all []piece) ([]token, error) {
	var out []token
	carried := "" // what of a piece was read with the number before it
	for i, p := range all {
		rest := strings.TrimPrefix(p.text, carried)
		carried = ""
		for rest != "" {
			r, size := utf8.DecodeRuneInString(rest)
			switch {
			case unicode.IsSpace(r):
				rest = rest[size:]
			case unicode.IsDigit(r):
				text := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789,."))]
				text = strings.TrimRight(text, ",.")
				rest = rest[len(text):]
				v, err := value(text, p)
				if err != nil {
					return nil, err
				}
				out = append(out, token{kind: number, text: text, value: v})
				ahead := rest
				if rest == "" && i+1 < len(all) {
					ahead = all[i+1].text
				}
				if u, text, ok := unitAhead(ahead); ok {
					if rest == "" {
						carried = text
					}
					rest = strings.TrimPrefix(rest, text)
					out = append(out, token{kind: unit, text: strings.TrimSpace(text), unit: u})
				}
			case r == 'π' || r == '½' || r == '⅔':
				v := map[rune]float64{'π': math.Pi, '½': 0.5, '⅔': 2. / 3}[r]
				out = append(out, token{kind: number, text: string(r), value: texeval.Point(v)})
				rest = rest[size:]
			case strings.ContainsRune("×/+−-^²³√()=≈", r):
				out = append(out, token{kind: mark, text: string(r)})
				rest = rest[size:]
			default:
				text := word1(rest)
				out = append(out, token{kind: word, text: text})
				rest = rest[len(text):]
			}
		}
	}
	return append(out, token{kind: end}), nil
}

// word1 is the text up to the next space or bracket, at least one letter.
func word1(text string) string {
	_, size := utf8.DecodeRuneInString(text)
	if i := strings.IndexFunc(text[size:], func(r rune) bool { return unicode.IsSpace(r) || r == '(' || r == ')' }); i >= 0 {
		return text[:size+i]
	}
	return text
}

// value is all that a printed number may have been before it was rounded. A
// whole number in the calculator's own words is exact, and nought too.
func value(text string, p piece) (texeval.Interval, error) {
	v, off, err := texeval.Digits(text)
	if err != nil {
		return texeval.Interval{}, err
	}
	switch {
	case p.gap && p.digits == 0:
		off = 0.5
	case v == 0, !p.gap && !strings.Contains(text, "."):
		off = 0
	case p.gap:
		off = 0.5 * math.Pow(10, math.Floor(math.Log10(v)+1e-12)+1-float64(p.digits))
	}
	return texeval.Around(v, off), nil
}

// unitAhead reads the unit that stands behind a number, with the space before it.
func unitAhead(text string) (u quantity.Unit, taken string, ok bool) {
	trimmed := strings.TrimLeft(text, " \u00a0\u202f")
	space := len(text) - len(trimmed)
	length := strings.IndexFunc(trimmed, func(r rune) bool {
		return !unicode.IsLetter(r) && !strings.ContainsRune("%°²³/·", r)
	})
	if length < 0 {
		length = len(trimmed)
	}
	for ; length > 0; length = strings.LastIndexByte(trimmed[:length], '/') { // "g/50" is a unit and a division
		code := strings.NewReplacer("²", "2", "³", "3", "µ", "u", "°C", "K", "·", ".", "kWh", "(kW.h)").Replace(trimmed[:length])
		if u, err := quantity.ParseUnit(code); err == nil && code != "a" {
			return u, text[:space+length], true
		}
	}
	return quantity.Unit{}, "", false
}
