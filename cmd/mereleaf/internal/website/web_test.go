package website

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// double is a calculator small enough to foresee: it doubles a length.
func double() calculators.Set {
	length := calculators.Input{Name: "length", Label: "Length", Help: "Measure it.", Kind: quantity.Length,
		Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "1 m"}
	formula := calculators.Formula{Name: "Addition", Says: "Adds a length to itself.", TeX: "2x", Source: "a-1975", Locator: "page 2",
		Basis: "published", Function: "small.Double"}
	again := formula
	again.Name = "Addition again"
	return calculators.NewSet(calculators.Calculator{
		ID: "double", Title: "Twice a length", Question: "How much is twice a length?", Part: "water",
		Inputs:   []calculators.Input{length},
		Outputs:  []calculators.Output{{Name: "twice", Label: "Twice", Unit: "m", Digits: 2}},
		Formulas: []calculators.Formula{formula, again},
		Cautions: []string{"Lengths are never negative."},
		Example:  calculators.Example{Story: "Ines doubles a plank.", Given: []calculators.Arg{{Name: "length", Value: "2 m"}}},
		Lookup:   calculators.Lookup{Caption: "Doubles", Rows: calculators.Axis{Input: "length", Values: []string{"1 m", "3 m"}}, Show: []string{"twice"}},
		Chart:    calculators.Chart{Caption: "Doubles", X: "length", From: "0 m", To: "10 m", Show: "twice"},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("twice", 2*in.In("length", "m"))}}, nil
		},
	})
}

// small is the project of testdata/small.txtar.
func small(t testing.TB) fstest.MapFS {
	t.Helper()
	a, err := txtar.ParseFile("testdata/small.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{}
	for _, f := range a.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return files
}

// read reads a project that must have no fault.
func read(t testing.TB, files fs.FS) *book.Book {
	t.Helper()
	b, faults := book.Read(files, double())
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return b
}

// printed renders pages by path.
func printed(t testing.TB, pages []Page) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, p := range pages {
		content, err := p.Bytes()
		if err != nil {
			t.Fatalf("%s: %v", p.Path, err)
		}
		if out[p.Path] != "" {
			t.Errorf("two pages are %s", p.Path)
		}
		out[p.Path] = string(content)
	}
	return out
}

// smallWeb is the small handbook as a web site.
func smallWeb(t testing.TB) (map[string]string, bundle.Assets) {
	t.Helper()
	files := small(t)
	a := theme(t).WithWasm([]byte("module")).WithFind([]byte("{}"))
	return printed(t, Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{})), a
}

func TestPages(t *testing.T) {
	pages, _ := smallWeb(t)
	want := []string{
		"404.html", "empty/index.html", "figures/index.html", "figures/oxygen.html", "find.html", "fish/carp.html", "fish/index.html",
		"fish/koi.html", "index.html", "log.html", "reckon/double.html", "reckon/index.html", "record.html", "sources.html", "terms.html",
		"water/index.html", "water/oxygen.html",
	}
	if diff := cmp.Diff(slices.Sorted(maps.Keys(pages)), want); diff != "" {
		t.Errorf("pages (-got +want):\n%s", diff)
	}
}

// What a reader must find on a page, by the text that shows it.
func TestPagesShow(t *testing.T) {
	pages, a := smallWeb(t)
	for path, wants := range map[string][]string{
		"index.html": {
			"<h1>Small</h1>", "A handbook for tests &amp; trials", "What is the matter today?",
			`<a href="water/oxygen.html#section-one"><b>They gasp</b> <i>W` + "\u00a0" + `1</i>`,
			`<a href="fish/koi.html"><b>Koi</b>`, `href="reckon/double.html"`, "Lower Reach",
		},
		"water/index.html": {"<h1>Water</h1>", "Readings.", `<a href="oxygen.html">`},
		"empty/index.html": {"This part has no leaves yet."},
		"water/oxygen.html": {
			"<h1>Oxygen &lt;and&gt; air</h1>", `<html lang="en-GB" data-ref="W` + "\u00a0" + `1" data-head="Oxygen &lt;and&gt; air">`, "W\u00a01 Oxygen &lt;and&gt; air · Small</title>",
			`<p class="first">Warm water holds less.`, `rel="next"`, `<b>Koi</b>`, "Sources of this leaf",
			`<a class="hue-1" href="index.html" aria-current="true"><b>W</b> Water</a>`, `<body class="hue-1">`,
			`data-module="../` + a.Wasm + `"`,
		},
		"fish/koi.html":  {`rel="prev"`, `<b>Oxygen &lt;and&gt; air</b>`, `rel="next"`, `<b>Carp</b>`},
		"fish/carp.html": {`rel="prev"`},
		"reckon/double.html": {
			"<h1>Twice a length</h1>", "How much is twice a length?", `data-calculator="double"`, "Before you act on it",
			"Lengths are never negative.", `id="formulas"`, "<math", "Adds a length to itself.",
			`<a href="../sources.html#a-1975">Addams 1975</a>, page 2 · <span class="p">published</span>`, "calculators/small/double.go",
		},
		"figures/oxygen.html": {
			`<tr id="r2">`, `<tr id="r5">`, "Temperature (°C)", "Oxygen (mg/L)", "<h1>Figures <code>oxygen</code></h1>", "4 rows of temperature, oxygen, remark.", `<span class="p">11.29</span>`, `<span class="m">7.56</span>`,
			"from memory", "Read long ago.", "common practice", `<a href="../water/oxygen.html">`,
		},
		"figures/index.html": {"1 sets with 4 rows", `<span class="p">2</span> published (4 numbers)`, `<span class="m">1</span> from memory (2 numbers)`},
		"terms.html":         {`<dt id="ph">pH</dt>`, `<li><a href="#ph">P</a></li>`, "Also: acidity.", `href="terms.html#ph"`},
		"sources.html": {
			`<li id="a-1975"><b>Addams 1975</b>`, "Waters &amp; Ponds", `<a href="water/oxygen.html">`, `<a href="reckon/double.html">`,
			`<a href="figures/oxygen.html"><code>oxygen</code></a>`, `<li id="b-1980">`,
		},
		"find.html": {
			`data-index="` + a.Find + `"`, "Finding needs JavaScript", `role="search"`, `<a href="water/oxygen.html#section-one"><b>They gasp</b>`,
			`<data value="W" class="hue-1">Water</data>`,
		},
		"404.html": {"<h1>No leaf here</h1>", `href="index.html"`, `href="../index.html"`, `<link rel="icon" href="data:,">`},
	} {
		for _, want := range wants {
			if !strings.Contains(pages[path], want) {
				t.Errorf("%s lacks %q", path, want)
			}
		}
	}
	// The page for a missing leaf loads nothing: no relative address holds at
	// all the places where it is shown.
	if strings.Contains(pages["404.html"], "assets/") || strings.Contains(pages["404.html"], "<script") {
		t.Errorf("404.html needs other files: %s", pages["404.html"])
	}
	var names []string
	for _, entry := range strings.Split(pages["sources.html"], "<b>")[1:] {
		name, _, _ := strings.Cut(entry, " ")
		names = append(names, name)
	}
	if want := []string{"[Abstract]", "Addams", "Brown", "van", "W</b>", "S</b>", "E</b>"}; !slices.Equal(names, want) {
		t.Errorf("the sources stand as %q, want %q", names, want)
	}
	if strings.Contains(pages["water/oxygen.html"], `rel="prev"`) || strings.Contains(pages["fish/carp.html"], `rel="next"`) {
		t.Error("the handbook's ends have neighbours beyond them")
	}
	if n := strings.Count(pages["reckon/double.html"], "calculators/small/double.go"); n != 1 {
		t.Errorf("the function of two formulas is shown %d times", n)
	}
}

// The leaves of a calculator and of a figure set say how the two agree.
func TestAgreementShows(t *testing.T) {
	files := small(t)
	pages := printed(t, Web(read(t, files), theme(t), calchtml.New(double(), files), crosscheck.Report{Sets: []crosscheck.SetReport{
		{Set: "oxygen", Calculator: "double", Rows: 3, Figures: 2, Largest: 0.00214, Tolerance: 0.01, Reason: "the table rounds", Excepted: 1, Exceptions: []crosscheck.Exception{{Rows: 1, Tolerance: 0.03, Reason: "a slip of the source"}}},
		{Set: "oxygen", Rows: 1, Reason: "nobody computes it"},
	}}))
	const off = "2\u00a0figures in 3\u00a0rows, at most 0.21\u00a0% off; 1\u00a0row excepted; 1.0\u00a0% allowed. The table rounds. 3.0\u00a0% allowed in 1\u00a0row: a slip of the source."
	for path, wants := range map[string][]string{
		"reckon/double.html":  {`<a href="../figures/oxygen.html"><code>oxygen</code></a>: ` + off},
		"figures/oxygen.html": {`<a href="../reckon/double.html">Twice a length</a>: ` + off, "<li>1\u00a0row left out. Nobody computes it.</li>"},
		"figures/index.html":  {"<br/>Checks: Twice a length in 2\u00a0figures, at most 0.21\u00a0% off; 1\u00a0row excepted.", "<br/>1\u00a0row left out: nobody computes it."},
	} {
		for _, want := range wants {
			if !strings.Contains(pages[path], want) {
				t.Errorf("%s lacks %q", path, want)
			}
		}
	}
	pages = printed(t, Web(read(t, files), theme(t), calchtml.New(double(), files), crosscheck.Report{Uncomputed: []crosscheck.Note{{Set: "oxygen", Reason: "rules as printed"}}}))
	for path, want := range map[string]string{
		"figures/oxygen.html": "<li>No calculator computes them. Rules as printed.</li>",
		"figures/index.html":  "No calculator computes them: rules as printed.",
	} {
		if !strings.Contains(pages[path], want) {
			t.Errorf("%s lacks %q", path, want)
		}
	}
	if exact := newAgreed(link{}, crosscheck.SetReport{Calculator: "double", Rows: 1, Figures: 1}); exact.Text != "1\u00a0figure in 1\u00a0row, none off" {
		t.Errorf("full agreement reads %q", exact.Text)
	}
	rounding := crosscheck.SetReport{Calculator: "double", Rows: 1, Figures: 1, Largest: 2e-16}
	if a := newAgreed(link{}, rounding); strings.Contains(a.Text, "%") {
		t.Errorf("the rounding of the machine reads %q", a.Text)
	}
}

// Two runs give the same keys and bytes.
func TestSameBytes(t *testing.T) {
	files := small(t)
	a := theme(t)
	first, again := Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{}), Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{})
	one, two := printed(t, first), printed(t, again)
	for i, p := range first {
		if p.Key != again[i].Key || one[p.Path] != two[p.Path] {
			t.Errorf("%s differs between two runs", p.Path)
		}
	}
}

// changes returns the paths of the pages whose key differs after an edit, and
// fails if a page's bytes changed behind an unchanged key.
func changes(t *testing.T, edit func(fstest.MapFS, *bundle.Assets)) []string {
	t.Helper()
	files, a := small(t), theme(t)
	before := Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{})
	edit(files, &a)
	after := Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{})
	old, keys := printed(t, before), map[string]string{}
	for _, p := range before {
		keys[p.Path] = p.Key
	}
	var changed []string
	for path, text := range printed(t, after) {
		i := slices.IndexFunc(after, func(p Page) bool { return p.Path == path })
		if after[i].Key != keys[path] {
			changed = append(changed, path)
		} else if text != old[path] {
			t.Errorf("%s has other bytes under the same key", path)
		}
	}
	slices.Sort(changed)
	return changed
}

func replace(file, old, text string) func(fstest.MapFS, *bundle.Assets) {
	return func(files fstest.MapFS, _ *bundle.Assets) {
		before := string(files[file].Data)
		if !strings.Contains(before, old) {
			panic(file + " does not hold " + old)
		}
		files[file] = &fstest.MapFile{Data: []byte(strings.Replace(before, old, text, 1))}
	}
}

func TestKeys(t *testing.T) {
	for _, test := range []struct {
		name string
		edit func(fstest.MapFS, *bundle.Assets)
		want []string
	}{
		{"text of a chapter", replace("content/fish/10-koi.md", "Text.", "Other text."), []string{"fish/koi.html"}},
		{"explanation of a term", replace("content/terms.md", "How sour", "How sharp"), []string{"terms.html"}},
		{"note of a figure", replace("testdata/reference/oxygen.csv", "long ago", "lately"), []string{"figures/oxygen.html"}},
		{"summary of a chapter", replace("content/fish/20-carp.md", "Weigh them too.", "Weigh them."),
			[]string{"fish/carp.html", "fish/index.html", "index.html"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(changes(t, test.edit), test.want); diff != "" {
				t.Errorf("changed pages (-got +want):\n%s", diff)
			}
		})
	}
}

func TestEveryPageDependsOnTheFrame(t *testing.T) {
	all, _ := smallWeb(t)
	for name, edit := range map[string]func(fstest.MapFS, *bundle.Assets){
		"title of the handbook": replace("content/handbook.toml", `"Small"`, `"Little"`),
		"title of a part":       replace("content/handbook.toml", `"Nothing yet"`, `"Not yet"`),
		"title of a source":     replace("content/sources.json", "Waters & Ponds", "Ponds & Waters"),
		"style sheet":           func(_ fstest.MapFS, a *bundle.Assets) { a.CSS = "assets/other.css" },
		"template": func(_ fstest.MapFS, a *bundle.Assets) {
			a.Templates = maps.Clone(a.Templates)
			a.Templates["leaf.html"] += "<!-- end -->"
		},
	} {
		if changed := changes(t, edit); len(changed) != len(all) {
			t.Errorf("%s: only %v change", name, changed)
		}
	}
}

// A broken template is the fault of the pages that need it, at its line.
func TestTemplateFaults(t *testing.T) {
	for _, test := range []struct{ name, file, text, want string }{
		{"syntax", "part.html", "<h1>\n{{.Title</h1>", "theme/templates/part.html:2"},
		{"unknown field", "part.html", "<h1>\n  {{.Titel}}</h1>", "theme/templates/part.html:2:5: "},
		{"unknown template", "part.html", `{{template "nowhere" .}}`, "theme/templates/part.html:1:"},
		{"unsafe", "part.html", "<h1\n{{if .Title}} class=\"{{end}}></h1>", "theme/templates/part.html"},
	} {
		t.Run(test.name, func(t *testing.T) {
			files, a := small(t), theme(t)
			a.Templates = maps.Clone(a.Templates)
			a.Templates[test.file] = test.text
			var failed error
			for _, p := range Web(read(t, files), a, calchtml.New(double(), files), crosscheck.Report{}) {
				if _, err := p.Bytes(); p.Path == "water/index.html" {
					failed = err
				}
			}
			var d diag.Diagnostic
			if !errors.As(failed, &d) || !strings.HasPrefix(d.String(), test.want) || strings.Contains(d.String(), "\n") {
				t.Errorf("err = %v, want one line at %s", failed, test.want)
			}
		})
	}
}

func TestShorten(t *testing.T) {
	for _, test := range []struct {
		in   string
		most int
		want string
	}{
		{"short", 20, "short"},
		{"one two, three", 10, "one two…"},
		{"oneword", 3, "oneword"},
	} {
		if got := shorten(test.in, test.most); got != test.want {
			t.Errorf("shorten(%q, %d) = %q, want %q", test.in, test.most, got, test.want)
		}
	}
	for in, want := range map[string]string{"Only one": "Only one", "At 30 mA. Then more.": "At 30 mA.", "Why? So.": "Why?"} {
		if got := firstSentence(in); got != want {
			t.Errorf("firstSentence(%q) = %q, want %q", in, got, want)
		}
	}
}

// many is the small handbook with its chapter on koi n times.
func many(b *testing.B, n int) fstest.MapFS {
	files := small(b)
	koi := files["content/water/10-oxygen.md"].Data
	for i := range n {
		files[fmt.Sprintf("content/fish/%d-koi-%d.md", i+100, i)] = &fstest.MapFile{Data: koi}
	}
	return files
}

// BenchmarkWeb sets 1,000 chapters.
func BenchmarkWeb(b *testing.B) {
	files := many(b, 1000)
	handbook, a, p := read(b, files), theme(b), calchtml.New(double(), files)
	for b.Loop() {
		for _, page := range Web(handbook, a, p, crosscheck.Report{}) {
			if _, err := page.Bytes(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkKeys finds out what changed among 1,000 chapters.
func BenchmarkKeys(b *testing.B) {
	files := many(b, 1000)
	handbook, a, p := read(b, files), theme(b), calchtml.New(double(), files)
	for b.Loop() {
		Web(handbook, a, p, crosscheck.Report{})
	}
}
