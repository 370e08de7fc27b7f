package page

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// plain returns the text of a node without marks, as a reader sees it.
func (d *Document) plain(n ast.Node) string {
	if t, ok := n.FirstChild().(*ast.Text); ok && n.ChildCount() == 1 { // most cells and links
		value := t.Segment.Value(d.Text)
		if !t.IsRaw() {
			value = unescape(value)
		}
		return string(bytes.TrimSpace(value))
	}
	var b strings.Builder
	d.appendPlain(&b, n)
	return strings.TrimSpace(b.String())
}

func (d *Document) appendPlain(b *strings.Builder, n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			value := c.Segment.Value(d.Text)
			if !c.IsRaw() {
				value = unescape(value)
			}
			b.Write(value)
			if c.SoftLineBreak() || c.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(c.Value)
		default:
			d.appendPlain(b, c)
		}
	}
}

func unescape(value []byte) []byte {
	if bytes.IndexByte(value, '\\') < 0 && bytes.IndexByte(value, '&') < 0 {
		return value
	}
	return util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(value)))
}

// Running is the running text of a chapter: without headings, tables and blocks.
type Running struct{ *survey }

// Running parses the chapter again, because only reports look at its text.
func (d *Document) Running() Running { return Running{look(d.File, d.Text)} }

// FindWords returns where words first stand whole, in any case and outside
// links; false if they do not.
func (r Running) FindWords(words string) (diag.Position, bool) {
	found := -1
	_ = ast.Walk(r.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.Heading, *tableNode, *blockNode, *referenceNode, *ast.FencedCodeBlock, *ast.CodeBlock:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			if i := indexWords(n.Segment.Value(r.Text), words); entering && i >= 0 {
				found = n.Segment.Start + i
				return ast.WalkStop, nil
			}
		}
		return ast.WalkContinue, nil
	})
	return r.at(found), found >= 0
}

// indexWords is the offset of words in text, in any case, where no letter or
// digit adjoins them; -1 if there is none.
func indexWords(text []byte, words string) int {
	if words == "" {
		return -1
	}
	for i := 0; i+len(words) <= len(text); i++ {
		// Folding keeps the last five bits of an ASCII letter: a cheap test first.
		if words[0] < utf8.RuneSelf && (text[i]^words[0])&0x1f != 0 {
			continue
		}
		if strings.EqualFold(string(text[i:i+len(words)]), words) && !joined(text, i) && !joined(text, i+len(words)) {
			return i
		}
	}
	return -1
}

// joined reports whether letters or digits stand on both sides of an offset.
func joined(text []byte, i int) bool {
	before, _ := utf8.DecodeLastRune(text[:i])
	after, _ := utf8.DecodeRune(text[i:])
	return isWordRune(before) && isWordRune(after)
}

func isWordRune(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// writeText writes text. What joins a number to its unit, so that no line breaks
// between them, is markup.Mark.
func writeText(w util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.Text)
	value := n.Segment.Value(source)
	if n.IsRaw() {
		html.DefaultWriter.RawWrite(w, value)
	} else {
		html.DefaultWriter.Write(w, value)
	}
	switch {
	case n.HardLineBreak():
		_, _ = w.WriteString("<br />\n")
	case n.SoftLineBreak():
		_ = w.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}
