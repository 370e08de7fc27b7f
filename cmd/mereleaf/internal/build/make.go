package build

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
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
	r, err := p.make(ctx, staged)
	if left := staged.discard(); err == nil {
		err = left
	}
	return r, err
}

// make makes the editions on a stage and puts them in place.
func (p *Press) make(ctx context.Context, staged *stage) (Report, error) {
	p.Workshop = staged.workshop.Path
	before := p.inputs()
	b, err := p.Assemble(ctx)
	if err != nil {
		return Report{}, err
	}
	if err := staged.fill(ctx, p, b); err != nil {
		return Report{}, err
	}
	var beside []File
	if !p.PagesOnly {
		if beside, err = staged.editions(p, b); err != nil {
			return Report{}, err
		}
	}
	if err := staged.offline(b); err != nil {
		return Report{}, err
	}
	start := time.Now()
	if err := p.inputs().changed(before); err != nil {
		return Report{}, err
	}
	if err := ctx.Err(); err != nil {
		return Report{}, err
	}
	if err := staged.swap(); err != nil {
		return Report{}, err
	}
	p.log.done(PhaseSwap, start)
	r := Report{Beside: beside, Out: staged.out, Phases: p.log.phases(), Pages: len(b.Pages), Files: int(staged.files.Load()), Bytes: staged.bytes.Load(), Assets: b.Assets.Sizes()}
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
