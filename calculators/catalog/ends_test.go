package catalog_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"pgregory.net/rapid"
)

// sound draws an acceptable text for an input.
func sound(t *rapid.T, d calculators.Input) string {
	switch d.Type {
	case calculators.Choice:
		return rapid.SampledFrom(d.Options).Draw(t, d.Name).Name
	case calculators.Rows:
		if d.Fact == "pump-curve" {
			return fallingCurve(t)
		}
		rows := make([]string, rapid.IntRange(1, 4).Draw(t, "rows"))
		for i := range rows {
			cells := make([]string, len(d.Columns))
			for j, c := range d.Columns {
				cells[j] = sound(t, c)
			}
			rows[i] = strings.Join(cells, ", ")
		}
		return strings.Join(rows, "; ")
	}
	share := rapid.Float64Range(0, 1).Draw(t, d.Name)
	if rapid.IntRange(0, 2).Draw(t, "small") > 0 { // what people write is small beside what is accepted
		share *= share * share
	}
	v := d.Accept.Low + share*(d.Accept.High-d.Accept.Low)
	if d.Kind == quantity.Count {
		v = math.Round(v)
	}
	return written(v, d.UnitCode())
}

// fallingCurve draws the curve of a pump: chance would let it rise, and every such
// call is refused.
func fallingCurve(t *rapid.T) string {
	flow, head := rapid.Float64Range(500, 30000).Draw(t, "largest flow"), rapid.Float64Range(1, 12).Draw(t, "largest head")
	bow := rapid.Float64Range(1, 3).Draw(t, "bow")
	var rows []string
	for _, share := range []float64{0, 0.4, 0.8, 1} {
		rows = append(rows, written(share*flow, "L/h")+", "+written(head*(1-math.Pow(share, bow)), "m"))
	}
	return strings.Join(rows, "; ")
}

// soundArgs draws acceptable texts for the inputs that apply. What has a default
// is left out as often as not.
func soundArgs(t *rapid.T, c calculators.Calculator) []calculators.Arg {
	var args []calculators.Arg
	for _, d := range c.Inputs {
		if (d.Default == "" && !d.Optional) || rapid.Bool().Draw(t, "state "+d.Name) {
			args = append(args, calculators.Arg{Name: d.Name, Value: sound(t, d)})
		}
	}
	return applying(c, args)
}

// applying drops the arguments for inputs that do not apply.
func applying(c calculators.Calculator, args []calculators.Arg) []calculators.Arg {
	chosen := map[string]string{}
	var kept []calculators.Arg
	for _, d := range c.Inputs {
		if d.When.Input != "" && !slices.Contains(d.When.Is, chosen[d.When.Input]) {
			continue
		}
		chosen[d.Name] = d.Default
		for _, a := range args {
			if a.Name == d.Name {
				chosen[d.Name] = a.Value
				kept = append(kept, a)
			}
		}
	}
	return kept
}

// drawn are calls drawn by chance, the same each time.
func drawn(c calculators.Calculator, count int) [][]calculators.Arg { return drawnFrom(c, 0, count) }

func drawnFrom(c calculators.Calculator, first, count int) [][]calculators.Arg {
	generator := rapid.Custom(func(t *rapid.T) []calculators.Arg { return soundArgs(t, c) })
	all := make([][]calculators.Arg, count)
	for seed := range all {
		all[seed] = generator.Example(first + seed)
	}
	return all
}

// rowsThatBelong are calls with lists whose rows depend on each other, which no
// chance finds.
func rowsThatBelong(c calculators.Calculator) (all [][]calculators.Arg) {
	for _, text := range map[string][]string{
		"pond-volume": {
			"shape=stations\nsections=0 m, 2 m, 1 m; 50 m, 3 m, 1 m; 90 m, 2 m, 1 m", "shape=soundings\narea=8 m2\ndepths=1 m; 1.2 m; 0.9 m",
			"shape=soundings\narea=8 m2\nmeasuring-error=0 cm\ndepths=1 m; 1.2 m; 0.9 m", "shape=salt\nsalt=1 kg\nbefore=0 g/L\nafter=1 g/L",
		},
		"pump-working-point": {"pump=points\npoints=0 L/h, 3 m; 4000 L/h, 0.5 m\nlift=1 m\nbore=40 mm\nlength=4 m"},
		"two-pumps":          {"pump=points\npoints=0 L/h, 3 m; 4000 L/h, 0.5 m\nlift=1 m\nbore=40 mm\nlength=4 m"},
		"tower":              {"points=0 L/h, 3 m; 4000 L/h, 0.5 m"},
	}[c.ID] {
		args := []calculators.Arg{}
		if c.ID == "tower" {
			args = calls(c)[0].Args
		}
		for line := range strings.SplitSeq(text, "\n") {
			name, value, _ := strings.Cut(line, "=")
			args = calculators.With(args, calculators.Arg{Name: name, Value: value})
		}
		all = append(all, args)
	}
	return all
}

// within puts an input's text into a call, with the choices under which it
// applies. In a list it goes into the first row, or the last.
func within(c calculators.Calculator, p place, text string, args []calculators.Arg, last bool) []calculators.Arg {
	own := p.args(text)
	for _, a := range own[:len(own)-1] {
		args = calculators.With(args, a)
	}
	set := own[len(own)-1]
	if column := strings.Count(set.Value, ", "); strings.Contains(p.name, " row ") {
		for _, a := range args {
			if a.Name == set.Name {
				rows := strings.Split(a.Value, ";")
				at := 0
				if last {
					at = len(rows) - 1
				}
				cells := strings.Split(rows[at], ",")
				for len(cells) <= column {
					cells = append(cells, "")
				}
				cells[column] = " " + text
				rows[at] = strings.Join(cells, ",")
				set.Value = strings.Join(rows, ";")
			}
		}
	}
	return applying(c, calculators.With(args, set))
}

// TestEndsOfEveryRangeAreAnswered tries each accepted range at both ends in every
// call that a calculator shows and in others: some call must give an answer. Where
// none can, the declaration says why (Range.Refused), and none does. It catches,
// among others: salt accepted up to 4,000 g/kg, for which no saturation is known.
func TestEndsOfEveryRangeAreAnswered(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		var all [][]calculators.Arg
		for _, call := range calls(c) {
			all = append(all, call.Args)
		}
		all = append(append(all, rowsThatBelong(c)...), drawn(c, 400)...)
		for _, p := range places(c) {
			if p.input.Type != calculators.Single {
				continue
			}
			accept := p.input.Accept
			for i, v := range []float64{accept.Low, accept.High} {
				text := written(v, p.input.UnitCode())
				refused := [2]string{accept.LowRefused, accept.HighRefused}[i]
				answered, last := anyAnswer(c, p, text, all)
				for more := 0; !answered && more < 4 && refused == ""; more++ {
					answered, last = anyAnswer(c, p, text, drawnFrom(c, 400+1000*more, 1000))
				}
				if answered != (refused == "") {
					t.Errorf("%s = %s: answered %v, and the declaration says of its refusal %q; the last said %v", p.name, text, answered, refused, last)
				}
			}
		}
	})
}

func anyAnswer(c calculators.Calculator, p place, text string, all [][]calculators.Arg) (answered bool, last error) {
	for _, args := range all {
		for _, inLast := range []bool{false, true} {
			_, _, err := c.Evaluate(within(c, p, text, args, inLast))
			if err == nil {
				return true, nil
			}
			last = err
		}
	}
	return false, last
}

// mostRefused bounds the share of acceptable calls, in percent, that a calculator
// may refuse because their inputs contradict each other. Chance makes fish longer
// than any, pump curves that rise, ponds whose sections go back and forth, and
// holes as wide as the floor.
func mostRefused(id string) int {
	switch id {
	case "drill-template":
		return 98
	case "tower":
		return 85
	case "pond-volume", "maturing", "holes-per-tray", "pump-working-point", "two-pumps":
		return 75
	case "media-volume", "spray-bar":
		return 60
	}
	return 50
}

// TestAcceptableInputsAreMostlyAnswered catches a calculator that refuses nearly
// everything but its examples.
func TestAcceptableInputsAreMostlyAnswered(t *testing.T) {
	each(t, func(t *testing.T, c calculators.Calculator) {
		all := drawn(c, 300)
		refused := 0
		var last error
		for _, args := range all {
			if _, _, err := c.Evaluate(args); err != nil {
				refused++
				last = err
			}
		}
		if 100*refused > mostRefused(c.ID)*len(all) {
			t.Errorf("%d of %d calls are refused, the last with %v", refused, len(all), last)
		}
	})
}
