package browsertest

import (
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
)

// TestEditionIsMadeOnce has many ask for the same thing at once: one of them makes it,
// and none sees it half made.
func TestEditionIsMadeOnce(t *testing.T) {
	cache := filepath.Join(t.TempDir(), "cache")
	var made atomic.Int32
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			folder, used, err := share(cache, "key", func(folder string) error {
				made.Add(1)
				return os.WriteFile(filepath.Join(folder, "page"), []byte("text"), 0o644)
			})
			if err != nil {
				t.Error(err)
				return
			}
			defer used.Close()
			if text, err := os.ReadFile(filepath.Join(folder, "page")); string(text) != "text" {
				t.Errorf("%q, %v", text, err)
			}
		})
	}
	all.Wait()
	if n := made.Load(); n != 1 {
		t.Errorf("made %d times", n)
	}
}

// TestEditionStaysWhileItIsUsed makes one edition after the other: what nobody uses any
// more goes, and what somebody uses stays, and so does nothing that is half made.
func TestEditionStaysWhileItIsUsed(t *testing.T) {
	cache := t.TempDir()
	nothing := func(string) error { return nil }
	first, used, err := share(cache, "first", nothing)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := share(cache, "broken", func(string) error { return os.ErrInvalid }); err == nil {
		t.Error("what cannot be made is shared")
	}
	second, other, err := share(cache, "second", nothing)
	if err != nil {
		t.Fatal(err)
	}
	_ = other.Close()
	if _, err := os.Stat(first); err != nil {
		t.Error("what is used has been removed")
	}
	_ = used.Close()
	_, third, err := share(cache, "third", nothing)
	if err != nil {
		t.Fatal(err)
	}
	defer third.Close()
	for _, path := range []string{first, second, filepath.Join(cache, "broken")} {
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%s is kept for nobody", filepath.Base(path))
		}
	}
}

// TestDigestSeesWhatAHandbookIsMadeOf changes files one by one.
func TestDigestSeesWhatAHandbookIsMadeOf(t *testing.T) {
	of := func(changed, text string) string {
		files := fstest.MapFS{}
		for _, path := range []string{"content/a.md", "theme/a.css", "calculators/a.go", "calculators/a_test.go", "cmd/a.go", "cmd/testdata/a", "testdata/reference/a.csv", "cautions.go", "ponds.go", "go.mod", "go.sum"} {
			files[path] = &fstest.MapFile{Data: []byte("old")}
		}
		if changed != "" {
			files[changed] = &fstest.MapFile{Data: []byte(text)}
		}
		sum, err := digest(files)
		if err != nil {
			t.Fatal(err)
		}
		return sum
	}
	old := of("", "")
	for _, path := range []string{"content/a.md", "content/b.md", "theme/a.css", "calculators/a.go", "cmd/a.go", "testdata/reference/a.csv", "go.mod"} {
		if of(path, "new") == old {
			t.Errorf("a change of %s is not seen", path)
		}
	}
	for _, path := range []string{"calculators/a_test.go", "cmd/testdata/a"} {
		if of(path, "new") != old {
			t.Errorf("a change of %s counts", path)
		}
	}
}
