package water

import "math"

// FeedNitrogen returns the total ammonia nitrogen set free by feed, as mass per
// mass of feed, by its fraction of protein P, 0 to 1 (outside NaN): likely
// 0.092 P; low is 25 g per kg of a feed with 35 % protein, scaled to P
// (dof-ammonia); high 0.144 P, all waste left in the water (ebeling-2006, from
// memory). They are the figures of fish.AmmoniaFromFeed; package fish may build
// on this one, so this one does not on that.
// Source: timmons-ebeling-2010, P_TAN = F x PC x 0.092.
func FeedNitrogen(protein float64) (low, likely, high float64) {
	if !(protein >= 0 && protein <= 1) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	return 0.025 / 0.35 * protein, 0.092 * protein, 0.144 * protein
}

// PlateauOfChanges returns what a substance comes to in the long run just before
// each of a row of equal water changes, in mg/L: new water of the given content
// in mg/L, a rise between two changes in mg/L, and the share changed, above 0 to
// 1:
//
//	C = Cin + r/f.
//
// Just after a change it is lower by the rise. It is the mass balance of one
// round, with the water mixed.
func PlateauOfChanges(in, rise, share float64) float64 { return in + rise/share }

// PlateauOfDrip returns what a substance comes to in the long run when new water
// drips in all the time and the pond overflows, in mg/L: content of the new water
// in mg/L, load in g/d, drip in L/d above 0:
//
//	C = Cin + L/Q.
//
// It is the mass balance, with the water mixed and nothing evaporated.
func PlateauOfDrip(in, load, drip float64) float64 { return in + 1000*load/drip }

// Toward returns where a value stands between its start and its plateau when the
// given share of the way, 1 to 0, is left: plateau + left (start - plateau). For
// changes left is LeftAfterChanges, for a drip LeftAfterRunThrough.
func Toward(start, plateau, left float64) float64 { return plateau + left*(start-plateau) }
