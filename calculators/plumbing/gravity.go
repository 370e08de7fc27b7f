package plumbing

import (
	"math"

	"mereleaf/calculators/internal/solve"
)

// Segment is the part of a round pipe that water fills, by the pipe's bore:
// area over D^2, wetted edge and width of the surface over D (figure set
// hydraulics-part-full-geometry).
type Segment struct{ Area, Edge, Top float64 }

// CircleSegment returns the segment filled to a depth over bore from 0 to 1.
//
//	theta = 2 acos(1 - 2 y/D), A = (theta - sin theta)/8, P = theta/2,
//	T = sin(theta/2)
func CircleSegment(depth float64) Segment {
	theta := 2 * math.Acos(1-2*depth)
	return Segment{Area: (theta - math.Sin(theta)) / 8, Edge: theta / 2, Top: math.Sin(theta / 2)}
}

// ManningFlow returns the flow in m3/s down a round pipe of a bore in m that is
// filled to a depth over bore, 0 to 1, with Manning's n and a slope (fall over
// length).
//
//	V = R^(2/3) S^(1/2)/n, Q = V A
//
// For steady, rough-turbulent flow with a free surface and air above it, and a
// long pipe: 50 bores or more. The same n is taken at every depth. The flow is
// greatest at a depth of 0.938, 8 % above that of the full pipe; a pipe cannot
// be relied on to run above 0.82. No depth gives no flow. Figures:
// hydraulics-gravity-pipe-manning, -part-full-pipe.
func ManningFlow(n, bore, slope, depth float64) float64 {
	if depth <= 0 {
		return 0
	}
	s := CircleSegment(depth)
	return s.Area * bore * bore * math.Pow(s.Area/s.Edge*bore, 2.0/3) * math.Sqrt(slope) / n
}

// NormalDepth returns the depth over bore at which ManningFlow is a flow in
// m3/s, or 1 if the pipe cannot carry it with a free surface.
func NormalDepth(flow, n, bore, slope float64) float64 {
	const fullest = 0.938 // of the greatest flow
	if flow >= ManningFlow(n, bore, slope, fullest) {
		return 1
	}
	depth, _ := solve.Root(func(depth float64) float64 { return ManningFlow(n, bore, slope, depth) - flow }, 0, fullest)
	return depth
}

// ManningCoefficient returns Manning's n of smooth plastic pipe by its state:
// "clean" 0.010 to 0.013, likely 0.012 (caltrans-hdm, table 851.2); otherwise
// coated with slime, 0.012 to 0.016, likely 0.013 (fluids-1.0.22 after Chow
// 1959). Figures: hydraulics-manning-n.
func ManningCoefficient(state string) Spread {
	if state == "clean" {
		return Spread{0.010, 0.012, 0.013}
	}
	return Spread{0.012, 0.013, 0.016}
}

// SelfVentingFlow returns the most flow in m3/s that falls down an open vertical
// pipe of a bore in m while air still rises in it.
//
//	V/sqrt(g D) = 0.3
//
// With more water the pipe gulps and surges. For clean water and an entry a few
// mm under water; far below what the pipe would carry full. Source hills-1983;
// figures: hydraulics-vertical-drain.
func SelfVentingFlow(bore float64) float64 {
	return 0.3 * math.Sqrt(Gravity*bore) * CircleArea(bore)
}

// FlowUnder returns the flow in m3/s at an end of its range that a head in m
// drives through the pipe, which runs full: the flow that loses the head, the
// least one at the greatest loss. No head gives no flow. The pipe's sum of K must
// be 1 or more, for its end.
func (p *Pipe) FlowUnder(end End, head, viscosity float64) float64 {
	if head <= 0 {
		return 0
	}
	most := CircleArea(p.Bore) * math.Sqrt(2*Gravity*head)
	flow, _ := solve.Root(func(flow float64) float64 { return p.LossAt(High-end, flow, viscosity).Total() - head }, 0, most)
	return flow
}
