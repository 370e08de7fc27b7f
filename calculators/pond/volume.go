package pond

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Volume declares the calculator of how much water a pond holds.
func Volume() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "pond-volume",
		Inputs:  volumeInputs(),
		Outputs: volumeOutputs(),
		Compute: computeVolume,
	}
	if calculators.Documented {
		c.Title = "How much water the pond holds"
		c.Question = "How many litres are in my pond, and how far off may that be?"
		c.Part = "water"
		c.Formulas = volumeFormulas()
		c.Hazards = []calculators.Hazard{calculators.Drowning, calculators.Chemicals, calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Weigh salt out for the smallest the pond may be, dissolve it, and add it in parts over a day. It harms pond plants, and with zeolite in the filter it drives the ammonia out of it into the water.",
		}
		c.Example = calculators.Example{
			Story: "Ines measures Lower Reach with a tape and a marked pole: upright walls, {length} long, {width} wide, {depth} deep.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "shape", Value: "rectangle"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Water at a depth of {depth}, upright walls and square corners",
			Rows:    calculators.Axis{Input: "length", Values: []string{"2 m", "3 m", "4 m", "5 m", "6 m", "8 m"}},
			Columns: calculators.Axis{Input: "width", Values: []string{"1.5 m", "2 m", "2.5 m", "3 m", "4 m"}},
			Show:    []string{"volume"},
			Given:   []calculators.Arg{{Name: "shape", Value: "rectangle"}, {Name: "depth", Value: "1 m"}},
		}
		c.Chart = calculators.Chart{
			Caption: "The same length and width hold less the more the pond is rounded",
			X:       "depth", From: "0.3 m", To: "2 m",
			Series: calculators.Axis{Input: "shape", Values: []string{"rectangle", "ellipse", "bowl"}},
			Show:   "volume",
			Pond:   "ines",
		}
	}
	return c
}

// The options of the input "shape".
const (
	rectangle        = "rectangle"
	ellipse          = "ellipse"
	circle           = "circle"
	slopingRectangle = "sloping-rectangle"
	slopingEllipse   = "sloping-ellipse"
	stepped          = "stepped"
	bowl             = "bowl"
	saucer           = "saucer"
	stations         = "stations"
	soundings        = "soundings"
	salt             = "salt"
)

func when(shapes ...string) calculators.When { return calculators.When{Input: "shape", Is: shapes} }

func upTo(high float64) calculators.Range {
	return calculators.Range{Low: 0.05, High: high, Origin: "sanity limit"}
}

// fromNothing is for measurements that may be nothing at the pond's ends.
func fromNothing(high float64) calculators.Range {
	return calculators.Range{Low: 0, High: high, Origin: "sanity limit"}
}

// The largest pond the calculator takes, in m.
const (
	longest = 100
	deepest = 10
)

func volumeInputs() []calculators.Input {
	shape := calculators.Input{
		Name: "shape", Label: "Shape, or way of measuring", Type: calculators.Choice, Default: rectangle,
		Help: "Choose the nearest; the last three suit a pond of no regular shape.",
		Options: []calculators.Option{
			{Name: rectangle, Label: "rectangle, upright walls"},
			{Name: ellipse, Label: "oval, upright walls"},
			{Name: circle, Label: "round, upright walls"},
			{Name: slopingRectangle, Label: "rectangle, sloping sides"},
			{Name: slopingEllipse, Label: "oval or round, sloping sides"},
			{Name: stepped, Label: "with shelves, layer by layer"},
			{Name: bowl, Label: "bowl, steep at the rim"},
			{Name: saucer, Label: "round saucer, shallow at the rim"},
			{Name: stations, Label: "sections across the length"},
			{Name: soundings, Label: "known area and many depths"},
			{Name: salt, Label: "by the rise of salt"},
		},
	}
	return append(append([]calculators.Input{shape}, measuredInputs()...), otherInputs()...)
}

func measuredInputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "length", Fact: "pond-length", Label: "Length at the surface", Kind: quantity.Length, Accept: upTo(longest),
			When: when(rectangle, ellipse, slopingRectangle, slopingEllipse, bowl),
			Help: "The longest line from water's edge to water's edge.",
		},
		{
			Name: "width", Fact: "pond-width", Label: "Width at the surface", Kind: quantity.Length, Accept: upTo(longest),
			When: when(rectangle, ellipse, slopingRectangle, slopingEllipse, bowl),
			Help: "The widest line across the length, water's edge to water's edge.",
		},
		{
			Name: "diameter", Label: "Diameter at the surface", Kind: quantity.Length, Accept: upTo(longest), When: when(circle, saucer),
			Help: "The widest line from water's edge to water's edge.",
		},
		{
			Name: "bottom-length", Label: "Length at the bottom", Kind: quantity.Length, Accept: upTo(longest), When: when(slopingRectangle, slopingEllipse),
			Help: "Where the sides meet the floor, in the direction of the length.",
		},
		{
			Name: "bottom-width", Label: "Width at the bottom", Kind: quantity.Length, Accept: upTo(longest), When: when(slopingRectangle, slopingEllipse),
			Help: "Where the sides meet the floor, in the direction of the width.",
		},
		{
			Name: "depth", Fact: "pond-depth", Label: "Depth of water", Kind: quantity.Length, Accept: upTo(deepest),
			When: when(rectangle, ellipse, circle, slopingRectangle, slopingEllipse, bowl, saucer),
			Help: "Water line to floor: half way down a sloping floor, deepest point of a bowl.",
		},
		{
			Name: "layers", Label: "Layers from the top", Type: calculators.Rows, When: when(stepped),
			Help:    "A row for each level of the floor: length, width, and depth below the water line.",
			Columns: layerColumns(),
		},
		{
			Name: "sections", Label: "Sections from one end to the other", Type: calculators.Rows, When: when(stations),
			Help:    "A row for each place; equal steps serve best.",
			Columns: sectionColumns(),
		},
		{
			Name: "area", Fact: "surface", Label: "Area of the surface", Kind: quantity.Area, When: when(soundings),
			Accept: calculators.Range{Low: 0.1, High: longest * longest, Origin: "sanity limit"},
			Help:   "From a plan on squared paper, or the lines of a builder.",
		},
		{
			Name: "depths", Label: "Depths, evenly spread", Type: calculators.Rows, When: when(soundings),
			Help:    "Depths on an even grid over the whole surface, shallow parts too; four or more.",
			Columns: []calculators.Input{{Name: "depth", Label: "Depth", Kind: quantity.Length, Accept: fromNothing(deepest), Help: "Water line to floor."}},
		},
	}
}

func layerColumns() []calculators.Input {
	return []calculators.Input{
		{Name: "length", Label: "Length", Kind: quantity.Length, Accept: upTo(longest), Help: "Of the open water down to this level."},
		{Name: "width", Label: "Width", Kind: quantity.Length, Accept: upTo(longest), Help: "Of the open water down to this level."},
		{Name: "floor", Label: "Floor below the water line", Kind: quantity.Length, Accept: upTo(deepest), Help: "From the water line to the shelf or floor on which this layer stands."},
		{Name: "outline", Label: "Outline", Type: calculators.Choice, Default: rectangle, Help: "Seen from above.",
			Options: []calculators.Option{{Name: rectangle, Label: "rectangle"}, {Name: ellipse, Label: "oval or round"}}},
	}
}

func sectionColumns() []calculators.Input {
	return []calculators.Input{
		{Name: "from-end", Label: "Distance from the end", Kind: quantity.Length, Accept: fromNothing(longest), Help: "Along the length; nothing in the first row."},
		{Name: "width", Label: "Width of the water", Kind: quantity.Length, Accept: fromNothing(longest), Help: "Across the length; nothing where the pond runs out to a point."},
		{Name: "depth", Label: "Mean depth", Kind: quantity.Length, Accept: fromNothing(deepest), Help: "Mean of a few depths across."},
	}
}

func otherInputs() []calculators.Input {
	salinity := func(low, high float64) calculators.Range {
		return calculators.Range{Low: low, High: high, Origin: "sanity limit"}
	}
	beforeSalting, afterSalting := salinity(0, 40), salinity(0, 40)
	beforeSalting.HighRefused, afterSalting.LowRefused = "salt must raise the reading", "salt must raise the reading"
	everyShape := when(rectangle, ellipse, circle, slopingRectangle, slopingEllipse, stepped, bowl, saucer, stations, soundings)
	return []calculators.Input{
		{
			Name: "salt", Label: "Salt added", Kind: quantity.Mass, When: when(salt),
			Accept: calculators.Range{Low: 0.01, High: 1000, Origin: "sanity limit"},
			Help:   calculators.Text("Pure salt without additives, weighed; {mass kg} in each {volume L} raises it by {salt g/L}.", 1, 1000, 1),
		},
		{
			Name: "before", Label: "Salt content before", Kind: quantity.Concentration, Unit: "g/L", When: when(salt), Accept: beforeSalting,
			Help: calculators.Text("Meter reading before adding it; {salt g/L} is {share %}.", 1, 0.1),
		},
		{
			Name: "after", Label: "Salt content after", Kind: quantity.Concentration, Unit: "g/L", When: when(salt), Accept: afterSalting,
			Help: "Same meter, same water temperature, a day later with the pump running, at several places.",
		},
		{
			Name: "meter-error", Label: "Error of one meter reading", Kind: quantity.Concentration, Fine: true, Unit: "g/L", When: when(salt), Accept: salinity(0, 5), Default: "0.05 g/L",
			Help: "From the meter's leaflet; half of the last digit at the least.",
		},
		{
			Name: "measuring-error", Label: "Error of one measurement", Kind: quantity.Length, Fine: true, Unit: "cm", When: everyShape, Default: "5 cm",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"},
			Help:   calculators.Text("How far off tape or pole may be, as walls bulge; {usual cm} is common practice.", 5),
		},
		{
			Name: "dosed-for", Label: "Water you dosed a treatment for", Kind: quantity.Volume, Optional: true, Fine: true,
			Accept: calculators.Range{Low: 1, High: 1e7, Origin: "sanity limit"},
			Help:   "To see how strong it really became, once the volume is known better.",
		},
		{
			Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Fine: true, Default: "20 Cel",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"},
			Help:   "Only for the weight, which it moves by less than one part in a hundred.",
		},
	}
}

func volumeOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "volume", Label: "Water in the pond", Unit: "L", Digits: 3, Also: []string{"m3", "[gal_br]", "[gal_us]"}, Help: "Water in filters and pipes comes on top."},
		{Name: "surface", Label: "Surface", Unit: "m2", Digits: 3, Also: []string{"[ft_i]2"}},
		{Name: "mean-depth", Label: "Mean depth", Unit: "m", Digits: 3, Also: []string{"[ft_i]"}},
		{Name: "strength", Label: "True strength of the treatment, of what you meant", Unit: "%", Digits: 2, Help: "The water dosed for, over the water there is."},
		{Name: "too-much", Label: "Water to change to bring it down to what you meant", Unit: "%", Digits: 2, Help: "For a treatment that neither breaks down nor is bound; never more than half at a time."},
		{Name: "weight", Label: "Weight of the water", Unit: "kg", Digits: 3, Also: []string{"t", "[lb_av]"}, Help: "Before you put it on a deck or a roof, ask a structural engineer."},
	}
}

func volumeFormulas() []calculators.Formula {
	const mensuration = "section 3, mensuration formulas"
	return []calculators.Formula{
		{Name: "Upright walls", Says: "Outline times depth, for a rectangle.", TeX: `V = l\,w\,d`,
			Source: "ics-pocketbook", Locator: "mensuration, prism", Basis: "published", Function: "pond.RectanglePrism",
			Check: calculators.Explicit("V [m3]: l [m] 1..30, w [m] 0.5..20, d [m] 0.3..4", RectanglePrism)},
		{Name: "Area of an oval", Says: "Also of a circle, with length and width equal.", TeX: `A = \frac{\pi}{4}\,l\,w`,
			Source: "perry-2008", Locator: mensuration, Basis: "memory", Function: "pond.EllipseArea",
			Check: calculators.Explicit("A [m2] area of the oval: l [m] 1..30, w [m] 0.5..20", EllipseArea)},
		{Name: "Prismoidal rule", Says: "From the areas at the top, half way down and at the bottom; exact where length and width change evenly with depth.",
			TeX: `V = \frac{d}{6}\left(A_1 + 4A_m + A_2\right)`, Source: "ics-pocketbook", Locator: "mensuration, prismoid", Basis: "published", Function: "pond.Prismoid",
			Check: calculators.Explicit("V [m3]: d [m] 0.3..4, A_1 [m2] area at the top 5..300, A_m [m2] area half way down 4..200, A_2 [m2] area at the bottom 0..100", Prismoid)},
		{Name: "Half ellipsoid", Says: "A bowl, steep at the rim: two thirds of surface times depth.", TeX: `V = \frac{2}{3}\cdot\frac{\pi}{4}\,l\,w\,d`,
			Source: "perry-2008", Locator: mensuration, Basis: "memory", Function: "pond.HalfEllipsoid",
			Check: calculators.Explicit("V [m3]: l [m] 1..30, w [m] 0.5..20, d [m] 0.3..4", HalfEllipsoid)},
		{Name: "Cap of a sphere", Says: "A round saucer of radius a at the surface, no deeper than that radius.", TeX: `V = \frac{\pi d\,(3a^2 + d^2)}{6}`,
			Source: "perry-2008", Locator: mensuration, Basis: "memory", Function: "pond.SphericalCap",
			Check: calculators.Explicit("V [m3]: a [m] radius of the surface 4..10, d [m] 0.3..4", SphericalCap)},
		{Name: "Simpson's rule", Says: "Sections at equal steps s, an even number of steps.", TeX: `V = \frac{s}{3}\left(A_0 + 4\sum_{i=1}^{n/2} A_{2i-1} + 2\sum_{i=1}^{n/2-1} A_{2i} + A_n\right)`,
			Source: "derrett-barrass-2006", Locator: "chapter 10, Simpson's first rule", Basis: "published", Function: "pond.Simpson",
			Check: calculators.Explicit("V [m3], n [1] number of steps: A_i [m2] area of section i 1..20, s [m] distance between sections 0.5..3", func(areas []float64, step float64) (float64, int) {
				return Simpson(areas, step), len(areas) - 1
			})},
		{Name: "Simpson's second rule", Says: "For the last three steps where their number is odd.", TeX: `V = \frac{3s}{8}\left(A_0 + 3A_1 + 3A_2 + A_3\right)`,
			Source: "derrett-barrass-2006", Locator: "chapter 10, Simpson's second rule", Basis: "published", Function: "pond.Simpson",
			Check: calculators.Explicit("V [m3]: s [m] distance between sections 0.5..3, A_0 [m2] area of the first of four sections 1..20, A_1 [m2] area of the second 1..20, A_2 [m2] area of the third 1..20, A_3 [m2] area of the last 1..20", func(step, a, b, c, d float64) float64 {
				return Simpson([]float64{a, b, c, d}, step)
			})},
		{Name: "Average end areas", Says: "Sections at any steps.", TeX: `V = \sum_{i=0}^{n-1} \frac{A_i + A_{i+1}}{2}\,(x_{i+1} - x_i)`,
			Source: "perry-2008", Locator: "section 3, irregular areas and volumes", Basis: "memory", Function: "pond.Trapezoid",
			Check: calculators.Explicit("V [m3], n [1] number of steps: x_i [m] where section i stands 0..20, A_i [m2] area of section i 1..20", func(at, areas []float64) (float64, int) {
				return Trapezoid(at, areas), len(areas) - 1
			})},
		{Name: "Salt balance", Says: "Mass of salt over the rise of the salt content.", TeX: `V = \frac{m}{S_2 - S_1}`,
			Source: "kangei-club-2012", Locator: "1 kg in 1,000 L is a rise of 0.1 %", Basis: "published", Function: "pond.SaltVolume",
			Check: calculators.Explicit("V [m3]: m [kg] mass of salt 1..50, S_1 [g/L] 0..2, S_2 [g/L] 2.5..6", SaltVolume)},
		{Name: "True strength", Says: "Of a dose for the volume V_d in a pond of the volume V.",
			TeX:   `s = \frac{V_d}{V}`,
			Basis: "practice", Function: "pond.TrueStrength",
			Check: calculators.Explicit("s [1] share of the strength meant: V_d [m3] water dosed for 1..50, V [m3] 1..50", TrueStrength)},
		{Name: "Density of water", Says: "Recommended for pure water, stated for 0 to 40 °C.",
			TeX:    `\rho = 999.974950\left(1 - \frac{(t - 3.983035)^2\,(t + 301.797)}{522528.9\,(t + 69.34881)}\right)`,
			Source: "tanaka-2001", Locator: "equation 1 and table 1", Basis: "published", Function: "pond.Density",
			Check: calculators.Explicit("ρ [kg/m3]: t [Cel] 0..40", Density)},
	}
}
