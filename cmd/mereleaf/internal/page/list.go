package page

import (
	"bytes"
	"strconv"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"
)

func (s *survey) list(n *ast.List) {
	if n.IsOrdered() && n.Start != 1 {
		s.fault(n.FirstChild().Pos(), "the steps begin at "+strconv.Itoa(n.Start), "1", "number from 1, or indent what stands between the steps by three spaces")
	}
	if !n.IsOrdered() {
		return
	}
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		first := item.FirstChild()
		if first == nil {
			continue
		}
		s.Steps = append(s.Steps, Step{Text: s.plain(first), Pos: s.at(max(first.Pos(), 0)), End: s.at(s.lineEnd(s.end(item)))})
	}
}

// lineEnd returns the offset of the end of a line.
func (s *survey) lineEnd(offset int) int {
	i := bytes.IndexByte(s.Text[offset:], '\n')
	if i < 0 {
		return len(s.Text)
	}
	return offset + i
}

// writeList sets ordered lists as steps to follow. A step's content stands in
// one element, so that its number can stand beside it.
func writeList(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	open, end := "<ul>\n", "</ul>\n"
	if node.(*ast.List).IsOrdered() {
		open, end = "<ol class=\"steps\">\n", "</ol>\n"
	}
	if !entering {
		open = end
	}
	_, _ = w.WriteString(open)
	return ast.WalkContinue, nil
}

func writeListItem(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	open, end := "<li>", "</li>\n"
	if l, ok := node.Parent().(*ast.List); ok && l.IsOrdered() {
		open, end = "<li><div>", "</div></li>\n"
	}
	if !entering {
		open = end
	}
	_, _ = w.WriteString(open)
	return ast.WalkContinue, nil
}
