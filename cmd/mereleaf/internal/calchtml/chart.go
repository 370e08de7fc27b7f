package calchtml

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"mereleaf/calculators"
	"mereleaf/calculators/drawing"
	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// chartSteps is the count of pieces a line is drawn in.
const chartSteps = 60

// Chart returns a drawing of ready answers under its caption. The error names
// in one line the place that has no answer.
func (p *Pad) Chart(c calculators.Calculator, ch calculators.Chart) (string, error) {
	x, ok := c.Input(ch.X)
	if !ok {
		return "", fmt.Errorf("calculator %s: a chart runs over the unknown input %q", c.ID, ch.X)
	}
	y, ok := c.Output(ch.Show)
	if !ok {
		return "", fmt.Errorf("calculator %s: a chart shows the unknown output %q", c.ID, ch.Show)
	}
	caption, err := caption(c, ch.Caption, ch.Given)
	if err != nil {
		return "", err
	}
	ch.Caption = caption
	along, err := newRun(x, ch.From, ch.To)
	if err != nil {
		return "", fmt.Errorf("calculator %s: a chart: %w", c.ID, err)
	}
	d := drawing.Chart{
		Title: ch.Caption,
		X:     drawing.Axis{Label: withUnit(x.Label, along.code), Low: along.from, High: along.to, Unit: along.code, Others: others(x.Label, along.code)},
		Y:     drawing.Axis{Label: withUnit(y.Label, y.Unit), Log: ch.Log, Unit: y.Unit, Others: others(y.Label, y.Unit)},
	}
	if d.Series, err = series(c, ch, along); err != nil {
		return "", err
	}
	svg := d.SVG()
	if svg == "" {
		return "", fmt.Errorf("calculator %s: the chart %q has no value that can be drawn", c.ID, ch.Caption)
	}
	var b markup.Builder
	b.Open("figure")
	b.Leaf("figcaption", ch.Caption)
	b.Raw(svg)
	return b.String() + "\n", nil
}

// others is an axis in the units of the systems that have others than its own.
func others(label, code string) []drawing.Other {
	var all []drawing.Other
	from, err := quantity.ParseUnit(code)
	if err != nil {
		return nil
	}
	for _, system := range []units.System{units.Imperial, units.US} {
		if to := units.For(code, system); to != "" {
			turn := func(v float64) float64 { return from.Convert(v, quantity.MustUnit(to)) }
			all = append(all, drawing.Other{Class: string(system), Label: withUnit(label, to), Turn: turn})
		}
	}
	return all
}

func series(c calculators.Calculator, ch calculators.Chart, along run) ([]drawing.Series, error) {
	if ch.Series.Input == "" {
		points, err := along.points(c, ch.Given, ch.Show)
		return []drawing.Series{{Points: points}}, err
	}
	by, ok := c.Input(ch.Series.Input)
	if !ok {
		return nil, fmt.Errorf("calculator %s: a chart has lines for the unknown input %q", c.ID, ch.Series.Input)
	}
	var all []drawing.Series
	for _, value := range ch.Series.Values {
		points, err := along.points(c, calculators.With(ch.Given, calculators.Arg{Name: by.Name, Value: value}), ch.Show)
		if err != nil {
			return nil, err
		}
		all = append(all, drawing.Series{Label: axisText(by, value), Points: points})
	}
	return all, nil
}

// run is an input that takes values from one end to another.
type run struct {
	input    calculators.Input
	code     string // unit of from and to
	from, to float64
	steps    int
}

func newRun(d calculators.Input, from, to string) (run, error) {
	if d.Type != calculators.Single {
		return run{}, fmt.Errorf("%s is not a quantity", d.Name)
	}
	low, err := quantity.Parse(from, d.Kind, d.Units())
	if err != nil {
		return run{}, fmt.Errorf("%s: %w", d.Name, err)
	}
	high, err := quantity.Parse(to, d.Kind, d.Units())
	if err != nil {
		return run{}, fmt.Errorf("%s: %w", d.Name, err)
	}
	r := run{input: d, code: low.Unit.Code, from: low.Value, to: high.In(low.Unit).Value, steps: chartSteps}
	if !(r.from < r.to) {
		return run{}, fmt.Errorf("%s runs from %s to %s; expected a rising range", d.Name, from, to)
	}
	if d.Kind == quantity.Count { // there is no half fish
		r.steps = min(chartSteps, int(r.to-r.from))
	}
	return r, nil
}

func (r run) points(c calculators.Calculator, given []calculators.Arg, show string) ([]drawing.Point, error) {
	points := make([]drawing.Point, 0, r.steps+1)
	for i := range r.steps + 1 {
		x := r.from + (r.to-r.from)*float64(i)/float64(r.steps)
		if r.input.Kind == quantity.Count {
			x = math.Round(x)
		}
		text := strconv.FormatFloat(x, 'f', -1, 64)
		if unit := unitValue(r.code); unit != "" {
			text += " " + unit
		}
		_, result, err := c.Evaluate(calculators.With(given, calculators.Arg{Name: r.input.Name, Value: text}))
		if err != nil {
			return nil, fmt.Errorf("calculator %s, in its chart at %s %s: %s", c.ID, r.input.Name, text, oneLine(err))
		}
		if slices.Contains(result.Unsaid, show) { // a gap would be drawn over by the line
			return nil, fmt.Errorf("calculator %s, in its chart at %s %s: finds no %s", c.ID, r.input.Name, text, show)
		}
		if v, ok := result.Value(show); ok {
			points = append(points, drawing.Point{X: x, Y: v.Likely})
		}
	}
	return points, nil
}
