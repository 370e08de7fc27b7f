package page

import (
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Priorities of what the handbook adds to goldmark; the lower goes first.
const (
	// The survey looks at finished tables, so it must follow goldmark's own
	// transformer of tables, which has 0 and repairs escaped pipes.
	surveyPriority = 100
	// The handbook's writers must win over goldmark's for HTML (1000) and for
	// tables (500).
	writerPriority = 100
)

// markdown is goldmark as the handbook uses it. It has no state of its own
// after it is made, so one serves all chapters.
var markdown = newMarkdown()

func newMarkdown() goldmark.Markdown {
	return goldmark.New(
		goldmark.WithExtensions(extension.Table),
		goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(surveyor{}, surveyPriority))),
		goldmark.WithRendererOptions(
			// Pages are well-formed XML too, so that an EPUB can hold them.
			html.WithXHTML(),
			renderer.WithNodeRenderers(util.Prioritized(writers{}, writerPriority)),
		),
	)
}

// survey is the state of one Parse: it walks the syntax tree once, gives each
// node to the file of its construct, and gathers what they find.
type survey struct {
	*Document
	root    *ast.Document
	title   *ast.Heading   // nil if missing
	summary *ast.Paragraph // nil if missing
	faults  diag.List
	anchors map[string]diag.Position
	level   int // of the last heading
}

var surveyKey = parser.NewContextKey()

// surveyor hooks the survey into goldmark.
type surveyor struct{}

// Transform implements parser.ASTTransformer.
func (surveyor) Transform(root *ast.Document, _ text.Reader, pc parser.Context) {
	s := pc.Get(surveyKey).(*survey)
	s.root = root
	s.opening()
	s.children(root)
}

// Parse reads a chapter. It returns every fault that the file alone shows; the
// Document is complete as far as the file could be read, and never nil.
func Parse(file string, source []byte) (*Document, diag.List) {
	s := look(file, source)
	s.starters()
	s.draft, s.body = s.chapterDraft()
	s.Reading = s.reading()
	s.Passages = s.passages()
	return s.Document, s.faults
}

// look parses a file and surveys it. The syntax tree lives no longer than the
// survey: it takes ten times the memory of the text, and for a thousand chapters
// the collector would walk all of it again and again.
func look(file string, source []byte) *survey {
	s := &survey{Document: &Document{File: file, sections: map[string]section{}}, root: ast.NewDocument(), anchors: map[string]diag.Position{}}
	cleaned, fault := clean(file, source)
	if fault != nil {
		s.lines = newLineTable(nil)
		s.faults = diag.List{*fault}
		return s
	}
	s.Text = cleaned
	s.lines = newLineTable(cleaned)
	pc := parser.NewContext()
	pc.Set(surveyKey, s)
	markdown.Parser().Parse(text.NewReader(cleaned), parser.WithContext(pc))
	s.uses()
	s.Stretches = s.stretches()
	return s
}

// children surveys the nodes below a node. Handlers may replace the node they
// are given, so its successor is taken first.
func (s *survey) children(parent ast.Node) {
	for n := parent.FirstChild(); n != nil; {
		next := n.NextSibling()
		s.node(n)
		n = next
	}
}

func (s *survey) node(n ast.Node) {
	switch n := n.(type) {
	case *ast.Heading:
		s.heading(n)
	case *ast.Paragraph:
		if s.paragraph(n) {
			return
		}
	case *ast.Link:
		s.link(n)
	case *ast.AutoLink:
		s.autoLink(n)
	case *ast.Image:
		s.picture(n)
	case *extast.Table:
		s.table(n)
		return // it has surveyed its cells
	case *ast.Blockquote:
		s.quotation(n)
	case *ast.List:
		s.list(n)
	case *ast.FencedCodeBlock:
		s.block(n)
	case *ast.HTMLBlock, *ast.RawHTML:
		s.rawHTML(n)
	}
	s.children(n)
}

// fault reports a fault at a byte offset.
func (s *survey) fault(offset int, problem, want, remedy string) {
	s.faults.Add(diag.Diagnostic{Position: s.at(offset), Problem: problem, Want: want, Remedy: remedy})
}

func (s *survey) rawHTML(n ast.Node) {
	s.fault(n.Pos(), "raw HTML is not accepted", "Markdown",
		"write it in Markdown; for a plain < write \\<")
}
