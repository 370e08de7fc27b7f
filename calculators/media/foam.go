package media

// Speeds of water through foam in mm/s: the slower of a fine and the faster of a
// coarse grade in the trials of agua-foam (1.157 mm/s, printed as 100 m/d, at 90
// pores per inch; 4 mm/s at 30). Figures: media-foam-filtration.
const (
	slowFoam = 100.0 / 86.4
	fastFoam = 4.0
)

// FoamArea returns the face of foam in m2 that a flow in m3/h passes at a speed in
// mm/s.
//
//	A = Q/v
func FoamArea(flow, speed float64) float64 { return flow / 3600 / (speed / 1000) }

// PorePitch returns the distance from pore to pore in mm of a foam with so many
// pores per inch.
//
//	p = 25.4/n
//
// Figures: media-foam-geometry.
func PorePitch(poresPerInch float64) float64 { return 25.4 / poresPerInch }

// FoamCatch returns the share of the solids that foam catches. From 40 to 70 % of
// their mass in a pond that recirculates is finer than 20 micrometres
// (was-165932, abstract; figure set media-solids-settling), which goes through.
func FoamCatch() Range { return Between(1-0.70, 1-0.40) }

// FoamHolds returns the dry solids in kg that a cubic metre of foam holds before
// it must be rinsed: sludge with 1 to 4 % of dry matter in 10 to 30 % of its
// space. Our own practice; weigh what you rinse out once, if it matters.
func FoamHolds() Range { return Range{1, 4, 12} }

// FoamLasts returns the days that foam lasts at a feed in g/d, from the days that so
// many litres of it lasted at another: dirt goes with feed, and room with foam.
//
//	t = t0 F0/F V/V0
//
// Our own practice.
func FoamLasts(days, feedThen, feed, foamThen, foam float64) float64 {
	return days * feedThen / feed * foam / foamThen
}
