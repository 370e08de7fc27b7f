package page

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// opening takes the title and the summary from the top of the file.
func (s *survey) opening() {
	first := s.root.FirstChild()
	title, ok := first.(*ast.Heading)
	if !ok || title.Level != 1 {
		offset := 0
		if first != nil {
			offset = first.Pos()
		}
		s.fault(offset, "the chapter has no title", "a first line such as \"# How big is my pond\"", "begin with a heading of level 1")
		return
	}
	s.title = title
	s.Title = s.plain(title)
	if s.Title == "" {
		s.fault(title.Pos(), "the title is empty", "a title", "write it behind the #")
	}
	summary, ok := title.NextSibling().(*ast.Paragraph)
	if !ok || s.captionLink(summary) != nil {
		s.fault(title.Pos(), "no summary follows the title", "a paragraph with the answer in two or three sentences", "write it directly below the title")
		return
	}
	s.summary = summary
	s.Summary = s.plain(summary)
}

func (s *survey) heading(n *ast.Heading) {
	if n == s.title {
		s.level = 1
		return
	}
	switch {
	case n.Level == 1:
		if s.title != nil {
			s.fault(n.Pos(), "there is a second title", "one heading of level 1", "make it level 2: ##")
		}
	case s.level > 0 && n.Level > s.level+1:
		s.fault(n.Pos(), fmt.Sprintf("a heading of level %d follows one of level %d", n.Level, s.level),
			fmt.Sprintf("level %d at most", s.level+1), "take away a #")
	}
	s.level = n.Level
	h := Heading{Level: n.Level, Text: s.plain(n), Pos: s.at(n.Pos())}
	h.Anchor = Anchor(h.Text)
	s.register(n, h)
}

func (s *survey) register(n *ast.Heading, h Heading) {
	if h.Anchor == "" {
		s.fault(n.Pos(), "the heading has no words", "a heading to which a link can lead", "write words")
		return
	}
	if before, twice := s.anchors[h.Anchor]; twice {
		s.faults.Add(diag.Diagnostic{Position: h.Pos, Problem: "the anchor #" + h.Anchor + " stands twice in this chapter",
			Want: "a heading unlike the others", Remedy: "word it differently", Related: before})
		return
	}
	s.anchors[h.Anchor] = h.Pos
	s.Headings = append(s.Headings, h)
	n.SetAttributeString("id", []byte(h.Anchor))
}

// Anchor returns the fragment under which a heading, or a term, is found: its
// letters and digits in lower case, words joined by hyphens.
func Anchor(heading string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(heading) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		case r == '\'' || r == '’': // pond's: ponds
		default:
			gap = true
		}
	}
	return b.String()
}
