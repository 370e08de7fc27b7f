package figures

import (
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// heading is what the head of a table column binds.
type heading struct {
	bound   bool
	spans   []span // several if a name stands for several units
	unit    quantity.Unit
	hasUnit bool
	view    int // index of the view it belongs to
}

// view is a group of table columns that one figure row must satisfy together:
// those that put the same constraints on the same set.
type view struct {
	set         *Set
	constraints []constraint
	columns     []int // of the table, of this view alone
	own         bool  // has constraints of its own, beside the caption's
}

// layout is a table's headings, read once for all its rows.
type layout struct {
	lib      *Library
	table    Table
	set      *Set // of the caption
	headings []heading
	views    []view // the first one is the caption's own
	list     diag.List
}

func (l *Library) layOut(t Table) (*layout, bool) {
	lay := &layout{lib: l, table: t}
	set, ok := l.Set(t.Caption.Set)
	if !ok {
		lay.list.Add(l.unknownSet(t.Caption))
		return lay, false
	}
	lay.set = set
	constraints, show, faults := set.constraints(t.Caption)
	lay.list = append(lay.list, faults...)
	if show != "" {
		lay.list.Add(diag.Diagnostic{Position: t.Caption.Pos, Problem: "the caption names a column to show", Want: "constraints only", Remedy: "put column= into the link of a heading"})
	}
	lay.views = []view{{set: set, constraints: constraints}}
	for i, h := range t.Head {
		lay.headings = append(lay.headings, lay.heading(i, h))
	}
	return lay, len(lay.list) == 0
}

func (lay *layout) heading(i int, h HeadCell) heading {
	name, unitText := splitUnit(h.Text)
	out := heading{}
	set := lay.set
	if h.Ref != nil {
		n, show, ok := lay.viewOf(*h.Ref)
		if !ok {
			return out
		}
		out.view, set = n, lay.views[n].set
		if show != "" {
			name = show
		}
	}
	out.spans = set.find(name)
	if h.Ref == nil {
		out.spans = withoutOrigin(set, out.spans)
	}
	if len(out.spans) == 0 {
		if h.Ref != nil {
			lay.list.Add(diag.Diagnostic{Position: h.Pos, Problem: "the set " + set.Name + " has no column " + name, Want: "one of " + set.columnNames(), Remedy: "name the column in the link, as ?column=NAME", Related: diag.Position{File: set.File, Line: 1}})
		}
		return out
	}
	out.bound = true
	out.unit, out.hasUnit = lay.headingUnit(set, out.spans, h, unitText)
	lay.views[out.view].columns = append(lay.views[out.view].columns, i)
	return out
}

// viewOf returns the view that a heading's link asks for, adding it if it is new.
func (lay *layout) viewOf(ref Ref) (n int, show string, ok bool) {
	set := lay.set
	if ref.Set != "" {
		if set, ok = lay.lib.Set(ref.Set); !ok {
			lay.list.Add(lay.lib.unknownSet(ref))
			return 0, "", false
		}
	}
	constraints, show, faults := set.constraints(ref)
	lay.list = append(lay.list, faults...)
	if len(faults) > 0 {
		return 0, "", false
	}
	own := len(constraints) > 0 || set != lay.set
	if set == lay.set {
		constraints = merge(lay.views[0].constraints, constraints)
	}
	for i, v := range lay.views {
		if v.set == set && v.own == own && samePairs(v.constraints, constraints) {
			return i, show, true
		}
	}
	lay.views = append(lay.views, view{set: set, constraints: constraints, own: own})
	return len(lay.views) - 1, show, true
}

func samePairs(a, b []constraint) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].pair != b[i].pair {
			return false
		}
	}
	return true
}

func withoutOrigin(s *Set, spans []span) []span {
	var out []span
	for _, sp := range spans {
		if !s.isOrigin(sp.low) {
			out = append(out, sp)
		}
	}
	return out
}

// splitUnit takes the unit off a heading: "Volume (gal (US))", "Pores per inch".
// The name keeps brackets that are no unit.
func splitUnit(text string) (name, unit string) {
	text = strings.TrimSpace(text)
	if strings.HasSuffix(text, ")") {
		if i := openingBracket(text); i > 0 {
			unit = strings.TrimSpace(text[i+1 : len(text)-1])
			if _, ok := ReadUnit(unit); ok && unit != "" {
				return strings.TrimSpace(text[:i]), unit
			}
		}
	}
	return text, ""
}

// openingBracket returns the index of the bracket that the last one closes.
func openingBracket(s string) int {
	depth := 0
	for i := len(s) - 1; i >= 0; i-- {
		switch s[i] {
		case ')':
			depth++
		case '(':
			depth--
			if depth == 0 {
				return i
			}
		}
	}
	return -1
}

// headingUnit returns the unit of the numbers below a heading: in brackets at
// its end, or said as "per inch", or, under a linked heading, in brackets at
// the caption's end.
func (lay *layout) headingUnit(s *Set, spans []span, h HeadCell, text string) (quantity.Unit, bool) {
	if text != "" {
		return ReadUnit(text)
	}
	if _, per, ok := strings.Cut(h.Text, " per "); ok {
		if u, ok := ReadUnit("/" + per); ok && fits(s, spans, u) {
			return u, true
		}
	}
	if h.Ref == nil {
		return quantity.Unit{}, false
	}
	if _, caption := splitUnit(lay.table.Caption.Text); caption != "" {
		u, _ := ReadUnit(caption)
		return u, fits(s, spans, u)
	}
	return quantity.Unit{}, false
}

func fits(s *Set, spans []span, u quantity.Unit) bool {
	for _, sp := range spans {
		if c := s.Columns[sp.low]; c.Numeric() && c.unit.SameDimension(u) {
			return true
		}
	}
	return false
}
