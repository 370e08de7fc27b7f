package website

import (
	"html/template"
	"sync"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// Missing is the page that a server shows for an address without a leaf.
const Missing = "404.html"

// web makes the pages of one book with one theme.
type web struct {
	book      *book.Book
	assets    bundle.Assets
	pad       *calchtml.Pad
	templates *template.Template
	fault     error // of the templates; every page reports it
	uses      uses
	agreed    crosscheck.Report
	base      string   // key of what all pages share
	printed   sync.Map // *common, by what they depend on
}

// Web returns the pages of the handbook as a web site, without the assets. The
// pages render when asked to, so a preview pays only for those whose Key
// changed. A fault in a template is the error of the pages that need it. agreed
// is what the leaves of calculators and figure sets say of how both agree; the
// zero Report says nothing.
func Web(b *book.Book, a bundle.Assets, p *calchtml.Pad, agreed crosscheck.Report) []Page {
	w := &web{book: b, assets: a, pad: p, uses: findUses(b), agreed: agreed}
	w.templates, w.fault = parse(a.Templates)
	w.base = w.shared()
	pages := []Page{w.cover(), w.missing(), w.terms(), w.sources(), w.record(), w.log(), w.find(), w.reckonList(), w.figureList()}
	if len(b.Cards) > 0 {
		pages = append(pages, w.cards())
	}
	if len(b.Cautions) > 0 {
		pages = append(pages, w.cautions())
	}
	if len(b.Ponds) > 0 {
		pages = append(pages, w.ponds())
	}
	for i, part := range b.Parts {
		pages = append(pages, w.part(i, part))
		for _, c := range part.Chapters {
			pages = append(pages, w.chapter(c))
		}
	}
	for _, c := range b.Calculators.All() {
		pages = append(pages, w.reckon(c))
	}
	for _, s := range b.Library.Sets {
		pages = append(pages, w.figureSet(s))
	}
	return pages
}

// shared is the key of the frame around every page, and of the sources, which
// most pages cite and which seldom change.
func (w *web) shared() string {
	s := key(w.assets.Key(), w.book.Config.Title, w.book.Config.Language, len(w.book.Cautions) > 0)
	for _, p := range w.book.Parts {
		s = key(s, p.Folder, p.Letter, p.Title)
	}
	cited := w.book.Keep("citations", func() any {
		var cited []string
		for _, source := range w.book.Library.Sources {
			cited = append(cited, source.ID, source.Short(), source.Citation())
		}
		return key(cited)
	}).(string)
	return key(s, cited)
}

// listed makes a page whose content is at hand and small. holds is all that the
// content holds, for its key.
func (w *web) listed(f frame, name string, content any, holds ...any) Page {
	return Page{Path: string(f.at), Key: key(w.base, name, key(holds...)), Bytes: func() ([]byte, error) {
		return w.print(f, name, content)
	}}
}

type coverContent struct {
	at
	Title, Subtitle, Club string
	Urgent                []link
	Parts                 []partContent
	Calculators           []link
	Cards                 bool // whether there are cards to print
}

type partContent struct {
	at
	link
	Hue      string
	Chapters []link
	Cards    bool // as on the cover
}

func (w *web) cover() Page {
	f := w.frame(paths.Cover, w.book.Config.Title, w.book.Config.Subtitle, "")
	f.Cover = true
	c := coverContent{at: f.at, Title: w.book.Config.Title, Subtitle: w.book.Config.Subtitle, Club: w.book.Config.Club, Calculators: w.calculators(), Cards: len(w.book.Cards) > 0}
	c.Urgent = w.urgent()
	for i, p := range w.book.Parts {
		part := contentsOf(f.at, i, p)
		for j := range part.Chapters {
			part.Chapters[j].Summary = firstSentence(part.Chapters[j].Summary)
		}
		c.Parts = append(c.Parts, part)
	}
	return w.listed(f, "cover.html", c, c.Title, c.Subtitle, c.Club, c.Urgent, c.Parts, c.Calculators, c.Cards)
}

// urgent lists what a reader sees or feels, with the chapters for it.
func (w *web) urgent() []link {
	var links []link
	for _, u := range w.book.Urgent {
		links = append(links, link{Path: u.Place, Title: u.Say, Ref: unbroken(u.Chapter.Ref), Summary: u.Chapter.Title})
	}
	return links
}

func contentsOf(here at, index int, p *book.Part) partContent {
	c := partContent{at: here, link: partLink(p), Hue: hue(index)}
	for _, chapter := range p.Chapters {
		c.Chapters = append(c.Chapters, chapterLink(chapter))
	}
	return c
}

func (w *web) part(index int, p *book.Part) Page {
	f := w.frame(paths.Part(p.Folder), p.Title, p.About, p.Folder)
	f.Ref = p.Letter
	c := contentsOf(f.at, index, p)
	c.Cards = len(w.book.Cards) > 0
	return w.listed(f, "part.html", c, c.link, c.Hue, c.Chapters, c.Cards)
}

// missing is shown at any address, also in folders that do not exist, from
// where nothing that stands at one place can be reached. So it loads nothing and
// has no thumb index, and its links go to the contents of the two folders that a
// leaf can be in.
func (w *web) missing() Page {
	f := w.frame(Missing, "No leaf here", "This address has no leaf.", "")
	f.Thumbs, f.Assets, f.Cover = nil, bundle.Assets{}, true
	return w.listed(f, "missing.html", f.at)
}
