package formulas

import (
	"reflect"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// Term is what symbols of a formula stand for.
type Term struct {
	Symbols []string // as in calculators.Check; both ends of a range; none for a result that the formula prints no symbol for
	Word    string   // "length"; "" is a fault
	Unit    string   // as printed: "m³"; "" for a plain number
}

// Legend says what the symbols of a formula stand for, in the order of its
// declaration. A reaction has none. The error is one line.
func Legend(f calculators.Formula) ([]Term, error) {
	if f.Check.Kind == calculators.NoCheck || f.Check.Kind == calculators.IsReaction {
		return nil, nil
	}
	s, err := readSignature(f.Check.Symbols)
	if err != nil {
		return nil, err
	}
	statements, err := texeval.Parse(f.TeX, s.functions(f.Check.Compute)...)
	if err != nil {
		return nil, err
	}
	printed := map[string]bool{}
	for _, n := range statements {
		n.Symbols(printed)
	}
	lone := len(statements) == 1 && len(statements[0].Sides()) == 1
	var terms []Term
	for i, d := range append(append([]symbol{}, s.results...), s.arguments...) {
		if d.name == "-" {
			continue
		}
		t := Term{Symbols: []string{d.name}, Word: d.word, Unit: legendUnit(d.unit)}
		low, high := d.name+"_low", d.name+"_high"
		if i < len(s.results) && isRange(f.Check.Compute, i) && printed[low] && printed[high] {
			t.Symbols = []string{low, high}
		}
		if i == 0 && lone {
			t.Symbols = nil
		}
		if t.Word == "" {
			t.Word = shared(d.name, d.unit)
		}
		terms = append(terms, t)
	}
	return terms, nil
}

// functions names the results that are functions of one number.
func (s signature) functions(compute any) (names []string) {
	t := reflect.TypeOf(compute)
	if t == nil || t.Kind() != reflect.Func {
		return nil
	}
	for i := range min(t.NumOut(), len(s.results)) {
		if t.Out(i).Kind() == reflect.Func {
			names = append(names, s.results[i].name)
		}
	}
	return names
}

// isRange reports whether a result of a function has a low and a high end.
func isRange(compute any, i int) bool {
	t := reflect.TypeOf(compute)
	return t.Kind() == reflect.Func && i < t.NumOut() && t.Out(i).Kind() == reflect.Struct
}

// legendUnit is a unit as printed, also one of sourceUnits.
func legendUnit(code string) string {
	if code == "[in_i'Hg]" {
		return "inHg"
	}
	return quantity.Symbol(code)
}

// wordless names the symbols of a formula that have no word.
func wordless(f calculators.Formula) (names []string) {
	terms, err := Legend(f)
	if err != nil {
		return nil // problems says so
	}
	for _, t := range terms {
		switch {
		case t.Word != "":
		case t.Symbols == nil:
			names = append(names, "its result")
		default:
			names = append(names, t.Symbols[0])
		}
	}
	return names
}
