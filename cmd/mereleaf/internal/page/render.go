package page

import (
	"bytes"
	"strings"

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
	// Caution returns a caution in full.
	Caution func(name string) (Panel, error)
	// Taken returns a section of another chapter.
	Taken func(*Reference) (Taken, error)
	// Short has cautions stand in one line where a chapter has them in full.
	Short bool
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

// sheet is a draft being filled in.
type sheet struct {
	markup
	doc      *Document
	resolved Resolved
	draft    *draft
	done     spot // how far the draft is written
}

// Body returns everything below the title and the summary as HTML. The error is
// one of Resolved.Block.
func (d *Document) Body(r Resolved) (string, error) {
	return d.draft.write(d, r, d.body, d.draft.end())
}

// SummaryHTML returns the content of the first paragraph.
func (d *Document) SummaryHTML(r Resolved) (string, error) {
	return d.draft.write(d, r, spot{}, d.body)
}

// write returns the HTML between two places of a draft, filled in.
func (d *draft) write(doc *Document, r Resolved, from, to spot) (string, error) {
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	s := &sheet{markup{b}, doc, r, d, from}
	if err := s.until(to); err != nil {
		return "", err
	}
	return b.String(), nil
}

// until writes on to a place of the draft. A gap may write on itself: a table
// does, to put its caption and cells where they belong.
func (s *sheet) until(to spot) error {
	for s.done.gaps < to.gaps {
		g := s.draft.gaps[s.done.gaps]
		s.copy(g.at)
		s.done.gaps++
		if err := s.fill(g); err != nil {
			return err
		}
	}
	s.copy(to.at)
	return nil
}

func (s *sheet) copy(to int) {
	_, _ = s.Write(s.draft.html[s.done.at:to])
	s.done.at = to
}

func (s *sheet) fill(g gap) error {
	switch g.kind {
	case linkGap:
		s.link(g.index)
	case panelGap:
		return s.panel(s.doc.References[g.index])
	case takenGap:
		return s.take(s.doc.References[g.index])
	case blockGap:
		return s.block(s.doc.Blocks[g.index])
	case pictureGap:
		s.picture(g.index)
	case tableGap:
		return s.table(s.doc.Tables[g.index])
	}
	return nil
}

// markup is a buffer for HTML.
type markup struct{ *bytes.Buffer }

// tag writes a start tag with the attributes that are not empty.
func (m markup) tag(name string, attributes ...string) {
	m.attributes(name, attributes)
	_ = m.WriteByte('>')
}

// emptyTag writes the tag of an element without content.
func (m markup) emptyTag(name string, attributes ...string) {
	m.attributes(name, attributes)
	_, _ = m.WriteString(" />")
}

func (m markup) attributes(name string, attributes []string) {
	_ = m.WriteByte('<')
	_, _ = m.WriteString(name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] == "" {
			continue
		}
		_ = m.WriteByte(' ')
		_, _ = m.WriteString(attributes[i])
		_, _ = m.WriteString(`="`)
		m.text(attributes[i+1])
		_ = m.WriteByte('"')
	}
}

// text writes plain text, escaped.
func (m markup) text(text string) {
	if !strings.ContainsAny(text, "&<>\"") { // nearly always, and then nothing is copied
		_, _ = m.WriteString(text)
		return
	}
	_, _ = m.Write(util.EscapeHTML([]byte(text)))
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
	r.Register(kindPanel, writePanel)
	r.Register(kindTaken, writeTaken)
	r.Register(kindPicture, writePicture)
	r.Register(kindTable, writeTable)
	r.Register(ast.KindFencedCodeBlock, writeAsTyped)
	r.Register(ast.KindCodeBlock, writeAsTyped)
}
