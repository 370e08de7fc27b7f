package plumbing

import "math"

// HazenWilliamsLoss returns the friction in m of water that a flow in m3/s loses
// over a length in m of a bore in m, by the formula of the water trade.
//
//	h = 10.667 L Q^1.852/(C^1.852 D^4.871)
//
// It knows neither temperature nor regime. For comparison with printed charts
// only: it was made for town mains, and in smooth pipe at Reynolds numbers under
// 20,000, where pond pipes run, it shows 5 to 30 % less than Colebrook's.
// Source epanet-22-manual, head loss formulas, from memory; chart:
// hydraulics-friction-loss-sch40.
func HazenWilliamsLoss(coefficient, flow, bore, length float64) float64 {
	return 10.667 * length * math.Pow(flow/coefficient, 1.852) / math.Pow(bore, 4.871)
}

// HazenWilliams returns the range of the coefficient C for a kind of pipe by the
// name of its Wall; no range, 0, for those no table lists, such as hoses.
// Figures: hydraulics-hazen-williams-c.
func HazenWilliams(wall string) Spread {
	switch wall {
	case "new-plastic", "slimed-plastic":
		return Spread{140, 145, 150}
	case "galvanised":
		return Spread{120, 120, 120}
	}
	return Spread{}
}

// NextBore returns the next common size of pipe and hose that is wider by a
// tenth or more than a bore, both in m; sizes by common practice, from 12 to
// 500 mm. Above the largest it returns the bore itself.
func NextBore(bore float64) float64 {
	for _, mm := range [...]float64{12, 16, 20, 25, 32, 40, 50, 63, 75, 90, 110, 125, 160, 200, 250, 315, 400, 500} {
		if mm >= 1100*bore {
			return mm / 1000
		}
	}
	return bore
}

// BoreOf returns the bore in m of a pipe of the given outside diameter and wall
// thickness in m: what is left inside. Figures: hydraulics-pipe-astm-d1785,
// -pipe-bs-3505 and -pipe-waste-soil.
func BoreOf(outside, thickness float64) float64 { return outside - 2*thickness }
