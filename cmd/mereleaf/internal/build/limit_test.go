//go:build linux || darwin

package build

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// limitFiles has the system refuse more than so many bytes of a file, to this
// process and those it starts, as a full disk does. "" is no limit.
func limitFiles(bytes string) error {
	if bytes == "" {
		return nil
	}
	n, err := strconv.ParseUint(bytes, 10, 64)
	if err != nil {
		return err
	}
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n})
}

// TestFullDisk: wherever the system refuses to write, in a page, in the module
// that the compiler writes or in the single file, there is one line that says so,
// the editions stay as they were, and nothing is left beside them.
func TestFullDisk(t *testing.T) {
	if testing.Short() {
		t.Skip("it compiles the module each time")
	}
	root, temporary := tub(t), t.TempDir()
	makeWhole(t, root, temporary)
	before := editionsOf(t, root)
	sizes := map[string]int64{}
	for name, files := range before {
		for _, text := range files {
			sizes[name] = max(sizes[name], int64(len(text)))
		}
	}
	write(t, root, "content/water/20-change.md", "# Changing water\n\nAnother text.\n")
	for name, limit := range map[string]int64{"nothing": 0, "a page": 20_000, "the module": sizes["web"] - 1, "the single file": sizes[SingleName] - 1} {
		t.Run(name, func(t *testing.T) {
			cmd := process(t, root, temporary, fileLimit+"="+strconv.FormatInt(limit, 10))
			said, err := cmd.CombinedOutput()
			text := string(said)
			if err == nil || strings.Count(text, "\n") != 1 || !strings.Contains(text, "cannot be written: "+syscall.EFBIG.Error()) && !strings.Contains(text, "free the place on the disk") {
				t.Errorf("%v: %q", err, text)
			}
			for edition, files := range editionsOf(t, root) {
				if !same(files, before[edition]) {
					t.Errorf("%s changed", edition)
				}
			}
			onlyEditions(t, root, before)
			if left := names(t, temporary); len(left) > 0 {
				t.Errorf("temporary files are left: %q", left)
			}
		})
	}
}

// TestReadOnlyFolder: who may not write gets one line, and the edition stays.
func TestReadOnlyFolder(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	before := tree(t, root+"/out/web")
	if err := os.Chmod(filepath.Dir(root), 0o755); err != nil { // others may look into it
		t.Fatal(err)
	}
	if err := os.Chmod(root+"/out", 0o555); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() == 0 { // who may write everywhere
		if err := syscall.Seteuid(65534); err != nil {
			t.Fatal(err)
		}
		defer func() {
			if err := syscall.Seteuid(0); err != nil {
				t.Fatal(err)
			}
		}()
	}
	_, err := Make(t.Context(), options(root))
	if err == nil || !strings.Contains(err.Error(), "out: cannot be written: permission denied; the previous edition is untouched; ") || strings.Contains(err.Error(), "\n") {
		t.Errorf("error %v", err)
	}
	if !same(before, tree(t, root+"/out/web")) {
		t.Error("the edition changed")
	}
}
