// Package quantities binds the quantities of sentences. A quantity is the text of
// an ordinary link; it is compared with what the link leads to, at the precision
// shown and after conversion to the unit shown:
//
//	[0.05 mg/L](figure:SET?key=value#column)                    a figure
//	[22 m²](calculator:media-volume?pond=NAME&input=value#surface)  a result, or an input
//	[9,100 L](pond:NAME#volume)                                 a fact of a pond of the book
//
// A range is compared with both ends of the source's range, a single number with
// its likely value; #surface-low and #surface-high name one end. A product such as
// 560 × 360 × 270 mm is bound to several names with commas between them.
//
// It touches nothing outside the program.
package quantities

import (
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// Binder knows all that a quantity may be bound to. It may be used from several
// goroutines.
type Binder struct {
	Library     *figures.Library
	Calculators calculators.Set
	Ponds       ponds.Ponds
	Nouns       Nouns

	runs *runs
}

// New returns a Binder that keeps what calculators answered.
func New(library *figures.Library, set calculators.Set, all ponds.Ponds, nouns Nouns) *Binder {
	return &Binder{Library: library, Calculators: set, Ponds: all, Nouns: nouns, runs: newRuns()}
}

// Bound is what the quantity of a link is bound to. It is zero for other links and
// where there is a fault.
type Bound struct {
	Scheme   page.Scheme    // of its source: ToFigure, ToCalculator or ToPond
	Figure   figures.Bound  // for ToFigure; of a product the first
	Quantity *page.Quantity // as printed
}

// Bind compares the quantity of a link with its source. What the calculator of the
// link refuses, or that there is none, package book reports.
func (b *Binder) Bind(r *page.Reference) (Bound, *diag.Diagnostic) {
	if !r.Quantity() {
		return Bound{}, nil
	}
	names := strings.Split(r.Fragment, ",")
	p, err := Read(r.Text, b.Nouns)
	if err == nil && p.List && len(names) == 1 && len(p.Amounts) == 2 { // between 15 and 20 °C
		p, err = p.ranged()
	}
	if err != nil {
		bad := err.(*figures.AmountError)
		return fault(r, `"`+r.Text+`" `+bad.Problem, "one quantity such as 9.1 mg/L and nothing else", bad.Remedy)
	}
	if len(names) != len(p.Amounts) {
		return fault(r, `"`+r.Text+`" and #`+r.Fragment+" are not equally many", "a name for each number, such as #length,width,height", "correct the text or the names")
	}
	bound, d := b.bind(r, p, names)
	for both := p.Both; both != nil && d == nil; both = both.Both {
		_, d = b.bind(r, *both, names)
	}
	return bound, d
}

func (b *Binder) bind(r *page.Reference, p Printed, names []string) (Bound, *diag.Diagnostic) {
	switch r.Scheme {
	case page.ToFigure:
		return b.figure(r, p, names)
	case page.ToPond:
		return b.pond(r, p, names)
	}
	return b.result(r, p, names)
}

func fault(r *page.Reference, problem, want, remedy string) (Bound, *diag.Diagnostic) {
	return Bound{}, &diag.Diagnostic{Position: r.Pos, Problem: problem, Want: want, Remedy: remedy}
}

// figure binds to a figure set.
func (b *Binder) figure(r *page.Reference, p Printed, columns []string) (Bound, *diag.Diagnostic) {
	bound := Bound{Scheme: page.ToFigure}
	for i, a := range p.Amounts {
		ref := r.FigureRef()
		ref.Column = columns[i]
		f, d := b.Library.BindFigure(ref, a)
		if d != nil {
			return Bound{}, d
		}
		if i == 0 {
			bound.Figure = f
		}
	}
	f := bound.Figure
	if noun := f.Set.Noun(f.Row, f.Column); p.Noun != "" && noun != "" {
		if one, _ := b.Nouns.one(noun); one != p.Noun {
			return fault(r, `"`+r.Text+`" does not count `+noun, "a number of "+noun, "correct the noun, or the link")
		}
	}
	unit, _ := f.Set.Unit(f.Row, f.Column)
	bound.Quantity = p.marked(isStep(unit, p.Unit))
	return bound, nil
}

// isStep reports whether a printed temperature is a difference: its source is in
// kelvin.
func isStep(source, printed quantity.Unit) bool { return source.Offset == 0 && printed.Offset != 0 }

// pond binds to facts of a pond.
func (b *Binder) pond(r *page.Reference, p Printed, keys []string) (Bound, *diag.Diagnostic) {
	pond, ok := b.Ponds.Find(r.Target)
	if !ok {
		return Bound{}, unknownPond(b.Ponds, r, r.Target)
	}
	on, d := day(r)
	if d != nil {
		return Bound{}, d
	}
	known, ok := pond.On(on)
	if !ok {
		return Bound{}, noReading(r, pond, on)
	}
	for i, a := range p.Amounts {
		key := strings.TrimSpace(keys[i])
		v, text, ok := b.fact(known.All(), key)
		switch {
		case text == "":
			return fault(r, "the pond "+r.Target+" has no fact "+key, "one of "+nearest(key, slices.Sorted(maps.Keys(known.All()))), "correct the link, or add the fact to "+pond.File)
		case !ok:
			return fault(r, key+" of the pond "+r.Target+" is no quantity: it is "+text, "a fact that is one number, or #"+key+".column of a list", "correct the link")
		}
		if d := b.judge(r, p, a, v, key+" of the pond "+r.Target, text+", as the pond's record says", pond.File); d != nil {
			return Bound{}, d
		}
	}
	return Bound{Scheme: page.ToPond, Quantity: p.marked(false)}, nil
}

// judge compares an amount with a value and words the fault.
func (b *Binder) judge(r *page.Reference, p Printed, a figures.Amount, v value, name, says, file string) *diag.Diagnostic {
	d := diag.Diagnostic{Position: r.Pos, Want: says, Remedy: "correct the number, or the link"}
	if file != "" {
		d.Related = diag.Position{File: file}
	}
	switch v.compare(p, a) {
	case same:
		return nil
	case finer:
		d.Problem, d.Remedy = `"`+r.Text+`" has more digits than `+name+" bears", "print fewer digits"
	case otherDim:
		d.Problem, d.Remedy = `"`+r.Text+`" is not in a unit of `+name, "correct the unit, or the name behind #"
	default:
		d.Problem = `"` + r.Text + `" is not ` + name
	}
	return &d
}

// nearest lists names for a message, those most like a wrong one first.
func nearest(name string, known []string) string {
	const most = 8
	sorted := slices.Clone(known)
	slices.SortStableFunc(sorted, func(a, b string) int { return common(name, b) - common(name, a) })
	if len(sorted) > most {
		sorted = append(sorted[:most], "…")
	}
	return strings.Join(sorted, ", ")
}

// common is the length of what two names begin with alike.
func common(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
