package browser

import (
	"encoding/json"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// host is a static hosting with handbooks at some paths. It can lose its
// connection and get it back.
type host struct {
	*httptest.Server

	mu    sync.Mutex
	sites map[string]string // folder by path, "/ponds/our-club/"
	left  int               // answers until the connection is lost; negative: it is not
	log   []string          // the paths asked for
}

func newHost(t *testing.T, sites map[string]string) *host {
	t.Helper()
	if world.missing != "" {
		skipOrFail(t, world.missing)
	}
	h := &host{sites: sites, left: -1}
	h.Server = httptest.NewServer(h)
	t.Cleanup(h.Close)
	return h
}

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	site, folder := h.take(r.URL.Path)
	if folder == "" {
		panic(http.ErrAbortHandler) // closes the connection without an answer
	}
	http.StripPrefix(site, http.FileServer(http.Dir(folder))).ServeHTTP(w, r)
}

// take logs a path and returns the site that it is in; none without connection.
func (h *host) take(path string) (site, folder string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.log = append(h.log, path)
	if h.left == 0 {
		return "", ""
	}
	h.left--
	for s, f := range h.sites {
		if strings.HasPrefix(path, s) && len(s) > len(site) {
			site, folder = s, f
		}
	}
	return site, folder
}

// publish puts another edition at a path.
func (h *host) publish(site, folder string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.sites[site] = folder
}

// lose loses the connection after some more answers, restore brings it back.
func (h *host) lose(after int) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.left = after
}

func (h *host) restore() { h.lose(-1) }

// asked returns what was asked for since the last call.
func (h *host) asked() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	log := h.log
	h.log = nil
	return log
}

// listOf reads the list out of an edition's worker.
func listOf(t *testing.T, folder string) (list offline.List, script string) {
	t.Helper()
	worker := readFile(t, folder, offline.WorkerPath)
	text, script, _ := strings.Cut(strings.TrimPrefix(worker, "const edition="), ";\n")
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		t.Fatal(err)
	}
	return list, script
}

func readFile(t *testing.T, folder, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(path)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What is different in the next edition.
const (
	nextChapter = "water/ammonia.html"
	nextSet     = "figures/water-ammonia-limits.html"
	nextMark    = `<main data-edition="next"`
)

// nextEdition makes an edition out of the one under test, as if a chapter, a set
// of figures and the calculators had changed: the module has another name, and
// with it all pages that load it. Each page is marked.
func nextEdition(t *testing.T) string {
	t.Helper()
	before, script := listOf(t, world.folder)
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(world.folder)); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(before.Files, func(f offline.File) bool { return strings.HasSuffix(f.Path, ".wasm") })
	module := before.Files[i].Path
	next := "assets/reckon-00000000.wasm"
	change(t, filepath.Join(folder, module), func(old string) string { return old + "\x00\x05\x04next" }) // a custom section of WebAssembly
	if err := os.Rename(filepath.Join(folder, module), filepath.Join(folder, next)); err != nil {
		t.Fatal(err)
	}
	list := offline.Collector{Subjects: map[string]offline.Subject{}}
	for _, f := range before.Files {
		if f.Kind == "" {
			continue
		}
		s := offline.Subject{Kind: f.Kind, Title: f.Title, Digest: f.Text}
		if f.Path == nextChapter || f.Path == nextSet {
			s.Digest = "changed"
		}
		list.Subjects[f.Path] = s
	}
	err := fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == offline.WorkerPath {
			return err
		}
		if strings.HasSuffix(path, ".html") {
			change(t, filepath.Join(folder, path), func(old string) string {
				return strings.ReplaceAll(strings.Replace(old, "<main", nextMark, 1), filepath.Base(module), filepath.Base(next))
			})
		}
		list.Add(path, []byte(readFile(t, folder, path)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	l, err := list.List()
	if err != nil {
		t.Fatal(err)
	}
	worker, err := offline.Worker(l, []byte(script))
	if err != nil {
		t.Fatal(err)
	}
	change(t, filepath.Join(folder, offline.WorkerPath), func(string) string { return string(worker) })
	return folder
}

func change(t *testing.T, file string, to func(old string) string) {
	t.Helper()
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(to(string(old))), 0o644); err != nil {
		t.Fatal(err)
	}
}
