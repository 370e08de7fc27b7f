package page

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// kindBlock is the kind of a fenced block that computes.
var kindBlock = ast.NewNodeKind("Block")

type blockNode struct {
	ast.BaseBlock
	block *Block
}

// Kind implements ast.Node.
func (*blockNode) Kind() ast.NodeKind { return kindBlock }

// Dump implements ast.Node.
func (n *blockNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

const blocksWanted = "calculator ID, lookup ID, chart ID, drawing ID or math"

func (s *survey) block(n *ast.FencedCodeBlock) {
	if n.Info == nil {
		return // plain preformatted text
	}
	info := n.Info.Segment
	kind, name, _ := strings.Cut(string(info.Value(s.Text)), " ")
	b := &Block{Index: len(s.Blocks), Kind: BlockKind(kind), Name: strings.TrimSpace(name), Pos: s.at(n.Pos()), NamePos: s.at(info.Start)}
	switch b.Kind {
	case MathBlock:
		s.math(n, b)
	case CalculatorBlock, LookupBlock, ChartBlock, DrawingBlock:
		if b.Name == "" || strings.Contains(b.Name, " ") {
			s.fault(info.Start, "the block names no calculator", "such as \""+kind+" free-ammonia\"", "write its name behind "+kind)
			return
		}
		b.NamePos = s.at(info.Start + len(kind) + 1)
		s.settings(n, b)
	default:
		s.fault(info.Start, "the block \""+kind+"\" is unknown", blocksWanted, "correct the word behind the fence, or leave it out for plain text")
		return
	}
	s.once(b)
	s.Blocks = append(s.Blocks, b)
	node := &blockNode{block: b}
	node.SetPos(n.Pos())
	n.Parent().ReplaceChild(n.Parent(), n, node)
}

// writeAsTyped writes text as it was typed. Long lines scroll in it, which must be
// possible without a mouse.
func writeAsTyped(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = w.WriteString("</code></pre>\n") // the writer keeps its fault to the end
		return ast.WalkContinue, nil
	}
	_, _ = w.WriteString(`<pre role="group" aria-label="As typed" tabindex="0"><code>`)
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		_, _ = w.Write(util.EscapeHTML(line.Value(source)))
	}
	return ast.WalkContinue, nil
}

// once refuses the same block twice: two pads of one name and values would have
// the same anchors.
func (s *survey) once(b *Block) {
	for _, other := range s.Blocks {
		if b.Kind != MathBlock && other.Kind == b.Kind && other.Name == b.Name && slices.EqualFunc(other.Settings, b.Settings, sameSetting) {
			s.faults.Add(diag.Diagnostic{Position: b.Pos, Problem: "the same block stands twice in this chapter", Want: "each once",
				Remedy: "link back to the first, or set other values", Related: other.Pos})
			return
		}
	}
}

func sameSetting(a, b Setting) bool { return a.Name == b.Name && a.Value == b.Value }

func (s *survey) math(n *ast.FencedCodeBlock, b *Block) {
	if b.Name != "" {
		s.fault(n.Info.Segment.Start, "words follow \"math\"", "nothing", "put the formula on the next line")
	}
	b.TeX = strings.TrimSpace(string(n.Lines().Value(s.Text)))
	if b.TeX == "" {
		s.fault(n.Pos(), "the formula is empty", "TeX", "write the formula between the fences")
	}
}

// settings reads the "name = value" lines of a block.
func (s *survey) settings(n *ast.FencedCodeBlock, b *Block) {
	for i := range n.Lines().Len() {
		segment := n.Lines().At(i)
		line := strings.TrimRight(string(segment.Value(s.Text)), " \t\n")
		if strings.TrimSpace(line) == "" {
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		set := Setting{Name: strings.TrimSpace(name), Value: strings.TrimSpace(value)}
		if !ok || set.Name == "" || set.Value == "" {
			s.fault(segment.Start, "\""+strings.TrimSpace(line)+"\" is not a setting", "name = value", "write one setting a line")
			continue
		}
		set.Pos = s.at(segment.Start + indent(name))
		set.ValuePos = s.at(segment.Start + len(name) + 1 + indent(value))
		b.Settings = append(b.Settings, set)
	}
}

// indent counts the blanks at the start of a text.
func indent(text string) int { return len(text) - len(strings.TrimLeft(text, " \t")) }

func writeBlock(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		w.(*drafter).gap(blockGap, node.(*blockNode).block.Index)
	}
	return ast.WalkContinue, nil
}

func (s *sheet) block(b *Block) error {
	fragment, err := s.resolved.Block(b)
	_, _ = s.WriteString(fragment)
	_ = s.WriteByte('\n')
	return err
}
