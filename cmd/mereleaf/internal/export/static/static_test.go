package static

import (
	"encoding/xml"
	"strings"
	"testing"
)

func paper() *Rewriter {
	return &Rewriter{Prefix: "w_", Deeper: 1, Flat: true,
		Lead: func(link string) (string, string) {
			if link == "gone.html" {
				return "", ""
			}
			return "#" + link, " (W 3)"
		},
		Skip: func(t xml.StartElement, within string) bool { return full(t.Name) == "small" && within == "label" },
	}
}

func TestFlat(t *testing.T) {
	for in, want := range map[string]string{
		`<h1 id="a">A &amp; B</h1>`:                                                 `<h2 id="w_a">A &amp; B</h2>`,
		`<h6>x</h6>`:                                                                `<h6>x</h6>`,
		`<p>see <a href="x" title="long">x</a>.</p>`:                                `<p>see <a href="#x">x</a> (W 3).</p>`,
		`<a href="gone.html">x</a>`:                                                 `<a>x</a>`,
		`a<br/>b<img src="f.png" alt="f" loading="lazy"/>`:                          `a<br/>b<img src="f.png" alt="f"/>`,
		`<details open="open"><summary>S</summary>t</details>`:                      `<div><p>S</p>t</div>`,
		`<label>L <small>help</small></label><small>s</small>`:                      `<p>L </p><small>s</small>`,
		`<div role="region" tabindex="0" aria-labelledby="c">t</div>`:               `<div role="group" tabindex="0" aria-labelledby="w_c">t</div>`,
		`<div role="status">t</div>`:                                                `<div>t</div>`,
		`<td headers="a b"></td>`:                                                   `<td headers="w_a w_b"></td>`,
		`<svg role="img" aria-labelledby="t"><title id="t"/></svg>`:                 `<svg role="img" aria-labelledby="w_t"><title id="w_t"></title></svg>`,
		`<section aria-labelledby="h"><p data-web="">w</p></section>`:               `<div></div>`,
		`<select><option>a</option><option selected="selected">b</option></select>`: ` <b>b</b>`,
	} {
		got, err := paper().Rewrite(in)
		if err != nil || got != want {
			t.Errorf("%s\n got %s, %v\nwant %s", in, got, err, want)
		}
	}
}

func TestXHTMLKeepsItsNamespaces(t *testing.T) {
	r := &Rewriter{Lead: func(link string) (string, string) { return link, "" }}
	got, err := r.Rewrite(`<math><mi>x</mi></math>`)
	if want := `<math xmlns="` + mathSpace + `"><mi>x</mi></math>`; err != nil || got != want || !r.Math || r.SVG {
		t.Errorf("%s, %v", got, err)
	}
}

func TestSection(t *testing.T) {
	const text = `<p>first</p>
<h2 id="a">A</h2>
<p>in a</p>
<section><h2 id="inner">no heading of the chapter</h2></section>
<h3 id="b">B</h3>
<p>in b</p>
<h2 id="c">C</h2>
<p>in c</p>
`
	for anchor, want := range map[string]struct{ begin, end string }{
		"": {"<p>first", "first</p>\n"}, "a": {`<h2 id="a"`, "<p>in b</p>\n"}, "b": {`<h3 id="b"`, "<p>in b</p>\n"}, "c": {`<h2 id="c"`, "<p>in c</p>\n"},
	} {
		got, found, err := Section(text, anchor)
		if err != nil || !found || !strings.HasPrefix(got, want.begin) || !strings.HasSuffix(got, want.end) {
			t.Errorf("%q: %q, %v, %v", anchor, got, found, err)
		}
	}
	for _, anchor := range []string{"inner", "none"} {
		if got, found, err := Section(text, anchor); found || got != "" || err != nil {
			t.Errorf("%q: %q, %v, %v", anchor, got, found, err)
		}
	}
	if _, _, err := Section("<p>a & b</p>", "a"); err == nil || !strings.HasPrefix(err.Error(), "line 1, column ") {
		t.Error(err)
	}
}
