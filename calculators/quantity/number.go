package quantity

import (
	"math"
	"strings"
	"unicode/utf8"
)

// Printed is a number as it stands in print.
type Printed struct {
	Value float64
	Step  float64 // what one unit of the last printed digit is worth; 0 for a fraction, which is exact
	Other float64 // what people of another country may read, "1,234" as 1.234; 0 if there is one reading
	Comma bool    // the decimal mark is a comma, which people type and the handbook never prints
}

// NumberError says why a text is not a number, and what to write instead.
type NumberError struct {
	Text   string
	Reason string
	Advice string
}

// Error says in one line what the text is and what to write instead.
func (e *NumberError) Error() string { return sentence(e.Text, e.Reason, e.Advice) }

// blanks are the spaces that may stand before a number or inside a mixed
// fraction.
const blanks = " \t\u00a0\u202f"

// ReadNumber reads the number that text begins with and returns what follows
// it. It accepts a sign, thousands separated by commas or no-break spaces, a
// decimal point, an exponent, common fractions (3/4, 1 1/2) and the fraction
// characters (½, 1½).
//
// It reads print, and so a comma with three digits behind it separates
// thousands and a point never does, as the handbook prints them. Any other comma
// can only be a decimal mark ("1,5", "0,500"), and points that part three digits
// each can only be thousands where a decimal comma or another such point follows
// ("1.500,5"). What people of another country would read otherwise comes back in
// Other: "1,234", whose last digit a decimal fraction may well end in, and
// "15.000", whose idle zero it would not. "9,100" has one reading: nobody writes
// nine and a tenth so. Parse, which reads what somebody has typed, refuses a number
// that has two. The error is a *NumberError.
func ReadNumber(text string) (n Printed, rest string, err error) {
	s := strings.TrimLeft(text, blanks)
	sign, s := readSign(s)
	d, err := readDecimal(s)
	if err != nil {
		return Printed{}, text, err
	}
	if !d.found { // perhaps a fraction character alone
		if f, size := fractionRune(s); size > 0 {
			return Printed{Value: sign * f}, s[size:], nil
		}
		return Printed{}, text, &NumberError{Text: firstWord(text), Reason: "is not a number", Advice: "write digits, such as 12.5"}
	}
	n, rest, err = readFraction(d)
	if err != nil {
		return Printed{}, text, err
	}
	if math.IsInf(n.Value, 0) || math.IsNaN(n.Value) {
		return Printed{}, text, &NumberError{Text: firstWord(text), Reason: "is too large a number", Advice: "check the digits"}
	}
	n.Value *= sign
	n.Other *= sign
	return n, rest, nil
}

func readSign(s string) (sign float64, rest string) {
	for _, minus := range []string{"-", "−"} {
		if strings.HasPrefix(s, minus) {
			return -1, s[len(minus):]
		}
	}
	return 1, strings.TrimPrefix(s, "+")
}

// decimal is digits with an optional point and exponent, and what follows.
type decimal struct {
	Printed
	found   bool
	integer bool // neither point nor exponent: a fraction may follow
	rest    string
}

func readDecimal(s string) (decimal, error) {
	g := grouped(s)
	if g.digits == "" {
		return decimal{rest: s}, nil
	}
	if g.odd {
		return decimal{}, &NumberError{
			Text:   firstWord(s),
			Reason: "has commas and points that do not fit together",
			Advice: "write the decimal mark as a point, such as 1.5, and thousands as 1,500",
		}
	}
	end := exponentEnd(s, g.end)
	exponent := -g.places
	other := 0.0
	if end > g.end {
		exponent += wholeNumber(s[g.end+1 : end])
	} else if g.otherPlaces >= 0 {
		other = decimalValue(g.digits, -g.otherPlaces)
	}
	return decimal{
		Printed: Printed{Value: decimalValue(g.digits, exponent), Step: math.Pow(10, float64(exponent)), Other: other, Comma: g.comma},
		found:   true,
		integer: g.places == 0 && end == g.end,
		rest:    s[end:],
	}, nil
}

// decimalValue returns digits times a power of ten. Up to 15 digits and 22 places
// either way, farther than anybody measures, it is the nearest float64, since
// both factors are exact; beyond, the last bits may differ. What is too large is
// infinite or not a number. It is here because strconv.ParseFloat would add 8 kB
// to the module.
func decimalValue(digits string, exponent int) float64 {
	v := 0.0
	for i := range len(digits) {
		v = 10*v + float64(digits[i]-'0')
	}
	for ; exponent < -300; exponent += 300 { // a greater power of ten is no float64
		v /= 1e300
	}
	if exponent < 0 {
		return v / math.Pow(10, float64(-exponent))
	}
	return v * math.Pow(10, float64(exponent))
}

// wholeNumber returns the value of digits with or without a sign, of which it
// reads no farther than 99999.
func wholeNumber(s string) int {
	sign := 1
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = -1
		}
		s = s[1:]
	}
	n := 0
	for i := 0; nextDigit(s, i) && n < 10000; i++ {
		n = 10*n + int(s[i]-'0')
	}
	return sign * n
}

// groups is a run of digits and of the signs that part them.
type groups struct {
	digits      string // without the signs
	places      int    // how many of them stand behind the decimal mark
	comma       bool   // the decimal mark is a comma
	otherPlaces int    // how many would in the other reading; -1 if there is none
	odd         bool   // its signs fit no number
	end         int
}

// grouped reads the digits that s begins with and what their points and commas
// say.
func grouped(s string) groups {
	first := digitsEnd(s, 0)
	g := groups{digits: s[:first], end: first, otherPlaces: -1}
	mayGroup := first >= 1 && first <= 3 && s[0] != '0' // "0,500" can only be a decimal comma
	var before byte                                     // the sign of all groups but the last, as long as it is one sign
	var last byte
	size, count := 0, 0
	thousands := mayGroup // whether all groups but the last are of three, behind one sign
	for {
		sign, width := separator(s[g.end:])
		if sign == 0 || first == 0 && (sign != '.' || count > 0) || !nextDigit(s, g.end+width) {
			break
		}
		next := digitsEnd(s, g.end+width)
		if sign == ' ' && (!thousands || next-g.end-width != 3 || count > 0 && (last != ' ' || size != 3)) {
			break // two numbers side by side
		}
		if count > 0 {
			thousands = thousands && size == 3 && (count == 1 || last == before)
			before = last
		}
		g.digits += s[g.end+width : next]
		last, size, g.end, count = sign, next-g.end-width, next, count+1
	}
	idle := strings.HasSuffix(g.digits, "0")
	switch {
	case count == 0:
	case thousands && size == 3 && (count == 1 || last == before) && (last != '.' || count > 1):
		if last == ',' && count == 1 && !idle {
			g.otherPlaces = 3
		}
	case last != ' ' && (count == 1 || thousands && last != before):
		g.places, g.comma = size, last == ','
		if last == '.' && count == 1 && mayGroup && size == 3 && idle {
			g.otherPlaces = 0
		}
	default:
		g.odd = true
	}
	return g
}

// exponentEnd returns where an exponent that begins at i ends, or i if none
// does.
func exponentEnd(s string, i int) int {
	if i >= len(s) || s[i] != 'e' && s[i] != 'E' {
		return i
	}
	j := i + 1
	if j < len(s) && (s[j] == '-' || s[j] == '+') {
		j++
	}
	if !nextDigit(s, j) {
		return i
	}
	return digitsEnd(s, j)
}

// readFraction looks for a fraction behind a whole number: "1½", "1 1/2" or
// "3/4". Anything else it leaves to the caller.
func readFraction(d decimal) (Printed, string, error) {
	if !d.integer {
		return d.Printed, d.rest, nil
	}
	tail := strings.TrimLeft(d.rest, blanks)
	if f, size := fractionRune(tail); size > 0 {
		return Printed{Value: d.Value + f}, tail[size:], nil
	}
	if under, rest, ok := denominator(d.rest); ok {
		if under == 0 {
			return Printed{}, "", &NumberError{Text: firstWord(d.rest), Reason: "divides by zero", Advice: "write a fraction as 3/4"}
		}
		return Printed{Value: d.Value / under}, rest, nil
	}
	if tail != d.rest && nextDigit(tail, 0) {
		over, err := readDecimal(tail)
		if err != nil || !over.integer {
			return d.Printed, d.rest, nil
		}
		if under, rest, ok := denominator(over.rest); ok && over.Value < under {
			return Printed{Value: d.Value + over.Value/under}, rest, nil
		}
	}
	return d.Printed, d.rest, nil
}

// denominator reads "/4".
func denominator(s string) (value float64, rest string, ok bool) {
	if !strings.HasPrefix(s, "/") || !nextDigit(s, 1) {
		return 0, s, false
	}
	d, err := readDecimal(s[1:])
	if err != nil || !d.integer {
		return 0, s, false
	}
	return d.Value, d.rest, true
}

func firstWord(s string) string {
	s = strings.TrimLeft(s, blanks)
	if i := strings.IndexAny(s, blanks); i >= 0 {
		return s[:i]
	}
	return s
}

// separator returns the sign between digits that s begins with, ' ' for a
// no-break space, and its length.
func separator(s string) (sign byte, size int) {
	for _, space := range []string{"\u00a0", "\u202f"} {
		if strings.HasPrefix(s, space) {
			return ' ', len(space)
		}
	}
	if s != "" && (s[0] == ',' || s[0] == '.') {
		return s[0], 1
	}
	return 0, 0
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func nextDigit(s string, i int) bool { return i < len(s) && isDigit(s[i]) }

func digitsEnd(s string, i int) int {
	for nextDigit(s, i) {
		i++
	}
	return i
}

func fractionRune(s string) (value float64, size int) {
	r, size := utf8.DecodeRuneInString(s)
	switch r {
	case '½':
		return 1.0 / 2, size
	case '¼':
		return 1.0 / 4, size
	case '¾':
		return 3.0 / 4, size
	case '⅓':
		return 1.0 / 3, size
	case '⅔':
		return 2.0 / 3, size
	case '⅛':
		return 1.0 / 8, size
	case '⅜':
		return 3.0 / 8, size
	case '⅝':
		return 5.0 / 8, size
	case '⅞':
		return 7.0 / 8, size
	}
	return 0, 0
}
