package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/drawing"
	"mereleaf/calculators/quantity"
)

// leastWeb is the least floor in mm left beside a hole, which else tears out
// when it is drilled; between holes as much as a hole is wide. Common practice.
const leastWeb = 3

// DrillTemplate declares the calculator that lays out the holes of a tray and
// prints them in true size.
func DrillTemplate() calculators.Calculator {
	c := calculators.Calculator{
		ID: "drill-template",
		Inputs: []calculators.Input{
			{Name: "length", Fact: "box-length", Label: "Length of the floor inside", Kind: quantity.Size, Accept: calculators.Range{Low: 20, High: 1500, Origin: "sanity limit"},
				Help: "Measured on the floor, not at the rim: boxes taper."},
			{Name: "width", Fact: "box-width", Label: "Width of the floor inside", Kind: quantity.Size, Accept: calculators.Range{Low: 20, High: 1500, Origin: "sanity limit"},
				Help: "Measured on the floor, across the length."},
			{Name: "margin", Label: "Kept free along the walls", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit", LowRefused: "the outermost holes would stand in the wall; the refusal says how much to keep free"}, Default: "20 mm",
				Help: "From the wall to the middle of the outermost holes; a floor cracks easily near the wall."},
			{Name: "count", Label: "Holes", Kind: quantity.Count, Accept: calculators.Range{Low: 2, High: 2000, Origin: "sanity limit"},
				Help: "The calculator of holes in a tray finds how many the water needs."},
			{Name: "drill", Label: "Drill", Type: calculators.Choice, Default: "own-size", Options: drillOptions(),
				Help: "The bit you have; for any other hole choose own size."},
			{Name: "hole", Label: "Hole diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 1, High: 100, Origin: "sanity limit"}, Default: "8 mm",
				When: calculators.When{Input: "drill", Is: []string{"own-size"}},
				Help: "The size stamped on the bit."},
			{Name: "pattern", Label: "Pattern", Type: calculators.Choice, Default: "staggered",
				Options: []calculators.Option{{Name: "staggered", Label: "staggered rows"}, {Name: "square", Label: "square"}},
				Help:    "Staggered rows spread the water best."},
			{Name: "paper", Label: "Paper", Type: calculators.Choice, Default: "a4",
				Options: []calculators.Option{{Name: "a4", Label: "A4"}, {Name: "letter", Label: "Letter"}},
				Help:    "What is in the printer."},
			{Name: "marked", Label: "Marked from", Type: calculators.Choice, Default: "above",
				Options: []calculators.Option{{Name: "above", Label: "above, inside the box"}, {Name: "below", Label: "below: the template is mirrored"}},
				Help:    "Turn a box or lid over to mark it where it is flat."},
		},
		Outputs: []calculators.Output{
			{Name: "pitch", Label: "From hole to hole", Unit: "mm", Digits: 3, Also: []string{"[in_i]"}, Help: "Middle to middle of the nearest two; at least the pitch that the calculator of holes in a tray finds, for the rows are spread until they reach the margin."},
			{Name: "sheets", Label: "Sheets of paper", Unit: "1", Digits: 2, Whole: true},
			{Name: "web", Label: "Floor left between two holes", Unit: "mm", Digits: 2},
			{Name: "edge", Label: "Floor left between hole and wall", Unit: "mm", Digits: 2},
			{Name: "along", Label: "Along a row", Unit: "mm", Digits: 3, Help: "Middle to middle."},
			{Name: "apart", Label: "From row to row", Unit: "mm", Digits: 3},
		},
		Compute: computeTemplate,
	}
	if calculators.Documented {
		c.Title = "Drilling template for a tray"
		c.Question = "Where does each hole go, and can I print that in true size?"
		c.Part = "filtration"
		c.Formulas = []calculators.Formula{
			{Name: "Square pattern", Says: "The holes that a floor of length L and width W inside its margin has room for at the pitch p.",
				TeX: `n = \left(\left\lfloor\frac{L}{p}\right\rfloor + 1\right)\left(\left\lfloor\frac{W}{p}\right\rfloor + 1\right)`, Basis: "practice", Function: "plumbing.LayOut",
				Check: calculators.Explicit("n [1] number of holes: L [mm] length of the floor inside its margin 100..600, W [mm] width of the floor inside its margin 100..400, p [mm] 15..90", func(length, width, pitch float64) float64 { return Floor{length, width}.SquareCount(pitch) })},
			{Name: "Staggered pattern", Says: "The rows that a width W has room for: closer than the pitch, each second one moved by half of it, so that any three neighbours stand equally far apart.",
				TeX: `r = \left\lfloor \frac{W}{\frac{\sqrt{3}}{2}\,p} \right\rfloor + 1`, Basis: "practice", Function: "plumbing.LayOut",
				Check: calculators.Explicit("r [1] number of rows: W [mm] width of the floor inside its margin 100..400, p [mm] 15..90", func(width, pitch float64) float64 {
					return Floor{pitch / 2, width}.StaggeredCount(pitch) // so narrow that every row has one hole
				})},
		}
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Tools}
		c.Cautions = []string{
			"Let a step drill or a brad-point bit turn slowly: polypropylene and polyethylene grab a twist bit, and cold or brittle boxes crack. The instructions of the drill and of the box come first.",
			"Swarf is sharp: take the burr off every hole, then rinse box and lid far from the pond, so that no chip gets into the pump, the media or a fish.",
		}
		c.Example = calculators.Example{
			Story: "Ines drills the floors of her boxes, {length} by {width} inside, with a brad-point bit of {hole}: {count} holes pass the water of her stack. She marks them from above.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Staggered holes of {hole} on a floor of {length} by {width}",
			Rows:    calculators.Axis{Input: "count", Values: []string{"20", "30", "40", "50", "60", "80", "100"}},
			Show:    []string{"pitch", "along", "apart", "web"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "From hole to hole by the count, on a floor of {length} by {width}",
			X:       "count", From: "20", To: "120",
			Series: calculators.Axis{Input: "pattern", Values: []string{"staggered", "square"}},
			Show:   "pitch",
			Pond:   "ines",
		}
	}
	return c
}

// drilling is a checked set of inputs in mm.
type drilling struct {
	length, width, margin, hole, count float64
	staggered                          bool
	pattern                            Pattern // in m
}

func (d *drilling) inside() Floor {
	return Floor{(d.length - 2*d.margin) / 1000, (d.width - 2*d.margin) / 1000}
}

func computeTemplate(in calculators.Inputs) (calculators.Result, error) {
	d := &drilling{
		length: in.In("length", "mm"), width: in.In("width", "mm"), margin: in.In("margin", "mm"), hole: holeDiameter(in),
		count: math.Round(in.In("count", "1")), staggered: in.Choice("pattern") == "staggered",
	}
	if err := d.check(); err != nil {
		return calculators.Result{}, err
	}
	plan := Drilled(d.length/1000, d.width/1000, d.margin/1000, d.hole/1000, d.count, d.staggered)
	template := drawing.Template{Floor: plan, Mirrored: in.Choice("marked") == "below"}
	if in.Choice("paper") == "letter" {
		template.Paper = drawing.Letter
	}
	rows, columns := template.Sheets()
	var r calculators.Result
	nearest := 1000 * d.pattern.Nearest
	r.Exactly("pitch", nearest)
	r.Exactly("sheets", float64(rows*columns))
	r.Exactly("web", nearest-d.hole)
	r.Exactly("edge", d.margin-d.hole/2)
	if plan.Along > 0 {
		r.Exactly("along", plan.Along)
	}
	if plan.Apart > 0 {
		r.Exactly("apart", plan.Apart)
	}
	r.Say("Print at {scale %}, without fitting to the page, and measure the bar of {bar mm} on every sheet before you drill.", drawing.TrueSize, drawing.CheckBar)
	r.Advise("Lay the outline on the floor of the box: if it does not fit, measure the floor again.")
	r.Step("Length inside the margin", "{3 mm} − 2 × {3 mm} = {3 mm}", d.length, d.margin, d.length-2*d.margin)
	r.Step("Width inside the margin", "{3 mm} − 2 × {3 mm} = {3 mm}", d.width, d.margin, d.width-2*d.margin)
	r.Step("Holes, in {rows 0|row|rows}", "{0}", float64(d.pattern.rows), d.count)
	r.Step("Left between two holes", "{3 mm} − {3 mm} = {2 mm}", nearest, d.hole, nearest-d.hole)
	r.Step("Sheets, which overlap", "{0} × {0} = {0}", float64(rows), float64(columns), float64(rows*columns))
	r.Sheet = []calculators.Section{
		{Title: "Plan of the floor", Drawing: plan.SVG()},
		{Title: "Template", Prints: template.Tiles(), Hazards: calculators.Hazards(calculators.Electricity + ", " + calculators.Tools), Steps: []string{
			calculators.Text("Print this leaf at {scale %}: the sheets are its last pages, and may be printed alone.", drawing.TrueSize),
			calculators.Text("Measure the bar on each sheet. If it is not {bar mm} long, print again.", drawing.CheckBar),
			"Cut along the dashed lines and lay sheet upon sheet so that the diamonds meet; tape them.",
			"Tape the template to the floor, outline to walls. Mark each middle with an awl through the paper.",
			"Drill one hole, and look whether the floor cracks, before you drill the others.",
		}},
	}
	return r, nil
}

// check lays out the pattern and refuses one that leaves too little floor.
func (d *drilling) check() error {
	inside := d.inside()
	if inside.Length <= 0 || inside.Width <= 0 {
		return calculators.Refuse("margin", "leaves no floor to drill",
			"less than half the shorter side, {half 3 mm}", "check length and width, or keep less free", math.Min(d.length, d.width)/2)
	}
	if d.margin < d.hole/2+leastWeb {
		return calculators.Refuse("margin", "puts the outermost holes into the wall, or less than {web mm} from it",
			"at least {least 3 mm} for these holes", "keep more free, or take a smaller drill", leastWeb, d.hole/2+leastWeb)
	}
	d.pattern = LayOut(inside, d.count, d.staggered)
	least := (d.hole + math.Max(d.hole, leastWeb)) / 1000 * (1 - 1e-9) // forgiving the last bits, as steps does
	if d.pattern.Nearest >= least {
		return nil
	}
	fits := inside.most(least, d.staggered)
	if fits < 2 {
		return calculators.Refuse("hole", "is too large for two holes on this floor", "", "take a smaller drill, or check length, width and margin")
	}
	return calculators.Refuse("count", "leaves {web 2 mm} of floor between holes of {hole 3 mm}, which tears out",
		"at most {most 0} holes of this size", "take fewer or smaller holes, or keep less free along the walls", 1000*d.pattern.Nearest-d.hole, d.hole, fits)
}

// most is how many holes a pattern holds of which no two are nearer than least.
func (f Floor) most(least float64, staggered bool) float64 {
	if !staggered {
		return f.SquareCount(least)
	}
	// Spread until the rows reach the edges, a few more may fit.
	count := f.StaggeredCount(least)
	for LayOut(f, count+1, true).Nearest >= least {
		count++
	}
	return count
}
