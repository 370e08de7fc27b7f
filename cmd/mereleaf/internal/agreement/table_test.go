package agreement_test

import (
	"cmp"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/agreement"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// TestContributorsPageListsTheChecks compares the table in DEVELOPERS.md with
// what the walker finds, so that the page cannot claim more.
func TestContributorsPageListsTheChecks(t *testing.T) {
	lib, list := figures.Read(project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	report, list := agreement.Check(lib, catalog.All(), project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	page, err := fs.ReadFile(project(), "DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	table := "| calculator | checked row by row against | figures | largest deviation |\n|---|---|---:|---:|\n"
	for _, c := range catalog.All().All() {
		table += line(c, lib, report)
	}
	if !strings.Contains(string(page), table) {
		t.Errorf("DEVELOPERS.md does not show the table of checks; put this in:\n%s", table)
	}
}

// line is a calculator's row of the table. A calculator that no set is bound to
// names the package whose tests compare its formulas, and how many sets they
// read.
func line(c calculators.Calculator, lib *figures.Library, report agreement.Report) string {
	rows := map[string]int{} // by source
	compared, largest := 0, 0.0
	for _, r := range report.Sets {
		if r.Calculator != c.ID {
			continue
		}
		compared += r.Figures
		largest = max(largest, r.Largest)
		set, _ := lib.Set(r.Set)
		for _, row := range set.Rows {
			if s, ok := lib.Source(row.Source); ok {
				rows[s.Short()]++
			}
		}
	}
	if compared == 0 {
		folder, _, _ := strings.Cut(c.Formulas[0].Function, ".")
		return fmt.Sprintf("| `%s` | its formulas, in the tests of `calculators/%s` against %d figure sets | | |\n", c.ID, folder, setsOfTests(report, folder))
	}
	deviation := "rounding"
	if largest > 1e-9 {
		deviation = fmt.Sprintf("%.1g %%", 100*largest)
	}
	return fmt.Sprintf("| `%s` | %s | %d | %s |\n", c.ID, named(rows), compared, deviation)
}

// named lists the three sources with most rows.
func named(rows map[string]int) string {
	if len(rows) == 0 {
		return "arithmetic by another program"
	}
	sources := slices.SortedFunc(maps.Keys(rows), func(a, b string) int { return cmp.Or(rows[b]-rows[a], strings.Compare(a, b)) })
	if more := len(sources) - 3; more > 0 {
		return fmt.Sprintf("%s; and %d more", strings.Join(sources[:3], "; "), more)
	}
	return strings.Join(sources, "; ")
}

// setsOfTests counts the sets that the tests of a package are said to read; that
// they do read them is tested in TestReasonsNameTestsThatReadTheSet.
func setsOfTests(report agreement.Report, folder string) int {
	sets := map[string]bool{}
	claim := func(set, reason string) {
		if strings.Contains(reason, "calculators/"+folder+"/") {
			sets[set] = true
		}
	}
	for _, n := range report.Uncomputed {
		claim(n.Set, n.Reason)
	}
	for _, r := range report.Sets {
		claim(r.Set, r.Reason)
	}
	return len(sets)
}
