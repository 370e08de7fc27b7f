package calchtml

import (
	"fmt"

	"mereleaf/calculators"
)

// Given returns the inputs with which Form reckons: the presets, over the
// worked example of the calculator. A preset that is empty takes the example's
// place all the same.
func Given(c calculators.Calculator, presets []calculators.Arg) []calculators.Arg {
	all := c.Over(presets, c.Example.Given)
	given := make([]calculators.Arg, 0, len(all))
	for _, a := range all {
		if a.Value != "" {
			given = append(given, a)
		}
	}
	return given
}

// caption fills the gaps of a caption by the inputs of what stands under it.
func caption(c calculators.Calculator, text string, given []calculators.Arg) (string, error) {
	filled, faults := c.Fill(text, given)
	if len(faults) > 0 {
		return "", fmt.Errorf("calculator %s: %s", c.ID, faults[0])
	}
	return filled, nil
}
