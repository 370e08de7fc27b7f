package terminal

import (
	"strings"
	"unicode/utf8"
)

// width is what the narrowest terminal in common use shows.
const width = 80

// sheet gathers the lines of an answer. It keeps no-break spaces until the text
// is broken into lines, and turns them into plain spaces when it is done.
type sheet struct{ lines []string }

func (s *sheet) String() string {
	text := strings.Join(s.lines, "\n") + "\n"
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(text)
}

// heading starts a section, with an empty line above it.
func (s *sheet) heading(text string) {
	if len(s.lines) > 0 {
		s.lines = append(s.lines, "")
	}
	s.lines = append(s.lines, text)
}

// hang prints text broken into lines, the first behind a lead and the others
// indented as far as the lead reaches.
func (s *sheet) hang(lead, text string) {
	indent := strings.Repeat(" ", length(lead))
	line, empty := lead, true
	for word := range strings.FieldsFuncSeq(text, breakable) {
		if !empty && length(line)+1+length(word) > width {
			s.lines = append(s.lines, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	s.lines = append(s.lines, strings.TrimRight(line, " "))
}

// breakable leaves no-break spaces out, unlike unicode.IsSpace.
func breakable(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }

func length(s string) int { return utf8.RuneCountInString(s) }

func padRight(s string, n int) string { return s + strings.Repeat(" ", max(n-length(s), 0)) }

func padLeft(s string, n int) string { return strings.Repeat(" ", max(n-length(s), 0)) + s }

// column sets displayed quantities one above the other with their decimal
// points in line.
type column struct{ whole, rest int }

func (c *column) fit(shown string) {
	whole, rest := atPoint(shown)
	c.whole, c.rest = max(c.whole, length(whole)), max(c.rest, length(rest))
}

func (c column) set(shown string) string {
	whole, rest := atPoint(shown)
	return padLeft(whole, c.whole) + padRight(rest, c.rest)
}

// atPoint cuts before the decimal point, or behind the whole number.
func atPoint(shown string) (whole, rest string) {
	number, unit, spaced := strings.Cut(shown, "\u00a0")
	if spaced {
		unit = "\u00a0" + unit
	}
	if i := strings.IndexByte(number, '.'); i >= 0 {
		return number[:i], number[i:] + unit
	}
	return number, unit
}
