package build

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/website"
)

// Render sets pages on all processors and hands each to keep, which may be
// called from several goroutines at once. All pages are tried, so that one run
// reports the faults of all; a failing keep ends the work.
func (p *Press) Render(ctx context.Context, pages []website.Page, keep func(website.Page, []byte) error) error {
	start := time.Now()
	r := &renderer{pages: pages, keep: keep, step: func(done int) { p.log.step(PhasePages, done, len(pages)) }}
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(pages)) {
		workers.Go(func() { r.work(ctx) })
	}
	workers.Wait()
	p.log.done(PhasePages, start)
	if err := ctx.Err(); err != nil {
		return err
	}
	if r.failed != nil {
		return r.failed
	}
	return r.faults.Sorted().Err()
}

type renderer struct {
	pages []website.Page
	keep  func(website.Page, []byte) error
	step  func(done int)
	next  atomic.Int64
	kept  atomic.Int64

	mu     sync.Mutex
	faults diag.List
	failed error
}

func (r *renderer) work(ctx context.Context) {
	for ctx.Err() == nil && !r.stopped() {
		i := int(r.next.Add(1)) - 1
		if i >= len(r.pages) {
			return
		}
		bytes, err := r.pages[i].Bytes()
		if err != nil {
			r.fault(r.pages[i], err)
			continue
		}
		if err := r.keep(r.pages[i], bytes); err != nil {
			r.fail(err)
			return
		}
		r.step(int(r.kept.Add(1)))
	}
}

func (r *renderer) stopped() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.failed != nil
}

func (r *renderer) fail(err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.failed == nil {
		r.failed = err
	}
}

func (r *renderer) fault(p website.Page, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	switch e := err.(type) {
	case diag.List:
		r.faults = append(r.faults, e...)
	case diag.Diagnostic:
		r.faults.Add(e)
	default:
		r.faults.Add(diag.Diagnostic{Position: diag.Position{File: p.Path}, Problem: "the page cannot be set: " + err.Error()})
	}
}
