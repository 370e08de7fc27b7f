package stack

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Gusts of a storm, and of a worse one, in m/s: the wind that is asked about and
// one for windy places, common practice.
const (
	storm = 25.0
	gale  = 35.0
)

// Tipping declares the calculator of what tips a stack.
func Tipping() calculators.Calculator {
	c := calculators.Calculator{
		ID: "stack-tipping",
		Inputs: []calculators.Input{
			{Name: "drained", Label: "Weight of the stack, drained", Kind: quantity.Mass, Accept: calculators.Range{Low: 1, High: 20000, Origin: "sanity limit"},
				Help: "With the pump off. Of a range take the low end: the lighter the stack, the sooner it tips."},
			{Name: "running", Label: "Weight of the stack, running", Kind: quantity.Mass, Optional: true, Accept: calculators.Range{Low: 1, High: 20000, Origin: "sanity limit"},
				Help: "With the water in it."},
			{Name: "base", Label: "Narrow side of the base", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 5000, Origin: "sanity limit"},
				Help: "Outside, of what cannot slide apart; wind from the front tips over this side."},
			{Name: "width", Label: "Wide side", Kind: quantity.Size, Accept: calculators.Range{Low: 50, High: 10000, Origin: "sanity limit"},
				Help: "The face that the wind meets."},
			{Name: "height", Label: "Height of the stack", Kind: quantity.Size, Accept: calculators.Range{Low: 100, High: 10000, Origin: "sanity limit"},
				Help: "From the ground to the top, with lid and spray bar."},
			{Name: "wind", Fact: "storm-wind", Label: "Wind", Kind: quantity.Velocity, Accept: calculators.Range{Low: 1, High: 80, Origin: "sanity limit"}, Default: "25 m/s",
				Help: calculators.Hint("Gusts of the worst storm: {storm m/s} is {storm-h km/h}, {gale m/s} {gale-h km/h}.", storm, 3.6*storm, gale, 3.6*gale)},
			{Name: "shape", Label: "Shape", Type: calculators.Choice, Fine: true, Default: "square",
				Options: []calculators.Option{{Name: "square", Label: "with corners"}, {Name: "round", Label: "round"}},
				Help:    "Round barrels catch less wind."},
			{Name: "coefficient", Label: "Force coefficient", Kind: quantity.Number, Fine: true, Optional: true, Accept: calculators.Range{Low: 0.3, High: 3, Origin: "sanity limit"},
				Help: "Leave it empty unless a code gives you one."},
			{Name: "centre", Label: "Height of the centre of mass", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 10, High: 10000, Origin: "sanity limit"},
				Help: "Half the height if the boxes are alike."},
			{Name: "push", Label: "Height of a push", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 10, High: 10000, Origin: "sanity limit"},
				Help: "The top, if left empty."},
			{Name: "child", Label: "Weight of a child", Kind: quantity.Mass, Fine: true, Accept: calculators.Range{Low: 5, High: 120, Origin: "sanity limit"}, Default: "25 kg",
				Help: "The heaviest child that may come by."},
			{Name: "reach", Label: "How far outside the edge it hangs", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 50, High: 1000, Origin: "sanity limit"}, Default: "300 mm",
				Help: "The middle of its body."},
		},
		Outputs: []calculators.Output{
			{Name: "ratio", Label: "Hold against the wind, drained", Unit: "1", Digits: 2, Help: calculators.Hint("Below {tips ~} the stack tips; want {wanted ~} or more, and tie it anyway.", 1, WantedRatio)},
			{Name: "ratio-running", Label: "Hold against the wind, running", Unit: "1", Digits: 2},
			{Name: "ratio-child", Label: "Hold against a child that climbs, drained", Unit: "1", Digits: 2, Help: calculators.Hint("Below {tips ~} the stack comes down on the child.", 1)},
			{Name: "tipping-force", Label: "Push that tips it, drained", Unit: "N", Digits: 2, Help: calculators.Hint("A litre of water weighs {weight 2 N}.", Gravity*waterDensity/1000)},
			{Name: "tipping-force-running", Label: "Push that tips it, running", Unit: "N", Digits: 2, Fine: true},
			{Name: "tie", Label: "Pull that a tie at the top must hold", Unit: "N", Digits: 2, Help: calculators.Hint("For a hold of {wanted ~} in this wind, drained; nothing if the stack holds alone.", WantedRatio)},
			{Name: "angle", Label: "Tilt at which it falls", Unit: "deg", Digits: 2},
			{Name: "slenderness", Label: "Height over the narrow side", Unit: "1", Digits: 2, Help: calculators.Hint("Above {most ~} tie it, whatever the sum says.", slenderest)},
			{Name: "wind-force", Label: "Force of the wind", Unit: "N", Digits: 2, Fine: true},
			{Name: "overturning", Label: "Overturning moment of the wind", Unit: "N.m", Digits: 2, Fine: true},
			{Name: "restoring", Label: "Restoring moment, drained", Unit: "N.m", Digits: 2, Fine: true},
		},
		Compute: computeTipping,
	}
	if calculators.Documented {
		documentTipping(&c)
	}
	return c
}

func documentTipping(c *calculators.Calculator) {
	c.Title = "What tips the stack"
	c.Question = "Do wind, a push or a climbing child bring my stack down?"
	c.Part = "safety"
	c.Hazards = []calculators.Hazard{calculators.Drowning, calculators.Toppling, calculators.Climbing, calculators.Digging}
	c.Cautions = []string{
		"The sum takes the stack for one rigid block. Boxes slide on one another, plastic creeps in sun and frost, and the ground gives: real stacks tip sooner.",
		"Do not hang on the stack or lean a ladder against it.",
	}
	c.Formulas = []calculators.Formula{
		{Name: "Pressure of the wind", Says: "Half the density of air times the square of the speed: half as much wind again is more than twice the force.",
			TeX: `q = \tfrac{1}{2}\rho v^2`, Source: "en-1991-1-4", Locator: "air density 1.25", Basis: "memory", Function: "stack.WindPressure",
			Check: calculators.Explicit("q [Pa]: v [m/s] wind speed 5..40, ρ [kg/m3] density of air 1.1..1.3", WindPressure)},
		{Name: "Force of the wind", Says: "Pressure on the face of the stack, times 1.3 to 1.5 for corners and 0.8 for round ones; it acts at half the height.",
			TeX: `F = q\,C_f\,w H`, Source: "ubc-1997", Locator: "Table 16-H", Basis: "published", Function: "stack.WindForce",
			Check: calculators.Explicit("F [N] force of the wind: q [Pa] 50..1000, C_f [1] factor of the shape 0.8..1.5, w [m] width of the stack 0.2..1, H [m] height of the stack 0.5..2", WindForce)},
		{Name: "What holds it", Says: "The weight, at half the depth of the base.",
			TeX: `M = m g\tfrac{b}{2}`, Source: "cgpm-1901", Locator: "standard gravity", Basis: "memory", Function: "stack.RestoringMoment",
			Check: calculators.Explicit("M [N.m] moment that holds the stack: m [kg] 20..400, b [m] 0.3..1, g [m/s2] 9.80665", func(mass, base, _ float64) float64 { return RestoringMoment(mass, base) })},
		{Name: "Push", Says: "The higher the push, the less of it.",
			TeX: `F = \frac{m g\,b/2}{h}`, Source: "cgpm-1901", Locator: "standard gravity", Basis: "memory", Function: "stack.TippingForce",
			Check: calculators.Explicit("F [N] push that tips it: m [kg] 20..400, b [m] 0.3..1, h [m] height of the push 0.5..2, g [m/s2] 9.80665", func(mass, base, height, _ float64) float64 { return TippingForce(mass, base, height) })},
		{Name: "Tilt", Says: "How far it leans before its centre of mass passes the edge.",
			TeX: `\alpha = \arctan\frac{b/2}{h_c}`, Basis: "practice", Function: "stack.TippingAngle",
			Check: calculators.Explicit("α [rad] angle of tilt: b [m] 0.3..1, h_c [m] height of the centre of mass 0.2..1.2", func(base, centre float64) float64 { return TippingAngle(base, centre) * math.Pi / 180 })},
		{Name: "Climbing child", Says: "The child's weight acts outside the edge; swinging counts as twice the weight. It takes the boxes for one block, which they are only if strapped together.",
			TeX: `\frac{m\,b}{2\,m_c\,r}`, Basis: "practice", Function: "stack.ClimbingRatio",
			Check: calculators.Explicit("hold [1] what holds over what tips: m [kg] 20..400, b [m] 0.3..1, m_c [kg] mass of the child 10..40, r [m] how far outside the edge it climbs 0.1..0.5", ClimbingRatio)},
	}
	c.Example = calculators.Example{
		Story: "Ines's stack weighs {drained 2} drained, at its lightest, and {running 2} running. It stands {height} high on {base} by {width}.",
		Pond:  "ines",
	}
	given := []calculators.Arg{{Name: "base", Value: "400 mm"}, {Name: "width", Value: "600 mm"}, {Name: "height", Value: "1.2 m"}, {Name: "drained", Value: "120 kg"}}
	c.Lookup = calculators.Lookup{
		Caption: "Hold against the wind of a stack {height} high, {base} by {width}, by its drained weight",
		Rows:    calculators.Axis{Input: "drained", Values: []string{"40 kg", "80 kg", "120 kg", "180 kg", "240 kg"}},
		Columns: calculators.Axis{Input: "wind", Values: []string{"15 m/s", "20 m/s", "25 m/s", "30 m/s", "35 m/s"}},
		Show:    []string{"ratio"},
		Given:   given,
	}
	c.Chart = calculators.Chart{
		Caption: "Hold against the wind of a stack of {drained}, {height} high and {width} wide, by the depth of its base",
		X:       "wind", From: "10 m/s", To: "40 m/s",
		Series: calculators.Axis{Input: "base", Values: []string{"300 mm", "400 mm", "600 mm"}},
		Show:   "ratio", Log: true,
		Given: given,
	}
}

func computeTipping(in calculators.Inputs) (calculators.Result, error) {
	drained, base, height := in.In("drained", "kg"), in.In("base", "m"), in.In("height", "m")
	push, centre, err := heights(in, height)
	if err != nil {
		return calculators.Result{}, err
	}
	low, likely, high := ForceCoefficient(in.Choice("shape") == "round")
	if in.Has("coefficient") {
		likely = in.In("coefficient", "1")
		low, high = likely, likely
	}
	pressure := WindPressure(in.In("wind", "m/s"), AirDensity)
	force, holds := WindForce(pressure, 1, in.In("width", "m"), height), RestoringMoment(drained, base)
	ratio := func(holds, coefficient float64) float64 { return holds / (force * coefficient * height / 2) }
	child := ClimbingRatio(drained, base, in.In("child", "kg"), in.In("reach", "m"))
	slender := height / base

	var r calculators.Result
	r.Between("ratio", ratio(holds, high), ratio(holds, likely), ratio(holds, low))
	if in.Has("running") {
		wet := in.In("running", "kg")
		full := RestoringMoment(wet, base)
		r.Between("ratio-running", ratio(full, high), ratio(full, likely), ratio(full, low))
		r.Exactly("tipping-force-running", TippingForce(wet, base, push))
	}
	r.Between("ratio-child", child/2, child, child) // swinging, it weighs up to twice as much
	r.Exactly("tipping-force", TippingForce(drained, base, push))
	tie := func(coefficient float64) float64 {
		return max(0, WantedRatio*force*coefficient*height/2-holds) / height
	}
	r.Between("tie", tie(low), tie(likely), tie(high))
	r.Exactly("angle", TippingAngle(base, centre))
	r.Exactly("slenderness", slender)
	r.Between("wind-force", force*low, force*likely, force*high)
	r.Between("overturning", force*low*height/2, force*likely*height/2, force*high*height/2)
	r.Exactly("restoring", holds)
	r.Step("Pressure of the wind", "½ × {~3 kg/m3} × ({3 m/s})² = {3 Pa}", AirDensity, in.In("wind", "m/s"), pressure)
	r.Step("Overturning", "{3 Pa} × {3} × {3 m} × {3 m} × {3 m} / 2 = {3 N.m}", pressure, likely, in.In("width", "m"), height, height, force*likely*height/2)
	r.Step("Restoring, drained", "{3 kg} × 9.80665 m/s² × {3 m} / 2 = {3 N.m}", drained, base, holds)
	r.Step("Hold", "{3 N.m} / {3 N.m} = {3}", holds, force*likely*height/2, ratio(holds, likely))
	adviseTipping(&r, ratio(holds, high), child/2, slender)
	r.Scale = calculators.Scale{Output: "ratio", Marks: []calculators.Mark{
		{Value: 1, Label: "tips", Basis: "practice"},
		{Value: WantedRatio, Label: "wanted", Basis: "practice"},
	}}
	return r, nil
}

// heights returns the height of a push and of the centre of mass in m.
func heights(in calculators.Inputs, height float64) (push, centre float64, err error) {
	push, centre = height, height/2
	if in.Has("push") {
		push = in.In("push", "m")
	}
	if in.Has("centre") {
		centre = in.In("centre", "m")
	}
	const accept, remedy = "at most the height, {height 3 mm}", "check the heights"
	switch {
	case push > height:
		err = calculators.Refuse("push", "is above the stack", accept, remedy, 1000*height)
	case centre > height:
		err = calculators.Refuse("centre", "is above the stack", accept, remedy, 1000*height)
	case in.Has("running") && in.In("running", "kg") < in.In("drained", "kg"):
		err = calculators.Refuse("running", "is less than the stack weighs drained", "at least {drained 3 kg}", "check both weights", in.In("drained", "kg"))
	}
	return push, centre, err
}

func adviseTipping(r *calculators.Result, wind, child, slender float64) {
	if child < WantedRatio {
		r.Advise("A child that climbs it can bring it down: fence the stack or tie it before any child comes near.")
	}
	switch {
	case wind < 1:
		r.Advise("This wind may tip the drained stack: tie it to a wall or a frame now, or widen its base.")
	case wind < WantedRatio:
		r.Advise("The stack holds in this wind by less than wanted: tie it, widen the base, or strap two stacks side by side.")
	}
	if slender > slenderest {
		r.Advise("It is higher than twice its narrow side: tie or frame it, whatever the sum says.")
	}
	r.Advise(
		"A child that hangs on the top box pulls that box off long before the stack tips: strap the boxes together.",
		"Tie every stack anyway: a strap round all the boxes near the top, to a wall or a driven post.",
		"Put the heaviest boxes low. Light media and a drained stack tip first: think of the winter storm with the pump off.",
	)
}
