package quantities

import (
	"strings"
	"sync"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

// The keys of a calculator: link that are no inputs: the pond whose facts it runs
// with, and the day of a reading of its log.
const (
	pondKey = "pond"
	dayKey  = "on"
)

// Args returns the inputs that a calculator: link states: those of its query over
// the facts of the pond it names.
func (b *Binder) Args(c calculators.Calculator, r *page.Reference) ([]calculators.Arg, *diag.Diagnostic) {
	var given []calculators.Arg
	name, day := "", ""
	for _, p := range r.Query {
		_, input := c.Input(p.Key)
		switch {
		case input:
			given = append(given, calculators.Arg{Name: p.Key, Value: p.Value})
		case p.Key == pondKey:
			name = p.Value
		case p.Key == dayKey:
			day = p.Value
		default:
			given = append(given, calculators.Arg{Name: p.Key, Value: p.Value})
		}
	}
	if name == "" {
		return given, nil
	}
	pond, ok := b.Ponds.Find(name)
	if !ok {
		return nil, unknownPond(b.Ponds, r, name)
	}
	known, ok := pond.On(day)
	if !ok {
		return nil, noReading(r, pond, day)
	}
	return c.Over(given, known.Args(c)), nil
}

// run is what a calculator answered.
type run struct {
	once   sync.Once
	inputs []calculators.Arg
	result calculators.Result
	err    error
}

// runs keeps what calculators answered, because many links ask the same.
type runs struct {
	mu   sync.Mutex
	made map[string]*run
}

func newRuns() *runs { return &runs{made: map[string]*run{}} }

// Run asks a calculator once for each list of inputs.
func (b *Binder) run(c calculators.Calculator, args []calculators.Arg) *run {
	key := c.ID
	for _, a := range args {
		key += "\x00" + a.Name + "\x00" + a.Value
	}
	b.runs.mu.Lock()
	r, ok := b.runs.made[key]
	if !ok {
		r = &run{inputs: args}
		b.runs.made[key] = r
	}
	b.runs.mu.Unlock()
	r.once.Do(func() {
		_, r.result, r.err = c.Evaluate(args)
	})
	return r
}

// Ask returns what a calculator refuses of the inputs of a link, laid over those of
// its example as its page does.
func (b *Binder) Ask(c calculators.Calculator, args []calculators.Arg) error {
	return b.run(c, c.Over(args, c.Example.Given)).err
}

// result binds to results, or to inputs, of a calculator.
func (b *Binder) result(r *page.Reference, p Printed, names []string) (Bound, *diag.Diagnostic) {
	c, ok := b.Calculators.Find(r.Target)
	if !ok {
		return Bound{}, nil
	}
	args, d := b.Args(c, r)
	if d != nil {
		return Bound{}, nil
	}
	answer := b.run(c, c.Over(args, c.Example.Given))
	if answer.err != nil {
		return Bound{}, nil
	}
	difference := false
	for i, a := range p.Amounts {
		name := strings.TrimSpace(names[i])
		v, says, known := b.output(c, answer, name)
		if !known {
			v, says, known = b.input(c, answer, name)
		}
		if !known {
			return fault(r, "the calculator "+c.ID+" has no result "+name+" for these inputs", "one of "+nearest(name, resultNames(answer)), "correct the name behind #")
		}
		if d := b.judge(r, p, a, v, name+" of "+c.ID, says, ""); d != nil {
			if other := b.otherResult(c, answer, p, i); other != "" && other != name {
				d.Remedy += "; it is #" + other
			}
			return Bound{}, d
		}
		difference = isStep(v.unit, p.Unit)
	}
	return Bound{Scheme: page.ToCalculator, Quantity: p.marked(difference)}, nil
}

// The ends of a result's range.
const (
	lowEnd  = "-low"
	highEnd = "-high"
)

// output returns a result, or one end of it.
func (b *Binder) output(c calculators.Calculator, answer *run, name string) (v value, says string, ok bool) {
	found, ok := answer.result.Value(name)
	if !ok {
		stem, low := strings.CutSuffix(name, lowEnd)
		if !low {
			stem, ok = strings.CutSuffix(name, highEnd)
		}
		if !low && !ok {
			return value{}, "", false
		}
		if found, ok = answer.result.Value(stem); !ok {
			return value{}, "", false
		}
		name = stem
		end := found.High
		if low {
			end = found.Low
		}
		found.Low, found.Likely, found.High = end, end, end
	}
	o, _ := c.Output(name)
	v = value{low: found.Low, likely: found.Likely, high: found.High, unit: quantity.MustUnit(o.Unit), digits: o.Digits, whole: o.Whole}
	return v, shown(o, found) + ", as the calculator says", true
}

// shown prints a result as the program does: "22 m² (18 to 27)".
func shown(o calculators.Output, v calculators.Value) string {
	text := calculators.ShowOutput(o, v.Likely)
	low, high := calculators.ShowOutput(o, v.Low), calculators.ShowOutput(o, v.High)
	if low != high {
		text += " (" + number(low) + " to " + number(high) + ")"
	}
	return strings.ReplaceAll(text, "\u00a0", " ")
}

// number is a printed quantity without its unit.
func number(text string) string {
	n, _, _ := strings.Cut(text, "\u00a0")
	return n
}

// input returns an input as stated or assumed, for what a sentence presumes.
func (b *Binder) input(c calculators.Calculator, answer *run, name string) (v value, says string, ok bool) {
	name, column, _ := strings.Cut(name, ".")
	d, ok := c.Input(name)
	if !ok {
		return value{}, "", false
	}
	text, stated := calculators.Find(answer.inputs, name)
	if !stated {
		text = d.Default
	}
	v, ok = factValue(d, text, column)
	return v, text + ", as the link says", ok
}

func resultNames(answer *run) []string {
	var names []string
	for _, v := range answer.result.Values {
		names = append(names, v.Output)
	}
	return names
}

// otherResult names another result, or an end of one, that is the amount printed.
func (b *Binder) otherResult(c calculators.Calculator, answer *run, p Printed, i int) string {
	for _, name := range resultNames(answer) {
		for _, end := range []string{"", lowEnd, highEnd} {
			if v, _, ok := b.output(c, answer, name+end); ok && v.compare(p.Amounts[i], p.Unit) == same && p.bare() == (v.unit.Code == "1") {
				return name + end
			}
		}
	}
	return ""
}
