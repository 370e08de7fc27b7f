package plumbing

import (
	"math"
	"strconv"

	"mereleaf/calculators/quantity"
)

// text prints a number with its unit for a line of working.
func text(v float64, digits int, code string) string {
	return quantity.WithUnit(quantity.FormatNumber(v, digits), code)
}

// whole prints a number without decimals, with its unit.
func whole(v float64, code string) string {
	v = math.Round(v)
	return text(v, len(strconv.FormatFloat(math.Abs(v), 'f', 0, 64)), code)
}
