package website

import (
	"strconv"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/readings"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// logContent is what the log of readings takes from the calculator that weighs
// them: its inputs to type into, its bands to draw. The script does the rest.
type logContent struct {
	at
	Tests  []logTest   // numbers to type
	Kits   []logChoice // as what a kit reads them
	Seen   []logChoice // what else belongs to a reading
	Asked  []logFact   // what the calculator asks for besides; the pond record has it
	Series []logSeries
	Levels []choice
}

type logTest struct {
	Name, Label, Help string
	Fact              string // in the pond record
	Basis             string // name of its choice among Kits; "" for none
	Low, High         string // what is accepted, in Code
	Code, Symbol      string // the unit it is kept in
	Units             []logUnit
}

// logUnit is a unit that a number may come in. Times Per, plus Add, it is in the
// unit that the test is kept in.
type logUnit struct {
	Code, Symbol, Per, Add string
	Typed                  bool // offered to who types, not only read from files
}

type logChoice struct {
	Name, Label, Help, Fact, Default string
	Options                          []logOption
}

// logOption is a choice. Times Per, a kit's number is in the terms of the bands; Unit is
// the code of what it counts in, if other options count in another.
type logOption struct{ Name, Label, Per, Unit string }

type logFact struct{ Name, Key, Label string }

// logSeries is what is drawn in one chart.
type logSeries struct {
	Name, Label, As, Symbol string
	Limits                  []logLimit
}

type logLimit struct {
	Value, Level, Says string
	Below              bool
}

// weighs is the calculator that weighs what is logged.
const weighs = "readings"

func (w *web) log() Page {
	f := w.frame(paths.Log, paths.LogTitle, paths.LogSays, "")
	f.Script, f.Styles = w.assets.Log, []string{w.assets.LogStyle}
	c := w.logContent(f.at)
	return w.listed(f, "log.html", c, f.Script, f.Styles, c.Tests, c.Kits, c.Seen, c.Asked, c.Series, c.Levels)
}

func (w *web) logContent(here at) logContent {
	c := logContent{at: here}
	for level := range 4 {
		c.Levels = append(c.Levels, choice{strconv.Itoa(level), readings.LevelWord(level)})
	}
	calculator, ok := w.book.Calculators.Find(weighs)
	if !ok {
		return c // a handbook for tests, whose log has nothing to type
	}
	basis, drawn := map[string]string{}, map[string]bool{}
	for _, s := range readings.AllSeries() {
		basis[s.Name], drawn[s.Name] = s.Basis, true
		c.Series = append(c.Series, newSeries(calculator, s))
	}
	kit := map[string]bool{}
	for _, b := range basis {
		kit[b] = true
	}
	for _, d := range calculator.Inputs {
		switch {
		case drawn[d.Name]:
			c.Tests = append(c.Tests, newTest(calculator, d, basis[d.Name]))
		case kit[d.Name]:
			c.Kits = append(c.Kits, newChoice(calculator, d))
		case d.Type == calculators.Choice:
			c.Seen = append(c.Seen, newChoice(calculator, d))
		default:
			c.Asked = append(c.Asked, logFact{d.Name, calculator.Key(d), d.Label})
		}
	}
	return c
}

func newTest(c calculators.Calculator, d calculators.Input, basis string) logTest {
	kept := quantity.MustUnit(d.UnitCode())
	t := logTest{
		Name: d.Name, Label: d.Label, Help: d.Help, Fact: c.Key(d), Basis: basis, Low: exact(d.Accept.Low), High: exact(d.Accept.High),
		Code: kept.Code, Symbol: quantity.Symbol(kept.Code),
	}
	for _, code := range d.Units() {
		u := quantity.MustUnit(code)
		add := u.Convert(0, kept)
		// Kits read milligrams; a second unit there would only be mistaken.
		typed := code == kept.Code || d.Kind != quantity.Concentration
		t.Units = append(t.Units, logUnit{code, quantity.Symbol(code), exact(u.Factor / kept.Factor), exact(add), typed})
	}
	return t
}

func newChoice(c calculators.Calculator, d calculators.Input) logChoice {
	made := logChoice{Name: d.Name, Label: d.Label, Help: d.Help, Fact: c.Key(d), Default: d.Default}
	for _, o := range d.Options {
		made.Options = append(made.Options, logOption{o.Name, o.Label, exact(readings.InBands(d.Name, o.Name, 1)), countedIn(c, d.Name, o.Name)})
	}
	return made
}

// countedIn is the unit that a number of the calculator bears if the choice of its
// unit is the option; "" if none is.
func countedIn(c calculators.Calculator, choice, option string) string {
	for _, d := range c.Inputs {
		for _, as := range d.Counts.As {
			if d.Counts.Input == choice && as.Option == option {
				return as.Code
			}
		}
	}
	return ""
}

func newSeries(c calculators.Calculator, s readings.Series) logSeries {
	made := logSeries{Name: s.Name, As: s.As, Symbol: quantity.Symbol(s.Unit)}
	if d, ok := c.Input(s.Name); ok {
		made.Label = d.Label
	} else if o, ok := c.Output(s.Name); ok {
		made.Label, made.As = o.Label, "" // its label says it
	}
	for _, l := range s.Limits {
		made.Limits = append(made.Limits, newLimit(s, l))
	}
	return made
}

func newLimit(s readings.Series, l limits.Limit) logLimit {
	made := logLimit{Value: exact(l.Value()), Level: strconv.Itoa(l.Band), Below: l.Side == limits.Below}
	const least = 1e-9 // below all that a kit shows
	at := quantity.WithUnit(quantity.FormatPlain(l.Value(), 4), s.Unit)
	says := "{band} from {limit}"
	switch {
	case l.Value() < least:
		made.Value, says = "0", "{band}: any that shows"
	case made.Below:
		says = "{band} from {limit} down"
	}
	made.Says = quantity.Put(quantity.Put(says, "band", readings.LevelWord(l.Band)), "limit", at)
	return made
}

// exact writes a number so that the script reads the same one.
func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
