package figures

import "mereleaf/cmd/mereleaf/internal/diag"

// Ref is a link of the figures: or figure: scheme: a set and what it says about
// the rows meant.
type Ref struct {
	Set   string // "" in a heading or body cell: the caption's set
	Query []Pair
	Text  string // the link's text
	Pos   diag.Position

	// Column names the column whose figure is shown, in a sentence; "" if only
	// one can be meant. A heading of a table names it by the key ShowKey.
	Column string
}

// ShowKey is the key of the pair by which the link of a heading names the column
// whose figures are shown.
const ShowKey = "column"

// Pair is one constraint of a Ref: column and value, decoded.
type Pair struct{ Key, Value string }

// Table is a table of a chapter as its author wrote it.
type Table struct {
	Caption Ref
	Head    []HeadCell
	Rows    [][]BodyCell
}

// HeadCell heads a column of a Table.
type HeadCell struct {
	Text string
	Ref  *Ref // constraints for this column alone; nil for none
	Pos  diag.Position

	Quoted bool // it holds a quantity with a link of its own
}

// BodyCell is a cell below the heading.
type BodyCell struct {
	Text string
	Ref  *Ref // constraints for this row alone; nil for none
	Pos  diag.Position

	Quoted bool // it holds a quantity with a link of its own, and binds nothing by its column
}

// Bound is what a printed number is bound to. It is zero for text.
type Bound struct {
	Numeric bool
	Set     *Set
	Row     int    // index in Set.Rows
	Column  int    // index in Set.Columns; of the lower end for a range
	High    int    // index of the upper end's column; Column if there is none
	Amount  Amount // as printed in the chapter
}

// Figure returns the place of the figure.
func (b Bound) Figure() diag.Position { return b.Set.At(b.Row, b.Column) }
