package catalog_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
	"pgregory.net/rapid"
)

// likely draws a text for an input that is mostly acceptable, at times absurd.
func likely(t *rapid.T, d calculators.Input) string {
	if rapid.IntRange(0, 19).Draw(t, "odd") == 0 {
		return rapid.SampledFrom([]string{"", "x", "NaN", "-5", "1e300", "1,5", "gal", ";", ", ,", "0"}).Draw(t, "text")
	}
	switch d.Type {
	case calculators.Choice:
		return d.Options[rapid.IntRange(0, len(d.Options)-1).Draw(t, "option")].Name
	case calculators.Rows:
		rows := make([]string, rapid.IntRange(1, 5).Draw(t, "rows"))
		for i := range rows {
			cells := make([]string, len(d.Columns))
			for j, c := range d.Columns {
				cells[j] = likely(t, c)
			}
			rows[i] = strings.Join(cells, ", ")
		}
		return strings.Join(rows, "; ")
	}
	// Near the low end more often than not: what people write is small beside
	// what is accepted.
	share := rapid.Float64Range(0, 1).Draw(t, "share")
	if rapid.Bool().Draw(t, "small") {
		share = share * share * share
	}
	v := d.Accept.Low + share*(d.Accept.High-d.Accept.Low)
	if rapid.Bool().Draw(t, "whole") {
		v = float64(int64(v))
	}
	return written(v, d.UnitCode())
}

// Whatever combination of inputs comes, there is an answer with a sound range
// or a refusal in single lines: never a panic, never a number that is none.
func TestAnyInputsGiveAnAnswerOrARefusal(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		rapid.Check(t, func(t *rapid.T) { answersOrRefuses(t, c, anyArgs(t, c)) })
	})
}

// FuzzCalculators looks for such combinations by coverage. To fuzz one calculator
// only, name it in MERELEAF_FUZZ.
func FuzzCalculators(f *testing.F) {
	all := pondtest.All(f).All()
	if only := os.Getenv("MERELEAF_FUZZ"); only != "" {
		c, ok := pondtest.All(f).Find(only)
		if !ok {
			f.Fatalf("no calculator %s", only)
		}
		all = []calculators.Calculator{c}
	}
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		c := all[rapid.IntRange(0, len(all)-1).Draw(t, "calculator")]
		answersOrRefuses(t, c, anyArgs(t, c))
	}))
}

// FuzzTexts gives every calculator a text for any of its inputs.
func FuzzTexts(f *testing.F) {
	all := pondtest.All(f).All()
	for i, c := range all {
		for j, d := range c.Inputs {
			f.Add(i, j, d.Default)
		}
		for _, a := range c.Example.Given {
			f.Add(i, slices.IndexFunc(c.Inputs, func(d calculators.Input) bool { return d.Name == a.Name }), a.Value)
		}
	}
	f.Fuzz(func(t *testing.T, i, j int, text string) {
		if i < 0 || i >= len(all) || j < 0 || j >= len(all[i].Inputs) {
			t.Skip("no such input")
		}
		answersOrRefuses(t, all[i], calculators.With(all[i].Example.Given, calculators.Arg{Name: all[i].Inputs[j].Name, Value: text}))
	})
}

// tester is what a test and a draw of a property have in common.
type tester interface {
	Helper()
	Fatalf(string, ...any)
}

func answersOrRefuses(t tester, c calculators.Calculator, args []calculators.Arg) {
	t.Helper()
	v, err := c.Reckon(args)
	if err != nil {
		for _, e := range err.(calculators.InputErrors) {
			if gap := openGap(e.Problem, e.Accept, e.Remedy); gap != "" && !typedBraces(args) {
				t.Fatalf("%s %v: a gap is open in %q", c.ID, args, gap)
			}
			if strings.ContainsAny(e.Error(), "\n\r") || !utf8.ValidString(e.Error()) || e.Problem == "" {
				t.Fatalf("%s %v: %q is not one line", c.ID, args, e.Error())
			}
		}
		return
	}
	said := append(append([]string{}, v.Advice...), v.Flags...)
	for _, step := range v.Working {
		said = append(said, step.Label, step.Text)
	}
	for _, m := range v.Scale.Marks {
		said = append(said, m.Label)
	}
	for _, part := range v.Sheet {
		said = append(append(append(said, part.Title), part.Says...), part.Steps...)
	}
	if gap := openGap(said...); gap != "" && !typedBraces(args) {
		t.Fatalf("%s %v: a gap is open in %q", c.ID, args, gap)
	}
	_, r, _ := c.Evaluate(args)
	for _, value := range r.Values {
		if !inOrder(value) {
			t.Fatalf("%s %v: %s runs from %v over %v to %v", c.ID, args, value.Output, value.Low, value.Likely, value.High)
		}
	}
	if v.Scale.At < 0 || v.Scale.At > 1 || v.Scale.Low > v.Scale.High+1e-9 {
		t.Fatalf("%s %v: the answer stands off the scale: %+v", c.ID, args, v.Scale)
	}
}

// openGap returns the first text in which a gap was not filled.
func openGap(texts ...string) string {
	for _, text := range texts {
		if strings.ContainsAny(text, "{}") {
			return text
		}
	}
	return ""
}

// typedBraces reports whether the reader's own words have braces in them.
func typedBraces(args []calculators.Arg) bool {
	return slices.ContainsFunc(args, func(a calculators.Arg) bool { return strings.ContainsAny(a.Name+a.Value, "{}") })
}

// What a page shows without an answer has no open gap either. Stories and captions
// have theirs filled from the ponds of the book.
func TestDeclarationsHaveNoOpenGap(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		texts := append([]string{c.Title, c.Question}, c.Cautions...)
		for _, d := range c.Inputs {
			texts = append(texts, d.Label, d.Help)
			for _, o := range d.Options {
				texts = append(texts, o.Label)
			}
		}
		for _, o := range c.Outputs {
			texts = append(texts, o.Label, o.Help)
		}
		if gap := openGap(texts...); gap != "" {
			t.Errorf("a gap is open in %q", gap)
		}
	})
}

// anyArgs draws arguments for the inputs that apply, some left out.
func anyArgs(t *rapid.T, c calculators.Calculator) []calculators.Arg {
	choices := map[string]string{}
	var args []calculators.Arg
	for _, d := range c.Inputs {
		if d.When.Input != "" && !slices.Contains(d.When.Is, choices[d.When.Input]) {
			continue
		}
		if (d.Default != "" || d.Optional) && rapid.Bool().Draw(t, "leave out") {
			choices[d.Name] = d.Default
			continue
		}
		choices[d.Name] = likely(t, d)
		args = append(args, calculators.Arg{Name: d.Name, Value: choices[d.Name]})
	}
	return args
}
