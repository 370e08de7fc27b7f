package book

import (
	"crypto/sha256"
	"strconv"
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
	bound map[[sha256.Size]byte]boundTable
}

// boundTable is a table's figures, and a digest of what a leaf shows of them.
type boundTable struct {
	figures [][]figures.Bound
	shown   [sha256.Size]byte
}

func newTables() *tables { return &tables{bound: map[[sha256.Size]byte]boundTable{}} }

func (k *tables) bind(lib *figures.Library, t figures.Table) (boundTable, diag.List) {
	content := sha256.Sum256(tableText(t))
	k.mu.Lock()
	bound, ok := k.bound[content]
	k.mu.Unlock()
	if ok {
		return bound, nil
	}
	cells, faults := lib.BindTable(t)
	bound = boundTable{cells, shownDigest(lib, cells...)}
	if len(faults) == 0 {
		k.mu.Lock()
		k.bound[content] = bound
		k.mu.Unlock()
	}
	return bound, faults
}

// Bytes that no text of a chapter holds, for texts that must not run together.
const (
	textEnd  = 0
	linkHere = 1
	pairHere = 2
)

// tableText is all that a table says, and nothing of where it stands.
func tableText(t figures.Table) []byte {
	b := appendRef(make([]byte, 0, 2048), &t.Caption)
	for _, c := range t.Head {
		b = appendCell(b, c.Text, c.Ref)
	}
	for _, row := range t.Rows {
		b = append(b, '\n')
		for _, c := range row {
			b = appendCell(b, c.Text, c.Ref)
		}
	}
	return b
}

func appendCell(b []byte, text string, ref *figures.Ref) []byte {
	b = append(append(b, text...), textEnd)
	if ref != nil {
		b = appendRef(b, ref)
	}
	return b
}

func appendRef(b []byte, ref *figures.Ref) []byte {
	b = append(append(append(b, linkHere), ref.Set...), textEnd)
	b = append(append(b, ref.Text...), textEnd)
	for _, p := range ref.Query {
		b = append(append(append(b, pairHere), p.Key...), textEnd)
		b = append(append(b, p.Value...), textEnd)
	}
	return b
}

// shownDigest digests what a leaf shows of figures: where they stand and come
// from.
func shownDigest(lib *figures.Library, rows ...[]figures.Bound) [sha256.Size]byte {
	var b []byte
	for _, row := range rows {
		for _, bound := range row {
			b = appendShown(b, lib, bound)
		}
	}
	return sha256.Sum256(b)
}

func appendShown(b []byte, lib *figures.Library, bound figures.Bound) []byte {
	if bound.Set == nil {
		return append(b, textEnd)
	}
	row := bound.Set.Rows[bound.Row]
	b = strconv.AppendInt(b, int64(row.Line), 10)
	for _, text := range []string{bound.Set.Name, row.Source, origins{lib, ""}.Citation(row.Source), row.Locator, row.Basis, row.Note} {
		b = append(append(b, text...), textEnd)
	}
	return b
}
