package plumbing

import "mereleaf/calculators"

// question is what the tests ask a calculator, unless they say otherwise.
func question(c calculators.Calculator) []calculators.Arg {
	switch c.ID {
	case "holes-per-tray":
		return []calculators.Arg{
			{Name: "flow", Value: "1950 L/h"}, {Name: "hole", Value: "6 mm"}, {Name: "floor", Value: "3 mm"}, {Name: "head", Value: "60 mm"},
			{Name: "length", Value: "560 mm"}, {Name: "width", Value: "360 mm"}, {Name: "side", Value: "100 mm"},
		}
	case "drill-template":
		return []calculators.Arg{
			{Name: "length", Value: "560 mm"}, {Name: "width", Value: "360 mm"}, {Name: "count", Value: "25"}, {Name: "drill", Value: "8-mm"},
		}
	case "pump-working-point":
		return []calculators.Arg{
			{Name: "points", Value: "0 L/h, 3.2 m; 2000 L/h, 2.8 m; 4000 L/h, 1.9 m; 6000 L/h, 0.4 m"}, {Name: "lift", Value: "1.6 m"},
			{Name: "bore", Value: "40 mm"}, {Name: "length", Value: "4 m"}, {Name: "wall", Value: "ribbed-hose"},
			{Name: "fittings", Value: "elbow-90, 2; hose-tail, 1"}, {Name: "temperature", Value: "21 Cel"}, {Name: "volume", Value: "9100 L"},
		}
	case "two-pumps":
		return []calculators.Arg{
			{Name: "points", Value: "0 L/h, 3.2 m; 2000 L/h, 2.8 m; 4000 L/h, 1.9 m; 6000 L/h, 0.4 m"}, {Name: "lift", Value: "1.6 m"},
			{Name: "bore", Value: "40 mm"}, {Name: "length", Value: "4 m"}, {Name: "wall", Value: "ribbed-hose"},
			{Name: "fittings", Value: "elbow-90, 2; hose-tail, 1"}, {Name: "temperature", Value: "21 Cel"},
		}
	case "running-cost":
		return []calculators.Arg{
			{Name: "power", Value: "62 W"}, {Name: "price", Value: "0.30"},
		}
	case "pipe-loss":
		return []calculators.Arg{
			{Name: "flow", Value: "1500 L/h"}, {Name: "bore", Value: "20 mm"}, {Name: "length", Value: "3 m"}, {Name: "wall", Value: "spiral-hose"},
			{Name: "fittings", Value: "hose-tail, 2"},
		}
	case "spray-bar":
		return []calculators.Arg{
			{Name: "flow", Value: "1950 L/h"}, {Name: "bore", Value: "36 mm"}, {Name: "length", Value: "0.5 m"},
		}
	case "collector":
		return []calculators.Arg{
			{Name: "flow", Value: "1950 L/h"}, {Name: "bore", Value: "57 mm"}, {Name: "length", Value: "0.5 m"},
		}
	case "outlet":
		return []calculators.Arg{
			{Name: "flow", Value: "1950 L/h"}, {Name: "outlets", Value: "2"}, {Name: "bore", Value: "57 mm"}, {Name: "head", Value: "100 mm"},
			{Name: "length", Value: "0.3 m"},
		}
	case "overflow":
		return []calculators.Arg{
			{Name: "flow", Value: "1950 L/h"}, {Name: "width", Value: "120 mm"}, {Name: "room", Value: "40 mm"},
		}
	}
	panic("no question for " + c.ID)
}
