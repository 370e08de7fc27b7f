package tower

import (
	"math"

	"mereleaf/calculators"
)

// weights are those of one stack in kg.
type weights struct {
	foam, medium             answer // one box of each
	drained, running, filled float64
	drainedLeast             float64 // with the lightest medium
	filledMost               float64
	bottom                   float64 // water that stands in the bottom box
}

// costs are in the reader's currency.
type costs struct {
	boxes, medium, foam, pump, pipes, build float64
	power                                   *answer
	water, year                             float64
	gram                                    float64 // to build, for a gram of ammonia nitrogen a day
}

// weigh asks for one box of each kind, adds them up, and asks whether ground and
// wind bear the stack.
func (d *design) weigh(p *plan) error {
	l := &d.load
	var err error
	if l.medium, err = p.box(d.medium, d.fill, d.tray.likely("head-clean")); err != nil {
		return err
	}
	foam := p.in.In("foam-grades", "1") * p.mm("foam-thickness") / float64(d.foamBoxes(p))
	if l.foam, err = p.box("foam-20", foam, d.tray.likely("head-clean")); err != nil {
		return err
	}
	floor := p.mm("box-length") * p.mm("box-width") / 1e6 // m2
	sum := func(output string, end func(calculators.Value) float64) float64 {
		w := float64(d.tiers) * end(l.medium.value(output))
		if !d.compact {
			w += float64(d.foamBoxes(p)) * end(l.foam.value(output))
		}
		if !d.open {
			w += p.in.In("box-weight", "kg")
		}
		return w
	}
	likely := func(v calculators.Value) float64 { return v.Likely }
	l.drained = sum("box-drained", likely)
	l.drainedLeast = sum("box-drained", func(v calculators.Value) float64 { return v.Low })
	l.running, l.filled = sum("box-running", likely), sum("box-blocked", likely)
	l.filledMost = sum("box-blocked", func(v calculators.Value) float64 { return v.High })
	if !d.open {
		standing := outletFloor + p.mm("outlet-bore")/2 + d.outlet.likely("needed") + d.collector.likely("head-clean")
		l.bottom = floor * math.Min(standing, p.mm("box-height"))
		full := floor * p.mm("box-height")
		l.running, l.filled, l.filledMost = l.running+l.bottom, l.filled+full, l.filledMost+full
	}
	return d.stability(p)
}

// box asks what one box weighs, filled to a height with a medium.
func (p *plan) box(medium string, fill, standing float64) (answer, error) {
	length, width := p.mm("box-length"), p.mm("box-width")
	return ask(&p.crew.heavy, []calculators.Arg{as("from", "media"), at("boxes", 1, "1"), at("box", p.in.In("box-weight", "kg"), "kg"), as("medium", medium),
		at("length", length, "mm"), at("width", width, "mm"), at("fill", fill, "mm"), at("side", p.mm("box-height"), "mm"), at("standing", math.Min(standing, p.mm("box-height")), "mm"),
		at("base-length", length, "mm"), at("base-width", width, "mm"), as("ground", p.in.Choice("ground"))})
}

func (d *design) stability(p *plan) error {
	length, width := p.mm("box-length")+2*p.mm("wall"), p.mm("box-width")+2*p.mm("wall")
	slab := func(name string, box float64) float64 {
		if p.in.Has(name) {
			return math.Max(box, p.mm(name))
		}
		return box
	}
	var err error
	d.ground, err = ask(&p.crew.heavy, []calculators.Arg{as("from", "weighed"), at("boxes", float64(d.boxes), "1"), at("weighed", d.load.filledMost/float64(d.boxes), "kg"),
		at("base-length", slab("slab-length", length), "mm"), at("base-width", slab("slab-width", width), "mm"), as("ground", p.in.Choice("ground"))})
	if err != nil {
		return err
	}
	d.tipping, err = ask(&p.crew.tipping, []calculators.Arg{at("drained", d.load.drainedLeast, "kg"), at("running", math.Max(d.load.running, d.load.drainedLeast), "kg"),
		at("base", math.Min(length, width), "mm"), at("width", math.Max(length, width), "mm"), at("height", d.height, "mm"), at("wind", p.in.In("wind", "m/s"), "m/s")})
	return err
}

// price adds up what the tower costs to build and to run.
func (d *design) price(p *plan) {
	money := func(name string) float64 { return p.in.In(name, "{currency}") }
	c := &d.cost
	c.boxes = float64(d.stacks*d.boxes) * money("box-price")
	c.medium = d.litres * d.option.price
	c.foam = float64(d.stacks) * p.in.In("foam-grades", "1") * money("foam-price")
	c.pump = money("pump-price")
	c.build = c.boxes + c.medium + c.foam + c.pump
	c.water = p.pond.volume / 1000 * p.in.In("change", "%") / 100 * 52 * money("water-price")
	c.year = c.water
	if a, err := ask(&p.crew.power, []calculators.Arg{at("power", p.in.In("power", "W"), "W"), at("price", money("power-price"), "{currency}")}); err == nil {
		c.power = &a
		c.year += a.likely("cost-year")
	}
	if d.capacity.Likely > 0 {
		c.gram = c.build / d.capacity.Likely
	}
}
