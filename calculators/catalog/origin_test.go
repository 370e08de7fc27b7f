package catalog_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"mereleaf/calculators"
)

// sources returns the keys of content/sources.json.
func sources(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile("../../content/sources.json")
	if err != nil {
		t.Fatal(err)
	}
	var entries []struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal(text, &entries); err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	for _, e := range entries {
		keys[e.ID] = true
	}
	return keys
}

func TestSourcesAreListed(t *testing.T) {
	known := sources(t)
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, f := range c.Formulas {
			if f.Source != "" && !known[f.Source] {
				t.Errorf("the formula %q cites %q, which content/sources.json does not have", f.Name, f.Source)
			}
		}
		for _, call := range calls(c) {
			_, r, _ := c.Evaluate(call.Args)
			for _, m := range r.Scale.Marks {
				if m.Source != "" && !known[m.Source] {
					t.Errorf("%s: the mark %q cites %q, which content/sources.json does not have", call.Name, m.Label, m.Source)
				}
			}
		}
	})
}

// A range says who set it: a source, or that it is practice or sanity.
func TestRangesHaveAnOrigin(t *testing.T) {
	known := sources(t)
	eachPlace(t, func(t *testing.T, c calculators.Calculator, p place) {
		for _, r := range []calculators.Range{p.input.Accept, p.input.Stated} {
			key, _, _ := strings.Cut(strings.ReplaceAll(r.Origin, ",", " "), " ")
			if r.Given() && r.Origin != "sanity limit" && r.Origin != "common practice" && !known[key] {
				t.Errorf("%s: the range's origin %q begins with no source of content/sources.json", p.name, r.Origin)
			}
		}
	})
}

// functions returns the functions a package of calculators/ declares.
func functions(t *testing.T, pkg string) map[string]bool {
	t.Helper()
	files, err := filepath.Glob("../" + pkg + "/*.go")
	if err != nil || len(files) == 0 {
		t.Errorf("there is no package calculators/%s", pkg)
	}
	names := map[string]bool{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil {
				names[fn.Name.Name] = true
			}
		}
	}
	return names
}

// The function a formula names is shown to the reader as what computes it.
func TestFormulasNameTheirFunction(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		for _, f := range c.Formulas {
			pkg, name, _ := strings.Cut(f.Function, ".")
			if !functions(t, pkg)[name] || !ast.IsExported(name) {
				t.Errorf("the formula %q names %s, which is no exported function", f.Name, f.Function)
			}
		}
	})
}
