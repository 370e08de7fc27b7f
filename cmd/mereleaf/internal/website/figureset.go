package website

import (
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
)

type setContent struct {
	at
	Name, File string
	Columns    string // their names, as a list in a sentence
	Head       []headCell
	Rows       []setRow
	Origins    []origin
	Used       []link
	Agreed     []agreed
}

type headCell struct {
	Text    string
	Numeric bool
}

type setRow struct {
	ID     string // "r2": anchor of the row, by its line in the file
	Cells  []setCell
	Origin int // number in setContent.Origins, from 1
}

type setCell struct {
	Text  string
	Words bool
	Mark  string // "" for words and for a number that is not there
}

// origin is what one or more rows come from.
type origin struct {
	citation
	Number int
	Note   string
}

func (w *web) figureSet(s *figures.Set) Page {
	f := w.frame(paths.FigureSet(s.Name), "Figures: "+s.Name, "Figures with their sources: "+columns(s)+".", "")
	return w.listedSet(f, s)
}

// listedSet makes the page of a set whose content is built only when needed.
func (w *web) listedSet(f frame, s *figures.Set) Page {
	return Page{Path: string(f.at), Key: key(w.base, "figure-set.html", s.Name, w.setDigest(s), w.uses.tables[s.Name], w.agreedOn(s.Name)), Bytes: func() ([]byte, error) {
		return w.print(f, "figure-set.html", w.setContent(f.at, s))
	}}
}

// setDigest changes with all that a leaf shows of a set's file. There are
// thousands of cells, so it is kept until the figures change.
func (w *web) setDigest(s *figures.Set) string {
	return w.book.Keep("digest of "+s.Name, func() any {
		var texts []any
		for _, c := range s.Columns {
			texts = append(texts, c.Name, c.Unit)
		}
		for _, r := range s.Rows {
			texts = append(texts, strconv.Itoa(r.Line))
			for _, c := range r.Cells { // the origin of the row is among them
				texts = append(texts, c.Text)
			}
		}
		return key(texts...)
	}).(string)
}

func (w *web) setContent(here at, s *figures.Set) setContent {
	c := setContent{at: here, Name: s.Name, Columns: columns(s), File: s.File, Used: w.uses.tables[s.Name], Agreed: w.agreedOn(s.Name)}
	data := s.Data()
	for _, col := range data {
		c.Head = append(c.Head, headCell{capital(heading(col)), col.Numeric()})
	}
	for _, r := range s.Rows {
		row, mark := setRow{ID: "r" + strconv.Itoa(r.Line)}, page.Mark(r.Basis)
		for i, col := range data {
			cell := setCell{Text: r.Cells[i].Text, Words: !col.Numeric()}
			if !cell.Words && cell.Text != "" {
				cell.Mark = mark
			}
			row.Cells = append(row.Cells, cell)
		}
		c.Origins, row.Origin = w.origin(here, c.Origins, r)
		c.Rows = append(c.Rows, row)
	}
	return c
}

// origin returns the number of the row's origin, and the origins with it.
func (w *web) origin(here at, all []origin, r figures.Row) ([]origin, int) {
	o := origin{citation: w.citation(here, r.Source, r.Locator, r.Basis), Note: fullStop(capital(r.Note))}
	for _, seen := range all {
		if o.Number = seen.Number; o == seen {
			return all, o.Number
		}
	}
	o.Number = len(all) + 1
	return append(all, o), o.Number
}

// heading is a column's name with its unit as printed in the handbook.
func heading(c figures.Column) string {
	name := words(c)
	if symbol := quantity.Symbol(c.Unit); symbol != "" && !strings.EqualFold(symbol, name) {
		return name + " (" + symbol + ")"
	}
	return name
}

func words(c figures.Column) string { return strings.ReplaceAll(c.Name, "_", " ") }

// columns names the columns of a set, which tell better than its name what it
// holds.
func columns(s *figures.Set) string {
	var names []string
	for _, c := range s.Data() {
		names = append(names, words(c))
	}
	return strings.Join(names, ", ")
}

// capital begins a text that is in lower case with a capital letter.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// fullStop ends a text as a sentence.
func fullStop(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

type setListContent struct {
	at
	Fields []setField
	Sets   int
	None   int // sets that no calculator computes
	Rows   int
	Bases  []basisCount
}

// setField is the sets whose names begin with the same word.
type setField struct {
	Title string
	Sets  []setSummary
}

type setSummary struct {
	link
	Columns string
	Rows    int
	Bases   []basisCount
	Used    []link
	Checks  []string // what came of putting calculators to it
	Why     string   // why none is
}

type basisCount struct {
	Text, Mark    string
	Rows, Numbers int
}

func (w *web) figureList() Page {
	f := w.frame(paths.Figures, "Figures", "Every set of figures of the handbook, with what it checks or why it checks nothing.", "")
	c := setListContent{at: f.at, Sets: len(w.book.Library.Sets)}
	for _, s := range w.book.Library.Sets { // by name, so a field's sets stand together
		field, _, _ := strings.Cut(s.Name, "-")
		if n := len(c.Fields); n == 0 || c.Fields[n-1].Title != capital(field) {
			c.Fields = append(c.Fields, setField{Title: capital(field)})
		}
		last := &c.Fields[len(c.Fields)-1]
		last.Sets = append(last.Sets, setSummary{
			link: setLink(s.Name), Columns: shorten(columns(s), 100),
			Rows: len(s.Rows), Bases: countBases(s), Used: w.uses.tables[s.Name], Checks: w.checkedBy(s.Name), Why: w.uncomputed(s.Name),
		})
		c.Rows += len(s.Rows)
		if w.uncomputed(s.Name) != "" {
			c.None++
		}
	}
	c.Bases = countBases(w.book.Library.Sets...)
	return w.listed(f, "figure-list.html", c, c.Fields, c.Sets, c.None, c.Rows, c.Bases)
}

// countBases counts rows and numbers by basis, in the order in which the handbook
// trusts them.
func countBases(sets ...*figures.Set) []basisCount {
	var counts []basisCount
	for _, t := range figures.Count(sets...) {
		counts = append(counts, basisCount{basisText(t.Basis), page.Mark(t.Basis), t.Rows, t.Numbers})
	}
	return counts
}
