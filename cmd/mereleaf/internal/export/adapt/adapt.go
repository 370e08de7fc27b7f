// Package adapt makes the text of a page of the web site fit another place: paper,
// a card, the e-book, the single file. Each is a Target, which says where links
// lead, what stays alive, how deep headings stand and how ids begin; all are
// written by one walk over the page as golang.org/x/net/html reads it.
//
// Where nobody can type, a field becomes what stands in it, a list of choices the
// one that is chosen, and what only a live page uses is left out.
//
// It touches nothing outside the program.
package adapt

import (
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"mereleaf/calculators/markup"
)

// Target is the place that a text is made fit for.
type Target struct {
	// Link turns a link, which an attribute holds, into that in the new text and
	// what follows the link in print, such as " (W 3)". "" for to leaves an element
	// that leads nowhere.
	Link func(attribute, link string) (to, after string, err error)
	// Skip says which further elements to leave out; nil for none.
	Skip func(n *html.Node) bool
	// Prefix begins every id, and every reference to one by id.
	Prefix string
	// Deeper is by how many levels headings go down.
	Deeper int
	// Medium says what the text is written for.
	Medium Medium
}

// Medium is what a text is written for.
type Medium uint8

const (
	// Book is XHTML that nobody types into.
	Book Medium = iota
	// Paper is HTML that nobody types into. What can be folded is unfolded; what is
	// read out only, with the sections that are named so, is dropped.
	Paper
	// Screen is HTML with all that lives, but for what the web alone has use of.
	Screen
)

// Text is a text that fits.
type Text struct {
	HTML      string
	SVG, Math bool // whether it holds any
}

// Write returns the nodes as a text for the target. The error is Link's.
func (t Target) Write(nodes ...*html.Node) (Text, error) {
	w := writer{Target: t}
	for _, n := range nodes {
		w.node(n)
	}
	return Text{w.out.String(), w.svg, w.math}, w.fault
}

type writer struct {
	Target
	out       strings.Builder
	svg, math bool
	fault     error // the first
}

const (
	svgSpace  = "http://www.w3.org/2000/svg"
	mathSpace = "http://www.w3.org/1998/Math/MathML"
)

func (w *writer) node(n *html.Node) {
	switch n.Type {
	case html.TextNode:
		w.text(n)
	case html.ElementNode:
		w.element(n)
	}
}

func (w *writer) text(n *html.Node) {
	switch {
	case w.Medium != Screen:
		w.out.WriteString(markup.Escape(n.Data))
	case n.Parent != nil && (n.Parent.DataAtom == atom.Script || n.Parent.DataAtom == atom.Style):
		w.out.WriteString(n.Data)
	default:
		w.out.WriteString(textEscapes.Replace(n.Data))
	}
}

var textEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

func (w *writer) children(n *html.Node) {
	for c := range n.ChildNodes() {
		w.node(c)
	}
}

func (w *writer) element(n *html.Node) {
	typed := w.Medium != Screen
	switch {
	case w.leftOut(n):
		return
	case typed && n.Data == "input":
		w.out.WriteString(markup.Escape(shown(n)))
		return
	case typed && n.Data == "select":
		w.out.WriteString(" <b>" + markup.Escape(chosen(n)) + "</b>")
		return
	}
	as := w.named(n.Data)
	after := w.open(n, as)
	if void(as) {
		return
	}
	w.children(n)
	w.out.WriteString("</" + as + ">" + markup.Escape(after))
}

// leftOut reports the elements that mean something on a live page, or on the site,
// only. Templates say so by data-only.
func (w *writer) leftOut(n *html.Node) bool {
	switch only := Attribute(n, "data-only"); {
	case only == "site", only == "screen" && w.Medium != Screen, w.Skip != nil && w.Skip(n):
		return true
	}
	return w.Medium != Screen && (Has(n, "hidden") || n.Data == "button" || Classed(n, "state", "faults", "ready"))
}

// named returns the name under which an element goes on.
func (w *writer) named(name string) string {
	if w.Medium == Screen {
		return name
	}
	switch name {
	case "form", "fieldset":
		return "div"
	case "legend", "label":
		return "p"
	case "output":
		return "strong"
	}
	if w.Medium == Paper {
		switch name {
		case "details", "section":
			return "div"
		case "summary":
			return "p"
		}
	}
	if level := headingLevel(name); level > 0 {
		return "h" + string('0'+rune(min(level+w.Deeper, 6)))
	}
	return name
}

// headingLevel is 1 to 6 for h1 to h6, and 0 for all else.
func headingLevel(name string) int {
	if len(name) == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6' {
		return int(name[1] - '0')
	}
	return 0
}

// void reports the elements of HTML without an end tag.
func void(name string) bool {
	switch name {
	case "br", "hr", "img", "wbr", "col", "input", "link", "meta":
		return true
	}
	return false
}

// chosen is the option that a list of choices shows: the one selected, or the
// first.
func chosen(list *html.Node) string {
	text, first := "", true
	for n := range list.Descendants() {
		if n.DataAtom == atom.Option && (first || Has(n, "selected")) {
			text, first = strings.TrimSpace(words(n)), false
		}
	}
	return text
}

// words are the texts below a node.
func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// shown is what stands in a field.
func shown(field *html.Node) string {
	if v := Attribute(field, "value"); v != "" {
		return v
	}
	return strings.TrimSpace(Attribute(field, "placeholder"))
}

// open writes a start tag under the name given, without what only a live page
// uses, and returns what follows the element.
func (w *writer) open(n *html.Node, as string) (after string) {
	w.out.WriteString("<" + as)
	w.space(n.Data)
	for _, a := range n.Attr {
		key, value := name(a), a.Val
		switch {
		case w.live(n, key):
			continue
		case key == "role" && n.Data != "svg" && w.Medium != Screen:
			value = "group" // what scrolls, but no landmark
		case leads(key, w.Medium):
			to, behind, err := w.Link(key, value)
			if err != nil && w.fault == nil {
				w.fault = err
			}
			if value, after = to, behind; value == "" {
				continue
			}
		case key == "id" || key == "headers" || key == "aria-labelledby" || key == "aria-describedby":
			value = w.prefixed(value)
		}
		w.out.WriteString(" " + key + `="` + markup.Escape(value) + `"`)
	}
	if void(as) {
		w.out.WriteByte('/')
	}
	w.out.WriteByte('>')
	return after
}

// leads reports the attributes that hold a link. What loads or is asked for has to
// be found only where something lives.
func leads(attribute string, m Medium) bool {
	switch attribute {
	case "href":
		return true
	case "src", "data-sources", "data-reckon", "data-index":
		return m == Screen
	}
	return false
}

// space writes the namespace of an element that has one of its own, which HTML
// does without.
func (w *writer) space(name string) {
	space := ""
	switch name {
	case "svg":
		w.svg, space = true, svgSpace
	case "math":
		w.math, space = true, mathSpace
	}
	if space != "" && w.Medium == Book {
		w.out.WriteString(` xmlns="` + space + `"`)
	}
}

func (w *writer) prefixed(ids string) string {
	if w.Prefix == "" {
		return ids
	}
	list := strings.Fields(ids)
	for i := range list {
		list[i] = w.Prefix + list[i]
	}
	return strings.Join(list, " ")
}

// live reports the attributes that mean something to a script or a browser only.
// Paper is read on a screen too, where what scrolls needs the keyboard.
func (w *writer) live(n *html.Node, name string) bool {
	paper, drawn := w.Medium == Paper, n.Data == "svg"
	scrolls := paper && Has(n, "tabindex")
	switch {
	case name == "xmlns":
		return true
	case w.Medium == Screen:
		return false
	}
	switch name {
	case "autocomplete", "novalidate", "for", "disabled", "name", "loading", "focusable", "open":
		return true
	case "tabindex":
		return !paper
	case "role":
		return !drawn && !scrolls // a live region
	case "title":
		return paper
	case "aria-labelledby", "aria-label":
		if !paper {
			return Has(n, "tabindex") // the name of what scrolls, which has no role here
		}
		return !drawn && !scrolls // of many pages in one each would be a landmark
	}
	return strings.HasPrefix(name, "data-")
}

// name is an attribute's, as it was written.
func name(a html.Attribute) string {
	if a.Namespace == "" {
		return a.Key
	}
	return a.Namespace + ":" + a.Key
}

// Attribute returns an attribute's value, "" without it.
func Attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if name(a) == key {
			return a.Val
		}
	}
	return ""
}

// Has reports whether an element has an attribute, even an empty one.
func Has(n *html.Node, key string) bool {
	return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return name(a) == key })
}

// Classed reports whether an element is of one of the classes.
func Classed(n *html.Node, classes ...string) bool {
	of := strings.Fields(Attribute(n, "class"))
	return slices.ContainsFunc(classes, func(c string) bool { return slices.Contains(of, c) })
}
