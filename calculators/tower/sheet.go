package tower

import (
	"math"

	"mereleaf/calculators"
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
	grow, err := p.mature(d)
	if err != nil {
		return err
	}
	ripe := grow.value("down")
	r.Between("mature", ripe.Low, ripe.Likely, ripe.High)
	r.Exactly("build-cost", d.cost.build)
	r.Exactly("year-cost", d.cost.year)
	p.advise(r, d)
	return p.sheet(r, d, grow)
}

// feedCarried is the feed in g/d whose ammonia the filter carries at the target.
func (d *design) feedCarried(p *plan) calculators.Value {
	load := p.pond.design.tan.Likely
	if load == 0 {
		return calculators.Between("", 0, 0, 0)
	}
	feed := func(capacity float64) float64 { return p.pond.design.feed * capacity / load }
	return calculators.Between("", feed(d.capacity.Low), feed(d.capacity.Likely), feed(d.capacity.High))
}

func (p *plan) mature(d *design) (answer, error) {
	return ask(&p.crew.maturing, []calculators.Arg{as("from", "feed"), at("feed", p.pond.now.feed, "g/d"), p.percent("protein", "protein"),
		at("volume", p.pond.volume, "L"), at("temperature", math.Min(p.pond.summer, 32), "Cel"), as("seeding", "some"), p.percent("change", "change")})
}

func (p *plan) advise(r *calculators.Result, d *design) {
	if len(d.faults) == 0 {
		r.Advise(calculators.Text("It fits: "+several(d.boxes, "box", "boxes")+" in "+several(d.stacks, "stack", "stacks, side by side")+", {2 L} of "+d.name+", {2 L/h}.", d.litres, d.flow))
	} else {
		r.Advise("It does not fit yet. " + d.faults[0])
		r.Advise(d.faults[1:]...)
	}
	r.Advise(p.help(d))
	if !p.affords(d) {
		r.Advise(calculators.Text("It costs {3} more than you will spend.", d.cost.build-p.in.In("budget", "{currency}")))
	}
	if d.tan.High > 2*p.pond.target {
		r.Flag(calculators.Text("If the film works as slowly as it well may, the ammonia settles at {2 mg/L}: the kit decides, not this sheet. Leave room for a box more.", d.tan.High))
	}
	if toxic := p.pond.ammonia.value("toxic").High; toxic > 0.05 {
		r.Flag(calculators.Text("At this pH the ammonia you aim for holds up to {2 mg/L} that is toxic: aim lower.", toxic))
	}
	if p.pond.now.feed > 0 && p.in.Choice("size-for") == "now" && p.pond.grown.feed > d.feedCarried(p).Likely {
		r.Flag(calculators.Text("Grown, these fish eat about {2 g/d}; this tower carries {2 g/d}. Plan a second stack, or fewer fish.", p.pond.grown.feed, d.feedCarried(p).Likely))
	}
}

// help names what limits the design and what one change would help most.
func (p *plan) help(d *design) string {
	wetted := d.media.likely("wetted")
	switch {
	case wetted < 80:
		return calculators.Text("Only {2 %} of the surface is wet: more water, or a coarser medium, helps most.", wetted)
	case d.litres < d.media.likely("volume")*1.1:
		return calculators.Text("Its surface limits it: one more box of medium carries {2 g/d} of feed more.", d.feedCarried(p).Likely/float64(d.tiers))
	case d.media.likely("hydraulic-load") > wettest/2:
		return "It has surface to spare: a second stack would spread the water better than another box."
	}
	return "It has surface to spare: the next thing to watch is the nitrate, which only water changes take out."
}

func (p *plan) sheet(r *calculators.Result, d *design, grow answer) error {
	add := func(s calculators.Section) { r.Sheet = append(r.Sheet, s) }
	add(p.load(d))
	add(d.tiersTable(p))
	add(d.pipes(p))
	clean, err := p.does(d, grow)
	if err != nil {
		return err
	}
	add(clean)
	add(d.stands(p))
	add(d.costs(p))
	add(p.ways(d))
	for _, s := range p.lists(d) {
		add(s)
	}
	return nil
}

// load is what comes in.
func (p *plan) load(d *design) calculators.Section {
	f := &p.pond
	s := calculators.Section{Title: "Pond and fish"}
	if f.water != nil {
		s.Lines = append(s.Lines, f.water.line("Water in the pond", "volume"))
	}
	s.Lines = append(s.Lines,
		f.now.weight.line("Fish now", "weight"), f.now.waste.line("They eat on a warm day", "feed"), f.now.waste.line("Ammonia nitrogen a day", "tan"),
		f.grown.waste.line("Grown, they eat", "feed"), f.grown.waste.line("Ammonia nitrogen a day, grown", "tan"),
		f.ammonia.line("Toxic part of the ammonia you aim for", "toxic"))
	return s
}

// tiersTable is the stack from the top.
func (d *design) tiersTable(p *plan) calculators.Section {
	s := calculators.Section{Title: "The stack, from the top", Head: []string{"Box", "Holds", "Floor", "Lid"}}
	holes := calculators.Text("{0} × {~3 mm}", d.tray.likely("holes"), d.drill)
	lid := "not drilled"
	n := 0
	row := func(holds, floor string) {
		n++
		s.Rows = append(s.Rows, []string{quantity.FormatWhole(float64(n)), holds, floor, lid})
		lid = holes
	}
	in := "spray bar"
	if d.hose || d.bare(p) {
		in = "hose over a splash plate"
	}
	foam := foamWords(p.in.In("foam-grades", "1"))
	if d.compact {
		row(in+", "+foam+", "+d.name+" "+quantity.WithUnit(quantity.FormatWhole(d.fill), "mm")+" deep", holes)
	} else {
		row(in+", "+foam, holes)
		for i := 1; i < d.foamBoxes(p); i++ {
			row("the rest of the foam", holes)
		}
		for range d.tiers {
			row(d.name+" "+quantity.WithUnit(quantity.FormatWhole(d.fill), "mm")+" deep", holes)
		}
	}
	if !d.open {
		row("collector pipe and outlet", "not drilled")
	}
	s.Lines = []calculators.Line{
		d.tray.line("Water over lid and floor, clean", "head-clean"), d.tray.line("With a third of the holes blocked", "head-blocked"), d.tray.line("Left in the recess then", "reserve"),
		d.media.line("Water on each square metre of floor", "hydraulic-load"), d.media.line("Part of the surface that is wet", "wetted"),
	}
	s.Says = []string{
		"Floods above 400 m³/m² a day with stones, dries below 30 (common practice).",
		"The lids carry the boxes above and have the same holes as the floors; their recess holds what the holes cannot pass. The top lid stays whole: it keeps light and leaves out.",
	}
	return s
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
func (d *design) pipes(p *plan) calculators.Section {
	s := calculators.Section{Title: "Holes and pipes"}
	s.Lines = append(s.Lines, d.tray.line("Holes in each floor and lid", "holes"),
		calculators.Line{Label: "Drill", Text: quantity.WithUnit(quantity.FormatNumber(d.drill, 3), "mm")},
		d.tray.line("Hole to hole, staggered", "pitch-staggered"),
		calculators.Line{Label: "Template at true size", Text: "print it", By: calculators.Call{Name: "drill-template", Args: d.template(p)}})
	if d.bar.by != nil {
		s.Lines = append(s.Lines, d.bar.line("Holes in the spray bar, of "+quantity.WithUnit(quantity.FormatNumber(d.barHole(p), 3), "mm"), "holes"),
			d.bar.line("Hole to hole", "spacing"), d.bar.line("Weakest hole, of the strongest", "evenness"), d.bar.line("Head the bar asks for", "head"))
	}
	if d.pump != nil {
		s.Lines = append(s.Lines, d.pump.line("Flow the pump brings up", "flow"), d.pump.line("Head it makes", "head"), d.pump.line("The pond passes once in", "turnover"))
	} else {
		s.Lines = append(s.Lines, calculators.Line{Label: "Look for a pump that brings", Text: calculators.Text("{2 L/h} at {2 m}", d.flow, d.head)}, d.loss.line("Of that, lost in the pipe", "loss"))
	}
	s.Lines = append(s.Lines, calculators.Line{Label: "Connector at the inlet", Text: connector(p.mm("bore"))})
	if !d.open {
		s.Lines = append(s.Lines, d.collector.line("Holes in each collector pipe, of 10 mm", "holes"),
			calculators.Line{Label: "Outlets of each stack", Text: calculators.Text("{0} of {~3 mm}", float64(d.outlets), p.mm("outlet-bore"))},
			d.outlet.line("They carry, collector a third blocked", "capacity"), d.outlet.line("To spare over the pump", "margin"),
			calculators.Line{Label: "Connector at an outlet", Text: connector(p.mm("outlet-bore"))})
	}
	s.Lines = append(s.Lines, d.foam.line("Rinse the foam after", "interval"))
	return s
}

// template is what the drilling template is asked.
func (d *design) template(p *plan) []calculators.Arg {
	return []calculators.Arg{at("length", p.mm("box-length"), "mm"), at("width", p.mm("box-width"), "mm"), at("margin", margin, "mm"), at("count", d.tray.likely("holes"), "1"), at("hole", d.drill, "mm")}
}

// connector names the tank connector of a bore, with the hole it needs. Pipe
// threads are those of ISO 228-1, major diameters in mm, from memory; the saw is
// the next even millimetre above.
func connector(bore float64) string {
	name, thread := "flange for this pipe", 0.0
	switch {
	case bore <= 15:
		name, thread = "G ½", 20.955
	case bore <= 21:
		name, thread = "G ¾", 26.441
	case bore <= 27:
		name, thread = "G 1", 33.249
	case bore <= 34:
		name, thread = "G 1¼", 41.910
	case bore <= 42:
		name, thread = "G 1½", 47.803
	case bore <= 54:
		name, thread = "G 2", 59.614
	case bore <= 68:
		name, thread = "G 2½", 75.184
	case bore <= 82:
		name, thread = "G 3", 87.884
	case bore <= 106:
		name, thread = "G 4", 113.030
	}
	if thread == 0 {
		return name
	}
	return calculators.Text(name+", hole saw about {0 mm} (ISO 228-1, from memory; its leaflet decides)", 2*math.Ceil(thread/2))
}

// does is what becomes of the water.
func (p *plan) does(d *design, grow answer) (calculators.Section, error) {
	s := calculators.Section{Title: "What it does to the water"}
	by := calculators.Call{Name: d.media.by.ID, Args: d.media.args}
	s.Lines = append(s.Lines,
		calculators.Line{Label: "Total ammonia of today's fish settles at", Text: settles(p.settled(p.pond.now.tan.Likely, d.capacity)), By: by},
		calculators.Line{Label: "Of the fish when grown", Text: settles(p.settled(p.pond.grown.tan.Likely, d.capacity)), By: by},
		calculators.Line{Label: "Nitrite, once mature", Text: shown("mg/L", p.nitrite())},
		d.media.line("Oxygen used in a day", "oxygen-used"))
	nitrate, err := ask(&p.crew.nitrate, p.nitrateArgs(d))
	if err != nil {
		return s, err
	}
	s.Lines = append(s.Lines, nitrate.line("Nitrate in the long run, as NO3", "plateau"))
	if share := nitrate.likely("share-needed"); share > 0 {
		s.Lines = append(s.Lines, nitrate.line("Weekly change that holds 50 mg/L", "share-needed"))
	}
	kh, err := ask(&p.crew.alkalinity, []calculators.Arg{as("from", "feed"), at("feed", p.pond.design.feed, "g/d"), p.percent("protein", "protein"),
		at("volume", p.pond.volume, "L"), at("kh", p.in.In("tap-alkalinity", "mg/L"), "mg/L"), at("tap", p.in.In("tap-alkalinity", "mg/L"), "mg/L"), p.percent("change", "change")})
	if err != nil {
		return s, err
	}
	s.Lines = append(s.Lines, kh.line("The filter lowers KH in a week by", "fall"), kh.line("Bicarbonate a week that holds it", "bicarbonate"))
	if change := p.in.In("change", "%"); change > 0 && p.in.In("chlorine", "mg/L") > 0 {
		chlorine, err := ask(&p.crew.chlorine, []calculators.Arg{at("new-water", p.pond.volume*change/100, "L"), at("pond", p.pond.volume, "L"), at("chlorine", p.in.In("chlorine", "mg/L"), "mg/L")})
		if err != nil {
			return s, err
		}
		s.Lines = append(s.Lines, chlorine.line("Thiosulfate for the new water of a week", "dose"))
	}
	s.Lines = append(s.Lines, grow.line("Grown in, begun in summer, after", "down"), grow.line("Nitrite could peak at", "nitrite-peak"))
	s.Says = []string{
		"Plastic carries bacteria that need oxygen. Porous stone and glass may hold some without; in falling water they take out hardly any nitrate (media-nitrogen-loss-evidence): plan water changes.",
	}
	return s, nil
}

func (p *plan) nitrateArgs(d *design) []calculators.Arg {
	args := []calculators.Arg{at("volume", p.pond.volume, "L"), as("from", "feed"), at("feed", p.pond.design.feed, "g/d"), p.percent("protein", "protein"), at("tap", p.in.In("tap-nitrate", "mg/L"), "mg/L")}
	if change := p.in.In("change", "%"); change >= 1 {
		args = append(args, at("share", change, "%"))
	} else {
		args = append(args, at("share", 1, "%"))
	}
	if p.in.In("tap-nitrate", "mg/L") < 50 {
		args = append(args, at("wanted", 50, "mg/L"))
	}
	return args
}

// settles prints where the ammonia settles, if it does.
func settles(v calculators.Value) string {
	switch {
	case v.Likely >= noEnd:
		return "it cannot carry them"
	case v.High >= noEnd:
		return calculators.Text("{2 mg/L}, from {2 mg/L}; if the film is slow it cannot carry them", v.Likely, v.Low)
	}
	return shown("mg/L", v)
}

// several counts things.
func several(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return quantity.FormatWhole(float64(n)) + " " + more
}

// shown prints a value with its range to two digits.
func shown(code string, v calculators.Value) string {
	if math.IsInf(v.High, 1) {
		return calculators.Text("from {2 "+code+"}; in water so cold nobody can say how high", v.Low)
	}
	return calculators.Text("{2 "+code+"} ({2} to {2 "+code+"})", v.Likely, v.Low, v.High)
}

// stands is weight and stability.
func (d *design) stands(p *plan) calculators.Section {
	kg := func(v float64) string { return calculators.Text("{2 kg}", v) }
	s := calculators.Section{Title: "Weight and standing", Lines: []calculators.Line{
		{Label: "Height", Text: calculators.Text("{3 mm}", d.height)},
		d.load.medium.line("One box of medium, drained", "box-drained"),
		d.load.medium.line("One box of medium, blocked and full", "box-blocked"),
		{Label: "Stack drained", Text: kg(d.load.drained)}, {Label: "Stack running", Text: kg(d.load.running)},
		{Label: "Stack blocked and full, at most", Text: kg(d.load.filledMost)},
		d.ground.line("Pressure on the ground then", "pressure"), d.ground.line("Of what the ground bears", "bearing"),
		d.tipping.line("Hold against the wind, drained (wanted 1.5)", "ratio"), d.tipping.line("Hold against a climbing child", "ratio-child"),
		d.tipping.line("Push at the top that tips it", "tipping-force"), d.tipping.line("Pull that a tie at the top must hold", "tie"),
	}}
	s.Says = []string{"Strap all boxes together and tie the strap near the top to a wall or a driven frame. Full means every hole blocked: build the base for it."}
	if d.load.medium.value("box-drained").High > 20 {
		s.Says = append(s.Says, "A box of wet medium is more than one person should lift: empty it where it stands, or lift with two.")
	}
	return s
}

func (d *design) costs(p *plan) calculators.Section {
	c := &d.cost
	money := func(v float64) string { return calculators.Text("{3}", v) }
	s := calculators.Section{Title: "What it costs", Says: []string{"In your currency, pipes, connectors and straps not counted."}, Lines: []calculators.Line{
		{Label: "Boxes with lids", Text: money(c.boxes)}, {Label: "Medium", Text: money(c.medium)}, {Label: "Foam", Text: money(c.foam)},
		{Label: "Build, in all", Text: money(c.build)},
	}}
	if c.power != nil {
		s.Lines = append(s.Lines, c.power.line("Electricity in a year", "cost-year"))
	}
	s.Lines = append(s.Lines, calculators.Line{Label: "Water in a year", Text: money(c.water)},
		calculators.Line{Label: "Build, for each gram of ammonia a day", Text: money(c.gram)})
	return s
}
