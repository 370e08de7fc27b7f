package quantity

import (
	"math"
	"strconv"
	"strings"
)

// FormatNumber rounds v to the given count of significant digits, at least one,
// and prints it without exponent, thousands separated by commas. What is not
// finite prints as a dash.
func FormatNumber(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "—"
	}
	if v == 0 {
		return "0"
	}
	// The decimal rounding of strconv is exact, so native code and WebAssembly
	// print the same digits for the same value.
	e := strconv.FormatFloat(v, 'e', max(digits, 1)-1, 64)
	mark := strings.IndexByte(e, 'e')
	whole, fraction, _ := strings.Cut(e[:mark], ".")
	return group(shift(whole, fraction, wholeNumber(e[mark+1:])))
}

// shift moves the decimal point of a printed number right, or left if places is
// below zero. whole is one digit, with a sign if it is negative.
func shift(whole, fraction string, places int) string {
	sign, digits := whole[:len(whole)-1], whole[len(whole)-1:]+fraction
	switch {
	case places < 0:
		return sign + "0." + strings.Repeat("0", -places-1) + digits
	case places >= len(fraction):
		return sign + digits + strings.Repeat("0", places-len(fraction))
	}
	return sign + digits[:places+1] + "." + digits[places+1:]
}

// FormatPlain is FormatNumber without idle noughts behind the point: 3.6 for 3.60.
// It is for numbers whose precision is not the matter, such as those of a
// working or of a range.
func FormatPlain(v float64, digits int) string {
	s := FormatNumber(v, digits)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func group(s string) string {
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "−", s[1:]
	}
	whole, fraction, hasPoint := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if hasPoint {
		whole += "." + fraction
	}
	return sign + whole
}

// Text prints the quantity with the given count of significant digits, joined
// to its unit by a no-break space.
func (q Quantity) Text(digits int) string {
	return WithUnit(FormatNumber(q.Value, digits), q.Unit.Code)
}

// WithUnit joins a printed number to the symbol of a unit so that a line never
// breaks between them.
func WithUnit(number, code string) string {
	symbol := Symbol(code)
	if symbol == "" {
		return number
	}
	return number + "\u00a0" + strings.ReplaceAll(symbol, " ", "\u00a0")
}
