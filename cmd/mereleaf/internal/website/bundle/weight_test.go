package bundle

import (
	"bytes"
	"os"
	"os/exec"
	"testing"

	"mereleaf/calculators/catalog"
)

// heaviest is the weight in bytes, compressed, beyond which a phone on a bad
// signal waits too long. The Go runtime alone takes nearly 500 kB of it.
const heaviest = 1_130_000

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
	if weight > heaviest {
		t.Errorf("the module weighs %d bytes compressed; at most %d", weight, heaviest)
	}
}
