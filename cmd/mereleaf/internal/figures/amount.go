package figures

import (
	"math"
	"strings"

	"mereleaf/calculators/quantity"
)

// Mark is the sign in front of a printed number.
type Mark = quantity.Mark

// The marks.
const (
	Plain   = quantity.Plain
	AtLeast = quantity.AtLeast
	AtMost  = quantity.AtMost
	Above   = quantity.Above
	Below   = quantity.Below
	About   = quantity.About
)

// Number is a number as printed.
type Number = quantity.Printed

// Amount is a number, or a range, as printed.
type Amount struct {
	Mark      Mark
	Low, High Number // equal unless Range
	Range     bool
	Unit      string // as written after the number: "mg/L", "°C"; "" for none
}

// AmountError says why a text is not an amount.
type AmountError struct {
	Problem string // "has two numbers"
	Remedy  string // "give each number a cell of its own"
	Number  bool   // whether the text holds a number at all
}

func (e *AmountError) Error() string { return e.Problem + "; " + e.Remedy }

const blanks = " \t\u00a0\u202f"

// ReadAmount reads a cell that is one number, or one range, with or without a
// unit: "9.1", "1,200 L", "≥ 30", "30 to 40 °C", "30–40", "1½ in", "4 ft 6 in".
// The error is an *AmountError.
func ReadAmount(s string) (Amount, error) {
	s = strings.Trim(s, blanks)
	span, err := quantity.Read(s)
	if err != nil {
		return Amount{}, notANumber(s, err)
	}
	a := Amount{Mark: span.Mark, Low: span.Numbers[0], High: span.Numbers[len(span.Numbers)-1], Range: span.Form == quantity.Range}
	switch {
	case span.Numbers[0].Comma || a.High.Comma:
		return Amount{}, &AmountError{"has a decimal comma", "print the decimal mark as a point, such as 1.5", true}
	case span.Form == quantity.Product || span.Form == quantity.List:
		return Amount{}, twoNumbers()
	case a.Range && a.Mark != Plain && a.Mark != About:
		return Amount{}, &AmountError{"sets " + a.Mark.String() + " before a range", "write one or the other", true}
	case a.Range && !(a.High.Value > a.Low.Value):
		return Amount{}, &AmountError{"is a range whose end is not above its start", "write the smaller number first", true}
	}
	a.Unit = strings.Trim(s[span.NumEnd:], blanks)
	switch {
	case span.Compound: // in inches, to which it is printed
		if small, ok := ReadUnit(s[span.UnitStart:span.UnitEnd]); ok {
			scale := small.Factor / span.Unit.Factor
			a.Low = Number{Value: math.Round(a.Low.Value/scale*1e9) / 1e9, Step: a.Low.Step / scale}
			a.High = a.Low
		}
	case !span.HasUnit && hasDigit(a.Unit) && !unitLike(a.Unit), span.HasUnit && hasDigit(s[span.UnitEnd:]):
		return Amount{}, twoNumbers()
	}
	return a, nil
}

func twoNumbers() error {
	return &AmountError{"has two numbers", "give each number a cell of its own, or write a range as 30 to 40", true}
}

// notANumber passes on what package quantity advises.
func notANumber(s string, err error) error {
	e := &AmountError{err.Error(), "write it as 1,234.5", startsWithDigit(s)}
	if n, ok := err.(*quantity.NumberError); ok {
		e.Problem, e.Remedy = n.Reason, n.Advice
	}
	return e
}

func startsWithDigit(s string) bool {
	s = strings.TrimLeft(s, "+-−"+blanks)
	return s != "" && (isDigit(s[0]) || s[0] == '.' && len(s) > 1 && isDigit(s[1]) || strings.HasPrefix(s, "½"))
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func hasDigit(s string) bool { return strings.ContainsAny(s, "0123456789½¼¾⅓⅔⅛⅜⅝⅞") }

// unitLike reports whether digits in a unit are its exponents: "m2/m3".
func unitLike(s string) bool {
	_, ok := ReadUnit(s)
	return ok
}
