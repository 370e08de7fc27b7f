package website

import (
	"html/template"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/paths"
)

type cautionsContent struct {
	at
	Summary  string
	Cautions []cautionEntry
}

// cautionEntry is a caution in full.
type cautionEntry struct {
	Slug, Name string
	Panel      template.HTML
}

// cautions is the page that the short forms of cautions lead to.
func (w *web) cautions() Page {
	f := w.frame(paths.Cautions, "Cautions", w.book.CautionsDoc().Summary, "")
	return Page{Path: string(f.at), Key: key(w.base, "cautions.html", w.book.CautionsKey()), Bytes: func() ([]byte, error) {
		c := cautionsContent{at: f.at, Summary: w.book.CautionsDoc().Summary}
		for _, caution := range w.book.Cautions {
			panel, err := w.book.CautionHTML(caution)
			if err != nil {
				return nil, err
			}
			c.Cautions = append(c.Cautions, cautionEntry{caution.Slug, caution.Name, panel})
		}
		return w.print(f, "cautions.html", c)
	}}
}

// cautionLine is a caution in one line, with the way to its full text.
type cautionLine struct{ Path, Signal, Line string }

// cautionLines returns the cautions of hazards in one line each.
func (w *web) cautionLines(hazards []calculators.Hazard) []cautionLine {
	var lines []cautionLine
	for _, c := range w.pad.Cautions(hazards) {
		lines = append(lines, cautionLine{paths.Cautions + "#" + c.Slug, c.Signal(), c.Line})
	}
	return lines
}
