package build

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book/booktest"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website"
)

// tub lays out the small handbook of the scripts.
func tub(t *testing.T) (root string) {
	t.Helper()
	root = t.TempDir()
	if err := booktest.LayOut(root, filepath.Join("..", "..", "testdata", "project", "content")); err != nil {
		t.Fatal(err)
	}
	return root
}

func options(root string) Options {
	return Options{Root: root, Calculators: catalog.All(), PagesOnly: true}
}

// tree returns the files of a folder with their content.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		files[strings.TrimPrefix(path, folder)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func same(a, b map[string]string) bool {
	if len(a) != len(b) {
		return false
	}
	for name, text := range a {
		if other, ok := b[name]; !ok || other != text {
			return false
		}
	}
	return true
}

// onlyWeb fails if anything but the edition stands in its parent folder.
func onlyWeb(t *testing.T, root string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(root, "out"))
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 1 || entries[0].Name() != "web" {
		t.Errorf("out holds %v, want only web", entries)
	}
}

// TestMakeTwice: the same input gives the same bytes, from another folder too.
func TestMakeTwice(t *testing.T) {
	first, second := tub(t), tub(t)
	report, err := Make(t.Context(), options(first))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Make(t.Context(), options(second)); err != nil {
		t.Fatal(err)
	}
	a, b := tree(t, filepath.Join(first, "out", "web")), tree(t, filepath.Join(second, "out", "web"))
	if !same(a, b) {
		t.Error("two folders with one content give different editions")
	}
	var bytes int64
	for _, text := range a {
		bytes += int64(len(text))
	}
	if report.Files != len(a) || report.Bytes != bytes || report.Chapters != 3 {
		t.Errorf("report of %d files, %d bytes, %d chapters; there are %d, %d, 3", report.Files, report.Bytes, report.Chapters, len(a), bytes)
	}
	onlyWeb(t, first)
}

// TestMakeFailsWhole: whatever goes wrong, the previous edition stays as it was
// and nothing is left beside it.
func TestMakeFailsWhole(t *testing.T) {
	for _, test := range []struct {
		name  string
		spoil func(t *testing.T, root string, stop context.CancelFunc)
		want  string // in the error
	}{
		{"fault in a chapter", func(t *testing.T, root string, _ context.CancelFunc) {
			write(t, root, "content/water/20-change.md", "# Title\n\nA <b>tag</b>.\n")
		}, "content/water/20-change.md:3:3"},
		{"fault in a template", func(t *testing.T, root string, _ context.CancelFunc) {
			write(t, root, "theme/templates/chapter.html", "{{.Nothing}}")
		}, "theme/templates/chapter.html"},
		{"stopped", func(_ *testing.T, _ string, stop context.CancelFunc) { stop() }, context.Canceled.Error()},
	} {
		t.Run(test.name, func(t *testing.T) {
			if test.want != context.Canceled.Error() {
				slowWithRaceDetector(t)
			}
			root := tub(t)
			if _, err := Make(t.Context(), options(root)); err != nil {
				t.Fatal(err)
			}
			before := tree(t, filepath.Join(root, "out"))
			ctx, stop := context.WithCancel(t.Context())
			defer stop()
			test.spoil(t, root, stop)
			_, err := Make(ctx, options(root))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %v, want one with %q", err, test.want)
			}
			if !same(before, tree(t, filepath.Join(root, "out"))) {
				t.Error("the previous edition changed")
			}
			onlyWeb(t, root)
		})
	}
}

// slowWithRaceDetector leaves a test out of short runs, as those of the race detector
// are: a make takes it five times as long, and what this test makes the tests of
// TestMakeTwice, TestTwoMakesAtOnce and TestSetRendersWhatChanged make too.
func slowWithRaceDetector(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("makes an edition as others do")
	}
}

func write(t *testing.T, root, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(root, filepath.FromSlash(name)), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func newTestStage(t *testing.T) (*stage, string) {
	t.Helper()
	root := t.TempDir()
	out := filepath.Join(root, "out", "web")
	if err := os.MkdirAll(out, 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, out, "index.html", "previous")
	s, err := newStage(out)
	if err != nil {
		t.Fatal(err)
	}
	return s, root
}

// TestStageErrorMidway: the system refuses a file after others were written, as
// a full disk does.
func TestStageErrorMidway(t *testing.T) {
	s, root := newTestStage(t)
	if err := s.write("water", []byte("a file where a folder must be")); err != nil {
		t.Fatal(err)
	}
	err := s.write("water/ammonia.html", []byte("page"))
	if err == nil || !strings.Contains(err.Error(), "cannot be written") || !strings.Contains(err.Error(), "previous edition is untouched") || strings.Contains(err.Error(), "\n") {
		t.Errorf("error %v", err)
	}
	if err := s.discard(); err != nil {
		t.Error(err)
	}
	onlyWeb(t, root)
	if got := tree(t, s.out)["/index.html"]; got != "previous" {
		t.Errorf("previous edition is %q", got)
	}
}

// TestStageSwapFails: if the new edition cannot take its place, the previous one
// returns to it.
func TestStageSwapFails(t *testing.T) {
	s, root := newTestStage(t)
	if err := os.RemoveAll(s.folder); err != nil {
		t.Fatal(err)
	}
	if err := s.swap(); err == nil {
		t.Error("swapped in an edition that does not exist")
	}
	if err := s.discard(); err != nil {
		t.Error(err)
	}
	onlyWeb(t, root)
	if got := tree(t, s.out)["/index.html"]; got != "previous" {
		t.Errorf("previous edition is %q", got)
	}
}

func TestStageRefusesTwoPagesOfOneName(t *testing.T) {
	s, _ := newTestStage(t)
	if err := s.write("a.html", nil); err != nil {
		t.Fatal(err)
	}
	if err := s.write("a.html", nil); err == nil || !strings.Contains(err.Error(), "two pages have this name") {
		t.Errorf("error %v", err)
	}
}

// TestSetRendersWhatChanged edits one chapter's text: of all pages only those
// that show the text are set again, and they come out as in a build from
// nothing.
func TestSetRendersWhatChanged(t *testing.T) {
	root := tub(t)
	p, err := Open(root, catalog.All(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	p.PagesOnly = true
	build, leaves := assemble(t, p)
	file := "content/water/20-change.md"
	text, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		t.Fatal(err)
	}
	write(t, root, file, string(text)+"\nOne more sentence.\n")
	build, err = p.Reread(build, []string{file})
	if err != nil {
		t.Fatal(err)
	}
	again, set, err := p.Set(t.Context(), build, leaves)
	if err != nil {
		t.Fatal(err)
	}
	if set != 2 {
		t.Errorf("%d pages set, want only the chapter's own and the one that finds its words", set)
	}
	_, fresh := assemble(t, p)
	for path, leaf := range fresh {
		if !bytes.Equal(leaf.Bytes, again[path].Bytes) {
			t.Errorf("%s differs from a build from nothing", path)
		}
	}
	for path, leaf := range again {
		changed := path == "water/change.html" || path == paths.Find
		if bytes.Equal(leaves[path].Bytes, leaf.Bytes) == changed {
			t.Errorf("%s: changed is %v", path, !changed)
		}
	}
}

func assemble(t *testing.T, p *Press) (*Build, Leaves) {
	t.Helper()
	build, err := p.Assemble(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	leaves, set, err := p.Set(t.Context(), build, nil)
	if err != nil {
		t.Fatal(err)
	}
	if set != len(build.Pages) || set != len(leaves) {
		t.Fatalf("%d of %d pages set, %d kept", set, len(build.Pages), len(leaves))
	}
	return build, leaves
}

// TestRenderReportsAllPages: one faulty page does not hide the next.
func TestRenderReportsAllPages(t *testing.T) {
	at := func(line int) diag.Diagnostic {
		return diag.Diagnostic{Position: diag.Position{File: "content/a.md", Line: line}, Problem: "is wrong"}
	}
	page := func(path string, err error) website.Page {
		return website.Page{Path: path, Bytes: func() ([]byte, error) { return []byte(path), err }}
	}
	pages := []website.Page{page("a", at(9)), page("b", nil), page("c", diag.List{at(2), at(5)}), page("d", errors.New("no position"))}
	p := &Press{log: &log{}}
	var kept []string
	err := p.Render(t.Context(), pages, func(page website.Page, _ []byte) error {
		kept = append(kept, page.Path)
		return nil
	})
	want := "content/a.md:2: is wrong\ncontent/a.md:5: is wrong\ncontent/a.md:9: is wrong\nd: the page cannot be set: no position"
	if err == nil || err.Error() != want || !slices.Equal(kept, []string{"b"}) {
		t.Errorf("kept %q, error %v; want %q", kept, err, want)
	}
}

// heard records what a build tells.
type heard struct{ done []string }

func (h *heard) Step(string, int, int)              {}
func (h *heard) Done(phase string, _ time.Duration) { h.done = append(h.done, phase) }

// TestMakeTellsItsPhases also sees that phases are told one at a time: heard has
// no lock, and the race detector looks on.
func TestMakeTellsItsPhases(t *testing.T) {
	o, h := options(tub(t)), &heard{}
	o.Progress = h
	report, err := Make(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	var reported []string
	for _, phase := range report.Phases {
		reported = append(reported, phase.Name)
	}
	if !slices.Equal(h.done, reported) {
		t.Errorf("told %q, reported %q", h.done, reported)
	}
	for _, phase := range []string{PhaseRead, PhaseVerify, PhaseTheme, PhasePages, PhaseSwap} {
		if !slices.Contains(reported, phase) {
			t.Errorf("no phase %q in %q", phase, reported)
		}
	}
}
