package pond

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
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
		return calculators.Result{}, calculators.Refuse("measuring-error", "is {error ~4 cm}, too much for so small a pond",
			"an error that leaves an answer", "measure more closely, or find the volume with a water meter", 100*each)
	}
	areaOff := math.Min(b.spread(b.surface, each), surface)
	litres(&b.Result, volume-off, volume, volume+off)
	b.Between("surface", surface-areaOff, surface, surface+areaOff)
	b.Exactly("mean-depth", volume/surface)
	addStrength(in, &b.Result, 1000*(volume-off), 1000*volume, 1000*(volume+off))
	weight(&b.Result, volume-off, volume, volume+off, in.In("temperature", "Cel"))
	if b.doubt > 0 {
		b.Step("Error of the answer: every measurement {~4} cm off, one independent of the other, and what may lie between them", "± {2 %}", 100*each, 100*off/volume)
	} else {
		b.Step("Error of the answer: every measurement {~4} cm off, one independent of the other", "± {2 %}", 100*each, 100*off/volume)
	}
	b.Advise(
		"Dose treatments by the low end of the range, and size filter and pump by the high end.",
		"When you next fill the pond, read the water meter before and after: that beats any tape.",
	)
	switch in.Choice("shape") {
	case rectangle, circle, ellipse:
		b.Advise("Rounded corners, sloping walls, silt and rocks all take water away: if the pond has them, choose a shape nearer to it.")
	}
	return b.Result, nil
}

const atWaterLine = "measure the surface at the water line"

// measured returns the body of any shape, after refusing measurements that
// contradict each other.
func measured(in calculators.Inputs) (*body, error) {
	switch in.Choice("shape") {
	case stepped:
		return layered(in.Rows("layers"))
	case stations:
		return sectioned(in.Rows("sections"))
	case soundings:
		return sounded(in.In("area", "m2"), in.Rows("depths"))
	case slopingRectangle, slopingEllipse:
		if top, bottom := in.In("length", "m"), in.In("bottom-length", "m"); bottom > top {
			return nil, calculators.Refuse("bottom-length", "is {bottom ~4 m}, more than the length at the surface", "at most {top ~4 m}", atWaterLine, bottom, top)
		}
		if top, bottom := in.In("width", "m"), in.In("bottom-width", "m"); bottom > top {
			return nil, calculators.Refuse("bottom-width", "is {bottom ~4 m}, more than the width at the surface", "at most {top ~4 m}", atWaterLine, bottom, top)
		}
	case saucer:
		if d, half := in.In("depth", "m"), in.In("diameter", "m")/2; d > half {
			return nil, calculators.Refuse("depth", "is {depth ~4 m}, more than half the diameter of a saucer",
				"at most {radius ~4 m}", "choose shape=bowl or shape=sloping-ellipse", d, half)
		}
	}
	return regular(in), nil
}

// litres and weight add outputs from a volume in m3.
func litres(r *calculators.Result, low, likely, high float64) {
	r.Between("volume", 1000*low, 1000*likely, 1000*high)
}

func weight(r *calculators.Result, low, likely, high, celsius float64) {
	r.Between("weight", Mass(low, celsius), Mass(likely, celsius), Mass(high, celsius))
}

// leastRise is how many times its own standard error the rise of salt must be:
// below that the range of the answer is wider than from half to double.
const leastRise = 3

func computeSalt(in calculators.Inputs) (calculators.Result, error) {
	mass := in.In("salt", "kg")
	before, after := in.In("before", "g/L"), in.In("after", "g/L")
	meter := in.In("meter-error", "g/L")
	rise, off := after-before, RiseError(meter)
	if rise <= 0 {
		return calculators.Result{}, calculators.Refuse("after", "is {after ~4 g/L}, no more than before",
			"more than {before ~4 g/L}", "let the salt dissolve and spread for a day, then read again", after, before)
	}
	if rise < leastRise*off {
		return calculators.Result{}, calculators.Refuse("after", "shows a rise of {rise ~4 g/L}, too near the error of the meter",
			"a rise of at least {least ~4 g/L}", "use a better meter or other measurements; more salt only if fish and plants bear it", rise, leastRise*off)
	}
	low, likely, high := mass/(rise+off), SaltVolume(mass, before, after), mass/(rise-off)
	var r calculators.Result
	litres(&r, low, likely, high)
	addStrength(in, &r, 1000*low, 1000*likely, 1000*high)
	weight(&r, low, likely, high, in.In("temperature", "Cel"))
	r.Step("Rise of salt", "{~4 g/L} − {~4 g/L} = {~4 g/L}", after, before, rise)
	r.Step("Error of the rise", "√2 × {~4 g/L} = {~4 g/L}; {~4 g/L} / {~4 g/L} = {2 %}", meter, off, off, rise, 100*off/rise)
	r.Step("Salt over rise", "{~4} kg / {~4} g/L = {~4} m³", mass, rise, likely)
	if after > limits.SaltPond {
		r.Say("More than {most g/L} of salt is a treatment: add none, and ask a vet whether it may stay. To undo it, change water in parts.", limits.SaltPond)
	}
	r.Advise(
		"This counts all water that mixes: filters and pipes too.",
		"Dose treatments by the low end of the range.",
		"Only water changes take the salt out again.",
		"Meters for conductivity read salt well only with temperature correction, and show the tap water's minerals as salt: only the rise counts.",
	)
	return r, nil
}
