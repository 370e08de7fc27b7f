package verify

import (
	"fmt"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

const filesDoc = `folders, file names and handbook.toml
Every file has a place in the handbook, a legal name and a legal size; none is a
link out of the tree; handbook.toml has no unknown keys.`

func files(b *book.Book) (Finding, diag.List) {
	return Finding{Seen: []Count{{len(b.Parts), "parts"}, {len(b.Chapters()), "chapters"}}}, b.Faults().Files
}

const textDoc = `what a chapter shows by itself
Encoding, title and summary, headings, signal words, alternative texts, no raw
HTML, no number in a table without a figure.`

func text(b *book.Book) (Finding, diag.List) {
	headings, cautions := 0, 0
	for _, c := range b.Chapters() {
		headings += len(c.Doc.Headings)
		cautions += len(c.Doc.Cautions)
	}
	return Finding{Seen: []Count{{headings, "headings"}, {cautions, "cautions"}}}, b.Faults().Text
}

const referencesDoc = `links between chapters, to terms, sources and calculators
Every link leads to something that exists; a link to a calculator carries inputs
that it accepts.`

func references(b *book.Book) (Finding, diag.List) {
	count := map[page.Scheme]int{}
	for _, c := range b.Chapters() {
		for _, r := range c.Doc.References {
			count[r.Scheme]++
		}
	}
	return Finding{Seen: []Count{
		{count[page.ToChapter], "to chapters"}, {count[page.ToTerm], "to terms"},
		{count[page.ToSource], "to sources"}, {count[page.ToCalculator], "to calculators"},
	}}, b.Faults().References
}

const termsDoc = `terms
A term without an explanation, or a word that stands twice, is a fault of the
files. Noted: terms to which no chapter
leads, and chapters that use a term's name before they link it.`

func terms(b *book.Book) (Finding, diag.List) {
	f := Finding{Seen: []Count{{len(b.Terms), "terms"}}}
	used := map[string]bool{}
	for _, c := range b.Chapters() {
		first := firstLinks(b, c.Doc)
		for _, t := range b.Terms {
			at, linked := first[t.Slug]
			if !linked {
				continue
			}
			used[t.Slug] = true
			if p, found := c.Doc.FindWords(t.Name); found && before(p, at) {
				f.Notes = append(f.Notes, fmt.Sprintf("%s: %q stands here before the link that explains it, in line %d", p, strings.ToLower(t.Name), at.Line))
			}
		}
	}
	for slug := range firstLinks(b, b.TermsDoc()) {
		used[slug] = true
	}
	for _, t := range b.Terms {
		if !used[t.Slug] {
			f.Notes = append(f.Notes, fmt.Sprintf("%s: nothing leads to the term %q", t.Pos, t.Name))
		}
	}
	slices.Sort(f.Notes)
	return f, nil // book has found the faults, among the files
}

// firstLinks returns where a file first links to each term.
func firstLinks(b *book.Book, doc *page.Document) map[string]diag.Position {
	first := map[string]diag.Position{}
	for _, r := range doc.References {
		if r.Scheme != page.ToTerm {
			continue
		}
		if slug, ok := b.TermSlug(r.Target); ok {
			if _, again := first[slug]; !again {
				first[slug] = r.Pos
			}
		}
	}
	return first
}

func before(a, b diag.Position) bool {
	return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
}

const picturesDoc = `pictures
Every picture exists, is of its kind and size, and stands in a chapter.`

func pictures(b *book.Book) (Finding, diag.List) {
	shown := map[string]bool{}
	for _, c := range b.Chapters() {
		for _, p := range c.Doc.Pictures {
			shown[c.Picture(p)] = true
		}
	}
	var faults diag.List
	for _, p := range b.Pictures {
		if !shown[p.File] {
			faults.Add(diag.Diagnostic{Position: diag.Position{File: p.File}, Problem: "no chapter shows the picture", Want: "a picture that is used", Remedy: "show it or remove it"})
		}
	}
	return Finding{Seen: []Count{{len(b.Pictures), "pictures"}}}, faults
}
