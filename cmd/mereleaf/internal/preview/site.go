package preview

import (
	"bytes"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"html"
	"io"
	"mime"
	"net/http"
	"net/url"
	"path"
	"strings"
	"sync"

	"mereleaf/cmd/mereleaf/internal/build"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// reserved is where the preview keeps what is its own; no chapter can have a
// path with this character.
const reserved = "/~preview/"

//go:embed live.js live.css
var live embed.FS

// snapshot is all that is served at one time. It does not change.
type snapshot struct {
	pages  build.Leaves
	files  map[string][]byte // what pages load
	faults []string          // of the last edit; while there are any, pages are older than the files

	// paper makes the page of the whole handbook, with its style, out of pages.
	// It takes a second and changes with every edit, so it is made when asked for.
	paper func(leaf func(path string) []byte) (map[string][]byte, error)
}

// site serves the latest snapshot and tells open pages about the next one.
type site struct {
	mu      sync.Mutex
	current snapshot
	changed chan struct{} // closed when current is replaced
}

// digest changes with the content.
func digest(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:8])
}

func newSite() *site { return &site{changed: make(chan struct{})} }

// publish replaces what is served.
func (s *site) publish(next snapshot) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.current = next
	close(s.changed)
	s.changed = make(chan struct{})
}

// blame keeps the pages that are served and shows faults over them.
func (s *site) blame(faults []string) {
	now, _ := s.look()
	now.faults = faults
	s.publish(now)
}

func (s *site) look() (snapshot, <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.current, s.changed
}

// handler serves until ctx ends; then open event streams end too.
func (s *site) handler(ctx context.Context) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+reserved+"events", func(w http.ResponseWriter, r *http.Request) { s.events(ctx, w, r) })
	for _, name := range []string{"live.js", "live.css"} {
		mux.HandleFunc("GET "+reserved+name, func(w http.ResponseWriter, r *http.Request) { http.ServeFileFS(w, r, live, name) })
	}
	mux.HandleFunc("GET /", s.page)
	return mux
}

func (s *site) page(w http.ResponseWriter, r *http.Request) {
	now, _ := s.look()
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if name == "" || strings.HasSuffix(r.URL.Path, "/") {
		name = path.Join(name, "index.html")
	}
	w.Header().Set("Cache-Control", "no-store")
	if file, ok := now.files[name]; ok {
		send(w, name, http.StatusOK, file)
		return
	}
	if l, ok := now.pages[name]; ok {
		send(w, name, http.StatusOK, withLive(l.Bytes, name, digest(l.Bytes)))
		return
	}
	if (name == paths.Print || name == paths.PrintStyle) && now.paper != nil {
		now.print(w, name)
		return
	}
	if len(now.pages) == 0 {
		send(w, name+".html", http.StatusServiceUnavailable, withLive(notice("The handbook has faults; mend them and this page will reload.", now.faults), name, ""))
		return
	}
	send(w, name+".html", http.StatusNotFound, withLive(notice("There is no page "+name+" in the handbook.", nil), name, ""))
}

// print sends the page of the whole handbook, or its style.
func (s snapshot) print(w http.ResponseWriter, name string) {
	made, err := s.paper(func(path string) []byte { return s.pages[path].Bytes })
	if err != nil {
		send(w, name+".html", http.StatusInternalServerError, notice(err.Error(), nil))
		return
	}
	send(w, name, http.StatusOK, made[name])
}

func send(w http.ResponseWriter, name string, status int, content []byte) {
	kind := mime.TypeByExtension(path.Ext(name))
	if path.Ext(name) == ".wasm" {
		kind = "application/wasm" // not in every system's table, and browsers insist
	}
	if kind == "" {
		kind = http.DetectContentType(content)
	}
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	// A reader who leaves is no fault of ours.
	_, _ = w.Write(content)
}

// withLive adds the script that reloads the page and shows faults. It stands in
// a file of this server, as the page's Content-Security-Policy demands.
func withLive(page []byte, name, digest string) []byte {
	if path.Ext(name) != ".html" && digest != "" {
		return page
	}
	query := url.Values{"page": {name}, "digest": {digest}}
	script := []byte(`<script src="` + reserved + "live.js?" + html.EscapeString(query.Encode()) + `" defer></script>`)
	if i := bytes.Index(page, []byte("</head>")); i >= 0 {
		return bytes.Join([][]byte{page[:i], page[i:]}, script)
	}
	return append(bytes.Clone(page), script...)
}

func notice(text string, faults []string) []byte {
	var b bytes.Buffer
	b.WriteString(`<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Preview</title><meta name="viewport" content="width=device-width"><link rel="stylesheet" href="` + reserved + `live.css"></head><body class="preview-notice"><p>` + html.EscapeString(text) + "</p><ul>")
	for _, f := range faults {
		b.WriteString("<li>" + html.EscapeString(f) + "</li>")
	}
	b.WriteString("</ul></body></html>")
	return b.Bytes()
}

// events tells a page, at once and after each build, the digest of its newest
// bytes and the faults of the last edit.
func (s *site) events(ctx context.Context, w http.ResponseWriter, r *http.Request) {
	flush := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	name := r.URL.Query().Get("page")
	// The program replaces itself when a calculator changes: come back soon.
	if _, err := io.WriteString(w, "retry: 300\n\n"); err != nil {
		return
	}
	for {
		now, changed := s.look()
		if err := report(w, now, name); err != nil || flush.Flush() != nil {
			return
		}
		select {
		case <-changed:
		case <-r.Context().Done():
			return
		case <-ctx.Done():
			return
		}
	}
}

func report(w io.Writer, now snapshot, name string) error {
	var b strings.Builder
	b.WriteString("event: faults\n")
	for _, f := range now.faults {
		b.WriteString("data: " + strings.ReplaceAll(f, "\n", " ") + "\n")
	}
	if len(now.faults) == 0 {
		b.WriteString("data:\n")
	}
	newest := ""
	if l, ok := now.pages[name]; ok {
		newest = digest(l.Bytes)
	}
	b.WriteString("\nevent: page\ndata: " + newest + "\n\n")
	_, err := io.WriteString(w, b.String())
	return err
}
