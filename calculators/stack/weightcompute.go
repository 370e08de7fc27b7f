package stack

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/media"
)

// box is what one box weighs in kg; dry, drained and running are left out of a
// box that was weighed full.
type box struct{ dry, drained, running, blocked media.Range }

func computeWeight(in calculators.Inputs) (calculators.Result, error) {
	b, err := readBox(in)
	if err != nil {
		return calculators.Result{}, err
	}
	boxes, area := in.In("boxes", "1"), in.In("base-length", "m")*in.In("base-width", "m")
	bears := BearingPressure(in.Choice("ground"))
	if in.Choice("ground") == "own" {
		bears = 1000 * in.In("bears", "kPa")
	}
	total := b.blocked.Times(boxes)
	pressure := total.Times(GroundPressure(1, area, 1))
	var r calculators.Result
	between(&r, "total", total, 1)
	between(&r, "pressure", pressure, 1e-3)
	between(&r, "bearing", pressure, 100/bears)
	if in.Choice("from") == "media" {
		between(&r, "total-running", b.running, boxes)
		between(&r, "total-drained", b.drained, boxes)
		between(&r, "box-dry", b.dry, 1)
		between(&r, "box-drained", b.drained, 1)
		between(&r, "box-running", b.running, 1)
		between(&r, "box-blocked", b.blocked, 1)
		r.Step("One box dry, drained, running, full of water", "{3 kg}; {3 kg}; {3 kg}; {3 kg}", b.dry.Likely, b.drained.Likely, b.running.Likely, b.blocked.Likely)
	}
	r.Step("Whole stack", "{0} × {3 kg} = {3 kg}", boxes, b.blocked.Likely, total.Likely)
	r.Step("Pressure", "{3 kg} × 9.80665 m/s² / {3 m2} = {3 kPa}", total.Likely, area, pressure.Likely/1e3)
	r.Step("The ground bears", "{3 kPa}", bears/1e3)
	adviseGround(&r, pressure.High/bears)
	adviseLift(&r, &b)
	r.Scale = calculators.Scale{Output: "box-drained", Marks: limits.Marks(limits.Lift)}
	return r, nil
}

func between(r *calculators.Result, output string, v media.Range, factor float64) {
	r.Between(output, factor*v.Low, factor*v.Likely, factor*v.High)
}

func readBox(in calculators.Inputs) (box, error) {
	if in.Choice("from") == "weighed" {
		return box{blocked: exact(in.In("weighed", "kg"))}, nil
	}
	area, fill, side := in.In("length", "m")*in.In("width", "m"), in.In("fill", "m"), in.In("side", "m")
	if fill > side {
		return box{}, calculators.Refuse("fill", "is deeper than the spill edge", "at most {edge 3 mm}", "check both depths", 1000*side)
	}
	dry, drained, void := readMedium(in)
	if drained.High < dry.Low {
		return box{}, calculators.Refuse("drained", "is less than it weighs dry", "at least {dry 3 kg/m3}", "weigh the bucket again", dry.Low)
	}
	empty, standing := in.In("box", "kg"), min(in.In("standing", "m"), side)
	b := box{dry: plus(empty, dry, area*fill), drained: plus(empty, drained, area*fill)}
	b.running = plus(waterDensity*area*(min(standing, fill)*void.Likely+max(0, standing-fill)), b.drained, 1)
	b.blocked = plus(empty+waterDensity*area*(side-fill), FloodedDensity(dry, drained, void), area*fill)
	return b, nil
}

func exact(v float64) media.Range { return media.Range{Low: v, Likely: v, High: v} }

// plus returns a mass and a range times a factor.
func plus(mass float64, r media.Range, factor float64) media.Range {
	return media.Range{Low: mass + factor*r.Low, Likely: mass + factor*r.Likely, High: mass + factor*r.High}
}

func readMedium(in calculators.Inputs) (dry, drained, void media.Range) {
	if in.Choice("medium") == "own" {
		return exact(in.In("dry", "kg/m3")), exact(in.In("drained", "kg/m3")), exact(in.In("void", "%") / 100)
	}
	for _, m := range media.Table() {
		if m.Name == in.Choice("medium") {
			return m.Dry.Range(), m.Wet.Range(), m.Void.Range()
		}
	}
	panic("stack: medium without figures: " + in.Choice("medium"))
}

// adviseGround takes the greatest pressure as a share of what the ground bears.
func adviseGround(r *calculators.Result, share float64) {
	switch {
	case share > 1:
		r.Advise("The ground may give way, and a stack that leans tips: lay a wider slab on rammed gravel, and set it level.")
	case share > 0.5:
		r.Advise("The ground bears the stack with little to spare, and rain softens it: a slab on rammed gravel keeps it level.")
	}
	r.Advise("Check the stack with a level each month: the ground settles under one side first.")
}

func adviseLift(r *calculators.Result, b *box) {
	switch w := b.drained.High; {
	case w == 0:
		r.Flag("Fill the box with water to its spill edge once it stands on the scales: that is what the base must bear when all is blocked. Drain it before you lift it off.")
	case w > limits.LiftMan:
		r.Say("A drained box may weigh {weight 2 kg}: do not lift it alone. Take the medium out in bags first, or fill the boxes less.", w)
	case w > limits.LiftAlone:
		r.Say("A drained box may weigh {weight 2 kg}, more than the lower first filter of {filter kg}, held close at the waist: share the lift or the medium.", w, limits.LiftAlone)
	}
	if w := b.drained.High; w > limits.LiftOverhead {
		r.Say("{weight 2 kg} is too heavy above the shoulder, where the lower first filter is {filter kg}: empty the upper boxes bag by bag, and lift no box from a step or ladder.", w, limits.LiftOverhead)
	}
	if b.drained.High > 0 {
		r.Say("The filters hold close to the body and up to {lifts 0} lifts an hour: a twist takes off a tenth, one or two lifts a minute three tenths.", liftsAnHour)
	}
}
