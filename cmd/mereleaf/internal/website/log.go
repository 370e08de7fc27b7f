package website

import (
	"encoding/json"

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
	Declared logDeclared
}

// logDeclared is what the script has as JSON; theme/script/log/reading.ts reads it.
type logDeclared struct {
	Tests   []logTest   `json:"tests"`   // numbers to type
	Choices []logChoice `json:"choices"` // what else belongs to a reading
	Asked   []logFact   `json:"asked"`   // what the calculator asks for besides; the pond record has it
	Series  []logSeries `json:"series"`
	Levels  []string    `json:"levels"`
}

func (d logDeclared) JSON() (string, error) {
	text, err := json.Marshal(d)
	return string(text), err
}

type logTest struct {
	Name   string    `json:"name"`
	Label  string    `json:"label"`
	Fact   string    `json:"fact"`  // in the pond record
	Basis  string    `json:"basis"` // name of its choice among the kits; "" for none
	Low    float64   `json:"low"`   // what is accepted, in Code
	High   float64   `json:"high"`
	Code   string    `json:"code"` // the unit it is kept in
	Symbol string    `json:"symbol"`
	Units  []logUnit `json:"units"`
}

// logUnit is a unit that a number may come in. Times Per, plus Add, it is in the
// unit that the test is kept in.
type logUnit struct {
	Code   string  `json:"code"`
	Symbol string  `json:"symbol"`
	Per    float64 `json:"per"`
	Add    float64 `json:"add"`
	Filed  bool    `json:"filed,omitempty"` // read where it is written, not offered to who types
}

type logChoice struct {
	Name    string      `json:"name"`
	Label   string      `json:"label"`
	Help    string      `json:"-"`
	Fact    string      `json:"fact"`
	Default string      `json:"byDefault"`
	Kit     bool        `json:"kit"` // it says as what a kit reads
	Options []logOption `json:"options"`
}

// logOption is a choice. Times Per, a kit's number is in the terms of the bands; Unit is
// the code of what it counts in, if other options count in another.
type logOption struct {
	Name  string  `json:"name"`
	Label string  `json:"label"`
	Per   float64 `json:"per"`
	Unit  string  `json:"unit"`
}

type logFact struct {
	Name  string `json:"name"`
	Key   string `json:"key"`
	Label string `json:"label"`
}

// logSeries is what is drawn in one chart.
type logSeries struct {
	Name   string     `json:"name"`
	Label  string     `json:"label"`
	As     string     `json:"as"`
	Symbol string     `json:"symbol"`
	Limits []logLimit `json:"limits"`
}

type logLimit struct {
	Value float64 `json:"value"`
	Level int     `json:"level"`
	Says  string  `json:"says"` // "watch from 0.05 mg/L"
}

// weighs is the calculator that weighs what is logged.
const weighs = "readings"

func (w *web) log() Page {
	f := w.frame(paths.Log, paths.LogTitle, paths.LogSays, "")
	f.Script, f.Styles = w.assets.Log, []string{w.assets.LogStyle}
	c := w.logContent(f.at)
	return w.listed(f, "log.html", c, f.Script, f.Styles, c.Declared)
}

func (w *web) logContent(here at) logContent {
	d := logDeclared{[]logTest{}, []logChoice{}, []logFact{}, []logSeries{}, []string{}} // an array even if empty
	for level := range 4 {
		d.Levels = append(d.Levels, readings.LevelWord(level))
	}
	calculator, ok := w.book.Calculators.Find(weighs)
	if !ok {
		return logContent{here, d} // a handbook for tests, whose log has nothing to type
	}
	basis, drawn := map[string]string{}, map[string]bool{}
	for _, s := range readings.AllSeries() {
		basis[s.Name], drawn[s.Name] = s.Basis, true
		d.Series = append(d.Series, newSeries(calculator, s))
	}
	kit := map[string]bool{}
	for _, b := range basis {
		kit[b] = true
	}
	for _, in := range calculator.Inputs {
		switch {
		case drawn[in.Name]:
			d.Tests = append(d.Tests, newTest(calculator, in, basis[in.Name]))
		case kit[in.Name] || in.Type == calculators.Choice:
			d.Choices = append(d.Choices, newChoice(calculator, in, kit[in.Name]))
		default:
			d.Asked = append(d.Asked, logFact{in.Name, calculator.Key(in), in.Label})
		}
	}
	return logContent{here, d}
}

func newTest(c calculators.Calculator, d calculators.Input, basis string) logTest {
	kept := quantity.MustUnit(d.UnitCode())
	t := logTest{
		Name: d.Name, Label: d.Label, Fact: c.Key(d), Basis: basis, Low: d.Accept.Low, High: d.Accept.High,
		Code: kept.Code, Symbol: quantity.Symbol(kept.Code),
	}
	for _, code := range d.Units() {
		u := quantity.MustUnit(code)
		// Kits read milligrams; a second unit there would only be mistaken.
		filed := code != kept.Code && d.Kind == quantity.Concentration
		t.Units = append(t.Units, logUnit{code, quantity.Symbol(code), u.Factor / kept.Factor, u.Convert(0, kept), filed})
	}
	return t
}

func newChoice(c calculators.Calculator, d calculators.Input, kit bool) logChoice {
	made := logChoice{Name: d.Name, Label: d.Label, Help: d.Help, Fact: c.Key(d), Default: d.Default, Kit: kit}
	for _, o := range d.Options {
		made.Options = append(made.Options, logOption{o.Name, o.Label, readings.InBands(d.Name, o.Name, 1), countedIn(c, d.Name, o.Name)})
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
	made := logLimit{Value: l.Value(), Level: l.Band}
	const least = 1e-9 // below all that a kit shows
	at := quantity.WithUnit(quantity.FormatPlain(l.Value(), 4), s.Unit)
	says := "{band} from {limit}"
	switch {
	case l.Value() < least:
		made.Value, says = 0, "{band}: any that shows"
	case l.Side == limits.Below:
		says = "{band} from {limit} down"
	}
	made.Says = quantity.Put(quantity.Put(says, "band", readings.LevelWord(l.Band)), "limit", at)
	return made
}
