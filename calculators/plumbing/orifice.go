package plumbing

import "math"

// CircleArea returns the area in m2 of a circle of the given diameter in m.
func CircleArea(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// OrificeFlow returns the flow in m3/s that falls freely through openings of
// the given total area in m2 under a head in m above them.
//
//	Q = Cd A sqrt(2 g h)
//
// The coefficient Cd is a pure number. A head of 0 or less gives 0. The formula
// holds for a free jet into air with the head well above the hole's diameter;
// surface tension makes the true flow 10 to 20 % uncertain in holes under 5 mm
// or heads under 25 mm (figure set hydraulics-orifice-flow-small-holes). It
// fits the printed tables of mn-ostp (table E-6) and nj-7-9a (7:9A-9.7) with
// Cd 0.60 to 0.62.
func OrificeFlow(coefficient, area, head float64) float64 {
	if head <= 0 {
		return 0
	}
	return coefficient * area * math.Sqrt(2*Gravity*head)
}

// OrificeHead returns the head in m that drives a flow in m3/s through openings
// of the given total area in m2: OrificeFlow solved for the head.
//
//	h = (Q/(Cd A))^2/(2 g)
//
// A flow of 0 or less gives 0; no area gives an infinite head. Range and source
// as for OrificeFlow.
func OrificeHead(coefficient, area, flow float64) float64 {
	if flow <= 0 {
		return 0
	}
	v := flow / (coefficient * area)
	return v * v / (2 * Gravity)
}

// HolesFor returns how many equal holes, each passing flowPerHole, carry a flow
// when the given share (0 to under 1) of them is blocked, rounded up to a whole
// hole. Both flows are in one unit. A flow of 0 gives 0.
//
//	n = ceil(Q/(q (1 - s)))
func HolesFor(flow, flowPerHole, blockedShare float64) float64 {
	n := flow / (flowPerHole * (1 - blockedShare))
	// A whole number that misses by rounding in binary must not cost a hole.
	return math.Ceil(n - 1e-9*n)
}

// BlockedFactor returns how many times higher the water stands over holes of
// which the given share (0 to under 1) is blocked, at the same flow.
//
//	1/(1 - s)^2
//
// Half of the holes blocked needs four times the head. Follows from OrificeHead;
// no range of its own.
func BlockedFactor(blockedShare float64) float64 {
	open := 1 - blockedShare
	return 1 / (open * open)
}

// Spread is what is known of a quantity: the likely value between a low and a
// high one.
type Spread struct{ Low, Likely, High float64 }

// End picks a value of a Spread.
type End uint8

// The values of a Spread.
const (
	Low End = iota
	Likely
	High
)

// At returns the value at an end.
func (s Spread) At(e End) float64 {
	switch e {
	case Low:
		return s.Low
	case High:
		return s.High
	}
	return s.Likely
}

// DischargeCoefficient returns the coefficient Cd of a drilled, deburred hole
// from the thickness of the floor and the diameter of the hole, both in one
// unit.
//
//   - floor thinner than half the hole: 0.60 to 0.62, likely 0.61, a sharp edge
//     (mn-ostp table E-6 implies 0.60; eb1911-hydraulics prints 0.603 to 0.62)
//   - floor at least as thick as the hole: 0.61 to 0.80, likely 0.75, because
//     the jet may cling to the wall or spring clear of it, and the same hole can
//     flip between the two (orifice-eq-note: 0.8 for a typical tube;
//     short-tube-orifice, from memory: 0.61 to 0.82)
//   - between the two: straight lines, our own practice
//
// A burred edge on the upper side can fall to 0.55 (pond-practice): deburr.
func DischargeCoefficient(floor, hole float64) Spread {
	thin, thick := Spread{0.60, 0.61, 0.62}, Spread{0.61, 0.75, 0.80}
	x := math.Min(1, math.Max(0, (floor/hole-0.5)/0.5))
	between := func(a, b float64) float64 { return a + x*(b-a) }
	return Spread{between(thin.Low, thick.Low), between(thin.Likely, thick.Likely), between(thin.High, thick.High)}
}

// The least hole in m and the least head in m for which the orifice formula is
// good without allowance, and the share by which the flow is uncertain below
// (note of the figure set hydraulics-orifice-flow-small-holes).
const (
	smallHole           = 0.005
	lowHead             = 0.025
	surfaceTensionDoubt = 0.2
)

// Widen returns the coefficient with the doubt of surface tension added, 20 %
// either way, if the hole is under 5 mm or the head under 25 mm (both in m);
// otherwise it returns it as it is.
func Widen(coefficient Spread, hole, head float64) Spread {
	if hole >= smallHole && head >= lowHead {
		return coefficient
	}
	return Spread{coefficient.Low * (1 - surfaceTensionDoubt), coefficient.Likely, coefficient.High * (1 + surfaceTensionDoubt)}
}
