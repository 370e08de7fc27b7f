package figures

import (
	"errors"
	"math"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators/quantity"
)

// Mark is the sign in front of a printed number.
type Mark uint8

// The marks.
const (
	Plain   Mark = iota
	AtLeast      // ≥
	AtMost       // ≤
	Above        // >
	Below        // <
	About        // about, ca., ~, ≈
)

// String returns the mark as printed.
func (m Mark) String() string {
	switch m {
	case AtLeast:
		return "≥"
	case AtMost:
		return "≤"
	case Above:
		return ">"
	case Below:
		return "<"
	case About:
		return "about"
	}
	return ""
}

// Amount is a number, or a range, as printed.
type Amount struct {
	Mark      Mark
	Low, High Number // equal unless Range
	Range     bool
	Unit      string // as written after the number: "mg/L", "°C"; "" for none
}

// Number is a number as printed.
type Number struct {
	Value float64
	Step  float64 // what one unit of the last printed digit is worth; 0 for a fraction, which is exact
}

// AmountError says why a text is not an amount.
type AmountError struct {
	Problem string // "has two numbers"
	Remedy  string // "give each number a cell of its own"
	Number  bool   // whether the text holds a number at all
}

func (e *AmountError) Error() string { return e.Problem + "; " + e.Remedy }

// Words that stand in front of a number and change what it claims.
func leadingMark(s string) (Mark, string) {
	for _, m := range []struct {
		text string
		mark Mark
	}{
		{"≥", AtLeast}, {">=", AtLeast}, {"at least ", AtLeast},
		{"≤", AtMost}, {"<=", AtMost}, {"at most ", AtMost}, {"up to ", AtMost},
		{">", Above}, {"over ", Above}, {"above ", Above}, {"more than ", Above},
		{"<", Below}, {"under ", Below}, {"below ", Below}, {"less than ", Below},
		{"≈", About}, {"~", About}, {"about ", About},
	} {
		if len(s) >= len(m.text) && strings.EqualFold(s[:len(m.text)], m.text) {
			return m.mark, strings.TrimLeft(s[len(m.text):], blanks)
		}
	}
	return Plain, s
}

const blanks = " \t\u00a0\u202f"

// ReadAmount reads a cell that is one number, or one range, with or without a
// unit: "9.1", "1,200 L", "≥ 30", "30 to 40 °C", "30–40", "1½ in", "4 ft 6 in".
// The error is an *AmountError.
func ReadAmount(s string) (Amount, error) {
	s = strings.Trim(s, blanks)
	mark, rest := leadingMark(s)
	low, rest, err := readNumber(rest)
	if err != nil {
		return Amount{}, err
	}
	a := Amount{Mark: mark, Low: low, High: low}
	unit, tail, second := splitRange(rest)
	if !second {
		return a.withUnit(rest)
	}
	high, rest, err := readNumber(tail)
	if err != nil {
		return Amount{}, err
	}
	if mark != Plain && mark != About {
		return Amount{}, &AmountError{"sets " + mark.String() + " before a range", "write one or the other", true}
	}
	if !(high.Value > low.Value) {
		return Amount{}, &AmountError{"is a range whose end is not above its start", "write the smaller number first", true}
	}
	a.High, a.Range = high, true
	a, err = a.withUnit(rest)
	if err == nil && unit != "" && unit != a.Unit {
		return Amount{}, &AmountError{"has two units", "give both ends of the range in one unit", true}
	}
	return a, err
}

// readNumber reads one printed number. A number that is not printed the way
// the handbook prints numbers comes back with the advice of package quantity.
func readNumber(s string) (Number, string, error) {
	n, rest, err := quantity.ReadNumber(s)
	if err != nil {
		problem, remedy := err.Error(), "write it as 1,234.5"
		var e *quantity.NumberError
		if errors.As(err, &e) {
			problem, remedy = e.Reason, e.Advice
		}
		return Number{}, s, &AmountError{problem, remedy, startsWithDigit(s)}
	}
	return Number{n.Value, n.Step}, rest, nil
}

func startsWithDigit(s string) bool {
	s = strings.TrimLeft(s, "+-−"+blanks)
	return s != "" && (isDigit(s[0]) || s[0] == '.' && len(s) > 1 && isDigit(s[1]) || strings.HasPrefix(s, "½"))
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// splitRange looks for the second number of a range in what follows the first.
// unit is what stands between the first number and the word or dash.
func splitRange(s string) (unit, second string, ok bool) {
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		after := ""
		switch {
		case r == '–' || r == '-' && (i == 0 || strings.ContainsRune(blanks, rune(s[i-1]))):
			after = s[i+size:]
		case strings.HasPrefix(s[i:], "to ") && endsBlank(s[:i]):
			after = s[i+len("to "):]
		}
		if after != "" && startsWithDigit(after) {
			return strings.Trim(s[:i], blanks), strings.TrimLeft(after, blanks), true
		}
		i += size
	}
	return "", "", false
}

func endsBlank(s string) bool { return strings.TrimRight(s, blanks) != s }

// withUnit takes what follows the number as its unit, or as the inches behind
// feet.
func (a Amount) withUnit(rest string) (Amount, error) {
	rest = strings.Trim(rest, blanks)
	if !hasDigit(rest) || unitLike(rest) {
		a.Unit = rest
		return a, nil
	}
	if n, ok := feetAndInches(a, rest); ok {
		a.Low, a.High, a.Unit = n, n, "in"
		return a, nil
	}
	return Amount{}, &AmountError{"has two numbers", "give each number a cell of its own, or write a range as 30 to 40", true}
}

func hasDigit(s string) bool { return strings.ContainsAny(s, "0123456789½¼¾⅓⅔⅛⅜⅝⅞") }

// unitLike reports whether digits in a unit are its exponents: "m2/m3".
func unitLike(s string) bool {
	_, err := quantity.ParseUnit(unitCode(s))
	return err == nil
}

// feetAndInches reads `6 in` behind "4 ft" and returns the whole in inches.
func feetAndInches(a Amount, rest string) (Number, bool) {
	i := strings.IndexFunc(rest, func(r rune) bool { return r >= '0' && r <= '9' || r == '½' || r == '¼' || r == '¾' })
	if a.Range || i < 0 || unitCode(strings.Trim(rest[:i], blanks)) != "[ft_i]" || a.Low.Value != math.Trunc(a.Low.Value) {
		return Number{}, false
	}
	in, tail, err := quantity.ReadNumber(rest[i:])
	if err != nil || in.Value < 0 || in.Value >= 12 || unitCode(strings.Trim(tail, blanks)) != "[in_i]" {
		return Number{}, false
	}
	return Number{12*a.Low.Value + in.Value, in.Step}, true
}
