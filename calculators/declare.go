package calculators

import (
	"runtime"

	"mereleaf/calculators/quantity"
)

// Documented is false in the WebAssembly module, which answers in a page that
// has the words around the answer already. What only pages, terminal and tests
// show of a calculator is declared under it, so that the compiler leaves it out
// of the module.
const Documented = runtime.GOOS != "wasip1"

// Incomparable, as a field, forbids == on a struct. Without it the compiler
// adds to the module a function that compares two arrays, for each length of
// list that a calculator declares: 20 kB compressed.
type Incomparable [0]func()

// Calculator is one declaration. Set.Validate says what a complete one has.
type Calculator struct {
	ID      string // lower-case words joined by hyphens: "free-ammonia"
	Inputs  []Input
	Outputs []Output // the first one is the answer, shown large

	// Compute is pure: same inputs, same result. It returns an InputError or
	// InputErrors for inputs that contradict each other; single values outside
	// Input.Accept never reach it.
	Compute func(Inputs) (Result, error)

	// These are set only where Documented.
	Title    string   // "Toxic part of an ammonia reading"
	Question string   // what it answers, one plain sentence
	Part     string   // folder of the handbook's part it belongs to: "water"
	Hazards  []Hazard // of acting on an answer; their cautions are shown with it. NoHazard alone for none
	Harmless string   // why there is none, if Hazards is NoHazard
	Cautions []string // sentences special to this calculator, shown with every answer besides
	Formulas []Formula
	Example  Example
	Ready    []Scenario // inputs a reader may start from
	Lookup   Lookup     // table for a page without JavaScript
	Chart    Chart      // drawing for a page without JavaScript
}

// InputType is the shape of an input.
type InputType uint8

// The shapes.
const (
	Single InputType = iota // one quantity of Input.Kind
	Choice                  // one of Input.Options
	Rows                    // rows of Input.Columns, such as a list of fish
)

// Input declares one thing the reader states.
type Input struct {
	Name  string   // "temperature": key on the command line and in links
	Once  []string // its earlier names, still read on the command line, in links and in pond records; its own name, if it has become a fact since
	Label string   // "Water temperature"
	Help  string   // how to get the number, one sentence
	Type  InputType

	Kind     quantity.Kind
	Unit     string // UCUM code in which Default, Accept and Stated are; "" for the kind's first
	Accept   Range  // outside it an input is refused
	Stated   Range  // outside it the answer is flagged; zero: the formula states no range
	Default  string // "21 Cel"; "" if the reader must say
	Optional bool   // may be left empty (then Inputs.Has is false)
	When     When   // the input applies only under this condition

	// Fine marks a point that most readers leave as it is: a page folds it away
	// until it is wanted. It never keeps an answer back: it has a default, may be
	// left out, or applies under a choice that is fine itself.
	Fine bool

	// Group is the heading under which inputs of a long form stand together:
	// "Fish". It is set only where Documented.
	Group string

	// Counts says which choice a unit behind the number answers: who writes "3 dKH"
	// where the kit's unit is asked beside the number means German degrees.
	Counts Counts

	Options []Option // for Choice
	Columns []Input  // for Rows: Single or Choice inputs

	// Fact names what this input states of the pond, the tap, the box or the
	// pump: "volume". Inputs of one fact hold the same thing, so that a reader
	// states it once for all calculators; Set.Validate compares their shapes,
	// who declares one must compare the meanings. What is read at different
	// times or places are different facts: "temperature" is today's,
	// "summer-temperature" that of the warmest weeks. "" for what concerns this
	// calculator only. Set.Facts lists all.
	Fact string
}

// Range is a closed interval in an input's unit, with who set it.
type Range struct {
	Low, High float64
	Origin    string // source key and locator, or "common practice", or "sanity limit"

	// LowRefused and HighRefused say why no call gives an answer at that end,
	// though a number there may be right; "" where one does, as tests demand.
	LowRefused, HighRefused string
}

// Given reports whether the range was declared.
func (r Range) Given() bool { return r.Low != 0 || r.High != 0 }

// When restricts an input to some options of a Choice input declared before it.
// The zero When always holds.
type When struct {
	Input string
	Is    []string
}

// Counts is the choice of a number's unit that stands in a field of its own.
type Counts struct {
	Input string        // a Choice declared after the number; "" for none
	Kind  quantity.Kind // of what the unit measures
	As    []CountsAs    // the first one stands for all units that are none of these
}

// CountsAs is a unit that an option of the choice means.
type CountsAs struct{ Code, Option string }

// Option is one way to answer a Choice.
type Option struct {
	_     Incomparable
	Name  string // "as-n"
	Label string // "as nitrogen (N)"
}

// Output declares one thing the calculator finds.
type Output struct {
	Name   string   // "toxic"
	Label  string   // "Un-ionised ammonia"
	Unit   string   // UCUM code
	Digits int      // significant digits the knowledge behind it bears
	Whole  bool     // printed without decimals, such as a count of things, whatever Digits says
	Also   []string // further units it is shown in, such as both gallons
	Help   string
	Fine   bool // folded away on a page until the reader wants it

	// Silent keeps it out of answers, where something else says it: it is found for
	// other calculators and for sentences that name it.
	Silent bool

	// Facts are the facts that this result is, for a pond that states none of its
	// own: by Calculator.Key, so that it may be an input of one calculator only.
	// It is set only where Documented.
	Facts []string
}

// Example is the worked example in the handbook's scenario. It holds no number
// of the pond that it is about: Set.With takes them from the pond's record.
type Example struct {
	// Story says who, where, why, in one or two sentences. Its numbers are named
	// gaps: {tan} an input, {toxic} an output, {toxic-low} an end of its range,
	// {fish.length} a column of the first row of a list.
	Story string
	Pond  string // name of a pond of the handbook; "" if it is about none
	Day   string // of a reading in the pond's log, "2025-07-11"; "" for the standing facts alone
	Given []Arg  // what the question adds to the pond, or has otherwise; "{nitrate}" is a fact of the pond
}

// Scenario is a named example that a page offers to fill in.
type Scenario struct {
	Name string // "Small patio pond"
	Example
}

// Arg is an input as text: what a form field, a link or the command line holds.
type Arg struct {
	_           Incomparable
	Name, Value string
}

// Lookup declares the table of ready answers: one input varied down the rows,
// another across the columns (optional), all others as in Given or by default.
type Lookup struct {
	Caption string
	Rows    Axis
	Columns Axis     // zero: one column for each name in Show
	Show    []string // outputs; one only if Columns is set
	Pond    string   // as in Example, Day and Given too; Caption has the same gaps
	Day     string
	Given   []Arg

	// Low shows the low end of each range in place of the likely value, where
	// whoever counts on the likely one loses fish.
	Low bool
}

// Axis is an input and the values it takes.
type Axis struct {
	Input  string
	Values []string
}

// Chart declares the drawing of one output over a running input, with a line
// for each value of a second input.
type Chart struct {
	Caption  string
	X        string // input along the axis
	From, To string // its ends, as text
	Series   Axis
	Show     string // output
	Pond     string // as in Lookup
	Day      string
	Given    []Arg
	Log      bool // logarithmic output axis
}
