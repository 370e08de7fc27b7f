// Package calchtml turns calculators into HTML: the calculation pad with its worked
// answer, the lookup table, the chart, the formulas as mathematics and the Go
// functions that compute them.
//
// Every string it returns is a fragment that is well-formed as XML, holds no
// style attribute and no script, and is the same for the same arguments, so
// that a web page, an EPUB and a printed page can share it.
//
// The script in theme/script brings a pad to life. What it relies on:
//
//	form[data-calculator]   ID of the calculator; data-sources is the link to
//	                        the leaf of sources
//	fieldset.given          disabled until the calculator has been loaded
//	.ready                  scenarios to start from, hidden without the script
//	[data-ready]            the button of one: the inputs that it states, as a
//	                        link would carry them; the others take their
//	                        defaults; data-story tells whose pond it is
//	fieldset.group          inputs under one heading, its legend
//	[data-input]            one input; data-fact names the fact that it states in
//	                        the pond record, if others ask for it too; data-once
//	                        has its earlier names; data-when
//	                        and data-is name the choice and the options under
//	                        which it applies, data-default its default,
//	                        data-assumed what is said of a fine one that is not
//	                        stated, data-stated marks what is: a list shows its
//	                        default too
//	details.fine            the fine points of a group, under a line .points that
//	                        says what is assumed
//	[name], select.unit     the field of a value and of its unit
//	.line                   one row of a list of rows; .add and .remove
//	.note .whose            says whose numbers the pad shows
//	.note .state            where the script says how loading goes
//	.faults                 where refused inputs are listed
//	.answer                 the answer, from package answer
//
// It reads no files but those of an fs.FS that it is given.
package calchtml

import (
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// Pad makes the fragments. Its methods may run at the same time.
type Pad struct {
	set  calculators.Set
	root fs.FS

	cautions map[calculators.Hazard]page.Warned

	mu        sync.Mutex
	functions map[string]map[string]function // by folder and name, once looked for
}

// New returns a Pad for a set of calculators. root is the project's folder,
// from which it reads the cautions, and FunctionSource reads Go files, each once.
func New(set calculators.Set, root fs.FS) *Pad {
	p := &Pad{set: set, root: root, functions: map[string]map[string]function{}, cautions: map[calculators.Hazard]page.Warned{}}
	for _, w := range page.ReadCautions(root) {
		p.cautions[calculators.Hazard(w.Slug)] = w
	}
	return p
}

// Cautions returns the cautions of hazards that the handbook has.
func (p *Pad) Cautions(hazards []calculators.Hazard) []page.Warned {
	var all []page.Warned
	for _, h := range hazards {
		if w, ok := p.cautions[h]; ok {
			all = append(all, w)
		}
	}
	return all
}

// Origin returns the line under a lookup table or a chart on the leaf here that
// leads to how the calculator reckons it.
func (p *Pad) Origin(c calculators.Calculator, here string) string {
	var b markup.Builder
	b.Open("p", "class", "key")
	b.Leaf("span", "Reckoned", "class", "r")
	b.Text(" by this book: ")
	b.Leaf("a", "formulas, sources and code", "href", paths.Relative(here, paths.Calculator(c.ID)+"#formulas"))
	b.Text(".")
	return b.String() + "\n"
}

// reckon computes a view for a page, on which nothing may be left out. The error is
// one line.
func reckon(c calculators.Calculator, args []calculators.Arg) (calculators.View, error) {
	v, err := c.Reckon(args)
	if err != nil {
		return v, fmt.Errorf("calculator %s: %s", c.ID, oneLine(err))
	}
	if len(v.Unsaid) > 0 {
		return v, fmt.Errorf("calculator %s: finds no %s for these inputs", c.ID, v.Unsaid[0])
	}
	return v, nil
}

func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }
