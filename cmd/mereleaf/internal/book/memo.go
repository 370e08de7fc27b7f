package book

import "sync"

// memo keeps fragments by their content, because many chapters may hold the
// same one. It only grows; a preview makes a new one when a calculator changes.
type memo struct {
	mu   sync.Mutex
	made map[string]*fragment
}

type fragment struct {
	once sync.Once
	html string
	err  error
}

func newMemo() *memo { return &memo{made: map[string]*fragment{}} }

// get returns the fragment of a content, made by the first caller.
func (m *memo) get(content string, make func() (string, error)) (string, error) {
	m.mu.Lock()
	f, ok := m.made[content]
	if !ok {
		f = &fragment{}
		m.made[content] = f
	}
	m.mu.Unlock()
	f.once.Do(func() { f.html, f.err = make() })
	return f.html, f.err
}
