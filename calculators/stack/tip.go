package stack

import "math"

// AirDensity in kg/m3 for the pressure of wind (en-1991-1-4, from memory);
// another code takes 1.226, 2 % less. Figures: hydraulics-wind-pressure.
const AirDensity = 1.25

// WindPressure returns the dynamic pressure in Pa of a wind in m/s in air of a
// density in kg/m3.
//
//	q = rho v^2/2
//
// Figures: hydraulics-wind-pressure. The speed is that of the gust at the stack.
func WindPressure(speed, density float64) float64 { return density * speed * speed / 2 }

// WindForce returns the force in N of a pressure in Pa on the face of a stack of
// a width and height in m with a force coefficient. It acts at half the height.
//
//	F = q Cf w H
//
// Figures: hydraulics-stack-stability.
func WindForce(pressure, coefficient, width, height float64) float64 {
	return pressure * coefficient * width * height
}

// ForceCoefficient returns the coefficient Cf: for stacks with corners 1.3 to
// 1.5, likely 1.4 (ubc-1997, table 16-H; the ends from memory of asce-7-10 and
// en-1991-1-4), for round ones 0.8 (ubc-1997). Figures:
// hydraulics-wind-force-coefficient.
func ForceCoefficient(round bool) (low, likely, high float64) {
	if round {
		return 0.8, 0.8, 0.8
	}
	return 1.3, 1.4, 1.5
}

// RestoringMoment returns the moment in N m about its edge that keeps a stack of
// a mass in kg on a base of a depth in m.
//
//	M = m g b/2
//
// Figures: hydraulics-stack-stability. The stack must be rigid: boxes that slide
// on one another, and water that shifts, tip sooner.
func RestoringMoment(mass, base float64) float64 { return mass * Gravity * base / 2 }

// TippingForce returns the level push in N at a height in m that tips a stack:
// RestoringMoment over the height. Figures: safety-stack-tipping.
func TippingForce(mass, base, height float64) float64 { return RestoringMoment(mass, base) / height }

// TippingAngle returns how far in degrees a stack can be tilted before it falls,
// from the depth of its base and the height of its centre of mass, in m.
//
//	alpha = atan((b/2)/h)
//
// Figures: safety-stack-tipping, hydraulics-stack-stability.
func TippingAngle(base, centre float64) float64 { return math.Atan2(base/2, centre) * 180 / math.Pi }

// ClimbingRatio returns the restoring moment of a stack of a mass in kg on a base
// of a depth in m over that of a child of a mass in kg who hangs with the middle
// of the body a reach in m outside the edge. Our own practice; a child who swings
// counts as up to twice its weight, and a box that is not strapped to the others
// comes off alone.
//
//	m b/(2 mc r)
func ClimbingRatio(mass, base, child, reach float64) float64 {
	return mass * base / (2 * child * reach)
}

// WantedRatio is what common practice wants of a stack that is not tied
// (figure set hydraulics-stack-stability, notes).
const WantedRatio = 1.5

// slenderest is the height over the narrow side above which common practice ties
// a stack of wet boxes, whatever a sum says (figure set safety-stack-ratio).
const slenderest = 2.0
