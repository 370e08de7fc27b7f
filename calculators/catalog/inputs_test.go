package catalog_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// place is where an input is written: by itself, or as a column of a list.
type place struct {
	input calculators.Input
	name  string                              // as errors name it: "koi row 1, length"
	args  func(text string) []calculators.Arg // one call with that text, and what makes the input apply
}

// places returns every input of a calculator that holds one quantity or choice.
func places(c calculators.Calculator) []place {
	var all []place
	for _, d := range c.Inputs {
		deciding := deciders(c, d)
		if d.Type != calculators.Rows {
			all = append(all, place{d, d.Name, func(text string) []calculators.Arg {
				return append(deciding[:len(deciding):len(deciding)], calculators.Arg{Name: d.Name, Value: text})
			}})
			continue
		}
		for i, column := range d.Columns {
			before := strings.Repeat(", ", i)
			all = append(all, place{column, d.Name + " row 1, " + column.Name, func(text string) []calculators.Arg {
				return append(deciding[:len(deciding):len(deciding)], calculators.Arg{Name: d.Name, Value: before + text})
			}})
		}
	}
	return all
}

// deciders returns the choices under which an input applies.
func deciders(c calculators.Calculator, d calculators.Input) []calculators.Arg {
	if d.When.Input == "" {
		return nil
	}
	decider, _ := c.Input(d.When.Input)
	return append(deciders(c, decider), calculators.Arg{Name: d.When.Input, Value: d.When.Is[0]})
}

// refusal returns the error that names the input, if there is one. Others, such
// as further inputs missing, do not matter here.
func (p place) refusal(c calculators.Calculator, args []calculators.Arg) (calculators.InputError, bool) {
	_, _, err := c.Evaluate(args)
	errs, _ := err.(calculators.InputErrors)
	for _, e := range errs {
		if e.Input == p.name {
			return e, true
		}
	}
	return calculators.InputError{}, false
}

func eachPlace(t *testing.T, test func(t *testing.T, c calculators.Calculator, p place)) {
	t.Helper()
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, p := range places(c) {
			test(t, c, p)
		}
	})
}

func written(v float64, code string) string {
	if code == "1" {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " " + code
}

func TestRangesHoldAtTheirEnds(t *testing.T) {
	eachPlace(t, func(t *testing.T, c calculators.Calculator, p place) {
		d := p.input
		if d.Type != calculators.Single {
			return
		}
		beyond := 1e-6 * (d.Accept.High - d.Accept.Low)
		if d.Kind == quantity.Count {
			beyond = 1
		}
		for v, accepted := range map[float64]bool{d.Accept.Low: true, d.Accept.High: true, d.Accept.Low - beyond: false, d.Accept.High + beyond: false} {
			e, refused := p.refusal(c, p.args(written(v, d.UnitCode())))
			outOfRange := refused && strings.HasPrefix(e.Problem, "is ") && e.Accept == d.AcceptText()
			if outOfRange == accepted {
				t.Errorf("%s = %s: accepted %v, want %v (%v)", p.name, written(v, d.UnitCode()), !outOfRange, accepted, e)
			}
		}
	})
}

// Whatever is wrong with an input, the refusal names it and what is accepted.
func TestBadInputsAreNamed(t *testing.T) {
	eachPlace(t, func(t *testing.T, c calculators.Calculator, p place) {
		bad := []string{"a lot", "NaN", "Inf", "-Inf", "1,50,5", "\x00", "5 furlongs"}
		if d := p.input; d.Type == calculators.Single {
			bad = append(bad, written(1e300, d.UnitCode()), written(-1e300, d.UnitCode()))
			if d.Accept.Low >= 0 {
				bad = append(bad, written(-1-d.Accept.High, d.UnitCode()))
			}
			switch d.Kind {
			case quantity.Volume:
				bad = append(bad, "5 gal")
			case quantity.Flow:
				bad = append(bad, "500 gal/h", "500 gph")
			}
		}
		for _, text := range bad {
			e, refused := p.refusal(c, p.args(text))
			if !refused || e.Accept == "" || !strings.Contains(e.Accept, p.input.AcceptText()) {
				t.Errorf("%s = %q: %v", p.name, text, e)
			}
			if s := e.Error(); strings.ContainsAny(s, "\n\x00") || len(s) > 500 {
				t.Errorf("%s = %q: %q is not one short line", p.name, text, s)
			}
			if strings.Contains(text, "gal") && !strings.Contains(e.Problem, "which gallon") {
				t.Errorf("%s = %q: %v", p.name, text, e)
			}
		}
	})
}

func TestMissingAndUnknownInputsAreNamed(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, d := range c.Inputs {
			if d.Default != "" || d.Optional {
				continue
			}
			p := place{input: d, name: d.Name}
			if e, refused := p.refusal(c, deciders(c, d)); !refused || e.Problem != "is missing" || e.Accept != d.AcceptText() {
				t.Errorf("without %s: %v", d.Name, e)
			}
		}
		p := place{name: "colour-of-the-sky"}
		if e, refused := p.refusal(c, []calculators.Arg{{Name: p.name, Value: "blue"}}); !refused || !strings.Contains(e.Accept, c.Inputs[0].Name) {
			t.Errorf("an unknown input: %v", e)
		}
	})
}

// A default is a suggestion within the range, and a stated range lies in it.
func TestDefaultsAreAccepted(t *testing.T) {
	eachPlace(t, func(t *testing.T, c calculators.Calculator, p place) {
		if p.input.Default == "" {
			return
		}
		if e, refused := p.refusal(c, p.args(p.input.Default)); refused && e.Accept == p.input.AcceptText() {
			t.Errorf("%s: %v", p.name, e)
		}
		if math.IsNaN(p.input.Accept.Low + p.input.Accept.High) {
			t.Errorf("%s: a range of no numbers", p.name)
		}
	})
}
