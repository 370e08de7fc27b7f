package scratch

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
)

// holder is set in a process that takes the folder and waits to be killed.
const holder = "MERELEAF_TEST_HOLD"

func TestMain(m *testing.M) {
	if path := os.Getenv(holder); path != "" {
		f, err := Take(path)
		if err == nil {
			err = os.WriteFile(filepath.Join(f.Path, "half"), []byte("half of a page"), 0o644)
		}
		fmt.Println("holds", err)
		_, _ = bufio.NewReader(os.Stdin).ReadByte()
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// hold starts a process that has the folder, and returns what kills it.
func hold(t *testing.T, path string) (kill func()) {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program)
	cmd.Env = append(os.Environ(), holder+"="+path)
	if _, err := cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill = sync.OnceFunc(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	t.Cleanup(kill)
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || line != "holds <nil>\n" {
		t.Fatalf("the other process says %q, %v", line, err)
	}
	return kill
}

func mustTake(t *testing.T, path string) *Folder {
	t.Helper()
	f, err := Take(path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// nothing fails if anything stands in a folder.
func nothing(t *testing.T, folder string) {
	t.Helper()
	if entries, err := os.ReadDir(folder); err != nil || len(entries) > 0 {
		t.Errorf("%s holds %v, %v", folder, entries, err)
	}
}

// TestLockDiesWithItsProcess: while another process lives, its folder is refused
// and left alone; when it has been killed, the next one takes it over and sees
// what it left.
func TestLockDiesWithItsProcess(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, ".making")
	kill := hold(t, path)
	if _, err := Take(path); !errors.Is(err, ErrTaken) {
		t.Errorf("taken twice: %v", err)
	}
	left := filepath.Join(path, "half")
	if _, err := os.Stat(left); err != nil {
		t.Error(err)
	}
	kill()
	f := mustTake(t, path)
	if _, err := os.Stat(left); err != nil {
		t.Errorf("what was left cannot be saved any more: %v", err)
	}
	if err := f.Clear(); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(left); err == nil {
		t.Error("what was left is still there")
	}
	if err := f.Close(); err != nil {
		t.Error(err)
	}
	nothing(t, parent)
}

// TestForeignFolderIsLeftAlone: a folder that holds something and no lock, or a
// link, is not touched.
func TestForeignFolderIsLeftAlone(t *testing.T) {
	parent := t.TempDir()
	own := filepath.Join(parent, "own")
	if err := os.Mkdir(own, 0o755); err != nil {
		t.Fatal(err)
	}
	letter := filepath.Join(own, "letter.txt")
	if err := os.WriteFile(letter, []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(parent, "link")
	if err := os.Symlink(t.TempDir(), link); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{own, link} {
		if _, err := Take(path); !errors.Is(err, ErrForeign) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if text, err := os.ReadFile(letter); err != nil || string(text) != "dear" {
		t.Errorf("the letter is %q, %v", text, err)
	}
}

// TestOnlyOneHasIt: of many that take and give up the folder at once, one has it
// at a time, though each removes the file that is locked.
func TestOnlyOneHasIt(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, ".making")
	var inside, had atomic.Int64
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 200 {
				f, err := Take(path)
				if errors.Is(err, ErrTaken) {
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				if inside.Add(1) != 1 {
					t.Error("two have it")
				}
				had.Add(1)
				inside.Add(-1)
				if err := f.Close(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if had.Load() == 0 {
		t.Error("nobody ever had it")
	}
	nothing(t, parent)
}

// TestTakeOneClearsWhatWasLeft: a second program has a folder beside the first's,
// and what a killed one left is removed.
func TestTakeOneClearsWhatWasLeft(t *testing.T) {
	parent := t.TempDir()
	prefix := filepath.Join(parent, ".preview-")
	kill := hold(t, prefix+"1")
	hold(t, prefix+"2")()
	other := filepath.Join(parent, ".preview-3x")
	if err := os.WriteFile(other, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := TakeOne(prefix)
	if err != nil || f.Path != prefix+"2" {
		t.Fatalf("%v, %v", f, err)
	}
	if _, err := os.Stat(filepath.Join(f.Path, "half")); err == nil {
		t.Error("it is not empty")
	}
	if err := f.Close(); err != nil {
		t.Error(err)
	}
	kill()
	if f, err = TakeOne(prefix); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Error(err)
	}
	entries, err := os.ReadDir(parent)
	if err != nil || len(entries) != 1 || entries[0].Name() != filepath.Base(other) {
		t.Errorf("%v, %v", entries, err)
	}
}

// A compiler outlives the program that started it, and writes into its folder until
// that is gone.
func TestClearOutlastsWhoStillWrites(t *testing.T) {
	f, err := Take(filepath.Join(t.TempDir(), "making"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for round := range 20 {
		folder := filepath.Join(f.Path, strconv.Itoa(round))
		if err := os.Mkdir(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		begun, gone := make(chan bool), make(chan bool)
		go func() {
			defer close(gone)
			for n := 0; ; n++ {
				if os.WriteFile(filepath.Join(folder, strconv.Itoa(n)), nil, 0o644) != nil {
					return
				}
				if n == 100 {
					close(begun)
				}
			}
		}()
		<-begun
		if err := f.Clear(); err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		<-gone
	}
}
