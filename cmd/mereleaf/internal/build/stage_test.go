package build

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// put makes files of the text that is their name.
func put(t *testing.T, folder string, files ...string) {
	t.Helper()
	for _, name := range files {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Error(err)
	}
	return string(text)
}

// TestSweepTakesOnlyItsOwn: names that earlier programs gave to what they had
// under way are removed, and nothing else.
func TestSweepTakesOnlyItsOwn(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	kept := []string{".edition-", ".edition-12.txt", ".web-mine", "notes.txt", "web"}
	put(t, out, ".web-12/index.html", ".web-12-old/index.html", ".edition-3", ".making/lock", ".making/web/index.html", ".making/mereleaf-wasm-1/0.go", "web/index.html", ".web-mine/a", ".edition-", ".edition-12.txt", "notes.txt")
	s, err := newStage(filepath.Join(out, "web"))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.discard(); err != nil {
		t.Error(err)
	}
	if got := names(t, out); !slices.Equal(got, kept) {
		t.Errorf("out holds %q, want %q", got, kept)
	}
}

// TestKilledBetweenTwoSteps: where a swap takes two steps, the next run puts back
// what was set aside, unless the new one stands in its place already.
func TestKilledBetweenTwoSteps(t *testing.T) {
	for _, left := range []struct {
		name, aside string
	}{
		{"by this program", ".making/web-before/index.html"},
		{"by an earlier one", ".web-12-old/index.html"},
	} {
		for _, placed := range []bool{false, true} {
			out := filepath.Join(t.TempDir(), "out")
			put(t, out, left.aside, ".making/lock", ".making/mereleaf.html-before")
			want := left.aside
			if placed {
				put(t, out, "web/index.html")
				want = "web/index.html"
			}
			s, err := newStage(filepath.Join(out, "web"))
			if err != nil {
				t.Fatal(err)
			}
			if err := s.discard(); err != nil {
				t.Error(err)
			}
			if got := read(t, filepath.Join(out, "web", "index.html")); got != want {
				t.Errorf("left %s, new one placed %v: the edition is %q, want %q", left.name, placed, got, want)
			}
			if got := names(t, out); !slices.Equal(got, []string{SingleName, "web"}) {
				t.Errorf("left %s, new one placed %v: out holds %q", left.name, placed, got)
			}
		}
	}
}

// TestMoveChangesPlaces: in one step or in two, what was in the place stands where
// the new one was, and undoing it takes both back.
func TestMoveChangesPlaces(t *testing.T) {
	for name, take := range map[string]func(move) error{
		"one step": func(m move) error {
			undo, err := m.take()
			if err != nil {
				return err
			}
			if err := undo(); err != nil {
				return err
			}
			_, err = m.take()
			return err
		},
		"two steps": move.twoSteps,
	} {
		folder := t.TempDir()
		put(t, folder, "new/a", "old/a")
		if err := take(move{filepath.Join(folder, "new"), filepath.Join(folder, "old")}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if a, b := read(t, filepath.Join(folder, "old", "a")), read(t, filepath.Join(folder, "new", "a")); a != "new/a" || b != "old/a" || len(names(t, folder)) != 2 {
			t.Errorf("%s: %q, %q, %q", name, a, b, names(t, folder))
		}
	}
}

// TestSwapTakesAllBack: when the last edition cannot take its place, the ones
// before it leave theirs.
func TestSwapTakesAllBack(t *testing.T) {
	s, root := newTestStage(t)
	put(t, filepath.Join(root, "out"), SingleName)
	if err := s.write("index.html", []byte("new")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{SingleName, BookName} {
		if err := s.writeBeside(name, []byte("new")); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(s.workshop.Path, BookName)); err != nil {
		t.Fatal(err)
	}
	if err := s.swap(); err == nil || !strings.Contains(err.Error(), "the previous edition is untouched") {
		t.Errorf("error %v", err)
	}
	if err := s.discard(); err != nil {
		t.Error(err)
	}
	out := filepath.Join(root, "out")
	if a, b := read(t, filepath.Join(out, "web", "index.html")), read(t, filepath.Join(out, SingleName)); a != "previous" || b != SingleName {
		t.Errorf("the editions are %q and %q", a, b)
	}
	if got := names(t, out); !slices.Equal(got, []string{SingleName, "web"}) {
		t.Errorf("out holds %q", got)
	}
}

// TestStageRefusesWhatIsTaken: a run that is at work, and a folder that somebody
// else has made, are left alone.
func TestStageRefusesWhatIsTaken(t *testing.T) {
	s, root := newTestStage(t)
	if err := s.write("index.html", nil); err != nil {
		t.Fatal(err)
	}
	if _, err := newStage(s.out); err == nil || !strings.HasSuffix(err.Error(), "web: another make is writing it; expected one at a time; wait until it has ended and run it again") {
		t.Errorf("error %v", err)
	}
	if err := s.swap(); err != nil {
		t.Error(err)
	}
	if err := s.discard(); err != nil {
		t.Error(err)
	}
	put(t, filepath.Join(root, "out"), ".making/letter.txt")
	if _, err := newStage(s.out); err == nil || !strings.Contains(err.Error(), ".making: was not made by this program") {
		t.Errorf("error %v", err)
	}
	if got := read(t, filepath.Join(root, "out", ".making", "letter.txt")); got != ".making/letter.txt" {
		t.Errorf("the letter is %q", got)
	}
}

// saver saves a chapter when the pages are being set.
type saver struct {
	heard
	save func()
}

func (s *saver) Done(phase string, took time.Duration) {
	if phase == PhasePages {
		s.save()
	}
}

// TestChangedInTheMiddle: an edition of which one page was made of the old text and
// another of the new would be neither, so there is none.
func TestChangedInTheMiddle(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	put(t, root, "out/web/index.html")
	const chapter = "content/water/20-change.md"
	o := options(root)
	o.Progress = &saver{save: func() {
		write(t, root, chapter, "# Changing water\n\nAnother text.\n")
		put(t, root, "content/water/.20-change.md.swp", "content/water/30-new.md")
	}}
	_, err := Make(t.Context(), o)
	want := chapter + ": was changed while the handbook was being made, and the previous edition is untouched; expected that it stays as it is until the end; run it again\ncontent/water/30-new.md: was added "
	if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("error %v", err)
	}
	if got := read(t, filepath.Join(root, "out", "web", "index.html")); got != "out/web/index.html" {
		t.Errorf("the edition is %q", got)
	}
	onlyWeb(t, root)
}

// TestClockMayJump: every file has a date of another century, as when the clock
// jumps between two edits. The edition is the same byte for byte, and what a killed
// run left is removed whatever its date.
func TestClockMayJump(t *testing.T) {
	slowWithRaceDetector(t)
	root, other := tub(t), tub(t)
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	put(t, other, "out/.making/lock", "out/.making/web/half.html", "out/web/index.html")
	dates := []time.Time{time.Date(1971, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2099, 1, 1, 0, 0, 0, 0, time.UTC)}
	n := 0
	err := filepath.WalkDir(other, func(path string, _ os.DirEntry, err error) error {
		if n++; err != nil {
			return err
		}
		return os.Chtimes(path, dates[n%2], dates[n%2])
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Make(t.Context(), options(other)); err != nil {
		t.Fatal(err)
	}
	if !same(tree(t, filepath.Join(root, "out", "web")), tree(t, filepath.Join(other, "out", "web"))) {
		t.Error("the edition depends on the dates of files")
	}
	onlyWeb(t, other)
}
