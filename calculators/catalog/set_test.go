package catalog_test

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
)

// each runs a test for every calculator of the set.
func each(t *testing.T, test func(t *testing.T, c calculators.Calculator)) {
	t.Helper()
	all := pondtest.All(t).All()
	if len(all) == 0 {
		t.Fatal("the set is empty")
	}
	for _, c := range all {
		t.Run(c.ID, func(t *testing.T) { test(t, c) })
	}
}

// calls returns everything a calculator itself shows to have an answer: its
// example, the cells of its lookup table and the ends of its chart.
func calls(c calculators.Calculator) []calculators.Call {
	all := []calculators.Call{{Name: "example", Args: c.Example.Given}}
	return append(append(all, c.Lookup.Cells()...), c.Chart.Ends()...)
}

func TestDeclarationsAreComplete(t *testing.T) {
	for _, fault := range pondtest.All(t).Validate() {
		t.Error(fault)
	}
}

func TestPartsAreFoldersOfTheHandbook(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		if info, err := os.Stat("../../content/" + c.Part); err != nil || !info.IsDir() {
			t.Errorf("the part %q is no folder of content/", c.Part)
		}
	})
}

// A range of more than tenfold helps nobody who is not told what to measure. From
// nothing on, no range is so many times as much.
func TestWideAnswersSayWhatToMeasure(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, call := range calls(c) {
			_, r, err := c.Evaluate(call.Args)
			if err != nil || len(r.Values) == 0 {
				continue // told elsewhere
			}
			if answer := r.Values[0]; answer.Low > 0 && answer.High > 10*answer.Low && !strings.Contains(strings.Join(append(r.Flags, r.Advice...), " "), "narrow") {
				t.Errorf("%s: %s is %v to %v, and nothing says what would narrow it", call.Name, answer.Output, answer.Low, answer.High)
			}
		}
	})
}

func TestAnswersAreSound(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, call := range calls(c) {
			_, r, err := c.Evaluate(call.Args)
			if err != nil {
				t.Errorf("%s: %v", call.Name, err)
				continue
			}
			if len(r.Values) == 0 {
				t.Errorf("%s: has no answer", call.Name)
			} else if first := firstOf(c.Outputs, r.Values); r.Values[0].Output != first {
				t.Errorf("%s: the answer is %q, and %q is declared before it", call.Name, r.Values[0].Output, first)
			}
			checkValues(t, c, call.Name, r)
			checkScale(t, call.Name, r)
		}
	})
}

// firstOf is the first output that a result has a value of: its answer. Which one that
// is may follow what was asked for.
func firstOf(outputs []calculators.Output, values []calculators.Value) string {
	for _, o := range outputs {
		if slices.ContainsFunc(values, func(v calculators.Value) bool { return v.Output == o.Name }) {
			return o.Name
		}
	}
	return ""
}

func checkValues(t *testing.T, c calculators.Calculator, name string, r calculators.Result) {
	t.Helper()
	seen := map[string]bool{}
	for _, v := range r.Values {
		if _, ok := c.Output(v.Output); !ok || seen[v.Output] {
			t.Errorf("%s: the value %q is not declared or stands twice", name, v.Output)
		}
		seen[v.Output] = true
		if !inOrder(v) {
			t.Errorf("%s: %s runs from %v over %v to %v", name, v.Output, v.Low, v.Likely, v.High)
		}
	}
	for _, s := range r.Working {
		if s.Label == "" || s.Text == "" {
			t.Errorf("%s: a step of the working is empty: %+v", name, s)
		}
	}
}

// inOrder reports whether a value lies in its own range, give or take the last
// bits of two ways to compute it.
func inOrder(v calculators.Value) bool {
	slack := 1e-9 * max(math.Abs(v.Low), math.Abs(v.High))
	return v.Low <= v.Likely+slack && v.Likely <= v.High+slack
}

func checkScale(t *testing.T, name string, r calculators.Result) {
	t.Helper()
	marks := r.Scale.Marks
	for i, m := range marks {
		if i > 0 && m.Value < marks[i-1].Value {
			t.Errorf("%s: the mark %q stands after a greater one", name, m.Label)
		}
		if r.Scale.Log && m.Value <= 0 {
			t.Errorf("%s: the mark %q has no place on a logarithmic line", name, m.Label)
		}
		if m.Label == "" || m.Basis == "published" && (m.Source == "" || m.Locator == "") {
			t.Errorf("%s: the mark at %v lacks its label, source or locator", name, m.Value)
		}
	}
}

// A calculator has no memory: asked again, it shows the same, to the last digit
// and word.
func TestSameInputsSameAnswer(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		first := make([]calculators.View, 0, 64)
		for _, call := range calls(c) {
			v, _ := c.Reckon(call.Args)
			first = append(first, v)
		}
		for i, call := range calls(c) {
			again, _ := c.Reckon(call.Args)
			if d := cmp.Diff(again, first[i]); d != "" {
				t.Errorf("%s: asked again (-) and first (+)\n%s", call.Name, d)
			}
		}
	})
}
