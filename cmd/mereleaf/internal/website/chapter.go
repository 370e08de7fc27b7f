package website

import (
	"html/template"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/paths"
)

type chapterContent struct {
	at
	Title         string
	Summary, Body template.HTML
	Sources       []sourceEntry
}

func (w *web) chapter(c *book.Chapter) Page {
	k := key(w.base, "chapter.html", w.book.Key(c), titleOf(c.Prev), titleOf(c.Next), c.Ref)
	return Page{Path: c.Place, Key: k, Bytes: func() ([]byte, error) {
		f := w.frame(c.Place, c.Title, c.Summary, c.Part.Folder)
		f.Ref, f.Before, f.After = unbroken(c.Ref), neighbour(c.Prev), neighbour(c.Next)
		content := chapterContent{at: f.at, Title: c.Title, Sources: w.cited(c)}
		var err error
		if content.Summary, err = w.book.SummaryHTML(c); err != nil {
			return nil, err
		}
		if content.Body, err = w.book.Body(c); err != nil {
			return nil, err
		}
		return w.print(f, "chapter.html", content)
	}}
}

// titleOf is what a neighbouring leaf shows of itself.
func titleOf(c *book.Chapter) string {
	if c == nil {
		return ""
	}
	return c.Place + c.Ref + c.Title
}

// cited lists the sources that the text of a chapter cites, in the order of the
// text. Those of its tables stand under the tables.
func (w *web) cited(c *book.Chapter) []sourceEntry {
	var entries []sourceEntry
	for _, key := range c.Doc.Cites {
		if s, ok := w.book.Library.Source(key); ok {
			entries = append(entries, newSourceEntry(s))
		}
	}
	return entries
}

type sourceEntry struct {
	Key, Short, Citation string
	Used                 []link
}

func newSourceEntry(s figures.Source) sourceEntry {
	return sourceEntry{Key: s.ID, Short: s.Short(), Citation: s.Citation()}
}

type sourcesContent struct {
	at
	Sources []sourceEntry
}

func (w *web) sources() Page {
	f := w.frame(paths.Sources, "Sources", "Every work that the handbook's numbers come from, and where they are used.", "")
	c := sourcesContent{at: f.at}
	for _, s := range w.book.Library.Sources {
		e := newSourceEntry(s)
		e.Used = append(e.Used, w.uses.chapters[s.ID]...)
		e.Used = append(e.Used, w.uses.reckon[s.ID]...)
		e.Used = append(e.Used, w.uses.sets[s.ID]...)
		c.Sources = append(c.Sources, e)
	}
	slices.SortStableFunc(c.Sources, func(a, b sourceEntry) int {
		return strings.Compare(strings.ToLower(strings.Trim(a.Short, "[]")), strings.ToLower(strings.Trim(b.Short, "[]")))
	})
	return w.listed(f, "sources.html", c, c.Sources) // how they are cited is in w.base
}

type termsContent struct {
	at
	Letters []letterEntry
	Terms   []termEntry
}

type termEntry struct {
	Slug, Name  string
	Also        []string
	Explanation template.HTML
}

// letterEntry leads to the first term that begins with a letter.
type letterEntry struct{ Letter, Slug string }

// letter adds a term, which follows those before it in the alphabet.
func (c *termsContent) letter(t book.Term) {
	first, _ := utf8.DecodeRuneInString(t.Name)
	l := string(unicode.ToUpper(first))
	if n := len(c.Letters); n == 0 || c.Letters[n-1].Letter != l {
		c.Letters = append(c.Letters, letterEntry{l, t.Slug})
	}
}

func (w *web) terms() Page {
	f := w.frame(paths.Terms, "Words", "The words of the trade, in plain sentences.", "")
	return Page{Path: string(f.at), Key: key(w.base, "terms.html", w.book.TermsKey()), Bytes: func() ([]byte, error) {
		c := termsContent{at: f.at}
		for _, t := range w.book.Terms {
			text, err := w.book.TermHTML(t)
			if err != nil {
				return nil, err
			}
			c.letter(t)
			c.Terms = append(c.Terms, termEntry{t.Slug, t.Name, t.Also, text})
		}
		return w.print(f, "terms.html", c)
	}}
}
