package book

import (
	"os"
	"slices"
	"testing"

	"mereleaf/calculators/catalog"
)

// TestUnbound lists, with -v, the quantities of each file that stand in no link
// yet. One chapter takes seconds:
//
//	go test -v -run 'TestUnbound/water/30-ammonia' ./cmd/mereleaf/internal/book/
func TestUnbound(t *testing.T) {
	b, _ := Read(os.DirFS(projectRoot), catalog.All())
	docs := []*reading{b.state.terms, b.state.cautions}
	for _, c := range b.Chapters() {
		docs = append(docs, b.state.files[c.File])
	}
	for _, r := range docs {
		t.Run(r.doc.File[len(Folder)+1:], func(t *testing.T) {
			faults := b.state.binder.Unbound(r.doc, r.doc.Stretches...)
			for _, d := range faults {
				if slices.Contains(notYetBound(), r.doc.File) {
					t.Log(d)
				} else {
					t.Error(d)
				}
			}
		})
	}
}
