package figures

import (
	"net/url"
	"strings"

	"mereleaf/calculators/quantity"
)

// Holders calls yield with the figures that equal a quantity, one for each row. A
// number that many rows share, such as the temperature in a table, is left out: it
// says for what a figure holds.
func (l *Library) Holders(a Amount, unit quantity.Unit, yield func(set *Set, row, column int)) {
	p := printed{Amount: a, unit: unit, hasUnit: a.Unit != "", inSentence: true}
	for _, s := range l.Sets {
		shared := make([]int, len(s.Columns))
		var rows, columns []int
		for row := range s.Rows {
			if s.Rows[row].Invented() && !strings.HasPrefix(s.Name, ScenarioPrefix) {
				continue
			}
			if column := s.holds(row, p); column >= 0 {
				rows, columns = append(rows, row), append(columns, column)
				shared[column]++
			}
		}
		for i, row := range rows {
			if shared[columns[i]] <= mostShared {
				yield(s, row, columns[i])
			}
		}
	}
}

const mostShared = 4

// holds returns the first column of a row that has the quantity; -1 if none has.
func (s *Set) holds(row int, p printed) int {
	for i := range s.Data() {
		if !s.Rows[row].Cells[i].numeric {
			continue
		}
		sp := s.span(i)
		if !p.Range {
			sp.high = i
		}
		if s.compare(row, sp.low, sp.high, p) == same {
			return i
		}
	}
	return -1
}

// LinkTo returns the link by which a sentence binds an amount to a cell, with no
// more constraints than it needs; "" if none tells the cell from others.
func (l *Library) LinkTo(s *Set, row, column int, a Amount) string {
	ref := Ref{Set: s.Name}
	for i := -1; i < len(s.Data()); i++ {
		if i >= 0 {
			cell := s.Rows[row].Cells[i]
			if i == column || cell.Text == "" || s.partners[i].high == column || s.partners[column].high == i {
				continue
			}
			ref.Query = append(ref.Query, Pair{s.Columns[i].Name, cell.Text})
		}
		for _, name := range []string{s.Columns[column].Name, s.heading[column].Text} { // "low", "low [mg/L]"
			ref.Column = name
			if b, d := l.BindFigure(ref, a); d == nil && b.Row == row && b.Column == column {
				return "figure:" + address(ref)
			}
		}
	}
	return ""
}

// address writes a reference as it stands behind "figure:".
func address(ref Ref) string {
	var b strings.Builder
	b.WriteString(ref.Set)
	for i, p := range ref.Query {
		b.WriteByte("?&"[min(i, 1)])
		b.WriteString(Escape(p.Key) + "=" + Escape(p.Value))
	}
	return b.String() + "#" + Escape(ref.Column)
}

// Escape writes a text for the query of a link, as a person would: "30+cm". What
// would end the link, or mean something in it, is escaped.
func Escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == ' ':
			b.WriteByte('+')
		case strings.ContainsRune("%&+#=()<>\"\\|*`~", r) || r < ' ':
			b.WriteString(url.QueryEscape(string(r)))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
