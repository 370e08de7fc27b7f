package formulas

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// symbol is one symbol of a declaration.
type symbol struct {
	name      string // "C_in"; "-" for a result that is not looked at
	unit      string // UCUM code
	word      string // what it stands for, if the declaration says so
	low, high float64
	values    []float64 // what it may be, in place of a range
}

// signature is the symbols of a formula as declared.
type signature struct{ results, arguments []symbol }

// readSignature reads "V [m3]: l [m] 1..30, w [m] width at the top 1|2|4".
func readSignature(text string) (signature, error) {
	var s signature
	var err error
	results, arguments, _ := strings.Cut(text, ": ")
	if s.results, err = readSymbols(results, false); err != nil {
		return s, err
	}
	if arguments != "" {
		s.arguments, err = readSymbols(arguments, true)
	}
	return s, err
}

func readSymbols(text string, ranged bool) ([]symbol, error) {
	var all []symbol
	for item := range strings.SplitSeq(text, ", ") {
		name, rest, _ := strings.Cut(item, " ")
		d := symbol{name: name}
		if name == "" {
			return nil, fmt.Errorf("a symbol is missing in %q", text)
		}
		d.unit, rest = bracketed(rest)
		if _, err := quantity.ParseUnit(d.unit); name != "-" && (d.unit == "" || err != nil) && !slices.Contains(sourceUnits(), d.unit) {
			return nil, fmt.Errorf("the symbol %s has no unit that is known", name)
		}
		if ranged {
			last := strings.LastIndex(rest, " ") + 1
			d.word, rest = strings.TrimSpace(rest[:last]), rest[last:]
			if err := d.readRange(rest); err != nil {
				return nil, err
			}
		} else if d.word = rest; strings.Contains(rest, "..") {
			return nil, fmt.Errorf("the result %s has a range", name)
		}
		all = append(all, d)
	}
	return all, nil
}

// sourceUnits are units in which a source states its formula and which no reader
// meets elsewhere in the handbook.
func sourceUnits() []string { return []string{"atm", "[in_i'Hg]", "rad"} }

// bracketed returns the unit that stands in brackets, and what follows. A unit
// may have brackets of its own: [[gal_us]].
func bracketed(text string) (code, rest string) {
	depth := 0
	for i, c := range text {
		switch c {
		case '[':
			depth++
		case ']':
			if depth--; depth == 0 {
				return text[1:i], strings.TrimSpace(text[i+1:])
			}
		}
		if depth == 0 {
			break
		}
	}
	return "", text
}

// readRange reads 1..30 or 1|2|4.
func (d *symbol) readRange(text string) error {
	if low, high, found := strings.Cut(text, ".."); found {
		var err, err2 error
		d.low, err = strconv.ParseFloat(low, 64)
		d.high, err2 = strconv.ParseFloat(high, 64)
		if err != nil || err2 != nil || d.low >= d.high {
			return fmt.Errorf("%s runs through %q, which is no range", d.name, text)
		}
		return nil
	}
	for part := range strings.SplitSeq(text, "|") {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return fmt.Errorf("%s runs through %q, which is no range", d.name, text)
		}
		d.values = append(d.values, v)
	}
	return nil
}

// at returns the value at a share of the way from low to high.
func (d symbol) at(share float64) float64 {
	if d.values != nil {
		return d.values[min(int(share*float64(len(d.values))), len(d.values)-1)]
	}
	return d.low + share*(d.high-d.low)
}

// inside is how many points inside the ranges are tried.
const inside = 24

// mostCorners bounds the corners that are tried: those of eight symbols.
const mostCorners = 256

// points returns the shares at which the arguments are tried: every corner of
// their ranges, and points inside that no two of them share.
func points(count int) [][]float64 {
	var all [][]float64
	for corner := 0; corner < min(1<<count, mostCorners); corner++ {
		shares := make([]float64, count)
		for i := range shares {
			shares[i] = float64(corner >> i & 1)
		}
		all = append(all, shares)
	}
	for n := range inside {
		shares := make([]float64, count)
		for i := range shares { // multiples of irrational numbers fall everywhere
			_, shares[i] = math.Modf(float64(n+1)*math.Sqrt(float64(2+3*i)) + 0.5)
		}
		if count > 0 {
			all = append(all, shares)
		}
	}
	return all
}

// list returns numbers for a list that runs through the range, rising.
func (d symbol) list(share float64) []float64 {
	numbers := make([]float64, 5)
	for i := range numbers {
		_, at := math.Modf((share + 0.13) * float64(i+1) * 1.618)
		numbers[i] = d.at(at)
	}
	slices.Sort(numbers)
	return numbers
}
