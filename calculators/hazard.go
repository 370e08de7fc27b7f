package calculators

import "strings"

// Hazard is something that can hurt a person, a fish or wild water while a reader
// acts on an answer. Its caution stands once, in content/cautions.md, under a
// heading of this name.
type Hazard string

// The hazards.
const (
	Electricity Hazard = "electricity" // mains beside water
	Drowning    Hazard = "drowning"    // a child at an open box, anyone on ice or in deep water
	Lifting     Hazard = "lifting"
	Toppling    Hazard = "toppling" // a stack that falls
	Climbing    Hazard = "climbing" // falls from a step, a rim, slippery ground
	Digging     Hazard = "digging"  // cables, pipes, sides that fall in
	Tools       Hazard = "tools"    // drills, saws, blades
	Dust        Hazard = "dust"     // silica
	Chemicals   Hazard = "chemicals"
	Solvents    Hazard = "solvents" // cement for pipes
	Gas         Hazard = "gas"      // exhaust, and pits without air
	Ultraviolet Hazard = "ultraviolet"
	Infection   Hazard = "infection"
	Chlorine    Hazard = "chlorine"    // in new water, for fish
	Wildlife    Hazard = "wildlife"    // what leaves the pond: water, fish, plants
	FishHealth  Hazard = "fish-health" // doses, new fish, sick fish
	Spill       Hazard = "spill"       // a pump that empties the pond onto the ground

	// NoHazard is declared alone, with the reason in Calculator.Harmless.
	NoHazard Hazard = "none"
)

// Hazards are several, joined by ", ": a list would weigh more in the module.
type Hazards string

// List takes them apart.
func (h Hazards) List() []Hazard {
	if h == "" {
		return nil
	}
	var all []Hazard
	for name := range strings.SplitSeq(string(h), ", ") {
		all = append(all, Hazard(name))
	}
	return all
}

// MindFirst stands before the names of hazards over the steps that have them. Their
// cautions stand below with the calculator's others.
const MindFirst = "Mind first, by the cautions below:"

// HurtsPeople reports whether a hazard is one to people. The others harm fish,
// wild water or things alone: their caution is a notice (ANSI Z535.4).
func (h Hazard) HurtsPeople() bool {
	switch h {
	case Chlorine, Wildlife, FishHealth, Spill, NoHazard:
		return false
	}
	return true
}
