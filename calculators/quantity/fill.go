package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Fill puts numbers into the gaps of a sentence and returns it with the numbers
// left over. A sentence is one whole template, so that it can be said in another
// language, where the gaps may stand in another order. A gap names what stands in
// it and says how it is printed:
//
//	{toxic 2 mg/L}          two significant digits, with the symbol of a UCUM unit, by WithUnit
//	{times 2}               without unit
//	{count 0}               a whole number
//	{limit mg/L}, {limit ~} as the number stands: 0.05 and not 0.050
//	{fall ~3 m}             three digits at most, without idle noughts, by FormatPlain
//	{fall 2 K}              a difference of temperatures, which prints as "°C" behind a narrow blank
//	{boxes 0|box|boxes}     with a word for one and one for any other number
//	{boxes |is|are}         such a word alone
//	{missing}               words, which Put fills; Fill leaves the gap as it is
//
// The numbers are those of the gaps in order; a name that comes again takes the
// number it took before. A gap without a name, "{3 mg/L}", is one in a line of
// working. Fill panics on a gap without a number, which is a mistake in the
// calculator. One call for a whole sentence takes a fraction of the code that
// joining its pieces does.
func Fill(text string, values []float64) (filled string, rest []float64) {
	var names []string // of the numbers taken so far
	for {
		before, after, found := strings.Cut(text, "{")
		filled += before
		if !found {
			return filled, values[len(names):]
		}
		end := strings.IndexByte(after, '}')
		if strings.HasPrefix(after[end+1:], "}") { // the unit itself is in braces
			end++
		}
		name, form := named(after[:end])
		if form == "" {
			filled += "{" + name + "}"
		} else {
			i := index(names, name)
			if i == len(names) {
				names = append(names, name)
			}
			if i == len(values) {
				panic("quantity: no number for the gap {" + after[:end+1])
			}
			filled += gap(form, values[i])
		}
		text = after[end+1:]
	}
}

// Put puts words into the gaps of a sentence that hold nothing but a name: a list,
// a reader's own text, a sentence after its urgency. It takes a name and its words,
// then the next name and its words.
func Put(text string, namesAndWords ...string) string {
	for i := 0; i+1 < len(namesAndWords); i += 2 {
		text = strings.ReplaceAll(text, "{"+namesAndWords[i]+"}", namesAndWords[i+1])
	}
	return text
}

// named parts the name of a gap from what says how it is printed.
func named(inside string) (name, form string) {
	if inside != "" && (isDigit(inside[0]) || inside[0] == '~') {
		return "", inside
	}
	name, form, _ = strings.Cut(inside, " ")
	return name, form
}

// index returns where a name stands, or how many there are. No name is like no
// other.
func index(names []string, name string) int {
	for i, n := range names {
		if n == name && name != "" {
			return i
		}
	}
	return len(names)
}

// asItStands is more digits than any limit has.
const asItStands = 6

// gap prints a number in the form that a gap asks for.
// differs stands between the number and the degrees of a difference. It is a
// no-break space as before any unit, but the narrow one, by which Scan tells the
// difference from a reading.
const differs = "\u202f"

func gap(form string, v float64) string {
	form, words, counted := strings.Cut(form, "|")
	if form == "" {
		return inflected(FormatWhole(v), words)
	}
	digits, code, _ := strings.Cut(form, " ")
	number := ""
	switch count := wholeNumber(strings.TrimPrefix(digits, "~")); {
	case digits == "~":
		number = FormatPlain(v, asItStands)
	case digits[0] == '~':
		number = FormatPlain(v, count)
	case !isDigit(digits[0]):
		number, code = FormatPlain(v, asItStands), form
	case count == 0:
		number = FormatWhole(v)
	default:
		number = FormatNumber(v, count)
	}
	switch {
	case counted:
		return number + " " + inflected(number, words)
	case code == "":
		return number
	case code == "K":
		return number + differs + "°C"
	}
	return WithUnit(number, code)
}

// inflected chooses between the word for one and that for any other number.
func inflected(number, words string) string {
	one, others, _ := strings.Cut(words, "|")
	if number == "1" {
		return one
	}
	return others
}

// FormatWhole rounds v, half away from zero, and prints it without decimals.
func FormatWhole(v float64) string {
	v = math.Round(v)
	return FormatNumber(v, len(strconv.FormatFloat(math.Abs(v), 'f', 0, 64)))
}
