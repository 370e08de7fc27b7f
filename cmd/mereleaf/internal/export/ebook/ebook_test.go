package ebook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strings"
	"testing"
)

func web(title, body string) []byte {
	return []byte("<!doctype html>\n<html>\n<head>\n<title>" + title + " · Small</title>\n</head>\n<body>\n<main id=\"leaf_text\">\n" + body + "</main>\n</body>\n</html>\n")
}

func small() Book {
	return Book{
		Title: "Small & plain", Club: "Lower Reach", Language: "en", Issued: "2026-11-25", Style: []byte("p{}"),
		Pages: []Page{
			{Path: "index.html", HTML: web("Cover", `<h1>Cover</h1>`)},
			{Path: "water/index.html", HTML: web("Water", `<h1>Water</h1>`)},
			{Path: "water/ph.html", HTML: web("W 1 pH &amp; KH", body), Under: "water/index.html"},
			{Path: "sources.html", HTML: web("Sources", `<p id="key">S</p>`)},
		},
		Tasks: []Link{{"water/ph.html#now", "It fell"}},
		Files: map[string][]byte{"water/fish.png": []byte("png")},
	}
}

const body = `<p>1 &lt; 2&nbsp;L <a href="../sources.html#key">s</a> <a href="../record.html">my pond</a> <a href="index.html?x=1">up</a> <a href="https://doi.org/1">d</a></p>
<form data-calculator="ph" autocomplete="off"><fieldset disabled="disabled"><legend>Given</legend><div class="row" data-input="ph"><label for="a"><span>pH</span></label><input id="a" value="8.2"/><select class="unit"><option value="1">none</option><option value="2" selected="selected">mg/L</option></select></div>
<div class="row" hidden="hidden"><input value="unseen"/></div><button type="button">Add</button></fieldset><div class="faults"></div><div class="answer"><output role="presentation">0.1</output><svg viewBox="0 0 1 1" role="img"><title>t</title></svg><math><mi>x</mi></math></div></form>
<h2 id="now">Now</h2>
`

func unpack(t *testing.T, book []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for i, f := range z.File {
		if i == 0 && (f.Name != "mimetype" || f.Method != zip.Store) {
			t.Errorf("the first file is %s, packed by method %d", f.Name, f.Method)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		files[f.Name] = string(text)
	}
	return files
}

func TestABook(t *testing.T) {
	book, err := Write(small())
	if err != nil {
		t.Fatal(err)
	}
	files := unpack(t, book)
	for name, text := range files {
		if ext := path.Ext(name); ext != ".xhtml" && ext != ".opf" && ext != ".xml" {
			continue
		}
		d := xml.NewDecoder(strings.NewReader(text))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
	ph := files["book/water/ph.xhtml"]
	for _, want := range []string{"<title>W 1 pH &amp; KH</title>", "1 &lt; 2\u00a0L", `<a href="../sources.xhtml#key">`, "<a>my pond</a>", `<a href="index.xhtml">`, `<a href="https://doi.org/1">`,
		`<p><span>pH</span></p>8.2 <b>mg/L</b>`, "<strong>0.1</strong>", `<svg xmlns="http://www.w3.org/2000/svg" viewBox`, `<math xmlns="http://www.w3.org/1998/Math/MathML">`, `href="../book.css"`} {
		if !strings.Contains(ph, want) {
			t.Errorf("%s is missing in %s", want, ph)
		}
	}
	for _, not := range []string{"button", "unseen", "data-", "<form", "fieldset", "faults"} {
		if strings.Contains(ph, not) {
			t.Errorf("%q is left in %s", not, ph)
		}
	}
	for _, want := range []string{`href="water/ph.xhtml" media-type="application/xhtml+xml" properties="mathml svg"`, "schema:accessibilitySummary", "2026-11-25T00:00:00Z", `href="water/fish.png" media-type="image/png"`} {
		if !strings.Contains(files["book/book.opf"], want) {
			t.Errorf("%s is missing in the package document", want)
		}
	}
	nav := files["book/nav.xhtml"]
	if !strings.Contains(nav, `<a href="water/index.xhtml">Water</a><ol><li><a href="water/ph.xhtml">W 1 pH &amp; KH</a></li></ol>`) || !strings.Contains(nav, `<a href="water/ph.xhtml#now">It fell</a>`) {
		t.Error(nav)
	}
}

func TestTheSameBytes(t *testing.T) {
	a, err := Write(small())
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Write(small())
	if !bytes.Equal(a, b) {
		t.Error("two books of one handbook differ")
	}
}

// Readers of e-books refuse a page that is not well-formed, so none leaves here.
func TestEveryPageIsWellFormed(t *testing.T) {
	for text, want := range map[string]string{"<p>open": "<p>open</p>", "<p>x</b></p>": "<p>x</p>", "<p>a & b</p>": "<p>a &amp; b</p>"} {
		b := small()
		b.Pages[2].HTML = web("x", text)
		book, err := Write(b)
		if err != nil {
			t.Fatal(err)
		}
		if got := unpack(t, book)["book/water/ph.xhtml"]; !strings.Contains(got, want) {
			t.Errorf("%s: %s", text, got)
		}
	}
}

func TestWhatIsNoPageIsRefused(t *testing.T) {
	b := small()
	b.Pages[1].HTML = nil
	if _, err := Write(b); err == nil || !strings.Contains(err.Error(), "water/index.html: is no page") {
		t.Error(err)
	}
}
