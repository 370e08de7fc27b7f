package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// layers lists every package, those above first. What stands in one line may import
// what stands in the lines below it, and nothing else of this repository.
var layers = []string{
	"cmd/mereleaf",
	"internal/browser/engines",
	"internal/browser/browsertest internal/command",
	"internal/preview",
	"internal/build",
	"internal/search internal/verify internal/website",
	"internal/book",
	"internal/calchtml internal/verify/quantities internal/verify/workings",
	"internal/export/ebook internal/export/onefile internal/page internal/ponds internal/verify/crosscheck",
	"internal/export/adapt internal/figures internal/page/svg internal/ponds/logfile internal/ponds/record internal/verify/formulas internal/website/bundle internal/website/bundle/scripttest",
	"internal/book/booktest internal/diag/diagtest internal/paths internal/ponds/strict internal/scratch internal/terminal internal/verify/formulas/texeval internal/website/offline internal/website/units",
	"internal/diag",
	"calculators/pondtest calculators/wasm",
	"calculators/catalog calculators/wasm/exchange .",
	"calculators/tower",
	"calculators/answer calculators/stack",
	"calculators/media calculators/plumbing",
	"calculators/drawing calculators/fish calculators/pond calculators/readings",
	"calculators/markup calculators/water",
	"calculators/limits",
	"calculators",
	"calculators/quantity",
	"calculators/chemistry calculators/internal/ode calculators/internal/reftest calculators/internal/solve calculators/internal/spread calculators/markup/markuptest",
}

// outside lists who may touch what is outside the program: files, other programs, the
// network. All others get what they need as a value, such as an fs.FS.
var outside = map[string][]string{
	"os":       {"cmd/mereleaf", "internal/book/booktest", "internal/browser/", "internal/build", "internal/command", "internal/preview", "internal/scratch", "internal/website/bundle", "internal/website/bundle/scripttest", "calculators/internal/reftest"},
	"os/exec":  {"internal/browser/", "internal/command", "internal/preview", "internal/website/bundle", "internal/website/bundle/scripttest"},
	"net":      {"internal/browser/", "internal/preview"},
	"net/http": {"internal/browser/", "internal/preview"},
}

// TestPackagesImportDownwards reads the imports of all packages but for their tests.
func TestPackagesImportDownwards(t *testing.T) {
	depth := map[string]int{}
	for i, line := range layers {
		for name := range strings.FieldsSeq(line) {
			depth[name] = i + 1
		}
	}
	seen := map[string]bool{}
	eachImport(t, os.DirFS("../.."), func(place, from, imported string) {
		if may, listed := outside[imported]; listed && !slices.ContainsFunc(may, func(who string) bool {
			return who == from || strings.HasSuffix(who, "/") && strings.HasPrefix(from, who)
		}) {
			t.Errorf("%s: %s may not import %q; take what it gives as a value", place, from, imported)
		}
		if depth[from] == 0 && !seen[from] {
			t.Errorf("%s: the package %s has no layer; add it to the list of this test", place, from)
		}
		seen[from] = true
		if to, ours := short(imported); ours && depth[to] <= depth[from] {
			t.Errorf("%s: %s may not import %s, which stands no lower", place, from, to)
		}
	})
	for name := range depth {
		if !seen[name] {
			t.Errorf("the package %s is in the list, and gone", name)
		}
	}
}

// short is a package's name in layers; ours is false for one from elsewhere.
func short(imported string) (name string, ours bool) {
	if imported == "mereleaf" {
		return ".", true
	}
	name, ours = strings.CutPrefix(imported, "mereleaf/")
	return strings.TrimPrefix(name, "cmd/mereleaf/"), ours
}

// eachImport calls see for each import of each package of the repository, with its place
// in the source, and for each file with no import.
func eachImport(t *testing.T, root fs.FS, see func(place, from, imported string)) {
	files := token.NewFileSet()
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "out"):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(files, name, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		from, _ := short(path.Join("mereleaf", path.Dir(name)))
		if path.Dir(name) == "cmd/mereleaf" {
			from = "cmd/mereleaf"
		}
		see(name, from, "")
		for _, i := range f.Imports {
			imported, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			see(files.Position(i.Pos()).String(), from, imported)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
