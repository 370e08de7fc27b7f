package terminal

import (
	"fmt"
	"slices"
	"strings"

	"mereleaf/calculators"
)

// Cite gives the citation of a source key in one line, or false if the key is
// not known here.
type Cite func(key string) (string, bool)

// Warn gives the caution of a hazard in one line with its signal word, or false if
// there is none here.
type Warn func(h calculators.Hazard) (string, bool)

// all returns the cautions of a calculator: those of its hazards, then those
// special to it. A hazard without a caution is still named.
func (w Warn) all(c calculators.Calculator) []string {
	var all []string
	for _, h := range c.Hazards {
		text, ok := w(h)
		switch {
		case h == calculators.NoHazard:
			continue
		case !ok:
			text = "Mind: " + strings.ReplaceAll(string(h), "-", " ") + "."
		}
		all = append(all, text)
	}
	return append(all, c.Cautions...)
}

// references numbers the sources of an answer in the order of their use, so that
// each is printed in full once.
type references struct {
	cite Cite
	keys []string
}

// origin says in a few words where something comes from: "[1], equation 6".
func (r *references) origin(source, locator, basis string) string {
	if source == "" {
		return basisText(basis)
	}
	i := slices.Index(r.keys, source)
	if i < 0 {
		i = len(r.keys)
		r.keys = append(r.keys, source)
	}
	text := fmt.Sprintf("[%d]", i+1)
	if locator != "" {
		text += ", " + locator
	}
	if basis != "" && basis != "published" {
		text += ", " + basisText(basis)
	}
	return text
}

func basisText(basis string) string {
	switch basis {
	case "practice":
		return "common practice"
	case "memory":
		return "from memory"
	}
	return basis
}

func (s *sheet) sources(r *references) {
	if len(r.keys) == 0 {
		return
	}
	s.heading("Sources")
	for i, key := range r.keys {
		text := key
		if citation, ok := r.cite(key); ok {
			text = citation
		}
		s.hang(fmt.Sprintf("  [%d] ", i+1), text)
	}
}
