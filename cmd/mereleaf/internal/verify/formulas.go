package verify

import (
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/verify/formulas"
)

const formulasDoc = `formulas as printed
The TeX of every formula is read and evaluated: an explicit one gives what its Go
function gives, over the range it is declared for; an implicit one is satisfied by
the answer; differential equations hold at points of their solution; reactions
balance. Chapters print only such formulas. None is left out.`

// evaluated is what formulas.Check returns.
type evaluated struct {
	report formulas.Report
	faults diag.List
}

func evaluate(b *book.Book) evaluated {
	return b.Keep("formulas", func() any {
		report, faults := formulas.Check(b.Calculators)
		return evaluated{report, faults}
	}).(evaluated)
}

func formulasFaults(b *book.Book) diag.List {
	var blocks []formulas.Block
	for _, c := range b.Chapters() {
		for _, block := range c.Doc.Blocks {
			if block.Kind == page.MathBlock {
				blocks = append(blocks, formulas.Block{TeX: block.TeX, Pos: block.Pos})
			}
		}
	}
	return append(formulas.CheckBlocks(b.Calculators, blocks), evaluate(b).faults...)
}

func lookFormulas(b *book.Book) Finding {
	r := evaluate(b).report
	return Finding{Seen: []Count{
		{r.Explicit, "explicit"}, {r.Implicit, "implicit"}, {r.Differential, "differential"}, {r.Reactions, "reactions"},
		{r.Constants, "lists of constants"}, {r.Unchecked, "not evaluated"},
	}}
}
