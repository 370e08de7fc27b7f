package page

import (
	"bytes"
	"errors"
	"slices"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// kindTable is the kind of a table with its caption; goldmark's own table node
// is its only child.
var kindTable = ast.NewNodeKind("BoundTable")

type tableNode struct {
	ast.BaseBlock
	table *Table
	grid  *extast.Table
	// caption is the paragraph that binds the table; nil for none. It is no
	// longer in the tree.
	caption *ast.Paragraph
}

// Kind implements ast.Node.
func (*tableNode) Kind() ast.NodeKind { return kindTable }

// Dump implements ast.Node.
func (n *tableNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// captionLink returns the link that is all of a paragraph and binds a table;
// nil if the paragraph is another.
func (s *survey) captionLink(p *ast.Paragraph) *ast.Link {
	if p == nil {
		return nil
	}
	link, ok := p.FirstChild().(*ast.Link)
	if ok && p.ChildCount() == 1 && bytes.HasPrefix(link.Destination, []byte(ToFigures+":")) {
		return link
	}
	return nil
}

// beforeTable reports whether a table follows the paragraph.
func beforeTable(p *ast.Paragraph) bool {
	_, ok := p.NextSibling().(*extast.Table)
	return ok
}

func (s *survey) table(grid *extast.Table) {
	t := &Table{Index: len(s.Tables), Pos: s.at(grid.Pos())}
	node := &tableNode{table: t, grid: grid}
	node.SetPos(grid.Pos())
	if before, ok := grid.PreviousSibling().(*tableCaption); ok {
		t.Bound, t.Figure.Caption = true, before.ref
		node.caption = before.paragraph
		before.Parent().RemoveChild(before.Parent(), before)
	}
	s.tabs(grid)
	t.Figure.Rows = make([][]figures.BodyCell, 0, grid.ChildCount()-1)
	for row := grid.FirstChild(); row != nil; row = row.NextSibling() {
		_, head := row.(*extast.TableHeader)
		cells := make([]figures.BodyCell, 0, row.ChildCount())
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			if cell.Lines().Len() == 0 && cell.Pos() < 0 {
				cell.SetPos(row.Pos()) // goldmark fills short rows with cells of no place
			}
			cells = append(cells, s.cell(cell))
		}
		if head {
			for _, c := range cells {
				t.Figure.Head = append(t.Figure.Head, figures.HeadCell(c))
			}
			continue
		}
		t.Figure.Rows = append(t.Figure.Rows, cells)
	}
	if !t.Bound {
		s.unbound(t)
	}
	s.Tables = append(s.Tables, t)
	grid.Parent().ReplaceChild(grid.Parent(), grid, node)
}

// cell reads a cell. A figures: link that is all of it holds constraints and is
// replaced by its text; other links are references.
func (s *survey) cell(cell ast.Node) figures.BodyCell {
	c := figures.BodyCell{Text: s.plain(cell), Pos: s.at(cellStart(cell))}
	link, ok := cell.FirstChild().(*ast.Link)
	if ok && cell.ChildCount() == 1 && bytes.HasPrefix(link.Destination, []byte(ToFigures+":")) {
		c.Ref = s.figuresRef(link)
		replaceByChildren(link)
	}
	before := len(s.References)
	s.children(cell)
	c.Quoted = slices.ContainsFunc(s.References[before:], (*Reference).Quantity)
	return c
}

// unbound refuses numbers in a table that no caption binds to figures.
func (s *survey) unbound(t *Table) {
	for _, row := range t.Figure.Rows {
		for _, cell := range row {
			if cell.Quoted {
				continue
			}
			_, err := figures.ReadAmount(cell.Text)
			var refused *figures.AmountError
			if err == nil || errors.As(err, &refused) && refused.Number {
				s.faults.Add(diag.Diagnostic{Position: cell.Pos, Problem: "the number \"" + cell.Text + "\" is bound to no figure",
					Want: "a paragraph just before the table that holds only [caption](figures:SET)", Remedy: "bind the table to the figure set that has the number"})
			}
		}
	}
}

func cellStart(cell ast.Node) int {
	if lines := cell.Lines(); lines.Len() > 0 {
		return lines.At(0).Start
	}
	return cell.Pos()
}

// figuresRef reads a figures: link; nil, with a fault, if it is malformed.
func (s *survey) figuresRef(link *ast.Link) *figures.Ref {
	ref, problem := parseReference(string(link.Destination))
	if problem != "" {
		s.fault(s.destination(link), problem, "figures:SET?column=value", "correct the link")
		return nil
	}
	ref.Text = s.plain(link)
	f := ref.figureRef(s.at(s.destination(link)))
	return &f
}

func replaceByChildren(n ast.Node) {
	parent := n.Parent()
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		parent.InsertBefore(parent, n, c)
		c = next
	}
	parent.RemoveChild(parent, n)
}

// tabs refuses tabs in a table: viewers align them differently, and a copied
// spreadsheet row is a table to no one.
func (s *survey) tabs(grid *extast.Table) {
	start, end := max(grid.Pos(), 0), s.tableEnd(grid)
	for at := start; at < end; at++ {
		i := bytes.IndexByte(s.Text[at:end], '\t')
		if i < 0 {
			return
		}
		at += i
		s.fault(at, "there is a tab in the table", "cells divided by |", "put | or a space in its place")
	}
}

func (s *survey) tableEnd(grid *extast.Table) int {
	row := grid.LastChild()
	if row == nil || row.Pos() < 0 {
		return len(s.Text)
	}
	i := bytes.IndexByte(s.Text[row.Pos():], '\n')
	if i < 0 {
		return len(s.Text)
	}
	return row.Pos() + i
}

// kindCaption is the kind of a paragraph that binds the table behind it.
var kindCaption = ast.NewNodeKind("TableCaption")

// tableCaption stands for such a paragraph until the table is reached.
type tableCaption struct {
	ast.BaseBlock
	paragraph *ast.Paragraph
	ref       figures.Ref
}

// Kind implements ast.Node.
func (*tableCaption) Kind() ast.NodeKind { return kindCaption }

// Dump implements ast.Node.
func (n *tableCaption) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// paragraph marks a paragraph that binds a table. A paragraph before a table
// that holds a binding beside other words is a fault, which link reports.
func (s *survey) paragraph(p *ast.Paragraph) (done bool) {
	link := s.captionLink(p)
	if link == nil || !beforeTable(p) {
		return false
	}
	ref := s.figuresRef(link)
	if ref == nil {
		return true
	}
	if ref.Set == "" {
		s.fault(s.destination(link), "the caption names no figure set", "figures:SET", "name a file of testdata/reference, without .csv")
	}
	if ref.Text == "" {
		s.fault(link.Pos(), "the table has no caption", "words that say what its numbers are", "write them between the brackets")
	}
	replaceByChildren(link)
	caption := &tableCaption{paragraph: p, ref: *ref}
	p.Parent().ReplaceChild(p.Parent(), p, caption)
	return true
}
