package quantities

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

// nearby is what a chapter's quantities may be bound to: its calculators, with the
// inputs of its links and blocks, the ponds, and all figures.
type nearby struct {
	binder *Binder
	asked  []asked
	cited  []*page.Reference // to figures
	prints []string          // figure sets that the chapter shows already
}

// asked is a call of a calculator with the link that makes it.
type asked struct {
	calculator calculators.Calculator
	answer     *run
	link       string
	by         *page.Reference // the first that asks; nil for a block
}

// most is how many candidates a fault names.
const most = 3

// around gathers what stands around the quantities of a file.
func (b *Binder) around(doc *page.Document) *nearby {
	n := &nearby{binder: b, prints: doc.Prints}
	for _, r := range doc.References {
		switch r.Scheme {
		case page.ToCalculator:
			n.ask(r.Target, r.Query, r)
		case page.ToFigure:
			n.cited = append(n.cited, r)
		}
	}
	for _, block := range doc.Blocks {
		var query []figures.Pair
		for _, s := range block.Settings {
			query = append(query, figures.Pair{Key: s.Name, Value: s.Value})
		}
		if block.Kind == page.CalculatorBlock {
			n.ask(block.Name, query, nil)
		}
	}
	for _, pond := range b.Ponds[:min(1, len(b.Ponds))] { // whose tower the book builds
		n.ask("tower", []figures.Pair{{Key: pondKey, Value: pond.Name}}, nil)
	}
	return n
}

func (n *nearby) ask(id string, query []figures.Pair, by *page.Reference) {
	c, ok := n.binder.Calculators.Find(id)
	if !ok {
		return
	}
	call, d := n.binder.Call(c, &page.Reference{Scheme: page.ToCalculator, Target: id, Query: query})
	if d != nil {
		return
	}
	answer := n.binder.run(c, call.Args)
	if answer.err == nil && !slices.ContainsFunc(n.asked, func(a asked) bool { return a.answer == answer }) {
		n.asked = append(n.asked, asked{c, answer, "calculator:" + id + address(query), by})
	}
}

// address writes a query as it stands in a link.
func address(query []figures.Pair) string {
	text := ""
	for i, p := range query {
		text += string("?&"[min(i, 1)]) + figures.Escape(p.Key) + "=" + figures.Escape(p.Value)
	}
	return text
}

// candidate is a link that would bind a quantity, and how well its words fit.
type candidate struct {
	link string
	fit  int
}

// remedy names the candidates for a quantity.
func (n *nearby) remedy(s page.Stretch, q quantity.Span) string {
	printed, err := Read(quoted(s.Text, q), n.binder.Nouns)
	if err != nil {
		return err.(*figures.AmountError).Remedy
	}
	if len(printed.Amounts) > 1 {
		return "link it with a name for each number, as in #length,width,height, or word it as a range"
	}
	f := finder{printed: printed, words: wordsOf(s.Text), links: s.Links}
	n.inPonds(&f)
	n.inResults(&f)
	n.inFigures(&f)
	slices.SortStableFunc(f.found, func(a, b candidate) int { return cmp.Compare(b.fit, a.fit) })
	var links []string
	for _, c := range f.found[:min(most, len(f.found))] {
		links = append(links, "["+quoted(s.Text, q)+"]("+c.link+")")
	}
	if links == nil {
		return "no source has it: add a figure, or correct the number"
	}
	return "link it, perhaps as " + strings.Join(links, " or ")
}

// finder gathers the candidates for one quantity.
type finder struct {
	printed Printed
	words   map[string]bool // of the stretch that it stands in
	links   []page.LinkSpan // of the stretch
	found   []candidate
}

func (f *finder) equals(v value) bool { return v.equals(f.printed, f.printed.Amounts[0]) }

// shared counts how well words fit the stretch.
func (f *finder) shared(about string) (fit int) {
	for word := range wordsOf(about) {
		if f.words[word] {
			fit += 2
		}
	}
	return fit
}

// beside is what it counts that a link of the same stretch asks the same.
func (f *finder) beside(r *page.Reference) int {
	if r != nil && slices.ContainsFunc(f.links, func(l page.LinkSpan) bool { return l.Ref == r }) {
		return 4
	}
	return 0
}

func (f *finder) add(link, about string, bonus int) {
	f.found = append(f.found, candidate{link, f.shared(about) + bonus})
}

// wordsOf returns the words of a text that say something, roughly in the singular.
func wordsOf(text string) map[string]bool {
	words := map[string]bool{}
	for word := range strings.FieldsFuncSeq(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && r < 0x80 }) {
		if len(word) > 2 && word != "the" && word != "and" && word != "for" && word != "with" {
			words[strings.TrimSuffix(word, "s")] = true
		}
	}
	return words
}

func (n *nearby) inPonds(f *finder) {
	for _, pond := range n.binder.Ponds {
		known, _ := pond.On("")
		n.inFacts(f, known.All(), "pond:"+pond.Name, pond.Name)
		for _, day := range pond.Days() {
			if r, ok := pond.Reading(day); ok {
				n.inFacts(f, r.Facts, "pond:"+pond.Name+"?"+dayKey+"="+day, pond.Name)
			}
		}
	}
}

func (n *nearby) inFacts(f *finder, known map[string]string, link, about string) {
	for _, key := range slices.Sorted(maps.Keys(known)) {
		d := n.binder.asked(key)
		keys := []string{key}
		if d.Type == calculators.Rows {
			keys = nil
			for _, column := range d.Columns {
				keys = append(keys, key+"."+column.Name)
			}
		}
		for _, k := range keys {
			if v, _, ok := n.binder.fact(known, k); ok && f.equals(v) {
				f.add(link+"#"+k, k+" "+d.Label+" "+about, 1)
			}
		}
	}
}

func (n *nearby) inResults(f *finder) {
	for _, a := range n.asked {
		for _, o := range a.calculator.Outputs {
			for _, end := range []string{"", figures.LowEnd, figures.HighEnd} {
				if v, _, ok := n.binder.output(a.calculator, a.answer, o.Name+end); ok && f.equals(v) {
					f.add(a.link+"#"+o.Name+end, o.Name+" "+o.Label+" "+a.calculator.Title, 1+f.beside(a.by))
					break
				}
			}
		}
		for _, d := range a.calculator.Inputs {
			if _, stated := calculators.Find(a.answer.inputs, d.Name); !stated {
				continue
			}
			if v, _, ok := n.binder.input(a.calculator, a.answer, d.Name); ok && f.equals(v) {
				f.add(a.link+"#"+d.Name, d.Name+" "+d.Label, f.beside(a.by))
			}
		}
	}
}

// inFigures looks first for what links of the chapter presume, then for figures,
// those of the chapter's sets before others.
func (n *nearby) inFigures(f *finder) {
	a := f.printed.Amounts[0]
	var cited []*figures.Set // by a candidate
	for _, r := range n.cited {
		for _, p := range r.Query {
			ref := r.FigureRef()
			ref.Column = p.Key
			if b, d := n.binder.Library.BindFigure(ref, a); d == nil {
				cited = append(cited, b.Set)
				f.add("figure:"+r.Target+address(r.Query)+"#"+figures.Escape(p.Key), r.Target+" "+p.Key, 2+f.beside(r))
			}
		}
	}
	type cell struct {
		set         *figures.Set
		row, column int
		fit         int
	}
	var cells []cell
	n.binder.Library.Holders(a, f.printed.Unit, func(set *figures.Set, row, column int) {
		fit := f.shared(about(set, row, column))
		if slices.Contains(n.prints, set.Name) {
			fit += 3
		}
		if fit > 0 {
			cells = append(cells, cell{set, row, column, fit})
		}
	})
	slices.SortStableFunc(cells, func(a, b cell) int { return cmp.Compare(b.fit, a.fit) })
	for _, c := range cells[:min(most, len(cells))] {
		if slices.Contains(cited, c.set) {
			continue
		}
		if link := n.binder.Library.LinkTo(c.set, c.row, c.column, a); link != "" {
			f.found = append(f.found, candidate{link, c.fit})
		}
	}
}

// about is the words of a figure: of its set, its column and its row.
func about(set *figures.Set, row, column int) string {
	words := strings.ReplaceAll(set.Name, "-", " ") + " " + set.Columns[column].Name
	for i, c := range set.Data() {
		if !c.Numeric() {
			words += " " + set.Rows[row].Cells[i].Text
		}
	}
	return words
}
