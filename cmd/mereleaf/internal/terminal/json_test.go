package terminal

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
)

// TestJSONHoldsTheView walks all calculators: what a page shows of each output,
// step and assumption stands in the JSON, under the promised names.
// TestJSONHoldsTheSheet reads a build sheet and a template as another program
// would.
func TestJSONHoldsTheSheet(t *testing.T) {
	for _, id := range []string{"tower", "drill-template"} {
		c, _ := pondtest.All(t).Find(id)
		v, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		text, err := JSON(c, v, told())
		if err != nil {
			t.Fatal(err)
		}
		var made struct {
			Unfit *bool
			Sheet []struct {
				Title, Drawing            string
				Says, Head, Steps, Prints []string
				Hazards                   []string
				Rows                      [][]string
				Lines                     []struct {
					Label, Text, Calculator string
					Given                   []struct{ Name, Value string }
				}
			}
		}
		if err := json.Unmarshal(text, &made); err != nil {
			t.Fatal(err)
		}
		if made.Unfit == nil || len(made.Sheet) != len(v.Sheet) {
			t.Fatalf("%s: unfit %v, %d sections of %d", id, made.Unfit, len(made.Sheet), len(v.Sheet))
		}
		for i, want := range v.Sheet {
			var got calculators.Section
			s := made.Sheet[i]
			got.Hazards, got.Title, got.Drawing, got.Says, got.Head, got.Steps, got.Prints, got.Rows = calculators.Hazards(strings.Join(s.Hazards, ", ")), s.Title, s.Drawing, s.Says, s.Head, s.Steps, s.Prints, s.Rows
			for _, l := range s.Lines {
				by := calculators.Call{Name: l.Calculator}
				for _, a := range l.Given {
					by.Args = append(by.Args, calculators.Arg{Name: a.Name, Value: a.Value})
				}
				got.Lines = append(got.Lines, calculators.Line{Label: l.Label, Text: l.Text, By: by})
			}
			if diff := cmp.Diff(want, got, cmpopts.EquateEmpty(), cmp.Comparer(func(a, b string) bool { return plain(a) == plain(b) })); diff != "" {
				t.Errorf("%s: the sheet and its JSON differ: %s", id, diff)
			}
		}
	}
}

func TestJSONHoldsTheView(t *testing.T) {
	type labelled struct{ Name, Label, Text, Low, High string }
	for _, c := range pondtest.All(t).All() {
		v, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		text, err := JSON(c, v, told())
		if err != nil {
			t.Fatal(err)
		}
		var made struct {
			ID                       string
			Values, Working, Assumed []labelled
			Flags, Advice, Cautions  []string
		}
		if err := json.Unmarshal(text, &made); err != nil {
			t.Fatal(err)
		}
		var want, got []labelled
		for _, s := range v.Values {
			want = append(want, labelled{s.Name, plain(s.Label), plain(s.Text), plain(s.Low), plain(s.High)})
		}
		for _, s := range v.Working {
			want = append(want, labelled{Label: plain(s.Label), Text: plain(s.Text)})
		}
		for _, s := range v.Assumed {
			want = append(want, labelled{Name: s.Name, Label: plain(s.Label), Text: plain(s.Text)})
		}
		for _, s := range slices.Concat([]string{c.ID}, v.Flags, v.Advice, told().all(c)) {
			want = append(want, labelled{Text: plain(s)})
		}
		got = append(append(append(got, made.Values...), made.Working...), made.Assumed...)
		for _, s := range slices.Concat([]string{made.ID}, made.Flags, made.Advice, made.Cautions) {
			got = append(got, labelled{Text: s})
		}
		if len(got) != len(want) {
			t.Fatalf("%s: the JSON has %d texts; want %d", c.ID, len(got), len(want))
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("%s: the JSON has %q; want %q", c.ID, got[i], want[i])
			}
		}
	}
}
