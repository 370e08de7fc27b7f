package main

import (
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

func TestRead(t *testing.T) {
	grammar := quantity.Grammar{Words: true, Nouns: func(word string) (string, bool) {
		return "box", word == "box" || word == "boxes"
	}}
	for body, want := range map[string]string{
		`<p>Feed at <span data-q="18 Cel">18 °C</span>, one of two, by 2008.</p>`: "",
		`<p>Feed at 18 °C.</p>`:                                     "18 °C",
		`<p>Feed at <em>18</em> °C.</p>`:                            "18 °C", // in two elements
		`<p>Stack <a href="#n">five</a> boxes.</p>`:                 "five boxes",
		`<p>Below <span data-q="5 mg/L">5 mg/L</span> or pH 7.</p>`: "7",
		`<table><tr><td>7</td><td>18 °C</td></tr></table>`:          "18 °C", // only the 7 may have its unit in the heading
		`<ul><li><b>5</b> Boxes and lids</li></ul>`:                 "",      // a page's sign and its name
		`<p><b>2025-09-06 18:00</b> pH <code>7 mg/L</code></p>`:     "",
		`<p class="source">Printed as 65 °F.</p>`:                   "",
		`<svg><text>5</text><text>5 m</text></svg>`:                 "5 m",
	} {
		c := count{grammar: grammar, reasons: map[string]int{}}
		if err := c.read("page.html", strings.NewReader("<html><main>"+body+"</main></html>")); err != nil {
			t.Errorf("%s: %v", body, err)
		}
		got := []string{}
		for _, left := range c.left {
			got = append(got, strings.Split(left, ": ")[1])
		}
		if got := strings.Join(got, ", "); got != want {
			t.Errorf("%s: left %q, want %q", body, got, want)
		}
	}
}

// The pages of figure sets keep the words of their sources; on any other page the
// same words are left.
func TestFigurePages(t *testing.T) {
	for path, want := range map[string]int{"out/web/figures/salt.html": 0, "out/web/water/salt.html": 1} {
		c := count{reasons: map[string]int{}}
		if err := c.read(path, strings.NewReader("<main><p>At most 0.11 % off.</p></main>")); err != nil || len(c.left) != want {
			t.Errorf("%s: %d left, want %d (%v)", path, len(c.left), want, err)
		}
	}
}
