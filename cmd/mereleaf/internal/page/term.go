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
	Text string // the explanation, plain
	Pos  diag.Position

	doc         *Document
	explanation draft
}

// HTML returns the content of the explanation.
func (e Entry) HTML(r Resolved) (string, error) {
	return e.explanation.write(e.doc, r, spot{}, e.explanation.end())
}

// ParseTerms reads a file of terms: a Document, with its faults as Parse returns
// them, and its terms, with the faults of these alone.
func ParseTerms(file string, source []byte) (doc *Document, faults diag.List, terms []Entry, unexplained diag.List) {
	s := look(file, source)
	terms, unexplained = s.entries()
	return s.Document, s.faults, terms, unexplained
}

func (s *survey) entries() ([]Entry, diag.List) {
	var entries []Entry
	var faults diag.List
	for n := s.root.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok || h == s.title {
			continue
		}
		e := Entry{Name: s.plain(h), Pos: s.at(h.Pos()), doc: s.Document}
		e.Slug = Anchor(e.Name)
		p, ok := h.NextSibling().(*ast.Paragraph)
		if !ok || h.Level != 2 {
			faults.Add(diag.Diagnostic{Position: e.Pos, Problem: "the term \"" + e.Name + "\" is not explained",
				Want: "a heading of level 2 and a paragraph", Remedy: "write the paragraph below the heading"})
			continue
		}
		e.explanation, e.Text = s.draftInside(p), s.plain(p)
		if also, ok := p.NextSibling().(*ast.Paragraph); ok {
			e.Also = alsoNames(s.plain(also))
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
