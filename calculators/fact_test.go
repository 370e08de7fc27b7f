package calculators_test

import (
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// sharing returns two calculators whose inputs of each shape state the same.
func sharing() (calculators.Calculator, calculators.Calculator) {
	first, second := toy(), toy()
	second.ID = "shelf"
	for _, c := range []calculators.Calculator{first, second} {
		c.Inputs[0].Fact, c.Inputs[1].Fact, c.Inputs[2].Fact = "way", "buckets", "volume"
	}
	second.Inputs[2].Label = "All of it"
	return first, second
}

func TestFactsListWhoAsks(t *testing.T) {
	facts := calculators.NewSet(sharing()).Facts()
	var got []string
	for _, f := range facts {
		line := f.Name + " (" + f.Input.Label + ")"
		for _, u := range f.AskedBy {
			line += " " + u.Calculator.ID + "." + u.Input.Name
		}
		got = append(got, line)
	}
	want := "way (How) rack.method shelf.method\nbuckets (Buckets) rack.buckets shelf.buckets\nvolume (Total) rack.total shelf.total"
	if strings.Join(got, "\n") != want {
		t.Errorf("facts are\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
}

func TestInputsOfAFactHoldTheSame(t *testing.T) {
	if faults := faultLines(calculators.NewSet(sharing())); faults != "" {
		t.Fatalf("a sound pair is refused: %s", faults)
	}
	for want, spoil := range map[string]func(*calculators.Calculator){
		"shelf: the input total states the fact volume in a kind of quantity other than rack.total": func(c *calculators.Calculator) { c.Inputs[2].Kind = quantity.Mass },
		"shelf: the input total states the fact volume in a type other": func(c *calculators.Calculator) {
			c.Inputs[2].Type, c.Inputs[2].Options = calculators.Choice, c.Inputs[0].Options
		},
		"shelf: the input method states the fact way in options other": func(c *calculators.Calculator) { c.Inputs[0].Options[1].Name = "guessed" },
		"shelf: the input buckets states the fact buckets in a number of columns other": func(c *calculators.Calculator) {
			c.Inputs[1].Columns = c.Inputs[1].Columns[:2]
		},
		"shelf: the input buckets states the fact buckets in a column count other": func(c *calculators.Calculator) { c.Inputs[1].Columns[1].Kind = quantity.Number },
		"shelf: the input buckets states the fact buckets in a column form other":  func(c *calculators.Calculator) { c.Inputs[1].Columns[2].Name = "form" },
		"the fact Volume, which must be lower-case words":                          func(c *calculators.Calculator) { c.Inputs[2].Fact = "Volume" },
		"shelf: the input spare states the fact volume, which shelf.total states":  func(c *calculators.Calculator) { c.Inputs[4].Fact = "volume" },
	} {
		first, second := sharing()
		second.Compute = func(calculators.Inputs) (calculators.Result, error) { // must not mind what is spoilt
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("volume", 1)}}, nil
		}
		spoil(&second)
		if faults := faultLines(calculators.NewSet(first, second)); !strings.Contains(faults, want) {
			t.Errorf("wanted %q, got %q", want, faults)
		}
	}
}

// Options are told apart by name, so that each calculator can put its usual one
// first.
func TestOptionsOfAFactInAnyOrder(t *testing.T) {
	first, second := sharing()
	options := second.Inputs[0].Options
	options[0], options[1] = options[1], options[0]
	if faults := faultLines(calculators.NewSet(first, second)); faults != "" {
		t.Errorf("refused: %s", faults)
	}
}
