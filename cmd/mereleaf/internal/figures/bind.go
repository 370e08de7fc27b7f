package figures

import (
	"slices"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// BindTable finds the figure behind every number of a table. The result has the
// shape of Table.Rows. Each fault is reported at its cell with the figure that
// comes nearest.
func (l *Library) BindTable(t Table) ([][]Bound, diag.List) {
	bound := make([][]Bound, len(t.Rows))
	for i, row := range t.Rows {
		bound[i] = make([]Bound, len(row))
	}
	lay, ok := l.layOut(t)
	if !ok {
		return bound, lay.list.Sorted()
	}
	lay.checkLabels()
	for i, row := range t.Rows {
		lay.bindRow(row, bound[i])
	}
	return bound, lay.list.Sorted()
}

// entry is a body cell under a bound heading, read for comparison.
type entry struct {
	column  int // of the table
	pos     diag.Position
	text    string
	plain   string // text as compared with words
	span    span
	numeric bool // whether amount is to be compared, rather than text
	amount  printed
}

func (lay *layout) bindRow(row []BodyCell, out []Bound) {
	before := len(lay.list)
	links := lay.rowLinks(row)
	entries := make([]*entry, len(row))
	for i, cell := range row {
		entries[i] = lay.read(i, cell)
	}
	if len(lay.list) > before {
		return // what is unreadable would only confuse the search
	}
	for n, v := range lay.views {
		lay.bindView(n, v, links, entries, out)
	}
	if len(lay.list) == before {
		lay.checkRowLabels(row, links, out)
	}
}

// rowLinks reads the constraints that linked cells put on the row.
func (lay *layout) rowLinks(row []BodyCell) map[*Set][]constraint {
	links := map[*Set][]constraint{}
	for _, cell := range row {
		if cell.Ref == nil {
			continue
		}
		set := lay.set
		if cell.Ref.Set != "" {
			other, ok := lay.lib.Set(cell.Ref.Set)
			if !ok {
				lay.list.Add(lay.lib.unknownSet(*cell.Ref))
				continue
			}
			set = other
		}
		constraints, show, faults := set.constraints(*cell.Ref)
		lay.list = append(lay.list, faults...)
		if show != "" {
			lay.list.Add(diag.Diagnostic{Position: cell.Pos, Problem: "the link of a row names a column to show", Want: "constraints only", Remedy: "put column= into the link of the heading"})
		}
		links[set] = append(links[set], constraints...)
	}
	return links
}

// read prepares a body cell. It is nil for a cell that binds nothing: a blank,
// a label, a linked cell.
func (lay *layout) read(i int, cell BodyCell) *entry {
	text := strings.Trim(cell.Text, blanks)
	if text == "" || text == "—" || text == "–" || text == "-" || cell.Ref != nil || cell.Quoted {
		return nil
	}
	if i >= len(lay.headings) || !lay.headings[i].bound {
		if n := LooseNumber(text); n != "" {
			lay.list.Add(diag.Diagnostic{Position: cell.Pos, Problem: "the number " + n + " is bound to no figure", Want: "a heading that names one of " + lay.set.columnNames(), Remedy: "name the column in the heading, or link it as ?column=NAME", Related: diag.Position{File: lay.set.File, Line: 1}})
		}
		return nil
	}
	h := lay.headings[i]
	set := lay.views[h.view].set
	e := &entry{column: i, pos: cell.Pos, text: text, plain: plainText(text), span: h.spans[0]}
	if !lay.holdsNumbers(h) {
		return e
	}
	a, err := ReadAmount(text)
	if err != nil {
		if bad := err.(*AmountError); bad.Number {
			lay.list.Add(diag.Diagnostic{Position: cell.Pos, Problem: `"` + text + `" ` + bad.Problem, Want: "one number or one range", Remedy: bad.Remedy})
			return nil
		}
		return e
	}
	e.amount, e.numeric = printed{Amount: a, unit: h.unit, hasUnit: h.hasUnit}, true
	if a.Unit != "" && !lay.cellUnit(e, h) {
		return nil
	}
	e.span = lay.choose(set, h.spans, e.amount)
	return e
}

// holdsNumbers reports whether a heading names columns of numbers.
func (lay *layout) holdsNumbers(h heading) bool {
	set := lay.views[h.view].set
	return set.Columns[h.spans[0].low].Numeric() || set.unitAt >= 0 && set.anyNumber(h.spans[0].low)
}

func (s *Set) anyNumber(column int) bool {
	for i := range s.Rows {
		if s.Rows[i].Cells[column].numeric {
			return true
		}
	}
	return false
}

// cellUnit takes the unit written in the cell, which must agree with one in the
// heading.
func (lay *layout) cellUnit(e *entry, h heading) bool {
	u, ok := ReadUnit(e.amount.Unit)
	if !ok {
		problem, remedy := `"`+e.text+`" ends in "`+e.amount.Unit+`", which is no unit known here`, "write the number and its unit alone"
		if quantity.AmbiguousGallon(e.amount.Unit) {
			problem, remedy = `"`+e.text+`" does not say which gallon`, "write gal (US) or gal (imp)"
		}
		lay.list.Add(diag.Diagnostic{Position: e.pos, Problem: problem, Want: "a unit such as mg/L", Remedy: remedy})
		return false
	}
	if h.hasUnit && u.Code != h.unit.Code {
		lay.list.Add(diag.Diagnostic{Position: e.pos, Problem: `the cell is in ` + e.amount.Unit + ` and its heading in ` + quantity.Symbol(h.unit.Code), Want: "one unit", Remedy: "leave the unit out of one of them"})
		return false
	}
	e.amount.unit, e.amount.hasUnit = u, true
	return true
}

// choose picks, among columns of one name, the one in whose unit the number is.
// A single number under the name of one end of a range is that end; a range, or
// a mark, is of both.
func (lay *layout) choose(s *Set, spans []span, p printed) span {
	best := spans[0]
	if len(spans) > 1 && p.hasUnit {
		for _, sp := range spans {
			if c := s.Columns[sp.low]; c.Numeric() && c.unit.SameDimension(p.unit) {
				best = sp
				break
			}
		}
	}
	if !best.whole && !p.Range && (p.Mark == Plain || p.Mark == About) {
		best.high = best.low
	}
	return best
}

// bindView finds the row that satisfies a view and enters what it binds.
func (lay *layout) bindView(n int, v view, links map[*Set][]constraint, entries []*entry, out []Bound) {
	q := lay.query(v, links, entries)
	if len(q.entries) == 0 {
		return
	}
	best, hits := q.search()
	if best < 0 {
		lay.list.Add(q.nothingSatisfies(lay.table.Caption))
		return
	}
	if hits < len(q.entries) {
		lay.list.Add(q.explain(best))
		if d := q.otherReading(best); d != nil && !lay.reported(d.Position) {
			lay.list.Add(*d)
		}
		return
	}
	if d := q.unsaid(best); d != nil {
		lay.list.Add(*d)
		return
	}
	for _, e := range q.entries {
		if e.numeric && lay.headings[e.column].view == n {
			out[e.column] = Bound{Numeric: true, Set: v.set, Row: best, Column: e.span.low, High: e.span.high, Amount: e.amount.Amount}
		}
	}
}

// reported reports whether a place has a fault already.
func (lay *layout) reported(at diag.Position) bool {
	return slices.ContainsFunc(lay.list, func(d diag.Diagnostic) bool { return d.Position == at })
}

// query gathers what one figure row must satisfy: the view's constraints, the
// row's links, the view's own cells, and the cells of the caption's view that
// tell which row is meant.
func (lay *layout) query(v view, links map[*Set][]constraint, entries []*entry) query {
	q := query{set: v.set, constraints: merge(v.constraints, links[v.set])}
	leftmost := len(v.set.Columns)
	for _, i := range v.columns {
		if i < len(entries) && entries[i] != nil {
			q.entries = append(q.entries, *entries[i])
			leftmost = min(leftmost, entries[i].span.low)
		}
	}
	if !v.own || len(q.entries) == 0 {
		return q
	}
	for _, i := range lay.views[0].columns {
		if i >= len(entries) || entries[i] == nil {
			continue
		}
		key := *entries[i]
		if v.set == lay.set {
			// Inputs stand before outputs in a set, so what stands left of the
			// figure shown tells which row is meant.
			if key.span.low >= leftmost || q.fixes(key.span.low) {
				continue
			}
		} else if !key.moveTo(v.set, lay.set) {
			continue
		}
		q.entries = append(q.entries, key)
	}
	return q
}

// moveTo makes a key cell speak of the column of the same name in another set.
func (e *entry) moveTo(to, from *Set) bool {
	for i, c := range to.Data() {
		if c.plain == from.Columns[e.span.low].plain && c.Numeric() == e.numeric {
			if e.numeric && !from.Columns[e.span.low].unit.SameDimension(c.unit) {
				continue
			}
			e.span = span{low: i, high: i}
			return true
		}
	}
	return false
}
