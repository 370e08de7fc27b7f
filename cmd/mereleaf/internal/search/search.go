// Package search makes the index in which the leaf "find.html" looks for words:
// titles, terms with their other names, captions, questions of calculators and
// the text, sentence by sentence, each with its leaf and the nearest heading.
//
// The index holds text and no positions: the leaf works those out when it opens
// (theme/script/find/), which costs a phone less than loading them. It
// holds stems too, so that the leaf needs no stemmer.
//
// It touches nothing outside the program.
package search

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"sync"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// The kinds of leaves in the index, beside chapters.
const (
	kindUrgent     = "urgent" // what a keeper sees or feels, with the chapter for it
	kindTerm       = "term"
	kindCalculator = "calculator"
	kindPart       = "part"
	kindTool       = "tool" // a leaf that is none of these and does something
)

// leaf is what can be found on one leaf, or in one term of the leaf of words.
// It is the interface Leaf of search.ts.
type leaf struct {
	Kind  string    `json:"k,omitempty"` // "" for a chapter
	To    string    `json:"to"`          // its place, perhaps with #anchor
	Title string    `json:"t"`
	Ref   string    `json:"r,omitempty"`  // "W 3"
	Part  string    `json:"p,omitempty"`  // letter
	Also  []string  `json:"o,omitempty"`  // other names
	Text  []section `json:"in,omitempty"` // in the order of the leaf
}

// section is what stands under one heading, "" for what stands above the first.
// The leaf makes the anchor from the heading, as page.Anchor does: written out,
// the anchors would be a thirtieth of the index.
type section struct {
	Heading  string   `json:"h,omitempty"`
	Captions []string `json:"c,omitempty"`
	Says     []string `json:"s,omitempty"` // its sentences
}

// entry is a leaf as the index has it, with the words in it.
type entry struct {
	json  []byte
	words []string // as key takes them, each once
}

// chapterKey names a chapter as it was read, in its place.
type chapterKey struct {
	doc              *page.Document
	to, ref, part, t string
}

// Maker makes one index after another, and keeps of the last one what has not
// changed. The zero Maker is ready.
type Maker struct {
	mu       sync.Mutex
	chapters map[chapterKey]entry
	stems    map[string]string
}

// Make returns the index of a book as JSON, the same bytes for the same book.
func (m *Maker) Make(b *book.Book) []byte {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.stems == nil {
		m.stems = map[string]string{}
	}
	entries := m.chaptersOf(b)
	for _, l := range leavesOf(b) {
		entries = append(entries, newEntry(l))
	}
	words := map[string]bool{}
	var out bytes.Buffer
	out.WriteString(`{"leaves":[`)
	for i, e := range entries {
		if i > 0 {
			out.WriteString(",\n")
		}
		out.Write(e.json)
		for _, w := range e.words {
			words[w] = true
		}
	}
	out.WriteString("],\n\"folds\":")
	out.Write(encode(folds()))
	out.WriteString(",\n\"stems\":")
	out.Write(encode(m.stemsOf(slices.Sorted(maps.Keys(words)))))
	out.WriteString("}\n")
	return out.Bytes()
}

func (m *Maker) chaptersOf(b *book.Book) []entry {
	now := map[chapterKey]entry{}
	var all []entry
	for _, c := range b.Chapters() {
		k := chapterKey{c.Doc, c.Place, c.Ref, c.Part.Letter, c.Title}
		e, ok := m.chapters[k]
		if !ok {
			e = newEntry(leaf{To: c.Place, Title: c.Title, Ref: c.Ref, Part: c.Part.Letter, Text: sections(c.Doc)})
		}
		now[k] = e
		all = append(all, e)
	}
	m.chapters = now
	return all
}

// leavesOf are the leaves that are no chapters.
func leavesOf(b *book.Book) []leaf {
	var all []leaf
	for _, u := range b.Urgent {
		all = append(all, leaf{Kind: kindUrgent, To: u.Place, Title: u.Say, Ref: u.Chapter.Ref, Part: u.Chapter.Part.Letter, Text: saying(u.Chapter.Title)})
	}
	letters := map[string]string{}
	for _, p := range b.Parts {
		letters[p.Folder] = p.Letter
		all = append(all, leaf{Kind: kindPart, To: paths.Part(p.Folder), Title: p.Title, Ref: p.Letter, Part: p.Letter, Text: saying(p.About)})
	}
	for _, t := range b.Terms {
		all = append(all, leaf{Kind: kindTerm, To: paths.Terms + "#" + t.Slug, Title: t.Name, Also: t.Also, Text: saying(t.Text)})
	}
	for _, w := range b.Cautions {
		all = append(all, leaf{Kind: kindTool, To: paths.Cautions + "#" + w.Slug, Title: w.Name, Also: []string{w.Caution.Signal, "caution"}, Text: saying(w.Says())})
	}
	all = append(all, leaf{Kind: kindTool, To: paths.Log, Title: paths.LogTitle, Also: []string{"log", "diary", "logbook", "readings"}, Text: saying(paths.LogSays)})
	for _, c := range b.Calculators.All() {
		all = append(all, calculatorLeaf(c, letters[c.Part]))
	}
	return all
}

func calculatorLeaf(c calculators.Calculator, letter string) leaf {
	l := leaf{Kind: kindCalculator, To: paths.Calculator(c.ID), Title: c.Title, Part: letter, Text: saying(c.Question)}
	if l.Text != nil && c.Lookup.Caption != "" {
		l.Text[0].Captions = []string{c.Lookup.Caption}
	}
	return l
}

func saying(text string) []section {
	if text == "" {
		return nil
	}
	return []section{{Says: sentences(text)}}
}

// sections gathers the passages of a chapter under its headings. A heading
// without text of its own is there too: it may be what a reader looks for.
func sections(doc *page.Document) []section {
	all := []section{{}}
	at := map[string]int{"": 0}
	for _, h := range doc.Headings {
		at[h.Anchor] = len(all)
		all = append(all, section{Heading: h.Text})
	}
	for _, p := range doc.Passages {
		s := &all[at[p.Anchor]]
		if p.Caption {
			s.Captions = append(s.Captions, p.Text)
		} else {
			s.Says = append(s.Says, sentences(p.Text)...)
		}
	}
	return all
}

func newEntry(l leaf) entry {
	seen := map[string]bool{}
	see := func(texts ...string) {
		for _, text := range texts {
			for _, w := range words(text) {
				seen[w] = true
			}
		}
	}
	see(l.Title)
	see(l.Also...)
	for _, s := range l.Text {
		see(s.Heading)
		see(s.Captions...)
		see(s.Says...)
	}
	return entry{encode(l), slices.Sorted(maps.Keys(seen))}
}

// encode keeps <, > and & as they are: no HTML is made of it.
func encode(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	// Strings and numbers alone cannot fail.
	_ = e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n"))
}

// sentences parts a text behind a full stop, question mark or exclamation mark
// that a blank and no small letter follow.
func sentences(text string) []string {
	var all []string
	from := 0
	for i := 0; i+2 < len(text); i++ {
		if strings.IndexByte(".?!", text[i]) >= 0 && text[i+1] == ' ' && (text[i+2] < 'a' || text[i+2] > 'z') {
			all = append(all, text[from:i+1])
			from = i + 2
		}
	}
	return append(all, text[from:])
}
