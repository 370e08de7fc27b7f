// Package page reads a chapter of the handbook from Markdown and writes it as
// HTML.
//
// A chapter is CommonMark with tables. What the handbook adds uses only what
// CommonMark has already, so that a chapter reads well in any viewer: links
// with the handbook's own schemes (reference.go), a caption that binds a table
// to a figure set (table.go), fenced blocks for what computes (block.go),
// quotations that begin with a signal word (caution.go). Each construct has one
// file, which checks it and writes it.
//
// Parse reports all faults of one file with exact positions. It knows nothing
// of other files: whether a source or a chapter exists, and whether a number is
// right, package book finds out, and hands the outcome to Write as Resolved.
//
// It reads no files but those of an fs.FS that it is given.
package page

import (
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// Document is one parsed file. It does not change after Parse, so many
// goroutines may write it at a time.
type Document struct {
	File    string // slash-separated, relative to the project
	Text    []byte // as parsed: without byte order mark, lines ended by \n
	Title   string // plain text of the first heading
	Summary string // plain text of the first paragraph

	Headings   []Heading // below the title
	References []*Reference
	Tables     []*Table
	Blocks     []*Block
	Pictures   []*Picture
	Cautions   []Caution
	Steps      []Step   // items of its numbered lists
	Cites      []string // sources that its links name, each once, in their order
	Prints     []string // figure sets that its links and tables name, each once
	Reading    Reading
	Passages   []Passage // of a chapter, in its order; none of the file of terms
	Stretches  []Stretch // all running text

	draft    draft              // of the summary and what follows
	body     spot               // in the draft: what follows the summary
	sections map[string]section // of the draft, by the anchors of their headings
	lines    lineTable
}

// Heading is a heading below the title.
type Heading struct {
	Level  int // 2 to 6
	Text   string
	Anchor string // fragment of links to it
	Pos    diag.Position
}

// Scheme says what a link refers to.
type Scheme string

// The schemes of links.
const (
	ToChapter    Scheme = ""           // a relative path to a chapter, or a fragment of this one
	ToSource     Scheme = "source"     // source:KEY "locator"
	ToTerm       Scheme = "term"       // term:SLUG
	ToCalculator Scheme = "calculator" // calculator:ID?input=value, or with #output a quantity that is its result
	ToFigure     Scheme = "figure"     // figure:SET?column=value#column; the link's text is a quantity
	ToPond       Scheme = "pond"       // pond:NAME#fact; the link's text is a quantity
	ToLeaf       Scheme = "leaf"       // leaf:NAME, a list of the handbook, or leaf:figures/SET
	ToFigures    Scheme = "figures"    // figures:SET?column=value; binds a table
	ToCaution    Scheme = "caution"    // caution:NAME, a heading of the file of cautions
	ToTake       Scheme = "take"       // take:PATH#HEADING, a section of another chapter that stands here too
)

// Reference is a link. Links that bind a table are part of the Table instead.
type Reference struct {
	Index    int // in Document.References
	Scheme   Scheme
	Target   string // key, slug, ID, set name, or path as written
	Fragment string // behind #: the heading of a chapter, or what of its source a quantity is
	Query    []figures.Pair
	Locator  string // the link's title, for ToSource
	Text     string // plain text of the link
	Panel    bool   // for ToCaution: the link is all of a paragraph, and the caution stands there in full
	Pos      diag.Position
}

// Table is a table with what it is bound to.
type Table struct {
	Index  int
	Bound  bool // it has a caption that binds it
	Figure figures.Table
	Pos    diag.Position

	layout layout
}

// BlockKind is a kind of fenced block.
type BlockKind string

// The kinds of fenced blocks.
const (
	CalculatorBlock BlockKind = "calculator"
	LookupBlock     BlockKind = "lookup"
	ChartBlock      BlockKind = "chart"
	DrawingBlock    BlockKind = "drawing"
	MathBlock       BlockKind = "math"
)

// Block is a fenced block that computes or is set as mathematics.
type Block struct {
	Index    int
	Kind     BlockKind
	Name     string // ID of a calculator; "" for mathematics
	Settings []Setting
	TeX      string // of a MathBlock
	Pos      diag.Position
	NamePos  diag.Position
}

// Setting is one "name = value" line of a Block.
type Setting struct {
	Name, Value string
	Pos         diag.Position // of the name
	ValuePos    diag.Position
}

// Picture is an image.
type Picture struct {
	Index  int
	Alt    string
	Target string // relative path as written
	Pos    diag.Position
}

// Caution is a quotation that begins with a signal word.
type Caution struct {
	Signal string // danger, warning, caution, notice
	Text   string // what follows the signal word in bold
	Pos    diag.Position

	// Hazard is what it warns of: the name behind caution: of a link in the bold
	// words; "" if there is none.
	Hazard    string
	HazardPos diag.Position
}

// Step is something to do: an item of a numbered list, or a cell of a table.
type Step struct {
	Text string // plain
	Pos  diag.Position
	End  diag.Position // where it ends: what stands before that stands in it or above it
}
