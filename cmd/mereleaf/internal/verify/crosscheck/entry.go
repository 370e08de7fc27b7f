package crosscheck

import (
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// uncomputedTable names the table of the sets that no calculator computes.
const uncomputedTable = "uncomputed"

// entry is one [[set]] of the bindings.
type entry struct {
	pos        diag.Position
	set        *figures.Set
	calculator calculators.Calculator
	where      where
	given      []given
	expect     []expect
	reads      []pattern
	times      quantity.Quantity // zero: the figure as it is
	allowance
	except []*exception
	skip   string
}

// allowance is by how much an answer may differ from a figure, and why.
type allowance struct {
	tolerance float64 // share of the figure; 0: its printed digits
	reason    string
	pos       diag.Position // of the tolerance
}

type exception struct {
	allowance
	where where
	rows  int
	most  float64 // largest deviation met
}

// given is an input and where its text comes from.
type given struct {
	pos      diag.Position
	input    calculators.Input
	template string // with {column}
}

// expect is a figure and the output that should equal it.
type expect struct {
	pos    diag.Position
	column int
	output calculators.Output
	end    string // "", "low" or "high"
}

// where selects rows by the text of columns.
type where []condition

type condition struct {
	column int
	texts  []string
}

func (w where) holds(s *figures.Set, row int) bool {
	for _, c := range w {
		if !slices.Contains(c.texts, s.Rows[row].Cells[c.column].Text) {
			return false
		}
	}
	return true
}

// plan is the bindings, checked against the sets and calculators.
type plan struct {
	entries    []*entry
	uncomputed []Note
}

// builder reads tables into a plan, reporting every fault.
type builder struct {
	lib  *figures.Library
	set  calculators.Set
	list diag.List
}

func (b *builder) fault(pos diag.Position, problem, want, remedy string) {
	b.list.Add(diag.Diagnostic{Position: pos, Problem: problem, Want: want, Remedy: remedy})
}

func (b *builder) build(tables []table) plan {
	var p plan
	for _, t := range tables {
		if t.name == uncomputedTable {
			p.uncomputed = append(p.uncomputed, b.notes(t)...)
			continue
		}
		set, ok := b.lib.Set(t.name)
		switch {
		case !ok:
			b.fault(t.pos, "there is no figure set "+t.name, "a file "+figures.Folder+"/"+t.name+".csv", "correct the name or add the set")
			continue
		case !t.many:
			b.fault(t.pos, "the entry stands in single brackets", "[["+t.name+"]]", "write double brackets")
			continue
		}
		if e := b.entry(t, set); e != nil {
			p.entries = append(p.entries, e)
		}
	}
	b.complete(p)
	return p
}

func (b *builder) notes(t table) []Note {
	var out []Note
	for _, f := range t.value.fields {
		if _, ok := b.lib.Set(f.name); !ok {
			b.fault(f.pos, "there is no figure set "+f.name, "the name of a set", "remove the line")
			continue
		}
		if strings.TrimSpace(f.value.text) == "" {
			b.fault(f.pos, "no reason is given", "why no calculator computes the set", "say why")
			continue
		}
		out = append(out, Note{f.name, f.value.text, f.pos})
	}
	return out
}

// complete checks that every set is spoken for once.
func (b *builder) complete(p plan) {
	bound := map[string]bool{}
	for _, e := range p.entries {
		bound[e.set.Name] = true
	}
	listed := map[string]bool{}
	for _, n := range p.uncomputed {
		if bound[n.Set] || listed[n.Set] {
			b.fault(n.Pos, "the set "+n.Set+" is bound, or listed twice", "a set in one place", "remove the line")
		}
		listed[n.Set] = true
	}
	if len(b.list) > 0 {
		return // an entry that cannot be read would be reported as missing here
	}
	for _, s := range b.lib.Sets {
		if !bound[s.Name] && !listed[s.Name] {
			b.fault(diag.Position{File: s.File, Line: 1, Column: 1}, "no calculator is compared with the set", "an entry [["+s.Name+"]] in "+BindingsFile, "bind it there, or list it under ["+uncomputedTable+"] with the reason")
		}
	}
}

func (b *builder) entry(t table, set *figures.Set) *entry {
	e := &entry{pos: t.pos, set: set}
	before := len(b.list)
	fields := map[string]field{}
	for _, f := range t.value.fields {
		if !slices.Contains([]string{"calculator", "where", "given", "expect", "read", "times", "tolerance", "reason", "except", "skip"}, f.name) {
			b.fault(f.pos, "the key "+f.name+" is unknown", "calculator, where, given, expect, read, times, tolerance, reason, except or skip", "correct the key")
		}
		if _, twice := fields[f.name]; twice {
			b.fault(f.pos, "the key "+f.name+" stands twice", "each key once", "remove one of them")
		}
		fields[f.name] = f
	}
	e.where = b.where(set, fields["where"].value)
	e.skip = fields["skip"].value.text
	if e.skip == "" {
		b.computed(e, t, fields)
	} else if _, both := fields["calculator"]; both {
		b.fault(fields["calculator"].pos, "the rows are both computed and skipped", "one of them", "remove calculator or skip")
	}
	if len(b.list) > before {
		return nil
	}
	return e
}

func (b *builder) computed(e *entry, t table, fields map[string]field) {
	id := fields["calculator"].value
	var ok bool
	if e.calculator, ok = b.set.Find(id.text); !ok {
		if id.text == "" {
			b.fault(t.pos, "the entry names no calculator", `calculator = "ID", or skip = "why"`, "add one of them")
			return
		}
		b.fault(id.pos, "there is no calculator "+id.text, "one of "+b.calculatorIDs(), "correct the ID")
		return
	}
	e.reads = b.patterns(e.set, fields["read"].value)
	for _, f := range fields["given"].value.fields {
		if g, ok := b.given(e, f); ok {
			e.given = append(e.given, g)
		}
	}
	for _, f := range fields["expect"].value.fields {
		if x, ok := b.expect(e, f); ok {
			e.expect = append(e.expect, x)
		}
	}
	if len(fields["expect"].value.fields) == 0 {
		b.fault(t.pos, "the entry expects nothing", `expect = { column = "output" }`, "name the figures that the calculator computes")
	}
	e.allowance = b.allowance(t.pos, fields["tolerance"].value, fields["reason"].value)
	for _, v := range fields["except"].value.items {
		e.except = append(e.except, b.exception(e.set, v))
	}
	if f, ok := fields["times"]; ok {
		e.times = b.times(f)
	}
}

func (b *builder) calculatorIDs() string {
	var ids []string
	for _, c := range b.set.All() {
		ids = append(ids, c.ID)
	}
	return strings.Join(ids, ", ")
}

func (b *builder) where(set *figures.Set, v value) where {
	var out where
	for _, f := range v.fields {
		column, ok := set.ColumnNamed(f.name)
		if !ok {
			b.noColumn(f.pos, set, f.name)
			continue
		}
		c := condition{column: column}
		for _, item := range append(slices.Clone(f.value.items), f.value) {
			if item.kind == unstable.String {
				c.texts = append(c.texts, item.text)
			}
		}
		for _, text := range c.texts {
			if !hasText(set, column, text) {
				b.fault(f.pos, "no row of "+set.Name+" has "+f.name+` = "`+text+`"`, "a text as it stands in the file", "correct the text")
			}
		}
		if len(c.texts) == 0 {
			b.fault(f.pos, "the condition is not a text", `"text", or ["text", "text"]`, "put it in quotation marks")
		}
		out = append(out, c)
	}
	return out
}

func hasText(s *figures.Set, column int, text string) bool {
	for _, r := range s.Rows {
		if r.Cells[column].Text == text {
			return true
		}
	}
	return false
}

func (b *builder) noColumn(pos diag.Position, set *figures.Set, name string) {
	var names []string
	for _, c := range set.Data() {
		names = append(names, c.Name)
	}
	b.fault(pos, "the set "+set.Name+" has no column "+name+", or several", "one of "+strings.Join(names, ", "), "correct the name, or write it with its unit as in the file")
}

func (b *builder) given(e *entry, f field) (given, bool) {
	g := given{pos: f.pos}
	var ok bool
	if g.input, ok = e.calculator.Input(f.name); !ok {
		var names []string
		for _, d := range e.calculator.Inputs {
			names = append(names, d.Name)
		}
		b.fault(f.pos, e.calculator.ID+" has no input "+f.name, "one of "+strings.Join(names, ", "), "correct the name")
		return g, false
	}
	if text, ok := strings.CutPrefix(f.value.text, "="); ok {
		g.template = text
	} else {
		g.template = "{" + f.value.text + "}"
	}
	for _, name := range placeholders(g.template) {
		if _, ok := e.set.ColumnNamed(name); !ok && !slices.ContainsFunc(e.reads, func(p pattern) bool { return slices.Contains(p.names, name) }) {
			b.noColumn(f.value.pos, e.set, name)
			return g, false
		}
	}
	return g, true
}

func (b *builder) expect(e *entry, f field) (expect, bool) {
	x := expect{pos: f.pos}
	var ok bool
	if x.column, ok = e.set.ColumnNamed(f.name); !ok {
		b.noColumn(f.pos, e.set, f.name)
		return x, false
	}
	name, end, _ := strings.Cut(f.value.text, ".")
	x.end = end
	if x.output, ok = e.calculator.Output(name); !ok || end != "" && end != "low" && end != "high" {
		var names []string
		for _, o := range e.calculator.Outputs {
			names = append(names, o.Name)
		}
		b.fault(f.value.pos, e.calculator.ID+" has no output "+f.value.text, "one of "+strings.Join(names, ", ")+", with .low or .high for the ends of its range", "correct the name")
		return x, false
	}
	return x, true
}

func (b *builder) allowance(pos diag.Position, tolerance, reason value) allowance {
	if tolerance.kind == unstable.Invalid {
		return allowance{}
	}
	a := allowance{pos: tolerance.pos, reason: reason.text}
	if a.pos.Line == 0 {
		a.pos = pos
	}
	var ok bool
	if a.tolerance, ok = tolerance.number(); !ok || a.tolerance <= 0 || a.tolerance >= 1 {
		b.fault(a.pos, "the tolerance is "+tolerance.text, "a share such as 0.02", "write a number between 0 and 1")
	}
	if strings.TrimSpace(a.reason) == "" {
		b.fault(a.pos, "the tolerance has no reason", "why the figure differs", `add reason = "…"`)
	}
	return a
}

func (b *builder) exception(set *figures.Set, v value) *exception {
	x := &exception{}
	fields := map[string]value{}
	pos := v.pos
	for _, f := range v.fields {
		if pos.Line == 0 {
			pos = f.pos
		}
		fields[f.name] = f.value
		if f.name != "where" && f.name != "tolerance" && f.name != "reason" {
			b.fault(f.pos, "the key "+f.name+" is unknown", "where, tolerance or reason", "correct the key")
		}
	}
	x.where = b.where(set, fields["where"])
	if len(x.where) == 0 {
		b.fault(pos, "the exception names no rows", "where = { column = text }", "say which rows it is for")
	}
	if fields["tolerance"].kind == unstable.Invalid {
		b.fault(pos, "the exception has no tolerance", "a share such as 0.02", "add it, with the reason")
	}
	x.allowance = b.allowance(pos, fields["tolerance"], fields["reason"])
	return x
}

func (b *builder) times(f field) quantity.Quantity {
	number, code, _ := strings.Cut(f.value.text, " ")
	n, err := strconv.ParseFloat(number, 64)
	u, err2 := quantity.ParseUnit(code)
	if err != nil || err2 != nil || n == 0 {
		b.fault(f.value.pos, "times is "+f.value.text, `a number and a UCUM code, such as "1 kg/d"`, "correct it")
	}
	return quantity.Quantity{Value: n, Unit: u}
}
