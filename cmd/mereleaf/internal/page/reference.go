package page

import (
	"bytes"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// kindReference is the kind of a link that the handbook resolves.
var kindReference = ast.NewNodeKind("Reference")

type referenceNode struct {
	ast.BaseInline
	ref *Reference
}

// Kind implements ast.Node.
func (*referenceNode) Kind() ast.NodeKind { return kindReference }

// Dump implements ast.Node.
func (n *referenceNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

const schemesWanted = "source:KEY, term:SLUG, calculator:ID, figure:SET?…, pond:NAME#…, caution:NAME, take:CHAPTER.md#…, leaf:NAME, or the relative path of a chapter"

func (s *survey) link(n *ast.Link) {
	ref, problem := parseReference(string(n.Destination))
	if problem != "" {
		s.fault(s.destination(n), problem, schemesWanted, "correct the link")
		return
	}
	if ref.Scheme == ToFigures {
		s.fault(s.destination(n), "a figures: link stands in running text",
			"it to be the only content of the paragraph just before a table", "move it there, or cite one quantity with figure:")
		return
	}
	ref.Index, ref.Pos = len(s.References), s.at(s.destination(n))
	ref.Text, ref.Locator = s.plain(n), string(n.Title)
	if ref.Text == "" {
		s.fault(n.Pos(), "the link has no text", "words to tap on", "write them between the brackets")
	}
	s.References = append(s.References, ref)
	p, whole := alone(n)
	switch {
	case ref.Scheme == ToCaution && whole:
		ref.Panel = true
		replace(p, &panelNode{ref: ref})
		return
	case ref.Scheme == ToTake && whole:
		replace(p, &takenNode{ref: ref})
		return
	case ref.Scheme == ToTake:
		s.fault(s.destination(n), "a take: link stands among other words", "it to be all of a paragraph, which the section takes the place of", "set it alone, or link to the chapter")
		return
	}
	replace(n, &referenceNode{ref: ref})
}

func (s *survey) autoLink(n *ast.AutoLink) {
	s.fault(n.Pos(), "the handbook does not link to other sites directly", schemesWanted,
		"add the work to content/sources.json and cite it as source:KEY")
}

// replace puts a node in the place of another, with its children.
func replace(old, node ast.Node) {
	for c := old.FirstChild(); c != nil; {
		next := c.NextSibling()
		node.AppendChild(node, c)
		c = next
	}
	node.SetPos(old.Pos())
	old.Parent().ReplaceChild(old.Parent(), old, node)
}

// parseReference takes a link's destination apart. problem is empty if it is
// one of the handbook's.
func parseReference(destination string) (ref *Reference, problem string) {
	ref = &Reference{}
	scheme, rest, ok := strings.Cut(destination, ":")
	if !ok || strings.ContainsAny(scheme, "/.#") {
		return chapterReference(destination)
	}
	ref.Scheme = Scheme(scheme)
	switch ref.Scheme {
	case ToSource, ToTerm, ToCalculator, ToFigure, ToPond, ToLeaf, ToFigures, ToCaution, ToTake:
	case "http", "https", "mailto":
		return nil, "the handbook does not link to other sites directly: cite the work as source:KEY"
	default:
		return nil, "the scheme " + scheme + ": is unknown"
	}
	rest, fragment, hashed := strings.Cut(rest, "#")
	target, query, _ := strings.Cut(rest, "?")
	pairs, problem := parseQuery(query)
	ref.Target, ref.Query = target, pairs
	switch {
	case problem != "":
		return nil, problem
	case target == "" && ref.Scheme != ToFigures:
		return nil, "the link names nothing behind " + scheme + ":"
	case query != "" && (ref.Scheme == ToSource || ref.Scheme == ToTerm || ref.Scheme == ToLeaf || ref.Scheme == ToCaution || ref.Scheme == ToTake):
		return nil, "a " + scheme + ": link takes no ?"
	case ref.Scheme == ToTake && (!hashed || path.Ext(target) != ".md" || strings.HasPrefix(target, "/")):
		return nil, "the link does not say which section of which chapter it takes"
	case hashed && ref.Scheme != ToCalculator && ref.Scheme != ToFigure && ref.Scheme != ToPond && ref.Scheme != ToTake:
		return nil, "a " + scheme + ": link takes no #"
	case hashed && fragment == "":
		return nil, "the link ends in an empty #"
	case ref.Scheme == ToPond && !hashed:
		return nil, "the link does not say what of the pond is meant: it has no #fact"
	case ref.Scheme == ToFigure && slices.ContainsFunc(pairs, isColumn):
		return nil, "the link names its column as column=: in a sentence it stands behind #"
	}
	var err error
	if ref.Fragment, err = url.QueryUnescape(fragment); err != nil {
		return nil, "the link has a bad % escape"
	}
	return ref, ""
}

// DrawnReference reads a link of a drawing, which binds a quantity.
func DrawnReference(href, text string, at diag.Position) (*Reference, *diag.Diagnostic) {
	ref, problem := parseReference(href)
	if problem == "" && !ref.Quantity() {
		problem = "the link of a drawing binds no quantity"
	}
	if problem != "" {
		return nil, &diag.Diagnostic{Position: at, Problem: problem, Want: "figure:SET?…#column, calculator:ID?…#result or pond:NAME#fact", Remedy: "correct the link"}
	}
	ref.Text, ref.Pos = text, at
	return ref, nil
}

// isColumn reports whether a pair names the column that is shown, as the links of
// headings do.
func isColumn(p figures.Pair) bool { return p.Key == figures.ShowKey }

// Quantity reports whether the link's text is a quantity, which is compared with
// what the link leads to.
func (r *Reference) Quantity() bool {
	return r.Scheme == ToFigure || r.Scheme == ToPond || r.Scheme == ToCalculator && r.Fragment != ""
}

func chapterReference(destination string) (*Reference, string) {
	target, fragment, hasFragment := strings.Cut(destination, "#")
	switch {
	case hasFragment && fragment == "":
		return nil, "the link ends in an empty #"
	case target == "" && !hasFragment:
		return nil, "the link leads nowhere"
	case target != "" && (path.Ext(target) != ".md" || strings.HasPrefix(target, "/")):
		return nil, "the link " + destination + " is not a chapter"
	}
	fragment, err := url.PathUnescape(fragment)
	if err != nil {
		return nil, "the link has a bad % escape"
	}
	return &Reference{Target: target, Fragment: fragment}, ""
}

// parseQuery reads name=value pairs in their order; + stands for a space.
func parseQuery(query string) ([]figures.Pair, string) {
	if query == "" {
		return nil, ""
	}
	var pairs []figures.Pair
	for part := range strings.SplitSeq(query, "&") {
		key, value, ok := strings.Cut(part, "=")
		k, err1 := url.QueryUnescape(key)
		v, err2 := url.QueryUnescape(value)
		switch {
		case !ok || key == "":
			return nil, "\"" + part + "\" is not of the form name=value"
		case err1 != nil || err2 != nil:
			return nil, "\"" + part + "\" has a bad % escape"
		}
		pairs = append(pairs, figures.Pair{Key: k, Value: v})
	}
	return pairs, ""
}

// destination returns the offset of a link's destination, or of the link if it
// is defined elsewhere.
func (s *survey) destination(n *ast.Link) int {
	start := max(n.Pos(), 0)
	if n.LastChild() != nil {
		start = max(start, s.end(n))
	}
	i := bytes.Index(s.Text[start:], []byte("]("))
	if i < 0 || n.Reference != nil {
		return n.Pos()
	}
	at := start + i + len("](")
	for at < len(s.Text) && (s.Text[at] == ' ' || s.Text[at] == '<') {
		at++
	}
	return at
}

// end returns the offset behind the last text of a node.
func (s *survey) end(n ast.Node) int {
	for c := n.LastChild(); c != nil; c = c.LastChild() {
		if t, ok := c.(*ast.Text); ok {
			return t.Segment.Stop
		}
	}
	return max(n.Pos(), 0)
}

// uses gathers which sources and figure sets the document names.
func (d *Document) uses() {
	for _, r := range d.References {
		switch r.Scheme {
		case ToSource:
			d.Cites = appendOnce(d.Cites, r.Target)
		case ToFigure:
			d.Prints = appendOnce(d.Prints, r.Target)
		}
	}
	for _, t := range d.Tables {
		if !t.Bound {
			continue
		}
		d.Prints = appendOnce(d.Prints, t.Figure.Caption.Set)
		for _, h := range t.Figure.Head {
			if h.Ref != nil && h.Ref.Set != "" {
				d.Prints = appendOnce(d.Prints, h.Ref.Set)
			}
		}
	}
}

func appendOnce(names []string, name string) []string {
	if slices.Contains(names, name) {
		return names
	}
	return append(names, name)
}

// figureRef turns a figure reference into what package figures reads.
func (r *Reference) figureRef(pos diag.Position) figures.Ref {
	return figures.Ref{Set: r.Target, Query: r.Query, Column: r.Fragment, Text: r.Text, Pos: pos}
}

// FigureRef is the reference as package figures reads it, for ToFigure.
func (r *Reference) FigureRef() figures.Ref { return r.figureRef(r.Pos) }

// Link is what a reference comes to in an edition.
type Link struct {
	Href  string // relative to the chapter's leaf
	Class string // "term", "source", "calculator", "pond", or the mark of a figure
	Leaf  string // "W 3": what a printed page shows behind the link; may be empty
	Title string // the locator in a source, or a caution in one line; may be empty
	Alert bool   // the safety alert symbol stands before its words

	Quantity *Quantity // what the link's text says; nil if that is words
}

// Quantity is a quantity of a sentence, as printed.
type Quantity struct {
	Values     []float64 // one, the two ends of a range, or the factors of a product
	Unit       string    // UCUM code of all of them; "1" for a number or count of things
	Difference bool      // of temperatures, and not a reading
}

func writeReference(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		w.(*drafter).gap(linkGap, node.(*referenceNode).ref.Index)
	} else {
		_, _ = w.WriteString("</a>")
	}
	return ast.WalkContinue, nil
}

func (s *sheet) link(index int) {
	link := s.resolved.Links[index]
	s.tag("a", "class", link.Class, "href", link.Href, "title", link.Title, "data-leaf", link.Leaf, "data-q", link.Quantity.marked())
	if link.Alert {
		_, _ = s.WriteString(alertSymbol)
	}
}

// marked is what markup.Mark says of a quantity: its values and its UCUM code. A
// difference of temperatures is in kelvin or in degrees Rankine.
func (q *Quantity) marked() string {
	if q == nil {
		return ""
	}
	code := q.Unit
	switch {
	case q.Difference && code == "Cel":
		code = "K"
	case q.Difference && code == "[degF]":
		code = "[degR]"
	}
	said := ""
	for _, v := range q.Values {
		said += strconv.FormatFloat(v, 'g', -1, 64) + " "
	}
	return said + code
}
