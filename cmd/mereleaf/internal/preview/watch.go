package preview

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long a burst of events must be over before it is passed on. An
// editor saves by several steps (write beside, rename, set the mode), and a
// change of branch touches hundreds of files.
const settle = 100 * time.Millisecond

// watcher tells which files of a project changed. It watches folders, not
// files, because editors save by renaming another file over the old one.
type watcher struct {
	root    string
	notify  *fsnotify.Watcher
	Changes chan []string // sorted slash-separated paths below root; closed at the end
	Trouble chan error    // what the system could not watch; the watcher goes on
}

// watch starts watching folders (slash-separated, below root) with all that is
// in them, until ctx ends. A folder that does not exist is left out.
func watch(ctx context.Context, root string, folders ...string) (*watcher, error) {
	notify, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	w := &watcher{root: root, notify: notify, Changes: make(chan []string), Trouble: make(chan error, 1)}
	for _, folder := range folders {
		if _, err := w.add(filepath.Join(root, filepath.FromSlash(folder))); err != nil {
			return nil, errors.Join(err, notify.Close())
		}
	}
	go w.run(ctx)
	return w, nil
}

// add watches a folder and those in it, and returns the files they hold, which
// may be older than the watch.
func (w *watcher) add(folder string) ([]string, error) {
	var files []string
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist): // removed while walking
			return nil
		case err != nil:
			return err
		case !d.IsDir():
			files = append(files, path)
			return nil
		case ignored(d.Name()):
			return fs.SkipDir
		}
		return w.notify.Add(path)
	})
	return files, err
}

func (w *watcher) run(ctx context.Context) {
	defer close(w.Changes)
	defer w.notify.Close()
	changed := map[string]bool{}
	quiet := time.NewTimer(settle)
	quiet.Stop()
	defer quiet.Stop()
	var out chan []string // nil, and so never ready, until a burst is over
	var batch []string
	for {
		select {
		case <-ctx.Done():
			return
		case event, open := <-w.notify.Events:
			if !open {
				return
			}
			if w.note(event, changed) {
				out = nil
				quiet.Reset(settle)
			}
		case err, open := <-w.notify.Errors:
			if !open {
				return
			}
			w.complain(err)
		case <-quiet.C:
			out, batch = w.Changes, sorted(changed)
		case out <- batch:
			out = nil
			clear(changed)
		}
	}
}

// note records an event and reports whether it matters.
func (w *watcher) note(event fsnotify.Event, changed map[string]bool) bool {
	if event.Op == fsnotify.Chmod || ignored(filepath.Base(event.Name)) {
		return false
	}
	if event.Has(fsnotify.Create) {
		if info, err := os.Lstat(event.Name); err == nil && info.IsDir() {
			files, err := w.add(event.Name)
			if err != nil {
				w.complain(err)
			}
			for _, f := range files {
				w.record(f, changed)
			}
			return len(files) > 0
		}
	}
	w.record(event.Name, changed)
	return true
}

func (w *watcher) record(path string, changed map[string]bool) {
	if rel, err := filepath.Rel(w.root, path); err == nil && !ignored(filepath.Base(path)) {
		changed[filepath.ToSlash(rel)] = true
	}
}

// complain passes trouble on, unless the last one has not been fetched yet.
func (w *watcher) complain(err error) {
	select {
	case w.Trouble <- err:
	default:
	}
}

// ignored names what editors and version control leave behind.
func ignored(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "#") || strings.HasSuffix(name, "~") ||
		strings.HasSuffix(name, ".tmp") || name == "4913" // by which one editor tries whether it may write
}

func sorted(set map[string]bool) []string {
	var out []string
	for path := range set {
		out = append(out, path)
	}
	slices.Sort(out)
	return out
}
