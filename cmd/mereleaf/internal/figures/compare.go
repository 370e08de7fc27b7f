package figures

import (
	"math"
	"strings"
	"unicode"

	"mereleaf/calculators/quantity"
)

// verdict is how a printed cell stands to a figure.
type verdict uint8

const (
	same     verdict = iota
	differs          // another value
	absent           // the figure is blank or not a number
	finer            // more digits than the figure has
	noUnit           // a number without the unit it needs
	otherDim         // a unit of another dimension
	badMark          // ≥, ≤, > or < that the figure does not bear out
)

// printed is a number of a chapter, ready to compare.
type printed struct {
	Amount
	unit    quantity.Unit
	hasUnit bool

	// inSentence says that a number which is converted may be rounded like
	// "about 1,200": a sentence has its mark outside the link.
	inSentence bool
	end        rangeEnd // of a range that a single number is
}

// rangeEnd says which end of a range is meant, if not both.
type rangeEnd uint8

const (
	bothEnds rangeEnd = iota
	lowEnd
	highEnd
)

// What the last bits of a conversion may come to, as a share of the number:
// slack where two numbers must be equal, and far less beside printed digits, of
// which there may be ten.
const (
	slack     = 1e-9
	fineSlack = 4e-15
)

// rounds reports whether n, as printed, is the figure f rounded to the digits
// that n shows. A figure exactly between two roundings accepts both, because
// publications differ in which they take. v is f's value in the unit of n.
func rounds(n Number, v float64, figureStep float64) bool {
	d := math.Abs(n.Value - v)
	if n.Step > 0 {
		return d <= n.Step/2*(1+slack)+fineSlack*math.Abs(v)
	}
	if near(n.Value, v) {
		return true
	}
	// A fraction is exact, the figure may be its decimal rounding: 7/16 in is
	// printed 0.438, and 11.1 mm. It must still be the nearest 64th.
	return d <= figureStep/2*(1+slack) && d < 1.0/128
}

// compareNumber compares one printed number with one figure.
func compareNumber(n Number, p printed, figure Number, unit quantity.Unit) verdict {
	if !p.hasUnit {
		if !bare(unit) {
			return noUnit
		}
		p.unit = unit
	}
	v, ok := Convert(figure.Value, unit, p.unit)
	if !ok {
		return otherDim
	}
	scale := unit.Factor / p.unit.Factor
	if n.Step > 0 && n.Step < figure.Step*(1-slack) && near(scale, 1) {
		if rounds(Number{Value: n.Value, Step: figure.Step}, v, 0) {
			return finer
		}
		return differs
	}
	if p.Mark == About || p.inSentence && !near(scale, 1) {
		n.Step = aboutStep(n)
	}
	if rounds(n, v, figure.Step*scale) {
		return same
	}
	return differs
}

// bare reports whether numbers of the unit are printed without one.
func bare(u quantity.Unit) bool {
	return u.Code == "[pH]" || u.Dim == quantity.Dimension{} && u.Factor == 1
}

// aboutStep is what the last significant digit of "about 1,200" is worth: zeros
// before the decimal point count for nothing, but two digits always count, so
// that "about 1,000" is not 1,400.
func aboutStep(n Number) float64 {
	if n.Step != 1 || n.Value == 0 {
		return n.Step
	}
	step, limit := 1.0, math.Pow(10, math.Floor(math.Log10(math.Abs(n.Value)))-1)
	for step < limit && math.Mod(n.Value, step*10) == 0 {
		step *= 10
	}
	return step
}

// compare compares a printed amount with the figure, or pair of figures, in a
// row. high equals low for a single column.
func (s *Set) compare(row, low, high int, p printed) verdict {
	a, hasLow := s.Amount(row, low)
	b, hasHigh := s.Amount(row, high)
	switch {
	case !hasLow && !hasHigh:
		return absent
	case p.end == lowEnd && hasLow:
		return compareNumber(p.Low, p, a.Low, s.unit(row, low))
	case p.end == highEnd && hasHigh:
		return compareNumber(p.Low, p, b.High, s.unit(row, high))
	case p.Range:
		return s.compareRange(row, low, high, p)
	case p.Mark == AtLeast || p.Mark == Above:
		if low != high && (hasHigh || !hasLow) || low == high && !s.bears(row, low, p.Mark) {
			return badMark
		}
		return compareNumber(p.Low, p, a.Low, s.unit(row, low))
	case p.Mark == AtMost || p.Mark == Below:
		if low != high && (hasLow || !hasHigh) || low == high && !s.bears(row, low, p.Mark) {
			return badMark
		}
		return compareNumber(p.Low, p, b.High, s.unit(row, high))
	case hasLow && a.Range || hasHigh && b.Range:
		return differs
	}
	for _, end := range []struct {
		has    bool
		a      Amount
		column int
	}{{hasLow, a, low}, {hasHigh, b, high}} {
		if !end.has {
			continue
		}
		if v := compareNumber(p.Low, p, end.a.Low, s.unit(row, end.column)); v != same {
			return v
		}
	}
	return same
}

func (s *Set) compareRange(row, low, high int, p printed) verdict {
	a, hasLow := s.Amount(row, low)
	b, hasHigh := s.Amount(row, high)
	if !hasLow || !hasHigh || low == high && !a.Range {
		return differs
	}
	if v := compareNumber(p.Low, p, a.Low, s.unit(row, low)); v != same {
		return v
	}
	return compareNumber(p.High, p, b.High, s.unit(row, high))
}

// bears reports whether a single figure is what the mark says of it: by the
// row's comparator, or by the column's name.
func (s *Set) bears(row, column int, m Mark) bool {
	for i, c := range s.Data() {
		if c.plain == "comparator" {
			given, err := quantity.Read(s.Rows[row].Cells[i].Text + " 0") // a mark is read before a number
			return err == nil && given.Mark == m
		}
	}
	words := strings.Fields(s.Columns[column].plain)
	for _, w := range words {
		if lowWord(w) != "" && (m == AtLeast || m == Above) || highWord(w) && (m == AtMost || m == Below) {
			return true
		}
	}
	return false
}

// lowWord returns the word for the upper end that pairs with a word for the
// lower end of a range in column names; "" if w is not one.
func lowWord(w string) string {
	switch w {
	case "min":
		return "max"
	case "low":
		return "high"
	case "minimum":
		return "maximum"
	case "from":
		return "to"
	}
	return ""
}

func highWord(w string) bool {
	switch w {
	case "max", "high", "maximum", "to", "limit", "most":
		return true
	}
	return false
}

// plainText is a text without what its printing may vary in: case, spacing, and
// the shapes of apostrophes and dashes.
func plainText(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	for word := range strings.FieldsSeq(s) { // no-break spaces are white space too
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		for _, r := range word {
			switch r {
			case '’':
				r = '\''
			case '–':
				r = '-'
			}
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}
