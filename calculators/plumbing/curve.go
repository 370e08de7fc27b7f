package plumbing

// CurvePoint is one point of a pump's curve: flow in m3/s, head in m.
type CurvePoint struct{ Flow, Head float64 }

// PumpCurve gives the head in m that a pump makes at a flow in m3/s.
type PumpCurve interface {
	// Head may be below 0 at flows that the pump cannot deliver.
	Head(flow float64) float64
	// End is the flow at which Head reaches 0.
	End() float64
}

// JoinedCurve is the keeper's own points joined by straight lines, the first
// and the last line drawn on beyond the points. It needs two points or more, in
// order of rising flow, with heads that never rise and that fall on the last
// line; Check says so.
type JoinedCurve []CurvePoint

// Check returns the number (from 1) of the first point that breaks the rules of
// JoinedCurve, with the reason, or 0.
func (c JoinedCurve) Check() (point int, reason string) {
	if len(c) < 2 {
		return 1, "is the only point"
	}
	for i := 1; i < len(c); i++ {
		switch a, b := c[i-1], c[i]; {
		case b.Flow <= a.Flow:
			return i + 1, "has no more flow than the point before it"
		case b.Head > a.Head:
			return i + 1, "has more head than the point before it"
		case i == len(c)-1 && b.Head == a.Head:
			return i + 1, "is the last and has the head of the point before it"
		}
	}
	return 0, ""
}

// Head returns the head on the line through the two points around the flow.
func (c JoinedCurve) Head(flow float64) float64 {
	i := 1
	for i < len(c)-1 && flow > c[i].Flow {
		i++
	}
	a, b := c[i-1], c[i]
	return a.Head + (b.Head-a.Head)*(flow-a.Flow)/(b.Flow-a.Flow)
}

// End returns where the last line, drawn on, meets no head.
func (c JoinedCurve) End() float64 {
	a, b := c[len(c)-2], c[len(c)-1]
	return b.Flow + b.Head*(b.Flow-a.Flow)/(a.Head-b.Head)
}

// RatedHead returns the head in m at a flow in m3/s on the curve through one
// rated point (epanet-22-manual, one-point pump curve):
//
//	H = 4/3 Hd - (Hd/3) (Q/Qd)^2
//
// so that the pump makes 4/3 of the rated head at no flow and twice the rated
// flow at no head; beyond that the head is below 0. A real pump differs by 10 %
// and more.
func RatedHead(rated CurvePoint, flow float64) float64 {
	x := flow / rated.Flow
	return rated.Head * (4 - x*x) / 3
}

// RatedCurve is the curve of RatedHead.
type RatedCurve struct{ Rated CurvePoint }

// Head returns RatedHead.
func (c RatedCurve) Head(flow float64) float64 { return RatedHead(c.Rated, flow) }

// End returns twice the rated flow.
func (c RatedCurve) End() float64 { return 2 * c.Rated.Flow }

// RatedFromEnds returns the rated curve of a pump of which only the two largest
// values are known, the head at no flow and the flow at no head: the rated point
// lies at half the flow and three quarters of the head.
func RatedFromEnds(most CurvePoint) RatedCurve {
	return RatedCurve{CurvePoint{most.Flow / 2, most.Head * 3 / 4}}
}

// AffinityHead returns the head in m at a flow in m3/s of equal pumps side by
// side into one pipe, at a share of full speed, from the curve of one pump at
// full speed (epanet-22-manual, variable speed pump equations; figure set
// hydraulics-affinity):
//
//	H(Q) = s^2 H1(Q/(n s))
//
// The figures cover s 0.5 to 1.2; at lower speed real pumps are worse than this.
func AffinityHead(one PumpCurve, speed, pumps, flow float64) float64 {
	return speed * speed * one.Head(flow/(pumps*speed))
}

// DrivenCurve is the curve of AffinityHead: Speed is a share of full speed above
// 0, Pumps 1 or more.
type DrivenCurve struct {
	One          PumpCurve
	Speed, Pumps float64
}

// Head returns AffinityHead.
func (c DrivenCurve) Head(flow float64) float64 {
	return AffinityHead(c.One, c.Speed, c.Pumps, flow)
}

// End returns the flow of all pumps at no head.
func (c DrivenCurve) End() float64 { return c.Pumps * c.Speed * c.One.End() }
