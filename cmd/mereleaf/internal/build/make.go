package build

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/website"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// Options say what Make makes.
type Options struct {
	Root        string // the project's folder
	Out         string // the edition's folder; "" for out/web in the project
	Calculators calculators.Set
	Progress    Progress // may be nil
	PagesOnly   bool     // see Press.PagesOnly
}

// Report is what Make made.
type Report struct {
	Out      string // the edition's folder
	Phases   []Phase
	Chapters int
	Pages    int
	Files    int   // pages and what they load
	Bytes    int64 // of all files
	Assets   []bundle.Size
	Beside   []File // the single file and the e-book; none with PagesOnly
}

// Make prints the handbook as a web site. It writes the edition beside the
// previous one and takes its place at the end, so that any failure before
// leaves the previous edition as it was. The error is a diag.List where it has
// positions.
func Make(ctx context.Context, o Options) (Report, error) {
	p, err := Open(o.Root, o.Calculators, o.Progress)
	if err != nil {
		return Report{}, err
	}
	defer p.Close()
	defer frugal()()
	p.PagesOnly, p.Offline = o.PagesOnly, true
	out := o.Out
	if out == "" {
		out = filepath.Join(o.Root, "out", "web")
	}
	// Before minutes of work, see that there is a place for its result.
	staged, err := newStage(out)
	if err != nil {
		return Report{}, err
	}
	defer staged.discard()
	b, err := p.Assemble(ctx)
	if err != nil {
		return Report{}, err
	}
	if err := staged.fill(ctx, p, b); err != nil {
		return Report{}, err
	}
	var single, book []byte
	if !p.PagesOnly {
		if single, book, err = staged.editions(p, b); err != nil {
			return Report{}, err
		}
	}
	if err := staged.offline(b); err != nil {
		return Report{}, err
	}
	start := time.Now()
	if err := staged.swap(); err != nil {
		return Report{}, err
	}
	var beside []File
	for name, content := range map[string][]byte{SingleName: single, BookName: book} {
		if content == nil {
			continue
		}
		f := File{filepath.Join(filepath.Dir(out), name), len(content)}
		if err := put(f.Path, content); err != nil {
			return Report{}, err
		}
		beside = append(beside, f)
	}
	slices.SortFunc(beside, func(a, b File) int { return strings.Compare(b.Path, a.Path) })
	p.log.done(PhaseSwap, start)
	r := Report{Beside: beside, Out: out, Phases: p.log.phases(), Pages: len(b.Pages), Files: int(staged.files.Load()), Bytes: staged.bytes.Load(), Assets: b.Assets.Sizes()}
	for _, part := range b.Book.Parts {
		r.Chapters += len(part.Chapters)
	}
	return r, nil
}

// memory is what making a large handbook should get by with, in bytes, on the
// small computers that clubs have. Beyond it the collector works harder.
const memory = 240 << 20

// garbage is how much of it may be garbage, in per cent of what is in use. A
// build keeps what it has read to the end, and the collector walks all of that
// each time; at Go's own 100 it would do so twice as often. A thousand chapters
// stay below 300 MB with 200.
const garbage = 200

// frugal sets the soft limit, unless GOMEMLIMIT or GOGC has set another, and
// returns what takes it back.
func frugal() func() {
	limit := debug.SetMemoryLimit(-1)
	if limit < math.MaxInt64 || os.Getenv("GOGC") != "" {
		return func() {}
	}
	debug.SetMemoryLimit(memory)
	percent := debug.SetGCPercent(garbage)
	return func() {
		debug.SetMemoryLimit(limit)
		debug.SetGCPercent(percent)
	}
}

// stage is an edition under way, in a folder beside its final place.
type stage struct {
	out, folder string

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
	folder, err := os.MkdirTemp(parent, ".web-")
	if err != nil {
		return nil, unwritable(parent, err)
	}
	// MkdirTemp makes it private, but a web server has to read it.
	if err := os.Chmod(folder, 0o755); err != nil {
		return nil, unwritable(folder, err)
	}
	return &stage{out: out, folder: folder}, nil
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
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: two pages have this name; rename one of the chapters", path)
	}
	if err != nil {
		return unwritable(s.out, err)
	}
	_, err = f.Write(content)
	if err = errors.Join(err, f.Close()); err != nil {
		return unwritable(s.out, err)
	}
	s.list.Add(path, content)
	s.files.Add(1)
	s.bytes.Add(int64(len(content)))
	return nil
}

// swap puts the new edition in place and removes the previous one. If the new
// one cannot take the place, the previous one returns to it.
func (s *stage) swap() error {
	old := s.folder + "-old"
	err := os.Rename(s.out, old)
	previous := err == nil
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unwritable(s.out, err)
	}
	if err := os.Rename(s.folder, s.out); err != nil {
		if previous {
			err = errors.Join(err, os.Rename(old, s.out))
		}
		return unwritable(s.out, err)
	}
	if previous {
		if err := os.RemoveAll(old); err != nil {
			return fmt.Errorf("%s: the new edition is in place, but the old one cannot be removed: %w; remove it by hand", old, err)
		}
	}
	return nil
}

// discard removes an edition that did not take its place; after swap it does
// nothing, because there is nothing under this name.
func (s *stage) discard() { _ = os.RemoveAll(s.folder) }
