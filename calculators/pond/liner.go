package pond

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// LinerSide returns the length of one side of a rectangular liner, all in one
// unit: the pond's side, twice its depth, and twice the overlap. It is for
// upright walls; sloping or shelved ones need less. Source: hobby-magazine-liner,
// worked example.
func LinerSide(side, depth, overlap float64) float64 { return side + 2*depth + 2*overlap }

// LinerMass returns the mass in kg of a sheet of an area in m2, a thickness in mm
// and a density in kg/m3.
func LinerMass(area, thickness, density float64) float64 { return area * thickness / 1000 * density }

// linerDensity returns the range of the density of a liner's material in kg/m3:
// common practice.
func linerDensity(material string) (low, likely, high float64) {
	switch material {
	case "pvc":
		return 1200, 1280, 1350
	case "polyethylene":
		return 910, 940, 960
	}
	return 1100, 1180, 1250 // rubber
}

// Liner declares the calculator of the size and weight of a liner.
func Liner() calculators.Calculator {
	c := calculators.Calculator{
		ID: "liner",
		Inputs: []calculators.Input{
			{Name: "length", Fact: "pond-length", Label: "Length of the pond", Kind: quantity.Length, Help: "Longest line, water's edge to water's edge.",
				Accept: calculators.Range{Low: 0.1, High: longest, Origin: "sanity limit"}},
			{Name: "width", Fact: "pond-width", Label: "Width of the pond", Kind: quantity.Length, Help: "Widest line across it.",
				Accept: calculators.Range{Low: 0.1, High: longest, Origin: "sanity limit"}},
			{Name: "depth", Label: "Greatest depth", Kind: quantity.Length, Help: "From the rim, not from the water line.",
				Accept: calculators.Range{Low: 0.1, High: deepest, Origin: "sanity limit"}},
			{Name: "overlap", Label: "Overlap on each side", Kind: quantity.Length, Default: "0.3 m", Help: calculators.Text("What lies on the bank; {usual m} is common practice, more under stones.", 0.3),
				Accept: calculators.Range{Low: 0, High: 3, Origin: "sanity limit"}},
			{Name: "material", Label: "Material", Type: calculators.Choice, Default: "rubber", Help: "Fish-safe grades only: the label says so.",
				Options: []calculators.Option{{Name: "rubber", Label: "rubber"}, {Name: "pvc", Label: "PVC"}, {Name: "polyethylene", Label: "polyethylene"}}},
			{Name: "thickness", Label: "Thickness", Kind: quantity.Size, Default: "1 mm", Help: calculators.Text("As sold; {rubber mm} is usual for rubber, half of it for PVC (common practice).", 1),
				Accept: calculators.Range{Low: 0.1, High: 5, Origin: "sanity limit"}},
		},
		Outputs: []calculators.Output{
			{Name: "length", Label: "Length of the liner", Unit: "m", Digits: 3, Also: []string{"[ft_i]"}},
			{Name: "width", Label: "Width of the liner", Unit: "m", Digits: 3, Also: []string{"[ft_i]"}},
			{Name: "area", Label: "Area, of the underlay too", Unit: "m2", Digits: 2, Also: []string{"[ft_i]2"}},
			{Name: "weight", Label: "Weight of the liner", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "Dry and without underlay."},
		},
		Compute: computeLiner,
	}
	if calculators.Documented {
		c.Title = "Liner size and weight"
		c.Question = "How large a sheet do I buy, and can I carry it?"
		c.Part = "water"
		c.Formulas = []calculators.Formula{
			{Name: "Side of the liner", Says: "Pond, twice the depth, twice the overlap; for upright walls, which need the most.", TeX: `L = l + 2d + 2o`,
				Source: "hobby-magazine-liner", Locator: "worked example", Basis: "published", Function: "pond.LinerSide",
				Check: calculators.Explicit("L [m] side of the liner: l [m] length or width of the pond 1..30, d [m] 0.3..4, o [m] overlap at the edge 0..1", LinerSide)},
			{Name: "Weight", Says: "Area, thickness and density; the densities are common practice.", TeX: `m = \frac{A\,s\,\rho}{1000}`, Basis: "practice", Function: "pond.LinerMass",
				Check: calculators.Explicit("m [kg] mass of the liner: A [m2] area of the liner 5..300, s [mm] thickness of the liner 0.5..1.5, ρ [kg/m3] density of the liner 900..1400", LinerMass)},
		}
		c.Hazards = []calculators.Hazard{calculators.Drowning, calculators.Lifting, calculators.Digging}
		c.Cautions = []string{
			calculators.Text("Get help with the lift from {solo kg}, and from less if you bend, twist or carry it far.", limits.LiftAlone),
			"Take liner sold as safe for fish: roofing sheet may hold poison.",
		}
		c.Example = calculators.Example{
			Story: "Ines relines Lower Reach: {length} by {width}, {depth} from rim to floor, {overlap} on the bank, rubber of {thickness}.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "depth", Value: "1.25 m"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Length of the liner, {overlap} overlap; the same table serves for the width",
			Rows:    calculators.Axis{Input: "length", Values: []string{"1 m", "2 m", "3 m", "4 m", "5 m", "6 m", "8 m"}},
			Columns: calculators.Axis{Input: "depth", Values: []string{"0.5 m", "0.75 m", "1 m", "1.25 m", "1.5 m"}},
			Show:    []string{"length"},
			Given:   []calculators.Arg{{Name: "width", Value: "2 m"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Weight of a liner of {thickness} for a pond {width} wide",
			X:       "length", From: "2 m", To: "8 m",
			Series: calculators.Axis{Input: "depth", Values: []string{"0.8 m", "1.2 m", "1.6 m"}},
			Show:   "weight",
			Given:  []calculators.Arg{{Name: "width", Value: "2.5 m"}},
		}
	}
	return c
}

func computeLiner(in calculators.Inputs) (calculators.Result, error) {
	depth, overlap := in.In("depth", "m"), in.In("overlap", "m")
	length, width := LinerSide(in.In("length", "m"), depth, overlap), LinerSide(in.In("width", "m"), depth, overlap)
	low, likely, high := linerDensity(in.Choice("material"))
	thickness := in.In("thickness", "mm")
	area := length * width
	var r calculators.Result
	r.Exactly("length", length)
	r.Exactly("width", width)
	r.Exactly("area", area)
	r.Between("weight", LinerMass(area, thickness, low), LinerMass(area, thickness, likely), LinerMass(area, thickness, high))
	r.Step("Length", "{~3 m} + 2 × {~3 m} + 2 × {~3 m} = {~4 m}", in.In("length", "m"), depth, overlap, length)
	r.Step("Width", "{~3 m} + 2 × {~3 m} + 2 × {~3 m} = {~4 m}", in.In("width", "m"), depth, overlap, width)
	r.Step("Weight", "{3 m2} × {~3 mm} × {0 kg/m3} = {2 kg}", area, thickness, likely, LinerMass(area, thickness, likely))
	r.Advise(
		"Lay a rope through the hole, rim to rim over every shelf, along and across, before you buy: the rope decides.",
		"Round up to the next size sold. A sheet that is short is lost; a strip too much is not.",
	)
	if LinerMass(area, thickness, high) > limits.LiftAlone {
		r.Advise("Too heavy to carry alone: roll it up from both ends and carry it with others.")
	}
	if overlap < leastOverlap {
		r.Doubt("Under {least cm} of overlap leaves nothing for a bank that settles.", 100*leastOverlap)
	}
	return r, nil
}

// leastOverlap is the overlap in m below which a bank that settles bares the pond:
// common practice.
const leastOverlap = 0.15
