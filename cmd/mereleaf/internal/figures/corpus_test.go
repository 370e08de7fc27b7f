package figures

import (
	"io/fs"
	"os"
	"testing"
)

// project is the folder with content/ and testdata/.
func project() fs.FS { return os.DirFS("../../../..") }

// The figures of the handbook are read without a fault.
func TestReadTheHandbooksFigures(t *testing.T) {
	lib, list := Read(project())
	for _, d := range list {
		t.Error(d)
	}
	if len(lib.Sets) < 35 {
		t.Errorf("%d sets; the handbook is founded on at least 35", len(lib.Sets))
	}
	for _, s := range lib.Sources {
		if s.Citation() == "" || s.Short() == "" {
			t.Errorf("%s: source %s has no citation", s.Position, s.ID)
		}
	}
}

// Every figure agrees with its second entry.
func TestTheLedgerHolds(t *testing.T) {
	lib, _ := Read(project())
	for _, d := range CheckLedger(lib, project()) {
		t.Error(d)
	}
}
