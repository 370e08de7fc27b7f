package book

import (
	"crypto/sha256"
	"encoding/hex"
	"html/template"
	"path"
	"slices"
	"strconv"

	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
)

// Body returns everything below a chapter's title and first paragraph. The
// chapter must be of a Book without faults.
func (b *Book) Body(c *Chapter) (template.HTML, error) {
	html, err := c.Doc.Body(b.resolved(b.state.files[c.File]))
	return template.HTML(html), err
}

// Short returns the same with its cautions in one line each, for a card.
func (b *Book) Short(c *Chapter) (template.HTML, error) {
	r := b.resolved(b.state.files[c.File])
	r.Short = true
	html, err := c.Doc.Body(r)
	return template.HTML(html), err
}

// SummaryHTML returns the content of a chapter's first paragraph.
func (b *Book) SummaryHTML(c *Chapter) (template.HTML, error) {
	html, err := c.Doc.SummaryHTML(b.resolved(b.state.files[c.File]))
	return template.HTML(html), err
}

// TermHTML returns the explanation of a term.
func (b *Book) TermHTML(t Term) (template.HTML, error) {
	html, err := t.entry.HTML(b.resolved(b.state.terms))
	return template.HTML(html), err
}

func (b *Book) resolved(r *reading) page.Resolved {
	x := b.state.resolved[r]
	origin := origins{b.Library, x.place}
	return page.Resolved{
		Links: x.links.links, Tables: x.tables, Images: x.images,
		Caution: b.panels(x.links, origin),
		Taken: func(r *page.Reference) (page.Taken, error) {
			of := x.links.borrowed[r.Index]
			return page.Taken{Doc: of.doc, Anchor: r.Fragment, Resolved: page.Resolved{Links: of.links.links, Caution: b.panels(of.links, origin), Origin: origin}}, nil
		},
		Block:  func(block *page.Block) (string, error) { return x.html[block.Index], nil },
		Origin: origin,
	}
}

// panels returns what finds a caution in full, with what its links come to.
func (b *Book) panels(l *links, origin origins) func(string) (page.Panel, error) {
	return func(name string) (page.Panel, error) {
		return page.Panel{Warned: b.state.index.cautions[name], Resolved: page.Resolved{Links: l.warned, Origin: origin}}, nil
	}
}

// origins tells the notes below tables where sources and figures stand.
type origins struct {
	library *figures.Library
	place   string
}

// Citation implements page.Origins.
func (o origins) Citation(key string) string {
	if s, ok := o.library.Source(key); ok {
		return s.Short()
	}
	return key
}

// SourceHref implements page.Origins.
func (o origins) SourceHref(key string) string {
	return paths.Relative(o.place, paths.Sources) + "#" + key
}

// RowHref implements page.Origins.
func (o origins) RowHref(set *figures.Set, row int) string { return rowHref(o.place, set, row) }

// rowHref links to a row on its set's leaf, where rows are named by their line
// in the file.
func rowHref(from string, set *figures.Set, row int) string {
	return paths.Relative(from, paths.FigureSet(set.Name)) + "#r" + strconv.Itoa(set.Rows[row].Line)
}

// Key changes whenever the bytes of a chapter's leaf may change: with its text,
// with what the handbook's links lead to, with the figures it shows, with the
// fragments of its blocks.
func (b *Book) Key(c *Chapter) string { return b.key(b.state.files[c.File]) }

// TermsKey does the same for the list of terms.
func (b *Book) TermsKey() string { return b.key(b.state.terms) }

// CautionHTML returns a caution in full, for the page of all cautions.
func (b *Book) CautionHTML(w page.Warned) (template.HTML, error) {
	html, err := page.Panel{Warned: w, Resolved: b.resolved(b.state.cautions)}.HTML()
	return template.HTML(html), err
}

// CautionsKey does the same as Key for the page of all cautions.
func (b *Book) CautionsKey() string { return b.key(b.state.cautions) }

// Caution returns the caution of a name that links use, such as "electricity".
func (b *Book) Caution(name string) (page.Warned, bool) {
	w, ok := b.state.index.cautions[name]
	return w, ok
}

// CautionsDoc is the file of cautions, for checks.
func (b *Book) CautionsDoc() *page.Document { return b.state.cautions.doc }

func (b *Book) key(r *reading) string { return b.state.resolved[r].key }

// keyOf digests what the bytes of a leaf depend on.
func (b *Book) keyOf(r *reading, x *resolution) string {
	all := slices.Concat(r.digest[:], b.state.index.digest[:], x.bindings.shown[:], x.fragments.shown[:], []byte(x.place))
	for _, i := range x.images {
		if i.Drawing != nil {
			all = append(all, "\x00"+i.Drawing.HTML("")...)
			continue
		}
		all = append(all, "\x00"+i.Src+" "+strconv.Itoa(i.Width)+" "+strconv.Itoa(i.Height)...)
	}
	for _, l := range x.links.links {
		all = append(all, "\x00"+l.Href...)
	}
	for _, of := range x.borrowed {
		if of == nil {
			continue
		}
		all = append(all, of.shown[:]...)
		for _, l := range of.links.links {
			all = append(all, "\x00"+l.Href...)
		}
	}
	digest := sha256.Sum256(all)
	return hex.EncodeToString(digest[:12])
}

// Bindings returns the figures to which the numbers of a chapter's table are
// bound: rows by columns, zero for words; nil for a table of words.
func (b *Book) Bindings(c *Chapter, t *page.Table) [][]figures.Bound {
	return b.state.resolved[b.state.files[c.File]].tables[t.Index]
}

// Quantities returns what the linked quantities of all chapters, of terms,
// cautions and drawings are bound to.
func (b *Book) Quantities() []quantities.Bound {
	var all []quantities.Bound
	add := func(r *reading) {
		for _, q := range b.state.resolved[r].quantities {
			if q.Quantity != nil {
				all = append(all, q)
			}
		}
	}
	for _, c := range b.Chapters() {
		add(b.state.files[c.File])
	}
	add(b.state.terms)
	add(b.state.cautions)
	return append(all, b.state.drawn...)
}

// TermsDoc is the file of terms, for checks.
func (b *Book) TermsDoc() *page.Document { return b.state.terms.doc }

// TermSlug returns the slug of the term that a link's target names, which may
// be another word for it.
func (b *Book) TermSlug(target string) (string, bool) {
	slug, ok := b.state.index.terms[target]
	return slug, ok
}

// Picture returns the file of a picture that the chapter shows.
func (c *Chapter) Picture(p *page.Picture) string { return path.Join(path.Dir(c.File), p.Target) }
