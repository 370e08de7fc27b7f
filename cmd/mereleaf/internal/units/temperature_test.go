package units

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

const root = "../../../.."

// Every °C of the handbook stands on the list testdata/temperatures.txt, as a
// reading of a thermometer or as a difference of two, and the words about it tell
// the script the same. A reader of °F is shown 32 more for a reading.
func TestEveryTemperatureIsClassified(t *testing.T) {
	text, err := os.ReadFile("testdata/temperatures.txt")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]string{}
	for line := range strings.Lines(string(text)) {
		kind, around, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if strings.HasPrefix(line, "#") || line == "\n" {
			continue
		}
		if !ok || kind != "reading" && kind != "difference" || listed[around] != "" {
			t.Errorf("testdata/temperatures.txt: %q is no line of reading or difference, a tab, and words that stand on no other line", line)
		}
		listed[around] = kind
	}
	seen := map[string]bool{}
	for _, c := range found(t) {
		kind := "reading"
		if c.Difference {
			kind = "difference"
		}
		switch listed[c.Around] {
		case kind:
		case "":
			t.Errorf("%s: %q is not listed. Is it what a thermometer shows, or a step between two? The script takes it for a %s. If that is right, add this line to testdata/temperatures.txt; if not, say the step as “by 2 °C”, “within 2 °C”, “2 °C a day” or “2 °C of difference”:\n%s\t%s", c.file, c.Around, kind, kind, c.Around)
		default:
			t.Errorf("%s: %q is listed as a %s, but its words make the script take it for a %s", c.file, c.Around, listed[c.Around], kind)
		}
		seen[c.Around] = true
	}
	for around := range listed {
		if !seen[around] {
			t.Errorf("testdata/temperatures.txt lists %q, which stands nowhere; take it out", around)
		}
	}
}

type place struct {
	Temperature
	file string
}

// found returns all degrees of the chapters, the terms and the calculators.
func found(t *testing.T) []place {
	t.Helper()
	var all []place
	add := func(file, text string) {
		for _, c := range Temperatures(text) {
			all = append(all, place{c, file})
		}
	}
	walk(t, "content", ".md", func(path string, text []byte) { add(path, string(text)) })
	walk(t, "content", ".svg", func(path string, text []byte) { add(path, string(text)) })
	walk(t, "calculators", ".go", func(path string, text []byte) {
		if strings.HasSuffix(path, "_test.go") || strings.Contains(path, "calculators/quantity/") {
			return
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.BasicLit); ok && s.Kind == token.STRING {
				if words, err := strconv.Unquote(s.Value); err == nil && strings.Contains(words, " ") && !isValue(words) {
					add(path, words)
				}
			}
			return true
		})
	})
	sort.SliceStable(all, func(i, j int) bool { return all[i].file < all[j].file })
	return all
}

// isValue reports an argument of a calculator, "21 Cel", which is a reading of
// the kind that its input has, or a question that one calculator puts to another.
func isValue(words string) bool {
	return !strings.Contains(words, "°") && (strings.Contains(words, "=") || len(strings.Fields(words)) == 2)
}

func walk(t *testing.T, folder, ending string, see func(path string, text []byte)) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(root), folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ending {
			return err
		}
		text, err := os.ReadFile(filepath.Join(root, path))
		see(path, text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
