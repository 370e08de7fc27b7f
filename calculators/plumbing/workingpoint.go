package plumbing

import "mereleaf/calculators/internal/solve"

// WorkingFlow returns the flow in m3/s at which a pump's head equals a lift in
// m (0 or more) plus the loss of the pipe, which loss gives in m for a flow and
// which must rise with the flow from 0. It returns 0 if the lift is as much as
// the pump can make, or more.
//
// As head falls and loss rises with the flow, the two curves cross once. A loss
// that is not a number gives a flow that is not a number.
func WorkingFlow(pump PumpCurve, lift float64, loss func(flow float64) float64) float64 {
	spare := func(flow float64) float64 { return pump.Head(flow) - lift - loss(flow) }
	if spare(0) <= 0 {
		return 0
	}
	if spare(pump.End()) >= 0 {
		return pump.End() // no lift and no loss
	}
	flow, _ := solve.Root(spare, 0, pump.End())
	return flow
}
