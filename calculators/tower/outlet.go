package tower

import (
	"math"

	"mereleaf/calculators"
)

// drain finds how many outlets carry the flow with outletSpare in hand: out of
// the box, with the collector part-blocked, and down to the pond.
func (d *design) drain(p *plan) error {
	if d.open {
		return nil
	}
	bore, height := p.mm("outlet-bore"), p.mm("box-height")
	if p.roomOver(bore) < leastRoom {
		return calculators.Refuse("outlet-bore", "is too wide for a box {height 0 mm} high: no water could stand over it", "at most {most 0 mm}", "take a narrower outlet, two of them, or a higher bottom box",
			height, widest(height))
	}
	for d.outlets = 1; ; d.outlets++ {
		if err := d.askOutlet(p, bore); err != nil {
			return err
		}
		if d.spare() >= outletSpare || d.outlets == mostOutlets(p, bore) {
			break
		}
	}
	// The notch takes all the water of a blocked outlet, with the box's rim dry.
	if err := d.askNotch(p, 100); err != nil {
		return err
	}
	if least := d.notch.likely("least-width"); least > 100 {
		return d.askNotch(p, math.Min(10*math.Ceil(least/10), 5000))
	}
	return nil
}

// outletHeight is the height in mm of an outlet's bore over the floor: the flange
// must lie on flat wall.
func outletHeight(bore float64) float64 {
	if bore > widestConnector {
		return flangeFloor
	}
	return outletFloor
}

// roomOver is the height in mm in which the water can rise over the middle of an
// outlet.
func (p *plan) roomOver(bore float64) float64 {
	return p.mm("box-height") - outletHeight(bore) - bore/2 - freeboard
}

// widest is the bore in mm of the widest outlet in a box of a height in mm.
func widest(height float64) float64 {
	most := func(floor float64) float64 { return 2 * (height - floor - freeboard - leastRoom) }
	if bore := most(flangeFloor); bore > widestConnector {
		return bore
	}
	return math.Min(most(outletFloor), widestConnector)
}

// askNotch asks for an overflow notch of a width in mm.
func (d *design) askNotch(p *plan, width float64) error {
	d.notchWidth = width
	return p.ask(&d.notch, &p.crew.overflow, nil, "kind=slot\nflow={~5 L/h}\nwidth={0 mm}\nroom={0 mm}", d.perStack(), width, freeboard)
}

// mostOutlets is how many outlets of a bore in mm the long wall of the box has
// room for.
func mostOutlets(p *plan, bore float64) int {
	return int(math.Max(1, math.Min(4, math.Floor(p.mm("box-length")/(2.5*bore)))))
}

// askOutlet asks for the collector and the outlets of one stack, as they are
// built: out of the box under water, and after a bend straight down, open over the
// pond. The collector takes part of the room in which the water can rise, the
// outlets have the rest.
func (d *design) askOutlet(p *plan, bore float64) error {
	room := p.roomOver(bore)
	err := p.ask(&d.collector, &p.crew.collector, nil, "flow={~5 L/h}\npipes={0}\nbore={~5 mm}\nlength={~5 m}\nhole={0 mm}\nhead={~3 mm}\nblocked={0 %}\ntemperature={~4 Cel}",
		d.perStack(), float64(d.outlets), bore, d.collectorLength(p)/1000, collectorHole, room/6, blocked, p.pond.summer)
	if err != nil {
		return err
	}
	left := math.Max(1, math.Floor(room-d.collector.value("head-blocked").High))
	err = p.ask(&d.outlet, &p.crew.outlet, nil, "kind=short\nflow={~5 L/h}\noutlets={0}\nbore={~5 mm}\nhead={~3 mm}\nlength={~5 m}\nfittings=entrance, 1; elbow-90, 1\ntemperature={~4 Cel}\nspare={0 %}",
		d.perStack(), float64(d.outlets), bore, left, p.in.In("outlet-run", "m"), p.pond.summer, outletSpare)
	if err != nil {
		return err
	}
	return p.ask(&d.drop, &p.crew.outlet, nil, "kind=drop\nflow={~5 L/h}\noutlets={0}\nbore={~5 mm}\nspare={0 %}",
		d.perStack(), float64(d.outlets), bore, outletSpare)
}

// narrowest is the part of the outlets that surely carries less: out of the box,
// or down to the pond.
func (d *design) narrowest() *answer {
	if d.drop.value("capacity").Low < d.outlet.value("capacity").Low {
		return &d.drop
	}
	return &d.outlet
}

// spare is by how many per cent the outlets surely carry more than the flow.
func (d *design) spare() float64 { return d.narrowest().value("margin").Low }

// wider is the least bore in whole mm with which the outlets would carry the
// flow, as many as the wall has room for; 0 if none would.
func (d *design) wider(p *plan) float64 {
	best := 0.0
	for n := 1; n <= mostOutlets(p, leastOutlet); n++ {
		e := *d
		e.outlets = n
		if e.askOutlet(p, p.mm("outlet-bore")) != nil {
			continue
		}
		bore := math.Ceil(e.drop.likely("least-bore"))
		if n > mostOutlets(p, bore) || p.roomOver(bore) < leastRoom || best > 0 && bore >= best {
			continue
		}
		if e.askOutlet(p, bore) == nil && e.spare() >= outletSpare {
			best = bore
		}
	}
	return best
}

// collectorLength is that of one collector pipe in mm: across the box.
func (d *design) collectorLength(p *plan) float64 { return 0.8 * p.mm("box-width") }
