package onefile

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"io"
	"regexp"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

func page(title, body string) []byte {
	return []byte("<!doctype html>\n<html>\n<head>\n<title>" + title + "</title>\n</head>\n<body class=\"hue-1\">\n<main>\n" + body + "\n</main>\n</body>\n</html>\n")
}

func small(body string) Book {
	return Book{
		Title: "A & B", Language: "en",
		Leaves: []Leaf{{"index.html", page("Cover", "<p>Hello</p>")}, {"water/ph.html", page("pH &amp; KH", body)}, {"terms.html", page("Terms", "")}, {"sources.html", page("Sources", "")}, {"reckon/tower.html", page("Tower", "")}},
		Assets: bundle.Assets{CSS: "assets/a.css", Wasm: "assets/m.wasm", Single: []byte("run()"), Files: map[string][]byte{"assets/a.css": []byte("p{}"), "assets/m.wasm": []byte("\x00asm")}},
		Files:  map[string][]byte{"water/fish.png": []byte("png")},
	}
}

// unpack reads what a file holds under an id.
func unpack(t *testing.T, file []byte, id string) []byte {
	t.Helper()
	m := regexp.MustCompile(`id="` + id + `">([^<]*)</script>`).FindSubmatch(file)
	if m == nil {
		t.Fatalf("the file has no %s", id)
	}
	packed, err := base64.StdEncoding.DecodeString(string(m[1]))
	if err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestLinksStayInTheFile(t *testing.T) {
	body := `<a href="../terms.html#ph">x</a> <a href="#below">x</a> <a href="../terms.html#log.08:00">x</a> <a href="../reckon/tower.html?fish=koi,+30+cm&amp;ph=8#formulas">x</a> <a href="https://doi.org/1">x</a>` +
		` <form data-sources="../sources.html" data-reckon="../reckon/"></form> <code> href=&#34;../no.html&#34;</code> <img src="fish.png">`
	file, err := Write(small(body))
	if err != nil {
		t.Fatal(err)
	}
	var leaves map[string]leaf
	if err := json.Unmarshal(unpack(t, file, "packed_leaves"), &leaves); err != nil {
		t.Fatal(err)
	}
	got := leaves["water/ph.html"]
	if got.Title != "pH & KH" || got.Class != "hue-1" {
		t.Errorf("%+v", got)
	}
	for _, want := range []string{`href="#terms.html#ph"`, `href="#terms.html#log.08:00"`, `href="#water/ph.html#below"`, `href="#reckon/tower.html?fish=koi,+30+cm&amp;ph=8#formulas"`, `href="https://doi.org/1"`,
		`data-sources="#sources.html"`, `data-reckon="#reckon/"`, ` href="../no.html"</code>`, `src="data:image/png;base64,cG5n"`} {
		if !strings.Contains(got.Body, want) {
			t.Errorf("%s is missing in %s", want, got.Body)
		}
	}
	if string(unpack(t, file, "packed_module")) != "\x00asm" {
		t.Error("the module is not the one compiled")
	}
}

func TestTheSameBytesOnAnyDay(t *testing.T) {
	a, err := Write(small(""))
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Write(small(""))
	if !bytes.Equal(a, b) {
		t.Error("two files of one book differ")
	}
}

func TestWhatLeadsNowhereIsRefused(t *testing.T) {
	for _, c := range []struct{ body, says string }{
		{`<a href="../gone.html">x</a>`, "water/ph.html: leads to gone.html"},
		{`<img src="gone.png">`, "shows water/gone.png"},
	} {
		if _, err := Write(small(c.body)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.body, err)
		}
	}
	b := small("")
	b.Leaves[0].HTML = []byte("no page")
	if _, err := Write(b); err == nil || !strings.Contains(err.Error(), "index.html: is no page") {
		t.Errorf("%v", err)
	}
}
