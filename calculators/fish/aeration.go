package fish

import (
	"math"

	"mereleaf/calculators/water"
)

// tallestFall is where the falling-water formula stops growing with height, m:
// h (1 - 0.11 h) is greatest at 4.5.
const tallestFall = 4.5

// FallRatio returns by what one fall divides the oxygen deficit of the water:
//
//	r = 1 + 0.38 a b h (1 - 0.11 h)(1 + 0.046 t),
//
// h the drop in metres, 0 to 4.5 (outside NaN), t in degrees Celsius, a for the
// cleanness of the water (1.8 clean, 1.6 slightly, 1.0 moderately polluted) and
// b for the edge (0.8 sharp with a vertical face). n falls give r^n.
// Source: delft3d-waq, strear switch 0; telemac-waqtel, formula 4.
func FallRatio(drop, t, a, b float64) float64 {
	if !(drop >= 0 && drop <= tallestFall) {
		return math.NaN()
	}
	return 1 + 0.38*a*b*drop*(1-0.11*drop)*(1+0.046*t)
}

// FallRatioByFlow returns the same by another formula, which knows how thick the
// sheet of water is and how deep it plunges:
//
//	ln r20 = 0.0675 h^1.28 q^0.62 H^0.439, r = 1 + (r20 - 1) a b (1 + 0.02 (t - 20)),
//
// h the drop in metres, q the flow in m3/h per metre of edge, H the depth it
// falls into in metres. Negative h, q or H gives NaN. Fitted to weirs of rivers:
// the trickles of a garden lie at the low end of its flows.
// Source: delft3d-waq, strear switch 1.
func FallRatioByFlow(drop, flow, pool, t, a, b float64) float64 {
	r20 := math.Exp(0.0675 * math.Pow(drop, 1.28) * math.Pow(flow, 0.62) * math.Pow(pool, 0.439))
	return 1 + (r20-1)*a*b*(1+0.02*(t-20))
}

// FallShare returns the share of the oxygen deficit that falls of ratio r, one
// after the other, make good, per cent: 100 (1 - r^-falls).
func FallShare(r, falls float64) float64 { return 100 * (1 - math.Pow(r, -falls)) }

// SurfaceVelocity returns how fast oxygen passes a still pond's surface, m/d:
//
//	k = (0.30 + 0.028 U^2) 1.024^(t-20),
//
// U the wind in m/s, 0 or more (less gives NaN), t in degrees Celsius. It is the
// only form compared that is not zero in calm air. Source: delft3d-waq, option 9.
func SurfaceVelocity(wind, t float64) float64 {
	if !(wind >= 0) {
		return math.NaN()
	}
	return (0.30 + 0.028*wind*wind) * math.Pow(1.024, t-20)
}

// WindVelocity returns the same by a form in wind alone, m/d:
//
//	k = 0.0744 U^2 sqrt(Sc(20)/Sc(t)), Sc = 1800.6 - 120.1 t + 3.7818 t^2 - 0.047608 t^3,
//
// U in m/s, t in degrees Celsius, 0 to 35 (outside NaN).
// Source: delft3d-waq, option 10, its constants from memory.
func WindVelocity(wind, t float64) float64 {
	if !(t >= 0 && t <= 35) {
		return math.NaN()
	}
	return 0.0744 * wind * wind * math.Sqrt(schmidt(20)/schmidt(t))
}

func schmidt(t float64) float64 { return 1800.6 - 120.1*t + 3.7818*t*t - 0.047608*t*t*t }

// LakeVelocity returns the same by a form for lakes, m/d:
//
//	k = (0.728 U^0.5 - 0.317 U + 0.0372 U^2) 1.024^(t-20),
//
// U in m/s, 0 or more (less gives NaN), t in degrees Celsius.
// Source: banks-herrera1977, equation, from memory.
func LakeVelocity(wind, t float64) float64 {
	return (0.728*math.Sqrt(wind) - 0.317*wind + 0.0372*wind*wind) * math.Pow(1.024, t-20)
}

// SurfaceRange returns the least and the most of the three forms, m/d, with
// SurfaceVelocity as likely. In calm air the other two give nothing.
func SurfaceRange(wind, t float64) Range {
	a, b, c := SurfaceVelocity(wind, t), WindVelocity(wind, t), LakeVelocity(wind, t)
	return Range{math.Min(a, math.Min(b, c)), a, math.Max(a, math.Max(b, c))}
}

// standardWarmth is the temperature in degrees Celsius at which what aerators
// bring is stated (asce-oxygen, OTR equation, from memory).
const standardWarmth = 20.0

// AirOxygen returns the oxygen that bubbles bring into clean water without any,
// at 20 °C, g/h:
//
//	60 x 0.2793 Q E h / 100,
//
// Q the air in L/min at 0.2793 g of oxygen a litre, E the share of it taken up,
// per cent per metre, h the depth of the stone in metres. It takes uptake as
// proportional to depth, fair from 0.5 to 6 m. Source: epa1989, clean water
// SOTE table, from memory.
func AirOxygen(air, share, depth float64) float64 { return 60 * 0.2793 * air * share * depth / 100 }

// FineBubbles and CoarseBubbles return the share of the oxygen in air that goes
// over, per cent per metre of depth. Fine: from a single roll of porous tube to
// a grid, likely one roll at its middle; a garden stone is no grid. Coarse: holes
// in a pipe. Source: epa1989, clean water SOTE table at 4.57 m, from memory.
func FineBubbles() Range { return Range{2.84, 4.16, 6} }

// CoarseBubbles is described with FineBubbles.
func CoarseBubbles() Range { return Range{1.97, 2.5, 2.84} }

// What pond water takes of bubbles beside clean water, and how full it gets
// beside clean water: asce-oxygen, from memory; common values.
const (
	bubbleAlpha = 0.9
	bubbleBeta  = 0.98
)

// FieldTransfer returns what an aerator brings in a pond as a share of what it
// brings into clean water without oxygen at 20 °C:
//
//	alpha (beta Cs - C)/Cs20 x 1.024^(t-20),
//
// C the oxygen there is and Cs what the water holds, mg/L, t in degrees Celsius.
// Below zero it takes oxygen out: then the standard calls it not valid.
// Source: asce-oxygen, OTR equation, from memory.
func FieldTransfer(t, oxygen, saturation, alpha, beta float64) float64 {
	return alpha * (beta*saturation - oxygen) / water.OxygenSaturation(standardWarmth, 0) * math.Pow(1.024, t-standardWarmth)
}
