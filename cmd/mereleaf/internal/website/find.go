package website

import "mereleaf/cmd/mereleaf/internal/paths"

// findContent is what the leaf that finds words holds before anything is typed.
// The script shows the results.
type findContent struct {
	at
	Index  string // path of the index
	Urgent []link
	Parts  []partContent // to name and colour them; without chapters
}

func (w *web) find() Page {
	f := w.frame(paths.Find, "What are you looking for?", "Find a word, or what you see at the pond, in the whole handbook.", "")
	f.Script = w.assets.Finder
	c := findContent{at: f.at, Index: w.assets.Find, Urgent: w.urgent()}
	for i, p := range w.book.Parts {
		c.Parts = append(c.Parts, partContent{at: f.at, link: partLink(p), Hue: hue(i)})
	}
	return w.listed(f, "find.html", c, f.Script, c.Index, c.Urgent, c.Parts)
}
