package figures

import (
	"slices"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// query is what one figure row must satisfy.
type query struct {
	set         *Set
	constraints []constraint
	entries     []entry
}

// fixes reports whether a constraint speaks of the column.
func (q query) fixes(column int) bool {
	for _, c := range q.constraints {
		if slices.Contains(c.columns, column) {
			return true
		}
	}
	return false
}

// verdict compares an entry with a row.
func (q query) verdict(e entry, row int) verdict {
	if !e.numeric {
		return q.textVerdict(e, row)
	}
	v := q.set.compare(row, e.span.low, e.span.high, e.amount)
	if v == absent && e.plain == q.set.Rows[row].Cells[e.span.low].plain {
		return same
	}
	return v
}

// textVerdict compares words. A plain number in a column without a unit, such
// as a conversion factor, may be rounded like any other.
func (q query) textVerdict(e entry, row int) verdict {
	figure := q.set.Rows[row].Cells[e.span.low]
	if e.plain == figure.plain {
		return same
	}
	if !startsWithDigit(e.plain) || !startsWithDigit(figure.plain) {
		return differs
	}
	a, err := ReadAmount(e.text)
	b, err2 := ReadAmount(figure.Text)
	if err != nil || err2 != nil || a.Unit != b.Unit || a.Range || b.Range || a.Mark != b.Mark {
		return differs
	}
	one, _ := ReadUnit("1")
	return compareNumber(a.Low, printed{Amount: a, unit: one, hasUnit: true}, b.Low, one)
}

// search returns the row that satisfies the constraints and the most entries,
// and how many. Between equals it takes the one that satisfies those further
// left in the set, because inputs stand before outputs, and then the first.
// It returns -1 if no row satisfies the constraints.
func (q query) search() (row, hits int) {
	order := q.leftToRight()
	row = -1
	score, best := make([]bool, len(order)), make([]bool, len(order))
	for i := range q.set.Rows {
		if !admits(q.set, i, q.constraints) {
			continue
		}
		n := q.score(order, i, score)
		if row < 0 || n > hits || n == hits && furtherLeft(score, best) {
			row, hits = i, n
			copy(best, score)
		}
		if hits == len(order) {
			break // no later row can do better
		}
	}
	return row, hits
}

// score says which entries a row satisfies, and how many.
func (q query) score(order []entry, row int, score []bool) (hits int) {
	for i, e := range order {
		score[i] = q.verdict(e, row) == same
		if score[i] {
			hits++
		}
	}
	return hits
}

// furtherLeft reports whether a satisfies an entry that b does not, left of the
// first one of which the reverse is true.
func furtherLeft(a, b []bool) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i]
		}
	}
	return false
}

// nothingSatisfies reports constraints that no row meets, naming the first one
// that leaves none.
func (q query) nothingSatisfies(caption Ref) diag.Diagnostic {
	d := diag.Diagnostic{Position: caption.Pos, Problem: "no row of " + q.set.Name + " satisfies what the links say", Related: diag.Position{File: q.set.File, Line: 1}}
	if len(q.entries) > 0 {
		d.Position = q.entries[0].pos
	}
	for n := range q.constraints {
		if q.anyRow(q.constraints[:n+1]) {
			continue
		}
		c := q.constraints[n]
		d.Problem = "no row of " + q.set.Name + " has " + c.pair.Key + " = " + c.pair.Value
		if n > 0 {
			d.Problem += " beside " + pairs(q.constraints[:n])
		}
		d.Want = "one of " + q.values(c.columns, q.constraints[:n])
		d.Remedy = "correct the link"
		break
	}
	if d.Want == "" {
		d.Want, d.Remedy = "a row that is not invented", "say basis=scenario in the caption if invented figures are meant"
	}
	return d
}

func (q query) anyRow(constraints []constraint) bool {
	for i := range q.set.Rows {
		if admits(q.set, i, constraints) {
			return true
		}
	}
	return false
}

func pairs(cs []constraint) string {
	parts := make([]string, len(cs))
	for i, c := range cs {
		parts[i] = c.pair.Key + " = " + c.pair.Value
	}
	return strings.Join(parts, ", ")
}

// values lists, each once, what the rows that meet the constraints have in the
// columns.
func (q query) values(columns []int, constraints []constraint) string {
	const most = 12
	var out []string
	for i := range q.set.Rows {
		if !admits(q.set, i, constraints) {
			continue
		}
		for _, c := range columns {
			if text := q.set.Rows[i].Cells[c].Text; text != "" && !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	if len(out) > most {
		out = append(out[:most], "and "+strconv.Itoa(len(out)-most)+" more")
	}
	return strings.Join(out, " | ")
}

// unsaid reports a cell that is right for the row found, but would have another
// value in rows that the table does not tell from it: a hidden input of the set
// differs, and the reader is not told its value.
func (q query) unsaid(row int) *diag.Diagnostic {
	for _, e := range q.entries {
		hidden := q.hiddenLeftOf(e.span.low)
		if len(hidden) == 0 {
			continue
		}
		other := -1
		for i := range q.set.Rows {
			if i == row || !admits(q.set, i, q.constraints) || !q.agreesLeftOf(e.span.low, row, i) || q.verdict(e, i) == same || q.set.Rows[i].Cells[e.span.low].Text == "" {
				continue
			}
			if q.equalIn(hidden, row, i) {
				other = -1 // an input itself: it varies with nothing hidden
				break
			}
			other = i
		}
		if other >= 0 {
			d := q.tellApart(e, row, other, hidden)
			return &d
		}
	}
	return nil
}

// hiddenLeftOf lists the columns before one that neither the table shows nor a
// constraint fixes.
func (q query) hiddenLeftOf(column int) []int {
	var hidden []int
	for i := range min(column, len(q.set.Data())) {
		if !q.fixes(i) && !slices.ContainsFunc(q.entries, func(e entry) bool { return e.span.low == i || e.span.high == i }) {
			hidden = append(hidden, i)
		}
	}
	return hidden
}

// agreesLeftOf reports whether two rows have the same figures in the columns
// shown left of one.
func (q query) agreesLeftOf(column, a, b int) bool {
	for _, e := range q.entries {
		if e.span.low < column && !q.equalIn([]int{e.span.low}, a, b) {
			return false
		}
	}
	return true
}

func (q query) equalIn(columns []int, a, b int) bool {
	for _, c := range columns {
		if q.set.Rows[a].Cells[c].plain != q.set.Rows[b].Cells[c].plain {
			return false
		}
	}
	return true
}

func (q query) tellApart(e entry, row, other int, hidden []int) diag.Diagnostic {
	s := q.set
	for _, c := range hidden {
		if !q.equalIn([]int{c}, row, other) {
			return diag.Diagnostic{
				Position: e.pos,
				Problem:  e.text + " is the figure for " + s.Columns[c].Name + " = " + s.Rows[row].Cells[c].Text + ", which the table does not say",
				Want:     "one figure; for " + s.Rows[other].Cells[c].Text + " it is " + q.figureText(e, other),
				Remedy:   "add " + s.Columns[c].Name + "=" + s.Rows[row].Cells[c].Text + " to the link of the caption, heading or row",
				Related:  s.At(row, e.span.low),
			}
		}
	}
	return diag.Diagnostic{Position: e.pos, Problem: "several figures are meant", Related: s.At(other, e.span.low)}
}
