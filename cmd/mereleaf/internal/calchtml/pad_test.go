package calchtml_test

import (
	"net/url"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/markup/markuptest"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/calchtml"
)

const project = "../../../.."

func newPad() *calchtml.Pad { return calchtml.New(catalog.All(), os.DirFS(project)) }

// toy has every shape of input and of output.
func toy() calculators.Calculator {
	sanity := calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}
	return calculators.Calculator{
		ID: "toy", Title: "Toy <pond>", Cautions: []string{"Mind the <gap>."},
		Inputs: []calculators.Input{
			{Name: "way", Label: "Way", Help: "Which.", Type: calculators.Choice, Default: "plain", Options: []calculators.Option{{Name: "plain", Label: "plain <way>"}, {Name: "salty", Label: "salty"}}},
			{Name: "depth", Label: "Depth", Help: "How deep.", Kind: quantity.Length, Accept: sanity},
			{Name: "altitude", Label: "Altitude", Help: "How high.", Kind: quantity.Length, Accept: calculators.Range{Low: -100, High: 4000, Origin: "sanity limit"}, Default: "0 m"},
			{Name: "error", Label: "Error", Help: "How far off.", Kind: quantity.Share, Accept: sanity, Default: "25 %", Fine: true},
			{Name: "finish", Label: "Finish", Help: "Which.", Type: calculators.Choice, Default: "dull", Fine: true, Options: []calculators.Option{{Name: "dull", Label: "dull"}, {Name: "bright", Label: "bright"}}},
			{Name: "gloss", Label: "Gloss", Help: "How bright.", Kind: quantity.Share, Accept: sanity, Fine: true, When: calculators.When{Input: "finish", Is: []string{"bright"}}},
			{Name: "salt", Label: "Salt", Help: "How salty.", Kind: quantity.Concentration, Accept: sanity, When: calculators.When{Input: "way", Is: []string{"salty"}}},
			{Name: "ph", Label: "pH", Help: "How sour.", Kind: quantity.PH, Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"}, Optional: true},
			{Name: "fish", Label: "Fish", Help: "Each kind.", Type: calculators.Rows, Optional: true, Columns: []calculators.Input{
				{Name: "kind", Label: "Kind", Help: "Which.", Type: calculators.Choice, Options: []calculators.Option{{Name: "koi", Label: "koi"}, {Name: "other", Label: "other"}}},
				{Name: "length", Label: "Length", Help: "How long.", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 1000, Origin: "sanity limit"}},
				{Name: "count", Label: "Count", Help: "How many.", Kind: quantity.Count, Accept: sanity, Default: "1"},
			}},
		},
		Outputs: []calculators.Output{
			{Name: "twice", Label: "Twice the depth", Unit: "m", Digits: 3},
			{Name: "range", Label: "Range", Unit: "%", Digits: 2},
		},
		Formulas: []calculators.Formula{{Name: "Author 2001", Source: "author-2001"}, {Name: "Again", Source: "author-2001"}, {Name: "Practice", Basis: "practice"}},
		Example: calculators.Example{Story: "Ines measures <it>.", Given: []calculators.Arg{
			{Name: "way", Value: "salty"}, {Name: "depth", Value: "4 ft 6 in"}, {Name: "salt", Value: "0.05 g/L"}, {Name: "fish", Value: "koi, 45 cm, 3; other, 15 cm"},
		}},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			d := in.In("depth", "m")
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("twice", 2*d), calculators.Between("range", d, 2*d, 3*d)}}, nil
		},
	}
}

func form(t *testing.T, c calculators.Calculator, presets ...calculators.Arg) []markuptest.Element {
	t.Helper()
	html, err := newPad().Form(c, presets, "water/ammonia.html")
	if err != nil {
		t.Fatal(err)
	}
	return markuptest.Elements(t, html)
}

func named(t *testing.T, all []markuptest.Element, name string) markuptest.Element {
	t.Helper()
	for _, e := range all {
		if e.Attrs["name"] == name {
			return e
		}
	}
	t.Fatalf("no field is named %q", name)
	return markuptest.Element{}
}

func box(t *testing.T, all []markuptest.Element, input string) markuptest.Element {
	t.Helper()
	for _, e := range all {
		if e.Attrs["data-input"] == input {
			return e
		}
	}
	t.Fatalf("no box for the input %q", input)
	return markuptest.Element{}
}

func selectedUnits(all []markuptest.Element) []string {
	var units []string
	for _, e := range all {
		if e.Name == "option" && e.Attrs["selected"] != "" && strings.HasSuffix(e.Path, "select/option") {
			units = append(units, e.Attrs["value"])
		}
	}
	return units
}

func TestFormShowsWhatIsGiven(t *testing.T) {
	all := form(t, toy())
	for _, c := range []struct{ field, value, placeholder string }{
		{"depth", "4.5", " "}, {"salt", "0.05", " "}, {"altitude", "", "0"}, {"ph", "", " "}, {"length", "45", " "}, {"count", "3", " "},
	} {
		f := named(t, all, c.field)
		if f.Attrs["value"] != c.value || f.Attrs["placeholder"] != c.placeholder {
			t.Errorf("%s holds %q with placeholder %q; want %q, %q", c.field, f.Attrs["value"], f.Attrs["placeholder"], c.value, c.placeholder)
		}
	}
	want := []string{"salty", "[ft_i]", "m", "g/L", "koi", "cm", "other", "cm", ""}
	if got := selectedUnits(all); !slices.Equal(got, want) {
		t.Errorf("chosen are %q; want %q", got, want)
	}
	if lines := markuptest.Find(all, "li", "line"); len(lines) != 2 {
		t.Errorf("the list has %d lines; want 2", len(lines))
	}
	if mode := named(t, all, "altitude").Attrs["inputmode"]; mode != "text" {
		t.Errorf("the field for a height below the sea has the keyboard %q, which has no minus sign", mode)
	}
}

// Fine points are under a fold that says what is assumed; what a leaf states is
// not.
func TestFormFoldsFinePoints(t *testing.T) {
	folded := func(all []markuptest.Element) (names []string) {
		for _, e := range all {
			if e.Attrs["data-input"] != "" && strings.Contains(e.Path, "details/") {
				names = append(names, e.Attrs["data-input"])
			}
		}
		return names
	}
	all := form(t, toy())
	if got := folded(all); !slices.Equal(got, []string{"error", "finish", "gloss"}) {
		t.Errorf("folded are %q", got)
	}
	if got, want := texts(all, "summary", "")[0], "Assumed: error 25\u00a0%; finish dull"; got != want {
		t.Errorf("the fold says %q; want %q", got, want)
	}
	if got := box(t, all, "gloss").Attrs["data-assumed"]; got != "gloss not stated" {
		t.Errorf("of a point without default is assumed %q", got)
	}
	all = form(t, toy(), calculators.Arg{Name: "error", Value: "10 %"})
	if got := folded(all); !slices.Equal(got, []string{"finish", "gloss"}) {
		t.Errorf("with a preset, folded are %q", got)
	}
	if got := named(t, all, "error").Attrs["value"]; got != "10" {
		t.Errorf("the preset shows as %q", got)
	}
}

func TestFormWaitsForTheScript(t *testing.T) {
	all := form(t, toy())
	if given := markuptest.Find(all, "fieldset", "given"); len(given) != 1 || given[0].Attrs["disabled"] == "" {
		t.Error("the fields are not disabled in one fieldset")
	}
	for _, b := range markuptest.Find(all, "button", "") {
		if b.Attrs["hidden"] == "" || b.Attrs["type"] != "button" {
			t.Errorf("the button %q shows without a script, or would send the form", b.Text)
		}
	}
	f := markuptest.Find(all, "form", "")[0]
	if _, action := f.Attrs["action"]; action || f.Attrs["data-calculator"] != "toy" || f.Attrs["data-sources"] != "../sources.html" {
		t.Errorf("the form has the attributes %v", f.Attrs)
	}
	if note := markuptest.Find(all, "p", "note")[0].Text; !strings.Contains(note, "Ines measures <it>.") {
		t.Errorf("the note %q does not tell the worked example", note)
	}
}

func TestFormNamesEveryField(t *testing.T) {
	for _, c := range append(pondtest.All(t).All(), toy()) {
		all := form(t, c)
		targets := map[string]bool{}
		for _, l := range markuptest.Find(all, "label", "") {
			targets[l.Attrs["for"]] = true
		}
		for _, e := range all {
			if e.Name != "input" && e.Name != "select" {
				continue
			}
			inLabel := strings.Contains(e.Path, "label/")
			if !inLabel && !targets[e.Attrs["id"]] && e.Attrs["aria-label"] == "" {
				t.Errorf("%s: the field %v has no name", c.ID, e.Attrs)
			}
		}
		section := markuptest.Find(all, "section", "pad")[0]
		title := markuptest.Find(all, "h2", "")[0]
		if title.Attrs["id"] == "" || section.Attrs["aria-labelledby"] != title.Attrs["id"] || title.Text != c.Title {
			t.Errorf("%s: the pad is not named by its title", c.ID)
		}
	}
}

// The answer in the pad is the one that the module gives for the same numbers.
func TestFormHoldsTheWorkedAnswer(t *testing.T) {
	for _, c := range append(pondtest.All(t).All(), toy()) {
		html, err := newPad().Form(c, nil, "reckon/"+c.ID+".html")
		if err != nil {
			t.Fatal(err)
		}
		v, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(html, answer.Resolve(answer.HTML(v), "pad_"+c.ID, "../sources.html", "")) {
			t.Errorf("%s: the pad does not hold the answer to its example", c.ID)
		}
	}
}

func TestPresets(t *testing.T) {
	c := toy()
	plain := form(t, c, calculators.Arg{Name: "way", Value: "plain"}, calculators.Arg{Name: "depth", Value: "2 m"})
	if got := named(t, plain, "depth").Attrs["value"]; got != "2" {
		t.Errorf("the preset depth shows as %q", got)
	}
	if salt := box(t, plain, "salt"); salt.Attrs["hidden"] == "" || named(t, plain, "salt").Attrs["value"] != "" {
		t.Error("the example's salt shows although the preset says plain")
	}
	if salt := box(t, form(t, c), "salt"); salt.Attrs["hidden"] != "" {
		t.Error("the salt is hidden although the example says salty")
	}
	if note := markuptest.Find(plain, "p", "note")[0].Text; strings.Contains(note, "Ines") {
		t.Errorf("with presets the note still tells the example: %q", note)
	}
	if got := markuptest.Find(plain, "output", "")[0].Text; got != "4.00\u00a0m" {
		t.Errorf("with presets the answer is %q", got)
	}
	if a, b := plain[0].Attrs["aria-labelledby"], form(t, c)[0].Attrs["aria-labelledby"]; a == b {
		t.Errorf("two pads with different numbers share the id %q", a)
	}
}

func TestFormRefusesBadPresets(t *testing.T) {
	for _, c := range []struct {
		preset calculators.Arg
		says   string
	}{
		{calculators.Arg{Name: "depth", Value: "2 kg"}, "depth"},
		{calculators.Arg{Name: "depth", Value: "200 m"}, "0 to 100"},
		{calculators.Arg{Name: "width", Value: "2 m"}, "width"},
		{calculators.Arg{Name: "way", Value: "sideways"}, "plain"},
	} {
		_, err := newPad().Form(toy(), []calculators.Arg{c.preset}, "index.html")
		if err == nil || !strings.Contains(err.Error(), "calculator toy") || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("the preset %v gives the error %v; want one line that says %q", c.preset, err, c.says)
		}
	}
}

func TestFormLinks(t *testing.T) {
	for _, c := range []struct {
		here string
		want []string
	}{
		{"water/ammonia.html", []string{"../reckon/toy.html", "../reckon/toy.html#formulas", "../sources.html#author-2001"}},
		{"reckon/toy.html", []string{"#formulas", "../sources.html#author-2001"}},
	} {
		html, err := newPad().Form(toy(), nil, c.here)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, a := range markuptest.Find(markuptest.Elements(t, html), "a", "") {
			got = append(got, a.Attrs["href"])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("on %s the links are %q; want %q", c.here, got, c.want)
		}
		own := c.here == "reckon/toy.html"
		if has := strings.Contains(html, ">Toy &lt;pond&gt;</h2>"); has == own {
			t.Errorf("on %s the pad bears the leaf's name: %v", c.here, has)
		}
		if has := strings.Contains(html, "Mind the &lt;gap&gt;."); has == own {
			t.Errorf("on %s the cautions are there: %v", c.here, has)
		}
	}
}

// Whatever unit a reader picks, the number and the unit's value together must
// be understood by the calculator.
func TestEveryOfferedUnitIsUnderstood(t *testing.T) {
	for _, c := range pondtest.All(t).All() {
		for _, d := range flat(c.Inputs) {
			if d.Type != calculators.Single {
				continue
			}
			for _, code := range d.Units() {
				text := "1"
				if quantity.Symbol(code) != "" {
					text += " " + code
				}
				if q, err := quantity.Parse(text, d.Kind, d.Units()); err != nil || q.Unit.Code != code {
					t.Errorf("%s: %s %q is read as %q, %v", c.ID, d.Name, text, q.Unit.Code, err)
				}
			}
		}
	}
}

func flat(inputs []calculators.Input) []calculators.Input {
	var all []calculators.Input
	for _, d := range inputs {
		all = append(append(all, d), d.Columns...)
	}
	return all
}

func TestFragmentsAreTheSameEachTime(t *testing.T) {
	p := newPad()
	for range 20 {
		for _, c := range pondtest.All(t).All() {
			for _, make := range []func() (string, error){
				func() (string, error) { return p.Form(c, nil, "x/y.html") },
				func() (string, error) { return p.Math(c.Formulas[0].TeX, true) },
			} {
				a, err := make()
				b, _ := make()
				if err != nil || a != b {
					t.Fatalf("%s: %v, or two runs differ:\n%s\n%s", c.ID, err, a, b)
				}
			}
		}
	}
}

// Texts of a declaration must never become markup.
func FuzzForm(f *testing.F) {
	f.Add("<b>")
	f.Add(`" onfocus="x`)
	f.Add("{sources}")
	f.Fuzz(func(t *testing.T, s string) {
		c := toy()
		plain := form(t, c)
		c.Title, c.Example.Story, c.Cautions[0] = c.Title+s, c.Example.Story+s, c.Cautions[0]+s
		for i := range c.Inputs {
			c.Inputs[i].Label += s
			c.Inputs[i].Help += s
		}
		c.Inputs[0].Options[0].Label += s
		c.Formulas[0].Source += s
		fuzzed := form(t, c)
		for i := range plain {
			if i >= len(fuzzed) || plain[i].Path != fuzzed[i].Path {
				t.Fatalf("%q changes the markup after %s", s, plain[max(i-1, 0)].Path)
			}
		}
	})
}

func TestFunctionSource(t *testing.T) {
	root := fstest.MapFS{
		"calculators/toy/a.go":      {Data: []byte("package toy\n\n// Twice doubles.\nfunc Twice(x float64) float64 { return 2 * x }\n\nfunc half(x float64) float64 {\n\treturn x / 2 // not < 0\n}\n\ntype Curve struct{}\n\nfunc (c *Curve) Head() float64 { return 1 }\n")},
		"calculators/toy/a_test.go": {Data: []byte("package toy\n\nfunc Only() {}\n")},
		"calculators/bad/a.go":      {Data: []byte("package bad\n\nfunc {")},
	}
	p := calchtml.New(calculators.Set{}, root)
	for name, want := range map[string]string{
		"toy.Twice":      "// Twice doubles.\nfunc Twice(x float64) float64 { return 2 * x }",
		"toy.half":       "func half(x float64) float64 {\n\treturn x / 2 // not < 0\n}",
		"toy.Curve.Head": "func (c *Curve) Head() float64 { return 1 }",
	} {
		html, err := p.FunctionSource(name)
		if err != nil {
			t.Error(err)
			continue
		}
		all := markuptest.Elements(t, html)
		if got := markuptest.Find(all, "pre", "chroma")[0].Text; got != want {
			t.Errorf("%s shows as\n%s\nwant\n%s", name, got, want)
		}
		if got := markuptest.Find(all, "figcaption", "")[0].Text; got != "calculators/toy/a.go" {
			t.Errorf("%s is said to be in %s", name, got)
		}
	}
	for name, says := range map[string]string{"toy.Only": "nowhere", "toy.Nothing": "nowhere", "none.Twice": "nowhere", "Twice": "expected package and name", "bad.X": "a.go:3:6"} {
		if _, err := p.FunctionSource(name); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: the error %v does not say %q", name, err, says)
		}
	}
}

// Every function that a formula names must exist, and every formula must come
// out as mathematics.
func TestFormulasOfAllCalculators(t *testing.T) {
	p := newPad()
	for _, c := range pondtest.All(t).All() {
		for _, m := range c.Formulas {
			html, err := p.FunctionSource(m.Function)
			if err != nil {
				t.Errorf("%s: %v", c.ID, err)
				continue
			}
			markuptest.Elements(t, html)
			if html, err = p.Math(m.TeX, true); err != nil {
				t.Errorf("%s: %v", c.ID, err)
				continue
			}
			markuptest.Elements(t, html)
		}
	}
}

// Inputs of a group stand under its heading, with a fold of their own.
func TestFormGroups(t *testing.T) {
	c := toy()
	for i := range c.Inputs {
		c.Inputs[i].Group = "Pond"
		if i > 3 {
			c.Inputs[i].Group = "Fish & <more>"
		}
	}
	last := len(c.Inputs) - 1
	c.Inputs[last].Fine, c.Inputs[last].Default = true, "koi, 45 cm, 3; other, 150 mm"
	c.Example.Given = c.Example.Given[:3] // without the fish
	all := form(t, c)
	if got := texts(all, "legend", "")[1]; got != "Pond" {
		t.Errorf("the first heading is %q", got)
	}
	want := []string{"Assumed: error 25\u00a0%", "Assumed: finish dull; fish koi 45\u00a0cm 3, other 150\u00a0mm"}
	if got := texts(all, "summary", ""); !slices.Equal(got[:2], want) {
		t.Errorf("the folds say %q; want %q", got[:2], want)
	}
	inGroup := 0
	for _, e := range all {
		if e.Attrs["data-input"] != "" && strings.Contains(e.Path, "fieldset/fieldset/") {
			inGroup++
		}
	}
	if inGroup != len(c.Inputs) {
		t.Errorf("%d of %d inputs stand in a group", inGroup, len(c.Inputs))
	}
}

// A button carries what its scenario states, as a link would.
func TestFormOffersScenarios(t *testing.T) {
	c := toy()
	c.Ready = []calculators.Scenario{{Name: "Tub & <co>", Example: calculators.Example{Story: "Tomas has \"a\" tub.", Given: c.Example.Given}}}
	var button markuptest.Element
	for _, e := range form(t, c) {
		if _, ready := e.Attrs["data-ready"]; ready {
			button = e
		}
	}
	query, err := url.ParseQuery(button.Attrs["data-ready"])
	if err != nil || len(query) != len(c.Example.Given) {
		t.Fatalf("the button carries %v, %v", query, err)
	}
	for _, a := range c.Example.Given {
		if query.Get(a.Name) != a.Value {
			t.Errorf("it says %q of %s; want %q", query.Get(a.Name), a.Name, a.Value)
		}
	}
	if button.Text != "Tub & <co>" || button.Attrs["data-story"] != c.Ready[0].Story {
		t.Errorf("the button is %q and tells %q", button.Text, button.Attrs["data-story"])
	}
	if found := markuptest.Find(form(t, toy()), "p", "ready"); len(found) > 0 {
		t.Error("a calculator without scenarios offers some")
	}
}
