package formulas

import (
	"fmt"
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// Report counts the formulas of the calculators, each once however many of them
// show it.
type Report struct {
	Explicit, Implicit, Differential, Reactions int
	Constants                                   int // explicit ones without arguments
	Unchecked                                   int
}

// Check compares every formula of the calculators with its function.
func Check(set calculators.Set) (Report, diag.List) {
	var r Report
	var faults diag.List
	seen := map[string]bool{}
	for _, c := range set.All() {
		for _, f := range c.Formulas {
			key := f.TeX + "\x00" + f.Check.Pos
			if seen[key] {
				continue
			}
			seen[key] = true
			r.count(f.Check)
			for _, problem := range problems(f) {
				faults.Add(diag.Diagnostic{
					Position: position(c, f), Problem: "the formula " + f.Name + " " + problem,
					Want: "TeX that its Go function computes", Remedy: "correct the TeX, its symbols or the function",
				})
			}
			for _, name := range wordless(f) {
				faults.Add(diag.Diagnostic{
					Position: position(c, f), Problem: "the formula " + f.Name + " says in no word what " + name + " stands for",
					Want: "a word for each symbol", Remedy: "write it behind the symbol's unit, as in \"l [m] length 1..30\"",
				})
			}
		}
	}
	return r, faults
}

// count adds a formula to those of its kind.
func (r *Report) count(c calculators.Check) {
	switch {
	case c.Kind == calculators.NoCheck:
		r.Unchecked++
	case c.Kind == calculators.IsReaction:
		r.Reactions++
	case c.Kind == calculators.IsRates:
		r.Differential++
	case c.Kind == calculators.IsImplicit:
		r.Implicit++
	case !strings.Contains(c.Symbols, ": "):
		r.Constants++
	default:
		r.Explicit++
	}
}

// position is where the check is declared; without one, the calculators.
func position(c calculators.Calculator, f calculators.Formula) diag.Position {
	i := strings.LastIndex(f.Check.Pos, "calculators/")
	file, line, found := strings.Cut(f.Check.Pos[max(i, 0):], ":")
	if !found {
		return diag.Position{File: "calculators/" + strings.Split(f.Function, ".")[0]}
	}
	n, _ := strconv.Atoi(line)
	return diag.Position{File: file, Line: n}
}

// problems returns what is wrong with a formula; one is enough of each kind.
func problems(f calculators.Formula) []string {
	switch f.Check.Kind {
	case calculators.NoCheck:
		return []string{"says of no symbol which argument it is: give it a Check"}
	case calculators.IsReaction:
		if err := texeval.Balance(f.TeX); err != nil {
			return []string{"does not balance: " + err.Error()}
		}
		return nil
	}
	s, err := readSignature(f.Check.Symbols)
	if err != nil {
		return []string{"has symbols that cannot be read: " + err.Error()}
	}
	if fault := s.shapeFault(f.Check.Compute); fault != "" {
		return []string{fault}
	}
	if name := directName(f.Check.Compute); name != "" && name != f.Function {
		return []string{"names " + f.Function + " and is compared with " + name}
	}
	return s.compare(f)
}

// compare evaluates a formula at every point.
func (s signature) compare(f calculators.Formula) []string {
	var statements []*texeval.Node
	for _, shares := range points(len(s.arguments)) {
		o, err := s.run(f.Check.Compute, shares)
		if err != nil {
			return []string{err.Error() + at(o)}
		}
		if statements == nil {
			var functions []string
			for name := range o.env.Funcs {
				functions = append(functions, name)
			}
			if statements, err = texeval.Parse(f.TeX, functions...); err != nil {
				return []string{"cannot be evaluated: " + err.Error()}
			}
			if fault := s.coverage(f, o, statements); fault != "" {
				return []string{fault}
			}
		}
		o.env.Rounded = f.Check.Rounded
		o.define(statements)
		for _, n := range statements {
			if fault := o.statement(n, s.results[0].name, slack(f.Check.Kind)); fault != "" {
				return []string{fault + at(o)}
			}
		}
	}
	return nil
}

func at(o outcome) string {
	if o.place == "" {
		return ""
	}
	return ", at " + o.place
}

// slack is the relative difference that is none. An equation is solved to less
// digits than a formula is computed to.
func slack(k calculators.CheckKind) float64 {
	if k == calculators.IsImplicit {
		return 1e-10
	}
	return 1e-12
}

// coverage says what is declared and not printed, or the other way round.
func (s signature) coverage(f calculators.Formula, o outcome, statements []*texeval.Node) string {
	printed := map[string]bool{}
	for _, n := range statements {
		n.Symbols(printed)
	}
	all := append(append([]symbol{}, s.results...), s.arguments...)
	lone := len(statements) == 1 && len(statements[0].Sides()) == 1
	for i, d := range all {
		_, isRange := o.ranges[d.name]
		switch {
		case d.name == "-", printed[d.name], printed[base(d.name)] && o.env.Lists[base(d.name)] != nil:
		case isRange && (printed[d.name+"_low"] || printed[d.name+"_high"]):
		case i == 0 && (lone || o.truth != nil):
		default:
			return "declares the symbol " + d.name + ", which its TeX does not print"
		}
	}
	if lone || f.Check.Kind == calculators.IsImplicit || o.truth != nil {
		return ""
	}
	for _, n := range statements {
		for _, side := range n.Sides() {
			name := side.Symbol()
			for _, d := range all {
				if name != "" && (name == d.name || name == d.name+"_low" || name == d.name+"_high") {
					if text := side.Unit(); text != "" {
						return "prints a unit behind a symbol"
					}
					return s.unitFault(n, d)
				}
			}
		}
	}
	return "has no symbol of its function alone on a side: it is implicit"
}

// unitFault says whether the unit printed behind the other side is not the one
// declared.
func (s signature) unitFault(n *texeval.Node, d symbol) string {
	for _, side := range n.Sides() {
		if text := side.Unit(); text != "" && text != printedUnit(d.unit) {
			return fmt.Sprintf("prints %s in %s and declares it in %s", d.name, text, printedUnit(d.unit))
		}
	}
	return ""
}
