package page

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Entry is one term of the file of terms: a heading of level 2, a paragraph
// that explains it, and perhaps a paragraph "Also: other word, another."
type Entry struct {
	Name string
	Slug string
	Also []string
	Pos  diag.Position

	doc         *Document
	explanation *ast.Paragraph
}

// HTML returns the content of the explanation.
func (e Entry) HTML(r Resolved) (string, error) { return e.doc.inner(r, e.explanation) }

// Text returns the explanation as plain text.
func (e Entry) Text() string { return e.doc.plain(e.explanation) }

// Entries returns the terms of a file of terms.
func (d *Document) Entries() ([]Entry, diag.List) {
	var entries []Entry
	var faults diag.List
	for n := d.root.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok || h == d.title {
			continue
		}
		e := Entry{Name: d.plain(h), Pos: d.at(h.Pos()), doc: d}
		e.Slug = Anchor(e.Name)
		p, ok := h.NextSibling().(*ast.Paragraph)
		if !ok || h.Level != 2 {
			faults.Add(diag.Diagnostic{Position: e.Pos, Problem: "the term \"" + e.Name + "\" is not explained",
				Want: "a heading of level 2 and a paragraph", Remedy: "write the paragraph below the heading"})
			continue
		}
		e.explanation = p
		if also, ok := p.NextSibling().(*ast.Paragraph); ok {
			e.Also = alsoNames(d.plain(also))
		}
		entries = append(entries, e)
	}
	return entries, faults
}

// alsoNames takes "Also: KH, carbonate hardness." apart.
func alsoNames(text string) []string {
	rest, ok := strings.CutPrefix(text, "Also:")
	if !ok {
		return nil
	}
	names := strings.Split(strings.TrimRight(strings.TrimSpace(rest), "."), ",")
	for i, n := range names {
		names[i] = strings.TrimSpace(n)
	}
	return names
}
