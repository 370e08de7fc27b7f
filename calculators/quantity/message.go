package quantity

import (
	"strconv"
	"strings"
)

// sentence joins what every error of this package says into one line.
func sentence(text, reason, advice string) string {
	s := Quote(text) + " " + reason
	if advice != "" {
		s += "; " + advice
	}
	return s
}

// longest is how much of a faulty text an error repeats, in characters.
const longest = 40

// Quote repeats a faulty text in quotation marks, made Clean.
func Quote(s string) string { return `"` + Clean(s) + `"` }

// Clean shortens a text and takes out what cannot be printed, so that it fits
// in one line of an error whatever it holds.
func Clean(s string) string {
	// strconv's table of what can be printed is the same as unicode's, and far
	// smaller.
	s = strings.Map(func(r rune) rune {
		if !strconv.IsPrint(r) && r != '\u00a0' && r != '\u202f' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if r := []rune(s); len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return s
}
