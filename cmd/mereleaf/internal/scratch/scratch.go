// Package scratch gives a program a folder for what it writes on its way. One
// process has such a folder at a time, by a lock that the system takes back when
// the process ends, however it ends. So whoever has the folder knows that all in
// it is left over from a process that was killed, and may remove it.
//
// It touches files.
package scratch

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"github.com/gofrs/flock"
)

// lockName is the file in the folder that is locked. It is made before anything
// else in the folder and removed after everything else, so a folder that holds
// something and no lock is not of this package.
const lockName = "lock"

// ErrTaken says that another process has the folder.
var ErrTaken = errors.New("another process is at work there")

// ErrForeign says that what stands at the place was not made by this package.
var ErrForeign = errors.New("something else stands there")

// attempts is how often something is tried again that another process has crossed in the
// same instant.
const attempts = 100

// Folder is a folder that this process has.
type Folder struct {
	Path string // absolute
	lock *flock.Flock
}

// Take makes the folder, or takes over what a killed process left. What is in it
// stays until Clear, so that the caller can save what it needs.
func Take(path string) (*Folder, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	for range attempts {
		f, err := take(path)
		if f != nil || err != nil {
			return f, err
		}
	}
	return nil, ErrTaken
}

// take returns nothing if another process gave the folder up meanwhile.
func take(path string) (*Folder, error) {
	if err := os.MkdirAll(path, 0o755); errors.Is(err, fs.ErrExist) {
		return nil, nil // the folder was there, and was removed before MkdirAll looked what it is
	} else if err != nil {
		return nil, err
	}
	if ours, err := isOurs(path); err != nil || !ours {
		return nil, errors.Join(err, foreign(ours))
	}
	lock := flock.New(filepath.Join(path, lockName))
	locked, err := lock.TryLock()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil // the folder was removed after MkdirAll
	case err != nil:
		return nil, err
	case !locked:
		return nil, errors.Join(ErrTaken, lock.Close())
	}
	f := &Folder{Path: path, lock: lock}
	if !f.holds() {
		return nil, lock.Close()
	}
	return f, nil
}

func foreign(ours bool) error {
	if ours {
		return nil
	}
	return ErrForeign
}

// isOurs reports whether a path is a folder, not a link to one, that is empty or
// has a lock.
func isOurs(path string) (bool, error) {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil // removed after MkdirAll
	}
	if err != nil || !info.IsDir() {
		return false, err
	}
	entries, err := os.ReadDir(path)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	for _, e := range entries {
		if e.Name() == lockName && e.Type().IsRegular() {
			return true, nil
		}
	}
	return len(entries) == 0, err
}

// holds reports whether the file that is locked is still the one in the folder,
// and not one that its last owner has removed.
func (f *Folder) holds() bool {
	locked, err := f.lock.Stat()
	if err != nil {
		return false
	}
	there, err := os.Lstat(filepath.Join(f.Path, lockName))
	return err == nil && os.SameFile(locked, there)
}

// Clear removes what is in the folder.
func (f *Folder) Clear() error {
	entries, err := os.ReadDir(f.Path)
	for _, e := range entries {
		if e.Name() != lockName {
			err = errors.Join(err, remove(filepath.Join(f.Path, e.Name())))
		}
	}
	return err
}

// remove removes a folder with all that is in it. What was started by a program that was
// killed may outlive it and still write there. Under another name it finds the folder no
// more; what it was just about to write may still come.
func remove(path string) error {
	err := os.RemoveAll(path)
	if !errors.Is(err, fs.ErrExist) || os.Rename(path, path+" old") != nil {
		return err
	}
	for range attempts {
		if err = os.RemoveAll(path + " old"); !errors.Is(err, fs.ErrExist) { // it was empty at the end
			break
		}
	}
	return err
}

// Close removes the folder and lets go of it. What cannot be removed stays for
// the next process that takes the folder.
func (f *Folder) Close() error {
	err := f.Clear()
	for n := 0; n < 5 && err != nil; n++ { // where an open file cannot be removed
		time.Sleep(50 * time.Millisecond)
		err = f.Clear()
	}
	if err != nil {
		return errors.Join(fmt.Errorf("%s: cannot be removed: %w", f.Path, err), f.lock.Close())
	}
	if runtime.GOOS == "windows" { // where an open file cannot be removed
		err = f.lock.Close()
		f.remove()
		return err
	}
	f.remove()
	return f.lock.Close()
}

// remove takes away the lock and the folder, unless another process has come in.
func (f *Folder) remove() {
	if os.Remove(filepath.Join(f.Path, lockName)) == nil {
		_ = os.Remove(f.Path)
	}
}

// most is how many folders of one name TakeOne makes.
const most = 100

// TakeOne takes the first folder that is free of prefix1, prefix2 and so on,
// empty, and removes those that killed processes left.
func TakeOne(prefix string) (*Folder, error) {
	var mine *Folder
	var last error
	for n := 1; n <= most && mine == nil; n++ {
		// Another's folder may be locked, or belong to another user.
		mine, last = Take(prefix + strconv.Itoa(n))
	}
	if mine == nil {
		return nil, last
	}
	left, _ := filepath.Glob(prefix + "[0-9]*") // the pattern is sound
	for _, path := range left {
		if path == mine.Path {
			continue
		}
		if f, err := Take(path); err == nil {
			_ = f.Close() // the next one tries again
		}
	}
	if err := mine.Clear(); err != nil {
		return nil, errors.Join(err, mine.lock.Close())
	}
	return mine, nil
}
