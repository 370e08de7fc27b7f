package plumbing

import "math"

// Limits of the flow regimes and of the rough walls that Colebrook's formula
// was made for (figure set hydraulics-friction-factor; epanet-22-manual takes
// the same Reynolds numbers).
const (
	LaminarUpTo   = 2000.0
	TurbulentFrom = 4000.0
	RoughestWall  = 0.05
)

// Reynolds returns the Reynolds number V D/nu (a pure number) of a flow at a
// velocity in m/s through a bore in m, with the kinematic viscosity in m2/s.
func Reynolds(velocity, bore, viscosity float64) float64 { return velocity * bore / viscosity }

// LaminarFriction returns Darcy's friction factor 64/Re, exact for smooth flow
// in a round pipe up to Re 2000, whatever the wall. Above that it is the least
// the factor could be while the flow stays laminar.
func LaminarFriction(reynolds float64) float64 { return 64 / reynolds }

// ColebrookFriction returns Darcy's friction factor f of turbulent flow, the
// solution of
//
//	1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f)))
//
// with e the roughness of the wall over the bore. Range Re 4000 to 1e8, e 0 to
// 0.05; outside, the solution of the same equation, which is then no more than
// a guess. Figures: hydraulics-friction-factor (fluids-1.0.22, exact solution).
//
// Solved by Newton's method on x = 1/sqrt(f) from Haaland's value, which is
// within 2 %: the equation is nearly straight there, and three steps reach the
// last bit.
func ColebrookFriction(reynolds, relativeRoughness float64) float64 {
	a, b := relativeRoughness/3.7, 2.51/reynolds
	x := 1 / math.Sqrt(HaalandFriction(reynolds, relativeRoughness))
	for range 5 {
		argument := a + b*x
		change := (x + 2*math.Log10(argument)) / (1 + 2/math.Ln10*b/argument)
		x -= change
		if math.Abs(change) < 1e-14*x {
			break
		}
	}
	return 1 / (x * x)
}

// HaalandFriction returns Darcy's friction factor by Haaland's explicit formula,
//
//	1/sqrt(f) = -1.8 log10((e/3.7)^1.11 + 6.9/Re)
//
// within 2 % of Colebrook's in its range. Figures: hydraulics-friction-factor.
func HaalandFriction(reynolds, relativeRoughness float64) float64 {
	x := -1.8 * math.Log10(math.Pow(relativeRoughness/3.7, 1.11)+6.9/reynolds)
	return 1 / (x * x)
}

// SwameeJainFriction returns Darcy's friction factor by the explicit formula of
// Swamee and Jain 1976,
//
//	f = 0.25/log10(e/3.7 + (6.97/Re)^0.9)^2
//
// often printed with 5.74/Re^0.9, which is the same to four digits;
// within 3 % of Colebrook's in its range; programs for water networks use it
// (epanet-22-manual). Figures: hydraulics-friction-factor.
func SwameeJainFriction(reynolds, relativeRoughness float64) float64 {
	x := math.Log10(relativeRoughness/3.7 + math.Pow(6.97/reynolds, 0.9))
	return 0.25 / (x * x)
}

// Friction returns Darcy's friction factor at any Reynolds number above 0: 64/Re
// up to 2000, Colebrook's from 4000, both without range. In between nobody
// knows, as the flow flips from one to the other: the low value is 64/Re, the
// high one Colebrook's, the likely one lies on a straight line over Re between
// the two limits (our own practice).
func Friction(reynolds, relativeRoughness float64) Spread {
	switch {
	case reynolds <= LaminarUpTo:
		f := LaminarFriction(reynolds)
		return Spread{f, f, f}
	case reynolds >= TurbulentFrom:
		f := ColebrookFriction(reynolds, relativeRoughness)
		return Spread{f, f, f}
	}
	from, to := LaminarFriction(LaminarUpTo), ColebrookFriction(TurbulentFrom, relativeRoughness)
	likely := from + (to-from)*(reynolds-LaminarUpTo)/(TurbulentFrom-LaminarUpTo)
	return Spread{LaminarFriction(reynolds), likely, ColebrookFriction(reynolds, relativeRoughness)}
}
