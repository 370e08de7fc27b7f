package page

import (
	"bytes"
	"sync"

	"github.com/yuin/goldmark/ast"
)

// draft is a document's HTML with gaps for what other files decide: where links
// lead, what blocks and pictures come to, the frame and the notes of tables. It
// is made once, when the document is parsed, and filled in for each leaf.
type draft struct {
	html []byte
	gaps []gap // in the order of the HTML
}

// gap is a place in a draft's HTML.
type gap struct {
	at    int // offset
	kind  gapKind
	index int // in the Document's slice of the kind
}

type gapKind uint8

const (
	linkGap    gapKind = iota // the start tag of a reference
	panelGap                  // a caution in full
	blockGap                  // a fenced block
	pictureGap                // an image
	tableGap                  // a table; its caption and cells are what follows in the draft
	takenGap                  // a section of another chapter
)

// spot is a place in a draft: the gaps before it are those below an index.
type spot struct{ at, gaps int }

func (d *draft) end() spot { return spot{len(d.html), len(d.gaps)} }

// drafter is what goldmark writes a draft to.
type drafter struct {
	markup
	gaps []gap
}

// Buffered implements util.BufWriter.
func (*drafter) Buffered() int { return 0 }

// Flush implements util.BufWriter.
func (*drafter) Flush() error { return nil }

var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// newDraft returns the draft that f writes.
func newDraft(f func(*drafter)) draft {
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	d := &drafter{markup: markup{b}}
	f(d)
	return draft{bytes.Clone(b.Bytes()), d.gaps}
}

// chapterDraft drafts the content of the summary and, from body on, everything
// below the title and the summary.
func (s *survey) chapterDraft() (d draft, body spot) {
	d = newDraft(func(d *drafter) {
		if s.summary != nil {
			d.inside(s.Text, s.summary)
		}
		body = d.here()
		for n := s.root.FirstChild(); n != nil; n = n.NextSibling() {
			if n == ast.Node(s.title) || n == ast.Node(s.summary) {
				continue
			}
			h, heading := n.(*ast.Heading)
			if heading {
				s.mark(h, d.here())
			}
			d.node(s.Text, n)
			if heading {
				s.open(h, d.here())
			}
		}
		s.mark(&ast.Heading{Level: 1}, d.here())
	})
	return d, body
}

// draftInside drafts what a node holds.
func (s *survey) draftInside(n ast.Node) draft {
	return newDraft(func(d *drafter) { d.inside(s.Text, n) })
}

func (d *drafter) here() spot { return spot{d.Len(), len(d.gaps)} }

func (d *drafter) gap(kind gapKind, index int) {
	d.gaps = append(d.gaps, gap{d.Len(), kind, index})
}

// node writes a node. It cannot fail: a buffer takes everything, and no writer
// of the handbook's returns an error.
func (d *drafter) node(source []byte, n ast.Node) { _ = markdown.Renderer().Render(d, source, n) }

func (d *drafter) inside(source []byte, n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		d.node(source, c)
	}
}
