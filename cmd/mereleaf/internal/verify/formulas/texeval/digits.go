package texeval

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Digits reads a printed number, with commas between thousands or without, and
// returns by how much its rounding may have moved it: half of its last digit.
func Digits(text string) (value, off float64, err error) {
	plain := strings.ReplaceAll(text, ",", "")
	value, err = strconv.ParseFloat(plain, 64)
	if err != nil {
		return math.NaN(), 0, fmt.Errorf("%q is no number", text)
	}
	_, decimals, _ := strings.Cut(plain, ".")
	return value, 0.5 * math.Pow(10, -float64(len(decimals))), nil
}
