package pad

import "mereleaf/calculators"

// Given returns the inputs with which Form reckons: the presets, over the
// worked example of the calculator.
func Given(c calculators.Calculator, presets []calculators.Arg) []calculators.Arg {
	return c.Over(presets, c.Example.Given)
}
