package page

import (
	"bytes"
	"sync"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/figures"
)

// Resolved is what the references, tables, blocks and pictures of a Document
// come to. Its slices run parallel to the Document's.
type Resolved struct {
	Links  []Link
	Tables [][][]figures.Bound
	Images []Image
	// Block returns the fragment of a fenced block.
	Block func(*Block) (string, error)
	// Origin returns how a source is cited, its leaf and the leaf of a figure set.
	Origin Origins
}

// Origins finds what the notes below a table link to.
type Origins interface {
	// Citation returns a source's short form, "Emerson and others 1975".
	Citation(key string) string
	// SourceHref returns the link to a source in the list of sources.
	SourceHref(key string) string
	// RowHref returns the link to a row of a figure set's leaf.
	RowHref(set *figures.Set, row int) string
}

// sheet is what a document is written on: a buffer that carries the document
// and what it is resolved to, because goldmark hands only the buffer to the
// functions that write nodes.
type sheet struct {
	*bytes.Buffer
	doc      *Document
	resolved Resolved
}

// Buffered implements util.BufWriter.
func (*sheet) Buffered() int { return 0 }

// Flush implements util.BufWriter.
func (*sheet) Flush() error { return nil }

var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// Body returns everything below the title and the summary as HTML. The error is
// one of Resolved.Block.
func (d *Document) Body(r Resolved) (string, error) {
	first := d.root.FirstChild()
	for first != nil && (first == ast.Node(d.title) || first == ast.Node(d.summary)) {
		first = first.NextSibling()
	}
	return d.write(r, func(s *sheet) error {
		for n := first; n != nil; n = n.NextSibling() {
			if err := s.node(n); err != nil {
				return err
			}
		}
		return nil
	})
}

// SummaryHTML returns the content of the first paragraph.
func (d *Document) SummaryHTML(r Resolved) (string, error) {
	if d.summary == nil {
		return "", nil
	}
	return d.inner(r, d.summary)
}

// inner returns what a node holds.
func (d *Document) inner(r Resolved, n ast.Node) (string, error) {
	return d.write(r, func(s *sheet) error { return s.inner(n) })
}

func (d *Document) write(r Resolved, f func(*sheet) error) (string, error) {
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	if err := f(&sheet{b, d, r}); err != nil {
		return "", err
	}
	return b.String(), nil
}

func (s *sheet) node(n ast.Node) error { return markdown.Renderer().Render(s, s.doc.Text, n) }

func (s *sheet) inner(n ast.Node) error {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if err := s.node(c); err != nil {
			return err
		}
	}
	return nil
}

// tag writes a start tag with the attributes that are not empty.
func (s *sheet) tag(name string, attributes ...string) {
	s.attributes(name, attributes)
	_ = s.WriteByte('>')
}

// emptyTag writes the tag of an element without content.
func (s *sheet) emptyTag(name string, attributes ...string) {
	s.attributes(name, attributes)
	_, _ = s.WriteString(" />")
}

func (s *sheet) attributes(name string, attributes []string) {
	_ = s.WriteByte('<')
	_, _ = s.WriteString(name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] == "" {
			continue
		}
		_ = s.WriteByte(' ')
		_, _ = s.WriteString(attributes[i])
		_, _ = s.WriteString(`="`)
		s.text(attributes[i+1])
		_ = s.WriteByte('"')
	}
}

// text writes plain text, escaped.
func (s *sheet) text(text string) {
	_, _ = s.Write(util.EscapeHTML([]byte(text)))
}

// writers registers the functions that write nodes.
type writers struct{}

// RegisterFuncs implements renderer.NodeRenderer.
func (writers) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindText, writeText)
	r.Register(ast.KindList, writeList)
	r.Register(ast.KindListItem, writeListItem)
	r.Register(kindReference, writeReference)
	r.Register(kindBlock, writeBlock)
	r.Register(kindCaution, writeCaution)
	r.Register(kindPicture, writePicture)
	r.Register(kindTable, writeTable)
}
