package plumbing

import "mereleaf/calculators"

// Coefficient is a figure with where it was printed.
type Coefficient struct {
	Value  float64
	Source string // key in content/sources.json
	Row    string // what the row of the figure set is called there
}

// Fitting is a piece of pipework with its loss coefficient K on the velocity in
// the pipe, low, likely and high as the sources differ. All figures are rows of
// the set hydraulics-fitting-k.
type Fitting struct {
	_                 calculators.Incomparable
	Name, Label       string
	Low, Likely, High Coefficient
}

// K returns the coefficients without their sources.
func (f Fitting) K() Spread { return Spread{f.Low.Value, f.Likely.Value, f.High.Value} }

// The sources of the coefficients.
const (
	epanet   = "epanet-22-manual"
	tables   = "fluid-tables-lmno"
	sanks    = "sanks-pumping-station"
	perry    = "perry-fitting-losses"
	kutz     = "kutz-materials-handling"
	fluids   = "fluids-1.0.22"
	practice = "pond-practice"
)

// Fittings returns the fittings of a pond's pipework. They were measured on
// steel and iron; for solvent-weld plastic and hose tails no published test was
// found, and their figures are common practice.
func Fittings() []Fitting {
	same := func(name, label string, c Coefficient) Fitting {
		return Fitting{Name: name, Label: label, Low: c, Likely: c, High: c}
	}
	return []Fitting{
		{Name: "elbow-90", Label: "90° elbow, ordinary", Low: Coefficient{0.3, tables, "elbow 90, regular, flanged"}, Likely: Coefficient{0.75, perry, "elbow 90, standard"}, High: Coefficient{1.5, tables, "elbow 90, regular, threaded"}},
		{Name: "bend-90", Label: "90° swept bend", Low: Coefficient{0.18, sanks, "elbow 90, long radius, flanged cast"}, Likely: Coefficient{0.6, epanet, "elbow 90, long radius"}, High: Coefficient{0.7, tables, "elbow 90, long radius, threaded"}},
		{Name: "knuckle-90", Label: "90° tight solvent-weld elbow", Low: Coefficient{0.75, perry, "elbow 90, standard"}, Likely: Coefficient{1.1, practice, "solvent-weld knuckle elbow 90 (tight)"}, High: Coefficient{1.3, perry, "elbow 90, square or mitred"}},
		{Name: "elbow-45", Label: "45° elbow", Low: Coefficient{0.2, sanks, "mitred bend 45"}, Likely: Coefficient{0.35, perry, "elbow 45, standard"}, High: Coefficient{0.4, tables, "elbow 45, regular, threaded"}},
		{Name: "bend-180", Label: "180° return bend", Low: Coefficient{0.2, tables, "return bend 180, flanged"}, Likely: Coefficient{1.5, perry, "return bend 180, close"}, High: Coefficient{2.2, epanet, "return bend, closed"}},
		{Name: "tee-through", Label: "tee, straight through", Low: Coefficient{0.3, sanks, "tee, line flow, flanged"}, Likely: Coefficient{0.6, epanet, "tee, flow through run"}, High: Coefficient{0.9, tables, "tee, line flow, threaded"}},
		{Name: "tee-branch", Label: "tee, into the branch", Low: Coefficient{0.75, sanks, "tee, branch flow, flanged"}, Likely: Coefficient{1.8, epanet, "tee, flow through branch"}, High: Coefficient{2, tables, "tee, branch flow, threaded"}},
		{Name: "ball-valve", Label: "ball valve, full bore, open", Low: Coefficient{0.04, sanks, "ball valve, fully open"}, Likely: Coefficient{0.05, practice, "ball valve, full bore, open"}, High: Coefficient{0.05, practice, "ball valve, full bore, open"}},
		{Name: "gate-valve", Label: "gate valve, open", Low: Coefficient{0.1, sanks, "gate valve, double disc, low"}, Likely: Coefficient{0.15, tables, "gate valve, fully open"}, High: Coefficient{0.2, epanet, "gate valve, fully open"}},
		{Name: "gate-valve-half", Label: "gate valve, half closed", Low: Coefficient{2.1, tables, "gate valve, 1/2 closed"}, Likely: Coefficient{2.1, tables, "gate valve, 1/2 closed"}, High: Coefficient{4.5, perry, "gate valve, 1/2 open"}},
		{Name: "check-valve", Label: "non-return valve, a flap that swings", Low: Coefficient{0.6, sanks, "check valve, swing, low"}, Likely: Coefficient{2, perry, "check valve, swing"}, High: Coefficient{2.5, epanet, "swing check valve, fully open"}},
		{Name: "check-lift", Label: "non-return valve, a disc or spring that lifts", Low: Coefficient{0.85, kutz, "check valve, lift, low"}, Likely: Coefficient{4.6, kutz, "check valve, lift"}, High: Coefficient{10, perry, "check valve, disk"}},
		{Name: "check-ball", Label: "non-return valve, a ball that lifts", Low: Coefficient{0.9, sanks, "check valve, ball, low"}, Likely: Coefficient{8, practice, "ball non-return valve, maker silent"}, High: Coefficient{70, perry, "check valve, ball"}},
		same("hose-tail", "hose tails, a pair", Coefficient{1.5, practice, "hose-tail pair (in and out)"}),
		same("coupling", "coupling or union", Coefficient{0.04, perry, "coupling or union"}),
		same("strainer", "strainer cage of the pump, clean", Coefficient{0.5, practice, "pump strainer cage, clean"}),
		{Name: "entrance", Label: "open pipe end that takes water in", Low: Coefficient{0.25, sanks, "entrance, rounded"}, Likely: Coefficient{0.5, epanet, "entrance, square"}, High: Coefficient{0.57, fluids, "entrance, sharp flush"}},
	}
}

// Outlet returns the coefficient of a pipe's end, where the water leaves and its
// velocity is lost: exactly 1 on the velocity in the pipe.
func Outlet() Coefficient { return Coefficient{1, epanet, "exit"} }

// Entrance returns the coefficients K of an open pipe end that takes water in.
func Entrance() Spread {
	for _, f := range Fittings() {
		if f.Name == "entrance" {
			return f.K()
		}
	}
	panic("plumbing: no entrance among the fittings")
}

// Wall is a kind of pipe or hose with the equivalent sand roughness of its
// inside in mm, low, likely and high. The figures are rows of the sets
// hydraulics-pipe-roughness and, for smooth hose, hydraulics-pipe-hose.
type Wall struct {
	_                 calculators.Incomparable
	Name, Label       string
	Low, Likely, High Coefficient
}

// Walls returns the kinds of pipe and hose in use at ponds.
func Walls() []Wall {
	smooth := Coefficient{0, tables, "PVC, plastic, glass"}
	spiral := Coefficient{0.02, practice, "smooth-bore reinforced spiral hose"}
	slime := func(v float64) Coefficient { return Coefficient{v, practice, "PVC pipe with biofilm (pond service)"} }
	ribbed := func(v float64) Coefficient { return Coefficient{v, practice, "ribbed pond hose (ribs inside)"} }
	return []Wall{
		{Name: "slimed-plastic", Label: "plastic pipe in use (slimed)", Low: slime(0.01), Likely: slime(0.05), High: slime(0.3)},
		{Name: "new-plastic", Label: "plastic pipe, new and clean", Low: smooth, Likely: Coefficient{0.001524, epanet, "plastic, new"}, High: Coefficient{0.005, fluids, "plastic coated"}},
		{Name: "spiral-hose", Label: "hose, smooth inside", Low: smooth, Likely: spiral, High: slime(0.05)},
		{Name: "ribbed-hose", Label: "hose, ribbed inside", Low: ribbed(0.5), Likely: ribbed(1), High: ribbed(2)},
		{Name: "galvanised", Label: "galvanised steel pipe", Low: Coefficient{0.045, tables, "commercial steel"}, Likely: Coefficient{0.1524, epanet, "galvanized iron, new"}, High: Coefficient{0.1524, epanet, "galvanized iron, new"}},
	}
}
