package tower

import (
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// ways compares other towers for the same pond, the best for the reader's aim
// first.
func (p *plan) ways(s *sheet, chosen *design) {
	s.open("Other ways, side by side")
	s.says(p.order())
	s.head("Way", "Boxes", "Medium", "Ammonia", "Water", "Build", "Year", "Verdict")
	var all []*design
	for _, o := range p.variants(chosen) {
		d, err := p.design(o)
		if err != nil {
			l := s.last()
			l.Says = append(l.Says, o.name+": "+err.Error()+".")
			continue
		}
		all = append(all, d)
	}
	all = append(all, p.offered...)
	for i := range all { // few: the longest list is a dozen
		for j := i; j > 0 && p.before(all[j], all[j-1]); j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
	for _, d := range all {
		verdict := "fits"
		if d.hose {
			verdict = "fits, but wets the middle most"
		}
		if len(d.faults) > 0 {
			verdict = d.faults[0]
		}
		name := d.name
		if d.compact && !strings.Contains(name, "in one box") {
			name += ", foam and medium in one box"
		}
		s.row(name, quantity.FormatWhole(float64(d.stacks*d.boxes)), calculators.Text("{2 L}", d.litres),
			settles(d.tan), calculators.Text("{2 L/h}", d.flow), calculators.Text("{0}", d.cost.build), calculators.Text("{0}", d.cost.year), verdict)
	}
}

// order says by what the ways are sorted.
func (p *plan) order() string {
	text := "What fits comes first"
	if p.in.Has("budget") {
		text += ", then what your money buys"
	}
	if p.in.Choice("aim") == "nitrate" {
		text += ", then porous media"
	}
	return text + ", then the cheapest to build. Ammonia is where it settles."
}

// variants are the ways worth comparing with a chosen design.
func (p *plan) variants(chosen *design) []option {
	var all []option
	base := chosen.option
	add := func(name string, change func(*option)) {
		o := base
		o.name, o.fromStacks, o.fromTiers = name, chosen.stacks, chosen.tiers-1
		change(&o)
		all = append(all, o)
	}
	add(base.name+", one more box", func(o *option) { o.more = 1 })
	if !chosen.compact {
		add(base.name+", foam and medium in one box", func(o *option) { o.compact = true })
	}
	if !chosen.open {
		add(base.name+", open over the pond", func(o *option) { o.open = true })
	}
	if !chosen.bare(p) {
		add(base.name+", hose through the lid", func(o *option) { o.hose = true })
	}
	return all
}

func (d *design) shopping(p *plan, s *sheet) {
	s.open("To buy")
	s.head("Thing", "How many")
	stacks := float64(d.stacks)
	buy := func(many float64, thing string, numbers ...float64) {
		s.row(calculators.Text(thing, numbers...), quantity.FormatWhole(many))
	}
	buy(stacks*float64(d.boxes), "Box with lid, inside {~3 mm} × {~3 mm} × {~3 mm}, recess {0 mm}", p.mm("box-length"), p.mm("box-width"), p.mm("box-height"), p.mm("recess"))
	s.row("Medium: "+d.name, calculators.Text("{0 L}", math.Ceil(d.litres/10)*10))
	buy(stacks*d.grades(p), "Foam sheet {0 mm} thick, cut to the box", p.mm("foam-thickness"))
	buy(stacks*float64(d.tiers), "Grid or net under the medium, if its pieces pass the holes")
	s.row(calculators.Text("Pipe or hose of {~3 mm} bore, with clamps", p.mm("bore")), calculators.Text("{0 m}", math.Ceil(p.in.In("run", "m"))))
	buy(stacks, "Inlet connector "+connector(p.mm("bore")))
	if d.bar.by != nil {
		buy(stacks, "Pipe of {~3 mm} bore, {0 mm} long, with an end cap, for the spray bar", p.mm("bar-bore"), barOfBox*p.mm("box-length"))
	}
	if !d.open {
		outlets := stacks * float64(d.outlets)
		buy(outlets, "Outlet connector "+connector(p.mm("outlet-bore")))
		buy(outlets, "Pipe of {~3 mm} bore, {0 mm} long, with an end cap, for a collector", p.mm("outlet-bore"), d.collectorLength(p))
		buy(outlets, "Pipe of {~3 mm} bore, {2 m} long, with a bend, for an outlet", p.mm("outlet-bore"), p.in.In("outlet-run", "m"))
	}
	if d.pump.by == nil {
		buy(1, "Pump for {2 L/h} at {2 m}", d.flow, d.head)
	}
	if d.stacks > 1 {
		buy(stacks, "Tee and valve, to share the pump; and more pipe if the stacks stand apart")
	} else if d.choked > 0 {
		buy(1, "Valve, to choke the pump")
	}
	buy(stacks, "Strap with buckle, outdoor grade, with a wall anchor or driven post")
}

func (d *design) cutting(p *plan, s *sheet) {
	s.open("Cut and drill, for each stack")
	floors := d.boxes
	if !d.open {
		floors--
	}
	s.step(several(floors, "floor", "floors")+" and "+several(d.boxes-1, "lid", "lids")+": {0} holes of {~3 mm} each, {0 mm} apart in staggered rows, none nearer than {0 mm} to a wall.",
		d.tray.likely("holes"), d.drill, d.tray.likely("pitch-staggered"), margin)
	s.step("The template lies on lid and floor from the same corner, so that the holes meet. In a ribbed floor take the nearest place between ribs; where boxes stand flat on a lid, lift them on 5 mm strips.")
	s.step("Air: in each box of medium openings of {0 cm2} in all, high in the walls above the medium, sloping outwards and down (4 % of the floor, as sewage works have it).", 400*d.floor(p))
	s.step("Lids from the inside: print the template mirrored. Clamp a board behind; sharp bit, slow, light pressure; eye protection. Sweep up every shaving and take the burrs off.")
	if d.bar.by != nil {
		s.step("Spray bar: {0} holes of {~3 mm} in one row, {0 mm} apart, facing up or sideways so that the water spreads under the lid.", d.bar.likely("holes"), p.barHole(), d.bar.likely("spacing"))
	}
	if !d.open {
		s.step(several(d.outlets, "collector pipe", "collector pipes")+" {0 mm} long, capped: {0} holes of {0 mm} each, on the lower half.", d.collectorLength(p), d.collector.likely("holes"), collectorHole)
		s.step("Bottom box: "+several(d.outlets, "hole", "holes")+" for the outlet connector, lower edge of the bore {0 mm} above the floor, in one long wall.", outletFloor)
		s.step("Overflow: a level notch {0 mm} wide in the wall towards the pond, its crest {0 mm} below the rim; lead what comes out home by a gutter or pipe of its own.", d.notchWidth, freeboard)
	}
}

func (d *design) assembly(s *sheet) {
	s.open("Put it together")
	s.step("Lay a level slab; full, each stack weighs up to {2 kg}. Check it with a spirit level both ways, and each box again: where the water stands a few millimetres deep, a tray that leans runs dry on one side.", d.load.filledMost)
	if d.open {
		s.step("Set the frame over the pond so that nothing can slip in, and the lowest floor hangs free over the water. Anchor it before any box goes on.")
	} else {
		s.step("Set the bottom box. Fit outlet and collector with their washers; hand-tight, then a quarter turn. Fill it by hose and look for drips.")
		s.step("Lay the outlet to the pond, falling all the way, no dip, its end above the water.")
	}
	s.step("Put a drilled lid on, then the next box, and so on up. Wash the medium, and fill each box where it stands.")
	s.step("Foam in the top box: coarse on top, fine at the bottom.")
	if d.stacks > 1 {
		s.step("Share the pump: a tee and a valve before each stack. Open all, then close them bit by bit until the bucket shows the same at each outlet.")
	}
	s.step("Fit the inlet under the top lid, run pipe or hose up the side and tie it, so that its weight does not pull.")
	s.step("Strap all boxes together and tie the strap near the top to the wall or frame.")
	s.step("Bring the cable to a socket with a residual current device, with a drip loop; plug in last, with dry hands.")
}

func (d *design) firstRun(p *plan, s *sheet) {
	s.open("First run")
	s.step("Run it for an hour beside you. Dry every joint with paper; look again.")
	s.step("Time a bucket at the outlet: 10 litres of each stack take about {2} seconds.", 36000/d.perStack())
	s.step("Look into each lid around the box that stands in it: the water should be about {0 mm} deep. Mark that line.", d.tray.likely("head-clean"))
	s.step("Switch off, lift the top box off, plug or tape a third of the holes in the lid under it, set it back and run again: the water must stay inside the recess, about {0 mm} deep. Take out every plug.", d.tray.likely("head-blocked"))
	if !d.open {
		s.step("In the same way plug a third of the collector: the bottom box must not fill within {0 mm} of its rim.", freeboard)
	}
	s.step("Switch off: up to {2 L} run back. The pond must have that much room.", float64(d.stacks)*(float64(2*d.boxes-2)*d.tray.likely("drain-down")+d.load.bottom))
	s.step("Mark the pond's level. Look again after a night: if it fell, find the leak before you trust the tower alone.")
}

// care is the calendar: growing in, then the year.
func (d *design) care(p *plan, s *sheet) {
	s.open("Growing in")
	s.step("Day 0: run the pump day and night from now on. Add what you can from a healthy old filter. Ultraviolet off for two weeks.")
	s.step("First weeks: feed nothing or a tenth. Test ammonia and nitrite daily.")
	s.step("Nitrite at 0.15 mg/L, as nitrogen, or more: change water today, feed nothing, ask the nitrite calculator for salt.")
	s.step("Ammonia at {2 mg/L} or less and nitrite under 0.15 mg/L for a week: feed a quarter; a week later half; then all. One bad test: one step back. It is mature when both stay so for a week at full feed.", p.pond.target)
	s.step("Keep KH near 100 mg/L while it grows in, with bicarbonate if the tap has less, and never below 50 mg/L: the bacteria need it. Test ammonia before you raise it.")
	s.step("Below 10 °C next to nothing grows: begin again in spring.")
	s.open("Looking after it")
	s.step("Daily: is water running evenly under each lid? Do the fish come to feed?")
	s.step("Every {0} days, or when the water in the top box rises: rinse the coarse foam in a bucket of pond water; fine foam every second time. Never in tap water.", math.Max(1, d.foam.value("interval").Low))
	s.step("Weekly: change water, test ammonia, nitrite, KH, pH; look at the marks on the lids.")
	s.step("Monthly: time the bucket. A tenth less: unplug, then clean strainer and bar. Check strap and anchor.")
	s.step("Spring and autumn: brush the holes, rinse one box of medium in pond water, never all in one week.")
	s.step("Frost: keep it running slowly from mid-water, or drain it wholly and begin again in spring. Half-drained boxes burst.")
}
