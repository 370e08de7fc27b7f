package catalog_test

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
)

// origins lists the numbers of the rows of all figure sets by their source, locator
// and basis.
func origins(t *testing.T) map[[3]string][]float64 {
	t.Helper()
	found := map[[3]string][]float64{}
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
			origin := [3]string{row[source], row[locator], row[basis]}
			for _, cell := range row {
				if v, err := strconv.ParseFloat(cell, 64); err == nil {
					found[origin] = append(found[origin], v)
				}
			}
		}
	}
	return found
}

// A mark stands where a row of a figure set with its source, place in it and basis
// has that number, where a formula of the calculator with this origin puts it, or
// at a limit, which a test of its own compares with the figures. A source that was
// swapped with another's has no such row.
func TestMarksHaveTheOriginOfAFigure(t *testing.T) {
	figures := origins(t)
	each(t, func(t *testing.T, c calculators.Calculator) {
		reported := map[[2]string]bool{}
		for _, call := range calls(c) {
			_, r, _ := c.Evaluate(call.Args)
			for _, m := range r.Scale.Marks {
				origin := [3]string{m.Source, m.Locator, m.Basis}
				printed := slices.ContainsFunc(figures[origin], func(v float64) bool { return math.Abs(v-m.Value) <= 1e-6*m.Value })
				computed := slices.ContainsFunc(c.Formulas, func(f calculators.Formula) bool {
					return f.Source == m.Source && f.Locator == m.Locator && f.Basis == m.Basis
				}) || len(figures[origin]) > 0 && workedOut()[m.Label] == m.Source
				told := [2]string{m.Label, m.Source}
				if m.Source != "" && !printed && !computed && !isLimit(m) && !reported[told] {
					reported[told] = true
					t.Errorf("no figure is %g by %q, %q (%s), as the mark %q says", m.Value, m.Source, m.Locator, m.Basis, m.Label)
				}
			}
		}
	})
}

// workedOut names the marks that are worked out from figures, with their source: the
// criteria for a pH and a temperature that no row has, and the tenth that a sheet
// allows to vary, shown as what is left.
func workedOut() map[string]string {
	return map[string]string{
		"United States, thirty-day mean, no mussels": "epa-2013-ammonia",
		"United States, one hour, no mussels":        "epa-2013-ammonia",
		"variation allowed along a drilled pipe":     "mn-ostp",
	}
}

// isLimit reports whether a mark shows a row of the table of limits. A scale may put
// the limit's own number before its label.
func isLimit(m calculators.Mark) bool {
	for reading := limits.Chlorine; reading <= limits.Lift; reading++ {
		for _, l := range limits.Of(reading) {
			if l.Label != "" && strings.HasSuffix(m.Label, l.Label) && l.Source == m.Source && l.Locator == m.Locator && l.Basis == m.Basis {
				return true
			}
		}
	}
	return false
}
