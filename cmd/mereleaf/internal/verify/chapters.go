package verify

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

const filesDoc = `folders, file names and handbook.toml
Every file has a place in the handbook, a legal name and a legal size; none is a
link out of the tree; handbook.toml has no unknown keys.`

func filesFaults(b *book.Book) diag.List { return b.Faults().Files }

func lookFiles(b *book.Book) Finding {
	return Finding{Seen: []Count{{len(b.Parts), "parts"}, {len(b.Chapters()), "chapters"}}}
}

const textDoc = `what a chapter shows by itself
Encoding, title and summary, headings, signal words, alternative texts, no raw
HTML, no number in a table without a figure.`

func textFaults(b *book.Book) diag.List { return b.Faults().Text }

func lookText(b *book.Book) Finding {
	headings, cautions := 0, 0
	for _, c := range b.Chapters() {
		headings += len(c.Doc.Headings)
		cautions += len(c.Doc.Cautions)
	}
	return Finding{Seen: []Count{{headings, "headings"}, {cautions, "cautions"}}}
}

const referencesDoc = `links between chapters, to terms, sources and calculators
Every link leads to something that exists; a link to a calculator carries inputs
that it accepts. Noted: chapters that only the list of their part and their
neighbours lead to.`

func referencesFaults(b *book.Book) diag.List { return b.Faults().References }

func lookReferences(b *book.Book) Finding {
	count := map[page.Scheme]int{}
	for _, c := range b.Chapters() {
		for _, r := range c.Doc.References {
			count[r.Scheme]++
		}
	}
	f := Finding{Seen: []Count{
		{count[page.ToChapter], "to chapters"}, {count[page.ToTerm], "to terms"},
		{count[page.ToSource], "to sources"}, {count[page.ToCalculator], "to calculators"},
	}}
	for _, c := range lonely(b) {
		f.Notes = append(f.Notes, c.File+": no other chapter's text leads here")
	}
	return f
}

// lonely returns the chapters that no other chapter and no line of the cover
// links to.
func lonely(b *book.Book) []*book.Chapter {
	led := map[string]bool{}
	for _, u := range b.Urgent {
		led[u.Chapter.File] = true
	}
	for _, c := range b.Chapters() {
		for _, r := range c.Doc.References {
			if (r.Scheme == page.ToChapter || r.Scheme == page.ToTake) && r.Target != "" {
				led[path.Join(path.Dir(c.File), r.Target)] = true
			}
		}
	}
	return slices.DeleteFunc(b.Chapters(), func(c *book.Chapter) bool { return led[c.File] })
}

const termsDoc = `terms
A term without an explanation, or a word that stands twice, is a fault of the
files. Noted: terms to which no chapter leads, chapters that use a term's name
before they link it, and the terms that a chapter names and never links.`

// termsFaults finds nothing: book has found the faults, among the files.
func termsFaults(*book.Book) diag.List { return nil }

func lookTerms(b *book.Book) Finding {
	var notes []note
	used := firstLinks(b, b.TermsDoc())
	for _, c := range b.Chapters() {
		first := firstLinks(b, c.Doc)
		maps.Copy(used, first)
		text := c.Doc.Running()
		var bare []string
		for _, t := range b.Terms {
			p, found := text.FindWords(t.Name)
			at, linked := first[t.Slug]
			switch {
			case found && !linked:
				bare = append(bare, t.Name)
			case found && compare(p, at) < 0:
				notes = append(notes, note{p, fmt.Sprintf("%q stands here before the link that explains it, in line %d", strings.ToLower(t.Name), at.Line)})
			}
		}
		if len(bare) > 0 {
			notes = append(notes, note{diag.Position{File: c.File}, "no link explains " + strings.Join(bare, ", ")})
		}
	}
	for _, t := range b.Terms {
		if _, ok := used[t.Slug]; !ok {
			notes = append(notes, note{t.Pos, fmt.Sprintf("nothing leads to the term %q", t.Name)})
		}
	}
	return Finding{Seen: []Count{{len(b.Terms), "terms"}}, Notes: sorted(notes)}
}

// note is what is worth knowing about a place.
type note struct {
	at   diag.Position
	text string
}

func sorted(notes []note) []string {
	slices.SortStableFunc(notes, func(a, b note) int { return compare(a.at, b.at) })
	lines := make([]string, len(notes))
	for i, n := range notes {
		lines[i] = n.at.String() + ": " + n.text
	}
	return lines
}

func compare(a, b diag.Position) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
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

const picturesDoc = `pictures
Every picture exists, is of its kind and size, and stands in a chapter.`

func picturesFaults(b *book.Book) diag.List {
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
	return faults
}

func lookPictures(b *book.Book) Finding {
	return Finding{Seen: []Count{{len(b.Pictures), "pictures"}}}
}
