package agreement_test

import (
	"fmt"
	"io/fs"
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
// names the tests that compare its functions.
func line(c calculators.Calculator, lib *figures.Library, report agreement.Report) string {
	var sources []string
	compared, largest := 0, 0.0
	for _, r := range report.Sets {
		if r.Calculator != c.ID {
			continue
		}
		compared += r.Figures
		largest = max(largest, r.Largest)
		set, _ := lib.Set(r.Set)
		for _, row := range set.Rows {
			if s, ok := lib.Source(row.Source); ok && !slices.Contains(sources, s.Short()) {
				sources = append(sources, s.Short())
			}
		}
	}
	if compared == 0 {
		return fmt.Sprintf("| `%s` | its functions only, in `calculators/` | | |\n", c.ID)
	}
	if len(sources) == 0 {
		sources = []string{"arithmetic by another program"}
	}
	slices.Sort(sources)
	deviation := "rounding"
	if largest > 1e-9 {
		deviation = fmt.Sprintf("%.1g %%", 100*largest)
	}
	return fmt.Sprintf("| `%s` | %s | %d | %s |\n", c.ID, strings.Join(sources, "; "), compared, deviation)
}
