package plumbing

import "math"

// VNotchFlow returns the flow in m3/s over a V-notch of 90 degrees with a thin
// edge, from its coefficient in m and s and the head in m over its point.
//
//	Q = C (H + 0.00085)^2.5
//
// The 0.85 mm allow for viscosity and surface tension (iso-1438, from memory;
// the form of the equation is in print). For heads from 50 mm and a notch that is
// narrow against the box; below, worse. Figures: hydraulics-weir-flow. No head
// gives no flow.
func VNotchFlow(coefficient, head float64) float64 {
	if head <= 0 {
		return 0
	}
	return coefficient * math.Pow(head+0.00085, 2.5)
}

// VNotchCoefficient returns the coefficient of VNotchFlow: likely, and least,
// that of iso-1438 (0.578 of the flow without contraction); most, the highest of
// older authors (adams-sewerage, Alexander). Figures:
// hydraulics-v-notch-coefficients.
func VNotchCoefficient() Spread {
	c := 8.0 / 15 * 0.578 * math.Sqrt(2*Gravity)
	return Spread{c, c, 1.4722}
}

// WeirFlow returns the flow in m3/s over a level crest of a width in m, from its
// coefficient (a pure number) and the head in m over the crest.
//
//	Q = 2/3 c b sqrt(2 g) H^1.5
//
// With c = 0.623 this is the 1.84 b H^1.5 of the trade, 2 to 3 % below Rehbock's
// formula for heads from 30 mm (figures hydraulics-weir-flow). Source
// eb1911-hydraulics. No head gives no flow.
func WeirFlow(coefficient, width, head float64) float64 {
	if head <= 0 {
		return 0
	}
	return 2.0 / 3 * coefficient * width * math.Sqrt(2*Gravity) * math.Pow(head, 1.5)
}

// WeirCoefficient returns the coefficient of WeirFlow: for a thin edge 0.617 to
// 0.677, likely 0.623; for a thick one, as of a plank or a folded rim, 0.467 to
// 0.549, likely 0.509 (Blackwell's experiments, eb1911-hydraulics, weirs 3 ft
// long). Figures: hydraulics-weir-coefficients.
func WeirCoefficient(thick bool) Spread {
	if thick {
		return Spread{0.467, 0.509, 0.549}
	}
	return Spread{0.617, 0.623, 0.677}
}

// ContractedWidth returns the width in m that counts of a notch of a width in m
// cut into a side: the stream narrows by a tenth of the head at each end
// (Francis; eb1911-hydraulics, from memory). Good to heads of a third of the
// width; from heads as great as the width it stays at four fifths, our own
// practice.
func ContractedWidth(width, head float64) float64 { return width - 0.2*math.Min(head, width) }

// StandpipeFlow returns the flow in m3/s over the rim of an upright pipe of a
// bore in m, from the head in m over the rim.
//
//	Q = 1.7 pi D H^1.5, at most 0.6 A sqrt(2 g H)
//
// Common practice (figures hydraulics-weir-flow). The rim works as a weir up to
// a head of a fifth of the bore; above, the pipe chokes and gulps air, and the
// flow cannot be relied on. No head gives no flow.
func StandpipeFlow(bore, head float64) float64 {
	if head <= 0 {
		return 0
	}
	return math.Min(1.7*math.Pi*bore*math.Pow(head, 1.5), OrificeFlow(0.6, CircleArea(bore), head))
}
