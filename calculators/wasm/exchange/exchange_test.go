package exchange_test

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/wasm/exchange"
)

// toy doubles a length, and fails where a faulty calculator would.
func toy() calculators.Set {
	return calculators.NewSet(calculators.Calculator{
		ID: "toy",
		Inputs: []calculators.Input{
			{Name: "length", Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 10}},
			{Name: "fish", Type: calculators.Rows, Optional: true, Columns: []calculators.Input{{Name: "count", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 9}}}},
		},
		Outputs: []calculators.Output{{Name: "twice", Label: "Twice", Unit: "m", Digits: 3}},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			if in.In("length", "m") == 9 {
				panic("a mistake in the calculator")
			}
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("twice", 2*in.In("length", "m"))}, Advice: []string{"\"Quoted\" \\ and\ttabbed."}}, nil
		},
	})
}

type reply struct {
	OK     bool
	HTML   string
	Values map[string]string
	Errors []struct{ Input, Text string }
}

func ask(t *testing.T, request string) reply {
	t.Helper()
	text := exchange.Reply(toy(), request)
	var r reply
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		t.Fatalf("%q is answered by what is not JSON: %v\n%s", request, err, text)
	}
	if r.OK == (len(r.Errors) > 0) {
		t.Errorf("%q is answered by %s: neither an answer nor a refusal", request, text)
	}
	return r
}

func TestReply(t *testing.T) {
	r := ask(t, exchange.Write("toy", []calculators.Arg{{Name: "length", Value: "150 cm"}}))
	c, _ := toy().Find("toy")
	v, err := c.Reckon([]calculators.Arg{{Name: "length", Value: "150 cm"}})
	if err != nil {
		t.Fatal(err)
	}
	if !r.OK || r.HTML != answer.HTML(v) {
		t.Errorf("the answer differs from the page's:\n%s\n%s", r.HTML, answer.HTML(v))
	}
	if diff := cmp.Diff(map[string]string{"twice": v.Values[0].Text}, r.Values); diff != "" {
		t.Error(diff)
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct{ name, request, input, says string }{
		{"no request", "", "calculator", "not in this module"},
		{"unknown calculator", "nonesuch\nlength=1 m", "calculator", `"nonesuch"`},
		{"missing input", "toy", "length", "is missing"},
		{"out of range", "toy\nlength=11 m", "length", "expected 0 to 10"},
		{"unknown input", "toy\nlength=1 m\nwidth=2 m", "width", "is not an input"},
		{"no equals sign", "toy\nlength", "length", "has no value"},
		{"row", "toy\nlength=1 m\nfish=3; 12", "fish row 2, count", "is 12"},
		{"too long", "toy\nlength=" + strings.Repeat("1", exchange.Longest), "request", "too long"},
		{"panic", "toy\nlength=9 m", "calculator", "failed on these numbers"},
		{"not UTF-8", "toy\nlength=\xff m", "length", "expected"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := ask(t, c.request)
			if r.OK || r.Errors[0].Input != c.input || !strings.Contains(r.Errors[0].Text, c.says) {
				t.Errorf("got %+v; want a refusal of %q that says %q", r, c.input, c.says)
			}
			if !strings.Contains(r.HTML, "Not updated") {
				t.Errorf("the refusal does not say that the answer is old: %s", r.HTML)
			}
		})
	}
}

// What a record or a link holds is checked by the limits of the calculators that ask
// for it, before it is taken.
func TestValuesAreCheckedEachOnItsOwn(t *testing.T) {
	for _, c := range []struct{ request, input, says string }{
		{"? toy\nlength=3 m", "", ""},
		{"? toy\nlength=0,5 m\nfish=3; 4", "", ""},
		{"? toy\nlength=74 m\nfish=3", "length", "is 74\u00a0m; expected 0 to 10"},
		{"? toy\nlength=javascript:alert(1)", "length", `"javascript:alert(1)" is not a number`},
		{"? toy\nfish=3; 12", "fish", "is 12 in row 2, count; expected 1 to 9"},
		{"? toy\nunknown=3", "", ""},
		{"?\ntoy.length=3 m\ntoy.fish=9\nother=x", "", ""},
		{"?\ntoy.length=\ntoy.fish=9", "", ""},
		{"?\ntoy.length=<b>3</b> m\ntoy.fish=9", "toy.length", `"<b>3</b> m" is not a number`},
		{"?\ntoy.length=11 m", "toy.length", "is 11\u00a0m; expected 0 to 10"},
	} {
		r := ask(t, c.request)
		switch {
		case c.input == "" && !r.OK:
			t.Errorf("%q is refused: %v", c.request, r.Errors)
		case c.input != "" && (len(r.Errors) != 1 || r.Errors[0].Input != c.input || !strings.Contains(r.Errors[0].Text, c.says)):
			t.Errorf("%q: got %+v; want a refusal of %q that says %q", c.request, r, c.input, c.says)
		}
	}
}

// Lines of a list may be parted by line ends, which the request escapes.
func TestEscapedLines(t *testing.T) {
	r := ask(t, exchange.Write("toy", []calculators.Arg{{Name: "length", Value: "1 m"}, {Name: "fish", Value: "3\n4\n\\n"}}))
	if len(r.Errors) != 1 || r.Errors[0].Input != "fish row 3, count" || !strings.Contains(r.Errors[0].Text, `\n`) {
		t.Errorf("got %+v; want only row 3 refused, which is a backslash and an n", r.Errors)
	}
}

func FuzzReply(f *testing.F) {
	for _, s := range []string{"", "toy", "toy\nlength=1 m", "toy\nlength=9 m", "toy\nlength=1 m\nfish=1;2;;3, 4", "toy\nfish=\\n\\\\\\", "toy\n=\n==\nlength==", "\xff\n\x00=\x1f\"", "?\ntoy.length=1", "? toy\nfish=1;x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, request string) {
		if text := exchange.Reply(toy(), request); !utf8.ValidString(text) || !json.Valid([]byte(text)) {
			t.Errorf("%q is answered by %q", request, text)
		}
	})
}
