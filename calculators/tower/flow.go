package tower

import (
	"math"

	"mereleaf/calculators"
)

// supply finds the flow that reaches the top: of the pump through pipe and bar,
// or as wished where a pump is still to be found.
func (d *design) supply(p *plan) error {
	if p.in.Choice("pump") == "turnover" {
		return d.wish(p)
	}
	head := 0.0
	// The bar's head falls with the flow and the flow with the head, by little:
	// after three rounds they agree to a part in a thousand.
	for range 3 {
		a, err := ask(&p.crew.pump, []calculators.Arg{as("pump", "curve"), as("points", p.written("points")),
			at("lift", d.lift+head, "m"), at("bore", p.mm("bore"), "mm"), at("length", p.in.In("run", "m"), "m"),
			as("fittings", p.written("fittings")), at("temperature", p.pond.summer, "Cel"), at("volume", p.pond.volume, "L")})
		if err != nil {
			return err
		}
		d.pump, d.flow, d.head = &a, a.likely("flow"), a.likely("head")
		if d.flow < 20 {
			return p.dry(d)
		}
		if d.hose || d.bare(p) {
			return nil
		}
		if err := d.sprinkle(p); err != nil {
			return err
		}
		head = d.bar.likely("head")
	}
	return nil
}

func (d *design) bare(p *plan) bool { return p.in.Choice("inlet") == "hose" }

// dry refuses a pump that brings next to nothing to the top of the stack.
func (p *plan) dry(d *design) error {
	most := 0.0
	for _, row := range p.in.Rows("points") {
		most = math.Max(most, row.In("head", "m"))
	}
	return calculators.Refuse("pump", "brings {2 L/h} to the top of {0} boxes, {3 m} above the pond: its curve ends at {3 m}", "a pump that still brings water at {3 m}",
		"take a pump with more head, lower the foot of the stack, or take fewer and lower boxes", d.flow, float64(d.boxes), d.lift, most, d.lift)
}

// wish takes the flow from the turnover and finds the head a pump must make.
func (d *design) wish(p *plan) error {
	d.flow = p.pond.volume / p.in.In("turnover", "h")
	loss, err := ask(&p.crew.loss, []calculators.Arg{at("flow", d.flow, "L/h"), at("bore", p.mm("bore"), "mm"), at("length", p.in.In("run", "m"), "m"),
		as("fittings", p.written("fittings")), at("temperature", p.pond.summer, "Cel")})
	if err != nil {
		return err
	}
	d.loss, d.head = &loss, d.lift+loss.likely("loss")
	if d.hose || d.bare(p) {
		return nil
	}
	if err := d.sprinkle(p); err != nil {
		return err
	}
	d.head += d.bar.likely("head")
	return nil
}

// sprinkle asks for the spray bar of one stack.
func (d *design) sprinkle(p *plan) error {
	var err error
	d.bar, err = ask(&p.crew.bar, []calculators.Arg{at("flow", d.perStack(), "L/h"), at("bore", p.mm("bar-bore"), "mm"), at("length", 0.85*p.mm("box-length")/1000, "m"),
		at("hole", d.barHole(p), "mm"), at("share", barShare, "%"), at("blocked", blocked, "%"), at("temperature", p.pond.summer, "Cel")})
	return err
}

// barHole is the bar's drill: the largest at hand that leaves the bar round,
// because small holes block.
func (d *design) barHole(p *plan) float64 {
	best := 0.0
	for _, row := range p.in.Rows("drills") {
		if x := row.In("diameter", "mm"); x > best && x <= p.mm("bar-bore")/4 || best == 0 {
			best = x
		}
	}
	return best
}

func (d *design) perStack() float64 { return d.flow / float64(d.stacks) }

// drillTrays finds the smallest drill at hand whose holes pass the flow with a
// third of them blocked, fit the floor, and keep the water inside the recess.
// One pattern serves floors and lids.
func (d *design) drillTrays(p *plan) error {
	recess := p.mm("recess")
	if recess < 4 {
		d.fault("The lids are flat: water of blocked holes runs over their edge. Take lids with a recess of {0 mm} or more, or glue a rim on.", 15)
		recess = 15
	}
	var last error
	for _, row := range p.in.Rows("drills") {
		hole := row.In("diameter", "mm")
		a, err := ask(&p.crew.tray, d.trayArgs(p, hole, recess))
		if err != nil {
			last = err
			continue
		}
		better := d.drill == 0 || !fits(&d.tray, d.drill) || hole < d.drill
		if fits(&a, hole) && better || d.drill == 0 {
			d.tray, d.drill = a, hole
		}
	}
	if d.drill == 0 {
		return last
	}
	return nil
}

// trayArgs asks for holes that likely keep three fifths of the recess with a
// third of them blocked: the rest is for holes that run worse than most.
func (d *design) trayArgs(p *plan, hole, recess float64) []calculators.Arg {
	return []calculators.Arg{at("flow", d.perStack(), "L/h"), at("hole", hole, "mm"), at("floor", p.mm("wall"), "mm"), at("head", 0.6*recess, "mm"),
		at("length", p.mm("box-length"), "mm"), at("width", p.mm("box-width"), "mm"), at("margin", margin, "mm"), at("side", recess, "mm"), at("blocked", blocked, "%")}
}

// fits reports whether the holes leave a hole's width of floor between them.
func fits(tray *answer, hole float64) bool {
	return math.Max(tray.likely("pitch-staggered"), tray.likely("pitch-square")) >= 2*hole
}

// drain finds how many outlets carry the flow with the collector part-blocked
// and half as much again to spare.
func (d *design) drain(p *plan) error {
	if d.open || p.in.Choice("bottom") == "open" {
		d.open = true
		return nil
	}
	room := p.mm("box-height") - outletFloor - p.mm("outlet-bore")/2 - freeboard
	if room < 20 {
		return calculators.Refuse("outlet-bore", "is too wide for a box {0 mm} high: no water could stand over it", "at most {0 mm}", "take a narrower outlet, two of them, or a higher bottom box",
			p.mm("box-height"), 2*(p.mm("box-height")-outletFloor-freeboard-20))
	}
	for d.outlets = 1; ; d.outlets++ {
		if err := d.askOutlet(p, room); err != nil {
			return err
		}
		if d.outlet.likely("margin") >= 50 || d.outlets == mostOutlets(p) {
			return nil
		}
	}
}

// mostOutlets is how many outlets the long wall of the box has room for.
func mostOutlets(p *plan) int {
	return int(math.Max(1, math.Min(4, math.Floor(p.mm("box-length")/(2.5*p.mm("outlet-bore"))))))
}

// askOutlet asks for the collector and the outlets of one stack. The collector
// takes part of the room in which the water can rise, the outlets have the rest.
func (d *design) askOutlet(p *plan, room float64) error {
	var err error
	d.collector, err = ask(&p.crew.collector, []calculators.Arg{at("flow", d.perStack(), "L/h"), at("pipes", float64(d.outlets), "1"), at("bore", p.mm("outlet-bore"), "mm"),
		at("length", 0.8*p.mm("box-width")/1000, "m"), at("hole", 10, "mm"), at("head", room/6, "mm"), at("blocked", blocked, "%"), at("temperature", p.pond.summer, "Cel")})
	if err != nil {
		return err
	}
	left := math.Max(1, room-d.collector.value("head-blocked").High)
	d.outlet, err = ask(&p.crew.outlet, []calculators.Arg{at("flow", d.perStack(), "L/h"), at("outlets", float64(d.outlets), "1"), as("kind", "short"), at("bore", p.mm("outlet-bore"), "mm"),
		at("head", left, "mm"), at("length", p.in.In("outlet-run", "m"), "m"), as("fittings", "entrance, 1; elbow-90, 1"), at("temperature", p.pond.summer, "Cel")})
	return err
}

// catch asks for the foam under the bar.
func (d *design) catch(p *plan) error {
	var err error
	d.foam, err = ask(&p.crew.foam, []calculators.Arg{at("flow", d.perStack(), "L/h"), at("feed", p.pond.design.feed/float64(d.stacks), "g/d"),
		at("length", p.mm("box-length"), "mm"), at("width", p.mm("box-width"), "mm"), at("thickness", p.mm("foam-thickness"), "mm"), at("grades", p.in.In("foam-grades", "1"), "1"), at("sheets", 1, "1")})
	return err
}

func (d *design) fault(text string, numbers ...float64) {
	d.faults = append(d.faults, calculators.Text(text, numbers...))
}
