package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Fill puts numbers, in order, into the gaps of a text and returns it with the
// numbers left over. A gap says how its number is printed:
//
//	{3}       three significant digits
//	{3 mg/L}  with the symbol of a UCUM unit, by WithUnit
//	{~4}      four digits without idle noughts, by FormatPlain
//	{0}       a whole number
//
// It panics on a gap without a number, which is a mistake in the calculator.
// One call for a whole sentence takes a fraction of the code that joining its
// pieces does.
func Fill(text string, values []float64) (filled string, rest []float64) {
	for {
		before, after, found := strings.Cut(text, "{")
		filled += before
		if !found {
			return filled, values
		}
		end := strings.IndexByte(after, '}')
		if strings.HasPrefix(after[end+1:], "}") { // the unit itself is in braces
			end++
		}
		if len(values) == 0 {
			panic("quantity: no number for the gap {" + after[:end+1])
		}
		filled += gap(after[:end], values[0])
		text, values = after[end+1:], values[1:]
	}
}

func gap(form string, v float64) string {
	digits, code, hasUnit := strings.Cut(form, " ")
	digits, plain := strings.CutPrefix(digits, "~")
	count := wholeNumber(digits)
	if digitsEnd(digits, 0) != len(digits) || digits == "" {
		panic("quantity: the gap {" + form + "} does not say how many digits")
	}
	if !hasUnit {
		code = "1"
	}
	switch {
	case count == 0:
		return WithUnit(FormatWhole(v), code)
	case plain:
		return WithUnit(FormatPlain(v, count), code)
	}
	return WithUnit(FormatNumber(v, count), code)
}

// FormatWhole rounds v, half away from zero, and prints it without decimals.
func FormatWhole(v float64) string {
	v = math.Round(v)
	return FormatNumber(v, len(strconv.FormatFloat(math.Abs(v), 'f', 0, 64)))
}
