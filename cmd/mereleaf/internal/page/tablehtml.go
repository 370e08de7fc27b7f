package page

import (
	"strconv"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/figures"
)

// layout is where in the draft a table's caption and cells end. They follow each
// other there without anything between.
type layout struct {
	captioned bool
	caption   spot
	rows      [][]spot // of the heading first
}

// writeTable drafts the caption and the cells.
func writeTable(w util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	d, n := w.(*drafter), node.(*tableNode)
	d.gap(tableGap, n.table.Index)
	l := layout{captioned: n.caption != nil, rows: make([][]spot, 0, n.grid.ChildCount())}
	if l.captioned {
		d.inside(source, n.caption)
		l.caption = d.here()
	}
	for row := n.grid.FirstChild(); row != nil; row = row.NextSibling() {
		ends := make([]spot, 0, row.ChildCount())
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			d.inside(source, cell)
			ends = append(ends, d.here())
		}
		l.rows = append(l.rows, ends)
	}
	n.table.layout = l
	return ast.WalkSkipChildren, nil
}

// table writes a table in a frame that can scroll, with its caption, its notes
// and the key to its marks.
func (s *sheet) table(table *Table) error {
	t := &tableWriter{sheet: s, layout: table.layout, bound: s.resolved.Tables[table.Index], name: "t_" + strconv.Itoa(table.Index+1)}
	return t.write()
}

// tableWriter is the state of writing one table.
type tableWriter struct {
	*sheet
	layout layout
	bound  [][]figures.Bound // rows by columns; nil for a table of words
	name   string            // prefix of the notes' anchors
	notes  noteList
}

func (t *tableWriter) write() error {
	t.gatherNotes()
	if t.layout.captioned {
		t.tag("div", "class", "table", "role", "region", "tabindex", "0", "aria-labelledby", t.name)
	} else {
		// A region needs a name of its own to be found by; this is only one to scroll.
		t.tag("div", "class", "table", "role", "group", "tabindex", "0", "aria-label", "Table")
	}
	_, _ = t.WriteString("<table>")
	if err := t.caption(); err != nil {
		return err
	}
	for i, ends := range t.layout.rows {
		if err := t.row(ends, i-1); err != nil {
			return err
		}
	}
	if len(t.layout.rows) > 1 {
		_, _ = t.WriteString("</tbody>")
	}
	_, _ = t.WriteString("</table></div>\n")
	t.writeNotes()
	return nil
}

func (t *tableWriter) caption() error {
	if !t.layout.captioned {
		return nil
	}
	t.tag("caption", "id", t.name)
	err := t.until(t.layout.caption)
	_, _ = t.WriteString("</caption>")
	return err
}

// row writes a row, whose cells end there; r counts from 0 below the heading,
// which is -1.
func (t *tableWriter) row(ends []spot, r int) error {
	head := r < 0
	if head {
		_, _ = t.WriteString("\n<thead>")
	}
	_, _ = t.WriteString("<tr>")
	for column, end := range ends {
		if err := t.cell(end, r, column); err != nil {
			return err
		}
	}
	_, _ = t.WriteString("</tr>")
	if head {
		_, _ = t.WriteString("</thead>")
		if len(t.layout.rows) > 1 {
			_, _ = t.WriteString("\n<tbody>")
		}
	}
	_ = t.WriteByte('\n')
	return nil
}

// cell writes a cell. The first of a row heads it: its number is what the row
// is asked for, so it carries a mark only where nothing else in the row does.
func (t *tableWriter) cell(end spot, row, column int) error {
	class := ""
	if !t.numeric(column) {
		class = "words"
	}
	element := "td"
	switch {
	case row < 0:
		element = "th"
		t.tag("th", "scope", "col", "class", class, "data-u", t.difference(column))
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
	if err := t.until(end); err != nil {
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

// difference is "K" for a column of figures that are differences of temperatures,
// whose heading says °C for it.
func (t *tableWriter) difference(column int) string {
	for _, row := range t.bound {
		if column < len(row) && row[column].Numeric && row[column].Set.Columns[row[column].Column].Unit == "K" {
			return "K"
		}
	}
	return ""
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
