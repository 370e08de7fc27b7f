package calculators_test

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const saidFile = "testdata/said.txt"

// A number that a reader is told stands in two places: where it is said and in
// testdata/said.txt, with the words before it. So a sentence cannot take another
// limit than it took, and a number typed into help, advice or a caution, in digits
// or as a word, cannot change unseen. The same holds for the words that keep someone
// from harm: never, do not, unplug, dechlorinated, and who is to be asked. No command
// writes the file: whoever changes a number checks it against its source and puts the
// line in.
func TestWhatIsSaidIsListed(t *testing.T) {
	data, err := os.ReadFile(saidFile)
	if err != nil {
		t.Fatal(err)
	}
	listed := slices.Collect(strings.Lines(string(data)))
	if !slices.IsSorted(listed) {
		t.Errorf("%s is not sorted", saidFile)
	}
	told := said(t)
	for _, l := range told {
		if !slices.Contains(listed, l) {
			t.Errorf("%s does not list\n\t%s; check it, and put the line in", saidFile, strings.TrimSpace(l))
		}
	}
	for _, l := range listed {
		if !slices.Contains(told, l) {
			t.Errorf("%s lists what no calculator says:\n\t%s; if the sentence is gone take the line out", saidFile, strings.TrimSpace(l))
		}
	}
}

// said returns the numbers and the words of caution of all texts, each once, as lines
// "package.function: words before it, and it", sorted.
func said(t *testing.T) []string {
	t.Helper()
	files, parsed := sources(t)
	values := constants(files, parsed)
	var all []string
	for _, f := range parsed {
		walk(f, func(path []ast.Node) {
			text, ok := literal(path)
			if !ok || !words(text) || pathData.MatchString(text) || strings.Contains(text, "<") || question.MatchString(text) || listedElsewhere(f, path) || forAuthors(files, path) {
				return
			}
			where := place(f, path)
			for _, n := range numbers(text, fills(path), values) {
				all = append(all, where+": "+n+"\n")
			}
		})
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// listedElsewhere reports whether the numbers of a text are bound by a test of its
// own, or are no figures: what may be written as it is, a check that is evaluated,
// a name, the labels of limits, and how a number is to be typed.
func listedElsewhere(f *ast.File, path []ast.Node) bool {
	switch f.Name.Name {
	case "quantity", "limits":
		return true
	}
	for _, n := range path {
		switch n := n.(type) {
		case *ast.CallExpr:
			if slices.Contains([]string{"Explicit", "Implicit", "Rounded", "Rates"}, called(n)) {
				return true
			}
		case *ast.KeyValueExpr:
			if key, _ := n.Key.(*ast.Ident); key != nil && key.Name == "Name" {
				return true
			}
		}
	}
	return written(path, "")
}

// question matches what one calculator asks another: "from=media boxes=1".
var question = regexp.MustCompile(`^\pL[\pL-]*=`)

// place names the function or the method around a text.
func place(f *ast.File, path []ast.Node) string {
	for _, n := range path {
		if d, ok := n.(*ast.FuncDecl); ok {
			return f.Name.Name + "." + d.Name.Name
		}
	}
	return f.Name.Name
}

// fills returns what fills each gap of a text, by the gap. In a call the texts come
// first, and then what fills their gaps, each name once.
func fills(path []ast.Node) map[string]ast.Expr {
	call, ok := path[len(path)-2].(*ast.CallExpr)
	if !ok {
		return nil
	}
	var open []string
	var values []ast.Expr
	for _, a := range call.Args {
		text, ok := literal([]ast.Node{call, a})
		if !ok {
			values = append(values, a)
			continue
		}
		values = nil // what stands before the last text is no value
		for _, gap := range gaps.FindAllString(text, -1) {
			if !slices.Contains(open, gapName(gap)) {
				open = append(open, gapName(gap))
			}
		}
	}
	byName := map[string]ast.Expr{}
	for i, v := range values[:min(len(values), len(open))] {
		byName[open[i]] = v
	}
	return byName
}

// gapName returns the name of a gap such as {act mg/L}.
func gapName(gap string) string {
	name, _, _ := strings.Cut(strings.Trim(gap, "{}"), " ")
	return name
}

// told matches a gap, a number that is written out, in digits or as a word, and a word
// that keeps someone from harm.
var told = regexp.MustCompile(gaps.String() + `|[\pL\d]*\d[\d.,]*|(?i)\b(two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|hundred|thousand|half|halves?|thirds?|quarters?|fourths?|fifths?|tenths?|twice|fortnight|never|do not|stay off|no acid|no medicine|no feed|unplug(?:ged)?|vet|label|dechlorinated|electrician|alone)\b`)

// numbers returns what told matches in a text with three words before each, and the
// word behind what is written out. A gap counts if a constant fills it.
func numbers(text string, fill map[string]ast.Expr, values map[ast.Expr]types.TypeAndValue) []string {
	var found []string
	for _, at := range told.FindAllStringIndex(text, -1) {
		n := text[at[0]:at[1]]
		switch {
		case !strings.HasPrefix(n, "{"):
			if formula.MatchString(n) {
				continue
			}
			n = strings.TrimRight(n+behind.FindString(gaps.ReplaceAllString(text[at[1]:], "…")), ".,:;!?)")
		default:
			v := values[fill[gapName(n)]].Value
			if v == nil || v.Kind() != constant.Int && v.Kind() != constant.Float {
				continue
			}
			x, _ := constant.Float64Val(constant.ToFloat(v))
			n = fmt.Sprintf("%s = %.6g", n, x)
		}
		before := strings.Fields(gaps.ReplaceAllString(text[:at[0]], "…"))
		before = append(before[max(0, len(before)-3):], n)
		found = append(found, strings.Join(before, " "))
	}
	return found
}

// behind matches the rest of a word, or the next one.
var behind = regexp.MustCompile(`^\s?\S*`)

// formula matches a chemical formula, a name with its number, or a unit's power.
var formula = regexp.MustCompile(`^\pL+\d`)

// constants evaluates the constant expressions of the calculators. What they import
// from elsewhere is taken to be empty.
func constants(files *token.FileSet, parsed []*ast.File) map[ast.Expr]types.TypeAndValue {
	folders := map[string][]*ast.File{}
	for _, f := range parsed {
		folder := "mereleaf/calculators/" + filepath.ToSlash(filepath.Dir(files.Position(f.Pos()).Filename))
		folders[path.Clean(folder)] = append(folders[path.Clean(folder)], f)
	}
	p := &packages{files: files, folders: folders, done: map[string]*types.Package{}, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
	for folder := range folders {
		p.Import(folder)
	}
	return p.info.Types
}

// packages imports the packages of the calculators from their syntax.
type packages struct {
	files   *token.FileSet
	folders map[string][]*ast.File
	done    map[string]*types.Package
	info    *types.Info
}

func (p *packages) Import(name string) (*types.Package, error) {
	if known, ok := p.done[name]; ok {
		return known, nil
	}
	p.done[name] = types.NewPackage(name, path.Base(name))
	p.done[name].MarkComplete()
	if len(p.folders[name]) > 0 {
		config := types.Config{Importer: p, Error: func(error) {}, FakeImportC: true}
		checked, _ := config.Check(name, p.files, p.folders[name], p.info) // errors come of what is empty
		p.done[name] = checked
	}
	return p.done[name], nil
}
