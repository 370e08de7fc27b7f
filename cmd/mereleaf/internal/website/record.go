package website

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// recordContent is all that the leaf of the pond record may show. The script
// unhides what is kept.
type recordContent struct {
	at
	Groups []recordGroup
	Units  []choice
}

// recordGroup is the facts that calculators share, or what one calculator asks
// for besides.
type recordGroup struct {
	link    // zero for the shared facts
	Entries []recordEntry
}

type recordEntry struct {
	Key, Label string
	Once       string // earlier keys, with blanks between them
	Choice     bool   // its text is one of Choices
	Choices    []choice
	AskedBy    []link
}

// choice is a word as a file has it, and as a reader sees it.
type choice struct{ Name, Label string }

func (w *web) record() Page {
	f := w.frame(paths.Record, "My pond", "What you have typed into the calculators, kept in your browser.", "")
	c := w.recordContent(f.at)
	return w.listed(f, "record.html", c, c.Groups, c.Units)
}

func (w *web) recordContent(here at) recordContent {
	set := w.book.Calculators
	c := recordContent{at: here, Units: symbols(set), Groups: []recordGroup{{}}}
	for _, fact := range set.Facts() {
		e := entryOf(fact.Name, fact.Input)
		for _, u := range fact.AskedBy {
			e.AskedBy = append(e.AskedBy, calculatorLink(u.Calculator))
			e.once(u.Calculator, u.Input)
		}
		c.Groups[0].Entries = append(c.Groups[0].Entries, e)
	}
	for _, calculator := range set.All() {
		g := recordGroup{link: calculatorLink(calculator)}
		for _, d := range calculator.Inputs {
			if d.Fact == "" {
				e := entryOf(calculator.Key(d), d)
				e.once(calculator, d)
				g.Entries = append(g.Entries, e)
			}
		}
		if len(g.Entries) > 0 {
			c.Groups = append(c.Groups, g)
		}
	}
	return c
}

// once adds the keys under which earlier editions kept an input.
func (e *recordEntry) once(c calculators.Calculator, d calculators.Input) {
	e.Once = strings.TrimSpace(e.Once + " " + strings.Join(c.Keys(d)[1:], " "))
}

func entryOf(key string, d calculators.Input) recordEntry {
	e := recordEntry{Key: key, Label: d.Label, Choice: d.Type == calculators.Choice}
	for _, one := range append([]calculators.Input{d}, d.Columns...) {
		for _, o := range one.Options {
			e.Choices = append(e.Choices, choice{o.Name, o.Label})
		}
	}
	return e
}

// symbols lists the units that fields offer whose symbol differs from the code.
func symbols(set calculators.Set) []choice {
	var all []choice
	seen := map[string]bool{}
	for _, c := range set.All() {
		for _, d := range c.Inputs {
			for _, one := range append([]calculators.Input{d}, d.Columns...) {
				if one.Type != calculators.Single {
					continue
				}
				for _, code := range one.Units() {
					if symbol := quantity.Symbol(code); symbol != "" && symbol != code && !seen[code] {
						seen[code] = true
						all = append(all, choice{code, symbol})
					}
				}
			}
		}
	}
	return all
}
