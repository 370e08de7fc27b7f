package quantity

import (
	"strings"
	"unicode/utf8"
)

// Reason is why a number is no quantity.
type Reason string

// The reasons. Plain numbers, which none of the others explains, are Loose.
const (
	Year   Reason = "year"
	Page   Reason = "page"
	StepNo Reason = "step"
	Time   Reason = "time"
	Code   Reason = "code" // of a thing or a standard: "IPX8", "4.14.1"
	Nth    Reason = "ordinal"
	Loose  Reason = "bare"
)

// wordNumber reads the number in words that begins at i: "six", "two and a half",
// "half an".
func wordNumber(text string, i int) (n Printed, end int, ok bool) {
	end = wordEnd(text, i)
	if end < len(text) && text[end] == '\'' {
		return n, 0, false
	}
	v, exact := wordValue(lower(text[i:end]))
	if v == 0 {
		return n, 0, false
	}
	if exact {
		for _, article := range []string{" of an ", " of a ", " an ", " a "} {
			if size := samePlain(text[end:], article); size > 0 {
				end += size - 1 // the blank is the unit's
				break
			}
		}
		return Printed{Value: v}, end, true
	}
	if size := samePlain(text[end:], " and a half"); size > 0 && wordEnd(text, end+size) == end+size {
		return Printed{Value: v + 0.5}, end + size, true
	}
	return Printed{Value: v, Step: 1}, end, true
}

// wordValue returns the value of a number word, 0 if it is none. A half and a
// quarter are exact.
func wordValue(word string) (v float64, exact bool) {
	switch word {
	case "half":
		return 0.5, true
	case "quarter":
		return 0.25, true
	}
	for i, name := range [...]string{
		"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
	} {
		if word == name {
			return float64(i + 1), false
		}
	}
	return 0, false
}

// noun returns the counted noun behind a number, with up to two other words or
// a size between: "twenty large koi", "two 6 mm holes".
func (g Grammar) noun(text string, at int) (noun string, start, end int) {
	for range 3 {
		size := blankSize(text[at:])
		if size == 0 && strings.HasPrefix(text[at:], "-") {
			size = 1
		}
		start = at + size
		end = wordEnd(text, start)
		if size == 0 {
			return "", 0, 0
		}
		if end == start { // perhaps a size
			_, numEnd, _, ok := Grammar{}.number(text, start)
			u := unitName{}
			if ok {
				u = g.unitBehind(text, numEnd)
			}
			if u.end == 0 {
				return "", 0, 0
			}
			at = u.end
			continue
		}
		word := text[start:end]
		if word == "pH" || word == "KH" || word == "GH" {
			return word, start, end
		}
		if g.Nouns == nil {
			return "", 0, 0
		}
		if singular, ok := g.Nouns(lower(word)); ok {
			return singular, start, end
		}
		if functionWord(lower(word)) {
			return "", 0, 0
		}
		at = end
	}
	return "", 0, 0
}

// functionWord reports words that end what a number may count.
func functionWord(word string) bool {
	switch word {
	case "of", "in", "to", "and", "or", "the", "a", "an", "is", "are", "on", "at", "by", "for", "with", "from", "as", "that", "than",
		"times", "if", "per", "each", "it", "its", "one", "has", "have", "was", "were", "do", "does", "not", "no", "but", "when", "you", "your":
		return true
	}
	return false
}

// labelBefore returns "pH", "KH" or "GH" if it stands before the number at i,
// perhaps with small words between: "pH of 8.2", "KH below 4".
func labelBefore(text string, from, i int) string {
	s := strings.TrimRight(text[from:i], " \t\n\u00a0\u202f≥≤<>≈~=")
	for range 3 {
		word := lastWord(s)
		switch word {
		case "pH", "KH", "GH":
			return word
		case "of", "is", "at", "above", "below", "over", "under", "about", "from", "between", "to", "near", "than":
		default:
			return ""
		}
		s = strings.TrimRight(strings.TrimSuffix(s, word), " \t\n\u00a0\u202f")
	}
	return ""
}

func wordBefore(text string, from, i int) string {
	return lower(lastWord(strings.TrimRight(text[from:i], " \n\u00a0")))
}

func lastWord(s string) string {
	i := len(s)
	for i > 0 && isLetter(s[i-1]) {
		i--
	}
	if i > 0 && (isDigit(s[i-1]) || s[i-1] >= utf8.RuneSelf && !strings.HasSuffix(s[:i], "\u00a0")) {
		return ""
	}
	return s[i:]
}

// markBefore returns the mark in front of the number at i, where its sign stands
// and where its word does.
func markBefore(text string, from, i int) (mark Mark, start, lead int) {
	const longest = len("more than") + 1
	before := strings.TrimRight(text[from:i], blanks+"\n")
	skipped := max(0, len(before)-longest)
	before = strings.ReplaceAll(lower(before[skipped:]), "\n", " ")
	for _, m := range []struct {
		words string
		mark  Mark
	}{
		{"≥", AtLeast}, {">=", AtLeast}, {"at least", AtLeast}, {"≤", AtMost}, {"<=", AtMost}, {"at most", AtMost}, {"up to", AtMost},
		{">", Above}, {"over", Above}, {"above", Above}, {"more than", Above},
		{"<", Below}, {"under", Below}, {"below", Below}, {"less than", Below}, {"≈", About}, {"~", About}, {"about", About},
	} {
		head, ok := strings.CutSuffix(before, m.words)
		switch at := from + skipped + len(head); {
		case !ok:
		case !isLetter(m.words[0]):
			return m.mark, at, at
		case head == "" || !isLetter(head[len(head)-1]):
			return m.mark, i, at
		}
	}
	return Plain, i, i
}

// currencyBefore returns the currency sign in front of the number at i.
func currencyBefore(text string, from, i int) (sign string, start int) {
	for _, sign := range []string{"£", "€", "$"} {
		if head, ok := strings.CutSuffix(text[from:i], sign); ok {
			return sign, from + len(head)
		}
	}
	return "", i
}

// codeEnd returns where a word ends in which letters and digits stand together,
// "IPX8", "P2O5", and 0 if i begins no such word.
func codeEnd(text string, i int) int {
	end := i
	letters := isLetter(text[i])
	digits := false
	if !letters {
		return 0
	}
	for end < len(text) && (isLetter(text[end]) || isDigit(text[end])) {
		digits = digits || isDigit(text[end])
		end++
	}
	if !digits {
		return 0
	}
	for end+1 < len(text) && strings.IndexByte("-./", text[end]) >= 0 && (isLetter(text[end+1]) || isDigit(text[end+1])) {
		end += 2
		for end < len(text) && (isLetter(text[end]) || isDigit(text[end])) {
			end++
		}
	}
	return end
}

// reason says why the number from i to end is no quantity.
func reason(text string, from, i, end int) Reason {
	word := text[i:end]
	behind := text[end:]
	before := wordBefore(text, from, i)
	next := ""
	if size := blankSize(behind); size > 0 {
		next = lower(behind[size:wordEnd(behind, size)])
	}
	suffix := lower(behind[:wordEnd(behind, 0)])
	switch {
	case suffix == "st" || suffix == "nd" || suffix == "rd" || suffix == "th":
		return Nth
	case isLetter(text[i]) && codeEnd(text, i) == end, suffix != "" || strings.HasPrefix(behind, "_"), standardsBody(text[from:i]):
		return Code
	case next == "o" && strings.HasPrefix(behind[blankSize(behind):], "o'") || next == "am" || next == "pm", monthName(next), monthName(before),
		strings.HasPrefix(behind, ":") && nextDigit(behind, 1), i > 0 && text[i-1] == ':' && i > 1 && isDigit(text[i-2]):
		return Time
	case before == "step" || before == "steps":
		return StepNo
	case before == "page" || before == "pages" || before == "leaf" || before == "leaves" || before == "chapter" || before == "table" || before == "tables" ||
		before == "section" || before == "figure" || before == "example" || before == "examples" || before == "part" || before == "appendix" || before == "volume":
		return Page
	case len(word) == 4 && allDigits(word) && word >= "1500" && word < "2100":
		return Year
	case isCapital(before, text, from, i):
		return Page
	}
	return Loose
}

// standardsBody reports whether the text before a number ends in a word that
// makes it a standard's name: BS 7671, EN 60529, ISO 7010.
func standardsBody(before string) bool {
	word := lastWord(strings.TrimRight(before, " \u00a0"))
	return len(word) >= 2 && len(word) <= 5 && strings.Trim(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// isCapital reports whether one capital letter stands before the number: "W 3".
func isCapital(before, text string, from, i int) bool {
	word := lastWord(strings.TrimRight(text[from:i], " \u00a0"))
	return len(before) == 1 && word >= "A" && word <= "Z"
}

func monthName(word string) bool {
	switch word {
	case "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december":
		return true
	}
	return false
}

func allDigits(s string) bool { return digitsEnd(s, 0) == len(s) }

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// wordEnd returns where the letters that begin at i end. A letter of another
// script belongs to the word.
func wordEnd(text string, i int) int {
	for i < len(text) {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r < utf8.RuneSelf && !isLetter(byte(r)) || r >= utf8.RuneSelf && !(r >= 0xc0 && r < 0x2000 && r != 0xd7) {
			break
		}
		i += size
	}
	return i
}

// blankSize returns the length of the blank, or the line's end, that s begins
// with.
func blankSize(s string) int {
	switch {
	case s == "":
		return 0
	case s[0] == ' ' || s[0] == '\n' || s[0] == '\t':
		return 1
	case strings.HasPrefix(s, "\u00a0"):
		return len("\u00a0")
	case strings.HasPrefix(s, "\u202f"):
		return len("\u202f")
	}
	return 0
}

func plainBlanks(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\u00a0", " "), "\u202f", " ")
	return strings.ReplaceAll(s, "\n", " ")
}
