package quantity

import "strings"

// sentence joins what every error of this package says into one line.
func sentence(text, reason, advice string) string {
	if advice == "" {
		return Put("{text} {reason}", "reason", reason, "text", Quote(text))
	}
	return Put("{text} {reason}; {advice}", "reason", reason, "advice", advice, "text", Quote(text))
}

// longest is how much of a faulty text an error repeats, in characters.
const longest = 40

// Quote repeats a faulty text in quotation marks, made Clean.
func Quote(s string) string { return `"` + Clean(s) + `"` }

// Clean shortens a text and takes out what cannot be printed, so that it fits
// in one line of an error whatever it holds.
func Clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if !printable(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if r := []rune(s); len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return s
}

// printable leaves out control and formatting characters, odd spaces, and what
// belongs to no script. It does with a few ranges, because the tables of
// packages unicode and strconv would add 10 kB to the module.
func printable(r rune) bool {
	switch {
	case r == '\u00a0' || r == '\u202f': // the spaces before a unit
		return true
	case r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u00ad' || r == '\u061c':
		return false
	case r >= 0x2000 && r <= 0x200f || r >= 0x2028 && r <= 0x202e || r >= 0x205f && r <= 0x206f || r == 0x3000:
		return false
	case r >= 0xd800 && r <= 0xf8ff || r == 0xfeff || r >= 0xfff0 && r <= 0xfffb || r >= 0x20000:
		return false
	}
	return true
}
