package preview

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// patience is how long a test waits for what must come.
const patience = 10 * time.Second

// TestWatch does what editors do and expects the files that then must be read
// again. Each line is one step: what to do, and with which paths.
func TestWatch(t *testing.T) {
	for _, test := range []struct {
		name  string
		steps string
		want  []string
	}{
		{"edit", "write content/water/10-kept.md", []string{"content/water/10-kept.md"}},
		{"save by renaming", "write content/water/.10-kept.md.new\nrename content/water/.10-kept.md.new content/water/10-kept.md", []string{"content/water/10-kept.md"}},
		{"rename", "rename content/water/10-kept.md content/water/20-moved.md", []string{"content/water/10-kept.md", "content/water/20-moved.md"}},
		{"delete", "remove content/water/10-kept.md", []string{"content/water/10-kept.md"}},
		{"new folder", "mkdir content/plants\nwrite content/plants/10-reed.md", []string{"content/plants/10-reed.md"}},
		{"new folder in a new folder", "mkdir content/a\nmkdir content/a/b\nwrite content/a/b/10-reed.md", []string{"content/a/b/10-reed.md"}},
		{"folder moved in", "mkdir aside\nwrite aside/10-reed.md\nrename aside content/aside", []string{"content/aside/10-reed.md"}},
		{"burst", "write content/water/10-kept.md\nwrite content/water/20-b.md\nwrite theme/style.css", []string{"content/water/10-kept.md", "content/water/20-b.md", "theme/style.css"}},
		{"left by editors", "write content/water/10-kept.md~\nwrite content/water/#10-kept.md#\nwrite content/water/4913\nwrite content/water/20-b.md", []string{"content/water/20-b.md"}},
		{"outside", "write out.md\nwrite content/water/20-b.md", []string{"content/water/20-b.md"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			root := project(t)
			w, err := watch(t.Context(), root, "content", "theme", "absent")
			if err != nil {
				t.Fatal(err)
			}
			for step := range strings.SplitSeq(test.steps, "\n") {
				do(t, root, strings.Fields(step))
			}
			if got := collect(t, w, test.want); !slices.Equal(got, test.want) {
				t.Errorf("changed %q, want %q", got, test.want)
			}
		})
	}
}

func project(t *testing.T) string {
	root := t.TempDir()
	for _, folder := range []string{"content/water", "theme"} {
		if err := os.MkdirAll(filepath.Join(root, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	do(t, root, []string{"write", "content/water/10-kept.md"})
	return root
}

func do(t *testing.T, root string, words []string) {
	t.Helper()
	path := func(i int) string { return filepath.Join(root, filepath.FromSlash(words[i])) }
	var err error
	switch words[0] {
	case "write":
		err = os.WriteFile(path(1), []byte("# Text\n"), 0o644)
	case "rename":
		err = os.Rename(path(1), path(2))
	case "remove":
		err = os.Remove(path(1))
	case "mkdir":
		err = os.Mkdir(path(1), 0o755)
	default:
		t.Fatalf("no step %q", words[0])
	}
	if err != nil {
		t.Fatal(err)
	}
}

// collect gathers changes until all that are wanted have come. A batch that
// comes with them and holds more is kept too, so that the test sees it.
func collect(t *testing.T, w *watcher, want []string) []string {
	t.Helper()
	got := map[string]bool{}
	late := time.After(patience)
	for {
		select {
		case batch := <-w.Changes:
			for _, path := range batch {
				got[path] = true
			}
			if !slices.ContainsFunc(want, func(path string) bool { return !got[path] }) {
				return sorted(got)
			}
		case err := <-w.Trouble:
			t.Fatal(err)
		case <-late:
			t.Fatalf("only %q changed, want %q", sorted(got), want)
		}
	}
}

// TestWatchJoinsABurst: what an editor does in one save comes as one change.
func TestWatchJoinsABurst(t *testing.T) {
	root := project(t)
	w, err := watch(t.Context(), root, "content")
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		do(t, root, []string{"write", "content/water/10-kept.md"})
		time.Sleep(settle / 20)
	}
	<-w.Changes
	select {
	case again := <-w.Changes:
		t.Errorf("a second change %q", again)
	case <-time.After(3 * settle):
	}
}

// TestWatchKeepsWhatNobodyFetched: edits during a build are not lost.
func TestWatchKeepsWhatNobodyFetched(t *testing.T) {
	root := project(t)
	w, err := watch(t.Context(), root, "content")
	if err != nil {
		t.Fatal(err)
	}
	do(t, root, []string{"write", "content/water/20-b.md"})
	time.Sleep(2 * settle)
	do(t, root, []string{"write", "content/water/30-c.md"})
	time.Sleep(2 * settle)
	want := []string{"content/water/20-b.md", "content/water/30-c.md"}
	if got := <-w.Changes; !slices.Equal(got, want) {
		t.Errorf("changed %q, want %q", got, want)
	}
}

func TestWatchEndsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	w, err := watch(ctx, project(t), "content")
	if err != nil {
		t.Fatal(err)
	}
	stop()
	if batch, open := <-w.Changes; open {
		t.Errorf("changed %q after the end", batch)
	}
	nothingLeft(t)
}

// nothingLeft fails if a goroutine of this package or of the file watcher stays.
func nothingLeft(t *testing.T) {
	t.Helper()
	var stacks string
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		b := make([]byte, 1<<20)
		stacks = string(b[:runtime.Stack(b, true)])
		if !strings.Contains(stacks, "internal/preview.(*") && !strings.Contains(stacks, "fsnotify.(*") {
			return
		}
	}
	t.Errorf("goroutines stay:\n%s", stacks)
}
