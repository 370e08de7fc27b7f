package browsertest

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
)

// Host is a static hosting with handbooks at some paths. It can lose its
// connection and get it back.
type Host struct {
	*httptest.Server

	mu    sync.Mutex
	sites map[string]string // folder by path, "/ponds/our-club/"
	left  int               // answers until the connection is lost; negative: it is not
	log   []string          // the paths asked for
}

// NewHost starts a hosting for one test, with the folder of the handbook at each path.
func NewHost(t testing.TB, sites map[string]string) *Host {
	t.Helper()
	h := &Host{sites: sites, left: -1}
	h.Server = httptest.NewServer(h)
	t.Cleanup(h.Close)
	return h
}

// ServeHTTP answers from the handbook in whose path the address is.
func (h *Host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	site, folder := h.take(r.URL.Path)
	if folder == "" {
		panic(http.ErrAbortHandler) // closes the connection without an answer
	}
	http.StripPrefix(site, http.FileServer(http.Dir(folder))).ServeHTTP(w, r)
}

// take logs a path and returns the site that it is in; none without connection.
func (h *Host) take(path string) (site, folder string) {
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

// Publish puts another edition at a path.
func (h *Host) Publish(site, folder string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.sites[site] = folder
}

// Lose loses the connection after some more answers.
func (h *Host) Lose(after int) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.left = after
}

// Restore brings the connection back.
func (h *Host) Restore() { h.Lose(-1) }

// Asked returns what was asked for since the last call.
func (h *Host) Asked() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	log := h.log
	h.log = nil
	return log
}

// OpenAt opens a tab in a profile of its own on a handbook of a host, and keeps it for
// the pond.
func (b *Browser) OpenAt(t testing.TB, h *Host, site string) *Tab {
	t.Helper()
	tb := b.OpenKeeping(t)
	tb.Address = h.URL + site
	tb.Phone()
	return tb
}
