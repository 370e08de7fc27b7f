package plumbing

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// draw returns a value within what an input accepts, as a reader would state it.
func draw(t *rapid.T, d calculators.Input) string {
	if d.Type == calculators.Choice {
		return rapid.SampledFrom(d.Options).Draw(t, d.Name).Name
	}
	low, high := d.Accept.Low, d.Accept.High
	v := low + (high-low)*math.Pow(rapid.Float64Range(0, 1).Draw(t, d.Name), 4)
	if d.Kind == quantity.Count {
		v = math.Round(v)
	}
	if d.UnitCode() == "1" {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64) + " " + d.UnitCode()
}

// given draws every single and choice input that applies to the choices drawn.
func given(t *rapid.T, c calculators.Calculator) []calculators.Arg {
	var args []calculators.Arg
	chosen := map[string]string{}
	for _, d := range c.Inputs {
		applies := d.When.Input == ""
		for _, is := range d.When.Is {
			applies = applies || chosen[d.When.Input] == is
		}
		if !applies || d.Type == calculators.Rows {
			continue
		}
		value := draw(t, d)
		if d.Type == calculators.Choice {
			chosen[d.Name] = value
		}
		args = append(args, calculators.Arg{Name: d.Name, Value: value})
	}
	if chosen["pump"] == "curve" {
		args = append(args, calculators.Arg{Name: "points", Value: "0 L/h, 3 m; 1000 L/h, 3 m; 5000 L/h, 0 m"})
	}
	return args
}

// Whatever a reader states within the accepted ranges, the answer is a number,
// in order, or a refusal; nothing is below zero but the reserve.
func TestAnswersAreNumbers(t *testing.T) {
	for _, c := range []calculators.Calculator{HolesPerTray(), PumpWorkingPoint()} {
		rapid.Check(t, func(t *rapid.T) {
			args := given(t, c)
			_, r, err := c.Evaluate(args)
			if err != nil {
				// Single values were drawn from what is accepted, so only these two,
				// which contradict others, may be refused.
				for _, e := range err.(calculators.InputErrors) {
					if e.Input != "margin" && e.Input != "hole" {
						t.Fatal(err)
					}
				}
				return
			}
			for _, v := range r.Values {
				ordered := v.Low <= v.Likely && v.Likely <= v.High && !math.IsInf(v.High, 0)
				if !ordered || v.Low < 0 && v.Output != "reserve" {
					t.Errorf("%v given %v", v, args)
				}
			}
		})
	}
}
