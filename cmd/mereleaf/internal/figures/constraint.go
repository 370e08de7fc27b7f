package figures

import (
	"math"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// constraint is what a link says about the rows it means.
type constraint struct {
	columns []int // any of which may satisfy it (one name, several units)
	pair    Pair
	key     string  // pair.Key as a plain name
	plain   string  // the value as compared with words
	amount  printed // if numeric
	numeric bool
	unit    quantity.Unit // of the numbers: as stated, or else the column's; zero if there is none
}

// constraints reads a query against a set. show is the value of ShowKey.
func (s *Set) constraints(ref Ref) (out []constraint, show string, list diag.List) {
	for _, p := range ref.Query {
		if p.Key == ShowKey {
			show = p.Value
			continue
		}
		c := constraint{pair: p, key: plainName(p.Key), plain: plainText(p.Value)}
		for i, column := range s.Columns {
			if column.called(c.key) {
				c.columns = append(c.columns, i)
			}
		}
		if len(c.columns) == 0 {
			list.Add(diag.Diagnostic{Position: ref.Pos, Problem: "the set " + s.Name + " has no column " + p.Key, Want: "one of " + s.columnNames(), Remedy: "correct the name in the link", Related: diag.Position{File: s.File, Line: 1}})
			continue
		}
		if a, err := ReadAmount(p.Value); err == nil {
			c.amount, c.numeric = printed{Amount: a}, true
			c.amount.unit, c.amount.hasUnit = ReadUnit(a.Unit)
			c.amount.hasUnit = c.amount.hasUnit && a.Unit != ""
			if c.unit = c.amount.unit; !c.amount.hasUnit {
				c.unit = s.Columns[c.columns[0]].unit
			}
		}
		out = append(out, c)
	}
	return out, show, list
}

// merge returns the constraints of outer with those of inner, which win where
// both speak of one column.
func merge(outer, inner []constraint) []constraint {
	out := make([]constraint, 0, len(outer)+len(inner))
	for _, o := range outer {
		if !overrides(inner, o) {
			out = append(out, o)
		}
	}
	return append(out, inner...)
}

func overrides(inner []constraint, o constraint) bool {
	for _, i := range inner {
		if i.key == o.key {
			return true
		}
	}
	return false
}

// holds reports whether a row satisfies the constraint. Numbers must be equal,
// not merely round to each other, since a constraint is not printed.
func (c constraint) holds(s *Set, row int) bool {
	for _, i := range c.columns {
		cell := s.Rows[row].Cells[i]
		if cell.plain == c.plain {
			return true
		}
		if c.numeric && cell.numeric && c.amount.equals(s, row, i) {
			return true
		}
	}
	return false
}

func (p printed) equals(s *Set, row, column int) bool {
	a, _ := s.Amount(row, column)
	if a.Range != p.Range {
		return false
	}
	unit := s.unit(row, column)
	if p.Unit != "" && !p.hasUnit {
		return false
	}
	if !p.hasUnit {
		p.unit = unit
	}
	low, ok := Convert(a.Low.Value, unit, p.unit)
	if !ok {
		return false
	}
	high, _ := Convert(a.High.Value, unit, p.unit)
	return near(low, p.Low.Value) && near(high, p.High.Value)
}

func near(a, b float64) bool {
	return math.Abs(a-b) <= slack*math.Max(math.Abs(a), math.Abs(b))
}

// admits reports whether a row may be bound at all: an invented row only if the
// link says that it means invented ones.
func admits(s *Set, row int, constraints []constraint) bool {
	if s.Rows[row].Invented() && !strings.HasPrefix(s.Name, ScenarioPrefix) && !asksForScenario(constraints) {
		return false
	}
	for _, c := range constraints {
		if !c.holds(s, row) {
			return false
		}
	}
	return true
}

func asksForScenario(constraints []constraint) bool {
	for _, c := range constraints {
		if c.key == columnBasis && c.plain == Scenario {
			return true
		}
	}
	return false
}

// unknownSet reports a link to a set that does not exist.
func (l *Library) unknownSet(ref Ref) diag.Diagnostic {
	d := diag.Diagnostic{Position: ref.Pos, Problem: "there is no figure set " + ref.Set, Want: "a file " + Folder + "/" + ref.Set + ".csv", Remedy: "correct the name or add the set"}
	if n := l.nearestName(ref.Set); n != "" {
		d.Remedy = "write " + n + ", or add the set"
	}
	return d
}

// nearestName returns the set whose name shares the most words with name.
func (l *Library) nearestName(name string) string {
	best, most := "", 1
	for _, s := range l.Sets {
		n := 0
		for word := range strings.SplitSeq(name, "-") {
			for other := range strings.SplitSeq(s.Name, "-") {
				if word == other {
					n += len(word)
				}
			}
		}
		if n > most {
			best, most = s.Name, n
		}
	}
	return best
}
