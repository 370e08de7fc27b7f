package units

import (
	"regexp"
	"strings"
)

// differences are the words by which a number of degrees is known to be a
// difference: what stands right before the number, and right behind the unit.
// They are regular expressions that Go and the script read alike. A wrong one
// would add 32 to a step of temperature, which can kill fish; so a test asks
// that every °C of the handbook is on a list that somebody has read.
type differences struct {
	Before string `json:"before"`
	Behind string `json:"behind"`
}

func temperatures() differences {
	return differences{
		Before: `(?:\b(?:within|by|steps? of|than a step of|differ by|difference of|for each|for every|per)(?: (?:about|some|up to|at most|at least|no more than|more than|less than))?|\bby (?:no )?(?:more|less) than(?: a step of)?)\s$`,
		Behind: `^\s(?:a|an|per|each|every) (?:minute|hour|day|week|month)\b|^/(?:min|h|d)\b|^\s(?:of difference|difference|between|apart|warmer|cooler|colder|hotter|higher|lower|more|less|step)\b|^\s\(1\.8\s°F\)`,
	}
}

// Difference reports whether a temperature that stands between two texts of one
// sentence is a difference.
func Difference(before, behind string) bool {
	d := temperatures()
	return regexp.MustCompile(d.Before).MatchString(before) || regexp.MustCompile(d.Behind).MatchString(behind)
}

var degrees = regexp.MustCompile(`[\d}½] °C|\{~?\d Cel\}|\(°C\)`)

// Temperature is a number of degrees Celsius in a text.
type Temperature struct {
	Around     string // the words about it
	Difference bool
}

// Temperatures finds the degrees of a text, also those that a template of a
// calculator's text will print ("{3 Cel}"), and headings of columns ("(°C)"), which
// hold readings: steps are written in K there.
func Temperatures(text string) []Temperature {
	text = strings.ReplaceAll(text, "\u00a0", " ")
	var found []Temperature
	for _, m := range degrees.FindAllStringIndex(text, -1) {
		start := m[0] + 1
		if text[m[0]] == '{' {
			start = m[0]
		}
		for start > 0 && strings.ContainsRune("0123456789.,-−{}½~", rune(text[start-1])) {
			start--
		}
		found = append(found, Temperature{
			Around:     strings.Join(strings.Fields(window(text, m[0], m[1])), " "),
			Difference: Difference(text[:start], text[m[1]:]),
		})
	}
	return found
}

// window cuts a text to what stands about a place, at blanks.
func window(text string, from, to int) string {
	from, to = max(0, from-32), min(len(text), to+24)
	for from > 0 && text[from-1] != ' ' && text[from-1] != '\n' {
		from--
	}
	for to < len(text) && text[to] != ' ' && text[to] != '\n' {
		to++
	}
	return text[from:to]
}
