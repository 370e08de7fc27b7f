package build

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"mereleaf/cmd/mereleaf/internal/scratch"
	"mereleaf/cmd/mereleaf/internal/website"
	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// workshopName is the folder beside the editions in which a run writes everything
// on its way, what the compiler writes included. One run has it at a time, so the
// next one can remove what a killed one left; see package scratch.
const workshopName = ".making"

// webName is the web edition in the workshop.
const webName = "web"

// stage is an edition under way, beside its final place.
type stage struct {
	out, folder string // the edition's place, and where it is now
	workshop    *scratch.Folder
	beside      []move // the editions that are one file each

	made         sync.Map // folders that exist
	files, bytes atomic.Int64
	list         offline.Collector
}

func newStage(out string) (*stage, error) {
	if info, err := os.Lstat(out); err == nil && !info.IsDir() {
		return nil, fmt.Errorf("%s: is not a folder; expected the previous edition or nothing; move it away", out)
	}
	parent := filepath.Dir(out)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, unwritable(parent, err)
	}
	place := filepath.Join(parent, workshopName)
	workshop, err := scratch.Take(place)
	switch {
	case errors.Is(err, scratch.ErrTaken):
		return nil, fmt.Errorf("%s: another make is writing it; expected one at a time; wait until it has ended and run it again", out)
	case errors.Is(err, scratch.ErrForeign):
		return nil, fmt.Errorf("%s: was not made by this program, which needs the place; move it away and run it again", place)
	case err != nil:
		return nil, unwritable(parent, err)
	}
	s := &stage{out: out, folder: filepath.Join(workshop.Path, webName), workshop: workshop}
	if err := s.tidy(parent); err != nil {
		return nil, errors.Join(err, workshop.Close())
	}
	if err := os.Mkdir(s.folder, 0o755); err != nil {
		return nil, errors.Join(unwritable(parent, err), workshop.Close())
	}
	return s, nil
}

// tidy puts back what a run took out of its place before it was killed, and
// removes what it left.
func (s *stage) tidy(parent string) error {
	for _, name := range []string{webName, SingleName, BookName} {
		place := filepath.Join(parent, name)
		if name == webName {
			place = s.out
		}
		if err := (move{filepath.Join(s.workshop.Path, name), place}).recover(); err != nil {
			return unwritable(place, err)
		}
	}
	if err := s.workshop.Clear(); err != nil {
		return unwritable(s.workshop.Path, err)
	}
	return s.sweep(parent)
}

// earlier are the names that runs of this program gave to what they had under way
// before they had a folder for it.
var earlier = regexp.MustCompile(`^\.(web-[0-9]+|web-[0-9]+-old|edition-[0-9]+)$`)

// sweep removes what earlier programs left beside the editions.
func (s *stage) sweep(parent string) error {
	entries, err := os.ReadDir(parent)
	if err != nil {
		return unwritable(parent, err)
	}
	for _, e := range entries {
		if !earlier.MatchString(e.Name()) {
			continue
		}
		left := filepath.Join(parent, e.Name())
		if strings.HasSuffix(e.Name(), "-old") && missing(s.out) && os.Rename(left, s.out) == nil {
			continue // it was killed between the two steps of its swap
		}
		if err := os.RemoveAll(left); err != nil {
			return unwritable(left, err)
		}
	}
	return nil
}

// unwritable keeps the system's reason and says what to do about it.
func unwritable(path string, err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return fmt.Errorf("%s: cannot be written: %w; the previous edition is untouched; free the place and run it again", path, err)
}

func (s *stage) fill(ctx context.Context, p *Press, b *Build) error {
	s.list.Subjects = subjects(b.Book)
	err := p.Render(ctx, b.Pages, func(page website.Page, bytes []byte) error { return s.write(page.Path, bytes) })
	if err != nil {
		return err
	}
	files := b.Files()
	for _, path := range slices.Sorted(maps.Keys(files)) {
		if err := s.write(path, files[path]); err != nil {
			return err
		}
	}
	return ctx.Err()
}

func (s *stage) write(path string, content []byte) error {
	name := filepath.Join(s.folder, filepath.FromSlash(path))
	folder := filepath.Dir(name)
	if _, ok := s.made.Load(folder); !ok {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return unwritable(s.out, err)
		}
		s.made.Store(folder, true)
	}
	// Two pages of one name would overwrite each other without a word.
	err := writeNew(name, content)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: two pages have this name; rename one of the chapters", path)
	}
	if err != nil {
		return unwritable(s.out, err)
	}
	s.list.Add(path, content)
	s.files.Add(1)
	s.bytes.Add(int64(len(content)))
	return nil
}

func writeNew(name string, content []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return errors.Join(err, f.Close())
}

// writeBeside writes an edition in one file, which is to stand beside the web
// edition under this name.
func (s *stage) writeBeside(name string, content []byte) error {
	place := filepath.Join(filepath.Dir(s.out), name)
	if info, err := os.Lstat(place); err == nil && info.IsDir() {
		return fmt.Errorf("%s: is a folder; expected the previous edition or nothing; move it away", place)
	}
	m := move{filepath.Join(s.workshop.Path, name), place}
	if err := writeNew(m.from, content); err != nil {
		return unwritable(place, err)
	}
	s.beside = append(s.beside, m)
	return nil
}

// swap puts the new editions in place. If one of them cannot take its place, the
// previous ones return to theirs.
func (s *stage) swap() error {
	var done []func() error
	for _, m := range append([]move{{s.folder, s.out}}, s.beside...) {
		undo, err := m.take()
		if err == nil {
			done = append(done, undo)
			continue
		}
		for _, undo := range slices.Backward(done) {
			err = errors.Join(err, undo())
		}
		return unwritable(m.to, err)
	}
	return nil
}

// discard removes what did not take its place, or was in it before.
func (s *stage) discard() error {
	if err := s.workshop.Close(); err != nil {
		return fmt.Errorf("%w; the editions in place are whole; remove it by hand", err)
	}
	return nil
}
