package verify

import (
	"maps"
	"slices"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

const quantitiesDoc = `quantities in sentences
Every linked quantity equals its source at the precision shown, after conversion
to the unit shown. Counted: those bound to figures, by the basis of the figure, to
results and inputs of calculators, and to ponds of the book.`

func quantitiesFaults(b *book.Book) diag.List { return b.Faults().Quantities }

func lookQuantities(b *book.Book) Finding {
	calculators, ponds, byBasis := 0, 0, map[string]int{}
	for _, q := range b.Quantities() {
		switch q.Scheme {
		case page.ToCalculator:
			calculators++
		case page.ToPond:
			ponds++
		case page.ToFigure:
			byBasis[q.Figure.Set.Rows[q.Figure.Row].Basis]++
		}
	}
	f := Finding{Seen: []Count{{sum(byBasis), "bound to figures"}}}
	for _, basis := range slices.Sorted(maps.Keys(byBasis)) {
		f.Seen = append(f.Seen, Count{byBasis[basis], basis})
	}
	f.Seen = append(f.Seen, Count{calculators, "to calculators"}, Count{ponds, "to ponds"})
	return f
}
