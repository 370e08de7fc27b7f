package bundle

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// unsaid are the fields of declarations that an answer does not show: the help beside
// inputs and outputs, where in a source a figure stands, and why the end of a range
// is refused.
func unsaid() []string { return []string{"Help", "Locator", "LowRefused", "HighRefused"} }

// withoutHelp writes copies of the calculators' files into a folder, in which the
// texts of the unsaid fields are empty, and returns the file that has the compiler
// take them (go help build, -overlay). Pages have those texts when they are made: in
// the module the help alone would weigh 11 kB compressed. An empty
// text is padded to the length of the old one, so that the compiler's positions
// stay those of the real file.
func withoutHelp(root, folder string) (string, error) {
	root, err := filepath.Abs(root)
	if err != nil {
		return "", err
	}
	var overlay struct{ Replace map[string]string }
	overlay.Replace = map[string]string{}
	err = filepath.WalkDir(filepath.Join(root, filepath.Dir(filepath.FromSlash(WasmFolder))), func(path string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil // the compiler says so
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		blank := blankHelp(source)
		if bytes.Equal(blank, source) {
			return nil
		}
		copied := filepath.Join(folder, strconv.Itoa(len(overlay.Replace))+".go")
		overlay.Replace[path] = copied
		return os.WriteFile(copied, blank, 0o600)
	})
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(overlay)
	if err != nil {
		return "", err
	}
	name := filepath.Join(folder, "overlay.json")
	return name, os.WriteFile(name, text, 0o600)
}

// blankHelp returns a Go file with the literal texts of unsaid fields empty.
// One that cannot be parsed it returns as it is: the compiler says what is wrong.
func blankHelp(source []byte) []byte {
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, "", source, parser.SkipObjectResolution)
	if err != nil {
		return source
	}
	blank := bytes.Clone(source)
	ast.Inspect(f, func(n ast.Node) bool {
		field, ok := n.(*ast.KeyValueExpr)
		if !ok {
			return true
		}
		key, _ := field.Key.(*ast.Ident)
		text, _ := field.Value.(*ast.BasicLit)
		if key == nil || !slices.Contains(unsaid(), key.Name) || text == nil || text.Kind != token.STRING || text.Value[0] != '"' {
			return true
		}
		at := files.Position(text.Pos()).Offset
		copy(blank[at:], `""`+strings.Repeat(" ", len(text.Value)-2))
		return true
	})
	return blank
}
