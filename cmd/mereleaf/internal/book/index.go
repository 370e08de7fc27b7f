package book

import (
	"cmp"
	"crypto/sha256"
	"slices"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

func sortChapters(chapters []*Chapter) {
	slices.SortFunc(chapters, func(a, b *Chapter) int { return cmp.Compare(a.Number, b.Number) })
}

func sortPictures(pictures []Picture) {
	slices.SortFunc(pictures, func(a, b Picture) int { return cmp.Compare(a.File, b.File) })
}

// index finds what links name.
type index struct {
	chapters map[string]*Chapter        // by file
	anchors  map[string]map[string]bool // by file
	terms    map[string]string          // slug of a name, or of another name, to the term's slug
	cautions map[string]page.Warned     // by slug
	digest   [sha256.Size]byte          // of all of it
}

func (b *Book) newIndex() *index {
	x := &index{chapters: map[string]*Chapter{}, anchors: map[string]map[string]bool{}, terms: map[string]string{}, cautions: map[string]page.Warned{}}
	h := sha256.New()
	for _, c := range b.Chapters() {
		r := b.state.files[c.File]
		x.chapters[c.File] = c
		x.anchors[c.File] = r.anchors
		h.Write([]byte(c.File + "\x00" + c.Ref + "\x00"))
		h.Write(r.outline[:])
	}
	for _, t := range b.Terms {
		x.terms[t.Slug] = t.Slug
		for _, also := range t.Also {
			x.terms[page.Anchor(also)] = t.Slug
		}
		h.Write([]byte(t.Slug + "\x00" + strings.Join(t.Also, "\x00") + "\x00"))
	}
	for _, w := range b.Cautions {
		x.cautions[w.Slug] = w
	}
	h.Write(b.state.cautions.digest[:])
	for _, c := range b.Chapters() {
		for _, t := range x.takings(c.Doc) {
			h.Write(b.state.files[t.From.File].digest[:])
		}
	}
	x.digest = [sha256.Size]byte(h.Sum(nil))
	return x
}

func anchors(doc *page.Document) map[string]bool {
	m := make(map[string]bool, len(doc.Headings))
	for _, h := range doc.Headings {
		m[h.Anchor] = true
	}
	return m
}

// readTerms takes the terms from their file, in alphabetical order.
func (s *state) readTerms(faults diag.List) ([]Term, diag.List) {
	faults = append(faults, s.terms.unexplained...)
	var terms []Term
	seen := map[string]diag.Position{}
	for _, e := range s.terms.terms {
		t := Term{Slug: e.Slug, Name: e.Name, Also: e.Also, Text: e.Text, Pos: e.Pos, entry: e}
		for i, name := range append([]string{e.Name}, e.Also...) {
			slug := page.Anchor(name)
			before, twice := seen[slug]
			if twice && (i > 0 || before != e.Pos) {
				faults.Add(diag.Diagnostic{Position: e.Pos, Problem: "the word \"" + name + "\" stands twice among the terms",
					Want: "each word once", Remedy: "remove one of them", Related: before})
			}
			seen[slug] = e.Pos
		}
		terms = append(terms, t)
	}
	slices.SortStableFunc(terms, func(a, b Term) int { return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return terms, faults
}

// nearest returns the candidate most like a misspelt name, for the remedy; "" if
// none is close: if more than a third of the letters differ, it is another name.
func nearest(name string, candidates []string) string {
	best, least := "", len(name)/3+1
	for _, c := range candidates {
		if d := quantity.Distance(name, c); d < least || d == least && best != "" && c < best {
			best, least = c, d
		}
	}
	return best
}
