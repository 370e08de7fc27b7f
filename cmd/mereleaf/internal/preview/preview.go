// Package preview serves the handbook on this computer while it is being
// written: it watches the project, prints again what an edit changed, reloads
// open pages, and shows what is wrong with an edit in the terminal and in the
// page, which meanwhile stays as it was.
//
// It touches files, other programs, the network and the clock.
package preview

import (
	"context"
	"fmt"
	"net"
	"time"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/build"
)

// Port is where the preview is found unless another is asked for.
const Port = 8017

// The folders an edit of which changes the handbook.
const (
	contentFolder     = "content"
	figuresFolder     = "testdata/reference"
	themeFolder       = "theme"
	calculatorsFolder = "calculators"
)

// Terminal is where the preview reports.
type Terminal interface {
	build.Progress
	// Serving says that pages are to be had at an address.
	Serving(address string)
	// Changed says how many pages an edit changed and how long that took.
	Changed(pages int, took time.Duration)
	// Faults says what is wrong with the last edit.
	Faults(err error)
}

// Options say what to preview.
type Options struct {
	Root        string // the project's folder
	Port        int    // 0: any free port
	Calculators calculators.Set
	Terminal    Terminal
	// Workshop is a folder for rebuilt programs and what compiling writes; the
	// caller removes it.
	Workshop string
	// Succeed replaces this program by the one in the file program, rebuilt
	// after an edit to a calculator, which is to serve on the given port. It
	// returns only if that fails, or if the other program has ended. The other
	// takes a workshop of its own.
	Succeed func(program string, port int) error
}

// Run serves until ctx ends, which is no error.
func Run(ctx context.Context, o Options) error {
	listener, err := listen(ctx, o.Port)
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	s := &session{options: o, site: newSite()}
	server := serve(s.site, listener)
	defer server.close()
	w, err := watch(ctx, o.Root, contentFolder, figuresFolder, themeFolder, calculatorsFolder)
	if err != nil {
		return fmt.Errorf("the handbook's folders cannot be watched: %w", err)
	}
	defer func() { // the watcher has ended when its channel is closed
		stop()
		for range w.Changes {
		}
	}()
	if s.press, err = build.Open(o.Root, o.Calculators, o.Terminal); err != nil {
		return err
	}
	defer s.press.Close()
	s.press.Workshop = o.Workshop
	if err := s.first(ctx); err != nil {
		return err
	}
	o.Terminal.Serving("http://" + listener.Addr().String() + "/")
	program, err := s.follow(ctx, w)
	if err != nil || program == "" {
		return err
	}
	server.close() // the successor needs the port
	return o.Succeed(program, listener.Addr().(*net.TCPAddr).Port)
}
