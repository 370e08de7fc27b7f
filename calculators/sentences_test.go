package calculators_test

import (
	"fmt"
	"go/ast"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

// A number in a sentence comes through a gap, from a constant that has an owner:
// so "until above 5 mg/L" cannot say 3, nor "1 as nitrogen is 4.4 as nitrate" 4.8,
// while the sum behind it stays. A quantity is written out only where it is parsed,
// in a formula, in what a source is called or where in it a figure stands, and in
// the name of a size that the trade stamps on a thing.
func TestNoQuantityIsTypedIntoASentence(t *testing.T) {
	files, parsed := sources(t)
	seen := 0
	for _, f := range parsed {
		walk(f, func(path []ast.Node) {
			text, ok := literal(path)
			if !ok || pathData.MatchString(text) || written(path, text) {
				return
			}
			seen++
			for _, found := range typed(text) {
				report(t, files, path, fmt.Sprintf("%q is typed into a text; put a gap and a constant with an owner", found))
			}
		})
	}
	if seen < 1000 {
		t.Errorf("only %d texts read", seen)
	}
}

// A sentence joined from parts cannot be said in another language.
func TestNoSentenceIsJoined(t *testing.T) {
	files, parsed := sources(t)
	for _, f := range parsed {
		walk(f, func(path []ast.Node) {
			text, ok := literal(path)
			if !ok || !words(text) || strings.Contains(text, "<") || forAuthors(files, path) {
				return
			}
			switch parent := path[len(path)-2].(type) {
			case *ast.BinaryExpr:
				if parent.Op == token.ADD {
					report(t, files, path, fmt.Sprintf("%q is joined to another text; write whole sentences with named gaps", text))
				}
			case *ast.AssignStmt:
				if parent.Tok == token.ADD_ASSIGN {
					report(t, files, path, fmt.Sprintf("%q is added to another text; write whole sentences with named gaps", text))
				}
			}
		})
	}
}

// The two tests above find what they are for, and no more.
func TestTypedQuantitiesAreFound(t *testing.T) {
	for text, want := range map[string]int{
		"Measure again until the reading is above 5 mg/L.": 1, "1 as nitrogen is 4.4 as nitrate": 0, "1 °dKH is 17.8 mg/L": 2, "until above {act mg/L}": 0,
		"{toxic 2 mg/L} of {total 3 mg/L}": 0, "Change 10 to 20 % of it": 1, "at pH 7.5": 1, "560 × 360 mm": 1, "a tenth": 0, "Table 240(3)": 0, "m3/h": 0,
		"{2 mg/L}, which is 3 mg/L": 1, "1 °C a day": 1, "{boxes 0|box|boxes}": 0, "CO2, NO3 and CaCO3": 0,
	} {
		if got := typed(text); len(got) != want {
			t.Errorf("%q: found %q, want %d", text, got, want)
		}
	}
}

// typed returns the quantities of a text that stand outside its gaps.
func typed(text string) []string {
	text = gaps.ReplaceAllString(tags.ReplaceAllString(text, " "), "…")
	var found []string
	for _, s := range (quantity.Grammar{}).Scan(text) {
		found = append(found, text[s.Start:s.End])
	}
	return found
}

// pathData is a part of a line in a drawing, which no one reads.
var pathData = regexp.MustCompile(`^M[MmLlHhVvAaCcZz0-9#., -]*$`)

// tags are those of HTML and SVG, with what they say of lengths and colours.
var tags = regexp.MustCompile(`<[^<>]*>`)

// gaps are the gaps of a sentence, also with a unit that is in braces itself.
var gaps = regexp.MustCompile(`\{[^{}]*(\{[^{}]*\}[^{}]*)?\}`)

// words reports whether a text is part of a sentence: two words at least.
func words(text string) bool { return twoWords.MatchString(gaps.ReplaceAllString(text, "…")) }

var twoWords = regexp.MustCompile(`\pL{2,}[^\pL]*\s\pL{2,}|\pL{2,}[,:;.]? $|^[,:;.]? \pL{2,}`)

func walk(f *ast.File, visit func(path []ast.Node)) {
	var path []ast.Node
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			path = path[:len(path)-1]
			return true
		}
		path = append(path, n)
		visit(path)
		return true
	})
}

func literal(path []ast.Node) (string, bool) {
	lit, ok := path[len(path)-1].(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	if _, imported := path[len(path)-2].(*ast.ImportSpec); imported {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// written reports whether a quantity may stand in a text as it is.
func written(path []ast.Node, text string) bool {
	for i := len(path) - 2; i >= 0; i-- {
		switch n := path[i].(type) {
		case *ast.KeyValueExpr:
			key, _ := n.Key.(*ast.Ident)
			if key != nil && slices.Contains(parsedAsQuantity(), key.Name) {
				return true
			}
		case *ast.CompositeLit:
			if stamped(n, text) {
				return true
			}
		case *ast.CallExpr:
			switch called(n) {
			case "Step": // each printed sum is evaluated by a test of its own
				return true
			case "design", "printed", "drained": // the cells that tell a row of a figure set
				return true
			}
		}
	}
	return false
}

// parsedAsQuantity are the fields of declarations whose text is parsed, or is a
// formula, or names a source or a place in it. What formulas say and what stories
// and captions tell is bound by tests of its own.
func parsedAsQuantity() []string {
	return []string{"Default", "Value", "Values", "From", "To", "TeX", "Locator", "Origin", "Source", "Says", "Story", "Caption"}
}

// stamped reports whether a text is the label of an option that is named by its
// size: {Name: "hose-25", Label: "25 mm hose"}.
func stamped(n *ast.CompositeLit, label string) bool {
	for _, e := range n.Elts {
		kv, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		key, _ := kv.Key.(*ast.Ident)
		name, _ := kv.Value.(*ast.BasicLit)
		if key == nil || !strings.EqualFold(key.Name, "name") || name == nil {
			continue
		}
		numbers := digits.FindAllString(label, -1)
		return label == strings.Trim(name.Value, "\"") || len(numbers) > 0 && !slices.ContainsFunc(numbers, func(number string) bool { return !strings.Contains(name.Value, number) })
	}
	return false
}

var digits = regexp.MustCompile(`\d+`)

func called(n *ast.CallExpr) string {
	switch f := n.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

// forAuthors reports whether a text is for who writes a calculator or a chapter,
// not for a reader: a panic, or a fault of a declaration.
func forAuthors(files *token.FileSet, path []ast.Node) bool {
	switch name := filepath.ToSlash(files.Position(path[0].Pos()).Filename); name {
	case "validate.go", "hazardrules.go", "fact.go", "story.go", "ponds.go":
		return true
	}
	for _, n := range path {
		if call, ok := n.(*ast.CallExpr); ok && called(call) == "panic" {
			return true
		}
	}
	return false
}

func report(t *testing.T, files *token.FileSet, path []ast.Node, what string) {
	t.Helper()
	place := files.Position(path[len(path)-1].Pos())
	t.Errorf("%s:%d: %s", filepath.ToSlash(place.Filename), place.Line, what)
}
