package figures

import (
	"cmp"
	"slices"

	"mereleaf/cmd/mereleaf/internal/diag"
)

func byID(a, b Source) int { return cmp.Compare(a.ID, b.ID) }

// outOfOrder reports the sources that stand at a wrong place: the fewest that must
// move for the ids of all to rise. One source that was put in at the wrong place is
// one fault, and not one for each of those it stands before or behind.
func outOfOrder(sources []Source) diag.List {
	if slices.IsSortedFunc(sources, byID) {
		return nil
	}
	var faults diag.List
	kept := longestRise(sources)
	for i, s := range sources {
		if kept[i] {
			continue
		}
		remedy := "move it to the top"
		var before Source
		for j, k := range sources {
			if kept[j] && k.ID < s.ID {
				before = k
				remedy = "move it behind " + k.ID
			}
		}
		faults.Add(diag.Diagnostic{Position: s.Position, Problem: "the source " + s.ID + " stands out of order",
			Want: "sources in the order of their ids", Remedy: remedy, Related: before.Position})
	}
	return faults
}

// longestRise marks as many sources as can stay where they are while their ids
// rise. Of two that are the wrong way round, the first stays.
func longestRise(sources []Source) []bool {
	length := make([]int, len(sources)) // of the longest rise that begins here
	next := make([]int, len(sources))   // the source after it in that rise
	start := 0
	for i := len(sources) - 1; i >= 0; i-- {
		length[i], next[i] = 1, len(sources)
		for j := i + 1; j < len(sources); j++ {
			if sources[j].ID > sources[i].ID && length[j]+1 > length[i] {
				length[i], next[i] = length[j]+1, j
			}
		}
		if length[i] >= length[start] {
			start = i
		}
	}
	kept := make([]bool, len(sources))
	for i := start; i < len(sources); i = next[i] {
		kept[i] = true
	}
	return kept
}
