package figures

import (
	"fmt"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// explain reports the first entry in which the nearest row differs from the
// table, or the one that no row satisfies.
func (q query) explain(row int) diag.Diagnostic {
	if d := q.noSuchRow(row); d != nil {
		return *d
	}
	wrong := q.misses(row)
	d := q.fault(q.entries[wrong[0]], row)
	if rest := len(wrong) - 1; rest > 0 {
		d.Problem += fmt.Sprintf(", and %d more of this row's cells differ", rest)
	}
	return d
}

// otherReading reports the other cell that may be the wrong one, when one cell
// is wrong but another row would be right but for another cell: a value of the
// next row, or a temperature that stands twice. It is nil if there is no doubt.
func (q query) otherReading(row int) *diag.Diagnostic {
	blamed := q.misses(row)
	if len(blamed) != 1 {
		return nil
	}
	for i := range q.set.Rows {
		if !admits(q.set, i, q.constraints) {
			continue
		}
		other := q.misses(i)
		if len(other) != 1 || other[0] == blamed[0] {
			continue
		}
		if e := q.entries[other[0]]; hasDigit(e.text) && q.verdict(e, i) == differs {
			d := q.fault(e, i)
			d.Problem = "or else " + d.Problem
			return &d
		}
	}
	return nil
}

// misses lists the entries that a row does not satisfy.
func (q query) misses(row int) []int {
	var out []int
	for i, e := range q.entries {
		if q.verdict(e, row) != same {
			out = append(out, i)
		}
	}
	return out
}

// fault says how one printed cell differs from the figure in a row.
func (q query) fault(e entry, row int) diag.Diagnostic {
	s := q.set
	name := q.columnName(e.span)
	d := diag.Diagnostic{Position: e.pos, Related: s.At(row, e.span.low), Remedy: "correct the cell, or the link that says which figure is meant"}
	figure := q.figureText(e, row)
	d.Want = figure + q.by(row)
	switch q.verdict(e, row) {
	case absent:
		d.Problem = name + " is " + e.text + " here, where the figures have none"
		d.Want = "an empty cell" + q.by(row)
	case finer:
		d.Problem = name + " has more digits here, " + e.text + ", than the figure"
		d.Remedy = "print the digits that the figure has"
	case noUnit:
		d.Problem = name + " has no unit here"
		d.Want = "a unit, such as " + unitWords(s.unit(row, e.span.low))
		d.Remedy = "write it in brackets at the end of the heading, or behind the number"
	case otherDim:
		d.Problem = name + " is in " + unitWords(e.amount.unit) + " here, which does not convert"
		d.Want = "a unit such as " + unitWords(s.unit(row, e.span.low))
		d.Remedy = "correct the unit in the cell or the heading"
	case badMark:
		d.Problem = name + " is " + e.text + " here, which the figure does not bear out"
		d.Remedy = "print what the figures say"
	default:
		d.Problem = name + " is " + e.text + " here"
		if also := q.alternatives(e, row); also != "" {
			d.Want += also
		}
	}
	return d
}

// by says for which inputs, and by which source, a row's figure holds.
func (q query) by(row int) string {
	r := q.set.Rows[row]
	var parts []string
	for _, e := range q.entries {
		if q.verdict(e, row) == same {
			parts = append(parts, q.columnName(e.span)+" "+e.text)
		}
	}
	out := ""
	if len(parts) > 0 {
		out = " for " + strings.Join(parts, ", ")
	}
	if r.Source != "" {
		return out + " by " + r.Source
	}
	return out + " by " + basisWords(r.Basis)
}

func basisWords(basis string) string {
	if basis == Practice {
		return "common practice"
	}
	return basis
}

// alternatives names two further rows that satisfy the constraints and all
// other entries.
func (q query) alternatives(wrong entry, row int) string {
	var out []string
	for i := range q.set.Rows {
		if i == row || len(out) == 2 || !admits(q.set, i, q.constraints) {
			continue
		}
		others := true
		for _, e := range q.entries {
			if e.column != wrong.column && q.verdict(e, i) != same {
				others = false
				break
			}
		}
		if text := q.figureText(wrong, i); others && text != "" {
			out = append(out, text+" in line "+fmt.Sprint(q.set.Rows[i].Line))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (or " + strings.Join(out, ", ") + ")"
}

// figureText prints the figure of a row as the cell should: converted to the
// cell's unit, where it has one.
func (q query) figureText(e entry, row int) string {
	s := q.set
	low, ok := s.Amount(row, e.span.low)
	high, okHigh := s.Amount(row, e.span.high)
	if !ok && !okHigh {
		return s.Rows[row].Cells[e.span.low].Text
	}
	unit := s.unit(row, e.span.low)
	show := func(has bool, n Number, text string) string {
		v, converts := Convert(n.Value, unit, e.amount.unit)
		if !has || !e.numeric || !e.amount.hasUnit || !converts || e.amount.unit.Code == unit.Code {
			return text
		}
		return trimZeros(quantity.FormatNumber(v, 4))
	}
	text := show(ok, low.Low, s.Rows[row].Cells[e.span.low].Text)
	if e.span.high != e.span.low {
		upper := show(okHigh, high.High, s.Rows[row].Cells[e.span.high].Text)
		switch {
		case !ok:
			text = "≤ " + upper
		case !okHigh:
			text = "≥ " + text
		case upper != text:
			text += " to " + upper
		}
	}
	if e.numeric && e.amount.hasUnit {
		if _, converts := Convert(1, unit, e.amount.unit); converts {
			unit = e.amount.unit
		}
	}
	// A message is read in a terminal, where no line breaks at a space.
	return strings.ReplaceAll(strings.TrimSpace(quantity.WithUnit(text, unit.Code)), "\u00a0", " ")
}

func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// columnName names what an entry is of: for the two ends of a range, what both
// are of.
func (q query) columnName(sp span) string {
	if sp.low != sp.high {
		if _, stem := q.set.partner(sp.low); stem != "" {
			return stem
		}
	}
	return q.set.Columns[sp.low].Name
}

func unitWords(u quantity.Unit) string {
	if s := quantity.Symbol(u.Code); s != "" {
		return strings.ReplaceAll(s, "\u00a0", " ")
	}
	if u.Code == "[pH]" {
		return "pH"
	}
	return "a plain number"
}
