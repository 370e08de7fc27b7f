package markup

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// manner is "=" for a quantity that stays as it is written, "*" for one that is
// stamped on a thing, and else "".
func manner(text string, s quantity.Span, trueSize bool) string {
	switch {
	case quoted(text, s.Start) || compares(text) || text[s.UnitStart:s.UnitEnd] == "K" || few(greatest(s), s.Unit.Code):
		return "="
	case s.Unit.Code == "mm" && (trueSize || stamped(text, s)):
		return "*"
	}
	return ""
}

// few reports so few grams that a scale that is good enough reads grams, for every
// reader. Nothing at all is not few.
func few(n float64, code string) bool {
	return 0 < n && n < 3 && (code == "g" || code == "g/d" || code == "g/h")
}

// greatest is the size of the greatest number.
func greatest(s quantity.Span) (size float64) {
	for _, n := range s.Numbers {
		size = max(size, n.Value, -n.Value)
	}
	return size
}

// quoted reports a place inside quotation marks: what somebody said stays.
func quoted(text string, at int) bool {
	head := text[:at]
	return strings.LastIndex(head, "“") > strings.LastIndex(head, "”") || strings.Count(head, `"`)%2 == 1 && strings.Contains(text[at:], `"`)
}

// compares reports a text that tells units apart, or says what they are worth.
func compares(text string) bool {
	for _, words := range [...]string{
		"It does not say which gallon", "The loss is in feet for each", "One kilogram in a cubic metre is",
		"Litres, imperial gallons and US gallons", "What one of each is in litres", "US gallons by litres", "Or type it along", "One kPa is about",
		"For any pond it is", "In inches that is",
	} {
		if strings.Contains(text, words) {
			return true
		}
	}
	return false
}

// stamped reports a size that the trade stamps on the thing, or sells it by, told
// by the thing: a drill and its hole, a mesh or a thread up to the largest drill; a
// pipe, a hose, a box, a sheet or a grain of any size.
func stamped(text string, s quantity.Span) bool {
	const drill = 35 // mm
	if strings.Contains(text[s.Start:s.End], "×") {
		return true // a box, or what is cut for one
	}
	after := words(text[s.End:], 2)
	before := lastWords(text[:s.Start], 2)
	grain := lastWords(strings.TrimSuffix(strings.TrimSuffix(text[:s.Start], "about "), ", "), 2) // "lava, about 20 mm"
	for _, w := range [...]string{"pipe", "hose", "box", "thread", "bore", "socket", "sheet"} {
		if strings.Contains(after, w) || strings.Contains(before, w) {
			return true
		}
	}
	for _, w := range [...]string{"lava", "gravel", "brick", "rings", "glass", "pumice"} {
		if strings.Contains(grain, w) {
			return true
		}
	}
	for _, n := range s.Numbers {
		if n.Value > drill {
			return false
		}
	}
	return sizes(text)
}

// sizes reports a text about what is drilled or sieved.
func sizes(text string) bool {
	for _, w := range [...]string{"hole", "Hole", "drill", "Drill", " bit", " saw", "grain", "Grain", "mesh", "grit"} {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}

// thing tells what a flow or a speed is of, where people have other units for it:
// air in cubic feet a minute, wind in miles an hour.
func thing(text string, s quantity.Span) string {
	switch s.Unit.Code {
	case "L/min", "L/h", "m3/h":
		if strings.HasPrefix(words(text[s.End:], 2), " of air") || strings.HasPrefix(words(text[s.End:], 1), " air") {
			return "{air}"
		}
	case "m/s", "km/h":
		if strings.Contains(text, "wind") || strings.Contains(text, "gust") || strings.Contains(text, "Wind") {
			return "{wind}"
		}
	}
	return ""
}

// words is the beginning of a text, n words with the blanks before them, up to
// the first stop.
func words(text string, n int) string {
	for i := range len(text) {
		switch c := text[i]; {
		case c == '.' || c == ',' || c == ';' || c == ':' || c == '(' || c == ')':
			return text[:i]
		case c == ' ' && i > 0 && text[i-1] != ' ':
			if n--; n == 0 {
				return text[:i]
			}
		}
	}
	return text
}

func lastWords(text string, n int) string {
	for i := len(text) - 1; i >= 0; i-- {
		switch c := text[i]; {
		case c == '.' || c == ',' || c == ';' || c == ':' || c == '(' || c == ')':
			return text[i+1:]
		case c == ' ' && i < len(text)-1:
			if n--; n == 0 {
				return text[i:]
			}
		}
	}
	return text
}

// headUnit finds the unit in the brackets at the end of a heading, or behind its
// comma: "Volume (gal (US))", "Head, m".
func headUnit(text string) (code string, from, to int) {
	end := len(strings.TrimRight(text, " .\n\u00a0"))
	if end == 0 || text[end-1] != ')' {
		from = strings.LastIndex(text, ", ") + len(", ")
		if from > 1 && from < end {
			if u, ok := quantity.UnitNamed(text[from:end]); ok && end-from < 8 && u.Code != "a" {
				return u.Code, from, end
			}
		}
		return "", 0, 0
	}
	depth := 0
	for i := end - 1; i >= 0; i-- {
		switch text[i] {
		case ')':
			depth++
		case '(':
			if depth--; depth == 0 {
				if u, ok := quantity.UnitNamed(text[i+1 : end-1]); ok {
					return u.Code, i + 1, end - 1
				}
				return "", 0, 0
			}
		}
	}
	return "", 0, 0
}

// captionUnit finds the unit that a caption says last: "The loss, in millimetres
// of water".
func captionUnit(text string) (code string, from, to int) {
	at := strings.LastIndex(text, ", in ")
	if at < 0 {
		return "", 0, 0
	}
	from = at + len(", in ")
	to = len(strings.TrimSuffix(strings.TrimRight(text, " .\n"), " of water"))
	if from < to {
		if u, ok := quantity.UnitNamed(text[from:to]); ok {
			return u.Code, from, to
		}
	}
	return "", 0, 0
}

// mayHold is a cheap test for a number.
func mayHold(text string) bool {
	for i := range len(text) {
		c := text[i]
		if c >= '0' && c <= '9' || c == 0xc2 && i+1 < len(text) && text[i+1] >= 0xbc && text[i+1] <= 0xbe || c == 0xe2 && strings.HasPrefix(text[i:], "\u215b") {
			return true
		}
	}
	return holdsWord(text)
}

// holdsWord reports a number word.
func holdsWord(text string) bool {
	for _, w := range [...]string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twe", "eleven", "half", "quarter", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Twe", "Half"} {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}
