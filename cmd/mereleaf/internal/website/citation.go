package website

import (
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

// citation says where a number or a formula comes from. The template "cited"
// prints it.
type citation struct {
	at
	Key     string // anchor in the list of sources; "" for a source not listed
	Short   string // "Emerson and others 1975"; "" for common practice
	Locator string // "equation 6"
	Basis   string // in words
	Mark    string // class of the basis
}

func (w *web) citation(here at, source, locator, basis string) citation {
	c := citation{at: here, Short: source, Locator: locator, Basis: basisText(basis), Mark: page.Mark(basis)}
	if s, ok := w.book.Library.Source(source); ok {
		c.Key, c.Short = s.ID, s.Short()
	}
	return c
}

// basisText says a basis in words.
func basisText(basis string) string {
	switch basis {
	case figures.Published:
		return "published"
	case figures.Computed:
		return "reckoned"
	case figures.Practice:
		return "common practice"
	case figures.Memory:
		return "from memory"
	case figures.Scenario:
		return "invented example"
	}
	return basis
}
