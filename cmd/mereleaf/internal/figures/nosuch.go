package figures

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// noSuchRow reports a cell that is to tell which row is meant, but says what no
// row has. It is nil if the cells left of it have found the row already, so that
// the cell is one that the row answers, or if only one cell differs, which the row
// that has all the others can put right.
func (q query) noSuchRow(row int) *diag.Diagnostic {
	if len(q.misses(row)) < 2 {
		return nil
	}
	open := q.admitted()
	for _, e := range q.leftToRight() {
		if len(open) < 2 {
			return nil
		}
		matching := slices.DeleteFunc(slices.Clone(open), func(i int) bool { return q.verdict(e, i) != same })
		if len(matching) > 0 {
			open = matching
			continue
		}
		if slices.ContainsFunc(open, func(i int) bool { v := q.verdict(e, i); return v != differs && v != absent }) {
			return nil // its unit, its mark or its digits are what is wrong
		}
		d := diag.Diagnostic{
			Position: e.pos,
			Problem:  "no row of " + q.set.Name + " has " + q.columnName(e.span) + " " + e.text,
			Want:     "one of " + q.nearestTo(e, open),
			Remedy:   "correct the cell, or the link that says which figure is meant",
			Related:  q.set.At(open[0], e.span.low),
		}
		return &d
	}
	return nil
}

// admitted lists the rows that meet the constraints.
func (q query) admitted() []int {
	var rows []int
	for i := range q.set.Rows {
		if admits(q.set, i, q.constraints) {
			rows = append(rows, i)
		}
	}
	return rows
}

// leftToRight returns the entries in the order of the set's columns, in which
// inputs stand before outputs.
func (q query) leftToRight() []entry {
	order := slices.Clone(q.entries)
	slices.SortStableFunc(order, func(a, b entry) int { return cmp.Compare(a.span.low, b.span.low) })
	return order
}

// nearestTo lists, each once, what rows have where the entry differs; of many only
// those nearest to it, in the order in which they stand.
func (q query) nearestTo(e entry, rows []int) string {
	const most = 8
	type there struct {
		text  string
		place int
		off   float64
	}
	var all []there
	for _, i := range rows {
		text := q.figureText(e, i)
		if text != "" && !slices.ContainsFunc(all, func(t there) bool { return t.text == text }) {
			all = append(all, there{text, len(all), q.off(e, i)})
		}
	}
	total := len(all)
	slices.SortStableFunc(all, func(a, b there) int { return cmp.Compare(a.off, b.off) })
	all = all[:min(most, total)]
	slices.SortFunc(all, func(a, b there) int { return cmp.Compare(a.place, b.place) })
	texts := make([]string, len(all))
	for i, t := range all {
		texts[i] = t.text
	}
	if rest := total - len(all); rest > 0 {
		texts = append(texts, "and "+strconv.Itoa(rest)+" more")
	}
	return strings.Join(texts, " | ")
}

// off is how far a row's figure is from the entry, in the entry's unit; the same
// for all that are no numbers.
func (q query) off(e entry, row int) float64 {
	a, ok := q.set.Amount(row, e.span.low)
	if !ok || !e.numeric || !e.amount.hasUnit {
		return math.MaxFloat64
	}
	v, ok := Convert(a.Low.Value, q.set.unit(row, e.span.low), e.amount.unit)
	if !ok {
		return math.MaxFloat64
	}
	return math.Abs(v - e.amount.Low.Value)
}
