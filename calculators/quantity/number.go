package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Printed is a number as it stands in print.
type Printed struct {
	Value float64
	Step  float64 // what one unit of the last printed digit is worth; 0 for a fraction, which is exact
}

// NumberError says why a text is not a number, and what to write instead.
type NumberError struct {
	Text   string
	Reason string
	Advice string
}

func (e *NumberError) Error() string {
	s := quote(e.Text) + " " + e.Reason
	if e.Advice != "" {
		s += "; " + e.Advice
	}
	return s
}

// ReadNumber reads the number that text begins with and returns what follows
// it. It accepts a sign, thousands separated by commas or no-break spaces, a
// decimal point, an exponent, common fractions (3/4, 1 1/2) and the fraction
// characters (½, 1½). A decimal comma is refused, because "1,500" would then
// have two meanings a thousandfold apart.
func ReadNumber(text string) (n Printed, rest string, err error) {
	s := strings.TrimLeft(text, " \u00a0\t")
	sign := 1.0
	for _, minus := range []string{"-", "−"} {
		if strings.HasPrefix(s, minus) {
			sign, s = -1, s[len(minus):]
			break
		}
	}
	s = strings.TrimPrefix(s, "+")
	whole, step, after, err := readDecimal(s)
	if err != nil {
		return Printed{}, text, err
	}
	if after == s { // no digits: perhaps a fraction character alone
		if f, size := fractionRune(s); size > 0 {
			return Printed{Value: sign * f}, s[size:], nil
		}
		return Printed{}, text, &NumberError{Text: text, Reason: "is not a number", Advice: "write digits, such as 12.5"}
	}
	value, exact, after, err := readFraction(s, whole, step, after)
	if err != nil {
		return Printed{}, text, err
	}
	if exact {
		step = 0
	}
	if math.IsInf(value, 0) || math.IsNaN(value) {
		return Printed{}, text, &NumberError{Text: text, Reason: "is too large a number", Advice: "check the digits"}
	}
	return Printed{Value: sign * value, Step: step}, after, nil
}

// readDecimal reads digits with an optional point and exponent. after equals s
// when s does not begin with a digit or a point before a digit.
func readDecimal(s string) (value, step float64, after string, err error) {
	digits := make([]byte, 0, 24)
	i, places, point := 0, 0, false
	group := -1 // digits since the last thousands separator
loop:
	for i < len(s) {
		c := s[i]
		switch {
		case c >= '0' && c <= '9':
			digits = append(digits, c)
			if point {
				places++
			} else if group >= 0 {
				group++
			}
			i++
		case c == '.' && !point && i+1 < len(s) && isDigit(s[i+1]):
			if group >= 0 && group != 3 {
				return 0, 0, s, decimalComma(s)
			}
			point, group = true, -1
			digits = append(digits, c)
			i++
		case !point && len(digits) > 0 && separator(s[i:]) > 0 && nextDigit(s, i+separator(s[i:])):
			if group >= 0 && group != 3 || group < 0 && len(digits) > 3 {
				return 0, 0, s, decimalComma(s)
			}
			group = 0
			i += separator(s[i:])
		default:
			break loop
		}
	}
	if len(digits) == 0 {
		return 0, 0, s, nil
	}
	if group >= 0 && group != 3 {
		return 0, 0, s, decimalComma(s)
	}
	exponent, i := readExponent(s, i)
	text := string(digits) + "e" + strconv.Itoa(exponent)
	value, _ = strconv.ParseFloat(text, 64) // overflow gives infinity, refused by the caller
	return value, math.Pow(10, float64(exponent-places)), s[i:], nil
}

func readExponent(s string, i int) (exponent, next int) {
	if i >= len(s) || s[i] != 'e' && s[i] != 'E' {
		return 0, i
	}
	j := i + 1
	if j < len(s) && (s[j] == '-' || s[j] == '+') {
		j++
	}
	k := j
	for k < len(s) && k-j < 4 && isDigit(s[k]) {
		k++
	}
	if k == j {
		return 0, i
	}
	n, _ := strconv.Atoi(strings.TrimPrefix(s[i+1:k], "+"))
	return n, k
}

// readFraction looks for a fraction behind a whole number: "1½", "1 1/2" or
// "3/4". Anything else it leaves to the caller.
func readFraction(s string, whole, step float64, after string) (value float64, exact bool, rest string, err error) {
	if step != 1 {
		return whole, false, after, nil
	}
	if f, size := fractionRune(strings.TrimLeft(after, " \u00a0")); size > 0 {
		return whole + f, true, strings.TrimLeft(after, " \u00a0")[size:], nil
	}
	if strings.HasPrefix(after, "/") && nextDigit(after, 1) {
		den, _, tail, err := readDecimal(after[1:])
		if err != nil || den == 0 {
			return 0, false, s, &NumberError{Text: s, Reason: "is not a fraction", Advice: "write it as 3/4"}
		}
		return whole / den, true, tail, nil
	}
	if space := strings.TrimLeft(after, " \u00a0"); space != after && nextDigit(space, 0) {
		num, _, mid, err := readDecimal(space)
		if err == nil && strings.HasPrefix(mid, "/") && nextDigit(mid, 1) {
			den, _, tail, err := readDecimal(mid[1:])
			if err == nil && den > 0 {
				return whole + num/den, true, tail, nil
			}
		}
	}
	return whole, false, after, nil
}

func decimalComma(s string) error {
	return &NumberError{
		Text:   firstWord(s),
		Reason: "has a comma that does not separate thousands",
		Advice: "write the decimal mark as a point, such as 1.5, and thousands as 1,500",
	}
}

func firstWord(s string) string {
	if i := strings.IndexAny(s, " \t"); i >= 0 {
		return s[:i]
	}
	return s
}

func separator(s string) int {
	switch {
	case strings.HasPrefix(s, ","):
		return 1
	case strings.HasPrefix(s, "\u00a0"):
		return len("\u00a0")
	case strings.HasPrefix(s, "\u202f"):
		return len("\u202f")
	}
	return 0
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func nextDigit(s string, i int) bool { return i < len(s) && isDigit(s[i]) }

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
