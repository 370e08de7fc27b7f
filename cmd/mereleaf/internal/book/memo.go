package book

import (
	"crypto/sha256"
	"io/fs"
	"sync"
)

// memo keeps fragments by their content, because many chapters may hold the
// same one. It only grows; a preview makes a new one when a calculator changes.
type memo struct {
	mu   sync.Mutex
	made map[string]*fragment
}

type fragment struct {
	once   sync.Once
	html   string
	digest [sha256.Size]byte // of html
	err    error
}

func newMemo() *memo { return &memo{made: map[string]*fragment{}} }

// get returns the fragment of a content, made by the first caller.
func (m *memo) get(content string, make func() (string, error)) *fragment {
	m.mu.Lock()
	f, ok := m.made[content]
	if !ok {
		f = &fragment{}
		m.made[content] = f
	}
	m.mu.Unlock()
	f.once.Do(func() {
		f.html, f.err = make()
		f.digest = sha256.Sum256([]byte(f.html))
	})
	return f
}

// kept is what checks of figures and calculators found. It is made anew when
// those change, and not when a chapter does.
type kept struct {
	mu   sync.Mutex
	made map[string]func() any
}

func newKept() *kept { return &kept{made: map[string]func() any{}} }

// Keep returns what make returns, called once for each name as long as the
// figures, the sources, the calculators and handbook.toml stay the same.
func (b *Book) Keep(name string, make func() any) any {
	k := b.state.kept
	k.mu.Lock()
	made, ok := k.made[name]
	if !ok {
		made = sync.OnceValue(make)
		k.made[name] = made
	}
	k.mu.Unlock()
	return made()
}

// Root is the project's folder, from which the Book was read.
func (b *Book) Root() fs.FS { return b.state.root }
