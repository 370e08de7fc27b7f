package tower

import (
	"mereleaf/calculators"
	"mereleaf/calculators/drawing"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/quantity"
)

// draw adds the stack from the side, and a floor from above.
func (d *design) draw(p *plan, s *sheet) {
	s.open("The stack from the side")
	e := d.elevation(p)
	s.last().Drawing = e.SVG()
	s.open("A drilled floor or lid")
	floor := plumbing.Drilled(p.mm("box-length")/1000, p.mm("box-width")/1000, margin/1000, d.drill/1000, d.tray.likely("holes"), true)
	s.last().Drawing = floor.SVG()
	s.last().Lines = []calculators.Line{{Label: "Template at true size, for A4 or Letter", Text: "open it to print", By: calculators.Call{Name: "drill-template", Args: d.template(p)}}}
}

// template is what the drilling template is asked.
func (d *design) template(p *plan) []calculators.Arg {
	var a answer
	a.put("length={~5 mm}\nwidth={~5 mm}\nmargin={0 mm}\ncount={0}\nhole={~4 mm}", p.mm("box-length"), p.mm("box-width"), margin, d.tray.likely("holes"), d.drill)
	return a.args
}

func (d *design) elevation(p *plan) *drawing.Elevation {
	e := &drawing.Elevation{
		Title:     calculators.Text("The stack from the side: {boxes 0|box|boxes}, with the water that stands in them", float64(d.boxes)),
		BoxLength: p.mm("box-length"), BoxHeight: p.mm("box-height"), Wall: p.mm("wall"), LidThickness: p.mm("wall"), LidRecess: p.mm("recess"),
		Pond: -1000 * p.in.In("foot", "m"), Inlet: drawing.Pipe{Bore: p.mm("bore"), Label: calculators.Text("inlet, {bore ~3 mm} bore", p.mm("bore"))}, Hose: d.bar.by == nil,
		Blocked: "with a third of the holes blocked",
	}
	tray := drawing.Tray{Holes: int(d.tray.likely("holes")), Clean: d.tray.likely("head-clean"), Blocked: d.tray.likely("head-blocked")}
	add := func(kind drawing.Kind, label string, fill float64) {
		t := drawing.Tier{Kind: kind, Label: label, Fill: fill, Floor: tray}
		if len(e.Tiers) > 0 {
			t.Lid = tray
		}
		e.Tiers = append(e.Tiers, t)
	}
	if d.compact {
		add(drawing.Media, quantity.Put("foam over {medium}", "medium", d.name), d.fill)
	} else {
		n := d.foamBoxes(p)
		fill := d.grades(p) * p.mm("foam-thickness") / float64(n)
		for i := range n {
			add(drawing.Kind(i), foamWords(d.grades(p)), fill)
			if n == 1 {
				e.Tiers[0].Grades = int(d.grades(p))
			}
		}
		for range d.tiers {
			add(drawing.Media, d.name, d.fill)
		}
	}
	if !d.open {
		e.Tiers = append(e.Tiers, drawing.Tier{Kind: drawing.Collector, Label: "collector", Lid: tray, Floor: drawing.Tray{Clean: d.load.bottom * 1e6 / p.mm("box-length") / p.mm("box-width")}, Overflow: p.mm("box-height") - freeboard})
		e.Collector = drawing.Pipe{Bore: p.mm("outlet-bore"), Label: "collector"}
		e.Outlet = drawing.Pipe{Bore: p.mm("outlet-bore"), Label: calculators.Text("{outlets 0|outlet|outlets}, {bore ~3 mm} bore", float64(d.outlets), p.mm("outlet-bore"))}
	}
	return e
}
