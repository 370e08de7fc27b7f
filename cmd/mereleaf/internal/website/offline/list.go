// Package offline writes what lets a browser keep the whole web edition, so that
// it can be read where there is no signal: a list of all files with their
// hashes, the service worker that works by it, and the web app manifest.
//
// The worker itself is theme/offline/worker.ts. It installs an edition whole or
// not at all, so the list must name every byte that is served.
//
// It touches nothing outside the program.
package offline

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"sync"
)

// Where the edition keeps them: at its root, so that the scope of both is the
// edition and nothing else on the host.
const (
	WorkerPath   = "offline.js"
	ManifestPath = "handbook.webmanifest"
)

// Kind says as what a change of a file is told to the reader.
type Kind string

// The kinds of files whose changes are told. Others have none.
const (
	Chapter    Kind = "chapter"
	FigureSet  Kind = "figures"
	Calculator Kind = "calculator"
)

// Subject is what a page is about.
type Subject struct {
	Kind  Kind
	Title string
	// Digest changes with what the page says; "" for that of its main element,
	// which stays the same when only the frame around it changes.
	Digest string
}

// File is one file of the edition.
type File struct {
	Path string `json:"path"`
	Hash string `json:"hash"` // SHA-256, the first 16 bytes in hexadecimal digits
	Size int    `json:"size"` // bytes

	Kind  Kind   `json:"kind,omitempty"`
	Title string `json:"title,omitempty"`
	Text  string `json:"text,omitempty"` // digest of what it says, without its frame
}

// List is all files of an edition, in the order of their paths.
type List struct {
	Hash  string `json:"hash"` // of all that follows
	Files []File `json:"files"`
}

// Collector makes the list of files while they are written. Its methods may be
// called from several goroutines at once.
type Collector struct {
	Subjects map[string]Subject // by path; not changed after the first Add

	mu    sync.Mutex
	files []File
}

// Add notes a file with its content.
func (c *Collector) Add(path string, content []byte) {
	f := File{Path: path, Hash: Digest(content), Size: len(content)}
	if s, ok := c.Subjects[path]; ok {
		f.Kind, f.Title, f.Text = s.Kind, s.Title, s.Digest
		if f.Text == "" {
			f.Text = Digest(text(content))
		}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.files = append(c.files, f)
}

// List returns the files noted so far.
func (c *Collector) List() (List, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	l := List{Files: slices.SortedFunc(slices.Values(c.files), func(a, b File) int { return cmp.Compare(a.Path, b.Path) })}
	all, err := json.Marshal(l.Files)
	l.Hash = Digest(all)
	return l, err
}

// Digest is the hash of a file as the list names it.
func Digest(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:16])
}

// text is the main element of a page.
func text(page []byte) []byte {
	_, after, _ := bytes.Cut(page, []byte("<main"))
	if i := bytes.LastIndex(after, []byte("</main>")); i >= 0 {
		return after[:i]
	}
	return page
}

// Worker returns the service worker of an edition: the list, then the compiled
// script that reads it.
func Worker(l List, script []byte) ([]byte, error) {
	list, err := json.Marshal(l)
	if err != nil {
		return nil, err
	}
	return slices.Concat([]byte("const edition="), list, []byte(";\n"), script), nil
}
