package build

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image/png"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// listed reads the list out of a worker as another program would.
func listed(t *testing.T, worker string) offline.List {
	t.Helper()
	var l offline.List
	text, _, _ := strings.Cut(strings.TrimPrefix(worker, "const edition="), ";\n")
	if err := json.Unmarshal([]byte(text), &l); err != nil {
		t.Fatal(err)
	}
	return l
}

// TestWorkerListsEveryFile compares the list with the files of the edition.
func TestWorkerListsEveryFile(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	files := tree(t, filepath.Join(root, "out", "web"))
	l := listed(t, files["/"+offline.WorkerPath])
	var paths []string
	for _, f := range l.Files {
		paths = append(paths, f.Path)
		content, ok := files["/"+f.Path]
		if sum := fmt.Sprintf("%x", sha256.Sum256([]byte(content))); !ok || f.Hash != sum[:32] || f.Size != len(content) {
			t.Errorf("%s is listed with %d bytes and %s; it has %d and %s", f.Path, f.Size, f.Hash, len(content), sum)
		}
	}
	if !slices.IsSorted(paths) || len(slices.Compact(slices.Clone(paths))) != len(files)-1 {
		t.Errorf("%d paths are listed of %d files beside the worker itself, sorted: %v", len(paths), len(files)-1, slices.IsSorted(paths))
	}
	kinds := map[offline.Kind]int{}
	for _, f := range l.Files {
		kinds[f.Kind]++
		if (f.Kind != "") != (f.Title != "" && f.Text != "") {
			t.Errorf("%+v", f)
		}
	}
	if kinds[offline.Chapter] != 3 || kinds[offline.Calculator] != len(catalog.All().All()) || kinds[offline.FigureSet] == 0 {
		t.Errorf("listed by kind are %v", kinds)
	}
}

// TestManifestNamesItsPictures opens the icons that the manifest names.
func TestManifestNamesItsPictures(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	files := tree(t, filepath.Join(root, "out", "web"))
	var m struct{ Icons []offline.Icon }
	if err := json.Unmarshal([]byte(files["/"+offline.ManifestPath]), &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Icons) != 2 {
		t.Fatalf("the manifest has %d icons", len(m.Icons))
	}
	for _, icon := range m.Icons {
		content, ok := files["/"+icon.Source]
		if !ok {
			t.Errorf("%s is not in the edition", icon.Source)
		}
		if icon.Type != "image/png" {
			continue
		}
		picture, err := png.DecodeConfig(strings.NewReader(content))
		if got := fmt.Sprintf("%dx%d", picture.Width, picture.Height); err != nil || got != icon.Sizes {
			t.Errorf("%s measures %s, %v; it says %s", icon.Source, got, err, icon.Sizes)
		}
	}
	for _, path := range []string{"/index.html", "/water/change.html"} {
		if !strings.Contains(files[path], `offline.js"`) || !strings.Contains(files[path], `handbook.webmanifest"`) {
			t.Errorf("%s names no worker or no manifest", path)
		}
	}
}

// TestPreviewKeepsNothing: a worker would show pages of before the last edit.
func TestPreviewKeepsNothing(t *testing.T) {
	slowWithRaceDetector(t)
	p, err := Open(tub(t), catalog.All(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	p.PagesOnly = true
	build, leaves := assemble(t, p)
	for path, leaf := range leaves {
		if strings.Contains(string(leaf.Bytes), offline.WorkerPath) || strings.Contains(string(leaf.Bytes), offline.ManifestPath) {
			t.Errorf("%s names the worker or the manifest", path)
		}
	}
	for path := range build.Files() {
		if path == offline.WorkerPath || path == offline.ManifestPath {
			t.Errorf("%s is served", path)
		}
	}
}
