package diag

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators/quantity"
)

// Nearest returns up to three of the names that are most like the word, best
// first; none if nothing comes close.
func Nearest(word string, names []string) []string {
	type scored struct {
		name string
		cost int
	}
	var near []scored
	for _, name := range names {
		cost := quantity.Distance(word, name)
		if word != "" && (strings.Contains(name, word) || strings.Contains(word, name)) {
			cost = 1
		}
		if cost <= max(2, utf8.RuneCountInString(name)/2) {
			near = append(near, scored{name, cost})
		}
	}
	slices.SortStableFunc(near, func(a, b scored) int { return cmp.Compare(a.cost, b.cost) })
	var out []string
	for _, s := range near[:min(len(near), 3)] {
		out = append(out, s.name)
	}
	return out
}
