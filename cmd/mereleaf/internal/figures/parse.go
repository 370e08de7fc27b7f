package figures

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// parse reads a figure set from the bytes of its file. The set is nil if its
// heading cannot be read.
func parse(file string, b []byte) (*Set, diag.List) {
	p := parser{set: &Set{File: file, Name: strings.TrimSuffix(path.Base(file), ".csv"), unitAt: -1}}
	p.csv = csv.NewReader(bytes.NewReader(b))
	p.csv.FieldsPerRecord = -1 // counted here, so that one wrong row does not hide the next
	heading, ok := p.next()
	if !ok {
		if len(p.list) == 0 {
			p.fault(1, 1, "the file has no heading", "columns, then source,locator,basis,note", "add a first line that names them")
		}
		return nil, p.list
	}
	if !p.heading(heading) {
		return nil, p.list
	}
	for {
		cells, ok := p.next()
		if !ok {
			break
		}
		p.row(cells)
	}
	if len(p.set.Rows) == 0 && len(p.list) == 0 {
		p.fault(1, 1, "the set has no rows", "at least one figure", "add a row or remove the file")
	}
	return p.set, p.list
}

type parser struct {
	csv  *csv.Reader
	set  *Set
	line int // of the record returned last
	list diag.List
}

func (p *parser) fault(line, column int, problem, want, remedy string) {
	p.list.Add(diag.Diagnostic{Position: diag.Position{File: p.set.File, Line: line, Column: column}, Problem: problem, Want: want, Remedy: remedy})
}

// next returns the next well-formed record, reporting those that are not.
func (p *parser) next() ([]Cell, bool) {
	for {
		record, err := p.csv.Read()
		if errors.Is(err, io.EOF) {
			return nil, false
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			p.fault(bad.Line, bad.Column, "the quotation marks do not pair", `a cell with commas or quotation marks written as "a ""b"", c"`, "correct the quotation marks in this line")
			continue
		}
		if err != nil { // only a failing reader, which bytes are not
			p.fault(0, 0, err.Error(), "", "make the file readable")
			return nil, false
		}
		cells := make([]Cell, len(record))
		whole := true
		for i, text := range record {
			line, column := p.csv.FieldPos(i)
			cells[i] = Cell{Text: text, Column: column, plain: plainText(text)}
			if i == 0 {
				p.line = line
			}
			if strings.ContainsAny(text, "\r\n") || line != p.line {
				p.fault(line, column, "the cell goes over the end of the line", "one row on one line", "write the cell on one line")
				whole = false
				break
			}
		}
		if whole {
			return cells, true
		}
	}
}

// mostColumns is far above any set. Each column is compared with each other.
const mostColumns = 200

func (p *parser) heading(cells []Cell) bool {
	s := p.set
	s.heading = cells
	before := len(p.list)
	ends := []string{columnSource, columnLocator, columnBasis, columnNote}
	if len(cells) <= originColumns || !slices.EqualFunc(cells[len(cells)-originColumns:], ends, func(c Cell, name string) bool { return c.Text == name }) {
		last := cells[len(cells)-1]
		p.fault(p.line, last.Column, "the heading does not end in source,locator,basis,note", "at least one column of figures, then these four", "add the four columns at the end")
		return false
	}
	if len(cells) > mostColumns {
		p.fault(p.line, cells[mostColumns].Column, fmt.Sprintf("the heading has %d columns", len(cells)), fmt.Sprintf("at most %d", mostColumns), "divide the set, or write some of them as rows")
		return false
	}
	for i, c := range cells {
		column, problem := readColumn(c.Text)
		column.plain, column.heading = plainName(column.Name), plainName(c.Text)
		if problem != "" {
			p.fault(p.line, c.Column, problem, `a name, and for numbers the unit as a UCUM code: "flow [L/h]"`, "correct the heading")
		}
		if j := slices.IndexFunc(s.Columns, func(o Column) bool { return o.plain == column.plain && o.Unit == column.Unit }); j >= 0 {
			for _, twin := range []Cell{cells[j], c} { // either may be the one mistyped
				p.fault(p.line, twin.Column, "the column "+c.Text+" stands twice", "names that differ, or the same name with another unit", "rename one of them")
			}
		}
		if column.Name == "unit" && !column.Numeric() {
			s.unitAt = i
		}
		s.Columns = append(s.Columns, column)
	}
	s.pair()
	return len(p.list) == before
}

// readColumn reads "temperature [Cel]". A bracket belongs to the name unless it
// ends the heading after a space.
func readColumn(text string) (c Column, problem string) {
	if text == "" || strings.TrimSpace(text) != text {
		return Column{Name: text}, "the column has no name, or blanks around it"
	}
	i := strings.Index(text, " [")
	if i < 0 || !strings.HasSuffix(text, "]") {
		return Column{Name: text}, ""
	}
	c = Column{Name: text[:i], Unit: text[i+2 : len(text)-1]}
	if c.Unit == "pH" { // the heading's brackets are the code's own
		c.Unit = "[pH]"
	}
	u, err := quantity.ParseUnit(c.Unit)
	if err != nil {
		return c, err.Error()
	}
	c.unit = u
	return c, ""
}

func (p *parser) row(cells []Cell) {
	s := p.set
	if len(cells) != len(s.Columns) {
		at := cells[len(cells)-1].Column
		if len(cells) > len(s.Columns) {
			at = cells[len(s.Columns)].Column
		}
		p.fault(p.line, at, fmt.Sprintf("the row has %d cells", len(cells)), fmt.Sprintf("%d as in the heading", len(s.Columns)), `add or remove a comma, or put a cell with a comma in quotation marks`)
		return
	}
	n := len(cells) - originColumns
	row := Row{Line: p.line, Cells: cells, Source: cells[n].Text, Locator: cells[n+1].Text, Basis: cells[n+2].Text, Note: cells[n+3].Text}
	for i := range cells[:n] {
		s.number(row, i)
	}
	s.Rows = append(s.Rows, row)
}

// number reads the cell's figure once, so that binding a chapter need not.
// What is not a number in a numeric column ("any", "infinite", a formula) stays
// text.
func (s *Set) number(row Row, column int) {
	c := &row.Cells[column]
	numeric := s.Columns[column].Numeric()
	if !numeric && (s.unitAt < 0 || column == s.unitAt) {
		return
	}
	if !numeric {
		if _, ok := rowUnit(row.Cells[s.unitAt].Text); !ok {
			return
		}
	}
	a, err := ReadAmount(c.Text)
	c.numeric = err == nil && a.Unit == ""
	if c.numeric {
		c.amount = a
	}
}

// unit returns the unit of a figure: its column's, or the row's own.
func (s *Set) unit(row, column int) quantity.Unit {
	if c := s.Columns[column]; c.Numeric() {
		return c.unit
	}
	u, _ := rowUnit(s.Rows[row].Cells[s.unitAt].Text)
	return u
}

// rowUnit reads the unit of a row: a UCUM code, or a noun of which there are so
// many, whose unit is 1.
func rowUnit(text string) (quantity.Unit, bool) {
	u, err := quantity.ParseUnit(text)
	if err != nil && counted(text) {
		return quantity.MustUnit("1"), true
	}
	return u, err == nil
}

// counted reports whether a text in the place of a unit is a noun: small letters.
func counted(text string) bool {
	return text != "" && strings.Trim(text, "abcdefghijklmnopqrstuvwxyz -") == ""
}

// Noun returns what the number in a cell counts, as its row's unit says: "boxes";
// "" if it is measured.
func (s *Set) Noun(row, column int) string {
	if s.Columns[column].Numeric() || s.unitAt < 0 {
		return ""
	}
	text := s.Rows[row].Cells[s.unitAt].Text
	if _, err := quantity.ParseUnit(text); err == nil || !counted(text) {
		return ""
	}
	return text
}
