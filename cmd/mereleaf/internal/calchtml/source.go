package calchtml

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/styles"

	"mereleaf/calculators/markup"
)

// FunctionSource returns a Go function with its comment, coloured by classes,
// under the name of its file. name is the package and the function,
// "water.UnionisedFraction", or the type too, "plumbing.Curve.Head"; the
// package is a folder of calculators. The error is one line.
func (p *Pad) FunctionSource(name string) (string, error) {
	pkg, short, ok := strings.Cut(name, ".")
	if !ok {
		return "", fmt.Errorf("function %q: expected package and name, such as water.UnionisedFraction", name)
	}
	file, source, err := p.find("calculators/"+pkg, short)
	if err != nil {
		return "", fmt.Errorf("function %s: %w", name, err)
	}
	code, err := colour(source)
	if err != nil {
		return "", fmt.Errorf("function %s in %s: %w", name, file, err)
	}
	var b markup.Builder
	b.Open("figure", "class", "source")
	b.Leaf("figcaption", file)
	b.Open("pre", "class", "chroma", "role", "group", "aria-label", short, "tabindex", "0") // long lines scroll, by keyboard too
	b.Open("code")
	b.Raw(code)
	return b.String() + "\n", nil
}

// function is a Go function with its comment.
type function struct{ file, source string }

// find returns a function of a folder.
func (p *Pad) find(folder, name string) (file, source string, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	declared, ok := p.functions[folder]
	if !ok {
		if declared, err = functions(p.root, folder); err != nil {
			return "", "", err
		}
		p.functions[folder] = declared
	}
	f, ok := declared[name]
	if !ok {
		return "", "", errors.New("is declared nowhere in " + folder + "; name one that is")
	}
	return f.file, f.source, nil
}

// functions returns what a folder's Go files declare, by qualified names.
func functions(root fs.FS, folder string) (map[string]function, error) {
	files, err := fs.Glob(root, folder+"/*.go")
	if err != nil {
		return nil, err
	}
	all := map[string]function{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := fs.ReadFile(root, file)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, path.Base(file), text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, d := range parsed.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if _, twice := all[qualified(f)]; !twice { // for another system
				all[qualified(f)] = function{file, declaration(set, text, f)}
			}
		}
	}
	return all, nil
}

// declaration is a function's text with its comment.
func declaration(set *token.FileSet, text []byte, f *ast.FuncDecl) string {
	start := f.Pos()
	if f.Doc != nil {
		start = f.Doc.Pos()
	}
	return string(text[set.Position(start).Offset:set.Position(f.End()).Offset])
}

// qualified is a function's name, after its receiver's type if it has one.
func qualified(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	if pointer, ok := t.(*ast.StarExpr); ok {
		t = pointer.X
	}
	if named, ok := t.(*ast.Ident); ok {
		return named.Name + "." + f.Name.Name
	}
	return f.Name.Name
}

func colour(source string) (string, error) {
	lexer, err := goLexer()
	if err != nil {
		return "", err
	}
	tokens, err := lexer.Tokenise(nil, source)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	err = html.New(html.WithClasses(true), html.PreventSurroundingPre(true)).Format(&b, styles.Fallback, plainBlanks(tokens))
	return b.String(), err
}

// plainBlanks leaves blanks without an element of their own, which would double
// the size of every function.
func plainBlanks(tokens chroma.Iterator) chroma.Iterator {
	return func() chroma.Token {
		t := tokens()
		if t.Type == chroma.TextWhitespace {
			t.Type = chroma.Text
		}
		return t
	}
}
