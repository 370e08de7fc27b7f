package figures

import (
	"fmt"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// What ends the name of a column, or of a result, of whose range a single number is
// one end.
const (
	LowEnd  = "-low"
	HighEnd = "-high"
)

// BindFigure finds the figure behind a quantity of a sentence, such as the text of
// [9.1 mg/L](figure:oxygen-saturation?temperature=20#oxygen). The link must leave
// one value; where several columns could be meant it names one.
func (l *Library) BindFigure(ref Ref, a Amount) (Bound, *diag.Diagnostic) {
	s, ok := l.Set(ref.Set)
	if !ok {
		d := l.unknownSet(ref)
		return Bound{}, &d
	}
	constraints, _, faults := s.constraints(ref)
	if len(faults) > 0 {
		return Bound{}, &faults[0]
	}
	p := printed{Amount: a, inSentence: true}
	p.unit, p.hasUnit = ReadUnit(a.Unit)
	p.hasUnit = p.hasUnit && a.Unit != ""
	q := query{set: s, constraints: constraints}
	if !q.anyRow(constraints) {
		d := q.nothingSatisfies(ref)
		return Bound{}, &d
	}
	if len(s.find(ref.Column)) == 0 && !p.Range {
		if stem, ok := strings.CutSuffix(ref.Column, LowEnd); ok {
			ref.Column, p.end = stem, lowEnd
		} else if stem, ok := strings.CutSuffix(ref.Column, HighEnd); ok {
			ref.Column, p.end = stem, highEnd
		}
	}
	span, d := q.proseSpan(ref, p)
	if d != nil {
		return Bound{}, d
	}
	if !span.whole && !p.Range && p.end == bothEnds && (p.Mark == Plain || p.Mark == About) {
		span.high = span.low
	}
	q.entries = []entry{{pos: ref.Pos, text: ref.Text, plain: plainText(ref.Text), span: span, numeric: true, amount: p}}
	return q.bindProse(ref, p)
}

// proseSpan returns the column that the link names, or the only one that the
// quantity can be of.
func (q query) proseSpan(ref Ref, p printed) (span, *diag.Diagnostic) {
	s := q.set
	var spans []span
	if ref.Column != "" {
		spans = s.find(ref.Column)
	} else {
		spans = q.openSpans()
	}
	var fitting []span
	for _, sp := range spans {
		if !p.hasUnit || !s.Columns[sp.low].Numeric() || s.Columns[sp.low].unit.SameDimension(p.unit) {
			fitting = append(fitting, sp)
		}
	}
	switch {
	case len(fitting) == 1:
		return fitting[0], nil
	case len(spans) == 0:
		return span{}, &diag.Diagnostic{Position: ref.Pos, Problem: "the set " + s.Name + " has no column " + ref.Column, Want: "one of " + s.columnNames(), Remedy: "correct the name in the link", Related: diag.Position{File: s.File, Line: 1}}
	case len(fitting) == 0:
		return span{}, &diag.Diagnostic{Position: ref.Pos, Problem: `no column that the link leaves open is in the unit of "` + ref.Text + `"`, Want: "a quantity of one of " + s.columnNames(), Remedy: "correct the unit, or name the column behind #", Related: diag.Position{File: s.File, Line: 1}}
	}
	names := make([]string, len(fitting))
	for i, sp := range fitting {
		names[i] = s.Columns[sp.low].Name
	}
	return span{}, &diag.Diagnostic{Position: ref.Pos, Problem: `"` + ref.Text + `" may be of several columns`, Want: "one of " + strings.Join(names, ", "), Remedy: "name it in the link behind #", Related: diag.Position{File: s.File, Line: 1}}
}

// openSpans lists the columns of numbers that no constraint fixes and that have
// a number in some row meant; the two ends of a range once.
func (q query) openSpans() []span {
	s := q.set
	var out []span
	upper := map[int]bool{}
	for i := range s.Data() {
		if q.fixes(i) || upper[i] || !q.anyNumberIn(i) {
			continue
		}
		sp := s.span(i)
		if sp.high != sp.low {
			sp.whole = true
			upper[sp.high] = true
		}
		out = append(out, sp)
	}
	return out
}

func (q query) anyNumberIn(column int) bool {
	for i := range q.set.Rows {
		if _, ok := q.set.Amount(i, column); ok && admits(q.set, i, q.constraints) {
			return true
		}
	}
	return false
}

// bindProse binds to the first row meant, if all rows meant agree.
func (q query) bindProse(ref Ref, p printed) (Bound, *diag.Diagnostic) {
	row, hits := q.search()
	e := q.entries[0]
	if hits == 0 {
		d := q.explain(row)
		return Bound{}, &d
	}
	for i := range q.set.Rows {
		if i == row || !admits(q.set, i, q.constraints) || q.verdict(e, i) == same || q.verdict(e, i) == absent {
			continue
		}
		hidden := q.hiddenLeftOf(len(q.set.Data()))
		d := diag.Diagnostic{
			Position: ref.Pos,
			Problem:  fmt.Sprintf("%s is one of several figures that the link may mean", ref.Text),
			Want:     "constraints that leave one; " + q.figureText(e, i) + " in line " + fmt.Sprint(q.set.Rows[i].Line) + " is another",
			Remedy:   "add " + q.tellingPair(hidden, row, i) + " to the link",
			Related:  q.set.At(row, e.span.low),
		}
		return Bound{}, &d
	}
	return Bound{Numeric: true, Set: q.set, Row: row, Column: e.span.low, High: e.span.high, Amount: p.Amount}, nil
}

// tellingPair returns a constraint that tells one row from another.
func (q query) tellingPair(hidden []int, row, other int) string {
	for _, c := range hidden {
		if !q.equalIn([]int{c}, row, other) {
			return q.set.Columns[c].Name + "=" + q.set.Rows[row].Cells[c].Text
		}
	}
	return columnSource + "=" + q.set.Rows[row].Source
}
