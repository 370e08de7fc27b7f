package tower

import (
	"mereleaf/calculators"
	"mereleaf/calculators/media"
)

// Tower declares the calculator that plans a whole trickle filter.
func Tower() calculators.Calculator {
	parts := newCrew()
	c := calculators.Calculator{ID: "tower", Inputs: inputs(), Outputs: outputs(), Compute: func(in calculators.Inputs) (calculators.Result, error) { return compute(parts, in) }}
	if calculators.Documented {
		document(&c)
	}
	return c
}

func outputs() []calculators.Output {
	return []calculators.Output{
		{Name: "boxes", Label: "Boxes in all", Unit: "1", Digits: 2, Whole: true},
		{Name: "faults", Label: "Checks that fail", Unit: "1", Digits: 2, Whole: true, Help: "0: the tower fits."},
		{Name: "stacks", Label: "Stacks side by side", Unit: "1", Digits: 2, Whole: true},
		{Name: "tiers", Label: "Boxes of medium in each stack", Unit: "1", Digits: 2, Whole: true},
		{Name: "medium", Label: "Medium", Unit: "L", Digits: 2},
		{Name: "flow", Label: "Water through the tower", Unit: "L/h", Digits: 2, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
		{Name: "each", Label: "Of that, through each stack", Unit: "L/h", Digits: 2, Fine: true},
		{Name: "lift", Label: "Lift, from the pond to the inlet", Unit: "m", Digits: 3, Fine: true},
		{Name: "eaten", Label: "The fish eat on a warm day", Unit: "g/d", Digits: 2, Fine: true},
		{Name: "ammonia", Label: "Total ammonia settles at, as nitrogen", Unit: "mg/L", Digits: 2},
		{Name: "carries", Label: "Feed it carries at the wanted ammonia", Unit: "g/d", Digits: 2},
		{Name: "holes", Label: "Holes in each floor and lid", Unit: "1", Digits: 2, Whole: true},
		{Name: "drill", Label: "Drill", Unit: "mm", Digits: 2},
		{Name: "outlets", Label: "Outlets of each stack", Unit: "1", Digits: 1, Whole: true},
		{Name: "weight", Label: "One stack, blocked and full of water", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
		{Name: "height", Label: "Height of a stack", Unit: "mm", Digits: 3},
		{Name: "drained", Label: "One stack, drained", Unit: "kg", Digits: 2, Fine: true},
		{Name: "lightest", Label: "One stack, drained, at its lightest", Unit: "kg", Digits: 2, Fine: true, Help: "The weight that tipping is reckoned with."},
		{Name: "running", Label: "One stack, running", Unit: "kg", Digits: 2, Fine: true},
		{Name: "mature", Label: "Mature in summer after", Unit: "d", Digits: 2},
		{Name: "build-cost", Label: "Cost to build", Unit: "{currency}", Digits: 3, Whole: true},
		{Name: "year-cost", Label: "Cost of a year", Unit: "{currency}", Digits: 3, Whole: true},
	}
}

func document(c *calculators.Calculator) {
	c.Title = "The tower: a build sheet"
	c.Question = "Which tower of boxes cleans the water of my fish, and how do I build it?"
	c.Part = "filtration"
	c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Drowning, calculators.Lifting, calculators.Toppling, calculators.Climbing, calculators.Digging, calculators.Tools, calculators.Dust, calculators.Solvents, calculators.Infection, calculators.Chlorine, calculators.FishHealth, calculators.Spill}
	c.Cautions = []string{
		"A new tower carries almost nothing. Feed little, and test ammonia and nitrite daily until it is mature: weeks to months.",
		"Use boxes, foam, pipes and cement made for drinking water or food, or at least washed for a week: the label and the maker say what they are for.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Ammonia it settles at", Says: "What the fish give off is what the filter and the water changes take out.",
			TeX: `L = C\,\frac{R(S)}{R(S_0)} + \frac{S\,V\,c}{7}`, Basis: "practice", Function: "tower.Tower",
			Check: calculators.Implicit("S [mg/L], S_0 [mg/L], R [g/m2/d]: L [g/d] 1..2.5, C [g/d] 2.5..4, V [m3] 2..20, c [1] 0..0.5", func(load, capacity, volume, change float64) (settled, target float64, rate func(float64) float64) {
				p := &plan{oxygen: 8}
				p.pond.target, p.pond.summer = 0.25, 21
				return p.balanced(load, capacity, volume*change/7), p.pond.target, p.rate
			})},
		{Name: "Rate of the film", Says: "The other calculators' rates, with their sources, on their own leaves.",
			TeX: `R(S) = 1.859\,\frac{S - 0.07}{S + 1.93}`, Source: "zhu-chen-1999", Locator: "abstract", Basis: "memory", Function: "media.FilmRate",
			Check: calculators.Explicit("R [g/m2/d]: S [mg/L] 0.08..5", media.FilmRate)},
	}
	for i := range c.Outputs {
		c.Outputs[i].Facts = factsOf(c.Outputs[i].Name)
	}
	ready := scenarios()
	c.Example, c.Ready = ready[1].Example, ready
	c.Lookup = calculators.Lookup{
		Caption: "A tower for Ines's pond of {volume}, by the number of koi of {fish.length}",
		Rows:    calculators.Axis{Input: "fish", Values: []string{"koi, 30 cm, 5", "koi, 30 cm, 10", "koi, 30 cm, 15", "koi, 30 cm, 20", "koi, 30 cm, 25"}},
		Show:    []string{"boxes", "stacks", "medium", "ammonia", "faults"},
		Given:   ready[1].Given,
	}
	c.Chart = calculators.Chart{
		Caption: "Ammonia in Ines's pond with her tower, by the water's temperature",
		X:       "summer", From: "12 Cel", To: "28 Cel",
		Show:  "ammonia",
		Given: ready[1].Given,
	}
}

// factsOf are what the plan finds for other calculators of a pond whose keeper
// builds by it.
func factsOf(output string) []string {
	switch output {
	case "eaten":
		return []string{"feed-most"}
	case "flow":
		return []string{"pump-flow", "filter-flow", "pipe-loss.flow", "uv-dose.flow"}
	case "each":
		return []string{"holes-per-tray.flow", "spray-bar.flow", "collector.flow"}
	case "lift":
		return []string{"lift"}
	case "holes":
		return []string{"holes-per-tray.count", "drill-template.count"}
	case "drill":
		return []string{"holes-per-tray.hole", "drill-template.hole"}
	case "lightest":
		return []string{"stack-tipping.drained"}
	case "running":
		return []string{"stack-tipping.running"}
	case "height":
		return []string{"stack-tipping.height"}
	}
	return nil
}

// scenarios are the ready ones, smallest first.
func scenarios() []calculators.Scenario {
	return []calculators.Scenario{
		{Name: "Small patio pond", Example: calculators.Example{
			Story: "Tomas keeps six goldfish of 12 cm in a patio tub of 1,200 L, and wants two boxes no higher than the rail.",
			Given: []calculators.Arg{{Name: "volume", Value: "1200 L"}, {Name: "fish", Value: "goldfish, 12 cm, 6"}, {Name: "summer", Value: "22 Cel"},
				{Name: "box-length", Value: "380 mm"}, {Name: "box-width", Value: "280 mm"}, {Name: "box-height", Value: "220 mm"}, {Name: "recess", Value: "15 mm"},
				{Name: "points", Value: "0 L/h, 1.8 m; 500 L/h, 1.5 m; 1000 L/h, 0.9 m; 1400 L/h, 0.1 m"}, {Name: "bore", Value: "19 mm"}, {Name: "run", Value: "2 m"}, {Name: "outlet-bore", Value: "41 mm"}},
		}},
		{Name: "Koi pond", Example: calculators.Example{
			Story: "Ines keeps 20 koi of about 30 cm in Lower Reach, 9,100 L, and has boxes 560 × 360 × 270 mm.",
			Given: []calculators.Arg{{Name: "volume", Value: "9100 L"}, {Name: "fish", Value: "koi, 30 cm, 20"}, {Name: "summer", Value: "21 Cel"},
				{Name: "box-length", Value: "560 mm"}, {Name: "box-width", Value: "360 mm"}, {Name: "box-height", Value: "270 mm"}},
		}},
		{Name: "Large pond, heavily stocked", Example: calculators.Example{
			Story: "The club's pond Weir End holds 24,000 L and is heavily stocked: 35 koi of 45 cm.",
			Given: []calculators.Arg{{Name: "volume", Value: "24000 L"}, {Name: "fish", Value: "koi, 45 cm, 35"}, {Name: "summer", Value: "20 Cel"},
				{Name: "box-length", Value: "760 mm"}, {Name: "box-width", Value: "560 mm"}, {Name: "box-height", Value: "400 mm"}, {Name: "recess", Value: "40 mm"}, {Name: "most-boxes", Value: "6"}, {Name: "most-stacks", Value: "4"},
				{Name: "points", Value: "0 L/h, 5 m; 8000 L/h, 4.2 m; 14000 L/h, 3.2 m; 20000 L/h, 1.2 m"}, {Name: "bore", Value: "63 mm"}, {Name: "run", Value: "6 m"}, {Name: "bar-bore", Value: "50 mm"},
				{Name: "outlet-bore", Value: "104 mm"}, {Name: "power", Value: "180 W"}},
		}},
	}
}

func compute(parts *crew, in calculators.Inputs) (calculators.Result, error) {
	p, err := newPlan(parts, in)
	if err != nil {
		return calculators.Result{}, err
	}
	d, err := p.best()
	if err != nil {
		return calculators.Result{}, err
	}
	var r calculators.Result
	if err := p.value(&r, d); err != nil {
		return calculators.Result{}, err
	}
	return r, nil
}
