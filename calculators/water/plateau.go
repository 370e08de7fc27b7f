package water

import "math"

// Total ammonia nitrogen per mass of protein fed.
const (
	tanPerProtein     = 0.092        // timmons-ebeling-2010: 0.16 x 0.80 x 0.80 x 0.90
	tanMostPerProtein = 0.144        // ebeling-2006: all waste left in the water; memory
	tanLowPerProtein  = 0.025 / 0.35 // dof-ammonia: 25 g per kg of feed with 30 to 40 % protein
)

// FeedNitrogen returns the total ammonia nitrogen set free by feed, as mass per
// mass of feed:
//
//	0.092 P,
//
// P the fraction of protein in the feed, 0 to 1 (outside NaN). Low is 25 g per
// kg of a feed with 35 % protein, scaled to P (dof-ammonia); high is 0.144 P,
// all waste left to rot in the water (ebeling-2006, from memory).
// Source: timmons-ebeling-2010, P_TAN = F x PC x 0.092.
func FeedNitrogen(protein float64) (low, likely, high float64) {
	if !(protein >= 0 && protein <= 1) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	return tanLowPerProtein * protein, tanPerProtein * protein, tanMostPerProtein * protein
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
