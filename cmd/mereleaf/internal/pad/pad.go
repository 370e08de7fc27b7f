// Package pad turns calculators into HTML: the calculation pad with its worked
// answer, the lookup table, the chart, the formulas as mathematics and the Go
// functions that compute them.
//
// Every string it returns is a fragment that is well-formed as XML, holds no
// style attribute and no script, and is the same for the same arguments, so
// that a web page, an EPUB and a printed page can share it.
package pad

import (
	"io/fs"

	"mereleaf/calculators"
)

// Pad makes the fragments. It holds no state between calls, so its methods may
// run at the same time.
type Pad struct {
	set  calculators.Set
	root fs.FS
}

// New returns a Pad for a set of calculators. root is the project's folder,
// from which FunctionSource reads Go files.
func New(set calculators.Set, root fs.FS) *Pad { return &Pad{set: set, root: root} }

// Form returns the calculation pad of a calculator on the leaf here: what is
// given, by presets over the calculator's worked example, and the answer.
func (p *Pad) Form(c calculators.Calculator, presets []calculators.Arg, here string) (string, error) {
	return "", nil
}

// Lookup returns a table of ready answers.
func (p *Pad) Lookup(c calculators.Calculator, l calculators.Lookup) (string, error) {
	return "", nil
}

// Chart returns a drawing of ready answers.
func (p *Pad) Chart(c calculators.Calculator, ch calculators.Chart) (string, error) {
	return "", nil
}

// Math returns TeX as MathML, in a line of its own if display is set.
func (p *Pad) Math(tex string, display bool) (string, error) {
	return "", nil
}

// FunctionSource returns a Go function with its comment, coloured by classes.
// name is the package and the function, "water.UnionisedFraction", found in
// calculators/water.
func (p *Pad) FunctionSource(name string) (string, error) {
	return "", nil
}
