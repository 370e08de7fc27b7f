package tower_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/tower"
)

// printed returns an output as a sheet prints it, with its range.
func printed(c calculators.Calculator, v calculators.Value) string {
	o, _ := c.Output(v.Output)
	likely, low, high := calculators.ShowOutput(o, v.Likely), calculators.ShowOutput(o, v.Low), calculators.ShowOutput(o, v.High)
	if low == high {
		return likely
	}
	return likely + " (" + low + " to " + high + ")"
}

// says reports whether a calculator, asked anew, prints what a line does.
func says(c calculators.Calculator, args []calculators.Arg, l calculators.Line) (bool, error) {
	_, r, err := c.Evaluate(args)
	for _, v := range r.Values {
		if printed(c, v) == l.Text {
			return true, err
		}
	}
	return false, err
}

// Every line of any sheet is, digit for digit and with its range, what the
// calculator behind it says to the same question.
func TestEveryLineOfAnySheetIsItsCalculators(t *testing.T) {
	t.Parallel()
	all, lines := catalog.All(), 0
	rapid.Check(t, func(t *rapid.T) {
		given := pond(t)
		_, r, err := tower.Tower().Evaluate(given)
		if err != nil {
			return
		}
		for _, section := range r.Sheet {
			for _, l := range section.Lines {
				if l.By.Name == "" || l.By.Name == "drill-template" {
					continue
				}
				c, _ := all.Find(l.By.Name)
				if ok, err := says(c, l.By.Args, l); !ok {
					t.Fatalf("%v: %s: the sheet says %s, and %s does not: %v", given, l.Label, l.Text, c.ID, err)
				}
				lines++
			}
		}
	})
	if lines == 0 {
		t.Error("no lines were asked")
	}
}

// A reader who follows a sheet to another calculator, which fills in what is known
// of the pond, finds there what the sheet says: for each calculator that the sheet
// asks once, in all the ponds of the handbook.
func TestThePadSaysWhatTheSheetSays(t *testing.T) {
	all := pondtest.All(t)
	c, _ := all.Find("tower")
	for _, ready := range c.Ready {
		_, r, err := c.Evaluate(ready.Given)
		if err != nil {
			t.Fatal(err)
		}
		found := pondtest.Known(t, ready.Pond).Found
		first := map[string]string{} // the question that the pad is filled in for, by calculator
		for _, section := range r.Sheet {
			for _, l := range section.Lines {
				if l.By.Name == "" || l.By.Name == "drill-template" {
					continue
				}
				question := asText(l.By.Args)
				if first[l.By.Name] == "" {
					first[l.By.Name] = question
				}
				if first[l.By.Name] != question {
					continue
				}
				by, _ := all.Find(l.By.Name)
				// What follows from the record, in the place of what the sheet asked.
				args := l.By.Args
				for _, a := range found.Args(by) {
					args = calculators.With(args, a)
				}
				if ok, err := says(by, by.Over(nil, args), l); !ok {
					t.Errorf("%s: %s: the sheet says %s, and %s does not: %v\nasked %s\nfound %s", ready.Pond, l.Label, l.Text, by.ID, err, question, asText(args))
				}
			}
		}
	}
}

func asText(args []calculators.Arg) string {
	var b strings.Builder
	for _, a := range args {
		b.WriteString(a.Name + "=" + a.Value + " ")
	}
	return b.String()
}
