package plumbing

import (
	"math"

	"mereleaf/calculators"
)

// BlockedShare returns the share of a tray's holes that is blocked, 0 to 1, by the
// depth of the water over them, and that with all of them open, in the same unit:
// the same flow through fewer holes stands higher by the square. It is below 0 where
// the water stands lower than over open holes. It turns round
//
//	h = h0/(1 - s)^2,
//
// which is the orifice equation.
func BlockedShare(clean, depth float64) float64 { return 1 - math.Sqrt(clean/depth) }

// stopped adds how many holes are blocked, by the depth that stands on the tray: by
// that which was marked when it was clean, or by what its holes should let through.
func (t *tray) stopped(in calculators.Inputs, r *calculators.Result) {
	depth, n := in.In("depth", "m"), in.In("count", "1")
	clean := t.head(0)
	if in.Has("mark") {
		mark := in.In("mark", "m")
		clean = Spread{mark, mark, mark}
	}
	share := func(clean float64) float64 { return math.Max(0, BlockedShare(clean, depth)) }
	low, likely, high := share(clean.High), share(clean.Likely), share(clean.Low)
	r.Between("stopped", 100*low, 100*likely, 100*high)
	r.Between("open", math.Round(n*(1-high)), math.Round(n*(1-likely)), math.Round(n*(1-low)))
	r.Step("Depth with all holes open", "{3 mm}", 1000*clean.Likely)
	if clean.Likely <= depth {
		r.Step("Share blocked", "1 − √({3 mm} / {3 mm}) = {2}", 1000*clean.Likely, 1000*depth, likely)
	}
	switch {
	case clean.Likely > depth:
		r.Flag("The water stands lower than it would over open holes: check the flow, the hole and the count.")
	case likely >= t.blocked:
		r.Advise("Clean the holes now: at least as many are blocked as you allow.")
	default:
		r.Say("Clean the holes when the water stands {depth 0 mm} deep: then as many are blocked as you allow.", 1000*clean.Likely*BlockedFactor(t.blocked))
	}
}
