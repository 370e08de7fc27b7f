package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// LeastOutlet is the bore in m below which common practice fits no outlet to a
// filter box, whatever a sum says: a leaf closes it.
const LeastOutlet = 0.040

// What outlets have by common practice: the fall in per cent, and the loss
// coefficient of a grid over the way in.
const (
	usualFall = 2.0
	gridLoss  = 1.0
)

// fullest is the depth of the water, per cent of the bore, at which a sloping
// pipe carries what it does full (figure set hydraulics-part-full-pipe): any
// disturbance then fills it.
const fullest = 82.0

// GravityOutlet declares the calculator of the pipe that leads the water from
// the bottom box back to the pond.
func GravityOutlet() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "outlet",
		Inputs: outletInputs(),
		Outputs: []calculators.Output{
			{Name: "capacity", Label: "What the outlets carry together", Unit: "L/h", Digits: 2, Also: []string{"L/min", "[gal_br]/h", "[gal_us]/h"}},
			{Name: "margin", Label: "To spare over the pump", Unit: "%", Digits: 2, Whole: true, Help: "Less than nothing means that the box runs over."},
			{Name: "one-blocked", Label: "With one outlet blocked", Unit: "L/h", Digits: 2},
			{Name: "least-bore", Label: "Least bore for the pump and the wanted margin", Unit: "mm", Digits: 3, Whole: true, Also: []string{"[in_i]"}, Help: calculators.Hint("Never under {least mm}, by common practice.", 1000*LeastOutlet)},
			{Name: "needed", Label: "Height of water that the pump's flow needs", Unit: "mm", Digits: 2, Whole: true, Also: []string{"[in_i]"}, Help: "Over the middle of the pipe's end, all outlets open; not shown where the pipe runs part empty."},
			{Name: "velocity", Label: "Velocity at the pump's flow", Unit: "m/s", Digits: 2},
			{Name: "depth", Label: "Depth in the pipe at the pump's flow, of the bore", Unit: "%", Digits: 2, Whole: true, Help: "Half the bore leaves air its way; the whole bore is a full pipe."},
			{Name: "full-bore", Label: "What the pipes would carry full", Unit: "L/h", Digits: 2, Fine: true, Help: "Do not count on it: air must get out."},
		},
		Compute: computeOutlet,
	}
	if calculators.Documented {
		documentOutlet(&c)
	}
	return c
}

func outletInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "flow", Fact: "pump-flow", Label: "Flow of the pump", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"},
			Help: "The most that comes to this box, with clean strainers."},
		{Name: "outlets", Label: "Outlets", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 10, Origin: "sanity limit"}, Default: "2",
			Help: "Equal pipes side by side; two, so that one may block."},
		{Name: "kind", Label: "How the water leaves", Type: calculators.Choice, Default: "short",
			Options: []calculators.Option{{Name: "short", Label: "short pipe out of the side, under water"}, {Name: "sloping", Label: "long pipe with an even fall"}, {Name: "drop", Label: "straight down, open at the top"}},
			Help:    "Choose the part that carries least: reckon a drop behind a side outlet too."},
		{Name: "bore", Fact: "outlet-bore", Label: "Bore of a pipe", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 500, Origin: "sanity limit"},
			Help: "Inside, of the narrowest part: often the fitting in the wall of the box."},
		{Name: "head", Label: "Height of water over the outlet", Kind: quantity.Head, Unit: "mm", Accept: calculators.Range{Low: 1, High: 5000, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"short"}},
			Help: "From the level you allow in the box down to the middle of the pipe's end, or the pond if it dips in."},
		{Name: "length", Fact: "outlet-length", Label: "Length of the pipe", Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, When: calculators.When{Input: "kind", Is: []string{"short"}},
			Help: "All of it, from the box to its end."},
		{Name: "wall", Label: "Kind of pipe", Type: calculators.Choice, Default: "slimed-plastic", Options: wallOptions(), When: calculators.When{Input: "kind", Is: []string{"short"}},
			Help: "Ribs inside cost far more than anything else."},
		{Name: "roughness", Label: "Roughness of the wall", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, When: calculators.When{Input: "wall", Is: []string{"own"}},
			Help: "Equivalent sand roughness from a data sheet."},
		{Name: "fittings", Label: "Fittings", Type: calculators.Rows, Optional: true, When: calculators.When{Input: "kind", Is: []string{"short"}},
			Columns: []calculators.Input{
				{Name: "fitting", Label: "Fitting", Type: calculators.Choice, Options: fittingOptions(), Help: "Choose the nearest in shape."},
				{Name: "count", Label: "Number", Kind: quantity.Count, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, Default: "1", Help: "How many of them in one pipe."},
			},
			Help: "In one pipe; the way in and the open end are always added."},
		{Name: "more-k", Label: "Further loss coefficients", Kind: quantity.Number, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "0", When: calculators.When{Input: "kind", Is: []string{"short"}},
			Help: calculators.Hint("A grid over the way in costs about {grid ~}.", gridLoss)},
		{Name: "fall", Label: "Fall", Kind: quantity.Share, Accept: calculators.Range{Low: 0.05, High: 50, Origin: "sanity limit"}, Default: "2 %", When: calculators.When{Input: "kind", Is: []string{"sloping"}},
			Help: calculators.Hint("{fall %} is {down mm} down in each metre; measure with a level.", usualFall, 10*usualFall)},
		{Name: "inside", Label: "Inside of the pipe", Type: calculators.Choice, Default: "slimed", When: calculators.When{Input: "kind", Is: []string{"sloping"}},
			Options: []calculators.Option{{Name: "slimed", Label: "plastic in use, slimed"}, {Name: "clean", Label: "plastic, clean"}, {Name: "own", Label: "Manning's n from a data sheet"}},
			Help:    "A pond's pipe is slimed within weeks."},
		{Name: "manning", Label: "Manning's n", Kind: quantity.Number, Accept: calculators.Range{Low: 0.005, High: 0.05, Origin: "sanity limit"}, When: calculators.When{Input: "inside", Is: []string{"own"}},
			Help: calculators.Hint("{least 2} to {most 2} for plastic pipe.", ManningCoefficient("clean").Low, ManningCoefficient("slimed").High)},
		{Name: "fill", Label: "Fill the pipe to, of its bore", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 5, High: fullest, Origin: "sanity limit"}, Default: "50 %", When: calculators.When{Input: "kind", Is: []string{"sloping"}},
			Help: calculators.Hint("Half leaves air its way; above {most %} no pipe runs reliably.", fullest)},
		{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, Default: "15 Cel", When: calculators.When{Input: "kind", Is: []string{"short"}},
			Help: "It matters by a hundredth."},
		{Name: "spare", Label: "Wanted margin over the pump", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"}, Default: "50 %",
			Help: "For slime, leaves and a stronger pump one day."},
	}
}

func documentOutlet(c *calculators.Calculator) {
	c.Title = "Outlet back to the pond"
	c.Question = "Do the outlets of the bottom box carry what the pump brings?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Tools, calculators.Solvents, calculators.Spill}
	c.Cautions = []string{
		"Never put a valve or a fine grid on the only outlet. Look at the grids every day in autumn.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Short pipe under water", Says: "The flow that uses up the height of water in friction, fittings, way in and open end.",
			TeX: `h = \left(f\frac{L}{D} + \sum K\right)\frac{V^2}{2g}`, Source: "maurer-2023", Locator: "Example 4.3", Basis: "published", Function: "plumbing.PipeLoss",
			Check: calculators.Explicit("h [m]: f [1] friction factor 0.01..0.08, L [m] 0.5..50, D [m] 0.015..0.1, ΣK [1] 0..20, V [m/s] 0.1..3, g [m/s2] 9.80665", func(f, length, bore, k, v, _ float64) float64 { return PipeLoss(f, length, bore, k, v).Total() })},
		{Name: "Manning", Says: "Flow down a long pipe of even fall with air above the water; the pipe is counted half full.",
			TeX: `Q = \frac{A R^{2/3} S^{1/2}}{n}`, Source: "maurer-2023", Locator: "Example 5.4", Basis: "published", Function: "plumbing.ManningFlow",
			Check: calculators.Explicit("Q [m3/s], A [m2] area of the water, R [m] hydraulic radius of the water: n [1] coefficient of roughness 0.009..0.015, - [m] 0.04..0.2, S [1] fall as a share of the length 0.002..0.05, - [1] 0.1..0.9", func(n, bore, slope, depth float64) (flow, area, radius float64) {
				s := CircleSegment(depth)
				return ManningFlow(n, bore, slope, depth), s.Area * bore * bore, s.Area / s.Edge * bore
			})},
		{Name: "Circle filled in part", Says: "Area and wetted edge of the water in a round pipe.",
			TeX: `A = \tfrac{D^2}{8}(\theta - \sin\theta),\quad P = \tfrac{D}{2}\theta`, Source: "eng-database-circular", Locator: "open channel geometry: circular", Basis: "published", Function: "plumbing.CircleSegment",
			Check: calculators.Explicit("A [m2] area of the water, P [m] wetted edge, θ [rad] angle that the water takes of the circle: - [1] 0.05..0.95, D [m] 0.04..0.2", func(depth, bore float64) (area, edge, angle float64) {
				s := CircleSegment(depth)
				return s.Area * bore * bore, s.Edge * bore, 2 * math.Acos(1-2*depth)
			})},
		{Name: "Drop that breathes", Says: "The most an open vertical pipe takes while air can still rise in it; far less than full.",
			TeX: `V \le 0.3\sqrt{g D}`, Source: "hills-1983", Locator: "self-venting flow", Basis: "memory", Function: "plumbing.SelfVentingFlow",
			Check: calculators.Explicit("V [m/s]: D [m] 0.03..0.15, g [m/s2] 9.80665", func(bore, _ float64) Spread {
				most := SelfVentingFlow(bore) / CircleArea(bore)
				return Spread{0, most, most}
			})},
	}
	c.Example = calculators.Example{
		Story: "Ines leads {flow} out of her bottom box through a pipe of {bore} bore.",
		Pond:  "ines",
	}
	c.Lookup = calculators.Lookup{
		Caption: "What one straight drop carries while it still breathes, and two",
		Rows:    calculators.Axis{Input: "bore", Values: []string{"40 mm", "50 mm", "57 mm", "75 mm", "84 mm", "104 mm"}},
		Columns: calculators.Axis{Input: "outlets", Values: []string{"1", "2"}},
		Show:    []string{"capacity"},
		Given:   []calculators.Arg{{Name: "flow", Value: "2000 L/h"}, {Name: "kind", Value: "drop"}},
	}
	c.Chart = calculators.Chart{
		Caption: "What two slimed pipes of even fall carry, half full",
		X:       "fall", From: "0.5 %", To: "5 %",
		Series: calculators.Axis{Input: "bore", Values: []string{"50 mm", "75 mm", "104 mm"}},
		Show:   "capacity",
		Given:  []calculators.Arg{{Name: "flow", Value: "2000 L/h"}, {Name: "kind", Value: "sloping"}},
	}
}
