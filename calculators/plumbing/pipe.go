package plumbing

// Pipe is one run of pipe or hose of one bore.
type Pipe struct {
	Bore, Length float64 // inside diameter and length in m
	Roughness    Spread  // of the wall, equivalent sand roughness in m
	Fittings     Spread  // sum of the loss coefficients K, exit included
}

// Loss is what a flow costs in a pipe, in m of water.
type Loss struct{ Friction, Fittings float64 }

// Total returns the sum of both.
func (l Loss) Total() float64 { return l.Friction + l.Fittings }

// Velocity returns the mean velocity in m/s of a flow in m3/s.
func (p Pipe) Velocity(flow float64) float64 { return flow / CircleArea(p.Bore) }

// VelocityHead returns V^2/2g in m for a velocity in m/s.
func VelocityHead(velocity float64) float64 { return velocity * velocity / (2 * Gravity) }

// PipeLoss returns what a velocity in m/s costs in a pipe of the given length
// and bore in m, with Darcy's friction factor and the sum of the loss
// coefficients K.
//
//	h = (f L/D + sum of K) V^2/2g
//
// K holds for turbulent flow; in laminar flow real fittings lose more.
func PipeLoss(friction, length, bore, coefficients, velocity float64) Loss {
	head := VelocityHead(velocity)
	return Loss{Friction: friction * length / bore * head, Fittings: coefficients * head}
}

// HeadLoss returns what a flow in m3/s of water of the given kinematic
// viscosity in m2/s loses in the pipe: PipeLoss with the friction factor of
// Friction. At no flow the loss is 0. The answer is low, likely and high by the
// roughness, the coefficients and the regime together.
func (p Pipe) HeadLoss(flow, viscosity float64) (low, likely, high Loss) {
	return p.LossAt(Low, flow, viscosity), p.LossAt(Likely, flow, viscosity), p.LossAt(High, flow, viscosity)
}

// LossAt returns one of the losses of HeadLoss; solvers need no more.
func (p *Pipe) LossAt(end End, flow, viscosity float64) Loss {
	if flow <= 0 {
		return Loss{}
	}
	v := p.Velocity(flow)
	friction := Friction(Reynolds(v, p.Bore, viscosity), p.Roughness.At(end)/p.Bore).At(end)
	return PipeLoss(friction, p.Length, p.Bore, p.Fittings.At(end), v)
}
