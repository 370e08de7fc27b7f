package page

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"
)

// kindCaution is the kind of a quotation that begins with a signal word.
var kindCaution = ast.NewNodeKind("Caution")

type cautionNode struct {
	ast.BaseBlock
	caution Caution
}

// Kind implements ast.Node.
func (*cautionNode) Kind() ast.NodeKind { return kindCaution }

// Dump implements ast.Node.
func (n *cautionNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// quotation makes a Caution of a quotation that begins in bold. The bold text
// is taken out of the tree; the writer sets it as the panel's head.
func (s *survey) quotation(n *ast.Blockquote) {
	first, ok := n.FirstChild().(*ast.Paragraph)
	if !ok {
		return
	}
	bold, ok := first.FirstChild().(*ast.Emphasis)
	if !ok || bold.Level != 2 {
		return
	}
	signal, text := splitSignal(s.plain(bold))
	if signal == "" {
		s.fault(bold.Pos(), "\""+s.plain(bold)+"\" is not a signal word", "Danger, Warning, Caution or Notice (ANSI Z535)",
			"begin with the one that fits, or do not begin a quotation in bold")
		return
	}
	s.boldLinks(bold)
	first.RemoveChild(first, bold)
	if empty(first, s.Text) {
		if first.NextSibling() == nil {
			s.fault(n.Pos(), "the caution says nothing behind its signal word", "what can happen and how to avoid it", "write it behind the bold words")
			return
		}
		n.RemoveChild(n, first)
	} else {
		trimStart(first, s.Text)
	}
	node := &cautionNode{caution: Caution{Signal: signal, Text: text, Pos: s.at(n.Pos())}}
	if link := hazardLink(bold); link != nil {
		node.caution.Hazard = strings.TrimPrefix(string(link.Destination), string(ToCaution)+":")
		node.caution.HazardPos = s.at(s.destination(link))
	}
	s.Cautions = append(s.Cautions, node.caution)
	replace(n, node)
	s.children(node)
}

// hazardLink returns the link in a caution's bold words that names its hazard;
// nil if there is none.
func hazardLink(bold ast.Node) *ast.Link {
	for c := bold.FirstChild(); c != nil; c = c.NextSibling() {
		if link, ok := c.(*ast.Link); ok && strings.HasPrefix(string(link.Destination), string(ToCaution)+":") {
			return link
		}
	}
	return nil
}

// boldLinks refuses links to anything else in a caution's bold words: the panel's
// head is plain.
func (s *survey) boldLinks(bold ast.Node) {
	for c := bold.FirstChild(); c != nil; c = c.NextSibling() {
		if link, ok := c.(*ast.Link); ok && link != hazardLink(bold) {
			s.fault(s.destination(link), "the head of a caution links to something", "one link at most, caution:NAME, which says what it warns of", "move the link into the text behind the bold words")
		}
	}
}

func empty(p ast.Node, source []byte) bool {
	if p.FirstChild() == nil {
		return true
	}
	t, ok := p.FirstChild().(*ast.Text)
	return ok && t.NextSibling() == nil && len(bytes.TrimSpace(t.Value(source))) == 0
}

// trimStart removes the blanks, or the line end, that the bold words left.
func trimStart(p ast.Node, source []byte) {
	t, ok := p.FirstChild().(*ast.Text)
	if !ok {
		return
	}
	if t.Segment = t.Segment.TrimLeftSpace(source); t.Segment.IsEmpty() {
		p.RemoveChild(p, t)
	}
}

// splitSignal takes "Danger: electricity." apart into danger and electricity.
// signal is empty if the text does not begin with a signal word.
func splitSignal(bold string) (signal, text string) {
	word, rest, _ := strings.Cut(bold, ":")
	word = strings.ToLower(strings.TrimRight(word, ". "))
	switch word {
	case "danger", "warning", "caution", "notice":
		return word, strings.TrimRight(strings.TrimSpace(rest), ".")
	}
	return "", ""
}

// alertSymbol is the safety alert symbol of ISO 3864 and ANSI Z535.4: a
// triangle around an exclamation mark, which shows the panel's colour.
const alertSymbol = `<svg class="alert" width="26" height="23" viewBox="0 0 26 23" aria-hidden="true" focusable="false"><path fill="currentColor" fill-rule="evenodd" d="M13 0 26 23H0zM11.6 7.5 12.2 15.5h1.6L14.4 7.5zM11.7 17.2v2.6h2.6v-2.6z"/></svg>`

func writeCaution(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = w.WriteString("</div>\n")
		return ast.WalkContinue, nil
	}
	d := w.(*drafter)
	d.panelHead(node.(*cautionNode).caution)
	return ast.WalkContinue, nil
}

// panelHead opens a panel and writes its signal word. A panel is a note and no
// landmark: a page may have the same one twice, which a list of landmarks could not
// tell apart.
func (m markup) panelHead(c Caution) {
	label := strings.ToUpper(c.Signal)
	if c.Text != "" {
		label += ": " + c.Text
	}
	m.tag("div", "class", "signal "+c.Signal, "role", "note", "aria-label", label)
	_, _ = m.WriteString(`<strong class="w">`)
	if c.Injures() {
		_, _ = m.WriteString(alertSymbol)
	}
	m.text(label)
	_, _ = m.WriteString("</strong>\n")
}

// Injures reports whether the signal word is one for harm to people. Notice is
// for harm to fish and things alone, and has no safety alert symbol (ANSI Z535.4).
func (c Caution) Injures() bool { return c.Signal != "notice" }
