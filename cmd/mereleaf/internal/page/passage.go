package page

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// Passage is a piece of a chapter's text that a reader may look for, with the
// heading it stands under.
type Passage struct {
	Anchor  string // of the nearest heading above; "" for what stands above them all
	Text    string // plain, of one or more sentences
	Caption bool   // it names the table or the drawing that follows
}

// passages takes the text apart in its order: paragraphs, items of lists,
// cautions with their heads, captions, and the rows of tables of words. The
// numbers of bound tables are left out: who looks for one looks for its caption.
func (s *survey) passages() []Passage {
	var all []Passage
	anchor := ""
	add := func(text string, caption bool) {
		if text != "" {
			all = append(all, Passage{anchor, text, caption})
		}
	}
	_ = ast.Walk(s.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			if id, ok := n.AttributeString("id"); ok {
				anchor = string(id.([]byte))
			}
		case *ast.Paragraph, *ast.TextBlock:
			add(s.plain(n), false)
		case *cautionNode:
			add(n.caution.Text, false)
			return ast.WalkContinue, nil
		case *tableNode:
			add(n.table.Figure.Caption.Text, true)
			if !n.table.Bound {
				s.rows(n.grid, func(row string) { add(row, false) })
			}
		case *blockNode:
			for _, set := range n.block.Settings {
				if set.Name == "caption" {
					add(set.Value, true)
				}
			}
		default:
			return ast.WalkContinue, nil
		}
		return ast.WalkSkipChildren, nil
	})
	return all
}

// rows gives the rows of a table below its head, as text.
func (s *survey) rows(grid *extast.Table, each func(string)) {
	for row := grid.FirstChild(); row != nil; row = row.NextSibling() {
		if _, head := row.(*extast.TableHeader); head {
			continue
		}
		var cells []string
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			if text := s.plain(cell); text != "" {
				cells = append(cells, text)
			}
		}
		each(strings.Join(cells, " · "))
	}
}
