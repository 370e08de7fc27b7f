package adapt

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// Page is a page of the web site, taken to pieces.
type Page struct {
	Title string
	Class string       // of the body
	Body  []*html.Node // what stands in the body
	Main  []*html.Node // what stands in its main element
}

// Read takes a page to pieces.
func Read(page []byte) (Page, error) {
	root, err := html.ParseWithOptions(bytes.NewReader(page), html.ParseOptionEnableScripting(false))
	if err != nil {
		return Page{}, err
	}
	var p Page
	found := 0
	for n := range root.Descendants() {
		switch n.DataAtom {
		case atom.Title:
			if n.Parent.DataAtom == atom.Head {
				p.Title = words(n)
				found |= 1
			}
		case atom.Body:
			p.Class, p.Body = Attribute(n, "class"), below(n)
		case atom.Main:
			p.Main = below(n)
			found |= 2
		}
	}
	if found != 3 {
		return Page{}, errors.New("is no page with a title and a text; restore theme/templates/leaf.html")
	}
	return p, nil
}

// below lists the nodes in another, without the line break that begins it.
func below(n *html.Node) []*html.Node {
	nodes := slices.Collect(n.ChildNodes())
	if len(nodes) > 0 && nodes[0].Type == html.TextNode {
		nodes[0] = &html.Node{Type: html.TextNode, Data: strings.TrimPrefix(nodes[0].Data, "\n")}
	}
	return nodes
}

// Fragment reads a piece of a page.
func Fragment(text string) ([]*html.Node, error) {
	body := &html.Node{Type: html.ElementNode, Data: "body", DataAtom: atom.Body}
	return html.ParseFragmentWithOptions(strings.NewReader(text), body, html.ParseOptionEnableScripting(false))
}

// Section returns those of a text's nodes that stand from its heading with the id
// anchor up to the next heading that is not below it; with "" for anchor, those
// before the first heading. Headings within other elements do not count. found is
// false if there is no such heading.
func Section(text []*html.Node, anchor string) (section []*html.Node, found bool) {
	level := 0
	if anchor == "" {
		level, found = 9, true // every heading ends it
	}
	for _, n := range text {
		if l := headingLevel(n.Data); n.Type == html.ElementNode && l > 0 {
			if found && l <= level {
				return section, true
			}
			if !found && Attribute(n, "id") == anchor {
				level, found = l, true
			}
		}
		if found {
			section = append(section, n)
		}
	}
	return section, found
}
