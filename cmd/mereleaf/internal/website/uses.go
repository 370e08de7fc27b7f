package website

import (
	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// uses tells for sources and figure sets where the handbook uses them. Links
// stand in the order of the handbook, each once.
type uses struct {
	chapters map[string][]link // of a source: chapters that cite it
	reckon   map[string][]link // of a source: calculators with a formula from it
	sets     map[string][]link // of a source: figure sets with a row from it
	tables   map[string][]link // of a figure set: chapters that print from it
}

func findUses(b *book.Book) uses {
	u := uses{chapters: map[string][]link{}, reckon: map[string][]link{}, sets: map[string][]link{}, tables: map[string][]link{}}
	for _, p := range b.Parts {
		for _, c := range p.Chapters {
			u.addChapter(c)
		}
	}
	for _, c := range b.Calculators.All() {
		for _, f := range c.Formulas {
			add(u.reckon, f.Source, calculatorLink(c))
		}
	}
	for _, s := range b.Library.Sets {
		for _, r := range s.Rows {
			add(u.sets, r.Source, setLink(s.Name))
		}
	}
	return u
}

func (u uses) addChapter(c *book.Chapter) {
	to := chapterLink(c)
	to.Summary = ""
	for _, source := range c.Doc.Cites {
		add(u.chapters, source, to)
	}
	for _, set := range c.Doc.Prints {
		add(u.tables, set, to)
	}
}

// add keeps each link once. All uses in one place come together, so only the
// last link can be the same.
func add(m map[string][]link, name string, to link) {
	if n := len(m[name]); name == "" || n > 0 && m[name][n-1] == to {
		return
	}
	m[name] = append(m[name], to)
}

// setLink leads to a figure set, which goes by its own name: it is what a
// chapter's source binds to.
func setLink(name string) link { return link{Path: paths.FigureSet(name), Title: name, Code: true} }

func calculatorLink(c calculators.Calculator) link {
	return link{Path: paths.Calculator(c.ID), Title: c.Title, Summary: c.Question}
}
