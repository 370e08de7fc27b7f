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
	boxes, medium, foam, pump, build float64
	power                            answer
	water, year                      float64
	gram                             float64 // to build, for a gram of ammonia nitrogen a day
}

// weigh asks for one box of each kind, adds them up, and asks whether ground and
// wind bear the stack.
func (d *design) weigh(p *plan) error {
	l := &d.load
	if err := p.box(&l.medium, d.medium, d.fill, d.tray.likely("head-clean")); err != nil {
		return err
	}
	foam := d.grades(p) * p.mm("foam-thickness") / float64(d.foamBoxes(p))
	if err := p.box(&l.foam, "foam-20", foam, d.tray.likely("head-clean")); err != nil {
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
		standing := outletHeight(p.mm("outlet-bore")) + p.mm("outlet-bore")/2 + d.outlet.likely("needed") + d.collector.likely("head-clean")
		l.bottom = floor * math.Min(standing, p.mm("box-height"))
		full := floor * p.mm("box-height")
		l.running, l.filled, l.filledMost = l.running+l.bottom, l.filled+full, l.filledMost+full
	}
	return d.stability(p)
}

// box asks what one box weighs, filled to a height with a medium.
func (p *plan) box(a *answer, medium string, fill, standing float64) error {
	length, width := p.mm("box-length"), p.mm("box-width")
	return p.ask(a, &p.crew.heavy, append(p.text("ground", "ground"), calculators.Arg{Name: "medium", Value: medium}),
		"from=media\nboxes=1\nbox={~4 kg}\nlength={~5 mm}\nwidth={~5 mm}\nfill={~3 mm}\nside={~4 mm}\nstanding={~3 mm}\nbase-length={~5 mm}\nbase-width={~5 mm}",
		p.in.In("box-weight", "kg"), length, width, fill, p.mm("box-height"), math.Min(standing, p.mm("box-height")), length, width)
}

func (d *design) stability(p *plan) error {
	length, width := p.mm("box-length")+2*p.mm("wall"), p.mm("box-width")+2*p.mm("wall")
	slab := func(name string, box float64) float64 {
		if p.in.Has(name) {
			return math.Max(box, p.mm(name))
		}
		return box
	}
	err := p.ask(&d.ground, &p.crew.heavy, p.text("ground", "ground"), "from=weighed\nboxes={0}\nweighed={~3 kg}\nbase-length={~5 mm}\nbase-width={~5 mm}",
		float64(d.boxes), d.load.filledMost/float64(d.boxes), slab("slab-length", length), slab("slab-width", width))
	if err != nil {
		return err
	}
	return p.ask(&d.tipping, &p.crew.tipping, nil, "drained={~3 kg}\nrunning={~3 kg}\nbase={~5 mm}\nwidth={~5 mm}\nheight={~5 mm}\nwind={~4 m/s}",
		d.load.drainedLeast, math.Max(d.load.running, d.load.drainedLeast), math.Min(length, width), math.Max(length, width), d.height, p.in.In("wind", "m/s"))
}

// price adds up what the tower costs to build and to run.
func (d *design) price(p *plan) error {
	money := func(name string) float64 { return p.in.In(name, "{currency}") }
	c := &d.cost
	c.boxes = float64(d.stacks*d.boxes) * money("box-price")
	c.medium = d.litres * d.option.price
	c.foam = float64(d.stacks) * d.grades(p) * money("foam-price")
	c.pump = money("pump-price")
	c.build = c.boxes + c.medium + c.foam + c.pump
	c.water = p.pond.volume / 1000 * p.share("change") / 100 * 52 * money("water-price")
	if err := p.ask(&c.power, &p.crew.power, nil, "power={~5 W}\nprice={~5}", p.in.In("power", "W"), money("power-price")); err != nil {
		return err
	}
	c.year = c.water + c.power.likely("cost-year")
	if d.capacity.Likely > 0 {
		c.gram = c.build / d.capacity.Likely
	}
	return nil
}
