package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// ways compares other towers for the same pond, the best for the reader's aim
// first.
func (p *plan) ways(chosen *design) calculators.Section {
	s := calculators.Section{Title: "Other ways, side by side",
		Head: []string{"Way", "Boxes", "Medium", "Ammonia", "Water", "Build", "Year", "Verdict"}}
	var all []*design
	var refused []string
	for _, o := range p.variants(chosen) {
		d, err := p.design(o)
		if err != nil {
			refused = append(refused, o.name+": "+err.Error()+".")
			continue
		}
		all = append(all, d)
	}
	for i := range all { // few: the longest list is a dozen
		for j := i; j > 0 && p.before(all[j], all[j-1]); j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
	for _, d := range all {
		s.Rows = append(s.Rows, d.row())
	}
	s.Says = append([]string{p.order()}, refused...)
	return s
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
	return text + ", then the cheapest to build. Ammonia: where it settles, and the worst it may be."
}

func (d *design) row() []string {
	verdict := "fits"
	if n := len(d.faults); n > 0 {
		verdict = d.faults[0]
	}
	return []string{
		d.name, quantity.FormatWhole(float64(d.stacks * d.boxes)), calculators.Text("{2 L}", d.litres),
		calculators.Text("{2}, worst {2 mg/L}", d.tan.Likely, d.tan.High), calculators.Text("{2 L/h}", d.flow),
		calculators.Text("{3}", d.cost.build), calculators.Text("{3}", d.cost.year), verdict,
	}
}

// variants are the ways worth comparing with a chosen design.
func (p *plan) variants(chosen *design) []option {
	all := p.offers()
	base := chosen.option
	add := func(name string, change func(*option)) {
		o := base
		o.name = name
		change(&o)
		all = append(all, o)
	}
	add(base.name+", one more box", func(o *option) { o.more = 1 })
	add(base.name+", two boxes in all", func(o *option) { o.compact = true })
	if !chosen.open {
		add(base.name+", open over the pond", func(o *option) { o.open = true })
	}
	if !chosen.bare(p) {
		add(base.name+", hose through the lid", func(o *option) { o.hose = true })
	}
	return all
}

// lists are what to buy, cut, build, try out and look after.
func (p *plan) lists(d *design) []calculators.Section {
	return []calculators.Section{d.shopping(p), d.cutting(p), d.assembly(p), d.firstRun(p), p.growingIn(d), d.care()}
}

func (d *design) shopping(p *plan) calculators.Section {
	count := func(v float64) string { return quantity.FormatWhole(v) }
	stacks := float64(d.stacks)
	s := calculators.Section{Title: "To buy", Head: []string{"Thing", "How many"}, Rows: [][]string{
		{calculators.Text("Box with lid, inside {~3 mm} × {~3 mm} × {~3 mm}, recess {0 mm}", p.mm("box-length"), p.mm("box-width"), p.mm("box-height"), p.mm("recess")), count(stacks * float64(d.boxes))},
		{"Medium: " + d.medium, calculators.Text("{2 L}", math.Ceil(d.litres/10)*10)},
		{calculators.Text("Foam sheet {0 mm} thick, cut to the box", p.mm("foam-thickness")), count(stacks * p.in.In("foam-grades", "1"))},
		{"Grid or net under the medium, if its pieces pass the holes", count(stacks * float64(d.tiers))},
		{calculators.Text("Pipe or hose of {~3 mm} bore, with clamps", p.mm("bore")), calculators.Text("{2 m}", p.in.In("run", "m"))},
		{"Inlet connector " + connector(p.mm("bore")), count(stacks)},
	}}
	if d.bar.by != nil {
		s.Rows = append(s.Rows, []string{calculators.Text("Pipe of {~3 mm} bore for the spray bar, with an end cap", p.mm("bar-bore")), calculators.Text("{0 mm}", stacks*0.85*p.mm("box-length"))})
	}
	if !d.open {
		s.Rows = append(s.Rows, []string{"Outlet connector " + connector(p.mm("outlet-bore")), count(stacks * float64(d.outlets))},
			[]string{calculators.Text("Pipe of {~3 mm} bore for collectors and outlets", p.mm("outlet-bore")), calculators.Text("{2 m}", stacks*float64(d.outlets)*(0.8*p.mm("box-width")/1000+p.in.In("outlet-run", "m")))})
	}
	if d.pump == nil {
		s.Rows = append(s.Rows, []string{calculators.Text("Pump for {2 L/h} at {2 m}", d.flow, d.head), "1"})
	}
	s.Rows = append(s.Rows, []string{"Strap with buckle, outdoor grade, and a wall anchor or driven post", count(stacks)})
	return s
}

func (d *design) cutting(p *plan) calculators.Section {
	holes := d.tray.likely("holes")
	drilled := float64(d.boxes)
	if !d.open {
		drilled--
	}
	s := calculators.Section{Title: "Cut and drill, for each stack", Steps: []string{
		calculators.Text(several(int(drilled), "floor", "floors")+" and "+several(d.boxes-1, "lid", "lids")+": {0} holes of {~3 mm} each, {0 mm} apart in staggered rows, none nearer than 20 mm to a wall.", holes, d.drill, d.tray.likely("pitch-staggered")),
		"Lids from the inside: print the template mirrored. Clamp a board behind; sharp bit, slow, light pressure; eye protection. Sweep up every shaving and take the burrs off.",
	}}
	if d.bar.by != nil {
		s.Steps = append(s.Steps, calculators.Text("Spray bar: {0} holes of {~3 mm} in one row, {0 mm} apart, facing up or sideways so that the water spreads under the lid.", d.bar.likely("holes"), d.barHole(p), d.bar.likely("spacing")))
	}
	if !d.open {
		s.Steps = append(s.Steps, calculators.Text(several(d.outlets, "collector pipe", "collector pipes")+" {0 mm} long, capped: {0} holes of 10 mm each, on the lower half.", 0.8*p.mm("box-width"), d.collector.likely("holes")),
			calculators.Text("Bottom box: "+several(d.outlets, "hole", "holes")+" for the outlet connector, lower edge {0 mm} above the floor, in one long wall.", outletFloor))
	}
	return s
}

func (d *design) assembly(p *plan) calculators.Section {
	s := calculators.Section{Title: "Put it together", Steps: []string{
		calculators.Text("Lay a level slab; full, each stack weighs up to {2 kg}. Check it with a spirit level both ways: trays that lean run dry on one side.", d.load.filledMost),
	}}
	add := func(step string) { s.Steps = append(s.Steps, step) }
	if d.open {
		add("Set the frame over the pond so that nothing can slip in, and the lowest floor hangs free over the water. Anchor it before any box goes on.")
	} else {
		add("Set the bottom box. Fit outlet and collector with their washers; hand-tight, then a quarter turn. Fill it by hose and look for drips.")
		add("Lay the outlet to the pond, falling all the way, no dip, its end above the water.")
	}
	add("Put a drilled lid on, then the next box, and so on up. Wash the medium, and fill each box where it stands.")
	add("Foam in the top box: coarse on top, fine at the bottom.")
	add("Fit the inlet under the top lid, run pipe or hose up the side and tie it, so that its weight does not pull.")
	add("Strap all boxes together and tie the strap near the top to the wall or frame.")
	add("Bring the cable to a socket with a residual current device, with a drip loop; plug in last, with dry hands.")
	return s
}

func (d *design) firstRun(p *plan) calculators.Section {
	s := calculators.Section{Title: "First run", Steps: []string{
		"Run it for an hour beside you. Dry every joint with paper; look again.",
		calculators.Text("Time a bucket at the outlet: about {2} seconds for 10 litres of each stack.", 36000/d.perStack()),
		calculators.Text("Look at each lid: the water should stand about {0 mm} deep. Mark that line.", d.tray.likely("head-clean")),
		calculators.Text("Cover a third of the holes of the topmost lid with tape: the water must stay inside the recess, about {0 mm} deep. Take the tape off.", d.tray.value("head-blocked").Likely),
	}}
	if !d.open {
		s.Steps = append(s.Steps, calculators.Text("Block a third of the collector with your hand in a glove: the bottom box must not fill within {0 mm} of its rim.", freeboard))
	}
	s.Steps = append(s.Steps,
		calculators.Text("Switch off: up to {2 L} run back. The pond must have that much room.", float64(d.stacks)*(float64(2*d.boxes-2)*d.tray.likely("drain-down")+d.load.bottom)),
		"Mark the pond's level with a pencil. Look after a night: if it fell, find the leak before you trust it alone.")
	return s
}

// growingIn is the calendar until the filter is mature.
func (p *plan) growingIn(d *design) calculators.Section {
	return calculators.Section{Title: "Growing in", Steps: []string{
		"Day 0: run the pump day and night from now on. Add what you can from a healthy old filter. Ultraviolet off for two weeks.",
		"First weeks: feed nothing or a tenth. Test ammonia and nitrite daily.",
		"Nitrite at 0.15 mg/L, as nitrogen, or more: change water today, feed nothing, ask the nitrite calculator for salt.",
		"Both at nothing for a week: feed a quarter; a week later half; then all. One bad test: one step back.",
		calculators.Text("KH: keep it above {0 mg/L}; bacteria need it.", 100),
		"Below 10 °C next to nothing grows: begin again in spring.",
	}}
}

func (d *design) care() calculators.Section {
	interval := math.Max(1, d.foam.value("interval").Low)
	return calculators.Section{Title: "Looking after it", Steps: []string{
		"Daily: is water running evenly under each lid? Do the fish come to feed?",
		calculators.Text("Every {0} days or when the water in the top box rises: rinse the coarse foam in a bucket of pond water; fine foam every second time. Never in tap water.", interval),
		"Weekly: change water, test ammonia, nitrite, KH, pH; look at the marks on the lids.",
		"Monthly: time the bucket. A tenth less: clean strainer and bar. Check strap and anchor.",
		"Spring and autumn: brush the holes, rinse one box of medium in pond water, never all in one week.",
		"Frost: keep it running slowly from mid-water, or drain it wholly and begin again in spring. Half-drained boxes burst.",
	}}
}
