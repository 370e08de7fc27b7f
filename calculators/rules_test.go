package calculators_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// sources parses the Go files of calculators/ that end up in every program and
// page: not the tests, not what only tests use, and not the entry point of the
// WebAssembly module, which needs exported functions with state behind them.
func sources(t *testing.T) (*token.FileSet, []*ast.File) {
	t.Helper()
	files := token.NewFileSet()
	var parsed []*ast.File
	err := fs.WalkDir(os.DirFS("."), ".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (path == "wasm" || path == "internal/reftest" || d.Name() == "testdata" || strings.HasSuffix(path, "test")):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		f, err := parser.ParseFile(files, filepath.FromSlash(path), nil, parser.ParseComments)
		parsed = append(parsed, f)
		return err
	})
	if err != nil || len(parsed) < 10 {
		t.Fatalf("%d files, %v", len(parsed), err)
	}
	return files, parsed
}

// The same code runs in a page on every phone: state would make the same inputs
// give another answer, and the refused packages make the module heavier by half.
func TestCalculatorsKeepNoState(t *testing.T) {
	files, parsed := sources(t)
	for _, f := range parsed {
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.GenDecl:
				if d.Tok == token.VAR {
					t.Errorf("%s: a package-level variable; use a constant or a function", files.Position(d.Pos()))
				}
			case *ast.FuncDecl:
				if d.Recv == nil && d.Name.Name == "init" {
					t.Errorf("%s: an init function; let the caller call", files.Position(d.Pos()))
				}
			}
		}
	}
}

func TestCalculatorsImportLittle(t *testing.T) {
	refused := map[string]bool{"fmt": true, "encoding/json": true, "regexp": true, "reflect": true, "log": true, "os": true, "net/http": true, "time": true, "math/rand": true, "math/rand/v2": true}
	files, parsed := sources(t)
	for _, f := range parsed {
		for _, i := range f.Imports {
			path, _ := strconv.Unquote(i.Path.Value)
			first, _, _ := strings.Cut(path, "/")
			switch {
			case refused[path]:
				t.Errorf("%s: imports %s, too heavy or not the same everywhere", files.Position(i.Pos()), path)
			case path == "mereleaf/calculators" || strings.HasPrefix(path, "mereleaf/calculators/"):
			case first == "mereleaf" || strings.Contains(first, "."):
				t.Errorf("%s: imports %s, which is neither the standard library nor a calculator", files.Position(i.Pos()), path)
			}
		}
	}
}

func TestExportedNamesAreDocumented(t *testing.T) {
	files, parsed := sources(t)
	for _, f := range parsed {
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && d.Doc == nil {
					t.Errorf("%s: %s has no comment", files.Position(d.Pos()), d.Name.Name)
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok && s.Name.IsExported() && d.Doc == nil && s.Doc == nil {
						t.Errorf("%s: %s has no comment", files.Position(s.Pos()), s.Name.Name)
					}
				}
			}
		}
	}
}
