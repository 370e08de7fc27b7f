package plumbing

import (
	"math"

	"mereleaf/calculators/internal/solve"
)

// Bar is a pipe with equal holes in a row, closed at its far end and fed at the
// other; the first hole sits one spacing from the feed.
type Bar struct {
	Bore, Spacing, Hole float64 // m
	Holes               float64 // a whole number
	Roughness           float64 // of the wall, equivalent sand roughness in m
	Coefficient         float64 // of discharge, of one hole
	// Recovery is the share of the velocity head that does not press on a hole.
	// 1: only the static pressure drives the jets, so it rises towards the closed
	// end, where the water comes to rest; 0: all the head drives them and only
	// friction counts, as programs for water networks have it.
	Recovery float64
}

// HoleFlow returns the flow in m3/s out of a hole at which the bar's water has a
// total head in m, if a flow in m3/s goes on beyond the hole: the solution of
//
//	q = Cd a sqrt(2 g (E - r ((Q + q)/A)^2/2g))
//
// with a and A the areas of hole and bar. It returns 0 if the water that goes on
// leaves no pressure. Basis: Bernoulli's equation and the orifice equation; that
// the outflow of equal ports rises towards the closed end without friction and
// falls with friction alone is in chou-cheng-2001.
func (b *Bar) HoleFlow(head, beyond float64) float64 {
	c := b.Coefficient * CircleArea(b.Hole)
	k := c / CircleArea(b.Bore)
	k *= b.Recovery * k
	rest := 2*Gravity*c*c*head - k*beyond*beyond
	if rest <= 0 {
		return 0
	}
	return (math.Sqrt(k*k*beyond*beyond+(1+k)*rest) - k*beyond) / (1 + k)
}

// SegmentLoss returns the friction in m over one spacing of the bar, at a flow
// in m3/s of water of the given kinematic viscosity in m2/s.
func (b *Bar) SegmentLoss(flow, viscosity float64) float64 {
	p := Pipe{Bore: b.Bore, Length: b.Spacing, Roughness: Spread{b.Roughness, b.Roughness, b.Roughness}}
	return p.LossAt(Likely, flow, viscosity).Friction
}

// Outflow is what comes out of a bar, in m and m3/s.
type Outflow struct {
	Inlet       float64 // total head at the feed
	Total       float64 // flow
	First, Last float64 // flow of the hole next to the feed, and of the farthest
	Least, Most float64 // flow of the weakest and of the strongest hole
	Friction    float64 // between the feed and the farthest hole
}

// Evenness returns the weakest hole as a share of the strongest.
func (o *Outflow) Evenness() float64 { return o.Least / o.Most }

// Walk returns the outflow of the bar for a total head in m at the farthest
// hole: from there step by step to the feed, each step adding the flow of a hole
// and the friction of a spacing.
func (b *Bar) Walk(head, viscosity float64) Outflow {
	o := Outflow{Inlet: head, Least: math.Inf(1)}
	for i := range int(b.Holes) {
		q := b.HoleFlow(o.Inlet, o.Total)
		if i == 0 {
			o.Last = q
		}
		o.First = q
		o.Least, o.Most = math.Min(o.Least, q), math.Max(o.Most, q)
		o.Total += q
		loss := b.SegmentLoss(o.Total, viscosity)
		o.Inlet += loss
		o.Friction += loss
	}
	return o
}

// driest is the head in m over the farthest hole below which it is dry: its flow
// would be a thousandth of what shows in any answer. In a long thin bar little water
// trickles along without swirl and loses head in step with its flow, but a hole's
// flow falls with the root of the head only, so that from hole to hole towards the
// end twice as many noughts follow the point.
const driest = 1e-12

// Fed returns the outflow of the bar for a flow in m3/s at the feed. The flow
// rises with the head at the farthest hole that runs, which is found by halving; the
// holes beyond it are dry. For holes of up to mostShare of the bore's area together;
// of more, the first ones may run dry and no head is found.
func (b *Bar) Fed(flow, viscosity float64) Outflow {
	running := *b
	for running.Holes > 1 && running.Walk(driest, viscosity).Total > flow {
		running.Holes--
	}
	missing := func(head float64) float64 { return running.Walk(head, viscosity).Total - flow }
	high := OrificeHead(b.Coefficient, running.Holes*CircleArea(b.Hole), flow)
	for range 60 {
		if missing(high) >= 0 {
			break
		}
		high *= 2
	}
	head, _ := solve.Root(missing, 0, high)
	o := running.Walk(head, viscosity)
	if running.Holes < b.Holes {
		o.Last, o.Least = 0, 0
	}
	return o
}

// ChristiansenFactor returns by how much less a pipe with equal outlets loses to
// friction than the same pipe that carries all the flow to its end, from the
// exponent m of the flow in the friction formula (2 for Darcy's, 1.852 for Hazen
// and Williams's) and the number N of outlets, the first one spacing from the
// feed.
//
//	F = 1/(m+1) + 1/(2N) + sqrt(m-1)/(6 N^2)
//
// Source christiansen-1942, from memory; for m from 1.75 to 2 and outlets that
// differ little. For one outlet the formula gives up to 1.008 where 1 is true.
func ChristiansenFactor(exponent, outlets float64) float64 {
	return 1/(exponent+1) + 1/(2*outlets) + math.Sqrt(exponent-1)/(6*outlets*outlets)
}
