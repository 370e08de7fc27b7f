package build

import (
	"sync"
	"time"
)

// log collects the phases and passes them on, one call at a time.
type log struct {
	mu       sync.Mutex
	progress Progress // nil: nobody waits
	finished []Phase
}

func (l *log) start() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.finished = nil
}

func (l *log) step(phase string, done, total int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.progress != nil {
		l.progress.Step(phase, done, total)
	}
}

func (l *log) done(phase string, since time.Time) {
	took := time.Since(since)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.finished = append(l.finished, Phase{phase, took})
	if l.progress != nil {
		l.progress.Done(phase, took)
	}
}

func (l *log) phases() []Phase {
	l.mu.Lock()
	defer l.mu.Unlock()
	return append([]Phase(nil), l.finished...)
}
