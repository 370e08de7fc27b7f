package pond

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

func computeVolume(in calculators.Inputs) (calculators.Result, error) {
	if in.Choice("shape") == salt {
		return computeSalt(in)
	}
	b, err := measured(in)
	if err != nil {
		return calculators.Result{}, err
	}
	each := in.In("measuring-error", "m")
	volume, surface := b.volume(b.measures), b.surface(b.measures)
	off := math.Hypot(b.spread(b.volume, each), b.doubt)
	if off >= volume {
		return calculators.Result{}, calculators.InputError{Input: "measuring-error", Problem: "is " + num(100*each) + " cm, too much for so small a pond",
			Accept: "an error that leaves an answer", Remedy: "measure more closely, or find the volume with a water meter"}
	}
	areaOff := math.Min(b.spread(b.surface, each), surface)
	return calculators.Result{
		Values: []calculators.Value{
			litres(volume-off, volume, volume+off),
			calculators.Between("surface", surface-areaOff, surface, surface+areaOff),
			calculators.Exactly("mean-depth", volume/surface),
			weight(volume-off, volume, volume+off, in.In("temperature", "Cel")),
		},
		Flags:   b.flags,
		Working: append(b.working, errorStep(b, each, off/volume)),
		Advice:  measuredAdvice(in.Choice("shape")),
	}, nil
}

func errorStep(b body, each, share float64) calculators.Step {
	text := "every measurement " + num(100*each) + " cm off, one independent of the other"
	if b.doubt > 0 {
		text += ", and what may lie between them"
	}
	return calculators.Step{Label: "Error of the answer", Text: text + ": ± " + percent(share)}
}

// measured returns the body of any shape, after refusing measurements that
// contradict each other.
func measured(in calculators.Inputs) (body, error) {
	switch in.Choice("shape") {
	case stepped:
		return layered(in.Rows("layers"))
	case stations:
		return sectioned(in.Rows("sections"))
	case soundings:
		return sounded(in.In("area", "m2"), in.Rows("depths"))
	case slopingRectangle, slopingEllipse:
		for _, side := range []string{"length", "width"} {
			if top, bottom := in.In(side, "m"), in.In("bottom-"+side, "m"); bottom > top {
				return body{}, calculators.InputError{Input: "bottom-" + side, Problem: "is " + num(bottom) + " m, more than the " + side + " at the surface",
					Accept: "at most " + num(top) + " m", Remedy: "measure the surface at the water line"}
			}
		}
	case saucer:
		if d, half := in.In("depth", "m"), in.In("diameter", "m")/2; d > half {
			return body{}, calculators.InputError{Input: "depth", Problem: "is " + num(d) + " m, more than half the diameter of a saucer",
				Accept: "at most " + num(half) + " m", Remedy: "choose shape=bowl or shape=sloping-ellipse"}
		}
	}
	return regular(in), nil
}

// litres and weight return outputs from a volume in m3.
func litres(low, likely, high float64) calculators.Value {
	return calculators.Between("volume", 1000*low, 1000*likely, 1000*high)
}

func weight(low, likely, high, celsius float64) calculators.Value {
	return calculators.Between("weight", Mass(low, celsius), Mass(likely, celsius), Mass(high, celsius))
}

// percent prints a fraction to the two digits that an error bears.
func percent(fraction float64) string { return quantity.FormatNumber(100*fraction, 2) + "\u00a0%" }

func measuredAdvice(shape string) []string {
	advice := []string{
		"Dose treatments by the low end of the range, and size filter and pump by the high end.",
		"When you next fill the pond, read the water meter before and after: that beats any tape.",
	}
	if shape == rectangle || shape == circle || shape == ellipse {
		advice = append(advice, "Rounded corners, sloping walls, silt and rocks all take water away: if the pond has them, choose a shape nearer to it.")
	}
	return advice
}

// leastRise is how many times its own standard error the rise of salt must be:
// below that the range of the answer is wider than from half to double.
const leastRise = 3

func computeSalt(in calculators.Inputs) (calculators.Result, error) {
	mass := in.In("salt", "kg")
	before, after := in.In("before", "g/L"), in.In("after", "g/L")
	rise, off := after-before, RiseError(in.In("meter-error", "g/L"))
	if rise <= 0 {
		return calculators.Result{}, calculators.InputError{Input: "after", Problem: "is " + num(after) + " g/L, no more than before",
			Accept: "more than " + num(before) + " g/L", Remedy: "let the salt dissolve and spread for a day, then read again"}
	}
	if rise < leastRise*off {
		return calculators.Result{}, calculators.InputError{Input: "after", Problem: "shows a rise of " + num(rise) + " g/L, too near the error of the meter",
			Accept: "a rise of at least " + num(leastRise*off) + " g/L", Remedy: "use a better meter or other measurements; more salt only if fish and plants bear it"}
	}
	low, likely, high := mass/(rise+off), SaltVolume(mass, before, after), mass/(rise-off)
	r := calculators.Result{Values: []calculators.Value{litres(low, likely, high), weight(low, likely, high, in.In("temperature", "Cel"))}}
	r.Working = []calculators.Step{
		{Label: "Rise of salt", Text: num(after) + " − " + num(before) + " = " + num(rise) + " g/L"},
		{Label: "Error of the rise", Text: "√2 × " + num(in.In("meter-error", "g/L")) + " = " + num(off) + " g/L, ± " + percent(off/rise)},
		{Label: "Salt over rise", Text: num(mass) + " kg / " + num(rise) + " g/L = " + num(likely) + " m³"},
	}
	r.Advice = []string{
		"This counts all water that mixes: filters and pipes too.",
		"Dose treatments by the low end of the range.",
		"Meters for conductivity read salt well only with temperature correction, and show the tap water's minerals as salt: only the rise counts.",
	}
	return r, nil
}
