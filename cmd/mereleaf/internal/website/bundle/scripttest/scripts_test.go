package scripttest

import (
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const root = "../../../../../.."

// TestScripts runs every test of the scripts that needs no browser.
func TestScripts(t *testing.T) {
	tests, err := filepath.Glob(filepath.Join(root, "theme/script/test/*.test.ts"))
	if err != nil || len(tests) == 0 {
		t.Fatalf("no tests of scripts: %v", err)
	}
	for _, file := range tests {
		t.Run(filepath.Base(file), func(t *testing.T) { Run(t, root, filepath.Base(file)) })
	}
}

// layers are the folders of theme with scripts, from the lowest to the highest. A
// script imports from its own folder and from lower layers only.
func layers() [][]string {
	return [][]string{
		{"script/shared", "offline"},
		{"script/module"},
		{"script/record", "script/units", "script/find", "script/keep"},
		{"script/reckon", "script/log"},
		{"script", "thread"},
	}
}

// script is a file of theme without its tests.
type script struct {
	name, text string // "script/log/file.ts"
	imports    []string
}

var imported = regexp.MustCompile(`(?m)^(?:import|export|\}).* from "(\.[^"]+)";$`)

func scripts(t *testing.T) []script {
	t.Helper()
	var all []script
	theme := os.DirFS(filepath.Join(root, "theme"))
	err := fs.WalkDir(theme, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(name) != ".ts" || path.Dir(name) == "script/test" {
			return err
		}
		text, err := fs.ReadFile(theme, name)
		s := script{name: name, text: string(text)}
		for _, m := range imported.FindAllStringSubmatch(s.text, -1) {
			s.imports = append(s.imports, path.Join(path.Dir(name), m[1])+".ts")
		}
		all = append(all, s)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestScriptsImportDownwards also shows that no two folders import each other.
func TestScriptsImportDownwards(t *testing.T) {
	layer := map[string]int{}
	for i, folders := range layers() {
		for _, folder := range folders {
			layer[folder] = i
		}
	}
	for _, s := range scripts(t) {
		own, known := layer[path.Dir(s.name)]
		if !known {
			t.Errorf("theme/%s: its folder is in no layer; add it to layers in this test", s.name)
		}
		for _, to := range s.imports {
			if of, known := layer[path.Dir(to)]; path.Dir(to) != path.Dir(s.name) && (!known || of >= own) {
				t.Errorf("theme/%s imports %s, which is not below it", s.name, to)
			}
		}
	}
}

func TestScriptsHaveNoCircle(t *testing.T) {
	files := map[string]script{}
	for _, s := range scripts(t) {
		files[s.name] = s
	}
	done := map[string]bool{}
	var visit func(name string, way []string)
	visit = func(name string, way []string) {
		if i := slices.Index(way, name); i >= 0 {
			t.Errorf("theme: %s import each other in a circle", strings.Join(append(way[i:], name), ", "))
			return
		}
		if done[name] {
			return
		}
		done[name] = true
		if _, there := files[name]; !there {
			t.Errorf("theme/%s imports %s, which is not there", way[len(way)-1], name)
		}
		for _, to := range files[name].imports {
			visit(to, append(slices.Clone(way), name))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		visit(name, nil)
	}
}

// views are the scripts that touch the page. All others hold state or rules, know
// nothing of it, and so can be tested in Node.
func views() []string {
	return []string{
		"script/main", "script/single", "script/shared/address", "script/shared/leaf", "script/module/answer",
		"script/record/page", "script/reckon/answer", "script/reckon/fields", "script/reckon/link", "script/reckon/pad",
		"script/log/chart", "script/log/fields", "script/log/form", "script/log/import", "script/log/list", "script/log/main", "script/log/page",
		"script/find/key", "script/find/main", "script/find/page", "script/keep/load", "script/keep/main",
		"script/units/fields", "script/units/main", "script/units/page", "script/units/system",
	}
}

// page is what a script says of the page. Whoever asks whether there is one, as
// shared/day.ts does for its language, gets along without.
var page = regexp.MustCompile(`(?:^|[^.\w])document\b|\b(?:HTML\w*Element|Element|DocumentFragment|MutationObserver)\b|querySelector`)

func TestStateOfScriptsKnowsNoPage(t *testing.T) {
	left := views()
	for _, s := range scripts(t) {
		name := strings.TrimSuffix(s.name, ".ts")
		if i := slices.Index(left, name); i >= 0 {
			left = slices.Delete(left, i, i+1)
			continue
		}
		if said := page.FindString(comment.ReplaceAllString(s.text, "")); said != "" {
			t.Errorf("theme/%s says %q, and is none of views in this test: keep state apart from what shows it", s.name, strings.TrimSpace(said))
		}
		for _, to := range s.imports {
			if slices.Contains(views(), strings.TrimSuffix(to, ".ts")) {
				t.Errorf("theme/%s imports %s, which touches the page", s.name, to)
			}
		}
	}
	if len(left) > 0 {
		t.Errorf("there is no theme/%s.ts; take it out of views", strings.Join(left, ".ts, theme/"))
	}
}

var comment = regexp.MustCompile(`(?m)//.*$`)
