package offline

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// listOf reads the list out of an edition's worker.
func listOf(t *testing.T, folder string) (list offline.List, script string) {
	t.Helper()
	worker := readFile(t, folder, offline.WorkerPath)
	text, script, _ := strings.Cut(strings.TrimPrefix(worker, "const edition="), ";\n")
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		t.Fatal(err)
	}
	return list, script
}

func readFile(t *testing.T, folder, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(path)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What is different in the next edition.
const (
	nextChapter = "water/ammonia.html"
	nextSet     = "figures/water-ammonia-limits.html"
	nextMark    = `<main data-edition="next"`
)

// nextEdition makes an edition out of the one under test, as if a chapter, a set
// of figures and the calculators had changed: the module has another name, and
// with it all pages that load it. Each page is marked.
func nextEdition(t *testing.T) string {
	t.Helper()
	before, script := listOf(t, browser.Edition(t))
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(browser.Edition(t))); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(before.Files, func(f offline.File) bool { return strings.HasSuffix(f.Path, ".wasm") })
	module := before.Files[i].Path
	next := "assets/reckon-00000000.wasm"
	change(t, filepath.Join(folder, module), func(old string) string { return old + "\x00\x05\x04next" }) // a custom section of WebAssembly
	if err := os.Rename(filepath.Join(folder, module), filepath.Join(folder, next)); err != nil {
		t.Fatal(err)
	}
	list := offline.Collector{Subjects: map[string]offline.Subject{}}
	for _, f := range before.Files {
		if f.Kind == "" {
			continue
		}
		s := offline.Subject{Kind: f.Kind, Title: f.Title, Digest: f.Text}
		if f.Path == nextChapter || f.Path == nextSet {
			s.Digest = "changed"
		}
		list.Subjects[f.Path] = s
	}
	err := fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == offline.WorkerPath {
			return err
		}
		if strings.HasSuffix(path, ".html") {
			change(t, filepath.Join(folder, path), func(old string) string {
				return strings.ReplaceAll(strings.Replace(old, "<main", nextMark, 1), filepath.Base(module), filepath.Base(next))
			})
		}
		list.Add(path, []byte(readFile(t, folder, path)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	l, err := list.List()
	if err != nil {
		t.Fatal(err)
	}
	worker, err := offline.Worker(l, []byte(script))
	if err != nil {
		t.Fatal(err)
	}
	change(t, filepath.Join(folder, offline.WorkerPath), func(string) string { return string(worker) })
	return folder
}

func change(t *testing.T, file string, to func(old string) string) {
	t.Helper()
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(to(string(old))), 0o644); err != nil {
		t.Fatal(err)
	}
}
