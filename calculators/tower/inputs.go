package tower

import (
	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/media"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/stack"
)

// inputs declares what the reader states. What another calculator asks too is
// borrowed from its declaration: rows, options and ranges are declared once.
func inputs() []calculators.Input {
	var all []calculators.Input
	for i, group := range [][]calculators.Input{pondInputs(), fishInputs(), boxInputs(), pumpInputs(), siteInputs()} {
		if calculators.Documented {
			head(group, i)
		}
		all = append(all, group...)
	}
	stock, point, ask := fish.OxygenNight().Inputs, plumbing.PumpWorkingPoint().Inputs, stack.Weight().Inputs
	for _, name := range []string{"stock", "fish", "kilograms", "number"} {
		borrow(all, name, stock, name)
	}
	borrow(all, "grown", stock, "fish")
	borrow(all, "media", media.Compare().Inputs, "prices")
	borrow(all, "box-weight", ask, "box")
	borrow(all, "points", point, "points")
	borrow(all, "fittings", point, "fittings")
	borrow(all, "wind", stack.Tipping().Inputs, "wind")
	borrow(all, "aim", media.Compare().Inputs, "purpose")
	for i := range ask {
		if ask[i].Name == "ground" {
			ask[i].Options, ask[i].Fact = ask[i].Options[:len(ask[i].Options)-1], "" // without a survey's own figure
		}
	}
	borrow(all, "ground", ask, "ground")
	return all
}

// head gives a group of inputs its heading.
func head(group []calculators.Input, at int) {
	for i := range group {
		group[i].Group = []string{"Pond", "Fish", "Boxes", "Pump and pipes", "Site and prices"}[at]
	}
}

// borrow completes an input with the rows, options, kind, range and help that
// another calculator declares for one of its own.
func borrow(all []calculators.Input, name string, from []calculators.Input, its string) {
	for i := range from {
		for j := range all {
			if from[i].Name == its && all[j].Name == name {
				in := &all[j]
				in.Type, in.Columns, in.Options, in.Kind, in.Unit, in.Accept = from[i].Type, from[i].Columns, from[i].Options, from[i].Kind, from[i].Unit, from[i].Accept
				if in.Fact == "" {
					in.Fact = from[i].Fact
				}
				if in.Help == "" {
					in.Help = from[i].Help
				}
				return
			}
		}
	}
	panic("tower: no input " + its + " to borrow")
}

func pondInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume-from", Once: []string{"pond"}, Label: "Pond", Type: calculators.Choice, Default: "volume",
			Options: []calculators.Option{{Name: "volume", Label: "I know how much water it holds"}, {Name: "rectangle", Label: "upright walls, square corners"}, {Name: "ellipse", Label: "upright walls, oval"}},
			Help:    "For any other shape ask the pond volume calculator first."},
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Accept: calculators.Range{Low: 200, High: 500000, Origin: "sanity limit"},
			When: calculators.When{Input: "volume-from", Is: []string{"volume"}}, Help: "Measured when it was filled, or by salt, is better than by tape."},
		{Name: "length", Fact: "pond-length", Label: "Length of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"},
			When: calculators.When{Input: "volume-from", Is: []string{"rectangle", "ellipse"}}, Help: "At the water line."},
		{Name: "width", Fact: "pond-width", Label: "Width of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"},
			When: calculators.When{Input: "volume-from", Is: []string{"rectangle", "ellipse"}}, Help: "At the water line."},
		{Name: "depth", Fact: "pond-depth", Label: "Depth of the pond", Kind: quantity.Length, Accept: calculators.Range{Low: 0.2, High: 10, Origin: "sanity limit"},
			When: calculators.When{Input: "volume-from", Is: []string{"rectangle", "ellipse"}}, Help: "From the water line to the floor."},
		{Name: "summer", Fact: "summer-temperature", Label: "Water in summer", Kind: quantity.Temperature, Accept: calculators.Range{Low: 5, High: 35, Origin: "sanity limit"}, Default: "21 Cel",
			Help: "Of the weeks in which you feed most."},
		{Name: "winter", Fact: "winter-temperature", Label: "Water in winter", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"}, Default: "4 Cel",
			Help: "The coldest weeks."},
		{Name: "altitude", Fact: "altitude", Label: "Altitude", Kind: quantity.Length, Fine: true, Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"}, Default: "0 m",
			Help: "High up, water holds less oxygen."},
		{Name: "ph", Label: "pH of the pond", Kind: quantity.PH, Fine: true, Accept: calculators.Range{Low: 6, High: 10, Origin: "sanity limit"}, Default: "8.2 [pH]",
			Help: "In the afternoon, when it is highest."},
		{Name: "tap-alkalinity", Fact: "tap-alkalinity", Label: "KH of the tap water, as CaCO₃", Kind: quantity.Hardness, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "90 mg/L",
			Help: "The supplier's report has it."},
		{Name: "tap-nitrate", Label: "Nitrate in the tap water, as NO3", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"}, Default: "15 mg/L",
			Help: "The supplier's report has it."},
		{Name: "chlorine", Fact: "tap-chlorine", Label: "Chlorine in the tap water", Kind: quantity.Concentration, Fine: true, Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}, Default: "4 mg/L",
			Help: "Free and combined together; ask the supplier."},
		{Name: "change", Fact: "week-change", Label: "Water changed in a week", Fine: true, Kind: quantity.Share, Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}, Default: "20 %",
			Help: "Of the pond; 0 if none."},
	}
}

func fishInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "stock", Label: "Your fish by", Default: "list"},
		{Name: "fish", Label: "Your fish", When: calculators.When{Input: "stock", Is: []string{"list"}}},
		{Name: "kilograms", Label: "All fish together", When: calculators.When{Input: "stock", Is: []string{"weight"}}},
		{Name: "number", Label: "How many", When: calculators.When{Input: "stock", Is: []string{"weight"}},
			Help: "All of them; taken as koi, all alike."},
		{Name: "grown", Fact: "fish-grown", Label: "Your fish when grown", Fine: true, Optional: true,
			Help: "Leave it empty to let the growth calculator reckon three years ahead."},
		{Name: "size-for", Label: "Build for", Fine: true, Type: calculators.Choice, Default: "now",
			Options: []calculators.Option{{Name: "now", Label: "the fish of today"}, {Name: "grown", Label: "the fish when grown"}},
			Help:    "Fish grow to many times their weight; a second stack can come later."},
		{Name: "feed", Fact: "feed-most", Label: "Feed on a warm day", Kind: quantity.MassRate, Fine: true, Optional: true, Accept: calculators.Range{Low: 1, High: 20000, Origin: "sanity limit"},
			Help: "If you weigh it; otherwise it is reckoned from the fish."},
		{Name: "protein", Fact: "protein", Label: "Protein in the feed", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 5, High: 70, Origin: "sanity limit"}, Default: "36 %",
			Help: "Printed on the bag."},
		{Name: "target", Fact: "target", Label: "Total ammonia wanted, as nitrogen", Fine: true, Kind: quantity.Concentration, Accept: calculators.Range{Low: 0.08, High: 5, Origin: "sanity limit"}, Default: "0.25 mg/L",
			Help: "The higher the pH, the lower it must be."},
		{Name: "aim", Label: "You want", Fine: true, Default: "ammonia",
			Help: "Medium decides little about nitrate; water changes decide it."},
	}
}

func boxInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "box-length", Fact: "box-length", Label: "Length of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 150, High: 2000, Origin: "sanity limit"}, Help: "Measured on the floor."},
		{Name: "box-width", Fact: "box-width", Label: "Width of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 150, High: 2000, Origin: "sanity limit"}, Help: "Measured on the floor."},
		{Name: "box-height", Fact: "box-height", Label: "Height of a box inside", Kind: quantity.Size, Accept: calculators.Range{Low: 120, High: 1000, Origin: "sanity limit"}, Help: "From the floor to the rim."},
		{Name: "recess", Fact: "lid-recess", Label: "Depth of the recess in the lid", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 200, Origin: "sanity limit"}, Default: "25 mm",
			Help: "From the lid's raised edge to its flat: room for water when holes block. A flat lid spills."},
		{Name: "wall", Fact: "box-wall", Label: "Thickness of floor, wall and lid", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 0.5, High: 30, Origin: "sanity limit"}, Default: "3 mm", Help: "Measured at the first hole."},
		{Name: "box-weight", Label: "Weight of an empty box with lid", Fine: true, Default: "2 kg", Help: "On kitchen scales."},
		{Name: "box-price", Fact: "box-price", Label: "Price of a box with lid", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 10000, Origin: "sanity limit"}, Default: "9", Help: "In your currency."},
		{Name: "media", Label: "Media you can get", Default: "lava, 0.40; plastic-packing, 0.90", Help: "What a litre costs, as filled."},
		{Name: "fill", Fact: "media-fill", Label: "Filled with medium", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 20, High: 90, Origin: "sanity limit"}, Default: "70 %", Help: "Leave room for air."},
		{Name: "most-boxes", Label: "Boxes in one stack at most", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 2, High: 12, Origin: "sanity limit"}, Default: "6", Help: "With foam and bottom box."},
		{Name: "most-stacks", Label: "Stacks at most", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 1, High: 6, Origin: "sanity limit"}, Default: "2", Help: "They stand side by side and share the water."},
		{Name: "second", Label: "A second tower just like it", Type: calculators.Choice, Fine: true, Default: "none",
			Options: []calculators.Option{{Name: "none", Label: "none"}, {Name: "beside", Label: "beside it: each gets half of the pump's water"}, {Name: "behind", Label: "below it: the water of the first runs through the second"}},
			Help:    "Either then carries all the water while the other is shut."},
		{Name: "foam-grades", Fact: "foam-grades", Label: "Grades of foam", Kind: quantity.Count, Fine: true, Accept: calculators.Range{Low: 1, High: 3, Origin: "sanity limit"}, Default: "3", Help: "Coarse over medium over fine."},
		{Name: "foam-thickness", Fact: "foam-thickness", Label: "Thickness of a foam sheet", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 10, High: 150, Origin: "sanity limit"}, Default: "50 mm", Help: "Along the water."},
		{Name: "foam-price", Fact: "foam-price", Label: "Price of a foam sheet, cut to the box", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "6", Help: "In your currency."},
		{Name: "drills", Fact: "drills", Label: "Drills at hand", Fine: true, Type: calculators.Rows, Default: "6 mm; 8 mm; 10 mm", Help: calculators.Hint("{least ~} to {most mm} is common practice.", drillLeast, drillMost),
			Columns: []calculators.Input{{Name: "diameter", Label: "Diameter", Kind: quantity.Size, Accept: calculators.Range{Low: 3, High: 25, Origin: "sanity limit"}, Help: "Stamped on the bit."}}},
	}
}

func pumpInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "pump", Label: "Pump", Type: calculators.Choice, Default: "curve",
			Options: []calculators.Option{{Name: "curve", Label: "points of its printed curve"}, {Name: "turnover", Label: "none yet: find me one"}},
			Help:    "The big figure on the box is the flow at no height at all."},
		{Name: "points", Label: "Points of the curve", When: calculators.When{Input: "pump", Is: []string{"curve"}},
			Help: "Flow and head, read from the chart on its box or leaflet."},
		{Name: "turnover", Fact: "turnover-wanted", Label: "The pond passes the filter once in", Kind: quantity.Duration, Unit: "h", Accept: calculators.Range{Low: 0.25, High: 48, Origin: "sanity limit"}, Default: "2.5 h",
			When: calculators.When{Input: "pump", Is: []string{"turnover"}}, Help: calculators.Hint("{least ~} to {most h} is common practice.", turnoverLeast, turnoverMost)},
		{Name: "power", Fact: "pump-power", Label: "Power of the pump", Kind: quantity.Power, Fine: true, Accept: calculators.Range{Low: 1, High: 5000, Origin: "sanity limit"}, Default: "45 W", Help: "On its plate; for a pump not yet bought, a guess."},
		{Name: "pump-price", Fact: "pump-price", Label: "Price of the pump", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 100000, Origin: "sanity limit"}, Default: "0", Help: "0 if you have it."},
		{Name: "bore", Fact: "pump-pipe-bore", Label: "Bore of pipe or hose to the top", Kind: quantity.Size, Accept: calculators.Range{Low: 10, High: 150, Origin: "sanity limit"}, Default: "32 mm", Help: "Inside."},
		{Name: "run", Fact: "pump-pipe-length", Label: "Length of pipe or hose", Fine: true, Kind: quantity.Length, Accept: calculators.Range{Low: 0.5, High: 100, Origin: "sanity limit"}, Default: "4 m", Help: "From the pump to the top."},
		{Name: "fittings", Label: "Fittings", Fine: true, Default: "elbow-90, 3; hose-tail, 1"},
		{Name: "foot", Fact: "stack-foot", Label: "Foot of the stack above the pond's water", Fine: true, Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "0.3 m", Help: "The outlet needs a fall back to the pond."},
		{Name: "inlet", Label: "Water goes in by", Fine: true, Type: calculators.Choice, Default: "bar",
			Options: []calculators.Option{{Name: "bar", Label: "a spray bar under the top lid"}, {Name: "hose", Label: "the hose through the wall of the top box, onto a splash plate"}},
			Help:    "A bar spreads it; a hose is cheaper and wets the middle only."},
		{Name: "bar-bore", Fact: "bar-bore", Label: "Bore of the spray bar", Kind: quantity.Size, Fine: true, Accept: calculators.Range{Low: 10, High: 100, Origin: "sanity limit"}, Default: "32 mm", When: calculators.When{Input: "inlet", Is: []string{"bar"}}, Help: "Inside."},
		{Name: "bottom", Label: "At the bottom", Type: calculators.Choice, Default: "box",
			Options: []calculators.Option{{Name: "box", Label: "an undrilled box with an outlet"}, {Name: "open", Label: "open, over the pond"}},
			Help:    "Open over the pond needs no outlet and cannot overflow beside it."},
		{Name: "outlet-bore", Fact: "outlet-bore", Label: "Bore of the outlet", Kind: quantity.Size, Accept: calculators.Range{Low: 15, High: 200, Origin: "sanity limit"}, Default: "104 mm", When: calculators.When{Input: "bottom", Is: []string{"box"}}, Help: calculators.Hint("Inside: {bore mm} in a soil pipe of {pipe mm}. Gravity needs far more than a pump.", soilBore, soilPipe)},
		{Name: "outlet-run", Fact: "outlet-length", Label: "Length of the outlet pipe", Kind: quantity.Length, Fine: true, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "0.6 m", When: calculators.When{Input: "bottom", Is: []string{"box"}}, Help: "Out of the box, round the bend and down, without a dip."},
	}
}

func siteInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "tied", Fact: "stack-tied", Label: "The stack is", Type: calculators.Choice, Default: "tied",
			Options: []calculators.Option{{Name: "tied", Label: "tied to a wall or a driven frame"}, {Name: "free", Label: "free standing"}},
			Help:    "A child that hangs on a free stack brings it down."},
		{Name: "wind", Label: "Wind", Fine: true, Default: "25 m/s"},
		{Name: "ground", Label: "Ground", Fine: true, Default: "topsoil"},
		{Name: "slab-length", Label: "Length of the slab under it", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 150, High: 5000, Origin: "sanity limit"}, Help: "Left empty: the box itself."},
		{Name: "slab-width", Label: "Width of the slab under it", Kind: quantity.Size, Fine: true, Optional: true, Accept: calculators.Range{Low: 150, High: 5000, Origin: "sanity limit"}, Help: "Left empty: the box itself."},
		{Name: "power-price", Fact: "price-power", Label: "Price of electricity for a kWh", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, Default: "0.30", Help: "In your currency, with all taxes."},
		{Name: "water-price", Fact: "price-water", Label: "Price of a cubic metre of water", Kind: quantity.Money, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "3", Help: "In your currency, with waste water."},
		{Name: "budget", Fact: "budget", Label: "Most you will spend on it", Kind: quantity.Money, Fine: true, Optional: true, Accept: calculators.Range{Low: 1, High: 1000000, Origin: "sanity limit"}, Help: "In your currency."},
	}
}
