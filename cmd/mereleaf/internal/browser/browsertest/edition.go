package browsertest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/gofrs/flock"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book/booktest"
	"mereleaf/cmd/mereleaf/internal/build"
)

// Edition is a handbook that was made for tests and lies in a cache, where the tests of
// other packages find it too. Nobody may change it.
type Edition struct {
	Web  string // the folder of the web site; the single file and the e-book lie beside it
	used *flock.Flock
}

// TakeEdition returns this repository's handbook as it is now. The first package that
// asks for it makes it, and the others, which run at the same time, wait.
func TakeEdition() (*Edition, error) {
	root, err := booktest.Repository()
	if err != nil {
		return nil, err
	}
	key, err := digest(os.DirFS(root))
	if err != nil {
		return nil, err
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, fmt.Errorf("no place to keep the handbook under test: %w", err)
	}
	folder, used, err := share(filepath.Join(cache, "mereleaf-tests"), key, func(folder string) error {
		_, err := build.Make(context.Background(), build.Options{Root: root, Out: filepath.Join(folder, "web"), Calculators: catalog.All()})
		return err
	})
	if err != nil {
		return nil, err
	}
	return &Edition{Web: filepath.Join(folder, "web"), used: used}, nil
}

// Close lets the edition go, which is removed when another one has been made.
func (e *Edition) Close() { _ = e.used.Close() }

// digest is one of all that a handbook is made of: what it is about, and the program
// that makes it.
func digest(root fs.FS) (string, error) {
	sum := sha256.New()
	fmt.Fprintln(sum, runtime.Version())
	for _, source := range []string{"content", "theme", "calculators", "cmd", "testdata/reference", "cautions.go", "ponds.go", "go.mod", "go.sum"} {
		err := fs.WalkDir(root, source, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && d.Name() == "testdata", strings.HasSuffix(path, "_test.go"):
				if d.IsDir() {
					return fs.SkipDir
				}
				return nil
			case d.Type().IsRegular():
				return add(sum, root, path)
			}
			return nil
		})
		if err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)[:8]), nil
}

func add(sum hash.Hash, root fs.FS, path string) error {
	f, err := root.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	fmt.Fprintln(sum, path, info.Size())
	_, err = io.Copy(sum, f)
	return err
}

// Names in the cache: the lock of whoever makes or removes a folder; and in each folder
// the lock of those who use it, and a file that is there while all else is.
const (
	making = "making"
	using  = "using"
	whole  = "whole"
)

// share returns the folder of a key in a cache, and its lock, which keeps the folder
// until it is closed. If it is not there, fill makes what is in it; and those of other
// keys that nobody uses are removed.
func share(cache, key string, fill func(folder string) error) (folder string, used *flock.Flock, err error) {
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return "", nil, err
	}
	// Everything else happens while this process alone has the cache.
	maker := flock.New(filepath.Join(cache, making))
	if err := maker.Lock(); err != nil {
		return "", nil, err
	}
	defer func() { err = errors.Join(err, maker.Close()) }()
	folder = filepath.Join(cache, key)
	if _, err := os.Stat(filepath.Join(folder, whole)); err != nil {
		if err := renew(cache, folder, fill); err != nil {
			return "", nil, err
		}
	}
	used = flock.New(filepath.Join(folder, using))
	return folder, used, used.RLock()
}

// renew makes a folder of a cache anew and removes what nobody uses.
func renew(cache, folder string, fill func(folder string) error) error {
	others, err := os.ReadDir(cache)
	if err != nil {
		return err
	}
	for _, d := range others {
		if !d.IsDir() {
			continue
		}
		path := filepath.Join(cache, d.Name())
		if user := flock.New(filepath.Join(path, using)); free(user) {
			_ = os.Remove(filepath.Join(path, whole)) // which may not be there
			err = errors.Join(err, user.Close(), os.RemoveAll(path))
		}
	}
	if err := errors.Join(err, os.MkdirAll(folder, 0o755)); err != nil {
		return err
	}
	if err := fill(folder); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, whole), nil, 0o644)
}

// free reports whether nobody has a lock, and takes it.
func free(lock *flock.Flock) bool {
	ok, err := lock.TryLock()
	return ok && err == nil
}
