package quantities

import (
	"math"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// value is what a printed quantity is compared with: a result of a calculator, or
// a fact of a pond.
type value struct {
	low, likely, high float64
	unit              quantity.Unit
	digits            int     // significant ones that it bears
	step              float64 // what the last digit written is worth, in its own unit; 0 if it is not written
	whole             bool    // a whole number, of which every digit counts
}

// verdict is how a printed number stands to a value.
type verdict uint8

const (
	same     verdict = iota
	differs          // another number
	finer            // more digits than the value bears
	otherDim         // a unit of another dimension, or none
)

// equals reports whether a printed amount is the value.
func (v value) equals(p Printed, a figures.Amount) bool { return v.compare(p, a) == same }

// compare compares a printed amount with a value: a range with its ends, a single
// number with the likely one. A count, and a number without a unit, is of a value
// without one; a pH needs none.
func (v value) compare(p Printed, a figures.Amount) verdict {
	unit, plain := p.Unit, a.Unit == ""
	switch {
	case plain && p.Noun == "" && v.unit.Code == "[pH]":
		unit = v.unit
	case plain && v.unit.Factor != 1:
		return otherDim
	}
	if !a.Range {
		return v.compareNumber(a.Low, unit, v.likely)
	}
	if low := v.compareNumber(a.Low, unit, v.low); low != same {
		return low
	}
	return v.compareNumber(a.High, unit, v.high)
}

// The last bits of a conversion, as a share of the number.
const slack = 1e-9

// compareNumber compares a printed number with one of the value's.
//
// Noughts that end a whole number may be digits or stand for digits that were
// rounded away, so every reading of them is tried; but two digits always count, so
// that 1,000 is not 1,400, unless the value bears a single one.
func (v value) compareNumber(n figures.Number, unit quantity.Unit, x float64) verdict {
	converted, ok := figures.Convert(x, v.unit, unit)
	if !ok {
		return otherDim
	}
	own := v.unit.Code == unit.Code || v.unit.Factor == unit.Factor && v.unit.Offset == unit.Offset
	if v.whole && own {
		if n.Step == 1 && n.Value == math.Round(x) {
			return same
		}
		return differs
	}
	digits := v.digits
	if v.whole {
		digits = max(2, len(strconv.FormatFloat(math.Abs(math.Round(x)), 'f', 0, 64)))
	}
	borne := lastDigit(converted, digits)
	if n.Step == 0 { // a fraction is exact, and a drill or thread is the nearest 64th
		if d := math.Abs(n.Value - converted); d <= borne/2*(1+slack) && d < 1.0/128 {
			return same
		}
		return differs
	}
	found := differs
	for _, step := range readings(n, digits) {
		if math.Abs(n.Value-converted) > step/2*(1+slack)+slack*math.Abs(converted) {
			continue
		}
		if step >= borne*(1-slack) && (!own || step >= v.step*(1-slack)) {
			return same
		}
		found = finer
	}
	return found
}

// readings lists what the last digit of a printed number may be worth, of a value
// that bears so many significant digits.
func readings(n figures.Number, digits int) []float64 {
	steps := []float64{n.Step}
	if n.Step != 1 || n.Value == 0 {
		return steps
	}
	limit := math.Pow(10, math.Floor(math.Log10(math.Abs(n.Value)))+1-float64(min(digits, 2)))
	for step := 10.0; step <= limit && math.Mod(n.Value, step) == 0; step *= 10 {
		steps = append(steps, step)
	}
	return steps
}

// lastDigit is what the last of so many significant digits of v is worth.
func lastDigit(v float64, digits int) float64 {
	if v == 0 {
		return 0
	}
	return math.Pow(10, math.Floor(math.Log10(math.Abs(v)))+1-float64(digits))
}

const blanks = " \t\u00a0\u202f"

// readValue reads a fact or an input, of which the text is "9100 L", "30 cm" or
// "8.2". plain is the unit of a number without one.
func readValue(text string, plain quantity.Unit) (value, bool) {
	n, rest, err := quantity.ReadNumber(text)
	if err != nil {
		return value{}, false
	}
	v := value{low: n.Value, likely: n.Value, high: n.Value, unit: plain, digits: significant(n), step: n.Step}
	if rest = strings.Trim(rest, blanks); rest != "" {
		u, ok := figures.ReadUnit(rest)
		if !ok {
			return value{}, false
		}
		v.unit = u
	}
	return v, true
}

// exactly is how many digits a fraction or a count bears.
const exactly = 12

// significant counts the digits that a written number bears when it is converted:
// noughts that end a whole number count for nothing, but a lone digit counts as
// two.
func significant(n quantity.Printed) int {
	if n.Step == 0 || n.Value == 0 {
		return exactly
	}
	step := n.Step
	for step >= 1 && math.Mod(n.Value, step*10) == 0 {
		step *= 10
	}
	return max(2, int(math.Round(math.Log10(lastDigit(n.Value, 1)/step)))+1)
}
