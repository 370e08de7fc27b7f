package calculators

import (
	"math"

	"mereleaf/calculators/quantity"
)

// Result is what a calculator found.
type Result struct {
	Values  []Value
	Flags   []string // why the answer is less sure than usual: outside a stated range, assumed data
	Advice  []string // what to do, most urgent first
	Working []Step   // how it was worked out, in order
	Scale   Scale    // limits to draw the answer against; zero for none
	Sheet   []Section

	// Unsaid names the outputs that Evaluate left out because no finite number
	// came out for them; a flag says so to the reader.
	Unsaid []string

	// Narrowings say what to measure where a range is wide.
	Narrowings []Narrowing

	// Unfit says that the answer must not be acted upon until something is
	// changed: Advice, which then comes before the answer, begins with what.
	Unfit bool
}

// Narrowing names the one input, left out so far, that would narrow the range of an
// output most; of a Choice also the option that takes what is measured.
type Narrowing struct {
	_                     Incomparable
	Output, Input, Option string
}

// wide is how many times the low end of a range its high end is where the reader is
// told what to measure.
const wide = 10

// sayWhatNarrows tells the reader what to measure where a range is wide.
func (c Calculator) sayWhatNarrows(r *Result) {
	for _, n := range r.Narrowings {
		v, ok := r.Value(n.Output)
		if !ok || v.High <= wide*v.Low {
			continue
		}
		o, _ := c.Output(n.Output)
		r.Flag(quantity.Put("{output}: the range is more than tenfold. One measurement would narrow it most: {input}.", "output", o.Label, "input", c.measured(n)))
	}
}

// measured returns what is to be measured, in the words of the form.
func (c Calculator) measured(n Narrowing) string {
	for _, i := range c.Inputs {
		if i.Name != n.Input {
			continue
		}
		for _, o := range i.Options {
			if o.Name == n.Option {
				return o.Label
			}
		}
		return i.Label
	}
	panic("calculators: " + c.ID + " would narrow by the undeclared input " + n.Input)
}

// Value is one output: the likely value, and the range where knowledge is a
// range. All three are in Output.Unit. Low equals High when there is no range.
type Value struct {
	_                 Incomparable
	Output            string
	Low, Likely, High float64
}

// Exactly returns a Value without range.
func Exactly(output string, v float64) Value { return Between(output, v, v, v) }

// Between returns a Value with range. An end that differs from the likely value
// by no more than equations are solved to is the likely value.
func Between(output string, low, likely, high float64) Value {
	return Value{Output: output, Low: settled(low, likely), Likely: likely, High: settled(high, likely)}
}

func settled(end, likely float64) float64 {
	if math.Abs(end-likely) <= 1e-9*math.Abs(likely) {
		return likely
	}
	return end
}

// Exactly adds a value without range.
func (r *Result) Exactly(output string, v float64) { r.Between(output, v, v, v) }

// Between adds a value with range.
func (r *Result) Between(output string, low, likely, high float64) {
	r.Values = append(r.Values, Between(output, low, likely, high))
}

// Step adds a line of working. The numbers fill the gaps of the label, then
// those of the text, as in quantity.Fill.
func (r *Result) Step(label, text string, numbers ...float64) {
	label, rest := quantity.Fill(label, numbers)
	step := Step{Label: label, Text: Text(text, rest...)}
	if Documented {
		step.Form = text
	}
	r.Working = append(r.Working, step)
}

// State adds a line of working that works nothing out: it says what stands in a
// table, such as the limits of a band.
func (r *Result) State(label, text string) {
	r.Working = append(r.Working, Step{Label: label, Text: text})
}

// Flag adds reasons why the answer is less sure than usual.
func (r *Result) Flag(sentences ...string) { r.Flags = append(r.Flags, sentences...) }

// Advise adds what to do next, most urgent first.
func (r *Result) Advise(sentences ...string) { r.Advice = append(r.Advice, sentences...) }

// Doubt adds one such reason, with numbers in its gaps as quantity.Fill does.
func (r *Result) Doubt(sentence string, numbers ...float64) {
	r.Flags = append(r.Flags, Text(sentence, numbers...))
}

// Say adds one thing to do after those before it, with numbers in its gaps as
// quantity.Fill does.
func (r *Result) Say(sentence string, numbers ...float64) {
	r.Advice = append(r.Advice, Text(sentence, numbers...))
}

// Text fills the gaps of a text as quantity.Fill does. It panics if numbers are
// left over, which is a mistake in the calculator.
func Text(text string, numbers ...float64) string {
	filled, rest := quantity.Fill(text, numbers)
	if len(rest) > 0 {
		panic("calculators: too many numbers for \"" + text + "\"")
	}
	return filled
}

// Hint fills the gaps of what is shown around an answer, such as an input's
// Help: the module leaves it out.
func Hint(text string, numbers ...float64) string {
	if !Documented {
		return ""
	}
	return Text(text, numbers...)
}

// Step is a line of working: what is worked out and how it came out, with the
// numbers put in.
type Step struct {
	_     Incomparable
	Label string // "pKa at 21 °C"
	Text  string // "0.09018 + 2729.92/294.15 = 9.371"

	// Form is the text with its gaps, which say how each number was rounded: by it
	// the sum is evaluated. It is set only where Documented, and "" of a line that
	// State added.
	Form string
}

// Scale is a line with limits on it, against which an output is drawn.
type Scale struct {
	Output string
	Marks  []Mark // in rising order
	Log    bool
}

// Mark is a limit on a Scale.
type Mark struct {
	_       Incomparable
	Value   float64 // in the output's unit
	Label   string  // "EU guide for carp waters"
	Source  string  // key in content/sources.json, or "" with Basis practice
	Locator string
	Basis   string // published, practice, memory
}

// Rising puts marks into rising order of their values and returns them; equal
// ones keep their places. A handful of marks is not worth the weight of package
// slices' sort in the module.
func Rising(marks []Mark) []Mark {
	for i := range marks {
		for j := i; j > 0 && marks[j].Value < marks[j-1].Value; j-- {
			marks[j], marks[j-1] = marks[j-1], marks[j]
		}
	}
	return marks
}

// InputError refuses an input.
type InputError struct {
	_       Incomparable
	Input   string // name; for a row "fish row 2, length"
	Problem string // "is 61 °C"
	Accept  string // "0 to 40 °C (sanity limit)"
	Remedy  string // what to do; may be empty
}

// Refuse returns an InputError. The numbers fill the gaps of its texts, one
// after the other, as in quantity.Fill.
func Refuse(input, problem, accept, remedy string, numbers ...float64) InputError {
	problem, numbers = quantity.Fill(problem, numbers)
	accept, numbers = quantity.Fill(accept, numbers)
	return InputError{Input: input, Problem: problem, Accept: accept, Remedy: Text(remedy, numbers...)}
}

// Error says in one line what is wrong; what was expected; what to do.
func (e InputError) Error() string {
	return quantity.Put("{input}: {fault}", "input", e.Input, "fault", e.Fault())
}

// Fault says what is wrong, without the input's name.
func (e InputError) Fault() string {
	s := "{problem}"
	switch {
	case e.Accept != "" && e.Remedy != "":
		s = "{problem}; expected {accept}; {remedy}"
	case e.Accept != "":
		s = "{problem}; expected {accept}"
	case e.Remedy != "":
		s = "{problem}; {remedy}"
	}
	return quantity.Put(s, "remedy", e.Remedy, "accept", e.Accept, "problem", e.Problem)
}

// RowName names an input of a list by its row, the first being 0: "fish row 2,
// length".
func RowName(list string, row int, column string) string {
	return quantity.Put("{row}, {column}", "row", rowOf(list, row), "column", column)
}

func rowOf(list string, row int) string {
	return quantity.Put(Text("{list} row {row 0}", float64(row+1)), "list", list)
}

// What several refusals say.
const (
	oneOf = "one of {names}"
	itIs  = "is {value}"
)

// InputErrors are all the refusals of one call.
type InputErrors []InputError

// Error gives each refusal its own line.
func (es InputErrors) Error() string {
	s := ""
	for i, e := range es {
		if i > 0 {
			s += "\n"
		}
		s += e.Error()
	}
	return s
}
