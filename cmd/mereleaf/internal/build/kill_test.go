package build

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"mereleaf/calculators/catalog"
)

// Set in a process that is to make the handbook of a folder, as the command does.
const (
	makes = "MERELEAF_TEST_MAKE"
	// fileLimit is how many bytes a file may have there.
	fileLimit = "MERELEAF_TEST_FILE_LIMIT"
	// pagesOnly has it leave out the module, which takes longest, and with it the
	// single file and the e-book.
	pagesOnly = "MERELEAF_TEST_PAGES_ONLY"
)

// kills says how many runs TestKilledMake kills, of the whole make and not of its
// pages only; .ci/long sets it.
const kills = "MERELEAF_KILLS"

func TestMain(m *testing.M) {
	root := os.Getenv(makes)
	if root == "" {
		os.Exit(m.Run())
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	err := limitFiles(os.Getenv(fileLimit))
	if err == nil {
		_, err = Make(ctx, Options{Root: root, Calculators: catalog.All(), PagesOnly: os.Getenv(pagesOnly) != ""})
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// process prepares a process that makes a handbook. Its temporary files go to a
// folder of their own, so that a test sees what it leaves.
func process(t *testing.T, root, temporary string, environment ...string) *exec.Cmd {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program)
	cmd.Env = append(append(os.Environ(), makes+"="+root, "TMPDIR="+temporary, "TMP="+temporary, "TEMP="+temporary), environment...)
	return cmd
}

// makeWhole runs a process to its end.
func makeWhole(t *testing.T, root, temporary string, environment ...string) (took time.Duration) {
	t.Helper()
	start := time.Now()
	if said, err := process(t, root, temporary, environment...).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	return time.Since(start)
}

// editionsOf are the editions of a project that there are, each as the files it
// consists of, by name.
func editionsOf(t *testing.T, root string) map[string]map[string]string {
	t.Helper()
	out := filepath.Join(root, "out")
	all := map[string]map[string]string{"web": tree(t, filepath.Join(out, "web"))}
	for _, name := range []string{SingleName, BookName} {
		if path := filepath.Join(out, name); !missing(path) {
			all[name] = tree(t, path)
		}
	}
	return all
}

// TestKilledMake kills the program at random times while it makes one text over
// the editions of another. Each time each edition is wholly the one or the other,
// and the next run leaves nothing of those that were killed.
func TestKilledMake(t *testing.T) {
	if testing.Short() {
		t.Skip("it makes the handbook ten times")
	}
	count, environment := 8, []string{pagesOnly + "=yes"}
	if text := os.Getenv(kills); text != "" {
		var err error
		if count, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
		environment = nil
	}
	root, temporary := tub(t), t.TempDir()
	const chapter = "content/water/20-change.md"
	first, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(chapter)))
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{string(first), string(first) + "\nOne more sentence.\n"}
	var wanted []map[string]map[string]string
	took := time.Hour
	for _, text := range slices.Backward(texts) {
		write(t, root, chapter, text)
		took = min(took, makeWhole(t, root, temporary, environment...))
		wanted = append([]map[string]map[string]string{editionsOf(t, root)}, wanted...)
	}
	seen, ended := [2]int{}, 0
	now := 0 // the text that each edition was last made of, as far as runs got to their end
	for i := range count {
		now = 1 - now
		write(t, root, chapter, texts[now])
		after := time.Duration(rand.Int64N(int64(took) * 3 / 2))
		if killAfter(t, process(t, root, temporary, environment...), after) {
			ended++
		}
		got := editionsOf(t, root)
		if len(got) != len(wanted[0]) {
			t.Errorf("run %d, killed after %s: %d editions of %d are there", i, after, len(got), len(wanted[0]))
		}
		for name, files := range got {
			switch {
			case same(files, wanted[0][name]):
				seen[0]++
			case same(files, wanted[1][name]):
				seen[1]++
			default:
				t.Errorf("run %d, killed after %s: %s is neither the old edition nor the new one; it differs from the one in %q, from the other in %q", i, after, name, different(files, wanted[0][name]), different(files, wanted[1][name]))
			}
		}
	}
	t.Logf("%d runs killed at some time in one and a half times %s, %d ended before; editions seen: %d of one text, %d of the other", count-ended, took, ended, seen[0], seen[1])
	write(t, root, chapter, texts[0])
	makeWhole(t, root, temporary, environment...)
	for name, files := range editionsOf(t, root) {
		if !same(files, wanted[0][name]) {
			t.Errorf("%s differs after the last run", name)
		}
	}
	onlyEditions(t, root, wanted[0])
	if left := names(t, temporary); len(left) > 0 {
		t.Errorf("temporary files are left: %q", left)
	}
}

// different names the files that are not the same in two editions.
func different(a, b map[string]string) []string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	var names []string
	for name := range all {
		one, first := a[name]
		other, second := b[name]
		if first != second || one != other {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// killAfter kills a process, and reports whether it had ended before.
func killAfter(t *testing.T, cmd *exec.Cmd, after time.Duration) bool {
	t.Helper()
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	defer timer.Stop()
	err := cmd.Wait()
	if said.Len() > 0 {
		t.Errorf("it says %s", said.String())
	}
	return err == nil
}

// names lists a folder.
func names(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

// onlyEditions fails if anything but the editions stands in their folder.
func onlyEditions(t *testing.T, root string, editions map[string]map[string]string) {
	t.Helper()
	if got, want := names(t, filepath.Join(root, "out")), slices.Sorted(maps.Keys(editions)); !slices.Equal(got, want) {
		t.Errorf("out holds %q, want %q", got, want)
	}
}

// TestTwoMakesAtOnce: while one run is at work, the others are refused in one line
// or find it ended; the editions are whole, and nothing is left.
func TestTwoMakesAtOnce(t *testing.T) {
	root, temporary := tub(t), t.TempDir()
	makeWhole(t, root, temporary, pagesOnly+"=yes")
	wanted := editionsOf(t, root)
	var all []*exec.Cmd
	var said [4]bytes.Buffer
	for i := range said {
		cmd := process(t, root, temporary, pagesOnly+"=yes")
		cmd.Stderr = &said[i]
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		all = append(all, cmd)
	}
	made := 0
	for i, cmd := range all {
		if cmd.Wait() == nil {
			made++
			continue
		}
		if text := said[i].String(); strings.Count(text, "\n") != 1 || !strings.Contains(text, "another make is writing it") || !strings.Contains(text, "wait until it has ended and run it again") {
			t.Errorf("a run was refused with %q", text)
		}
	}
	if made == 0 || made == len(all) {
		t.Errorf("%d of %d runs at once made the editions", made, len(all))
	}
	if got := editionsOf(t, root); !maps.EqualFunc(got, wanted, same) {
		t.Error("the editions differ from those of a run alone")
	}
	onlyEditions(t, root, wanted)
}
