// Package ebook makes the handbook an e-book: EPUB 3.3, reflowable. What
// computes is replaced by its worked example, its lookup table and its chart,
// which stand in the pages already.
//
// It touches nothing outside the program.
package ebook

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"time"

	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/export/adapt"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// Book is what the e-book is made of.
type Book struct {
	Title, Subtitle, Club, Language string
	Issued                          string            // "2026-11-25", which stands in the book as the day of its last change
	Pages                           []Page            // in reading order; the first is the cover
	Tasks                           []Link            // what a reader in need looks for first
	Files                           map[string][]byte // pictures, by path
	Style                           []byte
}

// Page is one page of the web edition. Parts, and what stands in them, make the
// table of contents.
type Page struct {
	Path  string
	HTML  []byte
	Under string // path of the page below whose title this one is listed; "" for the top
	Plain bool   // left out of the table of contents
}

// Link leads to a page, perhaps to a place on it.
type Link struct{ To, Title string }

// page is a page ready to be packed.
type page struct {
	Page
	title, body string
	svg, math   bool
}

// Write returns the e-book. The error names the page that cannot be taken in.
func Write(b Book) ([]byte, error) {
	pages, err := b.pages()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	add := func(name string, content string, method uint16) {
		if err == nil {
			err = pack(z, name, []byte(content), method)
		}
	}
	add("mimetype", "application/epub+zip", zip.Store) // first and stored, OCF 3.3 section 4.3
	add("META-INF/container.xml", container, zip.Deflate)
	add("book/book.opf", b.packageDocument(pages), zip.Deflate)
	add("book/nav.xhtml", b.navigation(pages), zip.Deflate)
	add("book/book.css", string(b.Style), zip.Deflate)
	for i := range pages {
		add("book/"+inBook(pages[i].Path), b.frame(pages[i].title, relative(pages[i].Path), pages[i].body), zip.Deflate)
	}
	for _, name := range sorted(b.Files) {
		add("book/"+name, string(b.Files[name]), zip.Store)
	}
	if err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// pack adds a file without a time, so that the same book has the same bytes.
func pack(z *zip.Writer, name string, content []byte, method uint16) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: time.Time{}})
	if err != nil {
		return err
	}
	_, err = w.Write(content)
	return err
}

const container = `<?xml version="1.0" encoding="UTF-8"?>
<container version="1.0" xmlns="urn:oasis:names:tc:opendocument:xmlns:container">
<rootfiles><rootfile full-path="book/book.opf" media-type="application/oebps-package+xml"/></rootfiles>
</container>
`

func (b *Book) pages() ([]page, error) {
	has := map[string]bool{}
	for _, p := range b.Pages {
		has[p.Path] = true
	}
	var pages []page
	for _, p := range b.Pages {
		from, err := adapt.Read(p.HTML)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Path, err)
		}
		t := adapt.Target{Medium: adapt.Book, Link: func(_, link string) (string, string, error) { return lead(p.Path, link, has), "", nil }}
		text, err := t.Write(from.Main...)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Path, err)
		}
		title, _, _ := strings.Cut(from.Title, " · ") // without the handbook's
		pages = append(pages, page{Page: p, title: title, body: text.HTML, svg: text.SVG, math: text.Math})
	}
	return pages, nil
}

// lead turns a link on a page into one between pages of the book; "" if it leads
// to a page that a book has no use for.
func lead(from, link string, has map[string]bool) string {
	if paths.Outside(link) || strings.HasPrefix(link, "#") {
		return link
	}
	target, fragment, hashed := strings.Cut(link, "#")
	target, _, _ = strings.Cut(target, "?")
	if !has[path.Join(path.Dir(from), target)] {
		return ""
	}
	link = inBook(target)
	if hashed {
		link += "#" + fragment
	}
	return link
}

func inBook(path string) string { return strings.TrimSuffix(path, ".html") + ".xhtml" }

// relative leads from a page to the folder of the book.
func relative(from string) string { return strings.Repeat("../", strings.Count(from, "/")) }

// frame puts a text into a page.
func (b *Book) frame(title, up, body string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<html xmlns="http://www.w3.org/1999/xhtml" xmlns:epub="http://www.idpf.org/2007/ops" lang="` + b.Language + `" xml:lang="` + b.Language + `">
<head>
<meta charset="utf-8"/>
<title>` + markup.Escape(title) + `</title>
<link rel="stylesheet" href="` + up + `book.css"/>
</head>
<body>
` + body + `</body>
</html>
`
}

// navigation is the table of contents, by part and by task (EPUB 3.3, section
// 7).
func (b *Book) navigation(pages []page) string {
	var m markup.Builder
	m.Open("nav", "epub:type", "toc", "id", "toc", "role", "doc-toc")
	m.Leaf("h1", "What is in it")
	m.Open("ol")
	for _, p := range pages {
		if p.Under != "" || p.Plain {
			continue
		}
		m.Open("li")
		m.Leaf("a", p.title, "href", inBook(p.Path))
		below(&m, pages, p.Path)
		m.Close()
		m.Line()
	}
	m.Close()
	m.Close()
	m.Line()
	if len(b.Tasks) > 0 {
		m.Open("nav", "epub:type", "index", "id", "tasks", "aria-labelledby", "tasks-title")
		m.Leaf("h2", "What do you see?", "id", "tasks-title")
		m.Open("ol")
		for _, t := range b.Tasks {
			to, fragment, hashed := strings.Cut(t.To, "#")
			to = inBook(to)
			if hashed {
				to += "#" + fragment
			}
			m.Open("li")
			m.Leaf("a", t.Title, "href", to)
			m.Close()
		}
		m.Close()
		m.Close()
		m.Line()
	}
	m.Open("nav", "epub:type", "landmarks", "hidden", "hidden")
	m.Open("ol")
	for _, l := range [][3]string{{"cover", inBook(pages[0].Path), "Cover"}, {"toc", "nav.xhtml#toc", "What is in it"}} {
		m.Open("li")
		m.Leaf("a", l[2], "epub:type", l[0], "href", l[1])
		m.Close()
	}
	return b.frame(b.Title, "", m.String()+"\n")
}

func below(m *markup.Builder, pages []page, parent string) {
	open := false
	for _, p := range pages {
		if p.Under != parent || p.Plain {
			continue
		}
		if !open {
			m.Open("ol")
			open = true
		}
		m.Open("li")
		m.Leaf("a", p.title, "href", inBook(p.Path))
		m.Close()
	}
	if open {
		m.Close()
	}
}

// packageDocument lists what is in the book and in which order it is read.
func (b *Book) packageDocument(pages []page) string {
	var m markup.Builder
	m.Open("package", "xmlns", "http://www.idpf.org/2007/opf", "version", "3.0", "unique-identifier", "id", "xml:lang", b.Language)
	m.Open("metadata", "xmlns:dc", "http://purl.org/dc/elements/1.1/")
	m.Leaf("dc:identifier", b.identifier(), "id", "id")
	m.Leaf("dc:title", b.Title)
	m.Leaf("dc:language", b.Language)
	m.Leaf("dc:creator", b.Club)
	m.Leaf("dc:description", b.Subtitle)
	m.Leaf("meta", b.Issued+"T00:00:00Z", "property", "dcterms:modified")
	for _, property := range [][2]string{
		{"accessMode", "textual"}, {"accessMode", "visual"}, {"accessModeSufficient", "textual"},
		{"accessibilityFeature", "tableOfContents"}, {"accessibilityFeature", "structuralNavigation"}, {"accessibilityFeature", "alternativeText"}, {"accessibilityFeature", "MathML"},
		{"accessibilityHazard", "none"},
		{"accessibilitySummary", "Text that reflows, formulas as MathML, drawings with names. Each chart stands beside the table of its numbers."},
	} {
		m.Leaf("meta", property[1], "property", "schema:"+property[0])
	}
	m.Close()
	m.Line()
	m.Open("manifest")
	m.Void("item", "id", "nav", "href", "nav.xhtml", "media-type", "application/xhtml+xml", "properties", "nav")
	m.Void("item", "id", "style", "href", "book.css", "media-type", "text/css")
	for i := range pages {
		m.Line()
		m.Void("item", "id", id(i), "href", inBook(pages[i].Path), "media-type", "application/xhtml+xml", "properties", pages[i].properties())
	}
	for i, name := range sorted(b.Files) {
		m.Void("item", "id", "file"+id(i), "href", name, "media-type", mediaType(name))
	}
	m.Close()
	m.Line()
	m.Open("spine")
	m.Void("itemref", "idref", id(0))
	m.Void("itemref", "idref", "nav")
	for i := 1; i < len(pages); i++ {
		m.Void("itemref", "idref", id(i))
	}
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + m.String() + "\n"
}

func (p *page) properties() string {
	var all []string
	if p.math {
		all = append(all, "mathml")
	}
	if p.svg {
		all = append(all, "svg")
	}
	return strings.Join(all, " ")
}

func id(i int) string { return fmt.Sprintf("leaf%d", i) }

// identifier is the same for all editions of one handbook, RFC 9562 version 8.
func (b *Book) identifier() string {
	sum := sha256.Sum256([]byte(b.Title + "\n" + b.Club))
	sum[6], sum[8] = sum[6]&0x0f|0x80, sum[8]&0x3f|0x80
	h := hex.EncodeToString(sum[:16])
	return "urn:uuid:" + h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

func mediaType(name string) string {
	switch path.Ext(name) {
	case ".png":
		return "image/png"
	case ".jpg", ".jpeg":
		return "image/jpeg"
	}
	return "application/octet-stream"
}

func sorted(files map[string][]byte) []string {
	return slices.Sorted(maps.Keys(files))
}
