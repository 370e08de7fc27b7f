package build

import (
	"errors"
	"io/fs"
	"os"
)

// move is a file or folder that is to take a place, which may be taken.
type move struct{ from, to string }

// aside is where what was in the place stands between the two steps of a swap on
// a system that has no single one. It is in the workshop, where recover finds it.
func (m move) aside() string { return m.from + "-before" }

// take puts the new one in its place; what was there stands at from afterwards.
// undo takes that back. On Linux and macOS the two change places in one step, so
// that the place holds one of them whole at every instant. Elsewhere, and where
// the file system cannot do it, there are two steps.
func (m move) take() (undo func() error, err error) {
	if missing(m.to) {
		return func() error { return os.Rename(m.to, m.from) }, os.Rename(m.from, m.to)
	}
	err = exchange(m.from, m.to)
	if errors.Is(err, errors.ErrUnsupported) {
		return m.twoSteps, m.twoSteps()
	}
	return func() error { return exchange(m.from, m.to) }, err
}

// twoSteps changes places by way of a third.
func (m move) twoSteps() error {
	if err := os.Rename(m.to, m.aside()); err != nil {
		return err
	}
	if err := os.Rename(m.from, m.to); err != nil {
		return errors.Join(err, os.Rename(m.aside(), m.to))
	}
	return os.Rename(m.aside(), m.from)
}

// recover puts back what a run set aside before it was killed, unless the new one
// had taken its place already.
func (m move) recover() error {
	if missing(m.aside()) || !missing(m.to) {
		return nil
	}
	return os.Rename(m.aside(), m.to)
}

func missing(path string) bool {
	_, err := os.Lstat(path)
	return errors.Is(err, fs.ErrNotExist)
}
