package book

import (
	"crypto/sha256"
	"io/fs"
	"sync"
)

// memo keeps what was made, by what it was made of, and makes each once. It only grows;
// whoever reads a book anew begins another one when what all of it rests on has changed.
type memo[T any] struct {
	mu   sync.Mutex
	made map[string]func() T
}

func newMemo[T any]() *memo[T] { return &memo[T]{made: map[string]func() T{}} }

// get returns what was made of a content, made by the first caller.
func (m *memo[T]) get(content string, make func() T) T {
	m.mu.Lock()
	made, ok := m.made[content]
	if !ok {
		made = sync.OnceValue(make)
		m.made[content] = made
	}
	m.mu.Unlock()
	return made()
}

// fragment is a piece of HTML, which many chapters may hold.
type fragment struct {
	html   string
	digest [sha256.Size]byte // of html
	err    error
}

// fragment returns the fragment of a content, made by the first caller.
func (s *state) fragment(content string, make func() (string, error)) *fragment {
	return s.memo.get(content, func() *fragment {
		html, err := make()
		return &fragment{html, sha256.Sum256([]byte(html)), err}
	})
}

// Keep returns what make returns, called once for each name as long as the
// figures, the sources, the calculators and handbook.toml stay the same.
func (b *Book) Keep(name string, make func() any) any { return b.state.kept.get(name, make) }

// Root is the project's folder, from which the Book was read.
func (b *Book) Root() fs.FS { return b.state.root }
