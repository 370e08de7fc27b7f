package calculators

// Section is one part of a build sheet: what an answer of many lines and lists
// is made of. Its texts are ready to show, like those of a View.
type Section struct {
	_       Incomparable
	Title   string
	Says    []string   // sentences under the title
	Lines   []Line     // what was found, each with the calculator that found it
	Head    []string   // of a table; nil for none
	Rows    [][]string // as long as Head
	Steps   []string   // things to do, in order
	Hazards Hazards    // of the steps; their cautions stand with the calculator's
	Drawing string     // SVG made by package drawing, shown as it is
	Prints  []string   // drawings in true size: folded away on a page, and each a sheet of its own on paper
}

// Line is one finding of a section.
type Line struct {
	_     Incomparable
	Label string
	Text  string
	By    Call // whose finding it is: Name is a calculator's ID; zero if no other calculator found it
}
