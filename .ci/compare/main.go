// Command compare draws points at random over what the calculators accept, asks
// the calculators, and writes questions and answers as JSON. compare.py, beside it,
// answers the same questions with libraries that know nothing of the handbook, and
// holds the two against each other:
//
//	go run ./.ci/compare >points.json
//	python .ci/compare/compare.py points.json
//
// The seed is fixed, so that every run asks the same. Each axis is cut into as many
// equal parts as there are points, and each part is drawn from once: no stretch of a
// range stays unasked (a Latin hypercube; McKay and others 1979).
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/limits"
)

// seed of all draws. Another one is as good; it is fixed so that a failure is found
// again.
const seed = 20261201

// points are drawn for each subject.
const points = 300

func main() {
	if err := write(); err != nil {
		fmt.Fprintln(os.Stderr, "compare:", err)
		os.Exit(2)
	}
}

// report is what compare.py reads.
type report struct {
	Seed     uint64             `json:"seed"`
	Limits   map[string]float64 `json:"limits"` // that some outputs count to, mg/L
	Subjects []answers          `json:"subjects"`
}

type answers struct {
	Name       string         `json:"name"`
	Calculator string         `json:"calculator"`
	Digits     map[string]int `json:"digits"` // that each output shows; 0 for whole numbers
	Points     []point        `json:"points"`
}

// point is a question, as numbers in the units of its subject and as a reader would
// type it, and the answer before it is rounded: low, likely, high.
type point struct {
	Given   map[string]any        `json:"given"`
	Asked   string                `json:"asked"`
	Refused string                `json:"refused,omitempty"`
	Found   map[string][3]float64 `json:"found,omitempty"`
}

func write() error {
	out := report{
		Seed: seed,
		Limits: map[string]float64{
			"highest-total": limits.AmmoniaWatch, "until-act": limits.OxygenAct, "until-last": limits.OxygenEmergency,
			"tan-peak": limits.MatureAmmonia, "nitrite-peak": limits.MatureNitrite,
		},
	}
	all := catalog.All()
	for i, s := range subjects() {
		c, ok := all.Find(s.calculator)
		if !ok {
			return fmt.Errorf("no calculator %s", s.calculator)
		}
		a := answers{Name: s.name, Calculator: c.ID, Digits: map[string]int{}}
		for _, name := range s.outputs {
			o, ok := c.Output(name)
			if !ok {
				return fmt.Errorf("%s has no output %s", c.ID, name)
			}
			a.Digits[name] = o.Digits
			if o.Whole {
				a.Digits[name] = 0
			}
		}
		d := newDraw(rand.New(rand.NewPCG(seed, uint64(i))))
		for n := range points {
			d.begin(n)
			s.ask(d)
			p := point{Given: d.given, Asked: d.text()}
			if s.answer != nil {
				p.Found, p.Refused = s.answer(d)
			} else if err := p.evaluate(c, d, s.outputs); err != nil {
				return err
			}
			a.Points = append(a.Points, p)
		}
		out.Subjects = append(out.Subjects, a)
	}
	return json.NewEncoder(os.Stdout).Encode(out)
}

// evaluate asks a calculator. A refusal counts; a question that is none is an error.
func (p *point) evaluate(c calculators.Calculator, d *draw, outputs []string) error {
	_, r, err := c.Evaluate(d.args)
	if err != nil {
		var faults calculators.InputErrors
		if errors.As(err, &faults) {
			for _, f := range faults {
				if f.Problem == "is not an input here" || f.Problem == "is missing" {
					return fmt.Errorf("%s %s: %w", c.ID, p.Asked, err)
				}
			}
		}
		p.Refused = err.Error()
		return nil
	}
	p.Found = map[string][3]float64{}
	for _, name := range outputs {
		if v, ok := r.Value(name); ok {
			p.Found[name] = [3]float64{v.Low, v.Likely, v.High}
		}
	}
	return nil
}

// draw draws one question after the other.
type draw struct {
	random *rand.Rand
	strata map[string][]int // of each axis, in the order in which the points take them
	number int

	args  []calculators.Arg
	given map[string]any
}

func newDraw(random *rand.Rand) *draw { return &draw{random: random, strata: map[string][]int{}} }

func (d *draw) begin(number int) {
	d.number, d.args, d.given = number, nil, map[string]any{}
}

// share returns a number from 0 to 1 on an axis.
func (d *draw) share(axis string) float64 {
	order, ok := d.strata[axis]
	if !ok {
		order = d.random.Perm(points)
		d.strata[axis] = order
	}
	return (float64(order[d.number]) + d.random.Float64()) / points
}

// even draws between two numbers, each as likely as the other.
func (d *draw) even(axis string, low, high float64) float64 {
	return rounded(low + d.share(axis)*(high-low))
}

// ratio draws between two numbers above 0, each doubling as likely as the other.
func (d *draw) ratio(axis string, low, high float64) float64 {
	return rounded(low * math.Pow(high/low, d.share(axis)))
}

// whole draws a whole number, each doubling as likely as the other.
func (d *draw) whole(axis string, low, high float64) float64 {
	return math.Round(d.ratio(axis, low, high))
}

// one draws one of some words, in equal parts.
func (d *draw) one(axis string, words ...string) string {
	return words[min(int(d.share(axis)*float64(len(words))), len(words)-1)]
}

// rounded keeps six digits, so that both sides reckon with what is written.
func rounded(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	return r
}

// number states an input in a unit, under the name that it has there.
func (d *draw) put(input string, v float64, unit string) {
	d.given[input] = v
	d.args = append(d.args, calculators.Arg{Name: input, Value: strings.TrimSpace(strconv.FormatFloat(v, 'f', -1, 64) + " " + unit)})
}

// word states an input that is a choice.
func (d *draw) word(input, v string) {
	d.given[input] = v
	d.args = append(d.args, calculators.Arg{Name: input, Value: v})
}

// text is the question as it would be typed.
func (d *draw) text() string {
	var b strings.Builder
	for _, a := range d.args {
		fmt.Fprintf(&b, " %q", a.Name+"="+a.Value)
	}
	return strings.TrimSpace(b.String())
}
