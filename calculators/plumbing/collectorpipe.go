package plumbing

// Collector is a pipe with holes all along, closed at one end, that gathers water
// from a box and leads it out at the other.
type Collector struct {
	Bore, Length float64 // m
	Friction     Spread  // Darcy's friction factor, roughened by the holes
	Holes        float64
}

// PerforatedFriction returns Darcy's friction factor of a pipe with holes from
// that of the plain pipe: one to four times, likely twice. A code of practice
// doubles Manning's n for perforated plastic pipe (austin-dcm, table 5-2), and
// the friction factor goes with the square of n; the likely value is our own
// practice.
func PerforatedFriction(plain Spread) Spread {
	return Spread{plain.Low, 2 * plain.Likely, 4 * plain.High}
}

// CollectorLoss returns the head in m that a collector takes beside the head
// over its holes, for a velocity in m/s at its outlet: friction, which is that
// of the full flow times ChristiansenFactor, and getting the water up to speed.
//
//	h = (F f L/D + k) V^2/2g
//
// The inflow enters without speed along the pipe, so that the momentum of the
// water in it rises from nothing: that takes k = 2 velocity heads, and 1 if
// energy is kept instead (low). Common practice for ditches and manifolds, no
// published test for pipes of this size was found.
func CollectorLoss(friction, length, bore, holes, velocityHeads, velocity float64) float64 {
	return (ChristiansenFactor(2, holes)*friction*length/bore + velocityHeads) * VelocityHead(velocity)
}

// Loss returns CollectorLoss of a flow in m3/s.
func (c *Collector) Loss(flow float64) Spread {
	v := Pipe{Bore: c.Bore}.Velocity(flow)
	return Spread{
		CollectorLoss(c.Friction.Low, c.Length, c.Bore, c.Holes, 1, v),
		CollectorLoss(c.Friction.Likely, c.Length, c.Bore, c.Holes, 2, v),
		CollectorLoss(c.Friction.High, c.Length, c.Bore, c.Holes, 2, v),
	}
}
