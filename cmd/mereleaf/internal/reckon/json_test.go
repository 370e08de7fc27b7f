package reckon

import (
	"encoding/json"
	"testing"

	"mereleaf/calculators/catalog"
)

// TestJSONHoldsTheView walks all calculators: what a page shows of each output,
// step and assumption stands in the JSON, under the promised names.
func TestJSONHoldsTheView(t *testing.T) {
	type labelled struct{ Name, Label, Text, Low, High string }
	for _, c := range catalog.All().All() {
		v, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		text, err := JSON(v)
		if err != nil {
			t.Fatal(err)
		}
		var made struct {
			ID                       string
			Values, Working, Assumed []labelled
			Flags, Advice            []string
		}
		if err := json.Unmarshal(text, &made); err != nil {
			t.Fatal(err)
		}
		var want, got []labelled
		for _, s := range v.Values {
			want = append(want, labelled{s.Name, s.Label, plain(s.Text), plain(s.Low), plain(s.High)})
		}
		for _, s := range v.Working {
			want = append(want, labelled{Label: plain(s.Label), Text: plain(s.Text)})
		}
		for _, s := range v.Assumed {
			want = append(want, labelled{Name: s.Name, Label: s.Label, Text: plain(s.Text)})
		}
		for _, s := range append(append([]string{c.ID}, v.Flags...), v.Advice...) {
			want = append(want, labelled{Text: plain(s)})
		}
		got = append(append(append(got, made.Values...), made.Working...), made.Assumed...)
		for _, s := range append(append([]string{made.ID}, made.Flags...), made.Advice...) {
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
