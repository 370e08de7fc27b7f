package quantities

import (
	"strings"
	"sync"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

// The keys of a calculator: link that are no inputs: the pond whose facts it runs
// with, and the day of a reading of its log.
const (
	pondKey = "pond"
	dayKey  = "on"
)

// Call is how a link asks a calculator.
type Call struct {
	Args  []calculators.Arg // that it runs with
	Query []calculators.Arg // what the calculator's page must be told, so that it says the same
}

// Call returns how a calculator: link asks. A link that names no pond, or the pond
// and the day of the calculator's example, lays its inputs over the example, as
// the page does; one that names another pond knows nothing of the example.
func (b *Binder) Call(c calculators.Calculator, r *page.Reference) (Call, *diag.Diagnostic) {
	var given []calculators.Arg
	name, on := "", ""
	for _, p := range r.Query {
		switch p.Key {
		case pondKey:
			name = p.Value
		case dayKey:
			on = p.Value
		default:
			given = append(given, calculators.Arg{Name: p.Key, Value: p.Value})
		}
	}
	if name == "" {
		return Call{c.Over(given, c.Example.Given), given}, nil
	}
	pond, ok := b.Ponds.Find(name)
	if !ok {
		return Call{}, unknownPond(b.Ponds, r, name)
	}
	known, ok := pond.On(on)
	if !ok {
		return Call{}, noReading(r, pond, on)
	}
	args := c.Over(given, known.Args(c))
	if name == c.Example.Pond && (on == "" || on == c.Example.Day) {
		return Call{c.Over(args, c.Example.Given), args}, nil
	}
	call := Call{args, args}
	for _, a := range c.Example.Given { // which would stand in the page's fields
		if _, stated := calculators.Find(args, a.Name); !stated {
			call.Query = calculators.With(call.Query, calculators.Arg{Name: a.Name})
		}
	}
	return call, nil
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

// run asks a calculator once for each list of inputs.
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

// Ask returns what a calculator refuses of a call.
func (b *Binder) Ask(c calculators.Calculator, call Call) error { return b.run(c, call.Args).err }

// result binds to results, or to inputs, of a calculator.
func (b *Binder) result(r *page.Reference, p Printed, names []string) (Bound, *diag.Diagnostic) {
	c, ok := b.Calculators.Find(r.Target)
	if !ok {
		return Bound{}, nil
	}
	call, d := b.Call(c, r)
	if d != nil {
		return Bound{}, nil
	}
	answer := b.run(c, call.Args)
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

// output returns a result, or one end of it.
func (b *Binder) output(c calculators.Calculator, answer *run, name string) (v value, says string, ok bool) {
	found, ok := answer.result.Value(name)
	if !ok {
		stem, low := strings.CutSuffix(name, figures.LowEnd)
		if !low {
			stem, ok = strings.CutSuffix(name, figures.HighEnd)
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
		for _, end := range []string{"", figures.LowEnd, figures.HighEnd} {
			if v, _, ok := b.output(c, answer, name+end); ok && v.equals(p, p.Amounts[i]) {
				return name + end
			}
		}
	}
	return ""
}
