package verify

import (
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
)

func TestEveryCalculatorHasAPlaceInTheSource(t *testing.T) {
	for _, c := range catalog.All().All() {
		if at := declared(project(), c.ID); at.Line == 0 || !strings.HasPrefix(at.File, "calculators/") {
			t.Errorf("%s: the declaration is at %s", c.ID, at)
		}
	}
}

func TestAFaultOfACalculatorHasItsPlace(t *testing.T) {
	files := fstest.MapFS{
		"calculators/fish/broken.go": {Data: []byte("package fish\n\nfunc\n\"pail\"")},
		"calculators/pond/other.go":  {Data: []byte("package pond\n\nconst pail = \"pail\"\n")},
		"calculators/pond/pail.go": {Data: []byte(`package pond

import "mereleaf/calculators"

func Pail() calculators.Calculator {
	return calculators.Calculator{
		ID: "pail",
	}
}
`)},
	}
	b, _ := book.Read(files, calculators.NewSet(calculators.Calculator{ID: "pail"}, calculators.Calculator{ID: "tub"}))
	got := map[string]int{}
	for _, f := range calculatorsFaults(b) {
		id, _, _ := strings.Cut(f.Problem, ":")
		got[id+" at "+f.Position.String()]++
	}
	if len(got) != 2 || got["pail at calculators/pond/pail.go:7:7"] == 0 || got["tub at calculators"] == 0 {
		t.Errorf("faults %v", got)
	}
}
