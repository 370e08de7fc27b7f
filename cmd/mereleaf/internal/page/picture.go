package page

import (
	"path"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/page/svg"
)

// kindPicture is the kind of an image that the handbook resolves.
var kindPicture = ast.NewNodeKind("Picture")

type pictureNode struct {
	ast.BaseInline
	picture *Picture
	alt     *ast.Image // with the words of the description
}

// Kind implements ast.Node.
func (*pictureNode) Kind() ast.NodeKind { return kindPicture }

// Dump implements ast.Node.
func (n *pictureNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

func (s *survey) picture(n *ast.Image) {
	p := &Picture{Index: len(s.Pictures), Alt: s.plain(n), Target: string(n.Destination), Pos: s.at(n.Pos())}
	if p.Alt == "" {
		s.fault(n.Pos(), "the image has no alternative text", "what it shows, for people who cannot see it", "write it between the brackets")
	}
	switch ext := strings.ToLower(path.Ext(p.Target)); {
	case strings.Contains(p.Target, ":") || strings.HasPrefix(p.Target, "/"):
		s.fault(n.Pos(), "the image is not a file beside the chapter", "a relative path", "put the file into the part's folder and name it here")
		return
	case ext != ".svg" && ext != ".png" && ext != ".jpg" && ext != ".jpeg":
		s.fault(n.Pos(), "the image "+p.Target+" is of another kind", "a .svg, .png or .jpg file", "convert it")
		return
	}
	s.Pictures = append(s.Pictures, p)
	node := &pictureNode{picture: p, alt: n}
	node.SetPos(n.Pos())
	n.Parent().ReplaceChild(n.Parent(), n, node)
}

// Image is what a picture comes to in an edition: a line drawing that is part of
// the page, or a file that the page loads.
type Image struct {
	Drawing       *svg.Drawing // nil for a file
	Src           string       // relative to the chapter's leaf
	Width, Height int          // pixels; known beforehand, so that the text does not jump
}

func writePicture(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		w.(*drafter).gap(pictureGap, node.(*pictureNode).picture.Index)
	}
	return ast.WalkSkipChildren, nil
}

func (s *sheet) picture(index int) {
	i := s.resolved.Images[index]
	if i.Drawing != nil {
		_, _ = s.WriteString(i.Drawing.HTML(s.doc.Pictures[index].Alt))
		return
	}
	s.emptyTag("img", "src", i.Src, "alt", s.doc.Pictures[index].Alt, "width", strconv.Itoa(i.Width), "height", strconv.Itoa(i.Height), "loading", "lazy")
}
