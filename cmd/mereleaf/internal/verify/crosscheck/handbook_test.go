package crosscheck_test

import (
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// project is the folder with content/ and testdata/.
func project() fs.FS { return os.DirFS("../../../../..") }

// Every calculator agrees with every figure that it is bound to.
func TestTheHandbooksCalculatorsAgreeWithItsFigures(t *testing.T) {
	lib, list := figures.Read(project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	report, list := crosscheck.Check(lib, catalog.All(), project())
	for _, d := range list {
		t.Error(d)
	}
	for _, r := range report.Sets {
		t.Log(r)
	}
}

// The reason for leaving figures out may name the tests that compare them; each
// such test reads the set.
func TestReasonsNameTestsThatReadTheSet(t *testing.T) {
	lib, _ := figures.Read(project())
	report, _ := crosscheck.Check(lib, catalog.All(), project())
	named := regexp.MustCompile(`(calculators|cmd)/\S+_test\.go`)
	claim := func(set, reason string) {
		for _, file := range named.FindAllString(reason, -1) {
			text, err := fs.ReadFile(project(), file)
			if err != nil {
				t.Errorf("%s: %v", set, err)
			} else if !strings.Contains(string(text), `"`+set+`"`) {
				t.Errorf("%s does not read %s, as %s says", file, set, crosscheck.BindingsFile)
			}
		}
	}
	for _, n := range report.Uncomputed {
		claim(n.Set, n.Reason)
	}
	for _, r := range report.Sets {
		claim(r.Set, r.Reason)
	}
}
