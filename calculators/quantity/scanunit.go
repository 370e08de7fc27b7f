package quantity

import (
	"strings"
	"unicode/utf8"
)

// unitName is a unit as written behind a number. Its end is 0 if there is none.
type unitName struct {
	unit       Unit
	code       string // "/(kW.h)" for a rate
	start, end int
	rate       bool // "per kWh", which needs a currency before it
	currency   string
	fault      *NumberError
}

// unitBehind reads the longest unit that stands behind a number that ends at
// at: in the same word, after a blank or after a hyphen.
func (g Grammar) unitBehind(text string, at int) unitName {
	start := at + blankSize(text[at:])
	tight := start == at || start-at > 1 // a no-break space is put before units only
	if tight && start == at && strings.HasPrefix(text[at:], "-") && at+1 < len(text) && isLetter(text[at+1]) {
		start = at + 1
	}
	ends := unitEnds(text, start, g.signs)
	for i := len(ends) - 1; i >= 0; i-- {
		name := text[start:ends[i]]
		if u, ok := signOrRate(name); ok {
			u.start, u.end = start, ends[i]
			return u
		}
		u, ok := UnitNamed(name)
		if ok && !(i == 0 && englishWord(name, text[ends[0]:], tight)) {
			if strings.HasPrefix(text[at:], differs) {
				u = u.difference()
			}
			return unitName{unit: u, start: start, end: ends[i]}
		}
	}
	for i := len(ends) - 1; i >= 0; i-- {
		if name := text[start:ends[i]]; AmbiguousGallon(name) {
			fault := &NumberError{Text: text[start:ends[i]], Reason: "does not say which gallon", Advice: "write gal (US) or gal (imp)"}
			return unitName{start: start, end: ends[i], fault: fault}
		}
	}
	return unitName{}
}

// difference is the unit of a step on a scale of temperature.
func (u Unit) difference() Unit {
	switch u.Code {
	case "Cel":
		return MustUnit("K")
	case "[degF]":
		return MustUnit("[degR]")
	}
	return u
}

// signOrRate reads a currency sign, or what something costs money for.
func signOrRate(name string) (unitName, bool) {
	switch name {
	case "£", "€", "$":
		return unitName{unit: MustUnit("{currency}"), currency: name}, true
	}
	s := tidy(name)
	if over, ok := strings.CutPrefix(s, "/"); ok {
		if u, ok := UnitNamed(over); ok {
			return unitName{code: "/(" + u.Code + ")", rate: true, fault: &NumberError{Text: name, Reason: "is a rate of nothing", Advice: "write what there is of it"}}, true
		}
	}
	return unitName{}, false
}

// unitEnds returns where a unit that begins at start may end: behind its first
// word, and behind each that may belong to it.
func unitEnds(text string, start int, signs bool) []int {
	var ends []int
	previous := ""
	for at := start; len(ends) < 6; {
		end := unitWordEnd(text, at, signs)
		kept := at + len(strings.TrimRight(text[at:end], "."))
		word := lower(text[at:kept])
		if kept == at || len(ends) > 0 && !leads(previous) && !follows(word) {
			break
		}
		ends = append(ends, kept)
		size := blankSize(text[end:])
		if size == 0 || kept < end && text[kept] != '.' {
			break
		}
		previous, at = word, end+size
	}
	return ends
}

// unitWordEnd returns where the run of signs that units are written with ends.
// signs says whether a quotation mark may stand for feet or inches.
func unitWordEnd(text string, i int, signs bool) int {
	for begin := i; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == '(':
			close := strings.IndexByte(text[i:], ')')
			if close < 0 || !gallonName(lower(text[i+1:i+close])) {
				return i
			}
			size = close + 1
		case r < utf8.RuneSelf && (isLetter(byte(r)) || i > begin && isDigit(byte(r))), strings.ContainsRune("/·^°ºµμ%‰²³¹⁴⁵⁻′″.[]{}£€$", r), signs && strings.ContainsRune(`'"’”`, r):
		default:
			return i
		}
		i += size
	}
	return i
}

func gallonName(s string) bool {
	which, rest, _ := gallonWords(s)
	return which != "" && rest == ""
}

// leads reports words that want another behind them in a unit's name.
func leads(word string) bool {
	switch word {
	case "cubic", "square", "cu", "sq", "us", "u.s", "imperial", "imp", "uk", "british", "per", "a", "an", "each", "degree", "degrees", "deg", "°", "º":
		return true
	}
	return false
}

// follows reports words that go on with a unit's name.
func follows(word string) bool {
	switch word {
	case "per", "a", "an", "each", "cent", "us", "imp", "(us)", "(imp)", "(uk)", "gal", "gallon", "gallons":
		return true
	}
	return strings.HasPrefix(word, "(us)/") || strings.HasPrefix(word, "(imp)/")
}

// englishWord reports a name that is a word of the sentence here: "135 in place
// of 120", "5 a day".
func englishWord(name, behind string, tight bool) bool {
	switch name {
	case "a", "us", "B", "P", "S", "St", "eq", "1":
		return true
	case "in":
		if tight || behind == "" || strings.IndexByte(").,;:", behind[0]) >= 0 {
			return false
		}
		size := blankSize(behind)
		rest := behind[size:]
		if size == 0 || rest == "" || strings.HasPrefix(rest, "×") || strings.HasPrefix(rest, "(") {
			return false
		}
		switch lower(rest[:wordEnd(rest, 0)]) {
		case "deep", "wide", "long", "high", "tall", "thick", "across", "of", "x", "by", "pipe", "pipes", "hose", "hole", "holes", "bore", "drill":
			return false
		}
		return true
	}
	return false
}
