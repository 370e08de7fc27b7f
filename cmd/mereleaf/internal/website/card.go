package website

import (
	"fmt"
	"html/template"
	"path"
	"strings"
	"time"

	"golang.org/x/net/html"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/export/adapt"
	"mereleaf/cmd/mereleaf/internal/paths"
)

type cardsContent struct {
	at
	Club, Issue string
	Cards       []card
}

// card is one side of paper.
type card struct {
	Title   string
	Letters string // class of their size
	Body    template.HTML
	From    []link // leaves that it is taken from
}

// cards is the page of the cards for the wall, one sheet of paper each.
func (w *web) cards() Page {
	parts := []any{w.base, "cards.html", w.book.CautionsKey(), w.book.Config.Club, w.book.Config.Issued}
	for _, c := range w.book.Cards {
		parts = append(parts, c.Title)
		for _, t := range c.Takes {
			parts = append(parts, t.Anchor, t.HTML, t.Lead)
			if t.Chapter != nil {
				parts = append(parts, w.book.Key(t.Chapter))
			}
		}
	}
	return Page{Path: paths.Cards, Key: key(parts...), Bytes: func() ([]byte, error) {
		f := w.frame(paths.Cards, "Cards for the wall", "One side of paper each, to print, laminate and hang by the pond.", "")
		f.Styles = []string{w.assets.Paper}
		content := cardsContent{at: f.at, Club: w.book.Config.Club, Issue: day(w.book.Config.Issued)}
		for i, c := range w.book.Cards {
			made, err := w.card(i, c)
			if err != nil {
				return nil, err
			}
			content.Cards = append(content.Cards, made)
		}
		return w.print(f, "cards.html", content)
	}}
}

// day writes "2026-11-25" as people do; "" stays so.
func day(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return ""
	}
	return t.Format("2\u00a0January\u00a02006")
}

func (w *web) card(index int, c book.Card) (card, error) {
	made := card{Title: c.Title}
	for i, t := range c.Takes {
		prefix := fmt.Sprintf("card%d_%d_", index+1, i+1)
		text, from, err := w.taken(t, prefix)
		if err != nil {
			return card{}, err
		}
		made.Body += template.HTML(text)
		if n := len(made.From); n == 0 || made.From[n-1].Path != from.Path {
			made.From = append(made.From, from)
		}
	}
	for _, w := range c.Warns() {
		made.Body += template.HTML(w.LineHTML())
	}
	made.Letters = letters(string(made.Body))
	return made, nil
}

// taken returns one piece of a card, and the leaf that it comes from.
func (w *web) taken(t book.Take, prefix string) (string, link, error) {
	from, deeper := link{Path: t.Lead}, 1
	var nodes []*html.Node
	var err error
	if t.Chapter == nil {
		for _, c := range w.calculators() {
			if c.Path == t.Lead {
				from = c
			}
		}
		deeper = 0
		nodes, err = adapt.Fragment(t.HTML)
	} else {
		from = chapterLink(t.Chapter)
		nodes, err = w.section(t.Chapter, t.Anchor)
	}
	if err != nil {
		return "", link{}, err
	}
	target := adapt.Target{Medium: adapt.Paper, Prefix: prefix, Deeper: deeper, Skip: notOnCards,
		Link: func(_, to string) (string, string, error) {
			href, after := w.cardLink(from.Path, to)
			return href, after, nil
		}}
	text, err := target.Write(nodes...)
	return text.HTML, from, err
}

// section cuts a section out of a chapter; without an anchor the chapter's first
// words, up to its first heading.
func (w *web) section(c *book.Chapter, anchor string) ([]*html.Node, error) {
	body, err := w.book.Short(c)
	if err != nil {
		return nil, err
	}
	text := string(body)
	if anchor == "" {
		summary, err := w.book.SummaryHTML(c)
		if err != nil {
			return nil, err
		}
		text = `<p class="first">` + string(summary) + "</p>\n" + text
	}
	all, err := adapt.Fragment(text)
	if err != nil {
		return nil, err
	}
	nodes, found := adapt.Section(all, anchor)
	if !found {
		return nil, diag.Diagnostic{Position: diag.Position{File: c.File}, Problem: "the heading #" + anchor + " stands inside something else, and a card cannot take it", Remedy: "take another"}
	}
	return nodes, nil
}

// notOnCards leaves out what needs a hand to type or an eye for sources: the
// chapter has it.
func notOnCards(n *html.Node) bool {
	return adapt.Classed(n, "pad", "notes", "key") || n.Data == "sup" && n.Parent != nil && n.Parent.Data == "a"
}

// cardLink turns a link on a leaf into one on the page of cards. In print the
// reference of the leaf follows.
func (w *web) cardLink(from, to string) (href, after string) {
	if paths.Outside(to) {
		return to, ""
	}
	if strings.HasPrefix(to, "#") {
		return "", "" // to a place that the card may not have taken
	}
	target, fragment, hashed := strings.Cut(to, "#")
	target = path.Join(path.Dir(from), target)
	if ref := w.refs()[target]; ref != "" && target != from {
		after = " (" + ref + ")"
	}
	if hashed {
		target += "#" + fragment
	}
	return paths.Relative(paths.Cards, target), after
}

// refs are the references of chapters by the paths of their leaves.
func (w *web) refs() map[string]string {
	refs := map[string]string{}
	for _, p := range w.book.Parts {
		for _, c := range p.Chapters {
			refs[c.Place] = unbroken(c.Ref)
		}
	}
	return refs
}

// letters is how large a card can be set, by how much stands on it. A row, a step
// and a drawing take room beside that of their signs.
func letters(body string) string {
	signs := 40*strings.Count(body, "<tr") + 30*strings.Count(body, "<li") + 600*strings.Count(body, `<svg class="plan"`)
	for text := range strings.SplitSeq(body, "<") {
		_, after, _ := strings.Cut(text, ">")
		signs += len(strings.TrimSpace(after))
	}
	switch {
	case signs < 1700:
		return "large"
	case signs < 2500:
		return "middle"
	case signs < 3000:
		return "small"
	}
	return "least"
}
