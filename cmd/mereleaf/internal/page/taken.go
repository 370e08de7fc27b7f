package page

import (
	"fmt"
	"math"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// A section is taken where a paragraph is one link to it,
// [What to do](take:../safety/05-emergencies.md#fish-gasp): it stands there with
// its own words, which so stand in one file only.

// kindTaken is the kind of a paragraph that takes a section. It holds the words of
// the link, which the section takes the place of.
var kindTaken = ast.NewNodeKind("Taken")

type takenNode struct {
	ast.BaseBlock
	ref *Reference
}

// Kind implements ast.Node.
func (*takenNode) Kind() ast.NodeKind { return kindTaken }

// Dump implements ast.Node.
func (n *takenNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

func writeTaken(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		w.(*drafter).gap(takenGap, node.(*takenNode).ref.Index)
	}
	return ast.WalkSkipChildren, nil
}

// alone reports whether a link is all of a paragraph, which it returns.
func alone(n *ast.Link) (*ast.Paragraph, bool) {
	p, ok := n.Parent().(*ast.Paragraph)
	return p, ok && p.ChildCount() == 1
}

// Taken is a section of a chapter with what the links of that chapter come to on the
// leaf of another.
type Taken struct {
	Doc      *Document
	Anchor   string
	Resolved Resolved
}

// take writes a section in the place of the paragraph that takes it.
func (s *sheet) take(r *Reference) error {
	t, err := s.resolved.Taken(r)
	if err != nil {
		return err
	}
	t.Resolved.Short = s.resolved.Short
	at := t.Doc.sections[t.Anchor]
	html, err := t.Doc.draft.write(t.Doc, t.Resolved, at.from, at.to)
	_, _ = s.WriteString(html)
	return err
}

// section is what stands in a draft below a heading, up to the next of its level or
// above.
type section struct {
	level    int
	from, to spot
}

// mark notes in a draft that a heading has been reached: it ends sections.
func (d *Document) mark(h *ast.Heading, at spot) {
	for anchor, s := range d.sections {
		if s.to == (spot{}) && s.level >= h.Level {
			s.to = at
			d.sections[anchor] = s
		}
	}
}

// open notes that a section begins behind a heading.
func (d *Document) open(h *ast.Heading, at spot) {
	if id, ok := h.AttributeString("id"); ok {
		d.sections[string(id.([]byte))] = section{level: h.Level, from: at}
	}
}

// Lends returns what is wrong with a section for being taken, at the place of what
// is wrong: elsewhere only words have a meaning, and not what is reckoned or bound
// below them. ok is true if nothing is.
func (d *Document) Lends(anchor string) (at diag.Position, what string, ok bool) {
	first, last := d.linesUnder(anchor)
	within := func(p diag.Position) bool { return p.Line > first && p.Line < last }
	for _, h := range d.Headings {
		if within(h.Pos) {
			return h.Pos, "a heading", false
		}
	}
	for _, t := range d.Tables {
		if within(t.Pos) {
			return t.Pos, "a table", false
		}
	}
	for _, b := range d.Blocks {
		if within(b.Pos) {
			return b.Pos, fmt.Sprintf("a block, %s", b.Kind), false
		}
	}
	for _, p := range d.Pictures {
		if within(p.Pos) {
			return p.Pos, "a picture", false
		}
	}
	for _, r := range d.References {
		if within(r.Pos) && r.Scheme == ToTake {
			return r.Pos, "a section that it takes itself", false
		}
	}
	return diag.Position{}, "", true
}

// linesUnder returns the lines between which a section stands: its heading's and that of
// the next of its level or above. For "" that is what stands before the first heading.
func (d *Document) linesUnder(anchor string) (first, last int) {
	last = math.MaxInt
	level := 0
	for _, h := range d.Headings {
		switch {
		case first == 0 && anchor != "":
			if h.Anchor == anchor {
				first, level = h.Pos.Line, h.Level
			}
		case anchor == "" || h.Level <= level:
			return first, h.Pos.Line
		}
	}
	return first, last
}

// CautionsUnder returns the cautions that a section words itself.
func (d *Document) CautionsUnder(anchor string) []Caution {
	first, last := d.linesUnder(anchor)
	var under []Caution
	for _, c := range d.Cautions {
		if c.Pos.Line > first && c.Pos.Line < last {
			under = append(under, c)
		}
	}
	return under
}
