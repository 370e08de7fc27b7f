package catalog_test

import (
	"encoding/csv"
	"os"
	"slices"
	"testing"

	"mereleaf/calculators"
)

// origins lists source, locator and basis of each row of each figure set.
func origins(t *testing.T) map[[3]string]bool {
	t.Helper()
	found := map[[3]string]bool{}
	folder := os.DirFS("../../testdata/reference")
	entries, err := os.ReadDir("../../testdata/reference")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		file, err := folder.Open(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(file).ReadAll()
		file.Close()
		if err != nil || len(rows) == 0 {
			continue // no set
		}
		source, locator, basis := slices.Index(rows[0], "source"), slices.Index(rows[0], "locator"), slices.Index(rows[0], "basis")
		if source < 0 || locator < 0 || basis < 0 {
			continue
		}
		for _, row := range rows[1:] {
			found[[3]string{row[source], row[locator], row[basis]}] = true
		}
	}
	return found
}

// A mark names the source, the place in it and the basis that a row of a figure set
// has, or the formula of the calculator that it is worked out by: one that was
// swapped with another's does not stand in any.
func TestMarksHaveTheOriginOfAFigure(t *testing.T) {
	known := origins(t)
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, call := range calls(c) {
			_, r, _ := c.Evaluate(call.Args)
			for _, m := range r.Scale.Marks {
				byFormula := slices.ContainsFunc(c.Formulas, func(f calculators.Formula) bool {
					return f.Source == m.Source && f.Locator == m.Locator && f.Basis == m.Basis
				})
				if m.Source != "" && !byFormula && !known[[3]string{m.Source, m.Locator, m.Basis}] {
					t.Errorf("no figure is by %q, %q (%s), as the mark %q says", m.Source, m.Locator, m.Basis, m.Label)
				}
			}
		}
	})
}
