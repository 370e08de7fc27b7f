package crosscheck_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// sources is the Go code below calculators/, as far as names tell which test
// compares which function with which set. A function is "package.Name".
type sources struct {
	tests  map[string][]string // what a test names, with what its helpers name
	sets   map[string][]string // figure sets that a test names, likewise
	making map[string]string   // function that declares a calculator, by its ID
}

// readSources parses every file below calculators/.
func readSources(t *testing.T, lib *figures.Library) sources {
	t.Helper()
	s := sources{tests: map[string][]string{}, sets: map[string][]string{}, making: map[string]string{}}
	helpers := map[string]*ast.FuncDecl{} // functions of test files, "folder/Name"
	err := fs.WalkDir(project(), "calculators", func(file string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(file) != ".go" {
			return err
		}
		text, err := fs.ReadFile(project(), file)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, decl := range parsed.Decls {
			f, ok := decl.(*ast.FuncDecl)
			switch {
			case !ok || f.Body == nil:
			case strings.HasSuffix(file, "_test.go"):
				helpers[path.Dir(file)+"/"+f.Name.Name] = f
			default:
				s.add(parsed.Name.Name, f)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range helpers {
		if strings.HasPrefix(f.Name.Name, "Test") {
			s.addTest(lib, helpers, name, f)
		}
	}
	return s
}

// add notes which calculator a function declares.
func (s *sources) add(pkg string, f *ast.FuncDecl) {
	name := pkg + "." + f.Name.Name
	ast.Inspect(f.Body, func(n ast.Node) bool {
		if kv, ok := n.(*ast.KeyValueExpr); ok {
			if key, ok := kv.Key.(*ast.Ident); ok && key.Name == "ID" {
				s.making[literal(kv.Value)] = name
			}
		}
		return true
	})
}

// addTest notes what a test and the helpers beside it name.
func (s *sources) addTest(lib *figures.Library, helpers map[string]*ast.FuncDecl, test string, f *ast.FuncDecl) {
	folder := path.Dir(test)
	seen := map[*ast.FuncDecl]bool{}
	var visit func(*ast.FuncDecl)
	visit = func(f *ast.FuncDecl) {
		if seen[f] {
			return
		}
		seen[f] = true
		s.tests[test] = append(s.tests[test], names(path.Base(folder), f.Body)...)
		ast.Inspect(f.Body, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if fun, ok := n.Fun.(*ast.Ident); ok && helpers[folder+"/"+fun.Name] != nil {
					visit(helpers[folder+"/"+fun.Name])
				}
			case *ast.BasicLit:
				if _, known := lib.Set(literal(n)); known {
					s.sets[test] = append(s.sets[test], literal(n))
				}
			}
			return true
		})
	}
	visit(f)
}

// names lists the functions that a body names, those of its own package with and
// without the package's name before them.
func names(pkg string, body *ast.BlockStmt) []string {
	var out []string
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok {
				out = append(out, x.Name+"."+n.Sel.Name)
			}
		case *ast.Ident:
			out = append(out, pkg+"."+n.Name)
		}
		return true
	})
	return out
}

// literal is the text of a string literal, or "".
func literal(e ast.Expr) string {
	if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
		text, _ := strconv.Unquote(lit.Value)
		return text
	}
	return ""
}

// compared lists the figure sets that a test reads which calls the calculator, or
// a function that one of its formulas names; sorted.
func (s sources) compared(c calculators.Calculator) []string {
	ours := []string{s.making[c.ID]}
	for _, f := range c.Formulas {
		ours = append(ours, f.Function)
	}
	found := map[string]bool{}
	for test, sets := range s.sets {
		if slices.ContainsFunc(ours, func(name string) bool { return slices.Contains(s.tests[test], name) }) {
			for _, set := range sets {
				found[set] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(found))
}
