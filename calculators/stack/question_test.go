package stack

import "mereleaf/calculators"

// question is what the tests ask a calculator, unless they say otherwise.
func question(c calculators.Calculator) []calculators.Arg {
	switch c.ID {
	case "stack-weight":
		return []calculators.Arg{
			{Name: "length", Value: "560 mm"}, {Name: "width", Value: "360 mm"}, {Name: "fill", Value: "220 mm"}, {Name: "side", Value: "260 mm"},
			{Name: "base-length", Value: "600 mm"}, {Name: "base-width", Value: "400 mm"},
		}
	case "stack-tipping":
		return []calculators.Arg{
			{Name: "drained", Value: "180 kg"}, {Name: "running", Value: "190 kg"}, {Name: "base", Value: "400 mm"}, {Name: "width", Value: "600 mm"},
			{Name: "height", Value: "1200 mm"},
		}
	}
	panic("no question for " + c.ID)
}
