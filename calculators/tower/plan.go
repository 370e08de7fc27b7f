package tower

import (
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/water"
)

// What custom or this plan sets, where no calculator does.
const (
	blocked      = 33.0 // % of the holes, of bar and collector too
	margin       = 20.0 // mm kept free along the walls of a floor
	barShare     = 80.0 // % of the bar's bore that its holes open: less is more even, and costs head
	barRoom      = 60.0 // mm under the top lid for the bar and its jets
	freeboard    = 40.0 // mm that stay dry in the bottom box
	outletFloor  = 20.0 // mm from the floor of the bottom box to the outlet's bore
	leastOutlet  = 40.0 // mm, the trade's least bore for a gravity outlet
	wantedHold   = 1.5  // against the wind
	driest       = 30.0 // m3/m2/d
	wettest      = 400.0
	oxygenOfFull = 0.85 // of saturation, in water that falls from tray to tray
)

// plan is a question put to the tower and what is found on the way.
type plan struct {
	in     calculators.Inputs
	crew   *crew
	pond   pondFacts
	oxygen float64 // mg/L, in the water through the media
}

// option is what may differ between two designs for one pond.
type option struct {
	name    string
	medium  string
	price   float64 // of a litre of medium
	more    int     // boxes beyond what the ammonia needs
	compact bool    // foam and medium in one box: two boxes in all
	hose    bool
	open    bool
}

// design is a tower that was thought through.
type design struct {
	option
	stacks, tiers int // tiers of medium in each stack
	boxes         int // in each stack
	short         bool
	height        float64           // mm, foot to top
	lift          float64           // m, pond to bar
	flow          float64           // L/h in all
	litres        float64           // medium in all
	fill          float64           // mm of medium in a box
	capacity      calculators.Value // g/d of ammonia nitrogen at the target
	tan           calculators.Value // mg/L it settles at

	bar, media, tray, collector, outlet, foam answer
	pump                                      *answer // nil: none chosen yet
	loss                                      *answer // of the pipe, where no pump is chosen
	head                                      float64 // m that the pump must make
	outlets                                   int
	drill                                     float64
	load                                      weights
	tipping, ground                           answer
	cost                                      costs

	faults []string // what does not fit, and what to change; empty if all fits
}

func newPlan(in calculators.Inputs) (*plan, error) {
	p := &plan{in: in, crew: newCrew()}
	if err := p.readPond(); err != nil {
		return nil, err
	}
	p.oxygen = oxygenOfFull * water.OxygenAtPressure(p.pond.summer, 0, water.AirPressure(in.In("altitude", "m")))
	return p, nil
}

// written is a list as the reader wrote it, for a part that takes the same one.
func (p *plan) written(name string) string { return p.in.Written(name) }

func (p *plan) mm(name string) float64 { return p.in.In(name, "mm") }

// design thinks a tower through, with the fewest boxes that carry the ammonia.
// It returns an error only if nothing can be built at all.
func (p *plan) design(o option) (*design, error) {
	d := &design{option: o}
	if err := d.search(p); err != nil {
		return nil, err
	}
	for _, step := range []func(*plan) error{(*d).drillTrays, (*d).drain, (*d).catch, (*d).weigh} {
		if err := step(p); err != nil {
			return nil, err
		}
	}
	d.settle(p)
	d.price(p)
	d.judge(p)
	return d, nil
}

// others is the number of boxes in a stack that hold no medium.
func (d *design) others(p *plan) int {
	n := 0
	if !d.compact {
		n += d.foamBoxes(p)
	}
	if !d.open {
		n++
	}
	return n
}

// foamBoxes is how many boxes the foam fills under the bar.
func (d *design) foamBoxes(p *plan) int {
	room := p.mm("box-height") - barRoom
	each := max(1, math.Floor(room/p.mm("foam-thickness")+1e-9))
	return int(math.Ceil(p.in.In("foam-grades", "1") / each))
}

// search looks for the fewest stacks, and in them the fewest boxes, that carry
// the ammonia. If none does it keeps the largest and says so with short.
func (d *design) search(p *plan) error {
	most, stacks := int(p.in.In("most-boxes", "1")), int(p.in.In("most-stacks", "1"))
	first, last := 1, max(1, most-d.others(p))
	if d.compact {
		last = 1
	}
	for d.stacks = 1; d.stacks <= stacks; d.stacks++ {
		for d.tiers = first; d.tiers <= last; d.tiers++ {
			d.stand(p)
			if err := d.supply(p); err != nil {
				return err
			}
			if err := d.fillUp(p); err != nil {
				return err
			}
			if d.litres >= d.media.likely("volume") {
				return d.add(p)
			}
		}
	}
	d.short, d.stacks, d.tiers = true, stacks, last
	return nil
}

// add puts on the boxes beyond need.
func (d *design) add(p *plan) error {
	if d.more == 0 {
		return nil
	}
	d.tiers += d.more
	d.stand(p)
	if err := d.supply(p); err != nil {
		return err
	}
	return d.fillUp(p)
}

// stand finds how high the stack is and how high the water must be lifted.
func (d *design) stand(p *plan) {
	d.boxes = d.tiers + d.others(p)
	pitch := p.mm("box-height") + 2*p.mm("wall")
	d.height = float64(d.boxes) * pitch
	d.lift = p.in.In("foot", "m") + (d.height-barRoom)/1000
	d.fill = p.mm("box-height") * p.in.In("fill", "%") / 100
	if d.compact {
		d.fill = p.mm("box-height") - barRoom - p.in.In("foam-grades", "1")*p.mm("foam-thickness")
	}
}

// fillUp asks how much medium the ammonia needs, at the flow that arrives.
func (d *design) fillUp(p *plan) error {
	if d.fill < 0.05*p.mm("box-height") {
		return calculators.Refuse("foam-thickness", "leaves no room for medium in the top box", "less than {0 mm} for {0} sheets", "take thinner foam, fewer grades or higher boxes",
			(p.mm("box-height")-barRoom)/p.in.In("foam-grades", "1"), p.in.In("foam-grades", "1"))
	}
	d.litres = float64(d.stacks*d.tiers) * p.mm("box-length") * p.mm("box-width") * d.fill / 1e6
	var err error
	d.media, err = ask(&p.crew.media, []calculators.Arg{
		as("from", "feed"), at("feed", p.pond.design.feed, "g/d"), p.percent("protein", "protein"),
		at("target", p.pond.target, "mg/L"), at("temperature", p.pond.summer, "Cel"), at("oxygen", p.oxygen, "mg/L"), as("medium", d.medium),
		at("length", p.mm("box-length"), "mm"), at("width", p.mm("box-width"), "mm"), at("height", p.mm("box-height"), "mm"),
		at("fill", 100*d.fill/p.mm("box-height"), "%"), at("flow", d.flow, "L/h"), at("stacks", float64(d.stacks), "1"),
	})
	return err
}

// settle finds what the filter carries at the target, and where the ammonia of
// the fish it is built for settles.
func (d *design) settle(p *plan) {
	need, load := d.media.value("volume"), p.pond.design.tan
	carries := func(volume float64) float64 { return load.Likely * d.litres / volume }
	if load.Likely == 0 || need.Likely == 0 {
		d.tan = calculators.Between("tan", 0, 0, 0)
		return
	}
	d.capacity = calculators.Between("capacity", carries(need.High), carries(need.Likely), carries(need.Low))
	d.tan = p.settled(load.Likely, d.capacity)
}

func (p *plan) settled(load float64, capacity calculators.Value) calculators.Value {
	return calculators.Between("tan", p.steady(load, capacity.High), p.steady(load, capacity.Likely), p.steady(load, capacity.Low))
}

// stones reports whether a medium can flood from fines, as stones do.
func stones(medium string) bool {
	return strings.HasPrefix(medium, "gravel") || medium == "lava" || medium == "pumice" || medium == "expanded-clay" || medium == "crushed-brick"
}
