package book

import (
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/page/svg"
)

// bareTexts reports quantities in what handbook.toml says to readers.
func (b *Book) bareTexts() {
	c := b.Config
	texts := []string{c.Title, c.Subtitle, c.Club}
	for _, p := range c.Parts {
		texts = append(texts, p.Title, p.About)
	}
	for _, u := range c.Urgent {
		texts = append(texts, u.Say)
	}
	for _, card := range c.Cards {
		texts = append(texts, card.Title)
	}
	for _, text := range texts {
		b.state.faults.Quantities = append(b.state.faults.Quantities, b.state.binder.Bare(text, located(c.text, text))...)
	}
}

// bindDrawings binds the quantities of the drawings beside chapters.
func (b *Book) bindDrawings() {
	faults := &b.state.faults.Quantities
	for _, p := range b.Pictures {
		if p.Drawing == nil {
			continue
		}
		var stretches []page.Stretch
		for _, w := range p.Drawing.Words {
			s := b.bindWords(w)
			stretches = append(stretches, s)
		}
		*faults = append(*faults, b.state.binder.Unbound(&page.Document{File: p.File}, stretches...)...)
	}
}

// bindWords binds the quantities of one text of a drawing.
func (b *Book) bindWords(w svg.Words) page.Stretch {
	faults := &b.state.faults.Quantities
	var links []page.LinkSpan
	for _, l := range w.Links {
		ref, d := page.DrawnReference(l.Href, w.Text[l.Start:l.End], l.At)
		if d != nil {
			faults.Add(*d)
			continue
		}
		links = append(links, page.LinkSpan{Start: l.Start, End: l.End, Ref: ref})
		if ref.Scheme == page.ToCalculator {
			if _, d := b.call(ref); d != nil {
				faults.Add(*d)
				continue
			}
		}
		bound, d := b.state.binder.Bind(ref)
		if d != nil {
			faults.Add(*d)
			continue
		}
		b.state.drawn = append(b.state.drawn, bound)
	}
	return page.DrawnStretch(w.Text, links, w.At)
}
