// Package verify checks a handbook: every check of the list below over every
// chapter in one run, each fault with its place.
//
// It reads no files but those of an fs.FS that it is given.
package verify

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// Check is one thing that is checked. All fields are required.
type Check struct {
	Name string // one word: "tables"
	Doc  string // what is checked; the first line is a short title
	Run  func(*book.Book) diag.List
	// Look says what there was to check, for the report; it finds no faults.
	Look func(*book.Book) Finding
}

// Finding is what a check looked at and saw, for the report.
type Finding struct {
	Seen  []Count
	Notes []string // what is worth knowing and is no fault, one line each
}

// Count is a number of things.
type Count struct {
	N    int
	What string // "numeric cells, published"
}

// Checks lists every check in the order in which the report shows them.
func Checks() []Check {
	return []Check{
		{"files", filesDoc, filesFaults, lookFiles},
		{"text", textDoc, textFaults, lookText},
		{"references", referencesDoc, referencesFaults, lookReferences},
		{"terms", termsDoc, termsFaults, lookTerms},
		{"cautions", cautionsDoc, cautionsFaults, lookCautions},
		{"pictures", picturesDoc, picturesFaults, lookPictures},
		{"library", libraryDoc, libraryFaults, lookLibrary},
		{"tables", tablesDoc, tablesFaults, lookTables},
		{"quantities", quantitiesDoc, quantitiesFaults, lookQuantities},
		{"ledger", ledgerDoc, ledgerFaults, lookLedger},
		{"agreement", agreementDoc, agreementFaults, lookAgreement},
		{"calculators", calculatorsDoc, calculatorsFaults, lookCalculators},
		{"formulas", formulasDoc, formulasFaults, lookFormulas},
		{"blocks", blocksDoc, blocksFaults, lookBlocks},
		{"reading", readingDoc, readingFaults, lookReading},
		// Left out:
		// spelling: no word list for British English comes under a licence that
		// lets it be kept here, and trade words would drown what it found.
		// outside links: chapters have none, and the addresses in the list of
		// sources change with no fault of ours; a check that needs a network
		// could not run at a pond, or twice with one result.
	}
}

// Report is what a run saw.
type Report struct {
	Results []Result
}

// Result is the outcome of one check.
type Result struct {
	Name, Title string
	Finding
	Faults int
}

// Run runs every check. The faults are sorted, each once; a Book without any
// may be published.
func Run(b *book.Book) (Report, diag.List) {
	var r Report
	var all diag.List
	for _, c := range Checks() {
		faults := c.Run(b).Sorted()
		r.Results = append(r.Results, Result{c.Name, c.Title(), c.Look(b), len(faults)})
		all = append(all, faults...)
	}
	return r, all.Sorted()
}

// Faults runs every check without the report: quick enough for every save.
func Faults(b *book.Book) diag.List {
	checks := Checks()
	found := make([]diag.List, len(checks))
	var wait sync.WaitGroup
	for i, c := range checks {
		wait.Go(func() { found[i] = c.Run(b) })
	}
	wait.Wait()
	return slices.Concat(found...).Sorted()
}

// Title is the first line of the Doc.
func (c Check) Title() string {
	title, _, _ := strings.Cut(c.Doc, "\n")
	return title
}

// Print writes the report: one line for each check, and with notes the notes
// below it.
func (r Report) Print(w io.Writer, notes bool) error {
	for _, x := range r.Results {
		if _, err := fmt.Fprintln(w, x.line()); err != nil {
			return err
		}
		if !notes {
			continue
		}
		for _, n := range x.Notes {
			if _, err := fmt.Fprintln(w, "    "+n); err != nil {
				return err
			}
		}
	}
	return nil
}

func (x Result) line() string {
	verdict := "in order"
	switch x.Faults {
	case 0:
	case 1:
		verdict = "1 fault"
	default:
		verdict = fmt.Sprintf("%d faults", x.Faults)
	}
	var seen []string
	for _, c := range x.Seen {
		seen = append(seen, fmt.Sprintf("%d %s", c.N, c.What))
	}
	return strings.TrimRight(fmt.Sprintf("%-12s %-10s %s", x.Name, verdict, strings.Join(seen, ", ")), " ")
}
