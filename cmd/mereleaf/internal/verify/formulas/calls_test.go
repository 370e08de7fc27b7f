package formulas

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"
)

// program is what the Go code below calculators/ calls, by names alone.
type program struct {
	calls  map[string]map[string]bool // names in the body of "package.Function" or of a method "package.Method"
	checks []check
}

// check is a formula's declaration.
type check struct {
	place, pkg, function string
	calls                map[string]bool
}

func readProgram(t *testing.T) program {
	t.Helper()
	p := program{calls: map[string]map[string]bool{}}
	files := token.NewFileSet()
	root := os.DirFS("../../../../..")
	err := fs.WalkDir(root, "calculators", func(name string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
			return err
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(files, name, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		pkg := parsed.Name.Name
		for _, decl := range parsed.Decls {
			if f, ok := decl.(*ast.FuncDecl); ok && f.Body != nil {
				p.calls[pkg+"."+f.Name.Name] = names(pkg, f.Body)
			}
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			if lit, ok := n.(*ast.CompositeLit); ok {
				p.add(pkg, files, lit)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// add notes a composite literal that declares a formula.
func (p *program) add(pkg string, files *token.FileSet, lit *ast.CompositeLit) {
	c := check{place: files.Position(lit.Pos()).String(), pkg: pkg}
	for _, e := range lit.Elts {
		kv, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		key, _ := kv.Key.(*ast.Ident)
		value, isText := kv.Value.(*ast.BasicLit)
		switch {
		case key == nil:
		case key.Name == "Function" && isText:
			c.function, _ = strconv.Unquote(value.Value)
		case key.Name == "Check":
			c.calls = names(pkg, kv.Value)
		}
	}
	if c.function != "" {
		p.checks = append(p.checks, c)
	}
}

// names lists what an expression or a body names, with its package.
func names(pkg string, n ast.Node) map[string]bool {
	found := map[string]bool{}
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			found[pkg+"."+n.Sel.Name] = true // a method of the package
			if x, ok := n.X.(*ast.Ident); ok {
				found[x.Name+"."+n.Sel.Name] = true
			}
		case *ast.Ident:
			found[pkg+"."+n.Name] = true
		}
		return true
	})
	return found
}

// reaches reports whether one of the names leads to the function.
func (p program) reaches(from map[string]bool, function string, seen map[string]bool) bool {
	for name := range from {
		if name == function {
			return true
		}
		if _, isFunction := p.calls[name]; isFunction && !seen[name] {
			seen[name] = true
			if p.reaches(p.calls[name], function, seen) {
				return true
			}
		}
	}
	return false
}

// What a formula is compared with must be the function that it names and shows to
// the reader, or something that this function runs on. It catches a check that
// computes the formula over again by itself.
func TestChecksCallTheFunction(t *testing.T) {
	p := readProgram(t)
	if len(p.checks) < 150 {
		t.Fatalf("only %d formulas were found", len(p.checks))
	}
	for _, c := range p.checks {
		if c.calls == nil || c.calls["calculators.Reaction"] || p.reaches(c.calls, c.function, map[string]bool{}) {
			continue
		}
		of := p.calls[c.function]
		shared := false
		for name := range c.calls {
			_, isFunction := p.calls[name]
			shared = shared || isFunction && p.reaches(of, name, map[string]bool{})
		}
		if !shared {
			t.Errorf("%s: the check of %s calls neither it nor anything that it runs on", c.place, c.function)
		}
	}
}
