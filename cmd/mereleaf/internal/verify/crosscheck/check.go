package crosscheck

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// Report says how the calculators agree with the figures.
type Report struct {
	Sets       []SetReport // one for each entry of the bindings, in their order
	Uncomputed []Note
}

// SetReport is what came of one entry of the bindings.
type SetReport struct {
	Set        string
	Calculator string // ID; "" for rows that are skipped
	Rows       int    // rows the entry is for
	Figures    int    // figures compared
	Excepted   int    // rows that miss the printed digit for a stated reason
	Exceptions []Exception
	Tolerance  float64 // stated for all rows; 0: the printed digits
	Reason     string  // of the tolerance, or why the rows are skipped
	Largest    float64 // largest deviation, as a share of the figure
	At         diag.Position
}

// Exception is some rows of an entry that may differ more than the others.
type Exception struct {
	Rows      int
	Tolerance float64 // share of the figure
	Reason    string
}

// Exact reports whether the calculator gives every figure but for the rounding
// of the machine.
func (r SetReport) Exact() bool { return r.Largest <= 1e-9 }

// String is one line on an entry.
func (r SetReport) String() string {
	if r.Calculator == "" {
		return fmt.Sprintf("%s: %d rows skipped: %s", r.Set, r.Rows, r.Reason)
	}
	s := fmt.Sprintf("%s: %s agrees in %d figures of %d rows", r.Set, r.Calculator, r.Figures, r.Rows)
	if !r.Exact() {
		s += fmt.Sprintf(", at most %.2g %% off (%s)", 100*r.Largest, r.At)
	}
	if r.Excepted > 0 {
		s += fmt.Sprintf("; %d rows excepted", r.Excepted)
		for _, x := range r.Exceptions {
			s += fmt.Sprintf("; %.2g %% allowed in %d: %s", 100*x.Tolerance, x.Rows, x.Reason)
		}
	}
	if r.Tolerance > 0 {
		s += fmt.Sprintf("; %.2g %% allowed: %s", 100*r.Tolerance, r.Reason)
	}
	return s
}

// Note names a set that no calculator computes, and why.
type Note struct {
	Set, Reason string
	Pos         diag.Position
}

// Case is a row of figures and the calculator that should compute it.
type Case struct {
	Set        *figures.Set
	Row        int
	Calculator calculators.Calculator
	Args       []calculators.Arg // as a person would type them
}

// Cases returns every row that a calculator computes, in the order of the
// bindings, so that another form of the calculators can be put to the same rows.
func Cases(lib *figures.Library, set calculators.Set, fsys fs.FS) ([]Case, diag.List) {
	p, list := read(lib, set, fsys)
	var out []Case
	for _, e := range p.entries {
		for row := range e.set.Rows {
			if e.computes(row) {
				args, d := e.args(row)
				if d != nil {
					list.Add(*d)
					continue
				}
				out = append(out, Case{e.set, row, e.calculator, args})
			}
		}
	}
	return out, list.Sorted()
}

// Check computes every row of every set in the bindings. A figure that does not
// come out is reported at its place in the set's file.
func Check(lib *figures.Library, set calculators.Set, fsys fs.FS) (Report, diag.List) {
	p, list := read(lib, set, fsys)
	report := Report{Uncomputed: p.uncomputed}
	spoken := map[*figures.Set][]bool{}
	for _, e := range p.entries {
		if spoken[e.set] == nil {
			spoken[e.set] = make([]bool, len(e.set.Rows))
		}
		r, faults := e.check(spoken[e.set])
		report.Sets = append(report.Sets, r)
		list = append(list, faults...)
	}
	for s, rows := range spoken {
		for row, ok := range rows {
			if !ok {
				list.Add(diag.Diagnostic{Position: s.At(row, 0), Problem: "the row is in no entry of the bindings", Want: "a calculator that computes it, or a reason to skip it", Remedy: "add an entry [[" + s.Name + "]] to " + BindingsFile})
			}
		}
	}
	return report, list.Sorted()
}

func read(lib *figures.Library, set calculators.Set, fsys fs.FS) (plan, diag.List) {
	tables, list := readTables(fsys)
	if len(list) > 0 {
		return plan{}, list
	}
	b := builder{lib: lib, set: set}
	p := b.build(tables)
	return p, b.list
}

func (e *entry) check(spoken []bool) (SetReport, diag.List) {
	r := SetReport{Set: e.set.Name, Calculator: e.calculator.ID, Tolerance: e.tolerance, Reason: e.reason + e.skip}
	var list diag.List
	missed := false
	for row := range e.set.Rows {
		if !e.where.holds(e.set, row) {
			continue
		}
		spoken[row] = true
		r.Rows++
		if e.computes(row) {
			missed = e.checkRow(row, &r, &list) || missed
		}
	}
	for _, x := range e.except {
		r.Exceptions = append(r.Exceptions, Exception{x.rows, x.tolerance, x.reason})
	}
	if r.Rows == 0 {
		list.Add(diag.Diagnostic{Position: e.pos, Problem: "no row of " + e.set.Name + " meets the conditions together", Want: "at least one row", Remedy: "correct where"})
	}
	if e.skip == "" && r.Figures == 0 && len(list) == 0 {
		list.Add(diag.Diagnostic{Position: e.pos, Problem: "the entry compares no figure", Want: "a column with figures", Remedy: "correct expect or where"})
	}
	if len(list) == 0 {
		list = append(list, e.needless(r, missed)...)
	}
	return r, list
}

// computes reports whether the entry's calculator has a figure to compare in a
// row.
func (e *entry) computes(row int) bool {
	return e.skip == "" && e.where.holds(e.set, row) && slices.ContainsFunc(e.expect, func(x expect) bool {
		return strings.TrimSpace(e.set.Rows[row].Cells[x.column].Text) != ""
	})
}

// checkRow computes a row and compares its figures. It reports whether any
// missed its printed digit.
func (e *entry) checkRow(row int, r *SetReport, list *diag.List) (missed bool) {
	args, d := e.args(row)
	if d != nil {
		list.Add(*d)
		return false
	}
	_, result, err := e.calculator.Evaluate(args)
	if err != nil {
		list.Add(diag.Diagnostic{Position: e.set.At(row, 0), Problem: e.calculator.ID + " refuses this row: " + err.Error(), Want: "an answer", Remedy: "correct the entry, or skip the row with a reason", Related: e.pos})
		return false
	}
	allowed := e.allowance
	for _, x := range e.except {
		if x.where.holds(e.set, row) {
			allowed = x.allowance
			x.rows++
			r.Excepted++
		}
	}
	for _, x := range e.expect {
		m, ok, d := e.measure(x, row, result)
		if d != nil {
			list.Add(*d)
		}
		if !ok {
			continue
		}
		r.Figures++
		missed = missed || !m.hits
		e.note(row, m)
		if !m.hits && m.share > allowed.tolerance {
			list.Add(e.departs(x, row, m, args))
			continue
		}
		if m.share > r.Largest {
			r.Largest, r.At = m.share, e.set.At(row, x.column)
		}
	}
	return missed
}

// note keeps the largest deviation that an exception has to bear.
func (e *entry) note(row int, m measured) {
	for _, x := range e.except {
		if x.where.holds(e.set, row) && !m.hits {
			x.most = math.Max(x.most, m.share)
		}
	}
}

// measured is how a computed value stands to a figure.
type measured struct {
	got   float64 // in the figure's unit
	share float64 // deviation as a share of the figure
	hits  bool    // equal at the figure's printed digits
}

// measure compares one figure; false if it is blank.
func (e *entry) measure(x expect, row int, result calculators.Result) (m measured, ok bool, d *diag.Diagnostic) {
	fault := func(problem, want, remedy string) *diag.Diagnostic {
		return &diag.Diagnostic{Position: e.set.At(row, x.column), Problem: problem, Want: want, Remedy: remedy, Related: x.pos}
	}
	cell := e.set.Rows[row].Cells[x.column]
	if strings.TrimSpace(cell.Text) == "" {
		return m, false, nil
	}
	figure, numeric := e.set.Amount(row, x.column)
	if !numeric || figure.Range {
		return m, false, fault(cell.Text+" is not one number", "a figure to compare", "skip the row with a reason")
	}
	value, has := result.Value(x.output.Name)
	if !has {
		return m, false, fault(e.calculator.ID+" finds no "+x.output.Name+" for this row", "a value", "correct the entry, or skip the row with a reason")
	}
	unit, _ := e.set.Unit(row, x.column)
	got, converts := e.inFigureUnit(x.of(value), x.output, unit)
	if !converts {
		return m, false, fault("the figure is in "+unit.Code+" and "+x.output.Name+" in "+x.output.Unit, "units that convert", "correct the entry, or state times")
	}
	m.got = got
	off := math.Abs(got - figure.Low.Value)
	m.hits = off <= figure.Low.Step/2*(1+1e-9)
	if figure.Low.Value != 0 {
		m.share = off / math.Abs(figure.Low.Value)
	} else if !m.hits {
		m.share = math.Inf(1)
	}
	return m, true, nil
}

func (e *entry) departs(x expect, row int, m measured, args []calculators.Arg) diag.Diagnostic {
	name := e.set.Columns[x.column].Name
	return diag.Diagnostic{
		Position: e.set.At(row, x.column),
		Problem:  fmt.Sprintf("%s computes %s as %.6g from %s", e.calculator.ID, name, m.got, argText(args)),
		Want:     fmt.Sprintf("%s by %s; %.2g %% off", e.set.Rows[row].Cells[x.column].Text, origin(e.set.Rows[row]), 100*m.share),
		Remedy:   "correct the calculator, or the figure from its source; if the source departs, state a tolerance or an exception with the reason",
		Related:  x.pos,
	}
}

func argText(args []calculators.Arg) string {
	parts := make([]string, len(args))
	for i, a := range args {
		parts[i] = a.Name + "=" + a.Value
	}
	return strings.Join(parts, ", ")
}

func origin(r figures.Row) string {
	if r.Source == "" {
		return r.Basis
	}
	return strings.TrimSpace(r.Source + " " + r.Locator)
}

// needless reports tolerances and exceptions that are not needed, or are wide.
func (e *entry) needless(r SetReport, missed bool) diag.List {
	var list diag.List
	check := func(a allowance, needed bool, most float64, rows int) {
		d := diag.Diagnostic{Position: a.pos, Remedy: "remove it"}
		switch {
		case rows == 0:
			d.Problem, d.Want = "the exception is for no row of its entry", "rows that the entry is for"
		case !needed:
			d.Problem, d.Want = "the tolerance is not needed", "none, because every figure comes out at its printed digits"
		case a.tolerance > 2*most:
			d.Problem, d.Want, d.Remedy = fmt.Sprintf("the tolerance is %.2g", a.tolerance), fmt.Sprintf("at most twice the largest deviation, %.2g", most), "narrow it"
		default:
			return
		}
		list.Add(d)
	}
	if e.tolerance > 0 {
		check(e.allowance, missed, r.Largest, r.Rows)
	}
	for _, x := range e.except {
		check(x.allowance, x.most > 0, x.most, x.rows)
	}
	return list
}
