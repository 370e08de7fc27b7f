package calculators_test

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// toy is a calculator with one input of every shape. It adds up how much a rack
// of buckets holds, or takes the total as said.
func toy() calculators.Calculator {
	volume := calculators.Range{Low: 0.5, High: 20000, Origin: "sanity limit"}
	whenListed := calculators.When{Input: "method", Is: []string{"listed"}}
	return calculators.Calculator{
		ID: "rack", Title: "A rack of buckets", Question: "How much do the buckets hold?", Part: "media",
		Inputs: []calculators.Input{
			{Name: "method", Label: "How", Help: "Choose.", Type: calculators.Choice, Default: "listed",
				Options: []calculators.Option{{Name: "listed", Label: "bucket by bucket"}, {Name: "total", Label: "as said"}}},
			{Name: "buckets", Label: "Buckets", Help: "Count them.", Type: calculators.Rows, When: whenListed, Columns: []calculators.Input{
				{Name: "volume", Label: "Volume", Help: "Read the label.", Kind: quantity.Volume, Accept: volume, Stated: calculators.Range{Low: 1, High: 2000, Origin: "common practice"}},
				{Name: "count", Label: "How many", Help: "Count.", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 99, Origin: "sanity limit"}, Default: "1"},
				{Name: "shape", Label: "Shape", Help: "Look.", Type: calculators.Choice, Default: "round", Options: []calculators.Option{{Name: "round", Label: "round"}, {Name: "square", Label: "square"}}},
			}},
			{Name: "total", Label: "Total", Help: "Add up.", Kind: quantity.Volume, Accept: volume, When: calculators.When{Input: "method", Is: []string{"total"}}},
			{Name: "temperature", Label: "Temperature", Help: "Measure.", Kind: quantity.Temperature, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"},
				Stated: calculators.Range{Low: 5, High: 30, Origin: "toy-2001 table 1"}, Default: "20 Cel"},
			{Name: "spare", Label: "Spare", Help: "Leave it out.", Kind: quantity.Volume, Accept: volume, Optional: true},
		},
		Outputs: []calculators.Output{
			{Name: "volume", Label: "Volume", Unit: "L", Digits: 3, Also: []string{"[gal_us]"}},
			{Name: "buckets", Label: "Buckets", Unit: "1", Digits: 2, Whole: true},
		},
		Hazards:  []calculators.Hazard{calculators.NoHazard},
		Harmless: "It adds.",
		Formulas: []calculators.Formula{{Name: "sum", Says: "adds", TeX: "a+b", Basis: "practice", Function: "rack.Sum"}},
		Example:  calculators.Example{Story: "Ines counts.", Given: []calculators.Arg{{Name: "buckets", Value: "10 L, 3; 12 L"}}},
		Lookup:   calculators.Lookup{Caption: "Totals", Rows: calculators.Axis{Input: "total", Values: []string{"10 L", "20 L"}}, Show: []string{"volume"}, Given: []calculators.Arg{{Name: "method", Value: "total"}}},
		Chart:    calculators.Chart{Caption: "Totals", X: "total", From: "1 L", To: "20 L", Show: "volume", Given: []calculators.Arg{{Name: "method", Value: "total"}}},
		Compute:  computeToy,
	}
}

func computeToy(in calculators.Inputs) (calculators.Result, error) {
	litres, count := in.In("total", "L"), 1.0
	if in.Choice("method") == "listed" {
		litres, count = 0, 0
		for _, row := range in.Rows("buckets") {
			litres += row.In("volume", "L") * row.In("count", "1")
			count += row.In("count", "1")
		}
	}
	if in.Has("spare") {
		if in.In("spare", "L") > litres {
			return calculators.Result{}, calculators.InputError{Input: "spare", Problem: "is more than all buckets hold", Accept: "less than the total"}
		}
		litres -= in.In("spare", "L")
	}
	if litres == 13 {
		litres = math.NaN() // stands for a formula that breaks down
	}
	if litres == 14 {
		count = math.Inf(1) // stands for one that breaks down beside the answer
	}
	return calculators.Result{
		Values: []calculators.Value{calculators.Between("volume", litres*0.9, litres, litres*1.1), calculators.Exactly("buckets", count)},
		Scale:  calculators.Scale{Output: "volume", Marks: []calculators.Mark{{Value: 10, Label: "small", Basis: "practice"}, {Value: 100, Label: "large", Source: "toy-2001", Locator: "table 1", Basis: "published"}}},
	}, nil
}
