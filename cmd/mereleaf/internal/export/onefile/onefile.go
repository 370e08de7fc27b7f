// Package onefile puts the whole handbook into one HTML file that opens from a
// folder, without a server: every leaf of the web edition, compressed, with the
// script, the style sheet and the calculators' module.
//
// A leaf is shown by the fragment of the address, "#water/ammonia.html", so that
// back, bookmarks and links work. Its own anchors follow behind a second "#",
// what a link says to its calculator behind "?".
//
// It touches nothing outside the program.
package onefile

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"mime"
	"path"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/export/adapt"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// Leaf is one page of the web edition.
type Leaf struct {
	Path string
	HTML []byte
}

// Book is what the file is made of. Files are what pages load, by path.
type Book struct {
	Title, Language string
	Leaves          []Leaf
	Assets          bundle.Assets
	Files           map[string][]byte
}

// leaf is a page as the script of the file reads it.
type leaf struct {
	Title string `json:"t"`
	Class string `json:"c"`
	Body  string `json:"b"`
}

// Write returns the file. The error names the leaf that cannot be taken in.
func Write(b Book) ([]byte, error) {
	leaves := map[string]leaf{} // JSON sorts its keys
	for _, page := range b.Leaves {
		l, err := b.take(page)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", page.Path, err)
		}
		leaves[page.Path] = l
	}
	text, err := marshal(leaves)
	if err != nil {
		return nil, err
	}
	style, script := string(b.Assets.Files[b.Assets.CSS])+string(b.Assets.Files[b.Assets.LogStyle]), string(b.Assets.Single)
	var out bytes.Buffer
	fmt.Fprintf(&out, `<!doctype html>
<html lang="%s">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src %s 'wasm-unsafe-eval'; style-src %s; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>%s</title>
<link rel="icon" href="data:,">
<style>%s</style>
</head>
<body>
<noscript><h1>%s</h1><p>This file holds the whole handbook, packed. It needs JavaScript to unpack it; the web edition and the e-book can be read without.</p></noscript>
<script type="text/plain" id="packed_leaves">%s</script>
<script type="text/plain" id="packed_module">%s</script>
<script type="text/plain" id="packed_find">%s</script>
<script>%s</script>
</body>
</html>
`, html.EscapeString(b.Language), source(script), source(style), html.EscapeString(b.Title), style, html.EscapeString(b.Title),
		packed(text), packed(b.Assets.Files[b.Assets.Wasm]), packed(b.Assets.Files[b.Assets.Find]), script)
	return out.Bytes(), nil
}

// marshal keeps <, > and & as they are: the text is compressed, and short.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// source names an inline script or style in a Content-Security-Policy.
func source(content string) string {
	sum := sha256.Sum256([]byte(content))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// packed compresses bytes, the same for the same bytes on any day.
func packed(content []byte) string {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is legal, and a Buffer cannot fail
	_, _ = w.Write(content)
	_ = w.Close()
	return base64.StdEncoding.EncodeToString(b.Bytes())
}

// take makes a page of the web edition a leaf of the file.
func (b Book) take(page Leaf) (leaf, error) {
	from, err := adapt.Read(page.HTML)
	if err != nil {
		return leaf{}, err
	}
	t := adapt.Target{Medium: adapt.Screen, Link: func(attribute, link string) (string, string, error) {
		to, err := b.lead(page.Path, attribute, link)
		return to, "", err
	}}
	text, err := t.Write(from.Body...)
	return leaf{Title: from.Title, Class: from.Class, Body: text.HTML}, err
}

// lead turns a link from a page into one inside the file.
func (b Book) lead(from, attribute, link string) (string, error) {
	if paths.Outside(link) {
		return link, nil
	}
	target, fragment, hashed := strings.Cut(link, "#")
	target, query, asked := strings.Cut(target, "?")
	to := from
	if target != "" {
		to = path.Join(path.Dir(from), target)
	}
	if attribute == "src" {
		content, ok := b.Files[to]
		if !ok {
			return "", fmt.Errorf("shows %s, which the edition does not hold; restore the picture", to)
		}
		return "data:" + mime.TypeByExtension(path.Ext(to)) + ";base64," + base64.StdEncoding.EncodeToString(content), nil
	}
	if attribute == "data-index" {
		return "#packed_find", nil
	}
	if attribute == "data-reckon" {
		return "#" + path.Join(path.Dir(from), target) + "/", nil
	}
	if !slices.ContainsFunc(b.Leaves, func(l Leaf) bool { return l.Path == to }) {
		return "", fmt.Errorf("leads to %s, which the edition does not hold", to)
	}
	to = "#" + to
	if asked {
		to += "?" + query
	}
	if hashed {
		to += "#" + fragment
	}
	return to, nil
}
