package figures

import (
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// Folder holds the figure sets, relative to the project.
const Folder = "testdata/reference"

// Library is all figure sets and all sources. It is not changed after Read, so
// it may be used from several goroutines.
type Library struct {
	Sets    []*Set   // by name
	Sources []Source // by key

	sets    map[string]*Set
	sources map[string]int
}

// Set returns the set of the given name.
func (l *Library) Set(name string) (*Set, bool) {
	s, ok := l.sets[name]
	return s, ok
}

// Source returns the source with the given key.
func (l *Library) Source(key string) (Source, bool) {
	i, ok := l.sources[key]
	if !ok {
		return Source{}, false
	}
	return l.Sources[i], true
}

// Set is one file of figures.
type Set struct {
	Name    string   // "water-vapour-pressure-crc"
	File    string   // "testdata/reference/water-vapour-pressure-crc.csv"
	Columns []Column // in file order; the last four are source, locator, basis, note
	Rows    []Row

	heading  []Cell    // the heading cells as written
	unitAt   int       // index of the column that states each row's unit; -1 for none
	partners []partner // for each column, the one that holds the upper end of its range
}

// The columns that end every set.
const (
	columnSource  = "source"
	columnLocator = "locator"
	columnBasis   = "basis"
	columnNote    = "note"
	originColumns = 4
)

// Data returns the columns that hold the figures: all but source, locator,
// basis and note.
func (s *Set) Data() []Column { return s.Columns[:len(s.Columns)-originColumns] }

// At returns the place of a cell; row -1 is the heading.
func (s *Set) At(row, column int) diag.Position {
	if row < 0 {
		return diag.Position{File: s.File, Line: 1, Column: s.heading[column].Column}
	}
	r := s.Rows[row]
	return diag.Position{File: s.File, Line: r.Line, Column: r.Cells[column].Column}
}

// Amount returns the number in a cell; false if the cell is blank or text.
func (s *Set) Amount(row, column int) (Amount, bool) {
	c := s.Rows[row].Cells[column]
	return c.amount, c.numeric
}

// Unit returns the unit of the numbers in a cell: its column's, or the row's own
// in a set that has a column "unit"; false if the cell holds words.
func (s *Set) Unit(row, column int) (quantity.Unit, bool) {
	if !s.Rows[row].Cells[column].numeric {
		return quantity.Unit{}, false
	}
	return s.unit(row, column), true
}

// ColumnNamed returns the column of that name; false if there is none, or if
// several share the name. "low [mg/L]", as in the file's heading, tells columns
// of one name apart.
func (s *Set) ColumnNamed(name string) (int, bool) {
	found, plain := -1, plainName(name)
	for i, c := range s.Columns {
		if c.heading == plain {
			return i, true
		}
		if c.plain == plain {
			if found >= 0 {
				return -1, false
			}
			found = i
		}
	}
	return found, found >= 0
}

// Column heads a column of a set.
type Column struct {
	Name string // "temperature", as written
	Unit string // UCUM code; "" for a column of text

	unit    quantity.Unit // zero for text
	plain   string        // Name without what its spelling may vary in
	heading string        // the whole heading likewise
}

// called reports whether a plain name means the column.
func (c Column) called(plain string) bool { return c.plain == plain || c.heading == plain }

// Numeric reports whether the column states a unit.
func (c Column) Numeric() bool { return c.Unit != "" }

// Row is one line of a set.
type Row struct {
	Line                         int
	Cells                        []Cell // one for each of the set's Columns
	Source, Locator, Basis, Note string
}

// Cell is one entry of a row.
type Cell struct {
	Text   string
	Column int // byte column in the file, from 1

	plain   string // Text as compared with other words
	numeric bool
	amount  Amount
}

// The bases a figure can stand on.
const (
	Published = "published" // seen in print
	Computed  = "library"   // computed with the named library and version
	Memory    = "memory"    // of a named publication
	Practice  = "practice"  // custom of the trade
	Scenario  = "scenario"  // our invented demonstration data
)

// ScenarioPrefix begins the names of the sets whose rows may all be invented.
const ScenarioPrefix = "scenario-"
