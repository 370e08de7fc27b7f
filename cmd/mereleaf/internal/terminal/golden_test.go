package terminal

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/page"
)

// update rewrites the build sheets of testdata. Read each line of the difference
// as somebody who will build by it.
var update = flag.Bool("update", false, "rewrite the build sheets of testdata")

// TestReadySheets prints the sheets of all ready scenarios. Their numbers are
// tested where they are reckoned; here stands what a keeper reads.
func TestReadySheets(t *testing.T) {
	for _, c := range pondtest.All(t).All() {
		for _, ready := range c.Ready {
			name := c.ID + "-" + strings.NewReplacer(" ", "-", ",", "").Replace(strings.ToLower(ready.Name)) + ".txt"
			t.Run(name, func(t *testing.T) {
				v, err := c.Reckon(ready.Given)
				if err != nil {
					t.Fatal(err)
				}
				got := Answer(c, v, unknown, untold, Options{})
				file := filepath.Join("testdata", name)
				if *update {
					if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(string(want), got); diff != "" {
					t.Errorf("the sheet has changed: read the difference, and run with -update if it is meant: %s", diff)
				}
			})
		}
	}
}

// told gives the handbook's own cautions.
func told() Warn {
	cautions := page.ReadCautions(os.DirFS("../../../.."))
	return func(h calculators.Hazard) (string, bool) {
		for _, w := range cautions {
			if w.Slug == string(h) {
				return w.Says(), true
			}
		}
		return "", false
	}
}

// untold has no cautions, so that a sheet's archive names hazards only and their
// words may change.
func untold(calculators.Hazard) (string, bool) { return "", false }
