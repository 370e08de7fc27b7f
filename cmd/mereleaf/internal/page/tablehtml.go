package page

import (
	"strconv"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/figures"
)

// writeTable writes a table in a frame that can scroll, with its caption, its
// notes and the key to its marks.
func writeTable(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	s, n := w.(*sheet), node.(*tableNode)
	t := &tableWriter{sheet: s, node: n, bound: s.resolved.Tables[n.table.Index], name: "t_" + strconv.Itoa(n.table.Index+1)}
	return ast.WalkSkipChildren, t.write()
}

// tableWriter is the state of writing one table.
type tableWriter struct {
	*sheet
	node  *tableNode
	bound [][]figures.Bound // rows by columns; nil for a table of words
	name  string            // prefix of the notes' anchors
	notes noteList
}

func (t *tableWriter) write() error {
	t.gatherNotes()
	if t.node.caption != nil {
		t.tag("div", "class", "table", "role", "region", "tabindex", "0", "aria-labelledby", t.name)
	} else {
		t.tag("div", "class", "table")
	}
	_, _ = t.WriteString("<table>")
	if err := t.caption(); err != nil {
		return err
	}
	r := -1 // the heading
	for row := t.node.grid.FirstChild(); row != nil; row = row.NextSibling() {
		if err := t.row(row, r); err != nil {
			return err
		}
		r++
	}
	if t.node.grid.ChildCount() > 1 {
		_, _ = t.WriteString("</tbody>")
	}
	_, _ = t.WriteString("</table></div>\n")
	t.writeNotes()
	return nil
}

func (t *tableWriter) caption() error {
	if t.node.caption == nil {
		return nil
	}
	t.tag("caption", "id", t.name)
	if err := t.inner(t.node.caption); err != nil {
		return err
	}
	_, _ = t.WriteString("</caption>")
	return nil
}

// row writes a row; r counts from 0 below the heading, which is -1.
func (t *tableWriter) row(row ast.Node, r int) error {
	head := r < 0
	if head {
		_, _ = t.WriteString("\n<thead>")
	}
	_, _ = t.WriteString("<tr>")
	column := 0
	for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
		if err := t.cell(cell, r, column); err != nil {
			return err
		}
		column++
	}
	_, _ = t.WriteString("</tr>")
	if head {
		_, _ = t.WriteString("</thead>")
		if row.NextSibling() != nil {
			_, _ = t.WriteString("\n<tbody>")
		}
	}
	_ = t.WriteByte('\n')
	return nil
}

// cell writes a cell. The first of a row heads it: its number is what the row
// is asked for, so it carries a mark only where nothing else in the row does.
func (t *tableWriter) cell(cell ast.Node, row, column int) error {
	class := ""
	if !t.numeric(column) {
		class = "words"
	}
	element := "td"
	switch {
	case row < 0:
		element = "th"
		t.tag("th", "scope", "col", "class", class)
	case column == 0:
		element = "th"
		t.tag("th", "scope", "row", "class", class)
	default:
		t.tag("td", "class", class)
	}
	note, marked := t.notes.at(row, column)
	if marked {
		t.tag("a", "class", note.mark.class, "href", "#"+note.anchor(t.name))
	}
	if err := t.inner(cell); err != nil {
		return err
	}
	if marked {
		if len(t.notes.list) > 1 {
			_, _ = t.WriteString(`<sup>` + note.letter + `</sup>`)
		}
		_, _ = t.WriteString("</a>")
	}
	_, _ = t.WriteString("</" + element + ">")
	return nil
}

// numeric reports whether a column holds a bound number.
func (t *tableWriter) numeric(column int) bool {
	for _, row := range t.bound {
		if column < len(row) && row[column].Numeric {
			return true
		}
	}
	return false
}
