package tower

import (
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// ways compares other towers for the same pond, the best for the reader's aim
// first.
func (p *plan) ways(s *sheet, chosen *design) {
	s.open("Other ways, side by side")
	s.says(p.order())
	s.head("Way", "Boxes", "Medium", "Ammonia", "Water", "Build", "Year", "Verdict")
	var all []*design
	consider := func(o option, d *design, err error) {
		if err != nil {
			l := s.last()
			l.Says = append(l.Says, quantity.Put(quantity.Put("{way}: {reason}.", "reason", err.Error()), "way", o.way()))
			return
		}
		all = append(all, d)
	}
	more, err := p.oneMore(chosen)
	consider(more.option, more, err)
	for _, o := range p.variants(chosen) {
		d, err := p.design(o)
		consider(o, d, err)
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
		s.row(d.way(), quantity.FormatWhole(float64(d.stacks*d.boxes)), calculators.Text("{volume 2 L}", d.litres),
			settles(d.tan), calculators.Text("{flow 2 L/h}", d.flow), calculators.Text("{cost 0}", d.cost.build), calculators.Text("{cost 0}", d.cost.year), verdict)
	}
}

// order says by what the ways are sorted.
func (p *plan) order() string {
	switch budget, porous := p.in.Has("budget"), p.in.Choice("aim") == "nitrate"; {
	case budget && porous:
		return "What fits comes first, then what your money buys, then porous media, then the cheapest to build. Ammonia is where it settles."
	case budget:
		return "What fits comes first, then what your money buys, then the cheapest to build. Ammonia is where it settles."
	case porous:
		return "What fits comes first, then porous media, then the cheapest to build. Ammonia is where it settles."
	}
	return "What fits comes first, then the cheapest to build. Ammonia is where it settles."
}

// inOneBox says what a compact tower is.
const inOneBox = "foam and medium in one box"

// way names what an option is, as a list: its medium, and what is unlike the tower
// that it is compared with.
func (o *option) way() string {
	names := []string{o.name}
	if o.change != "" {
		names = append(names, o.change)
	}
	if o.compact && o.change != inOneBox {
		names = append(names, inOneBox)
	}
	return strings.Join(names, ", ")
}

// oneMore is a chosen design with a box of medium more in each stack.
func (p *plan) oneMore(chosen *design) (*design, error) {
	o := chosen.option
	o.change = "one more box"
	d := p.sized(o, chosen.stacks, chosen.tiers+1)
	if err := d.fillUp(p); err != nil {
		return d, err
	}
	return d, d.finish(p)
}

// variants are the ways worth comparing with a chosen design.
func (p *plan) variants(chosen *design) []option {
	var all []option
	add := func(name string, change func(*option)) {
		o := chosen.option
		o.change = name
		change(&o)
		all = append(all, o)
	}
	if !chosen.compact {
		add(inOneBox, func(o *option) { o.compact = true })
	}
	if !chosen.open {
		add("open over the pond", func(o *option) { o.open = true })
	}
	if !chosen.bare(p) {
		add("hose through the wall", func(o *option) { o.hose = true })
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
	buy(stacks*float64(d.boxes), "Box with lid, inside {length ~3 mm} × {width ~3 mm} × {height ~3 mm}, recess {recess 0 mm}", p.mm("box-length"), p.mm("box-width"), p.mm("box-height"), p.mm("recess"))
	s.row(quantity.Put("Medium: {medium}", "medium", d.name), calculators.Text("{volume 0 L}", math.Ceil(d.litres/10)*10))
	buy(stacks*d.grades(p), "Foam sheet {thickness 0 mm} thick, cut to the box", p.mm("foam-thickness"))
	buy(stacks*float64(d.tiers), "Grid or net under the medium, if its pieces pass the holes")
	s.row(calculators.Text("Pipe or hose of {bore ~3 mm} bore, with clamps", p.mm("bore")), calculators.Text("{length 0 m}", math.Ceil(p.in.In("run", "m"))))
	s.row(quantity.Put("Inlet connector {connector}", "connector", connector(p.mm("bore"))), quantity.FormatWhole(stacks))
	if d.bar.by != nil {
		buy(stacks, "Pipe of {bore ~3 mm} bore, {length 0 mm} long, with an end cap, for the spray bar", p.mm("bar-bore"), barOfBox*p.mm("box-length"))
	}
	if !d.open {
		outlets := stacks * float64(d.outlets)
		fitting := "Outlet connector {fitting}"
		if p.mm("outlet-bore") > widestConnector {
			fitting = "Outlet: {fitting}"
		}
		s.row(quantity.Put(fitting, "fitting", outletFitting(p.mm("outlet-bore"))), quantity.FormatWhole(outlets))
		buy(outlets, "Pipe of {bore ~3 mm} bore, {length 0 mm} long, with an end cap, for a collector", p.mm("outlet-bore"), d.collectorLength(p))
		buy(outlets, "Pipe of {bore ~3 mm} bore, {length 2 m} long, with a bend, for an outlet", p.mm("outlet-bore"), p.in.In("outlet-run", "m"))
	}
	if d.pump.by == nil {
		buy(1, "Pump for {flow 2 L/h} at {head 2 m}", d.flow, d.head)
	}
	if d.stacks > 1 {
		buy(stacks, "Tee and valve, to share the pump; and more pipe if the stacks stand apart")
	} else if d.choked > 0 {
		buy(1, "Valve, to choke the pump")
	}
	buy(2*stacks, "Strap with buckle, outdoor grade; one holds the boxes, one ties them to a wall anchor or driven post")
}

func (d *design) cutting(p *plan, s *sheet) {
	s.steps("Cut and drill, for each stack", calculators.Hazards(calculators.Electricity+", "+calculators.Tools))
	floors := d.boxes
	if !d.open {
		floors--
	}
	s.step("Drill {floors 0|floor|floors} and {lids 0|lid|lids}: {holes 0} holes of {drill ~3 mm} each, {apart 0 mm} apart in staggered rows, none nearer than {margin mm} to a wall.",
		float64(floors), float64(d.boxes-1), d.tray.likely("holes"), d.drill, d.tray.likely("pitch-staggered"), margin)
	s.step("Lay the template on lid and floor from the same corner, so that the holes meet. In a ribbed floor take the nearest place between ribs; where boxes stand flat on a lid, lift them on strips of {strip mm}.", stripHeight)
	s.step("Cut the openings for air: in each box of medium {air 0 cm2} in all, high in the walls above the medium, sloping up outwards so that no splash runs out ({share %} of the floor, as sewage works have it).", 100*airShare*d.floor(p), airShare)
	s.step("Print the template mirrored for lids that you drill from the inside. Clamp a board behind; sharp bit, slow, light pressure. Sweep up every shaving and take the burrs off.")
	if d.bar.by != nil {
		s.step("Drill the spray bar: {holes 0} holes of {hole ~3 mm} in one row, {apart 0 mm} apart, facing up or sideways so that the water spreads under the lid.", d.bar.likely("holes"), p.barHole(), d.bar.likely("spacing"))
	}
	if !d.open {
		s.step("Cut {pipes 0|collector pipe|collector pipes} {length 0 mm} long, capped: {holes 0} holes of {hole mm} each, on the lower half.", float64(d.outlets), d.collectorLength(p), d.collector.likely("holes"), collectorHole)
		if p.mm("outlet-bore") > widestConnector {
			s.step("Saw {holes 0|hole|holes} into the bottom box for the outlet's wall fitting, as its leaflet says; where no saw is so wide, a ring of small holes, knife and file. Lower edge of the bore {floor mm} above the floor, in one long wall; the flange must cover the hole by {cover mm} all round.", float64(d.outlets), flangeFloor, flangeCover)
		} else {
			s.step("Saw {holes 0|hole|holes} into the bottom box for the outlet connector, lower edge of the bore {floor mm} above the floor, in one long wall.", float64(d.outlets), outletFloor)
		}
		s.step("Cut the overflow: a level slot {width 0 mm} wide in the wall towards the pond, its lower edge {rim mm} below the rim, its ends bored round and the rim over it left whole; lead what comes out home by a gutter or pipe of its own.", d.notchWidth, freeboard)
	}
}

func (d *design) assembly(s *sheet) {
	s.steps("Put it together", calculators.Hazards(calculators.Electricity+", "+calculators.Lifting+", "+calculators.Toppling+", "+calculators.Climbing+", "+calculators.Digging+", "+calculators.Dust+", "+calculators.Solvents))
	s.step("Lay a level slab; full, each stack weighs up to {weight 2 kg}. Check it with a spirit level both ways, and each box again: where the water stands a few millimetres deep, a tray that leans runs dry on one side.", d.load.filledMost)
	if d.open {
		s.step("Set the frame over the pond so that nothing can slip in, and the lowest floor hangs free over the water. Anchor it before any box goes on.")
	} else {
		s.step("Set the bottom box. Fit outlet and collector with their washers; hand-tight, then a quarter turn. Fill it by hose and look for drips.")
		s.step("Lay the outlet straight out, round the bend and down, no dip, its end open above the water.")
	}
	s.step("Try a drilled box before you build on it, low on the ground, with its lid on and the pump's full flow: stop a third of the lid's holes with bungs, and the water must stay inside the recess, about {depth 0 mm} deep. Unplug, and pull every bung.", d.tray.likely("head-blocked"))
	s.step("Put a drilled lid on, then the next box, and so on up. Wash the medium, and fill each box where it stands.")
	s.step("Lay the foam into the top box: coarse on top, fine at the bottom.")
	if d.stacks > 1 {
		s.step("Fit a tee and a valve before each stack, to share the pump. Open all, then close them bit by bit until the bucket shows the same at each outlet.")
	}
	s.step("Fit the inlet under the top lid, run pipe or hose up the side and tie it, so that its weight does not pull.")
	s.step("Strap all boxes together, over the lid and under the lowest box, and tie a second strap near the top to the wall or frame.")
	s.step("Bring the cable to a socket with a residual current device, with a drip loop; plug in last, with dry hands.")
}

func (d *design) firstRun(p *plan, s *sheet) {
	s.steps("First run", calculators.Hazards(calculators.Electricity+", "+calculators.Spill))
	s.step("Run it for an hour beside you. Dry every joint with paper; look again.")
	s.step("Time a bucket at the outlet: {bucket L} of each stack take about {time 2 s}.", bucket, d.bucketTime())
	s.step("Look into each lid around the box that stands in it: the water should be about {depth 0 mm} deep. Mark that line.", d.tray.likely("head-clean"))
	if !d.open {
		s.step("Stop a third of the collector's holes with bungs, unplugged, and run again: the bottom box must not fill within {rim mm} of its rim. Pull every bung.", freeboard)
	}
	s.step("Switch the pump off: up to {volume 2 L} run back. The pond must have that much room.", d.runsBack())
	s.step("Mark the pond's level. Look again after a night: if it fell, find the leak before you trust the tower alone.")
}

// care is the calendar: growing in, then the year.
func (d *design) care(p *plan, s *sheet) {
	s.steps("Growing in", calculators.Hazards(calculators.Electricity+", "+calculators.Chlorine+", "+calculators.FishHealth))
	s.step("Run the pump day and night from the first day on. Add what you can from a healthy old filter. Ultraviolet off for two weeks.")
	s.step("Feed nothing or a tenth in the first weeks. Test ammonia and nitrite daily.")
	s.step("Change water today if nitrite is at {nitrite mg/L}, as nitrogen, or more; feed nothing, ask the nitrite calculator for salt.", limits.NitriteAct)
	s.step("Feed a quarter once ammonia has been at {ammonia mg/L} or less and nitrite under {nitrite mg/L}, as nitrogen, for {days 0|day|days}; after {days 0|day|days} more half; then all. One bad test: one step back. It is mature when both stay so for {days 0|day|days} at full feed.",
		limits.MatureAmmonia, limits.MatureNitrite, limits.MatureDays)
	s.step("Keep KH near {good mg/L} while it grows in, with bicarbonate if the tap has less, and never below {least mg/L}: the bacteria need it. Test ammonia before you raise it.", limits.AlkalinityLowWatch, limits.AlkalinityLowAct)
	s.step("Wait for spring below {cold Cel}: next to nothing grows.", growsFrom)
	s.steps("Looking after it", calculators.Hazards(calculators.Electricity+", "+calculators.Toppling+", "+calculators.Lifting+", "+calculators.Infection+", "+calculators.Chlorine))
	s.step("Look daily: is water running evenly under each lid? Do the fish come to feed?")
	if days := d.foam.value("interval").Low; days < 1.5 {
		s.step("Rinse the coarse foam daily in a bucket of pond water; fine foam every second time. Never in tap water.")
	} else {
		s.step("Rinse the coarse foam in a bucket of pond water every {days 0} days, or when the water in the top box rises; fine foam every second time. Never in tap water.", days)
	}
	s.step("Change water weekly, test ammonia, nitrite, KH, pH; look at the marks on the lids.")
	s.step("Time the bucket monthly. A tenth less: unplug, then clean strainer and bar. Check strap and anchor.")
	s.step("Brush the holes in spring and autumn, rinse one box of medium in pond water, never all in one week.")
	s.step("Keep it running slowly in frost, from mid-water, or drain it wholly and begin again in spring. Half-drained boxes burst.")
}
