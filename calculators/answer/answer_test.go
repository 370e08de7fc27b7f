package answer_test

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/markup/markuptest"
)

// sample is an answer with everything an answer can have, s in all its texts.
func sample(s string) calculators.View {
	return calculators.View{
		ID: "toy",
		Values: []calculators.Shown{
			{Name: "main", Label: "Main" + s, Text: "2 mg/L" + s, Low: "1 mg/L" + s, High: "3 mg/L" + s, Also: []string{"0.002 g/L" + s}},
			{Name: "other", Label: "Other" + s, Text: "7 %" + s, Low: "6 %", High: "8 %"},
			{Name: "third", Label: "Third" + s, Text: "9 kg" + s, Fine: true},
		},
		Flags:   []string{"Outside the stated range." + s},
		Advice:  []string{"Stop feeding." + s, "Then wait." + s},
		Working: []calculators.Step{{Label: "Sum" + s, Text: "1 + 1 = 2" + s}},
		Sheet: []calculators.Section{{
			Title: "Boxes" + s, Says: []string{"Five boxes." + s}, Steps: []string{"Drill." + s}, Drawing: `<svg viewBox="0 0 1 1"><title>Box</title></svg>`,
			Lines: []calculators.Line{
				{Label: "Holes" + s, Text: "60" + s, By: calculators.Call{Name: "toy", Args: []calculators.Arg{{Name: "flow", Value: "3 m3/h" + s}, {Name: "hole", Value: "8"}}}},
				{Label: "Colour" + s, Text: "grey" + s},
			},
			Head: []string{"Part" + s, "Count" + s}, Rows: [][]string{{"Box" + s, "5" + s}},
		}},
		Assumed: []calculators.ShownInput{{Name: "salt", Label: "Salt" + s, Text: "0 g/kg" + s}},
		Scale: calculators.ShownScale{Label: "Main 2 mg/L" + s, At: 0.4, Low: 0.2, High: 0.6, Marks: []calculators.ShownMark{
			{At: 0.1, Text: "1\u00a0mg/L" + s, Label: "first limit" + s, Source: "key-1" + s, Basis: "published"},
			{At: 0.9, Text: "9\u00a0mg/L" + s, Label: "second limit" + s, Basis: "practice"},
			{At: 0.95, Text: "10\u00a0mg/L" + s, Label: "third limit" + s, Basis: "memory"},
		}},
	}
}

func TestHTMLShowsEverything(t *testing.T) {
	all := markuptest.Elements(t, answer.HTML(sample("")))
	text := func(name, class string) string {
		t.Helper()
		found := markuptest.Find(all, name, class)
		if len(found) == 0 {
			t.Fatalf("no <%s class=%q>", name, class)
		}
		return strings.ReplaceAll(found[0].Text, "\u00a0", " ")
	}
	for _, c := range []struct{ name, class, want string }{
		{"output", "", "2 mg/L"},
		{"p", "what", "Main"},
		{"p", "range", "1 mg/L to 3 mg/L"},
		{"p", "also", "0.002 g/L"},
		{"p", "say", "Stop feeding."},
		{"ul", "flags", "Outside the stated range."},
		{"dl", "further", "7 % (6 % to 8 %)"},
		{"section", "sheet", "Five boxes."},
		{"section", "sheet", "Drill."},
		{"section", "sheet", "Colourgrey"},
		{"th", "", "Part"},
		{"td", "", "5"},
		{"a", "r", "60"},
		{"details", "more", "Third9 kg"},
		{"p", "assumed", "Salt 0 g/kg"},
		{"details", "working", "1 + 1 = 2"},
		{"ul", "limits", "second limit (common practice)"},
		{"ul", "limits", "third limit (from memory)"},
		{"a", "p", "1 mg/L"},
		{"span", "k", "9 mg/L"},
		{"span", "m", "10 mg/L"},
	} {
		if got := text(c.name, c.class); !strings.Contains(got, c.want) {
			t.Errorf("<%s class=%q> is %q, without %q", c.name, c.class, got, c.want)
		}
	}
	found := markuptest.Find(all, "div", "found")[0]
	for _, want := range []string{"2 mg/L", "Stop feeding.", "Then wait.", "Outside the stated range."} {
		if !strings.Contains(strings.ReplaceAll(found.Text, "\u00a0", " "), want) {
			t.Errorf("the status region lacks %q", want)
		}
	}
	if found.Attrs["role"] != "status" {
		t.Error("the answer is not announced")
	}
	name := markuptest.Find(all, "svg", "span")[0].Attrs["aria-label"]
	for _, want := range []string{"Main 2 mg/L", "1\u00a0mg/L first limit", "9\u00a0mg/L second limit"} {
		if !strings.Contains(name, want) {
			t.Errorf("the drawing's name %q lacks %q", name, want)
		}
	}
}

func TestHTMLOfLittle(t *testing.T) {
	markuptest.Elements(t, answer.HTML(calculators.View{}))
	all := markuptest.Elements(t, answer.HTML(calculators.View{Values: []calculators.Shown{{Label: "One", Text: "1"}}}))
	for _, e := range all {
		switch e.Name {
		case "div", "p", "output":
		default:
			t.Errorf("an answer of one value has a <%s>", e.Name)
		}
	}
}

func TestALineOpensItsCalculator(t *testing.T) {
	all := markuptest.Elements(t, answer.Resolve(answer.HTML(sample(" é&=#")), "pad", "s.html", "../reckon/"))
	address, err := url.Parse(markuptest.Find(all, "a", "r")[0].Attrs["href"])
	if err != nil {
		t.Fatal(err)
	}
	if args := address.Query(); address.Path != "../reckon/toy.html" || args.Get("flow") != "3 m3/h é&=#" || args.Get("hole") != "8" {
		t.Errorf("%s", address)
	}
}

// A long sheet begins with links to its parts, and two pads on one leaf have
// different ids.
func TestJumps(t *testing.T) {
	v := sample("")
	if all := markuptest.Elements(t, answer.HTML(v)); len(markuptest.Find(all, "ol", "jumps")) > 0 {
		t.Error("a sheet of one part has links to its parts")
	}
	v.Sheet = []calculators.Section{{Title: "One"}, {Title: "Two"}, {Title: "Three"}, {Title: "Four"}}
	all := markuptest.Elements(t, answer.Resolve(answer.HTML(v), "pad_toy", "s.html", ""))
	jumps, parts := []string{}, []string{}
	for _, e := range all {
		if href := e.Attrs["href"]; e.Name == "a" && strings.Contains(e.Path, "ol/") {
			jumps = append(jumps, href+" "+e.Text)
		}
		if e.Name == "section" {
			parts = append(parts, "#"+e.Attrs["id"]+" "+e.Text)
		}
	}
	if !slices.Equal(jumps, parts) || len(parts) != 4 || parts[3] != "#pad_toy_part_4 Four" {
		t.Errorf("links %q, parts %q", jumps, parts)
	}
}

// What an unfit answer needs comes before it.
func TestUnfit(t *testing.T) {
	v := sample("")
	v.Unfit = true
	found := markuptest.Find(markuptest.Elements(t, answer.HTML(v)), "div", "found")[0].Text
	if first := v.Advice[0] + v.Advice[1] + v.Values[0].Label; !strings.HasPrefix(found, first) || strings.Count(found, v.Advice[0]) != 1 {
		t.Errorf("the answer begins %q", found)
	}
}

// A cell of a table of many columns says which it is.
func TestManyColumns(t *testing.T) {
	v := sample("")
	v.Sheet[0].Head = strings.Split("abcdef", "")
	v.Sheet[0].Rows = [][]string{strings.Split("123456", "")}
	named := ""
	for _, e := range markuptest.Find(markuptest.Elements(t, answer.HTML(v)), "td", "") {
		named += e.Attrs["data-head"] + e.Text
	}
	if named != "b2c3d4e5f6" {
		t.Errorf("the cells are named %q", named)
	}
}

func TestResolve(t *testing.T) {
	html := answer.HTML(sample(" " + answer.Sources))
	for _, c := range []struct{ sources, want string }{
		{"../sources.html", "../sources.html#key-1 {sources}"},
		{"", "#key-1 {sources}"},
		{`a"b`, `a"b#key-1 {sources}`},
	} {
		all := markuptest.Elements(t, answer.Resolve(html, "pad", c.sources, "reckon/"))
		if got := markuptest.Find(all, "a", "")[0].Attrs["href"]; got != c.want {
			t.Errorf("with %q the link is %q; want %q", c.sources, got, c.want)
		}
		// What a text says of the placeholder stays as it was said.
		if got := markuptest.Find(all, "output", "")[0].Text; got != "2\u00a0mg/L {sources}" {
			t.Errorf("a text became %q", got)
		}
	}
}

// No text, wherever it stands, may add an element or an attribute.
func FuzzHTML(f *testing.F) {
	for _, s := range []string{"", "<b>", `"><script>`, "{sources}", "' onload='x", "&amp;", "\x00", "\xff", "\u00a0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		plain := unmarked(markuptest.Elements(t, answer.HTML(sample(""))))
		fuzzed := unmarked(markuptest.Elements(t, answer.Resolve(answer.HTML(sample(s)), "pad", "s.html", "../")))
		if len(plain) != len(fuzzed) {
			t.Fatalf("%q makes %d elements of %d", s, len(fuzzed), len(plain))
		}
		for i := range plain {
			if plain[i].Path != fuzzed[i].Path || len(plain[i].Attrs) != len(fuzzed[i].Attrs) {
				t.Errorf("%q makes %s of %s", s, fuzzed[i].Path, plain[i].Path)
			}
		}
	})
}

// unmarked leaves out what markup.Mark adds for the quantities of a text.
func unmarked(all []markuptest.Element) []markuptest.Element {
	var kept []markuptest.Element
	for _, e := range all {
		_, quantity := e.Attrs["data-q"]
		_, again := e.Attrs["data-or"]
		if e.Name == "span" && (quantity || again) {
			continue
		}
		delete(e.Attrs, "data-q")
		delete(e.Attrs, "data-l")
		kept = append(kept, e)
	}
	return kept
}

func TestErrors(t *testing.T) {
	if got := answer.Errors(nil); got != "" {
		t.Errorf("no errors show as %q", got)
	}
	all := markuptest.Elements(t, answer.Errors(calculators.InputErrors{
		{Input: "ph", Problem: "is <15>", Accept: "4 to 11", Remedy: "measure again"},
		{Input: "fish row 2, length", Problem: "is missing"},
	}))
	items := markuptest.Find(all, "li", "")
	want := []string{"ph is <15>; expected 4 to 11; measure again", "fish row 2, length is missing"}
	if len(items) != len(want) {
		t.Fatalf("%d errors show as %d", len(want), len(items))
	}
	for i, w := range want {
		if items[i].Text != w {
			t.Errorf("error %d shows as %q; want %q", i, items[i].Text, w)
		}
	}
}
