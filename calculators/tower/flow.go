package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/plumbing"
)

// A flow is shown with so many digits, and a valve is closed to it within this share.
const (
	flowDigits = 2
	chokedTo   = 0.003
)

// supply finds the flow that reaches the top: of the pump through pipe and bar,
// or as wished where a pump is still to be found.
func (d *design) supply(p *plan) error {
	if p.in.Choice("pump") == "turnover" {
		return d.wish(p)
	}
	d.choked = 0
	if err := d.lifted(p); err != nil {
		return err
	}
	if d.flow < leastFlow {
		return p.dry(d)
	}
	err := d.choke(p)
	d.flow = read(d.flow, flowDigits)
	return err
}

// lifted asks what the pump brings through pipe, bar and valve.
func (d *design) lifted(p *plan) error {
	err := p.ask(&d.pump, &p.crew.pump, append(p.text("points", "points"), p.text("fittings", "fittings")...),
		"pump=curve\nlift={~5 m}\nbore={~5 mm}\nlength={~5 m}\ntemperature={~4 Cel}\nvolume={~5 L}\nmore-k={~3}",
		d.lift, p.mm("bore"), p.in.In("run", "m"), p.pond.summer, p.pond.volume, d.barLoss(p)+d.choked)
	d.flow, d.head = d.pump.likely("flow"), d.pump.likely("head")
	return err
}

// choke closes a valve behind the pump until stones let all the water through.
// The valve is one more fitting; its coefficient is found by the rule of false
// position, as the flow falls with it. What the most it may be does not choke is
// left to be judged.
func (d *design) choke(p *plan) error {
	most := wettest / 24 * d.floor(p) * float64(d.stacks) * 1000 // L/h
	if p.in.Choice("pump") == "turnover" || !stones(d.medium) || read(d.flow, flowDigits) <= most {
		return nil
	}
	wanted := 0.97 * most
	if reads := read(wanted, flowDigits); reads <= most {
		wanted = reads // what the bucket shows
	}
	open, flowing := 0.0, d.flow
	// If the pump's head stayed as it is, half of this would do; it rises as the
	// flow falls.
	velocity := wanted / 3.6e6 / plumbing.CircleArea(p.mm("bore")/1000)
	spare := (d.head - d.lift) * (1 - wanted*wanted/(flowing*flowing))
	shut := math.Min(900, 2*spare*2*plumbing.Gravity/(velocity*velocity))
	least, err := d.valve(p, shut)
	if err == nil && least > wanted {
		open, flowing = shut, least
		shut = 900
		least, err = d.valve(p, shut)
	}
	if err != nil || least > wanted {
		return err
	}
	// The square of the flow falls nearly as the loss rises.
	inverse := func(flow float64) float64 { return 1 / (flow * flow) }
	for range 12 {
		share := (inverse(wanted) - inverse(flowing)) / (inverse(least) - inverse(flowing))
		at := open + share*(shut-open)
		flow, err := d.valve(p, at)
		if err != nil {
			return err
		}
		if math.Abs(flow-wanted) < chokedTo*wanted {
			return nil
		}
		if flow > wanted {
			open, flowing = at, flow
		} else {
			shut, least = at, flow
		}
	}
	return nil
}

// valve asks for the flow with a valve of the given loss coefficient.
func (d *design) valve(p *plan, k float64) (float64, error) {
	d.choked = k
	err := d.lifted(p)
	return d.flow, err
}

// floor is that of one box in m2.
func (d *design) floor(p *plan) float64 { return p.mm("box-length") * p.mm("box-width") / 1e6 }

// barLoss is what the bars are to the pump: one more fitting, with a loss
// coefficient in terms of the velocity in the pump's pipe.
func (d *design) barLoss(p *plan) float64 {
	if d.bare(p) {
		return 0
	}
	bore := plumbing.CircleArea(p.mm("bore")/1000) / float64(d.stacks)
	return 2 * plumbing.Gravity * bore * bore * p.barHead
}

// bare reports that no bar spreads the water.
func (d *design) bare(p *plan) bool { return d.hose || p.in.Choice("inlet") == "hose" }

// dry refuses a pump that brings next to nothing to the top of the stack.
func (p *plan) dry(d *design) error {
	most := 0.0
	for _, row := range p.in.Rows("points") {
		most = math.Max(most, row.In("head", "m"))
	}
	return calculators.Refuse("pump", "brings {flow 2 L/h} to the top of {boxes 0|box|boxes}, {lift 3 m} above the pond: its curve ends at {most 3 m}", "a pump that still brings water at {lift 3 m}",
		"take a pump with more head, lower the foot of the stack, or take fewer and lower boxes", d.flow, float64(d.boxes), d.lift, most, d.lift)
}

// wish takes the flow from the turnover and finds the head a pump must make.
func (d *design) wish(p *plan) error {
	d.flow = read(p.pond.volume/p.in.In("turnover", "h"), flowDigits)
	err := p.ask(&d.loss, &p.crew.loss, p.text("fittings", "fittings"), "flow={~5 L/h}\nbore={~5 mm}\nlength={~5 m}\ntemperature={~4 Cel}",
		d.flow, p.mm("bore"), p.in.In("run", "m"), p.pond.summer)
	if err != nil {
		return err
	}
	d.head = d.lift + d.loss.likely("loss")
	if !d.bare(p) {
		each := d.perStack() / 3.6e6
		d.head += p.barHead * each * each
	}
	return nil
}

// sprinkle asks for a spray bar that takes so many litres an hour.
func (p *plan) sprinkle(bar *answer, flow float64) error {
	return p.ask(bar, &p.crew.bar, nil, "flow={~5 L/h}\nbore={~5 mm}\nlength={~5 m}\nhole={~4 mm}\nshare={0 %}\nblocked={0 %}\ntemperature={~4 Cel}",
		flow, p.mm("bar-bore"), barOfBox*p.mm("box-length")/1000, p.barHole(), barShare, blocked, p.pond.summer)
}

// barHole is the bar's drill: the largest at hand that leaves the bar round,
// because small holes block.
func (p *plan) barHole() float64 {
	best := 0.0
	for _, row := range p.in.Rows("drills") {
		if x := row.In("diameter", "mm"); x > best && x <= p.mm("bar-bore")/4 || best == 0 {
			best = x
		}
	}
	return best
}

func (d *design) perStack() float64 { return read(d.flow/float64(d.stacks), flowDigits) }

// bucketTime is how many seconds a stack takes to fill a bucket.
func (d *design) bucketTime() float64 { return 3600 * bucket / d.perStack() }

// runsBack is the water in litres that stands on lids and floors of all stacks and
// in their bottom boxes, and leaves them when the pump stops.
func (d *design) runsBack() float64 {
	return float64(d.stacks) * (float64(2*d.boxes-2)*d.tray.likely("drain-down") + d.load.bottom)
}

// drillTrays finds the smallest drill at hand whose holes pass the flow with a
// third of them blocked, fit the floor, keep the water inside the recess, and are
// not more than one cares to drill.
// One pattern serves floors and lids.
func (d *design) drillTrays(p *plan) error {
	recess := p.mm("recess")
	if recess < flatLid {
		d.fault("The lids are flat: water of blocked holes runs over their edge. Take lids with a recess of {recess mm} or more, or glue a rim on.", leastRecess)
		recess = leastRecess
	}
	var last error
	for hole := 0.0; ; {
		larger := p.nextDrill(hole)
		if larger == 0 || d.drill > 0 && fits(&d.tray, d.drill) && d.tray.likely("holes") <= manyHoles {
			break
		}
		hole = larger
		var a answer
		if err := d.askTray(p, &a, hole, recess); err != nil {
			last = err
			continue
		}
		d.tray, d.drill = a, hole
	}
	if d.drill == 0 {
		return last
	}
	return nil
}

// nextDrill returns the smallest drill at hand above a diameter, 0 if there is
// none.
func (p *plan) nextDrill(above float64) float64 {
	next := 0.0
	for _, row := range p.in.Rows("drills") {
		if x := row.In("diameter", "mm"); x > above && (next == 0 || x < next) {
			next = x
		}
	}
	return next
}

// askTray asks for holes that likely keep three fifths of the recess with a
// third of them blocked: the rest is for holes that run worse than most.
func (d *design) askTray(p *plan, a *answer, hole, recess float64) error {
	return p.ask(a, &p.crew.tray, nil, "flow={~5 L/h}\nhole={~4 mm}\nfloor={~4 mm}\nhead={~3 mm}\nlength={~5 mm}\nwidth={~5 mm}\nmargin={0 mm}\nside={~4 mm}\nblocked={0 %}",
		d.perStack(), hole, p.mm("wall"), 0.6*recess, p.mm("box-length"), p.mm("box-width"), margin, recess, blocked)
}

// fits reports whether the holes leave a hole's width of floor between them.
func fits(tray *answer, hole float64) bool {
	return math.Max(tray.likely("pitch-staggered"), tray.likely("pitch-square")) >= 2*hole
}

// catch asks for the foam under the bars, which lies side by side in the stacks.
func (d *design) catch(p *plan) error {
	return p.ask(&d.foam, &p.crew.foam, nil, "flow={~5 L/h}\nfeed={~5 g/d}\nlength={~5 mm}\nwidth={~5 mm}\nthickness={~4 mm}\ngrades={0}\nsheets={0}",
		d.flow, p.pond.design.feed, p.mm("box-length"), p.mm("box-width"), p.mm("foam-thickness"), d.grades(p), float64(d.stacks))
}

func (d *design) fault(text string, numbers ...float64) {
	d.faults = append(d.faults, calculators.Text(text, numbers...))
}
