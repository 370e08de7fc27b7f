package crosscheck_test

import (
	"cmp"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// TestContributorsPageListsTheChecks compares the table in DEVELOPERS.md with
// what the walker computes and the tests read, so that the page cannot claim
// more.
func TestContributorsPageListsTheChecks(t *testing.T) {
	lib, list := figures.Read(project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	report, list := crosscheck.Check(lib, catalog.All(), project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	cases, _ := crosscheck.Cases(lib, catalog.All(), project())
	page, err := fs.ReadFile(project(), "DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	checks := checks{lib, report, cases, readSources(t, lib)}
	if text := checks.text(); !strings.Contains(string(page), text) {
		t.Errorf("DEVELOPERS.md does not show the table of checks; put this in:\n%s", text)
	}
}

// checks is all that calculators are checked against.
type checks struct {
	lib    *figures.Library
	report crosscheck.Report
	cases  []crosscheck.Case
	code   sources
}

// place is a row of a set.
type place struct {
	set *figures.Set
	row int
}

// text is the table, and the list of the sets that no line of it has.
func (c checks) text() string {
	text := "| calculator | computes rows of | rows | published | at most off | tests of its functions read |\n|---|---|---:|---:|---:|---|\n"
	named := map[string]bool{}
	for _, calculator := range catalog.All().All() {
		text += c.line(calculator, named)
	}
	return text + "\nTests compare constants and inner functions with these sets besides:\n\n" + c.others(named)
}

// line is a calculator's row of the table. It notes the sets of the row.
func (c checks) line(calculator calculators.Calculator, named map[string]bool) string {
	bySource, published := map[string]int{}, 0
	seen := map[place]bool{}
	for _, x := range c.cases {
		at := place{x.Set, x.Row}
		if x.Calculator.ID != calculator.ID || seen[at] {
			continue
		}
		seen[at], named[x.Set.Name] = true, true
		row := x.Set.Rows[x.Row]
		bySource[c.origin(row)]++
		if row.Basis == figures.Published {
			published++
		}
	}
	tests := map[string]int{}
	for _, name := range c.code.compared(calculator) {
		if set, _ := c.lib.Set(name); !c.bound(name, calculator.ID) {
			named[name] = true
			tests["`"+name+"` ("+fmt.Sprint(len(set.Rows))+")"] = len(set.Rows)
		}
	}
	switch {
	case len(seen)+len(tests) == 0:
		return fmt.Sprintf("| `%s` | no outside figure: plain arithmetic | 0 | 0 | | |\n", calculator.ID)
	case len(seen) == 0:
		return fmt.Sprintf("| `%s` | | 0 | 0 | | %s |\n", calculator.ID, most(tests))
	}
	return fmt.Sprintf("| `%s` | %s | %d | %d | %s | %s |\n", calculator.ID, most(bySource), len(seen), published, c.deviation(calculator.ID), most(tests))
}

// origin names the source of a row in a few words.
func (c checks) origin(row figures.Row) string {
	s, ok := c.lib.Source(row.Source)
	if !ok {
		return map[string]string{figures.Computed: "another program", figures.Practice: "common practice"}[row.Basis]
	}
	short := s.Short()
	if words := strings.Fields(short); len(words) > 8 {
		short = strings.Join(words[:7], " ") + " …"
	}
	return short
}

// deviation is the largest of a calculator's deviations.
func (c checks) deviation(calculator string) string {
	largest := 0.0
	for _, r := range c.report.Sets {
		if r.Calculator == calculator {
			largest = max(largest, r.Largest)
		}
	}
	switch {
	case largest <= 1e-9:
		return "none"
	case largest < 1e-5:
		return "< 0.001 %"
	}
	return fmt.Sprintf("%.2g %%", 100*largest)
}

// bound reports whether the walker puts the calculator to the set.
func (c checks) bound(set, calculator string) bool {
	return slices.ContainsFunc(c.report.Sets, func(r crosscheck.SetReport) bool { return r.Set == set && r.Calculator == calculator })
}

// others lists the sets that tests read and that are not named yet, by folder.
func (c checks) others(named map[string]bool) string {
	byFolder := map[string]map[string]bool{}
	for test, sets := range c.code.sets {
		for _, name := range sets {
			if named[name] {
				continue
			}
			folder := path.Dir(test)
			if byFolder[folder] == nil {
				byFolder[folder] = map[string]bool{}
			}
			set, _ := c.lib.Set(name)
			byFolder[folder][fmt.Sprintf("`%s` (%d)", name, len(set.Rows))] = true
		}
	}
	text := ""
	for _, folder := range slices.Sorted(maps.Keys(byFolder)) {
		text += "- `" + folder + "`: " + strings.Join(slices.Sorted(maps.Keys(byFolder[folder])), ", ") + "\n"
	}
	return text
}

// most lists the three with most rows, and how many rows the others have.
func most(rows map[string]int) string {
	all := slices.SortedFunc(maps.Keys(rows), func(a, b string) int { return cmp.Or(rows[b]-rows[a], strings.Compare(a, b)) })
	if len(all) <= 3 {
		return strings.Join(all, "; ")
	}
	left := 0
	for _, name := range all[3:] {
		left += rows[name]
	}
	return fmt.Sprintf("%s; and %d more (%d)", strings.Join(all[:3], "; "), len(all)-3, left)
}
