package verify

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

const libraryDoc = `figure sets and sources
Every set can be read, and every row names a source that is listed, or the basis
on which it stands.`

func libraryFaults(b *book.Book) diag.List { return b.Faults().Library }

func lookLibrary(b *book.Book) Finding {
	f := Finding{Seen: []Count{{len(b.Library.Sets), "sets"}}}
	for _, t := range figures.Count(b.Library.Sets...) {
		f.Seen = append(f.Seen, Count{t.Rows, tallied(t)})
	}
	for _, s := range b.Library.Sets {
		note := s.Name + ":"
		for i, t := range figures.Count(s) {
			if i > 0 {
				note += ","
			}
			note += fmt.Sprintf(" %d %s", t.Rows, tallied(t))
		}
		f.Notes = append(f.Notes, note)
	}
	f.Seen = append(f.Seen, Count{len(b.Library.Sources), "sources"})
	return f
}

// tallied names the rows of a basis, and how many numbers they have.
func tallied(t figures.Tally) string {
	return fmt.Sprintf("rows %s with %d numbers", t.Basis, t.Numbers)
}

const ledgerDoc = `the ledger of the figures
Every figure is the one that the ledger has as a digest, so that no figure
changes unseen.`

func ledgerFaults(b *book.Book) diag.List {
	return b.Keep("ledger", func() any { return figures.CheckLedger(b.Library, b.Root()) }).(diag.List)
}

func lookLedger(b *book.Book) Finding {
	return Finding{Seen: []Count{{len(b.Library.Sets), "sets"}}}
}

const agreementDoc = `agreement of the calculators with the figures
Every row of a figure set that a calculator can compute comes out as printed, or
within a tolerance that is stated with its reason.`

// agreed is what crosscheck.Check returns.
type agreed struct {
	report crosscheck.Report
	faults diag.List
}

func agree(b *book.Book) agreed {
	return b.Keep("agreement", func() any {
		report, faults := crosscheck.Check(b.Library, b.Calculators, b.Root())
		return agreed{report, faults}
	}).(agreed)
}

// Agreement returns how the calculators agree with the figures. The Book keeps
// it, so it costs nothing after Run or Again.
func Agreement(b *book.Book) crosscheck.Report { return agree(b).report }

func agreementFaults(b *book.Book) diag.List { return agree(b).faults }

func lookAgreement(b *book.Book) Finding {
	var f Finding
	rows, compared, skipped, excepted := 0, 0, 0, 0
	report := agree(b).report
	for _, s := range report.Sets {
		f.Notes = append(f.Notes, s.String())
		if s.Calculator == "" {
			skipped += s.Rows
			continue
		}
		rows += s.Rows
		compared += s.Figures
		excepted += s.Excepted
	}
	for _, n := range report.Uncomputed {
		f.Notes = append(f.Notes, n.Set+": no calculator computes it: "+n.Reason)
	}
	f.Seen = []Count{{compared, "figures computed"}, {rows, "rows"}, {excepted, "rows excepted"}, {skipped, "rows skipped"}, {len(report.Uncomputed), "sets without a calculator"}}
	return f
}

const tablesDoc = `numbers in tables
Every number equals its reference figure at the precision shown, after
conversion to the unit shown. Counted: cells by the basis of their figure, and
the percent of them that were seen in print or are reckoned: by a library, or by
a calculator that is checked against their set.`

func tablesFaults(b *book.Book) diag.List { return b.Faults().Tables }

func lookTables(b *book.Book) Finding {
	count, byBasis, reckoned := 0, map[string]int{}, 0
	checked := computedSets(b)
	var f Finding
	for _, c := range b.Chapters() {
		cells := 0
		for _, t := range c.Doc.Tables {
			count++
			for _, row := range b.Bindings(c, t) {
				for _, cell := range row {
					if cell.Numeric {
						cells++
						basis := cell.Set.Rows[cell.Row].Basis
						byBasis[basis]++
						if basis == figures.Published || basis == figures.Computed || checked[cell.Set.Name] {
							reckoned++
						}
					}
				}
			}
		}
		f.Notes = append(f.Notes, fmt.Sprintf("%s: %d tables, %d numeric cells", c.File, len(c.Doc.Tables), cells))
	}
	f.Seen = []Count{{count, "tables"}, {sum(byBasis), "numeric cells"}}
	for _, basis := range slices.Sorted(maps.Keys(byBasis)) {
		f.Seen = append(f.Seen, Count{byBasis[basis], basis})
	}
	if cells := sum(byBasis); cells > 0 {
		f.Seen = append(f.Seen, Count{100 * reckoned / cells, "percent published or reckoned"})
	}
	return f
}

// computedSets names the figure sets of which a calculator computes rows.
func computedSets(b *book.Book) map[string]bool {
	sets := map[string]bool{}
	for _, s := range agree(b).report.Sets {
		if s.Calculator != "" {
			sets[s.Set] = true
		}
	}
	return sets
}

func sum(counts map[string]int) (n int) {
	for _, c := range counts {
		n += c
	}
	return n
}

const calculatorsDoc = `declarations of the calculators
Every declaration is complete; its example, table and chart are accepted; its
formulas name listed sources.`

func calculatorsFaults(b *book.Book) diag.List {
	return b.Keep("calculators", func() any { return declarationFaults(b) }).(diag.List)
}

func declarationFaults(b *book.Book) diag.List {
	var faults diag.List
	fault := func(id, problem, remedy string) {
		faults.Add(diag.Diagnostic{Position: declared(b.Root(), id), Problem: id + ": " + problem, Remedy: remedy})
	}
	for _, f := range b.Calculators.Validate() {
		fault(f.Calculator, f.Problem, "correct the declaration")
	}
	for _, c := range b.Calculators.All() {
		for _, f := range c.Formulas {
			for _, problem := range formulaFaults(b.Library, f) {
				fault(c.ID, "the formula "+f.Name+" "+problem, "correct the declaration, or add the source to "+figures.SourcesFile)
			}
		}
		if !slices.ContainsFunc(b.Parts, func(p *book.Part) bool { return p.Folder == c.Part }) {
			fault(c.ID, "the part "+c.Part+" is unknown", "name a part of "+book.ConfigFile)
		}
	}
	return faults
}

func lookCalculators(b *book.Book) Finding {
	formulas := 0
	for _, c := range b.Calculators.All() {
		formulas += len(c.Formulas)
	}
	return Finding{Seen: []Count{{len(b.Calculators.All()), "calculators"}, {formulas, "formulas"}}}
}

func formulaFaults(lib *figures.Library, f calculators.Formula) []string {
	var problems []string
	if _, ok := lib.Source(f.Source); !ok && f.Source != "" {
		problems = append(problems, "names the unknown source "+f.Source)
	}
	switch f.Basis {
	case figures.Published, figures.Practice, figures.Memory:
	default:
		problems = append(problems, "has the basis "+strings.TrimSpace("\""+f.Basis+"\"")+"; expected published, practice or memory")
	}
	return problems
}

const blocksDoc = `blocks that compute
Every calculator, lookup table, chart, drawing and formula in a chapter can be
made.`

func blocksFaults(b *book.Book) diag.List { return b.Faults().Blocks }

func lookBlocks(b *book.Book) Finding {
	count := map[page.BlockKind]int{}
	for _, c := range b.Chapters() {
		for _, block := range c.Doc.Blocks {
			count[block.Kind]++
		}
	}
	return Finding{Seen: []Count{
		{count[page.CalculatorBlock], "pads"}, {count[page.LookupBlock], "lookup tables"},
		{count[page.ChartBlock], "charts"}, {count[page.DrawingBlock], "drawings"}, {count[page.MathBlock], "formulas"},
	}}
}
