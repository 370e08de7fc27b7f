package page

import (
	"sort"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Stretch is a run of words in which quantities may stand: a paragraph, a heading,
// a cell, an alternative text. Its text is as a reader sees it.
type Stretch struct {
	Text  string
	Links []LinkSpan // in order

	doc    *Document // that it is of; nil for the words of a drawing
	pieces []piece
	at     diag.Position // of those
}

// DrawnStretch is the words of a drawing, all of which stand at one place.
func DrawnStretch(text string, links []LinkSpan, at diag.Position) Stretch {
	return Stretch{Text: text, Links: links, at: at}
}

// LinkSpan is where a link stands in a Stretch.
type LinkSpan struct {
	Start, End int
	Ref        *Reference
}

// piece is where a part of a Stretch comes from.
type piece struct{ at, source int }

// Pos returns the place of a byte of the text. In a piece that was written with
// escapes it is as near as that.
func (s Stretch) Pos(at int) diag.Position {
	if s.doc == nil {
		return s.at
	}
	i := sort.Search(len(s.pieces), func(i int) bool { return s.pieces[i].at > at }) - 1
	if i < 0 {
		return diag.Position{File: s.doc.File}
	}
	return s.doc.at(s.pieces[i].source + at - s.pieces[i].at)
}

// stretches takes all running text apart. Tables that are bound to figures are
// checked with these, and what stands in blocks is for who makes them.
func (s *survey) stretches() []Stretch {
	var all []Stretch
	add := func(n ast.Node) {
		w := stretchWriter{survey: s, out: Stretch{doc: s.Document}}
		w.inside(n)
		w.out.Text = w.text.String()
		all = append(all, append(w.alts, w.out)...)
	}
	_ = ast.Walk(s.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading, *ast.Paragraph, *ast.TextBlock:
			add(n)
			return ast.WalkSkipChildren, nil
		case *cautionNode:
			head := Stretch{Text: n.caution.Text, doc: s.Document, pieces: []piece{{0, s.offset(n.caution.Pos)}}}
			all = append(all, head)
		case *tableNode:
			if !n.table.Bound {
				cells(n.grid, add)
			}
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return all
}

// cells gives each cell of a table, those of its head too.
func cells(grid *extast.Table, each func(ast.Node)) {
	for row := grid.FirstChild(); row != nil; row = row.NextSibling() {
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			each(cell)
		}
	}
}

// stretchWriter writes one stretch; what describes a picture is one of its own.
type stretchWriter struct {
	*survey
	out  Stretch
	text strings.Builder
	alts []Stretch
}

func (w *stretchWriter) inside(n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			w.words(c)
		case *ast.String:
			w.text.Write(c.Value)
		case *ast.CodeSpan:
			w.text.WriteByte(' ') // as typed into a machine, not said to a reader
		case *pictureNode:
			alt := stretchWriter{survey: w.survey, out: Stretch{doc: w.Document}}
			alt.inside(c.alt)
			alt.out.Text = alt.text.String()
			w.alts = append(w.alts, alt.out)
		case *referenceNode:
			start := w.text.Len()
			w.inside(c)
			w.out.Links = append(w.out.Links, LinkSpan{start, w.text.Len(), c.ref})
		default:
			w.inside(c)
		}
	}
}

func (w *stretchWriter) words(t *ast.Text) {
	value := t.Segment.Value(w.Text)
	w.out.pieces = append(w.out.pieces, piece{w.text.Len(), t.Segment.Start})
	if !t.IsRaw() {
		value = unescape(value)
	}
	w.text.Write(value)
	if t.SoftLineBreak() || t.HardLineBreak() {
		w.text.WriteByte('\n')
	}
}

// offset returns the byte offset of a place in the file.
func (d *Document) offset(p diag.Position) int { return d.lines[p.Line-1] + p.Column - 1 }
