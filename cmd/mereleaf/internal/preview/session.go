package preview

import (
	"context"
	"errors"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"mereleaf/cmd/mereleaf/internal/build"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// session follows the edits of a project.
type session struct {
	options Options
	site    *site
	press   *build.Press

	good  *build.Build // the last without faults; nil before the first
	pages build.Leaves // its pages

	// What has changed since the last good build. Edits that came to nothing
	// stay here until they are mended.
	files   map[string]bool // of content/ and the figures
	theme   bool
	program bool
}

// first prints everything. Faults of the handbook are shown and wait to be
// mended, but without the Go tool there never is anything to show.
func (s *session) first(ctx context.Context) error {
	err := s.print(ctx)
	if err == nil {
		return nil
	}
	if _, missing := exec.LookPath("go"); missing != nil || ctx.Err() != nil {
		return err
	}
	s.blame(err)
	return nil
}

// follow works off edits until ctx ends or a rebuilt program is ready to take
// over.
func (s *session) follow(ctx context.Context, w *watcher) (program string, err error) {
	for {
		select {
		case err := <-w.Trouble:
			s.options.Terminal.Faults(err)
		case changed, open := <-w.Changes:
			if !open {
				return "", nil
			}
			program, err := s.edit(ctx, changed)
			switch {
			case ctx.Err() != nil:
				return "", nil
			case err != nil:
				s.blame(err)
			case program != "":
				return program, nil
			}
		}
	}
}

func (s *session) blame(err error) {
	s.options.Terminal.Faults(err)
	s.site.blame(strings.Split(err.Error(), "\n"))
}

// edit prints what changed, or rebuilds the program and returns its file.
func (s *session) edit(ctx context.Context, changed []string) (program string, err error) {
	s.note(changed)
	if s.program {
		// The successor reads everything anew, so nothing else needs doing.
		return s.rebuild(ctx)
	}
	return "", s.print(ctx)
}

func (s *session) note(changed []string) {
	if s.files == nil {
		s.files = map[string]bool{}
	}
	for _, path := range changed {
		switch folder, _, _ := strings.Cut(path, "/"); {
		case folder == calculatorsFolder:
			s.program = s.program || strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go")
		case folder == themeFolder:
			s.theme = true
		default:
			s.files[path] = true
		}
	}
}

// print brings the pages up to date.
func (s *session) print(ctx context.Context) error {
	start := time.Now()
	next, err := s.build(ctx)
	if err != nil || next == s.good {
		return err
	}
	pages, changed, err := s.press.Set(ctx, next, s.pages)
	if err != nil {
		return err
	}
	first := s.good == nil
	s.good, s.pages, s.files, s.theme = next, pages, nil, false
	s.site.publish(snapshot{pages: pages, files: next.Files(), paper: next.Whole})
	if !first {
		s.options.Terminal.Changed(changed, time.Since(start))
	}
	return nil
}

func (s *session) build(ctx context.Context) (*build.Build, error) {
	if s.good == nil {
		return s.press.Assemble(ctx)
	}
	next := s.good
	var err error
	if len(s.files) > 0 {
		if next, err = s.press.Reread(next, sorted(s.files)); err != nil {
			return nil, err
		}
	}
	if s.theme {
		return s.press.Rebundle(next)
	}
	return next, nil
}

// rebuild compiles the program and lets it check the project, so that it takes
// over only if it has something to show.
func (s *session) rebuild(ctx context.Context) (string, error) {
	program := filepath.Join(s.options.Workshop, "mereleaf")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	if err := bundle.Program(ctx, s.options.Root, program); err != nil {
		return "", err
	}
	var said strings.Builder
	check := exec.CommandContext(ctx, program, "--project", s.options.Root, "verify")
	check.Stderr = &said
	if err := check.Run(); err != nil {
		if text := strings.TrimSpace(said.String()); text != "" {
			return "", errors.New(text)
		}
		return "", err
	}
	return program, nil
}
