// Package build prints the handbook: it reads the project, checks it, bundles
// what pages load, sets the pages, and puts the finished edition in place of the
// previous one.
//
// It touches files and the clock.
package build

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"time"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/search"
	"mereleaf/cmd/mereleaf/internal/verify"
	"mereleaf/cmd/mereleaf/internal/website"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// The phases of a build, as shown to whoever waits for it.
const (
	PhaseRead   = "read the chapters"
	PhaseVerify = "check the numbers"
	PhaseTheme  = "bundle the theme"
	PhaseWasm   = "compile calculators"
	PhasePages  = "set the pages"
	PhasePaper  = "lay it out for paper"
	PhaseSingle = "pack one file"
	PhaseBook   = "bind the e-book"
	PhaseSwap   = "put in place"
)

// Progress is told how a build goes. Its methods may be called from several
// goroutines, never two at a time.
type Progress interface {
	Step(phase string, done, total int) // total 0: not known
	Done(phase string, took time.Duration)
}

// Phase is a finished phase of a build.
type Phase struct {
	Name string
	Took time.Duration
}

// Press works on one project.
type Press struct {
	root string
	tree *os.Root
	set  calculators.Set
	log  *log
	find search.Maker

	// PagesOnly leaves out the calculators' module, so that a benchmark does not
	// time the compiler.
	PagesOnly bool

	// Workshop is a folder for what compiling writes on its way; "" for the
	// system's, where what a killed program leaves is nobody's to remove.
	Workshop string

	// Offline has the pages ask browsers to keep the edition. A preview must not:
	// it would show what was kept.
	Offline bool
}

// Open returns a Press for the project in the folder root. progress may be nil.
// The caller closes the Press after the last use of what it made.
func Open(root string, set calculators.Set, progress Progress) (*Press, error) {
	// A Root, unlike os.DirFS, does not follow links that lead out of the
	// project: what is printed must be in the repository.
	tree, err := os.OpenRoot(root)
	if err != nil {
		return nil, fmt.Errorf("the handbook's folder cannot be opened: %w", err)
	}
	return &Press{root: root, tree: tree, set: set, log: &log{progress: progress}}, nil
}

// Close lets go of the project's folder.
func (p *Press) Close() error { return p.tree.Close() }

func (p *Press) files() fs.FS { return p.tree.FS() }

// Build is the handbook ready to be set. It does not change.
type Build struct {
	Book   *book.Book
	Assets bundle.Assets
	Pages  []website.Page
	Phases []Phase
}

// Files returns what pages load, by its path in the edition: the bundled assets
// and the chapters' pictures, but for drawings, which stand in the pages.
func (b *Build) Files() map[string][]byte {
	files := maps.Clone(b.Assets.Files)
	for _, p := range b.Book.Pictures {
		if p.Drawing == nil {
			files[p.Place] = p.Data
		}
	}
	return files
}

// Assemble reads and checks everything and bundles what pages load. The error
// is a diag.List where it has positions.
func (p *Press) Assemble(ctx context.Context) (*Build, error) {
	p.log.start()
	ctx, stop := context.WithCancel(ctx)
	defer stop() // faults in a chapter end a compilation still under way
	assets := p.bundle(ctx)
	b, err := p.read()
	if err != nil {
		stop()
		<-assets
		return nil, err
	}
	bundled := <-assets
	if bundled.err != nil {
		return nil, bundled.err
	}
	return p.compose(b, bundled.assets), nil
}

// Reread returns the build after changes to files below content/ or the
// reference figures, given by their slash-separated paths in the project. It
// reads and checks again only what may have changed.
func (p *Press) Reread(before *Build, changed []string) (*Build, error) {
	p.log.start()
	start := time.Now()
	b, faults := before.Book.Reread(p.files(), changed)
	p.log.done(PhaseRead, start)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	if err := p.check(b); err != nil {
		return nil, err
	}
	return p.compose(b, before.Assets), nil
}

// Rebundle returns the build after changes to the theme.
func (p *Press) Rebundle(before *Build) (*Build, error) {
	p.log.start()
	assets, err := p.theme()
	if err != nil {
		return nil, err
	}
	if module, ok := before.Assets.Files[before.Assets.Wasm]; ok {
		assets = assets.WithWasm(module)
	}
	return p.compose(before.Book, assets), nil
}

func (p *Press) compose(b *book.Book, a bundle.Assets) *Build {
	a = a.WithFind(p.find.Make(b))
	if p.Offline {
		a.Manifest, a.Offline = offline.ManifestPath, offline.WorkerPath
	}
	pages := website.Web(b, a, calchtml.New(b.Calculators, p.files()), verify.Agreement(b))
	return &Build{Book: b, Assets: a, Pages: pages, Phases: p.log.phases()}
}

func (p *Press) read() (*book.Book, error) {
	start := time.Now()
	p.log.step(PhaseRead, 0, 0)
	b, faults := book.Read(p.files(), p.set)
	p.log.done(PhaseRead, start)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return b, p.check(b)
}

func (p *Press) check(b *book.Book) error {
	start := time.Now()
	p.log.step(PhaseVerify, 0, 0)
	faults := verify.Faults(b)
	p.log.done(PhaseVerify, start)
	return faults.Err()
}

// bundled is what comes of bundling.
type bundled struct {
	assets bundle.Assets
	err    error
}

// bundle starts both bundlers, beside the reading of the chapters, because the
// compiler takes longest.
func (p *Press) bundle(ctx context.Context) <-chan bundled {
	out := make(chan bundled, 1)
	go func() {
		module := make(chan []byte, 1)
		failed := make(chan error, 1)
		go func() {
			m, err := p.module(ctx)
			module <- m
			failed <- err
		}()
		assets, err := p.theme()
		m, wasm := <-module, <-failed
		switch {
		case err != nil || wasm != nil:
			out <- bundled{err: both(err, wasm)}
		case p.PagesOnly:
			out <- bundled{assets: assets}
		default:
			out <- bundled{assets: assets.WithWasm(m)}
		}
	}()
	return out
}

// both joins the faults of the theme and the calculators, so that one run
// reports all of them.
func both(theme, wasm error) error {
	a, listed := theme.(diag.List)
	b, also := wasm.(diag.List)
	switch {
	case listed && also:
		return append(a, b...).Sorted()
	case theme != nil:
		return theme
	}
	return wasm
}

func (p *Press) theme() (bundle.Assets, error) {
	start := time.Now()
	assets, faults := bundle.Theme(p.root)
	p.log.done(PhaseTheme, start)
	return assets, faults.Err()
}

func (p *Press) module(ctx context.Context) ([]byte, error) {
	if p.PagesOnly {
		return nil, nil
	}
	start := time.Now()
	p.log.step(PhaseWasm, 0, 0)
	module, err := bundle.Wasm(ctx, p.root, p.Workshop)
	if ctx.Err() == nil {
		p.log.done(PhaseWasm, start)
	}
	return module, err
}
