package book

import (
	"crypto/sha256"
	"hash"
	"io"
	"sync"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// tables keeps what tables of a library are bound to, by what they say. Finding
// the figures costs more than parsing the chapter does, and most edits of a
// chapter leave its tables alone. Tables with faults are not kept, because
// faults have places.
type tables struct {
	mu    sync.Mutex
	bound map[[sha256.Size]byte][][]figures.Bound
}

func (k *tables) bind(lib *figures.Library, t figures.Table) ([][]figures.Bound, diag.List) {
	content := tableDigest(t)
	k.mu.Lock()
	bound, ok := k.bound[content]
	k.mu.Unlock()
	if ok {
		return bound, nil
	}
	bound, faults := lib.BindTable(t)
	if len(faults) == 0 {
		k.mu.Lock()
		k.bound[content] = bound
		k.mu.Unlock()
	}
	return bound, faults
}

// tableDigest digests all that a table says, and nothing of where it stands.
func tableDigest(t figures.Table) [sha256.Size]byte {
	h := sha256.New()
	digestRef(h, &t.Caption)
	for _, c := range t.Head {
		digestCell(h, c.Text, c.Ref)
	}
	for _, row := range t.Rows {
		digestText(h, "\n")
		for _, c := range row {
			digestCell(h, c.Text, c.Ref)
		}
	}
	return [sha256.Size]byte(h.Sum(nil))
}

func digestCell(h hash.Hash, text string, ref *figures.Ref) {
	digestText(h, text)
	if ref != nil {
		digestRef(h, ref)
	}
}

// digestRef begins with a byte that no text of a chapter holds, so that a cell
// without a link never reads as one with a link.
func digestRef(h hash.Hash, ref *figures.Ref) {
	digestText(h, "\x01"+ref.Set)
	digestText(h, ref.Text)
	for _, p := range ref.Query {
		digestText(h, "\x02"+p.Key)
		digestText(h, p.Value)
	}
}

// digestText ends each text with a byte that no text of a chapter holds.
func digestText(h hash.Hash, text string) {
	_, _ = io.WriteString(h, text) // a hash takes everything
	_, _ = io.WriteString(h, "\x00")
}
