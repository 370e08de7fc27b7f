package build

import (
	"context"
	"sync"

	"mereleaf/cmd/mereleaf/internal/website"
)

// Leaf is a page that has been set.
type Leaf struct {
	Key   string // of website.Page
	Bytes []byte
}

// Leaves are set pages by their path in the edition.
type Leaves map[string]Leaf

// Set sets the pages of a build in memory. It takes over from before those
// whose key is the same, and returns how many it set itself.
func (p *Press) Set(ctx context.Context, b *Build, before Leaves) (leaves Leaves, set int, err error) {
	leaves = make(Leaves, len(b.Pages))
	var stale []website.Page
	for _, page := range b.Pages {
		if old, ok := before[page.Path]; ok && old.Key == page.Key {
			leaves[page.Path] = old
		} else {
			stale = append(stale, page)
		}
	}
	var mu sync.Mutex
	err = p.Render(ctx, stale, func(page website.Page, bytes []byte) error {
		mu.Lock()
		defer mu.Unlock()
		leaves[page.Path] = Leaf{page.Key, bytes}
		return nil
	})
	return leaves, len(stale), err
}
