package calchtml_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/markup/markuptest"
	"mereleaf/calculators/pondtest"
)

func texts(all []markuptest.Element, name, class string) []string {
	var s []string
	for _, e := range markuptest.Find(all, name, class) {
		s = append(s, e.Text)
	}
	return s
}

func lookup(t *testing.T, l calculators.Lookup) []markuptest.Element {
	t.Helper()
	html, err := newPad().Lookup(toy(), l)
	if err != nil {
		t.Fatal(err)
	}
	return markuptest.Elements(t, html)
}

func TestLookupOfOutputs(t *testing.T) {
	all := lookup(t, calculators.Lookup{
		Caption: "Depths <twice>", Show: []string{"twice", "range"},
		Rows: calculators.Axis{Input: "depth", Values: []string{"1 m", "2 m"}},
	})
	if got, want := texts(all, "th", ""), []string{"Depth", "Twice the depth (m)", "Range (%)", "1\u00a0m", "2\u00a0m"}; !slices.Equal(got, want) {
		t.Errorf("heads %q; want %q", got, want)
	}
	if got, want := texts(all, "td", ""), []string{"2.00", "2.0 1.0–3.0", "4.00", "4.0 2.0–6.0"}; !slices.Equal(got, want) {
		t.Errorf("cells %q; want %q", got, want)
	}
	if got := texts(all, "span", "r"); len(got) != 4 {
		t.Errorf("%d figures are marked as reckoned; want 4", len(got))
	}
	if got := texts(all, "caption", ""); got[0] != "Depths <twice>" {
		t.Errorf("the caption is %q", got)
	}
}

func TestLookupOfTwoInputs(t *testing.T) {
	all := lookup(t, calculators.Lookup{
		Caption: "Range", Show: []string{"range"},
		Rows:    calculators.Axis{Input: "depth", Values: []string{"1 m"}},
		Columns: calculators.Axis{Input: "ph", Values: []string{"7.0", "8.5"}},
	})
	if got, want := texts(all, "th", ""), []string{"Depth", "Range (%), by pH", "pH\u00a07.0", "pH\u00a08.5", "1\u00a0m"}; !slices.Equal(got, want) {
		t.Errorf("heads %q; want %q", got, want)
	}
	if got, want := texts(all, "td", ""), []string{"2.0", "2.0"}; !slices.Equal(got, want) {
		t.Errorf("cells %q; want %q", got, want)
	}
	if got := texts(all, "p", "key"); len(got) != 1 || !strings.Contains(got[0], "likely") {
		t.Errorf("a table without room for ranges does not say that it shows likely values: %q", got)
	}
}

func TestLookupByChoice(t *testing.T) {
	all := lookup(t, calculators.Lookup{
		Caption: "c", Show: []string{"twice"}, Given: []calculators.Arg{{Name: "depth", Value: "1 m"}},
		Rows: calculators.Axis{Input: "way", Values: []string{"plain"}},
	})
	if got := texts(all, "th", "")[2]; got != "plain <way>" {
		t.Errorf("a choice heads its row as %q", got)
	}
}

func TestLookupRefuses(t *testing.T) {
	depths := calculators.Axis{Input: "depth", Values: []string{"1 m", "200 m"}}
	for says, l := range map[string]calculators.Lookup{
		"lookup row 200 m":         {Rows: depths, Show: []string{"twice"}},
		`unknown output "thrice"`:  {Rows: depths, Show: []string{"thrice"}},
		`unknown input "width"`:    {Rows: calculators.Axis{Input: "width"}, Show: []string{"twice"}},
		"shows 0 outputs":          {Rows: depths},
		"lookup cell 1 m, 99":      {Rows: depths, Columns: calculators.Axis{Input: "ph", Values: []string{"99"}}, Show: []string{"twice"}},
		"expected one, or several": {Rows: depths, Columns: calculators.Axis{Input: "ph", Values: []string{"7"}}, Show: []string{"twice", "range"}},
	} {
		if _, err := newPad().Lookup(toy(), l); err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("the error is %v; want one line that says %q", err, says)
		}
	}
}

// Every table and chart that a calculator declares must come out, each figure
// as the calculator displays it.
func TestDeclaredTablesAndCharts(t *testing.T) {
	p := newPad()
	for _, c := range pondtest.All(t).All() {
		html, err := p.Lookup(c, c.Lookup)
		if err != nil {
			t.Error(err)
			continue
		}
		cells := len(texts(markuptest.Elements(t, html), "td", ""))
		if want := len(c.Lookup.Rows.Values) * max(len(c.Lookup.Columns.Values), len(c.Lookup.Show)); cells != want {
			t.Errorf("%s: the table has %d cells; want %d", c.ID, cells, want)
		}
		if html, err = p.Chart(c, c.Chart); err != nil {
			t.Error(err)
			continue
		}
		all := markuptest.Elements(t, html)
		caption, _ := c.Fill(c.Chart.Caption, c.Chart.Given)
		if got := texts(all, "figcaption", ""); got[0] != caption {
			t.Errorf("%s: the chart's caption is %q", c.ID, got)
		}
		// Only the lines run from point to point; axes and key are straight.
		lines := 0
		for _, e := range markuptest.Find(all, "path", "") {
			if strings.Contains(e.Attrs["d"], "L") {
				lines++
			}
		}
		if want := max(1, len(c.Chart.Series.Values)); lines != want {
			t.Errorf("%s: the chart has %d lines; want %d", c.ID, lines, want)
		}
	}
}

func TestChartRefuses(t *testing.T) {
	for says, ch := range map[string]calculators.Chart{
		"at depth 1":             {X: "depth", From: "99 m", To: "150 m", Show: "twice"},
		`unknown input "width"`:  {X: "width", Show: "twice"},
		`unknown output "x"`:     {X: "depth", Show: "x"},
		"expected a rising":      {X: "depth", From: "2 m", To: "1 m", Show: "twice"},
		"is not a quantity":      {X: "way", From: "plain", To: "salty", Show: "twice"},
		`lines for the unknown`:  {X: "depth", From: "1 m", To: "2 m", Show: "twice", Series: calculators.Axis{Input: "x"}},
		"depth":                  {X: "depth", From: "1 kg", To: "2 m", Show: "twice"},
		"no value that can be d": {X: "depth", From: "0 m", To: "0.0000001 m", Show: "none", Log: true},
	} {
		c := toy()
		c.Outputs = append(c.Outputs, calculators.Output{Name: "none", Label: "Never given", Unit: "1", Digits: 1})
		if _, err := newPad().Chart(c, ch); err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("the error is %v; want one line that says %q", err, says)
		}
	}
}

func TestOrigin(t *testing.T) {
	for here, want := range map[string]string{"water/ammonia.html": "../reckon/toy.html#formulas", "index.html": "reckon/toy.html#formulas"} {
		all := markuptest.Elements(t, newPad().Origin(toy(), here))
		if got := markuptest.Find(all, "a", "")[0].Attrs["href"]; got != want {
			t.Errorf("on %s a table leads to %q; want %q", here, got, want)
		}
	}
}

// What is no number has no place in print: neither as a blank nor as a gap in a line.
func TestNothingIsLeftOutInPrint(t *testing.T) {
	c := toy()
	plain := c.Compute
	c.Compute = func(in calculators.Inputs) (calculators.Result, error) {
		r, err := plain(in)
		if in.In("depth", "m") == 2 {
			r.Values[1] = calculators.Exactly("range", math.Inf(1))
		}
		return r, err
	}
	const says = "finds no range"
	_, err := newPad().Lookup(c, calculators.Lookup{Caption: "Range", Show: []string{"range"}, Rows: calculators.Axis{Input: "depth", Values: []string{"1 m", "2 m"}}})
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("the table: %v", err)
	}
	_, err = newPad().Chart(c, calculators.Chart{Caption: "Range", Show: "range", X: "depth", From: "1 m", To: "2 m"})
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("the chart: %v", err)
	}
}
