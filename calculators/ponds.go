package calculators

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// PondSetting and DaySetting are what a chapter writes where it means a pond of
// the handbook and a reading of its log; no input has these names.
const (
	PondSetting = "pond"
	DaySetting  = "on"
)

// Facts are what is known of one pond: texts as a reader types them, by
// Calculator.Key, as a pond record holds them.
type Facts map[string]string

// Args returns what the facts state of a calculator's inputs, those first known
// under an earlier name too. An empty text states nothing.
func (f Facts) Args(c Calculator) []Arg {
	var args []Arg
	for _, d := range c.Inputs {
		if text := f.of(c, d); text != "" {
			args = append(args, Arg{Name: d.Name, Value: text})
		}
	}
	return args
}

func (f Facts) of(c Calculator, d Input) string {
	for _, key := range c.Keys(d) {
		if text := f[key]; text != "" {
			return text
		}
	}
	return ""
}

// Ponds are the ponds that examples and tables are about. Calculators name them
// and hold no number of them.
type Ponds interface {
	// Facts returns what is known of a pond, with the readings of a day of its
	// log over it, or without any if the day is "". It reports whether there are
	// such a pond and such a reading.
	Facts(pond, day string) (Known, bool)
}

// Known is what is known of a pond: stated by its keeper, or found from that by
// Set.Results.
type Known struct{ Stated, Found Facts }

// All returns what is stated, and what is found where nothing is.
func (k Known) All() Facts {
	all := Facts{}
	for _, facts := range []Facts{k.Found, k.Stated} {
		for key, text := range facts {
			all[key] = text
		}
	}
	return all
}

// Args returns what is known of a calculator's inputs. A calculator is not told
// what it finds itself: it would find no range.
func (k Known) Args(c Calculator) []Arg {
	all := k.All()
	for _, o := range c.Outputs {
		for _, fact := range o.Facts {
			if k.Stated[fact] == "" {
				delete(all, fact)
			}
		}
	}
	return all.Args(c)
}

// Results returns the facts that follow from others: outputs that declare one,
// and what the lines of a build sheet asked other calculators, each by its first
// line. What the facts state already does not change; a calculator that refuses
// what is known of the pond adds nothing.
func (s Set) Results(known Facts) Facts {
	found := Facts{}
	for _, c := range s.all {
		if !c.finds(known) {
			continue
		}
		_, r, err := c.Evaluate(c.Over(nil, known.Args(c)))
		if err != nil {
			continue
		}
		for _, o := range c.Outputs {
			v, ok := r.Value(o.Name)
			for _, fact := range o.Facts {
				if ok && known[fact] == "" {
					found[fact] = plainOutput(o, v.Likely)
				}
			}
		}
		for _, call := range r.calls() {
			s.asked(call, known, found)
		}
	}
	return found
}

// finds reports whether an output of the calculator is a fact not known yet.
func (c Calculator) finds(known Facts) bool {
	for _, o := range c.Outputs {
		for _, fact := range o.Facts {
			if known[fact] == "" {
				return true
			}
		}
	}
	return false
}

// calls are those behind the lines of a sheet, the first one of each calculator.
func (r Result) calls() []Call {
	var calls []Call
	seen := map[string]bool{}
	for _, section := range r.Sheet {
		for _, line := range section.Lines {
			if !seen[line.By.Name] {
				calls, seen[line.By.Name] = append(calls, line.By), true
			}
		}
	}
	return calls
}

// asked adds what a call states of inputs that are the called calculator's own.
func (s Set) asked(call Call, known, found Facts) {
	c, ok := s.Find(call.Name)
	for _, a := range call.Args {
		d, declared := c.Input(a.Name)
		key := c.Key(d)
		if ok && declared && d.Fact == "" && known[key] == "" && found[key] == "" {
			found[key] = d.plainly(a.Value)
		}
	}
}

// plainly writes a quantity as a reader would type it. Other texts stay.
func (d Input) plainly(text string) string {
	if d.Type != Single {
		return text
	}
	q, err := quantity.Parse(text, d.Kind, d.Units())
	if err != nil {
		return text
	}
	return typed(q.Value, 15, q.Unit.Code)
}

// plainOutput writes a value of an output as a reader would type it who has read
// it.
func plainOutput(o Output, v float64) string {
	if o.Whole {
		return typed(v, 15, o.Unit)
	}
	return typed(v, o.Digits, o.Unit)
}

func typed(v float64, digits int, code string) string {
	text := strings.NewReplacer(",", "", "\u2212", "-").Replace(quantity.FormatPlain(v, digits))
	if quantity.Symbol(code) == "" {
		return text
	}
	return text + " " + code
}
