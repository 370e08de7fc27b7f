package tower

import (
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/media"
	"mereleaf/calculators/quantity"
)

// value fills the result: what was found, whether it fits, and the sheet.
func (p *plan) value(r *calculators.Result, d *design) error {
	r.Exactly("boxes", float64(d.stacks*d.boxes))
	r.Exactly("faults", float64(len(d.faults)))
	r.Exactly("stacks", float64(d.stacks))
	r.Exactly("tiers", float64(d.tiers))
	r.Exactly("medium", d.litres)
	r.Exactly("flow", d.flow)
	r.Exactly("each", d.perStack())
	r.Exactly("lift", d.lift)
	eaten := p.pond.now.waste.value("feed")
	r.Between("eaten", eaten.Low, p.pond.now.feed, eaten.High)
	r.Between("ammonia", d.tan.Low, d.tan.Likely, d.tan.High)
	feed := d.feedCarried(p)
	r.Between("carries", feed.Low, feed.Likely, feed.High)
	r.Exactly("holes", d.tray.likely("holes"))
	r.Exactly("drill", d.drill)
	if !d.open {
		r.Exactly("outlets", float64(d.outlets))
	}
	r.Exactly("weight", d.load.filledMost)
	r.Exactly("height", d.height)
	r.Exactly("drained", d.load.drained)
	r.Exactly("lightest", d.load.drainedLeast)
	r.Exactly("running", d.load.running)
	r.Exactly("runs-back", d.runsBack())
	r.Exactly("bucket-time", d.bucketTime())
	falls := d.boxes - 1
	if d.open {
		falls++
	}
	r.Exactly("falls", float64(falls))
	r.Exactly("fall", p.mm("box-height")-d.fill)
	var grow answer
	// Where nothing is fed, or water is so cold that nothing grows, a tower can be
	// built all the same.
	if err := p.mature(&grow); err == nil {
		ripe := grow.value("mature")
		r.Between("mature", ripe.Low, ripe.Likely, ripe.High)
	}
	r.Exactly("build-cost", d.cost.build)
	r.Exactly("year-cost", d.cost.year)
	p.advise(r, d)
	return p.sheet(r, d, &grow)
}

// feedCarried is the feed in g/d whose ammonia the filter carries at the target.
func (d *design) feedCarried(p *plan) calculators.Value {
	load := p.pond.design.tan
	if load == 0 {
		return calculators.Between("", 0, 0, 0)
	}
	feed := func(capacity float64) float64 { return p.pond.design.feed * capacity / load }
	return calculators.Between("", feed(d.capacity.Low), feed(d.capacity.Likely), feed(d.capacity.High))
}

// winterShare is the rate of the film in winter's water, of that in summer's.
func (p *plan) winterShare() float64 {
	cold := p.in.In("winter", "Cel")
	slow, _ := media.Rate(p.pond.target, p.oxygenAt(cold), cold)
	return slow.Likely / p.rate(p.pond.target)
}

// mature asks how long a new filter takes in summer, fed for today's fish.
func (p *plan) mature(a *answer) error {
	return p.ask(a, &p.crew.maturing, nil, "from=feed\nfeed={~5 g/d}\nprotein={~4 %}\nvolume={~5 L}\ntemperature={~4 Cel}\nseeding=some\nchange={~4 %}",
		p.pond.now.feed, p.share("protein"), p.pond.volume, math.Min(p.pond.summer, 32), p.share("change"))
}

func (p *plan) advise(r *calculators.Result, d *design) {
	if len(d.faults) == 0 {
		r.Advise(quantity.Put(quantity.Put(calculators.Text("It fits: {size}, {volume 2 L} of {medium}, {flow 2 L/h}.", d.litres, d.flow), "medium", d.name), "size", d.size()))
		d.margin(p, r)
	} else {
		r.Unfit = true
		r.Advise(quantity.Put("It does not fit yet. {fault}", "fault", d.faults[0]))
		r.Advise(d.faults[1:]...)
	}
	r.Advise(p.help(d))
	if !p.affords(d) {
		r.Say("It costs {more 3} more than you will spend.", d.cost.build-p.in.In("budget", "{currency}"))
	}
	if d.tan.High > 2*p.pond.target {
		r.Doubt("If the film works as slowly as it well may, the ammonia settles at {ammonia 2 mg/L}: the kit decides, not this sheet.", d.tan.High)
	}
	if toxic := p.pond.ammonia.value("toxic").High; toxic > limits.AmmoniaAct {
		r.Doubt("At this pH the ammonia you aim for holds up to {toxic 2 mg/L} that is toxic: aim lower.", toxic)
	}
	if p.pond.target > limits.MatureAmmonia {
		r.Doubt("At the ammonia you aim for the tower never counts as mature, which takes {mature mg/L} or less: aim at that or lower.", limits.MatureAmmonia)
	}
	parts := []*answer{&d.pump, &d.tray, &d.foam}
	if d.narrowest() == &d.outlet {
		parts = append(parts, &d.outlet)
	}
	for _, part := range parts {
		r.Flag(part.result.Flags...) // what makes a part less sure makes the whole so
	}
	if p.in.Choice("tied") == "tied" && (d.tipping.value("ratio").Low < wantedHold || d.tipping.value("ratio-child").Low < wantedHold) {
		r.Flag("It stands only while it is tied: wind, or a child that climbs it, brings a loose stack down.")
	}
	if d.bar.by != nil && d.bar.likely("head") > narrowBar {
		r.Doubt("The spray bar takes {head 2 m} of head: a wider bar brings more water.", d.bar.likely("head"))
	}
	if p.pond.now.feed > 0 && p.in.Choice("size-for") == "now" && p.pond.grown.feed > d.feedCarried(p).Likely {
		r.Doubt("Grown, these fish eat about {feed 2 g/d}; this tower carries {carried 2 g/d}. Plan another stack, or fewer fish.", p.pond.grown.feed, d.feedCarried(p).Likely)
	}
}

// size says how many boxes there are, so that nobody takes those of one stack for
// all.
func (d *design) size() string {
	if d.stacks == 1 {
		return calculators.Text("{stacks 0|stack|stacks} of {boxes 0|box|boxes}", 1, float64(d.boxes))
	}
	return calculators.Text("{stacks 0|stack|stacks} of {boxes 0|box|boxes}, side by side ({all 0} in all)", float64(d.stacks), float64(d.boxes), float64(d.stacks*d.boxes))
}

// thinMargin is the least that a tower carries beyond the feed, in per cent, before
// the sheet says how little it is.
const thinMargin = 10.0

// margin says how much more feed a tower that fits carries than the fish eat, where
// that is little or not sure.
func (d *design) margin(p *plan, r *calculators.Result) {
	carries, eaten := d.feedCarried(p), p.pond.design.feed
	if eaten == 0 || carries.Low >= eaten && carries.Likely >= eaten*(1+thinMargin/100) {
		return
	}
	spare := 100 * (carries.Likely/eaten - 1)
	if carries.Low >= eaten {
		r.Say("The margin is thin: it carries {carried 2 g/d} of feed, {spare 2 %} more than the {eaten 2 g/d} that the fish eat.", carries.Likely, spare, eaten)
		return
	}
	r.Say("The margin is not sure: it carries {carried 2 g/d} of feed, {spare 2 %} more than the {eaten 2 g/d} that the fish eat, but only {low 2 g/d} if the film works slowly. Leave room for more boxes, and let the kit decide.",
		carries.Likely, spare, eaten, carries.Low)
}

// help names what limits the design and what one change would help most.
func (p *plan) help(d *design) string {
	wetted := d.media.likely("wetted")
	switch {
	case wetted < 80:
		return calculators.Text("Only {wet 2 %} of the surface is wet: more water, or a coarser medium, helps most.", wetted)
	case d.litres < d.media.likely("volume")*1.1:
		return calculators.Text("Its surface limits it: one more box of medium carries {feed 2 g/d} of feed more.", d.feedCarried(p).Likely/float64(d.tiers))
	case d.media.likely("hydraulic-load") > wettest/2:
		return "It has surface to spare: a second stack would spread the water better than another box."
	}
	return "It has surface to spare: the next thing to watch is the nitrate, which only water changes take out."
}

func (p *plan) sheet(r *calculators.Result, d *design, grow *answer) error {
	var s sheet
	p.load(&s)
	d.listTiers(p, &s)
	d.draw(p, &s)
	d.pipes(p, &s)
	if err := p.does(&s, d, grow); err != nil {
		return err
	}
	d.stands(&s)
	d.costs(&s)
	p.two(r, &s, d)
	p.ways(&s, d)
	d.shopping(p, &s)
	d.cutting(p, &s)
	d.assembly(&s)
	d.firstRun(p, &s)
	d.care(p, &s)
	r.Sheet = s.sections
	r.Flag(p.warnings...)
	return nil
}

// load is what comes in.
func (p *plan) load(s *sheet) {
	f := &p.pond
	s.open("Pond and fish")
	if f.water.by != nil {
		s.found(&f.water, "volume", "Water in the pond")
	}
	if f.now.weight.by != nil {
		s.found(&f.now.weight, "weight", "Fish now")
	}
	s.found(&f.now.waste, "feed", "They eat on a warm day")
	s.found(&f.now.waste, "tan", "Ammonia nitrogen a day")
	s.found(&f.grown.waste, "feed", "Grown, they eat")
	s.found(&f.grown.waste, "tan", "Ammonia nitrogen a day, grown")
	s.found(&f.ammonia, "toxic", "Toxic part of the ammonia you aim for")
}

// listTiers is the stack from the top.
func (d *design) listTiers(p *plan, s *sheet) {
	s.open("The stack, from the top")
	s.head("Box", "Holds", "Floor", "Lid")
	holes, lid := calculators.Text("{holes 0} × {drill ~3 mm}", d.tray.likely("holes"), d.drill), "not drilled"
	row := func(holds, floor string) {
		s.row(quantity.FormatWhole(float64(s.rows()+1)), holds, floor, lid)
		lid = holes
	}
	top := []string{"spray bar", foamWords(d.grades(p))}
	if d.bar.by == nil {
		top[0] = "hose over a splash plate"
	}
	medium := quantity.Put(calculators.Text("{medium} {depth 0 mm} deep", d.fill), "medium", d.name)
	if d.compact {
		row(strings.Join(append(top, medium), ", "), holes)
	} else {
		row(strings.Join(top, ", "), holes)
		for i := 1; i < d.foamBoxes(p); i++ {
			row("the rest of the foam", holes)
		}
		for range d.tiers {
			row(medium, holes)
		}
	}
	if !d.open {
		row("collector pipe and outlet", "not drilled")
	}
	s.says("Stones flood above {wettest m3/m2/d}, all media dry in places below {driest m3/m2/d} (common practice). The lids carry the boxes above and have the same holes as the floors; their recess holds what the holes cannot pass. The top lid stays whole: it keeps out light and leaves.", wettest, driest)
	s.found(&d.tray, "head-clean", "Water over lid and floor, clean")
	s.found(&d.tray, "head-blocked", "With a third of the holes blocked")
	s.found(&d.tray, "reserve", "Left in the recess then")
	s.found(&d.media, "hydraulic-load", "Water on each square metre of floor")
	s.found(&d.media, "wetted", "Part of the surface that is wet")
}

func foamWords(grades float64) string {
	switch grades {
	case 1:
		return "coarse foam"
	case 2:
		return "coarse over fine foam"
	}
	return "coarse over medium over fine foam"
}

// pipes is what is drilled and joined.
func (d *design) pipes(p *plan, s *sheet) {
	s.open("Holes and pipes")
	s.found(&d.tray, "holes", "Holes in each floor and lid")
	s.line("Drill", "{drill ~3 mm}", d.drill)
	s.found(&d.tray, "pitch-staggered", "Hole to hole, staggered")
	if d.bar.by != nil {
		s.found(&d.bar, "holes", calculators.Text("Holes in the spray bar, of {hole ~3 mm}", p.barHole()))
		s.found(&d.bar, "spacing", "Hole to hole in it")
		s.found(&d.bar, "evenness", "Weakest hole, of the strongest")
		s.found(&d.bar, "head", "Head the bar asks for")
	}
	if d.pump.by != nil {
		s.found(&d.pump, "flow", "Flow the pump brings up")
		s.found(&d.pump, "head", "Head it makes")
		s.found(&d.pump, "turnover", "The pond passes once in")
		if d.choked > 0 {
			s.says("The pump brings more than these stones let through: close a valve behind it until a bucket shows {flow 2 L/h} in all.", d.flow)
		}
	} else {
		s.line("Look for a pump that brings", "{flow 2 L/h} at {head 2 m}", d.flow, d.head)
		s.found(&d.loss, "loss", "Of that, lost in the pipe")
	}
	s.line("Connector at the inlet", connector(p.mm("bore")))
	if !d.open {
		s.found(&d.collector, "holes", calculators.Text("Holes in each collector pipe, of {hole 0 mm}", collectorHole))
		s.line("Outlets of each stack", "{outlets 0} of {bore ~3 mm}", float64(d.outlets), p.mm("outlet-bore"))
		s.found(&d.outlet, "capacity", "Out of the box they carry, collector a third blocked")
		s.found(&d.drop, "capacity", "Down to the pond they carry, without gulping")
		s.found(d.narrowest(), "margin", "To spare over the pump")
		s.found(&d.notch, "rise", calculators.Text("Outlet blocked, the water rises over a notch {width 0 mm} wide by", d.notchWidth))
		s.line("Fitting at an outlet", outletFitting(p.mm("outlet-bore")))
	}
	s.found(&d.foam, "interval", "Rinse the foam after")
}

// does is what becomes of the water.
func (p *plan) does(s *sheet, d *design, grow *answer) error {
	s.open("What it does to the water")
	s.says("Plastic carries bacteria that need oxygen. Porous stone and glass may hold some that do without; in falling water they take out hardly any nitrate: plan water changes.")
	s.line("Ammonia of today's fish settles at", settles(p.settled(p.pond.now.tan, d.capacity)))
	s.line("Of the fish when grown", settles(p.settled(p.pond.grown.tan, d.capacity)))
	s.line("Nitrite, once mature", shown(p.nitrite()))
	s.found(&d.media, "oxygen-used", "Oxygen used in a day")
	s.line("In winter it works at", "{rate 2 %} of its summer rate; fish in the cold get little feed or none", 100*p.winterShare())
	if err := p.changes(s); err != nil {
		return err
	}
	s.found(grow, "down", "Grown in, begun in summer, after")
	s.found(grow, "nitrite-peak", "Fed on regardless, nitrite could peak at")
	return nil
}

// changes is what water changes must do: nitrate, KH, chlorine.
func (p *plan) changes(s *sheet) error {
	var nitrate, kh, chlorine answer
	change, feed, protein := p.share("change"), p.pond.design.feed, p.share("protein")
	if err := p.nitrate(s, &nitrate); err != nil {
		return err
	}
	tap := p.in.In("tap-alkalinity", "mg/L")
	err := p.ask(&kh, &p.crew.alkalinity, nil, "from=feed\nfeed={~5 g/d}\nprotein={~4 %}\nvolume={~5 L}\nkh={~4 mg/L}\ntap={~4 mg/L}\nchange={~4 %}", feed, protein, p.pond.volume, tap, tap, change)
	if err != nil {
		return err
	}
	s.found(&kh, "fall", "The filter lowers KH in a week by")
	if fall := kh.likely("fall"); fall > muchKH {
		p.warnings = append(p.warnings, calculators.Text("The filter takes {fall 2 mg/L} of KH a week: test KH each week and give back what it takes, or the pH crashes.", fall))
	}
	s.found(&kh, "bicarbonate", "Bicarbonate a week that holds it")
	if change == 0 || p.in.In("chlorine", "mg/L") == 0 {
		return nil
	}
	err = p.ask(&chlorine, &p.crew.chlorine, nil, "new-water={~3 L}\nvolume={~5 L}\nchlorine={~4 mg/L}", p.pond.volume*change/100, p.pond.volume, p.in.In("chlorine", "mg/L"))
	if err != nil {
		return err
	}
	s.found(&chlorine, "dose", "Thiosulfate for the new water of a week")
	return nil
}

// settles prints where the ammonia settles, if it does.
func settles(v calculators.Value) string {
	switch {
	case v.Likely >= noEnd:
		return "it cannot carry them"
	case v.High >= noEnd:
		return calculators.Text("{likely 2 mg/L}, from {low 2 mg/L}; if the film is slow it cannot carry them", v.Likely, v.Low)
	}
	return shown(v)
}

// shown prints a concentration in mg/L with its range to two digits.
func shown(v calculators.Value) string {
	if math.IsInf(v.High, 1) {
		return calculators.Text("from {low 2 mg/L}; in water so cold nobody can say how high", v.Low)
	}
	return calculators.Text("{likely 2 mg/L} ({low 2} to {high 2 mg/L})", v.Likely, v.Low, v.High)
}

// stands is weight and stability.
func (d *design) stands(s *sheet) {
	s.open("Weight and standing")
	s.says("Strap all boxes together and tie the strap near the top to a wall or a driven frame. Full means every hole blocked: build the base for it, and ask the boxes' maker what one may carry: cheap walls buckle. If it is less than the lowest box gets, set shelves or a frame under every second box.")
	if d.load.medium.value("box-drained").High > forTwo {
		s.says("A box of wet medium is more than one person should lift: empty it where it stands, or lift with two.")
	}
	s.line("Height", "{height 3 mm}", d.height)
	s.found(&d.load.medium, "box-drained", "One box of medium, drained")
	s.found(&d.load.medium, "box-blocked", "One box of medium, blocked and full")
	s.line("Stack drained", "{weight 2 kg}", d.load.drained)
	s.line("Stack drained, at its lightest: by this it stands or tips", "{weight 3 kg}", d.load.drainedLeast)
	s.line("Stack running", "{weight 2 kg}", d.load.running)
	s.line("Stack blocked and full, at most", "{weight 2 kg}", d.load.filledMost)
	s.line("Of that, on the lowest box", "{weight 2 kg}", d.load.filledMost*float64(d.boxes-1)/float64(d.boxes))
	s.found(&d.ground, "pressure", "Pressure on the ground then")
	s.found(&d.ground, "bearing", "Of what the ground bears")
	s.found(&d.tipping, "ratio", calculators.Text("Hold against the wind, drained (wanted {wanted ~})", wantedHold))
	s.found(&d.tipping, "ratio-child", "Hold against a climbing child")
	s.found(&d.tipping, "tipping-force", "Push at the top that tips it")
	s.found(&d.tipping, "tie", "Pull that a tie at the top must hold")
}

func (d *design) costs(s *sheet) {
	c := &d.cost
	s.open("What it costs")
	s.says("In your currency; pipes, connectors and straps not counted.")
	s.line("Boxes with lids", "{cost 0}", c.boxes)
	s.line("Medium", "{cost 0}", c.medium)
	s.line("Foam", "{cost 0}", c.foam)
	s.line("Build, in all", "{cost 0}", c.build)
	s.found(&c.power, "cost-year", "Electricity in a year")
	s.line("Water in a year", "{cost 0}", c.water)
	s.line("Build, for each gram of ammonia a day", "{cost 0}", c.gram)
}
