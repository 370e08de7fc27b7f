package adapt

import (
	"errors"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func written(t *testing.T, target Target, fragment string) Text {
	t.Helper()
	nodes, err := Fragment(fragment)
	if err != nil {
		t.Fatal(err)
	}
	text, err := target.Write(nodes...)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func paper() Target {
	return Target{Medium: Paper, Prefix: "w_", Deeper: 1,
		Link: func(_, link string) (string, string, error) {
			if link == "gone.html" {
				return "", "", nil
			}
			return "#" + link, " (W 3)", nil
		},
		Skip: func(n *html.Node) bool { return n.Data == "small" && n.Parent != nil && n.Parent.Data == "label" },
	}
}

func TestPaper(t *testing.T) {
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
		`<table><tbody><tr><td headers="a b"></td></tr></tbody></table>`:            `<table><tbody><tr><td headers="w_a w_b"></td></tr></tbody></table>`,
		`<svg role="img" aria-labelledby="t"><title id="t"/></svg>`:                 `<svg role="img" aria-labelledby="w_t"><title id="w_t"></title></svg>`,
		`<section aria-labelledby="h"><p data-only="screen">w</p></section>`:        `<div></div>`,
		`<select><option>a</option><option selected="selected">b</option></select>`: ` <b>b</b>`,
	} {
		if got := written(t, paper(), in).HTML; got != want {
			t.Errorf("%s\n got %s\nwant %s", in, got, want)
		}
	}
}

func here(_, link string) (string, string, error) { return link, "", nil }

func TestBookIsXHTML(t *testing.T) {
	got := written(t, Target{Link: here}, `<p hidden>h</p><label>L <input value="5"></label><br><svg viewBox="0 0 1 1"/><math><mi>x</mi></math>`)
	want := `<p>L 5</p><br/><svg xmlns="` + svgSpace + `" viewBox="0 0 1 1"></svg><math xmlns="` + mathSpace + `"><mi>x</mi></math>`
	if got.HTML != want || !got.Math || !got.SVG {
		t.Errorf("%+v", got)
	}
}

func TestScreenKeepsWhatLives(t *testing.T) {
	target := Target{Medium: Screen, Link: func(attribute, link string) (string, string, error) { return attribute + ":" + link, "", nil }}
	got := written(t, target, `<ul data-only="site"><li>paper</li></ul><p data-only="screen">p</p><form data-reckon="a"><input value="&lt;" disabled=""/><button hidden="hidden" title="t">B "&amp;"</button></form><img src="p.png" alt=""/>`)
	want := `<p data-only="screen">p</p><form data-reckon="data-reckon:a"><input value="&lt;" disabled=""/><button hidden="hidden" title="t">B "&amp;"</button></form><img src="src:p.png" alt=""/>`
	if got.HTML != want {
		t.Errorf("\n got %s\nwant %s", got.HTML, want)
	}
}

func TestWriteReportsALinkThatLeadsNowhere(t *testing.T) {
	nodes, err := Fragment(`<a href="x">x</a>`)
	if err != nil {
		t.Fatal(err)
	}
	gone := errors.New("gone")
	if _, err := (Target{Link: func(_, _ string) (string, string, error) { return "", "", gone }}).Write(nodes...); !errors.Is(err, gone) {
		t.Error(err)
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
	all, err := Fragment(text)
	if err != nil {
		t.Fatal(err)
	}
	for anchor, want := range map[string]struct{ begin, end string }{
		"": {"<p>first", "first</p>\n"}, "a": {`<h2 id="a"`, "<p>in b</p>\n"}, "b": {`<h3 id="b"`, "<p>in b</p>\n"}, "c": {`<h2 id="c"`, "<p>in c</p>\n"},
	} {
		section, found := Section(all, anchor)
		got, err := Target{Medium: Screen, Link: here}.Write(section...)
		if err != nil || !found || !strings.HasPrefix(got.HTML, want.begin) || !strings.HasSuffix(got.HTML, want.end) {
			t.Errorf("%q: %q, %v, %v", anchor, got.HTML, found, err)
		}
	}
	for _, anchor := range []string{"inner", "none"} {
		if got, found := Section(all, anchor); found || got != nil {
			t.Errorf("%q: %v, %v", anchor, got, found)
		}
	}
}

func TestRead(t *testing.T) {
	p, err := Read([]byte("<!doctype html><html><head><title>W 3 pH · Book</title></head><body class=\"hue-1\">\n<header>h</header>\n<main>\n<p>t</p>\n</main>\n</body></html>"))
	if err != nil {
		t.Fatal(err)
	}
	main, err := Target{Link: here}.Write(p.Main...)
	if err != nil || p.Title != "W 3 pH · Book" || p.Class != "hue-1" || main.HTML != "<p>t</p>\n" {
		t.Errorf("%q, %q, %q, %v", p.Title, p.Class, main.HTML, err)
	}
	body, err := Target{Medium: Screen, Link: here}.Write(p.Body...)
	if want := "<header>h</header>\n<main>\n<p>t</p>\n</main>\n"; err != nil || body.HTML != want {
		t.Errorf("%q, %v", body.HTML, err)
	}
	if _, err := Read([]byte("no page")); err == nil {
		t.Error("took what is no page")
	}
}
