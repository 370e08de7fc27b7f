package reckon

import (
	"cmp"
	"slices"
	"strings"
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
		cost := distance(word, name)
		if word != "" && (strings.Contains(name, word) || strings.Contains(word, name)) {
			cost = 1
		}
		if cost <= max(2, length(name)/2) {
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

// distance is the Levenshtein distance: the least count of letters inserted,
// deleted or changed.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
