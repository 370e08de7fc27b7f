package formulas

import (
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/diag"
)

func TestTheCalculatorsFormulasAreWhatRuns(t *testing.T) {
	r, faults := Check(catalog.All())
	for _, f := range faults {
		t.Error(f)
	}
	if r.Unchecked > 0 || r.Explicit < 100 {
		t.Errorf("%+v", r)
	}
}

// eachFormula calls a test for every formula of the calculators, each once.
func eachFormula(test func(calculators.Formula)) {
	seen := map[string]bool{}
	for _, c := range catalog.All().All() {
		for _, f := range c.Formulas {
			if key := f.TeX + f.Check.Pos; !seen[key] {
				seen[key] = true
				test(f)
			}
		}
	}
}

// TestAnyChangedDigitOfAFormulaIsFound changes every digit of every formula, one
// at a time. It catches, among others: -139.34411 of Benson and Krause as
// -193.34411, 2729.92 of Emerson as 2792.92, 0.0857 of a ration as 0.0875.
func TestAnyChangedDigitOfAFormulaIsFound(t *testing.T) {
	changed := 0
	eachFormula(func(f calculators.Formula) {
		tex := f.TeX
		for i := range tex {
			if tex[i] < '0' || tex[i] > '9' {
				continue
			}
			changed++
			f.TeX = tex[:i] + string('0'+(tex[i]-'0'+1)%10) + tex[i+1:]
			if len(problems(f)) == 0 {
				t.Errorf("%s: %s may stand for %s", f.Name, f.TeX, tex)
			}
		}
	})
	if changed < 1500 {
		t.Errorf("only %d digits were changed", changed)
	}
}

// TestAnyChangedSignOfAFormulaIsFound turns every + into - and back, and every
// relation round.
func TestAnyChangedSignOfAFormulaIsFound(t *testing.T) {
	other := strings.NewReplacer("+", "-", "-", "+", `\le `, `\ge `, `\ge `, `\le `, "<", ">", ">", "<")
	eachFormula(func(f calculators.Formula) {
		tex := f.TeX
		for i := range tex {
			for _, sign := range []string{"+", "-", `\le `, `\ge `, "<", ">"} {
				if !strings.HasPrefix(tex[i:], sign) {
					continue
				}
				f.TeX = tex[:i] + other.Replace(sign) + tex[i+len(sign):]
				if len(problems(f)) == 0 {
					t.Errorf("%s: %s may stand for %s", f.Name, f.TeX, tex)
				}
			}
		}
	})
}

func toy(tex string, check calculators.Check) calculators.Formula {
	return calculators.Formula{Name: "Toy", TeX: tex, Function: "formulas.Toy", Check: check}
}

// Toy is what the toy formulas are compared with.
func Toy(a, b float64) float64 { return 2*a - b }

func TestProblems(t *testing.T) {
	const symbols = "y [m]: a [m] 1..2, b [m] 0..1"
	band := func(a float64) struct{ Low, Likely, High float64 } {
		return struct{ Low, Likely, High float64 }{a, 2 * a, 3 * a}
	}
	for _, c := range []struct {
		name string
		f    calculators.Formula
		want string
	}{
		{"right", toy(`y = 2a - b`, calculators.Explicit(symbols, Toy)), ""},
		{"without a check", toy(`y = 2a - b`, calculators.Check{}), "says of no symbol"},
		{"another constant", toy(`y = 3a - b`, calculators.Explicit(symbols, Toy)), "gives 3 where its function gives 2 for y, at a = 1, b = 0"},
		{"another function", calculators.Formula{TeX: "y = 2a - b", Function: "formulas.Other", Check: calculators.Explicit(symbols, Toy)}, "names formulas.Other and is compared with formulas.Toy"},
		{"symbol without meaning", toy(`y = 2a - b + c`, calculators.Explicit(symbols, Toy)), "nothing says what c stands for"},
		{"symbol not printed", toy(`y = 2a`, calculators.Explicit(symbols, Toy)), "declares the symbol b"},
		{"unit unknown", toy(`y = 2a - b`, calculators.Explicit("y [m]: a [furlong] 1..2, b [m] 0..1", Toy)), "the symbol a has no unit"},
		{"no range", toy(`y = 2a - b`, calculators.Explicit("y [m]: a [m], b [m] 0..1", Toy)), "a runs through"},
		{"too few arguments", toy(`y = 2a - b`, calculators.Explicit("y [m]: a [m] 1..2", Toy)), "has 1 arguments and 1 results"},
		{"unit printed wrong", toy(`y = (2a - b)\ \mathrm{kg}`, calculators.Explicit(symbols, Toy)), "prints y in kg and declares it in m"},
		{"no TeX", toy(`y = \foo`, calculators.Explicit(symbols, Toy)), "cannot be evaluated"},
		{"implicit said to be explicit", toy(`\ln y = \ln(2a - b)`, calculators.Explicit(symbols, Toy)), "alone on a side"},
		{"implicit", toy(`\ln y = \ln(2a - b)`, calculators.Implicit(symbols, Toy)), ""},
		{"implicit, wrong", toy(`\ln y = \ln(2a - b) + 1`, calculators.Implicit(symbols, Toy)), "where its function gives"},
		{"no answer at an end", toy(`y = \sqrt{a}`, calculators.Explicit("y [m]: a [m] 0..1", func(a float64) float64 { return 1 / a * a * a })), "the function finds no y, at a = 0"},
		{"defined by the TeX", toy(`y = c - b,\quad c = 2a`, calculators.Explicit(symbols, Toy)), ""},
		{"range", toy(`a \le y \le 3a`, calculators.Explicit("y [m]: a [m] 1..2", band)), ""},
		{"range, wrong end", toy(`a \le y \le 4a`, calculators.Explicit("y [m]: a [m] 1..2", band)), "for y, high"},
		{"condition", toy(`1 \le a < 2`, calculators.Explicit("-: a [m] 0.5|1|1.5|2|3", func(a float64) bool { return a >= 1 && a < 2 })), ""},
		{"condition, wrong end", toy(`1 \le a \le 2`, calculators.Explicit("-: a [m] 0.5|1|1.5|2|3", func(a float64) bool { return a >= 1 && a < 2 })), "holds: true, and by its function: false, at a = 2"},
		{"reaction", toy(`\mathrm{H_2} \to \mathrm{H_2}`, calculators.Reaction()), ""},
		{"reaction, wrong", toy(`\mathrm{H_2} \to \mathrm{H_3}`, calculators.Reaction()), "does not balance: 2 H on the left and 3 on the right"},
	} {
		got := strings.Join(problems(c.f), "; ")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A fault has the place of the declaration.
func TestPlaceOfAFault(t *testing.T) {
	f := toy(`y = 3a - b`, calculators.Explicit("y [m] height: a [m] length 1..2, b [m] depth 0..1", Toy))
	set := calculators.NewSet(calculators.Calculator{ID: "toy", Formulas: []calculators.Formula{f, f}})
	r, faults := Check(set)
	if len(faults) != 1 || faults[0].Line == 0 || !strings.Contains(f.Check.Pos, "formulas_test.go:") || r.Explicit != 1 {
		t.Errorf("%v, %+v", faults, r)
	}
	eachFormula(func(f calculators.Formula) {
		if p := position(calculators.Calculator{}, f); !strings.HasPrefix(p.File, "calculators/") || !strings.HasSuffix(p.File, ".go") || p.Line == 0 {
			t.Errorf("%s stands at %v", f.Name, p)
		}
	})
}

// A chapter prints what a calculator computes. It catches a swapped digit in the
// mathematics of a chapter, and an equation that nothing computes.
func TestCheckBlocks(t *testing.T) {
	at := diag.Position{File: "content/a.md", Line: 3, Column: 1}
	set := calculators.NewSet(calculators.Calculator{Formulas: []calculators.Formula{{TeX: `f = \frac{1}{1 + 10^{p - 8}}`}, {TeX: `p = 0.09 + \frac{2729.92}{t + 273.15}`}}})
	for _, c := range []struct{ tex, want string }{
		{`f=\frac{1}{1+10^{\,p-8}}, \qquad p = 0.09 + \frac{2729.92}{t+273.15}`, ""},
		{`f = \frac{1}{1 + 10^{p - 8}}`, ""},
		{`p = 0.09 + \frac{2792.92}{t + 273.15}`, `content/a.md:3:1: no calculator prints the equation for p; expected equations as a calculator prints them, which are compared with what runs; print it as its calculator does: p = 0.09 + \frac{2729.92}{t + 273.15}`},
		{`q = 2`, "declare it as a formula"},
		{`q = \frac{`, "cannot be evaluated"},
	} {
		got := CheckBlocks(set, []Block{{c.tex, at}})
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || !strings.Contains(got.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.tex, got, c.want)
		}
	}
}
