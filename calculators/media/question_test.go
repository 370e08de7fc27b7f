package media

import "mereleaf/calculators"

// question is what the tests ask a calculator, unless they say otherwise.
func question(c calculators.Calculator) []calculators.Arg {
	switch c.ID {
	case "media-volume":
		return []calculators.Arg{
			{Name: "from", Value: "feed"}, {Name: "feed", Value: "80 g/d"}, {Name: "protein", Value: "36 %"}, {Name: "target", Value: "0.25 mg/L"},
			{Name: "temperature", Value: "21 Cel"}, {Name: "medium", Value: "lava"}, {Name: "length", Value: "560 mm"}, {Name: "width", Value: "360 mm"},
			{Name: "height", Value: "270 mm"}, {Name: "flow", Value: "3900 L/h"}, {Name: "stacks", Value: "2"},
		}
	case "media-compare":
		return []calculators.Arg{
			{Name: "feed", Value: "80 g/d"}, {Name: "target", Value: "0.25 mg/L"}, {Name: "temperature", Value: "21 Cel"}, {Name: "medium", Value: "lava"},
			{Name: "prices", Value: "lava, 0.40; gravel-20, 0.15; plastic-packing, 0.90"},
		}
	case "maturing":
		return []calculators.Arg{
			{Name: "feed", Value: "4 g/d"}, {Name: "volume", Value: "1200 L"}, {Name: "temperature", Value: "18 Cel"}, {Name: "seeding", Value: "some"},
			{Name: "change", Value: "10 %"},
		}
	case "fishless-start":
		return []calculators.Arg{{Name: "volume", Value: "1200 L"}, {Name: "strength", Value: "10 %"}}
	case "foam-stage":
		return []calculators.Arg{
			{Name: "flow", Value: "3900 L/h"}, {Name: "feed", Value: "80 g/d"}, {Name: "length", Value: "560 mm"}, {Name: "width", Value: "360 mm"},
			{Name: "thickness", Value: "50 mm"},
		}
	case "alkalinity-use":
		return []calculators.Arg{
			{Name: "feed", Value: "80 g/d"}, {Name: "volume", Value: "9100 L"}, {Name: "kh", Value: "80 mg/L"}, {Name: "tap", Value: "90 mg/L"},
			{Name: "change", Value: "10 %"},
		}
	case "uv-dose":
		return []calculators.Arg{
			{Name: "power", Value: "36 W"}, {Name: "flow", Value: "3900 L/h"}, {Name: "gap", Value: "25 mm"}, {Name: "volume", Value: "9100 L"},
		}
	}
	panic("no question for " + c.ID)
}
