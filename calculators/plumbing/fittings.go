package plumbing

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
	fluids   = "fluids-1.0.22"
	practice = "pond-practice"
)

// Fittings returns the fittings of a pond's pipework. They were measured on
// steel and iron; for solvent-weld plastic and hose tails no published test was
// found, and their figures are common practice.
func Fittings() []Fitting {
	same := func(name, label string, c Coefficient) Fitting { return Fitting{name, label, c, c, c} }
	return []Fitting{
		{"elbow-90", "90° elbow, ordinary", Coefficient{0.3, tables, "elbow 90, regular, flanged"}, Coefficient{0.75, perry, "elbow 90, standard"}, Coefficient{1.5, tables, "elbow 90, regular, threaded"}},
		{"bend-90", "90° swept bend", Coefficient{0.18, sanks, "elbow 90, long radius, flanged cast"}, Coefficient{0.6, epanet, "elbow 90, long radius"}, Coefficient{0.7, tables, "elbow 90, long radius, threaded"}},
		{"knuckle-90", "90° tight solvent-weld elbow", Coefficient{0.75, perry, "elbow 90, standard"}, Coefficient{1.1, practice, "solvent-weld knuckle elbow 90 (tight)"}, Coefficient{1.3, perry, "elbow 90, square or mitred"}},
		{"elbow-45", "45° elbow", Coefficient{0.2, sanks, "mitred bend 45"}, Coefficient{0.35, perry, "elbow 45, standard"}, Coefficient{0.4, tables, "elbow 45, regular, threaded"}},
		{"bend-180", "180° return bend", Coefficient{0.2, tables, "return bend 180, flanged"}, Coefficient{1.5, perry, "return bend 180, close"}, Coefficient{2.2, epanet, "return bend, closed"}},
		{"tee-through", "tee, straight through", Coefficient{0.3, sanks, "tee, line flow, flanged"}, Coefficient{0.6, epanet, "tee, flow through run"}, Coefficient{0.9, tables, "tee, line flow, threaded"}},
		{"tee-branch", "tee, into the branch", Coefficient{0.75, sanks, "tee, branch flow, flanged"}, Coefficient{1, perry, "tee, used as elbow"}, Coefficient{1, tables, "tee, branch flow, flanged"}},
		{"ball-valve", "ball valve, full bore, open", Coefficient{0.04, sanks, "ball valve, fully open"}, Coefficient{0.05, practice, "ball valve, full bore, open"}, Coefficient{0.05, practice, "ball valve, full bore, open"}},
		{"gate-valve", "gate valve, open", Coefficient{0.1, sanks, "gate valve, double disc, low"}, Coefficient{0.15, tables, "gate valve, fully open"}, Coefficient{0.2, epanet, "gate valve, fully open"}},
		{"gate-valve-half", "gate valve, half closed", Coefficient{2.1, tables, "gate valve, 1/2 closed"}, Coefficient{2.1, tables, "gate valve, 1/2 closed"}, Coefficient{4.5, perry, "gate valve, 1/2 open"}},
		{"check-valve", "non-return valve", Coefficient{2, perry, "check valve, swing"}, Coefficient{2.5, epanet, "swing check valve, fully open"}, Coefficient{2.5, practice, "flap-type non-return valve, weak spring"}},
		same("hose-tail", "hose tails, a pair", Coefficient{1.5, practice, "hose-tail pair (in and out)"}),
		same("coupling", "coupling or union", Coefficient{0.04, perry, "coupling or union"}),
		same("strainer", "strainer cage of the pump, clean", Coefficient{0.5, practice, "pump strainer cage, clean"}),
		{"entrance", "open pipe end that takes water in", Coefficient{0.25, sanks, "entrance, rounded"}, Coefficient{0.5, epanet, "entrance, square"}, Coefficient{0.57, fluids, "entrance, sharp flush"}},
	}
}

// Outlet returns the coefficient of a pipe's end, where the water leaves and its
// velocity is lost: exactly 1 on the velocity in the pipe.
func Outlet() Coefficient { return Coefficient{1, epanet, "exit"} }

// Wall is a kind of pipe or hose with the equivalent sand roughness of its
// inside in mm, low, likely and high. The figures are rows of the sets
// hydraulics-pipe-roughness and, for smooth hose, hydraulics-pipe-hose.
type Wall struct {
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
		{"slimed-plastic", "plastic pipe in use (slimed)", slime(0.01), slime(0.05), slime(0.3)},
		{"new-plastic", "plastic pipe, new and clean", smooth, Coefficient{0.001524, epanet, "plastic, new"}, Coefficient{0.005, fluids, "plastic coated"}},
		{"spiral-hose", "hose, smooth inside", smooth, spiral, slime(0.05)},
		{"ribbed-hose", "hose, ribbed inside", ribbed(0.5), ribbed(1), ribbed(2)},
		{"galvanised", "galvanised steel pipe", Coefficient{0.045, tables, "commercial steel"}, Coefficient{0.1524, epanet, "galvanized iron, new"}, Coefficient{0.1524, epanet, "galvanized iron, new"}},
	}
}
