package book

import (
	"crypto/sha256"
	"maps"
	"path"
	"slices"

	"mereleaf/cmd/mereleaf/internal/page"
)

// Taking is a section of a chapter that another takes.
type Taking struct {
	Ref    *page.Reference // in the chapter that takes
	From   *Chapter
	Anchor string
}

// Takings returns the sections that a chapter takes from others, in its order.
func (b *Book) Takings(c *Chapter) []Taking { return b.state.index.takings(c.Doc) }

func (x *index) takings(doc *page.Document) []Taking {
	var all []Taking
	for _, r := range doc.References {
		if r.Scheme != page.ToTake {
			continue
		}
		if from, ok := x.chapters[takenFrom(doc, r)]; ok {
			all = append(all, Taking{r, from, r.Fragment})
		}
	}
	return all
}

// takenFrom is the file that a take: link names.
func takenFrom(doc *page.Document, r *page.Reference) string {
	return path.Join(path.Dir(doc.File), r.Target)
}

// lenders returns the files of the chapters that others take sections of, sorted.
func (b *Book) lenders() []string {
	files := map[string]bool{}
	for _, c := range b.Chapters() {
		for _, t := range b.state.index.takings(c.Doc) {
			files[t.From.File] = true
		}
	}
	return slices.Sorted(maps.Keys(files))
}

// borrowed is what the links of a lending chapter come to on the leaf of the one
// that takes from it.
type borrowed struct {
	doc   *page.Document
	links *links
	shown [sha256.Size]byte // of the numbers that the lender shows
}

// take resolves the links of the chapter whose section is taken.
func (l *linker) take(i int, r *page.Reference) page.Link {
	x := l.book.state.index
	file := takenFrom(l.doc, r)
	c, ok := x.chapters[file]
	switch {
	case !ok:
		return l.fault(r, "the chapter "+file+" does not exist", "the relative path of a chapter", didYouMean(file, slices.Collect(maps.Keys(x.chapters))))
	case file == l.doc.File:
		return l.fault(r, "the chapter takes a section of its own", "one of another chapter", "link to it")
	case !x.anchors[file][r.Fragment]:
		return l.fault(r, file+" has no heading #"+r.Fragment, "a heading in lower case with hyphens", didYouMean(r.Fragment, slices.Collect(maps.Keys(x.anchors[file]))))
	}
	if at, what, ok := c.Doc.Lends(r.Fragment); !ok {
		return l.fault(r, "the section #"+r.Fragment+" holds "+what+", "+at.String()+", and cannot be taken", "words, steps and cautions alone", "move the rest under another heading")
	}
	bindings := l.book.state.lenders[file]
	of := &linker{book: l.book, doc: c.Doc, place: l.place, bound: bindings, out: &links{}, lent: true}
	of.resolve() // its faults are reported once, with the chapter
	for len(l.out.borrowed) <= i {
		l.out.borrowed = append(l.out.borrowed, nil)
	}
	l.out.borrowed[i] = &borrowed{c.Doc, of.out, bindings.shown}
	return page.Link{}
}
