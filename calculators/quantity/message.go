package quantity

import (
	"strings"
	"unicode"
)

// sentence joins what every error of this package says into one line.
func sentence(text, reason, advice string) string {
	s := quote(text) + " " + reason
	if advice != "" {
		s += "; " + advice
	}
	return s
}

// longest is how much of a faulty text an error repeats, in characters.
const longest = 40

// quote repeats a faulty text so that it fits in one line whatever it holds.
func quote(s string) string {
	clean := strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) && r != '\u00a0' && r != '\u202f' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if r := []rune(clean); len(r) > longest {
		clean = string(r[:longest-1]) + "…"
	}
	return `"` + clean + `"`
}
