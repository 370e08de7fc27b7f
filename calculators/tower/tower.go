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
		{Name: "flow", Label: "Water through the tower", Unit: "L/h", Digits: flowDigits, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
		{Name: "each", Label: "Of that, through each stack", Unit: "L/h", Digits: flowDigits, Silent: true},
		{Name: "lift", Label: "Lift, from the pond to the inlet", Unit: "m", Digits: liftDigits, Silent: true},
		{Name: "eaten", Label: "The fish eat on a warm day", Unit: "g/d", Digits: feedDigits, Silent: true},
		{Name: "ammonia", Label: "Total ammonia settles at, as nitrogen", Unit: "mg/L", Digits: 2},
		{Name: "together", Label: "With the second tower it settles at", Unit: "mg/L", Digits: 2},
		{Name: "carries", Label: "Feed it carries at the wanted ammonia", Unit: "g/d", Digits: 2},
		{Name: "holes", Label: "Holes in each floor and lid", Unit: "1", Digits: 2, Whole: true},
		{Name: "drill", Label: "Drill", Unit: "mm", Digits: 2},
		{Name: "outlets", Label: "Outlets of each stack", Unit: "1", Digits: 1, Whole: true},
		{Name: "weight", Label: "One stack, blocked and full of water", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
		{Name: "height", Label: "Height of a stack", Unit: "mm", Digits: 3},
		{Name: "drained", Label: "One stack, drained", Unit: "kg", Digits: 2, Silent: true},
		{Name: "lightest", Label: "One stack, drained, at its lightest", Unit: "kg", Digits: 3, Silent: true, Help: "The weight that tipping is reckoned with."},
		{Name: "running", Label: "One stack, running", Unit: "kg", Digits: 2, Silent: true},
		{Name: "runs-back", Label: "Runs back to the pond when the pump stops", Unit: "L", Digits: 2, Silent: true},
		{Name: "bucket-time", Label: "Time in which a stack fills a bucket", Unit: "s", Digits: 2, Silent: true},
		{Name: "falls", Label: "Free falls on the way down", Unit: "1", Digits: 2, Whole: true, Silent: true, Help: "One under each drilled floor."},
		{Name: "fall", Label: "Height of a free fall", Unit: "mm", Digits: 2, Silent: true, Help: "From a floor down to the medium of the next box."},
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
			Check: calculators.Implicit("S [mg/L] total ammonia nitrogen where it settles, S_0 [mg/L] total ammonia nitrogen that the tower is planned for, R [g/m2/d]: L [g/d] ammonia nitrogen from the fish 1..2.5, C [g/d] ammonia nitrogen that the tower takes out at S_0 2.5..4, V [m3] volume of the pond 2..20, c [1] share of the water changed each week 0..0.5", func(load, capacity, volume, change float64) (settled, target float64, rate func(float64) float64) {
				p := &plan{oxygen: 8}
				p.pond.target, p.pond.summer = 0.25, 21
				return p.balanced(load, capacity, volume*change/7), p.pond.target, p.rate
			})},
		{Name: "Between two towers", Says: "What the first of two towers, one behind the other, takes out is missing in the water that the second gets.",
			TeX: `S_1 = S - \frac{L_1}{Q}`, Basis: "practice", Function: "tower.Tower",
			Check: calculators.Explicit("S_1 [mg/L] total ammonia nitrogen between the towers: S [mg/L] total ammonia nitrogen in the pond 0.2..2, L_1 [g/d] ammonia nitrogen that the first takes out 0.5..4, Q [m3/d] flow through the towers 20..200", left)},
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
		Pond:    ready[1].Pond,
	}
	c.Chart = calculators.Chart{
		Caption: "Ammonia in Ines's pond with her tower, by the water's temperature",
		X:       "summer", From: "12 Cel", To: "28 Cel",
		Show: "ammonia",
		Pond: ready[1].Pond,
	}
}

// factsOf are what the plan finds for other calculators of a pond whose keeper
// builds by it, beside what its lines ask them.
func factsOf(output string) []string {
	switch output {
	case "eaten":
		return []string{"feed-most"}
	case "flow":
		return []string{"filter-flow", "uv-dose.flow", "pipe-loss.flow", "oxygen-night.flow"}
	case "each":
		return []string{"holes-per-tray.flow", "spray-bar.flow", "collector.flow", "pump-flow"}
	case "holes":
		return []string{"holes-per-tray.count"}
	case "lift":
		return []string{"lift"}
	case "tiers":
		return []string{"stack-weight.boxes"}
	case "falls":
		return []string{"oxygen-night.tiers"}
	case "fall":
		return []string{"oxygen-night.drop"}
	}
	return nil
}

// scenarios are the ready ones, smallest first.
func scenarios() []calculators.Scenario {
	return []calculators.Scenario{
		{Name: "Small patio pond", Example: calculators.Example{
			Story: "Tomas keeps {fish.count} goldfish of {fish.length} in a patio tub of {volume}, and wants a tower no higher than the rail.",
			Pond:  "tub",
		}},
		{Name: "Koi pond", Example: calculators.Example{
			Story: "Ines keeps {fish.count} koi of about {fish.length} in Lower Reach, {volume}, and has boxes {box-length} × {box-width} × {box-height}.",
			Pond:  "ines",
		}},
		{Name: "Large pond, heavily stocked", Example: calculators.Example{
			Story: "The club's pond Weir End holds {volume} and is heavily stocked: {fish.count} koi of {fish.length}.",
			Pond:  "weir-end",
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
