package bundle

import (
	"bytes"
	"os"
	"os/exec"
	"testing"

	"mereleaf/calculators/catalog"
)

// heaviest is the weight in bytes, compressed, beyond which a phone on a bad
// signal waits too long. The Go runtime alone takes nearly 500 kB of it; the
// tower, which writes a whole build sheet and draws it, has an allowance of its
// own beside that of the calculators that answer one question each, and so have
// the grammar that marks every quantity of an answer, which spares the page a parser
// of English, and the names of units that people type, with the nearest to a slip of
// the finger, and the check of what a record or a link brings, and the combination of
// independent errors, with the readings that narrow them.
const heaviest = 903_000 + 60_000 + 65_000 + 15_000 + 18_000 + 8_000 + 16_000 + 15_000 + 14_000 + 3_000

// mixing is the allowance for the mixing of two waters, by which a change of water that
// does not help is told from one that does.
const mixing = 14_000

func TestModuleIsLight(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no go command on the PATH: the module cannot be built")
		}
		t.Skip("no go command on the PATH: the module cannot be built")
	}
	module, err := Wasm(t.Context(), "../../../../..", "")
	if err != nil {
		t.Fatal(err)
	}
	if help := "A thermometer held in the pond for two minutes."; bytes.Contains(module, []byte(help)) {
		t.Errorf("the module holds the help %q, which only a page shows", help)
	}
	weight := Gzipped(module)
	t.Logf("the module weighs %d bytes compressed, with %d calculators", weight, len(catalog.All().All()))
	if weight > heaviest+mixing {
		t.Errorf("the module weighs %d bytes compressed; at most %d", weight, heaviest+mixing)
	}
}
