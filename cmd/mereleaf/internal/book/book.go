// Package book reads the folder content/ into a Book: the handbook's parts,
// chapters, terms and figures, with every reference between them resolved.
//
// It reads no files but those of an fs.FS that it is given.
package book

import (
	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/page/svg"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// Book is the handbook as read. It does not change: Reread returns a new one
// that shares what did not change.
type Book struct {
	Config      Config
	Parts       []*Part
	Terms       []Term // in alphabetical order
	Library     *figures.Library
	Ponds       ponds.Ponds
	Calculators calculators.Set // with their examples completed from the ponds
	Pictures    []Picture       // every image file, in path order
	Urgent      []Urgent        // the cover's first list
	Cards       []Card          // for the wall by the pond
	Cautions    []page.Warned

	state *state
}

// Config is content/handbook.toml.
type Config struct {
	Title    string       `toml:"title"`
	Subtitle string       `toml:"subtitle"` // one sentence: who it is for
	Language string       `toml:"language"` // BCP 47
	Club     string       `toml:"club"`
	Issued   string       `toml:"issued"` // day of the last change, "2026-11-25", which the e-book must state; may be empty
	Parts    []PartConfig `toml:"part"`

	// Nouns are the things that the book counts, plurals by singulars: a number of
	// them is a quantity.
	Nouns map[string]string `toml:"nouns"`

	Urgent []UrgentConfig `toml:"urgent"` // most urgent first
	Cards  []CardConfig   `toml:"card"`   // for the wall by the pond

	Acts    []ActConfig   `toml:"act"`   // what the verbs that open a step may do to people and fish
	Columns []StepsConfig `toml:"steps"` // headings of tables whose cells are steps
	Carries []CarryConfig `toml:"carry"` // cautions that a whole chapter must have

	text []byte // of the file
}

// PartConfig declares a part: its folder below content/, the letter of its
// thumb notch and leaf references, its title.
type PartConfig struct {
	Folder string `toml:"folder"`
	Letter string `toml:"letter"`
	Title  string `toml:"title"`
	About  string `toml:"about"` // one sentence for the part's own leaf
}

// Part is a part with its chapters in order.
type Part struct {
	Folder, Letter, Title, About string
	Chapters                     []*Chapter
}

// Chapter is a chapter in its place.
type Chapter struct {
	File       string // "content/water/20-ammonia.md"
	Part       *Part
	Number     int      // 20, from the file's name: it orders, and is not shown
	Slug       string   // "ammonia"
	Ref        string   // "W 2": part letter and place in the part
	Place      string   // "water/ammonia.html"
	Prev, Next *Chapter // neighbours in the whole handbook; nil at its ends
	Title      string
	Summary    string // plain text
	Text       []byte
	Doc        *page.Document
}

// Term is an entry of content/terms.md.
type Term struct {
	Slug string // "total-ammonia"
	Name string // "Total ammonia"
	Also []string
	Text string // the explanation, plain
	Pos  diag.Position

	entry page.Entry
}

// Picture is an image file of the handbook.
type Picture struct {
	File    string       // "content/water/kit.jpg"
	Drawing *svg.Drawing // of a .svg file, which becomes part of its pages; the rest is for the others

	Place         string // "water/kit.jpg", in an edition
	Data          []byte
	Width, Height int // pixels
}
