package workings

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
)

// faults evaluates every line of working of a call, and returns what is wrong by
// the line's form, and what its clauses are.
func faults(c calculators.Calculator, args []calculators.Arg) (map[string]error, map[Kind]int) {
	wrong, kinds := map[string]error{}, map[Kind]int{}
	v, err := c.Reckon(args)
	if err != nil {
		return nil, kinds
	}
	for _, s := range v.Working {
		found, err := Check(s)
		if err != nil {
			wrong[s.Label+": "+s.Form] = err
		}
		for _, k := range found {
			kinds[k]++
		}
	}
	return wrong, kinds
}

// TestWorkingsComeOut evaluates every line of working that a page shows. It
// catches, among others: 54.00 for the 50.04 of a bicarbonate dose, a thousand too
// many in the electricity of a year, a share of water to replace below nothing.
func TestWorkingsComeOut(t *testing.T) {
	count, reported := map[Kind]int{}, map[string]bool{}
	for _, c := range catalog.All().All() {
		calls := append(c.Lookup.Cells(), c.Chart.Ends()...)
		for _, call := range append(calls, exampleCalls(c)...) {
			wrong, kinds := faults(c, call.Args)
			for k, n := range kinds {
				count[k] += n
			}
			if kinds[Statement] > 0 && c.ID != "readings" {
				t.Errorf("%s: %s: a line of working is declared to work nothing out", c.ID, call.Name)
			}
			for form, err := range wrong {
				if !reported[form] {
					t.Errorf("%s: %s: %s: %v", c.ID, call.Name, form, err)
				}
				reported[form] = true
			}
		}
	}
	if count[Sum] < 1000 {
		t.Errorf("only %d sums were evaluated", count[Sum])
	}
}

// exampleCalls are the examples of a calculator with their ponds' facts.
func exampleCalls(c calculators.Calculator) []calculators.Call {
	calls := []calculators.Call{{Name: "example", Args: c.Example.Given}}
	for _, r := range c.Ready {
		calls = append(calls, calculators.Call{Name: r.Name, Args: r.Given})
	}
	return calls
}

// TestWorkingsOfAnyInputsComeOut does so for inputs drawn by chance.
func TestWorkingsOfAnyInputsComeOut(t *testing.T) {
	for _, c := range catalog.All().All() {
		t.Run(c.ID, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				args := draw(t, c.Inputs)
				wrong, _ := faults(c, args)
				for form, err := range wrong {
					t.Fatalf("%v: %s: %v", args, form, err)
				}
			})
		})
	}
}

// draw draws acceptable texts for the inputs that apply, some left out.
func draw(t *rapid.T, inputs []calculators.Input) []calculators.Arg {
	chosen := map[string]string{}
	var args []calculators.Arg
	for _, d := range inputs {
		if d.When.Input != "" && !slices.Contains(d.When.Is, chosen[d.When.Input]) {
			continue
		}
		chosen[d.Name] = d.Default
		if (d.Default != "" || d.Optional) && rapid.Bool().Draw(t, "leave out "+d.Name) {
			continue
		}
		chosen[d.Name] = drawOne(t, d)
		args = append(args, calculators.Arg{Name: d.Name, Value: chosen[d.Name]})
	}
	return args
}

func drawOne(t *rapid.T, d calculators.Input) string {
	switch d.Type {
	case calculators.Choice:
		return rapid.SampledFrom(d.Options).Draw(t, d.Name).Name
	case calculators.Rows:
		rows := make([]string, rapid.IntRange(1, 4).Draw(t, "rows"))
		for i := range rows {
			cells := make([]string, len(d.Columns))
			for j, c := range d.Columns {
				cells[j] = drawOne(t, c)
			}
			rows[i] = strings.Join(cells, ", ")
		}
		return strings.Join(rows, "; ")
	}
	share := rapid.Float64Range(0, 1).Draw(t, d.Name)
	span := d.Accept.High - d.Accept.Low
	v := d.Accept.Low + max(share*share*share, 1e-6)*span // what people write is small beside what is accepted
	if share == 0 {
		v = d.Accept.Low
	}
	if rapid.Bool().Draw(t, "whole") {
		v = float64(int64(v))
	}
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', -1, 64)+" "+d.UnitCode(), " 1")
}

// A line is evaluated with the rounding of the numbers that it shows.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		form    string
		numbers []float64
		want    string
	}{
		{"{3 mg/L} × {4}/50.04 = {3 mg/L}", []float64{60, 84.007, 100.725}, ""},
		{"{3 mg/L} × {4}/54.00 = {3 mg/L}", []float64{60, 84.007, 100.725}, "does not come out"},
		{"{3 L} / {3 L/h} = {3 h}", []float64{900, 654.5, 1.375}, ""},
		{"{3 L} / {3 L/h} = {3 min}", []float64{900, 654.5, 1.375}, "does not come out"},
		{"{3 L} / {3 kg} = {3 h}", []float64{900, 654.5, 1.375}, "not of one kind"},
		{"{3 L} + {3 h} = {3 h}", []float64{900, 654.5, 1.375}, "two kinds"},
		{"1.859 × ({2} − 0.07) / ({2} + 1.93) = {3 g/m2/d}", []float64{0.25, 0.25, 0.1535}, ""},
		{"1.895 × ({2} − 0.07) / ({2} + 1.93) = {3 g/m2/d}", []float64{0.25, 0.25, 0.1535}, ""}, // the rounding of 0.25 allows as much
		{"{3 m2} × {~4} m = {~4} m³", []float64{7.92, 1.15, 9.108}, ""},
		{"√2 × {~4 g/L} = {~4 g/L}; {~4 g/L} / {~4 g/L} = {2 %}", []float64{0.1, 0.1414, 0.1414, 2, 7.07}, ""},
		{"1/(1 + 10^({4} − {3})) = {3 %}", []float64{9.371, 8.2, 6.32}, ""},
		{"{3} / (1 − {2}), rounded up = {0}", []float64{29, 0.33, 44}, ""},
		{"{3} / (1 − {2}), rounded up = {0}", []float64{29, 0.33, 45}, "does not come out"},
		{"{3 m} × {3 m3}/{3 kg}, rounded down = {0}", []float64{1, 2, 1, 2}, "not of one kind"},
		{"{2} ({2} to {2})", []float64{1, 0.5, 2}, ""},
		{"± {2 %}", []float64{5}, ""},
		{"none is needed", nil, ""},
		{"about {2} and some", []float64{1}, "no sum, no value and no sentence"},
		{"{2} × ({2} = {2}", []float64{1, 2, 2}, "not closed"},
	} {
		var r calculators.Result
		r.Step("toy", c.form, c.numbers...)
		_, err := Check(r.Working[0])
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", r.Working[0].Text, err, c.want)
		}
	}
}
