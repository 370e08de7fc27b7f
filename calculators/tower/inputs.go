package tower

import (
	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/media"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/stack"
)

// borrow returns an input as another calculator declares it, under a name of
// the tower's.
func borrow(from []calculators.Input, name, as string) calculators.Input {
	for _, in := range from {
		if in.Name == name {
			in.Name, in.When = as, calculators.When{}
			return in
		}
	}
	panic("tower: no input " + name + " to borrow")
}

func inputs() []calculators.Input {
	var all []calculators.Input
	for _, group := range [][]calculators.Input{pondInputs(), fishInputs(), boxInputs(), pumpInputs(), siteInputs()} {
		all = append(all, group...)
	}
	return all
}

func pondInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "pond", Label: "Pond", Type: calculators.Choice, Default: "volume",
			Options: []calculators.Option{{Name: "volume", Label: "I know how much water it holds"}, {Name: "rectangle", Label: "upright walls, square corners"}, {Name: "ellipse", Label: "upright walls, oval"}},
			Help:    "For any other shape ask the pond volume calculator first."},
		{Name: "volume", Label: "Water in the pond", Kind: quantity.Volume, Accept: calculators.Range{Low: 200, High: 500000, Origin: "sanity limit"}, Default: "9100 L",
			When: calculators.When{Input: "pond", Is: []string{"volume"}}, Help: "Measured when it was filled, or by salt, is better than by tape."},
		{Name: "length", Label: "Length of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"}, Default: "3.6 m",
			When: calculators.When{Input: "pond", Is: []string{"rectangle", "ellipse"}}, Help: "At the water line."},
		{Name: "width", Label: "Width of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"}, Default: "2.2 m",
			When: calculators.When{Input: "pond", Is: []string{"rectangle", "ellipse"}}, Help: "At the water line."},
		{Name: "depth", Label: "Depth of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.2, High: 10, Origin: "sanity limit"}, Default: "1.15 m",
			When: calculators.When{Input: "pond", Is: []string{"rectangle", "ellipse"}}, Help: "From the water line to the floor."},
		{Name: "summer", Label: "Water in summer", Kind: quantity.Temperature, Accept: calculators.Range{Low: 5, High: 35, Origin: "sanity limit"}, Default: "21 Cel",
			Help: "Of the weeks in which you feed most."},
		{Name: "winter", Label: "Water in winter", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"}, Default: "4 Cel",
			Help: "The coldest weeks."},
		{Name: "altitude", Label: "Altitude", Kind: quantity.Length, Fine: true, Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"}, Default: "0 m",
			Help: "High up, water holds less oxygen."},
		{Name: "ph", Label: "pH of the pond", Kind: quantity.PH, Fine: true, Accept: calculators.Range{Low: 6, High: 10, Origin: "sanity limit"}, Default: "8.2 [pH]",
			Help: "In the afternoon, when it is highest."},
		{Name: "tap-alkalinity", Label: "KH of the tap water, as CaCO₃", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "90 mg/L",
			Help: "The supplier's report has it."},
		{Name: "tap-nitrate", Label: "Nitrate in the tap water, as NO3", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"}, Default: "15 mg/L",
			Help: "The supplier's report has it."},
		{Name: "chlorine", Label: "Chlorine in the tap water", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}, Default: "1 mg/L",
			Help: "Free and combined together; ask the supplier."},
		{Name: "change", Label: "Water changed in a week", Kind: quantity.Share, Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}, Default: "20 %",
			Help: "Of the pond; 0 if none."},
	}
}

func fishInputs() []calculators.Input {
	now := borrow(fish.Weight().Inputs, "fish", "fish")
	now.Default = "koi, 30 cm, 20"
	grown := borrow(fish.Weight().Inputs, "fish", "grown")
	grown.Label, grown.Optional, grown.Fine = "Your fish when grown", true, true
	grown.Help = "Leave it empty to let the growth calculator reckon three years ahead."
	return []calculators.Input{
		now, grown,
		{Name: "size-for", Label: "Build for", Type: calculators.Choice, Default: "now",
			Options: []calculators.Option{{Name: "now", Label: "the fish of today"}, {Name: "grown", Label: "the fish when grown"}},
			Help:    "Fish treble their weight in a few years; a second stack can come later."},
		{Name: "feed", Label: "Feed on a warm day", Kind: quantity.MassRate, Fine: true, Optional: true, Accept: calculators.Range{Low: 1, High: 20000, Origin: "sanity limit"},
			Help: "If you weigh it; otherwise it is reckoned from the fish."},
		{Name: "protein", Label: "Protein in the feed", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 5, High: 70, Origin: "sanity limit"}, Default: "36 %",
			Help: "Printed on the bag."},
		{Name: "target", Label: "Total ammonia wanted, as nitrogen", Kind: quantity.Concentration, Accept: calculators.Range{Low: 0.08, High: 5, Origin: "sanity limit"}, Default: "0.25 mg/L",
			Help: "The higher the pH, the lower it must be."},
		{Name: "aim", Label: "You want", Type: calculators.Choice, Default: "ammonia",
			Options: []calculators.Option{{Name: "ammonia", Label: "ammonia and nitrite down, cheaply"}, {Name: "nitrate", Label: "also what little nitrate a porous medium may take"}},
			Help:    "Medium decides little about nitrate; water changes decide it."},
	}
}

func boxInputs() []calculators.Input {
	prices := borrow(media.Compare().Inputs, "prices", "media")
	prices.Label, prices.Optional, prices.Default = "Media you can get", false, "lava, 0.40; plastic-packing, 0.90"
	ask := stack.Weight().Inputs
	weight := borrow(ask, "box", "box-weight")
	weight.Fine, weight.Default = true, "2 kg"
	return []calculators.Input{
		{Name: "box-length", Label: "Length of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 150, High: 2000, Origin: "sanity limit"}, Default: "560 mm", Help: "Measured on the floor."},
		{Name: "box-width", Label: "Width of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 150, High: 2000, Origin: "sanity limit"}, Default: "360 mm", Help: "Measured on the floor."},
		{Name: "box-height", Label: "Height of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 120, High: 1000, Origin: "sanity limit"}, Default: "270 mm", Help: "From the floor to the rim."},
		{Name: "recess", Label: "Depth of the recess in the lid", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 200, Origin: "sanity limit"}, Default: "25 mm",
			Help: "From the lid's raised edge to its flat: room for water when holes block. A flat lid spills."},
		{Name: "wall", Label: "Thickness of floor, wall and lid", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0.5, High: 30, Origin: "sanity limit"}, Default: "3 mm", Help: "Measured at the first hole."},
		weight,
		{Name: "box-price", Label: "Price of a box with lid", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 10000, Origin: "sanity limit"}, Default: "9"},
		prices,
		{Name: "fill", Label: "Filled with medium", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 20, High: 90, Origin: "sanity limit"}, Default: "70 %", Help: "Leave room for air."},
		{Name: "most-boxes", Label: "Boxes in one stack at most", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 2, High: 12, Origin: "sanity limit"}, Default: "6", Help: "With foam and bottom box."},
		{Name: "most-stacks", Label: "Stacks at most", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 1, High: 6, Origin: "sanity limit"}, Default: "2", Help: "They stand side by side and share the water."},
		{Name: "foam-grades", Label: "Grades of foam", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 1, High: 3, Origin: "sanity limit"}, Default: "3", Help: "Coarse over medium over fine."},
		{Name: "foam-thickness", Label: "Thickness of a foam sheet", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 10, High: 150, Origin: "sanity limit"}, Default: "50 mm"},
		{Name: "foam-price", Label: "Price of a foam sheet, cut to the box", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "6"},
		{Name: "drills", Label: "Drills at hand", Type: calculators.Rows, Fine: true, Default: "6 mm; 8 mm; 10 mm", Help: "6 to 8 mm is common practice.",
			Columns: []calculators.Input{{Name: "diameter", Label: "Diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 3, High: 25, Origin: "sanity limit"}}}},
	}
}

func pumpInputs() []calculators.Input {
	point := plumbing.PumpWorkingPoint().Inputs
	points := borrow(point, "points", "points")
	points.Default, points.When = "0 L/h, 3.2 m; 2000 L/h, 2.8 m; 4000 L/h, 1.9 m; 6000 L/h, 0.4 m", calculators.When{Input: "pump", Is: []string{"curve"}}
	bends := borrow(point, "fittings", "fittings")
	bends.Fine, bends.Optional, bends.Default = true, false, "elbow-90, 3; hose-tail, 1"
	return []calculators.Input{
		{Name: "pump", Label: "Pump", Type: calculators.Choice, Default: "curve",
			Options: []calculators.Option{{Name: "curve", Label: "points of its printed curve"}, {Name: "turnover", Label: "none yet: find me one"}},
			Help:    "The big figure on the box is the flow at no height at all."},
		points,
		{Name: "turnover", Label: "The pond passes the filter once in", Kind: quantity.Duration, Unit: "h", Accept: calculators.Range{Low: 0.25, High: 48, Origin: "sanity limit"}, Default: "2.5 h",
			When: calculators.When{Input: "pump", Is: []string{"turnover"}}, Help: "One to three hours is common practice."},
		{Name: "power", Label: "Power of the pump", Kind: quantity.Power, Fine: true, Accept: calculators.Range{Low: 1, High: 5000, Origin: "sanity limit"}, Default: "45 W", Help: "On its plate; for a pump not yet bought, a guess."},
		{Name: "pump-price", Label: "Price of the pump", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 100000, Origin: "sanity limit"}, Default: "0", Help: "0 if you have it."},
		{Name: "bore", Label: "Bore of pipe or hose to the top", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 150, Origin: "sanity limit"}, Default: "32 mm", Help: "Inside."},
		{Name: "run", Label: "Length of pipe or hose", Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"}, Default: "4 m", Help: "From the pump to the top."},
		bends,
		{Name: "foot", Label: "Foot of the stack above the pond's water", Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "0.3 m", Help: "The outlet needs a fall back to the pond."},
		{Name: "inlet", Label: "Water goes in by", Type: calculators.Choice, Default: "bar",
			Options: []calculators.Option{{Name: "bar", Label: "a spray bar under the top lid"}, {Name: "hose", Label: "the hose through the lid, onto a splash plate"}},
			Help:    "A bar spreads it; a hose is cheaper and wets the middle only."},
		{Name: "bar-bore", Label: "Bore of the spray bar", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 10, High: 100, Origin: "sanity limit"}, Default: "32 mm", When: calculators.When{Input: "inlet", Is: []string{"bar"}}},
		{Name: "bottom", Label: "At the bottom", Type: calculators.Choice, Default: "box",
			Options: []calculators.Option{{Name: "box", Label: "an undrilled box with an outlet"}, {Name: "open", Label: "open, over the pond"}},
			Help:    "Open over the pond needs no outlet and cannot overflow beside it."},
		{Name: "outlet-bore", Label: "Bore of the outlet", Kind: quantity.Size, Accept: calculators.Range{Low: 15, High: 200, Origin: "sanity limit"}, Default: "51 mm", When: calculators.When{Input: "bottom", Is: []string{"box"}}, Help: "Inside; gravity needs far more than the pump."},
		{Name: "outlet-run", Label: "Length of the outlet pipe", Kind: quantity.Length, Fine: true, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "0.6 m", When: calculators.When{Input: "bottom", Is: []string{"box"}}, Help: "Falling all the way, without a dip."},
	}
}

func siteInputs() []calculators.Input {
	wind := borrow(stack.Tipping().Inputs, "wind", "wind")
	wind.Fine = true
	ground := borrow(stack.Weight().Inputs, "ground", "ground")
	ground.Fine, ground.Options = true, ground.Options[:len(ground.Options)-1] // no survey's own figure here
	return []calculators.Input{
		{Name: "tied", Label: "The stack is", Type: calculators.Choice, Default: "tied",
			Options: []calculators.Option{{Name: "tied", Label: "tied to a wall or a driven frame"}, {Name: "free", Label: "free standing"}},
			Help:    "A child that hangs on a free stack brings it down."},
		wind, ground,
		{Name: "slab-length", Label: "Length of the slab under it", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 150, High: 5000, Origin: "sanity limit"}, Help: "Left empty: the box itself."},
		{Name: "slab-width", Label: "Width of the slab under it", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 150, High: 5000, Origin: "sanity limit"}, Help: "Left empty: the box itself."},
		{Name: "power-price", Label: "Price of electricity for a kWh", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, Default: "0.30"},
		{Name: "water-price", Label: "Price of a cubic metre of water", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "3"},
		{Name: "budget", Label: "Most you will spend on it", Kind: quantity.Money, Fine: true, Optional: true, Accept: calculators.Range{Low: 1, High: 1000000, Origin: "sanity limit"}},
	}
}
