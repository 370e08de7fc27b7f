package verify

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// calculatorsFolder holds the source of the calculators.
const calculatorsFolder = "calculators"

// declared returns where a calculator's declaration has its ID in the source of
// the project, and the folder of all if the source is not there: the program may
// check a handbook that has no Go beside it.
func declared(root fs.FS, id string) diag.Position {
	at := diag.Position{File: calculatorsFolder}
	// A file or folder that cannot be read has no place to name; the compiler
	// says what is wrong with it.
	_ = fs.WalkDir(root, calculatorsFolder, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		source, err := fs.ReadFile(root, name)
		if err != nil || !strings.Contains(string(source), strconv.Quote(id)) {
			return nil
		}
		if line, column := idIn(source, id); line > 0 {
			at = diag.Position{File: name, Line: line, Column: column}
			return fs.SkipAll
		}
		return nil
	})
	return at
}

// idIn returns the place of an ID in a literal of a Calculator; 0 if it is in none.
func idIn(source []byte, id string) (line, column int) {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "", source, parser.SkipObjectResolution)
	if err != nil {
		return 0, 0
	}
	ast.Inspect(file, func(n ast.Node) bool {
		literal, ok := n.(*ast.CompositeLit)
		if !ok || !isCalculator(literal.Type) {
			return true
		}
		for _, element := range literal.Elts {
			if value := valueOf(element, "ID"); value != nil && value.Value == strconv.Quote(id) {
				place := files.Position(value.Pos())
				line, column = place.Line, place.Column
			}
		}
		return true
	})
	return line, column
}

func isCalculator(t ast.Expr) bool {
	selector, ok := t.(*ast.SelectorExpr)
	return ok && selector.Sel.Name == "Calculator"
}

// valueOf returns the literal that an element gives to a key; nil if it gives none.
func valueOf(element ast.Expr, key string) *ast.BasicLit {
	pair, ok := element.(*ast.KeyValueExpr)
	if !ok {
		return nil
	}
	if name, ok := pair.Key.(*ast.Ident); !ok || name.Name != key {
		return nil
	}
	value, _ := pair.Value.(*ast.BasicLit)
	return value
}
