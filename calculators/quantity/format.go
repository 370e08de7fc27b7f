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
	digits = max(digits, 1)
	// The decimal rounding of strconv is exact, so native code and WebAssembly
	// print the same digits for the same value.
	e := strconv.FormatFloat(v, 'e', digits-1, 64)
	exponent, _ := strconv.Atoi(e[strings.IndexByte(e, 'e')+1:])
	places := max(digits-1-exponent, 0)
	rounded, _ := strconv.ParseFloat(e, 64)
	return group(strconv.FormatFloat(rounded, 'f', places, 64))
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
