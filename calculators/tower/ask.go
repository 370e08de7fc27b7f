package tower

import (
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/media"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/pond"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/stack"
	"mereleaf/calculators/water"
)

// crew are the calculators that the plan is composed of, declared once for all
// its questions.
type crew struct {
	pond, weight, growth, waste, ammonia                      calculators.Calculator
	media, foam, maturing, alkalinity                         calculators.Calculator
	pump, loss, bar, tray, collector, outlet, overflow, power calculators.Calculator
	nitrate, chlorine                                         calculators.Calculator
	heavy, tipping                                            calculators.Calculator
}

func newCrew() *crew {
	return &crew{
		pond: pond.Volume(), weight: fish.Weight(), growth: fish.FishGrowth(), waste: fish.FeedWaste(), ammonia: water.FreeAmmonia(),
		media: media.Volume(), foam: media.FoamStage(), maturing: media.Maturing(), alkalinity: media.AlkalinityUse(),
		pump: plumbing.PumpWorkingPoint(), loss: plumbing.PipeFriction(), bar: plumbing.SprayBar(), tray: plumbing.HolesPerTray(),
		collector: plumbing.CollectorPipe(), outlet: plumbing.GravityOutlet(), overflow: plumbing.Overflow(), power: plumbing.RunningCost(),
		nitrate: water.Nitrate(), chlorine: water.Chlorine(), heavy: stack.Weight(), tipping: stack.Tipping(),
	}
}

// answer is what a calculator said to one question.
type answer struct {
	by     *calculators.Calculator
	args   []calculators.Arg
	result calculators.Result
}

// ask puts a question to a calculator of the crew, unless it was put before. The
// question has a line for each input, "flow={~5 L/h}", with gaps for the numbers
// as in quantity.Fill; texts are handed on as they are. What the reader states is handed on
// with all its digits, what was found with those that are shown, or three: so the
// calculator gives who asks it with the numbers of the sheet the sheet's answer.
func (p *plan) ask(a *answer, c *calculators.Calculator, texts []calculators.Arg, question string, numbers ...float64) error {
	*a = answer{by: c, args: texts}
	a.put(question, numbers...)
	for i := range p.asked {
		if p.asked[i].same(a) {
			a.result = p.asked[i].result
			return nil
		}
	}
	_, r, err := c.Evaluate(a.args)
	if err != nil {
		return passOn(c, err)
	}
	if len(r.Unsaid) > 0 { // a build sheet needs every number of its parts
		return passOn(c, calculators.InputErrors{{Input: c.ID, Problem: quantity.Put("finds no {output} for these inputs", "output", r.Unsaid[0])}})
	}
	a.result = r
	p.asked = append(p.asked, *a)
	return nil
}

// same reports whether two answers are to one question.
func (a *answer) same(b *answer) bool {
	if a.by != b.by || len(a.args) != len(b.args) {
		return false
	}
	for i := range a.args {
		if a.args[i].Value != b.args[i].Value || a.args[i].Name != b.args[i].Name {
			return false
		}
	}
	return true
}

// put adds the lines of a question to the arguments.
func (a *answer) put(question string, numbers ...float64) {
	for line := range strings.SplitSeq(calculators.Text(question, numbers...), "\n") {
		name, value, _ := strings.Cut(line, "=")
		a.args = append(a.args, calculators.Arg{Name: name, Value: quantity.Ungrouped(value)})
	}
}

// read rounds a number to the significant digits with which it is shown: who reads
// it off the sheet asks another calculator with so many.
func read(v float64, digits int) float64 {
	read, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64) // what was formatted parses
	return read
}

// text is an input handed on to a part under its own name there.
func (p *plan) text(name, as string) []calculators.Arg {
	return []calculators.Arg{{Name: as, Value: p.in.Written(name)}}
}

// passOn turns a refusal of a part into one of the tower, in the part's words.
func passOn(c *calculators.Calculator, err error) error {
	errs, ok := err.(calculators.InputErrors)
	if !ok {
		return err
	}
	passed := make(calculators.InputErrors, len(errs))
	for i, e := range errs {
		passed[i] = e
		passed[i].Input = ownName(c.ID, e.Input)
		if e.Remedy == "" {
			passed[i].Remedy = quantity.Put("change it, or ask the calculator {calculator} by itself", "calculator", c.ID)
		}
	}
	return passed
}

// ownName says by which of the tower's inputs the reader can change what a part
// refused.
func ownName(id, input string) string {
	switch id + " " + input {
	case "media-volume target", "media-volume oxygen":
		return "target"
	case "media-volume flow", "pump-working-point lift", "holes-per-tray flow", "outlet flow":
		return "pump"
	case "holes-per-tray hole", "holes-per-tray margin":
		return "drills"
	case "maturing temperature", "feed-waste temperature", "media-volume temperature":
		return "summer"
	case "pump-working-point more-k", "spray-bar hole", "spray-bar flow", "spray-bar count":
		return "bar-bore"
	}
	return id + ", " + input
}

func (a *answer) value(output string) calculators.Value {
	v, _ := a.result.Value(output)
	return v
}

func (a *answer) likely(output string) float64 { return a.value(output).Likely }

// shown prints an output with its range.
func (a *answer) shown(output string) string {
	o, _ := a.by.Output(output)
	v := a.value(output)
	text := calculators.ShowOutput(o, v.Likely)
	low, high := calculators.ShowOutput(o, v.Low), calculators.ShowOutput(o, v.High)
	if low == high {
		return text
	}
	return quantity.Put(quantity.Put(quantity.Put("{likely} ({low} to {high})", "likely", text), "low", low), "high", high)
}
