package verify

import (
	"fmt"
	"slices"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// sheetFaults holds what calculators tell their readers to do to the acts: each
// step of the build sheets that the handbook shows opens with a listed verb, whose
// hazards stand above the steps; and the calculator declares those of its steps and
// of its advice. Advice that opens with no listed verb says no act.
func sheetFaults(b *book.Book) diag.List {
	if len(b.Config.Acts) == 0 {
		return nil
	}
	return b.Keep("sheets", func() any {
		var faults diag.List
		for _, c := range b.Calculators.All() {
			s := sheetCheck{book: b, calculator: c, faults: &faults}
			for _, shown := range append([]calculators.Scenario{{Example: c.Example}}, c.Ready...) {
				if v, err := c.Reckon(shown.Given); err == nil { // the declarations' check says why not
					s.view(v)
				}
			}
			for _, cell := range c.Lookup.Cells() {
				if v, err := c.Reckon(cell.Args); err == nil {
					s.view(v)
				}
			}
		}
		return faults.Sorted() // the same step stands in many sheets
	}).(diag.List)
}

// sheetCheck looks at the answers of one calculator.
type sheetCheck struct {
	book       *book.Book
	calculator calculators.Calculator
	faults     *diag.List
}

func (s sheetCheck) fault(problem, want, remedy string) {
	s.faults.Add(diag.Diagnostic{Position: declared(s.book.Root(), s.calculator.ID), Problem: s.calculator.ID + ": " + problem, Want: want, Remedy: remedy})
}

func (s sheetCheck) view(v calculators.View) {
	for _, section := range v.Sheet {
		for _, step := range section.Steps {
			act, ok := s.book.Config.Act(step)
			if !ok {
				s.fault("a step of \""+section.Title+"\" opens with "+quotedStart(step)+", which is no act of "+book.ConfigFile, "a verb that a [[act]] lists", "begin with the verb, or list it with its hazards")
			}
			s.among(act, section.Hazards.List(), "the section \""+section.Title+"\"")
		}
		s.among(book.Act{Verb: section.Title, Hazards: names(section.Hazards.List())}, s.calculator.Hazards, "the declaration")
	}
	for _, advice := range v.Advice {
		act, _ := s.book.Config.Act(advice)
		s.among(act, s.calculator.Hazards, "the declaration")
	}
}

// among looks for the hazards of an act among those that something has.
func (s sheetCheck) among(act book.Act, has []calculators.Hazard, where string) {
	for _, h := range act.Hazards {
		if !slices.Contains(has, calculators.Hazard(h)) {
			s.fault(fmt.Sprintf("the act %q has the hazard %s, which %s leaves out", act.Verb, h, where), "its caution with the answer", "add it to the Hazards there")
		}
	}
}

func names(hazards []calculators.Hazard) []string {
	all := make([]string, len(hazards))
	for i, h := range hazards {
		all[i] = string(h)
	}
	return all
}
