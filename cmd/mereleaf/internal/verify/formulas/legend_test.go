package formulas

import (
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
)

func TestLegend(t *testing.T) {
	f := calculators.Formula{
		TeX:   `V = l\,A`,
		Check: calculators.Explicit("V [m3]: l [m] length at the top 1..30, A [m2] 1|2", func(l, a float64) float64 { return l * a }),
	}
	terms, err := Legend(f)
	if err != nil || len(terms) != 3 {
		t.Fatal(terms, err)
	}
	if got := terms[1]; got.Symbols[0] != "l" || got.Word != "length at the top" || got.Unit != "m" {
		t.Errorf("a word of the declaration: %+v", got)
	}
	if got := terms[2]; got.Word != shared("A", "m2") || got.Word == "" || got.Unit != "m²" {
		t.Errorf("a shared word: %+v", got)
	}
}

// A symbol without a word is a fault.
func TestSymbolsWithoutWords(t *testing.T) {
	f := calculators.Formula{TeX: `V = Q`, Check: calculators.Explicit("V [m3]: Q [m] 1..30", func(q float64) float64 { return q })}
	if got := wordless(f); !slices.Equal(got, []string{"Q"}) {
		t.Error(got)
	}
	f.TeX = `2\,l`
	f.Check = calculators.Explicit("Z [m]: l [m] 1..30", func(l float64) float64 { return 2 * l })
	if got := wordless(f); !slices.Equal(got, []string{"its result"}) {
		t.Error(got)
	}
}

// A shared word that no formula needs is a mistake in its symbol or unit.
func TestSharedWordsAreUsed(t *testing.T) {
	used := map[string]bool{}
	eachFormula(func(f calculators.Formula) {
		s, err := readSignature(f.Check.Symbols)
		if err != nil {
			return
		}
		for _, d := range append(s.results, s.arguments...) {
			if d.word == "" {
				used[d.name+" ["+d.unit+"] "+shared(d.name, d.unit)] = true
			}
		}
	})
	lines := strings.Split(strings.TrimSpace(words), "\n")
	for _, line := range lines {
		if !used[line] {
			t.Errorf("no formula uses the shared word %q", line)
		}
	}
	if !slices.IsSorted(lines) {
		t.Error("the shared words are not sorted")
	}
}
