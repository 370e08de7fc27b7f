package website

import (
	"fmt"
	"html/template"
	"path"
	"slices"
	"strings"

	"golang.org/x/net/html"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/export/adapt"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// wholeContent is the whole handbook on one page, for print.
type wholeContent struct {
	at
	Title, Subtitle, Club, Issue string
	Urgent                       []link // what is the matter, with the leaf at the front
	Front                        []wholeLeaf
	Parts                        []wholePart
	Words, Cautions, Sources     template.HTML
	Index                        []indexEntry
	Calculators                  []link // Ref is the leaf with its pad, if there is one
	Sets                         []link
}

type wholePart struct {
	link
	ID     string
	Leaves []wholeLeaf
}

// wholeLeaf is a chapter. At its place in the part stands only where it is, if
// it stands at the front.
type wholeLeaf struct {
	ID, Ref, Title string
	Front          bool
	Text           template.HTML
}

// indexEntry is a word with the leaves that use it.
type indexEntry struct {
	Name, ID string
	Leaves   []link
}

// whole puts leaves on one page.
type whole struct {
	book *book.Book
	leaf func(path string) []byte
	refs map[string]string // of chapters, by path
	pads map[string]*book.Chapter
	used map[string][]link // leaves by the word they use
	page wholeContent
}

// Whole returns the page of the whole handbook, for print: what is urgent first,
// then the table of contents, all chapters, the words with an index, and the
// sources. leaf returns the other pages of the same edition by their path. The
// error names the page that cannot be taken in. style is the style sheet
// paths.PrintStyle, which gives each leaf's sheets their running head.
func Whole(b *book.Book, a bundle.Assets, leaf func(path string) []byte) (page, style []byte, err error) {
	w := &web{book: b, assets: a}
	if w.templates, w.fault = parse(a.Templates); w.fault != nil {
		return nil, nil, w.fault
	}
	p := &whole{book: b, leaf: leaf, refs: w.refs(), pads: padsOf(b), used: map[string][]link{}}
	if err := p.fill(); err != nil {
		return nil, nil, err
	}
	f := w.frame(paths.Print, "The whole book", "The whole handbook on one page, to print.", "")
	f.Thumbs, f.Cover = nil, true
	f.Assets.Wasm, f.Assets.Offline = "", "" // its script has units to turn, and no pads
	f.Styles = []string{a.Paper, paths.PrintStyle}
	page, err = w.print(f, "print.html", p.page)
	return page, p.sheets(), err
}

// padsOf finds for each calculator the first chapter that holds its pad.
func padsOf(b *book.Book) map[string]*book.Chapter {
	pads := map[string]*book.Chapter{}
	for _, part := range b.Parts {
		for _, c := range part.Chapters {
			for _, block := range c.Doc.Blocks {
				if block.Kind == "calculator" && pads[block.Name] == nil {
					pads[block.Name] = c
				}
			}
		}
	}
	return pads
}

func (p *whole) fill() error {
	config := p.book.Config
	p.page = wholeContent{at: paths.Print, Title: config.Title, Subtitle: config.Subtitle, Club: config.Club, Issue: day(config.Issued)}
	front := map[*book.Chapter]bool{}
	for _, u := range p.book.Urgent {
		_, anchor, _ := strings.Cut(u.Place, "#")
		p.page.Urgent = append(p.page.Urgent, link{Path: "#" + inWhole(u.Chapter.Place, anchor), Title: u.Say, Ref: unbroken(u.Chapter.Ref)})
		if front[u.Chapter] {
			continue
		}
		front[u.Chapter] = true
		l, err := p.chapter(u.Chapter)
		if err != nil {
			return err
		}
		p.page.Front = append(p.page.Front, l)
	}
	for _, part := range p.book.Parts {
		made := wholePart{link: partLink(part), ID: "part-" + part.Letter}
		for _, c := range part.Chapters {
			l := wholeLeaf{ID: inWhole(c.Place, ""), Ref: unbroken(c.Ref), Title: c.Title, Front: true}
			if !front[c] {
				var err error
				if l, err = p.chapter(c); err != nil {
					return err
				}
			}
			made.Leaves = append(made.Leaves, l)
		}
		p.page.Parts = append(p.page.Parts, made)
	}
	return p.back()
}

// back fills the back of the book.
func (p *whole) back() error {
	words, err := p.text(paths.Terms)
	if err != nil {
		return err
	}
	sources, err := p.text(paths.Sources)
	if err != nil {
		return err
	}
	p.page.Words, p.page.Sources = template.HTML(words), template.HTML(sources)
	if len(p.book.Cautions) > 0 {
		cautions, err := p.text(paths.Cautions)
		if err != nil {
			return err
		}
		p.page.Cautions = template.HTML(cautions)
	}
	for _, t := range p.book.Terms {
		if used := p.used[t.Slug]; len(used) > 0 {
			p.page.Index = append(p.page.Index, indexEntry{t.Name, inWhole(paths.Terms, t.Slug), used})
		}
	}
	for _, c := range p.book.Calculators.All() {
		l := link{Path: inWhole(paths.Calculator(c.ID), ""), Title: c.Title, Summary: c.Question}
		if in := p.pads[c.ID]; in != nil {
			l.Ref = unbroken(in.Ref)
		}
		p.page.Calculators = append(p.page.Calculators, l)
	}
	for _, s := range p.book.Library.Sets {
		p.page.Sets = append(p.page.Sets, link{Path: inWhole(paths.FigureSet(s.Name), ""), Title: s.Name})
	}
	return nil
}

func (p *whole) chapter(c *book.Chapter) (wholeLeaf, error) {
	text, err := p.text(c.Place)
	return wholeLeaf{ID: inWhole(c.Place, ""), Ref: unbroken(c.Ref), Title: c.Title, Text: template.HTML(text)}, err
}

// text makes the text of a leaf fit for the page.
func (p *whole) text(from string) (string, error) {
	page, err := adapt.Read(p.leaf(from))
	if err != nil {
		return "", fmt.Errorf("%s: %w", from, err)
	}
	t := adapt.Target{Medium: adapt.Paper, Deeper: 1, Prefix: inWhole(from, "") + "_", Skip: notInPrint,
		Link: func(_, to string) (string, string, error) {
			href, after := p.lead(from, to)
			return href, after, nil
		}}
	text, err := t.Write(page.Main...)
	return text.HTML, err
}

// inWhole is the id of a leaf, or of an anchor on it, on the page of the whole
// handbook.
func inWhole(leaf, anchor string) string {
	id := strings.ReplaceAll(strings.TrimSuffix(leaf, ".html"), "/", "-")
	if anchor != "" {
		id += "_" + anchor
	}
	return id
}

// notInPrint leaves out what a printed page has no use for: fields that were not
// filled in, helps, workings, true-size sheets, and the lists of sources under
// each leaf and of uses under each source, which the back of the book replaces.
func notInPrint(n *html.Node) bool {
	switch n.Data {
	case "section":
		return adapt.Attribute(n, "aria-labelledby") == "leaf_sources"
	case "small":
		return n.Parent.Data == "label" || n.Parent.Data == "legend"
	case "p":
		return adapt.Classed(n, "used", "links", "assumed")
	case "details":
		return !adapt.Classed(n, "fine")
	}
	return adapt.Classed(n, "links", "jumps", "alphabet", "tap", "assumed", "working") || adapt.Has(n, "data-input") && !adapt.Has(n, "data-stated")
}

// lead turns a link into one on the page. What it leads to is told in print by
// the reference of its leaf, that of a calculator by the leaf with its pad.
func (p *whole) lead(from, to string) (href, after string) {
	if paths.Outside(to) {
		return to, ""
	}
	target, anchor, _ := strings.Cut(to, "#")
	target, _, _ = strings.Cut(target, "?")
	if target == "" {
		return "#" + inWhole(from, anchor), ""
	}
	target = path.Join(path.Dir(from), target)
	switch ref := p.refs[target]; {
	case ref != "" && target == from:
		return "#" + inWhole(target, anchor), ""
	case ref != "":
		return "#" + inWhole(target, anchor), " (" + ref + ")"
	case target == paths.Terms:
		p.use(from, anchor)
		return "#" + inWhole(target, anchor), ""
	case target == paths.Sources, target == paths.Cautions:
		return "#" + inWhole(target, anchor), ""
	}
	return p.leadBack(from, target)
}

// use notes that a chapter uses a word.
func (p *whole) use(from, word string) {
	if ref := p.refs[from]; ref != "" {
		l := link{Path: "#" + inWhole(from, ""), Ref: ref}
		if !slices.Contains(p.used[word], l) {
			p.used[word] = append(p.used[word], l)
		}
	}
}

// leadBack leads to what the back of the book names only.
func (p *whole) leadBack(from, target string) (href, after string) {
	folder, name, _ := strings.Cut(strings.TrimSuffix(target, ".html"), "/")
	switch {
	case name == "index" || name == "":
		for _, part := range p.book.Parts {
			if part.Folder == folder {
				return "#part-" + part.Letter, ""
			}
		}
		return "", ""
	case folder == "figures":
		return "#" + inWhole(target, ""), ""
	case folder == "reckon":
		if in := p.pads[name]; in != nil && in.Place != from {
			after = " (" + unbroken(in.Ref) + ")"
		}
		return "#" + inWhole(target, ""), after
	}
	return "", ""
}

// sheets gives each leaf pages that bear its reference and title.
func (p *whole) sheets() []byte {
	var b strings.Builder
	write := func(l wholeLeaf) {
		if l.Text != "" {
			fmt.Fprintf(&b, "#%s{page:%s}@page %s{@top-right{content:%s}@top-left{content:%s}}\n", l.ID, l.ID, l.ID, cssText(l.Ref), cssText(l.Title))
		}
	}
	for _, l := range p.page.Front {
		write(l)
	}
	for _, part := range p.page.Parts {
		for _, l := range part.Leaves {
			write(l)
		}
	}
	return []byte(b.String())
}

// cssText writes a text as a string of CSS.
func cssText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < ' ' || r == '"' || r == '\\' {
			fmt.Fprintf(&b, `\%x `, r)
		} else {
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
