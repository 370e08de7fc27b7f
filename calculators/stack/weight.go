package stack

import (
	"mereleaf/calculators"
	"mereleaf/calculators/media"
	"mereleaf/calculators/quantity"
)

// bucket is the size in L of the usual bucket, in which a medium is weighed.
const bucket = 10.0

// Weight declares the calculator of what a stack weighs.
func Weight() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "stack-weight",
		Inputs: weightInputs(),
		Outputs: []calculators.Output{
			{Name: "total", Label: "Whole stack at its heaviest", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "Every box blocked and full of water: build the base for this."},
			{Name: "pressure", Label: "Pressure on the ground then", Unit: "kPa", Digits: 2, Also: []string{"[psi]"}},
			{Name: "bearing", Label: "Of what the ground bears", Unit: "%", Digits: 2, Whole: true},
			{Name: "total-running", Label: "Whole stack, running", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
			{Name: "total-drained", Label: "Whole stack, drained", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "The lightest it stands in the wind with the pump off: for the sum of tipping."},
			{Name: "box-dry", Label: "One box, filled and dry", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
			{Name: "box-drained", Label: "One box, grown in and drained", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "What you lift on cleaning day."},
			{Name: "box-running", Label: "One box, running", Unit: "kg", Digits: 2, Fine: true},
			{Name: "box-blocked", Label: "One box, blocked and full of water", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
		},
		Compute: computeWeight,
	}
	if calculators.Documented {
		documentWeight(&c)
	}
	return c
}

func weightInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "from", Label: "What you know", Type: calculators.Choice, Default: "media",
			Options: []calculators.Option{{Name: "media", Label: "size of the boxes and the medium"}, {Name: "weighed", Label: "what one full box weighs"}},
			Help:    "A box on bathroom scales beats every sum."},
		{Name: "boxes", Label: "Boxes in the stack", Kind: quantity.Count, Accept: calculators.Range{Low: 1, High: 50, Origin: "sanity limit"}, Default: "4",
			Help: "All that stand on the same base."},
		{Name: "weighed", Label: "One box, full and wet", Kind: quantity.Mass, Accept: calculators.Range{Low: 0.1, High: 2000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"weighed"}},
			Help: "With lid, medium and water, at its heaviest."},
		{Name: "box", Fact: "box-weight", Label: "One empty box", Kind: quantity.Mass, Accept: calculators.Range{Low: 0.1, High: 100, Origin: "sanity limit"}, Default: "3 kg", When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "With its lid and grid."},
		{Name: "medium", Label: "Medium", Type: calculators.Choice, Options: mediumOptions(), Default: "lava", When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "The nearest in shape and size."},
		{Name: "dry", Label: "It weighs dry", Kind: quantity.Density, Accept: calculators.Range{Low: 10, High: 3000, Origin: "sanity limit"}, When: calculators.When{Input: "medium", Is: []string{"own"}},
			Help: calculators.Hint("Weigh a bucket of {bucket L} of it: {mass kg} are {density kg/m3}.", bucket, 7, 7*1000/bucket)},
		{Name: "drained", Label: "It weighs wet and drained", Kind: quantity.Density, Accept: calculators.Range{Low: 10, High: 4000, Origin: "sanity limit"}, When: calculators.When{Input: "medium", Is: []string{"own"}},
			Help: "The same bucket after a day in water and an hour to drain."},
		{Name: "void", Label: "Voids between its pieces", Kind: quantity.Share, Accept: calculators.Range{Low: 5, High: 99, Origin: "sanity limit"}, When: calculators.When{Input: "medium", Is: []string{"own"}},
			Help: calculators.Hint("Litres of water that the bucket of wet pieces still takes, over {bucket ~}.", bucket)},
		{Name: "length", Label: "Length of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "Halfway up: boxes taper."},
		{Name: "width", Label: "Width of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "Halfway up, across the length."},
		{Name: "fill", Label: "Depth of medium in a box", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "From the floor or grid up."},
		{Name: "side", Label: "Depth to the spill edge", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 3000, Origin: "sanity limit"}, When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "From the floor to where water runs over when everything is blocked."},
		{Name: "standing", Label: "Water that stands in a running box", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0, High: 3000, Origin: "sanity limit"}, Default: "50 mm", When: calculators.When{Input: "from", Is: []string{"media"}},
			Help: "Depth over its holes."},
		{Name: "base-length", Fact: "base-length", Label: "Length of the base", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 10000, Origin: "sanity limit"},
			Help: "Of what lies on the ground: the slab, or the lowest box."},
		{Name: "base-width", Fact: "base-width", Label: "Width of the base", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 10000, Origin: "sanity limit"},
			Help: "Across the length."},
		{Name: "ground", Label: "Ground", Type: calculators.Choice, Default: "topsoil",
			Options: []calculators.Option{{Name: "topsoil", Label: "garden soil or fresh fill"}, {Name: "loose", Label: "loose sand or gravel"}, {Name: "firm-clay", Label: "firm clay, dented by the thumb with pressure"}, {Name: "dense", Label: "dense sand or gravel"}, {Name: "own", Label: "a figure from a survey"}},
			Help:    "Under the base; in doubt the first."},
		{Name: "bears", Label: "It bears", Kind: quantity.Pressure, Accept: calculators.Range{Low: 1, High: 10000, Origin: "sanity limit"}, When: calculators.When{Input: "ground", Is: []string{"own"}},
			Help: "Allowable bearing pressure."},
	}
}

func mediumOptions() []calculators.Option {
	var options []calculators.Option
	for _, m := range media.Table() {
		options = append(options, calculators.Option{Name: m.Name, Label: m.Label})
	}
	return append(options, calculators.Option{Name: "own", Label: "another, weighed in a bucket"})
}

func documentWeight(c *calculators.Calculator) {
	c.Title = "Weight of the stack"
	c.Question = "What does my stack weigh, dry, running and with everything blocked, and does the ground bear it?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Lifting, calculators.Toppling, calculators.Digging, calculators.Dust}
	c.Cautions = []string{
		"The figures for lifting are a first filter of a safety authority and not safe limits: age, a bad back, wet hands and slime make a lighter box too heavy. Never reach under a raised box.",
		"On a roof, a balcony or a deck ask a structural engineer first.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Pressure on the ground", Says: "Weight over the area of the base.",
			TeX: `p = \frac{N m g}{l\,w}`, Source: "numpy-1.24.2", Locator: "N*m*g/(l*w)", Basis: "memory", Function: "stack.GroundPressure",
			Check: calculators.Explicit("p [Pa] pressure on the ground: N [1] number of boxes 1|4|6, m [kg] mass of a box 20..120, l [m] length of the base 0.3..0.8, w [m] width of the base 0.2..0.6, g [m/s2] 9.80665", func(boxes, mass, length, width, _ float64) float64 { return GroundPressure(boxes*mass, length, width) })},
		{Name: "Flooded medium", Says: "Drained medium and water in its voids; light media come to about the weight of water.",
			TeX: `\rho_f = \rho_d + 1000\,e`, Basis: "practice", Function: "stack.FloodedDensity",
			Check: calculators.Explicit("ρ_f [kg/m3] density of the flooded medium: ρ_d [kg/m3] density of the drained medium 400..1700, e [1] share of voids 0.3..0.6", func(drained, void float64) float64 {
				dry := media.Range{Low: 300, Likely: drained, High: 1700}
				return FloodedDensity(dry, media.Range{Likely: drained}, media.Range{Likely: void}).Likely
			})},
		{Name: "What the ground bears", Says: "Allowable pressures of a building code; for garden soil common practice.",
			TeX: `p_\mathrm{topsoil} = 25,\quad p_\mathrm{loose} = 50,\quad p_\mathrm{clay} = 75,\quad p_\mathrm{dense} = 150\ \mathrm{kPa}`, Source: "nbc-canada-9", Locator: "allowable bearing pressure table", Basis: "published", Function: "stack.BearingPressure",
			Check: calculators.Explicit("p_topsoil [kPa] pressure that garden soil bears, p_loose [kPa] that loose ground bears, p_clay [kPa] that clay bears, p_dense [kPa] that dense ground bears", func() (topsoil, loose, clay, dense float64) {
				return BearingPressure("topsoil") / 1000, BearingPressure("loose") / 1000, BearingPressure("firm-clay") / 1000, BearingPressure("dense") / 1000
			})},
	}
	c.Example = calculators.Example{
		Story: "Ines stacks {boxes} boxes, {length} by {width} inside, with {fill} of lava each, on the garden soil.",
		Pond:  "ines",
	}
	c.Lookup = calculators.Lookup{
		Caption: "A stack of {boxes} boxes, {length} by {width} inside, {fill} of medium in each",
		Rows:    calculators.Axis{Input: "medium", Values: []string{"lava", "pumice", "expanded-clay", "sintered-glass", "moving-bed", "plastic-packing", "foam-20", "gravel-20"}},
		Show:    []string{"box-dry", "box-drained", "box-blocked", "total"},
		Pond:    "ines",
	}
	c.Chart = calculators.Chart{
		Caption: "One drained box, {length} by {width} inside, by the depth of medium",
		X:       "fill", From: "50 mm", To: "250 mm",
		Series: calculators.Axis{Input: "medium", Values: []string{"lava", "expanded-clay", "moving-bed"}},
		Show:   "box-drained",
		Pond:   "ines",
	}
}
