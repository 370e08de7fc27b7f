package media

import "math"

// SphereSurface returns the surface in m2 per m3 of a bed of equal balls.
//
//	a = 6 (1 - e)/d
//
// The diameter d is in m, the void fraction e is the share of the bed between
// the pieces, 0 to under 1. It holds for solid pieces that are about as long as
// wide, rough ones included if only the outside counts; rings and tubes are far
// off (figure set media-sphere-identity-check: eight times). Figures:
// media-sphere-identity (fluids-1.0.22).
func SphereSurface(diameter, void float64) float64 { return 6 * (1 - void) / diameter }

// FibreSurface returns the surface in m2 per m3 of a bed of straight fibres that
// do not touch.
//
//	a = 4 (1 - e)/d
//
// The diameter d is in m, the void fraction e 0 to under 1. Figures:
// media-fibre-identity (fluids-1.0.22).
func FibreSurface(diameter, void float64) float64 { return 4 * (1 - void) / diameter }

// FoamStrut returns the thickness in m of the struts of open foam, from its
// pores per inch and its void fraction, by the cubic-cell model.
//
//	pitch = 0.0254/ppi, k = sqrt(4 (1 - e)/(3 pi)), strut = pitch k/(1 - k)
//
// For void fractions from about 0.9; source lacroix-2007, relation from memory.
func FoamStrut(poresPerInch, void float64) float64 {
	const inch = 0.0254
	k := math.Sqrt(4 * (1 - void) / (3 * math.Pi))
	return inch / poresPerInch * k / (1 - k)
}

// FoamSurface returns the surface in m2 per m3 of open foam: FibreSurface of its
// struts. Real foams differ by half either way. Figures: media-foam-geometry.
func FoamSurface(poresPerInch, void float64) float64 {
	return FibreSurface(FoamStrut(poresPerInch, void), void)
}

// Wetting rates in m3 of water per hour and m of wetted edge: the least at which
// a film covers the medium, for pieces up to 75 mm and for larger ones
// (morris-jackson-1953, minimum wetting rate, from memory).
const (
	WettingRate       = 0.08
	CoarseWettingRate = 0.12
)

// WettingLoad returns the load of water in m3/m2/d from which a medium of the
// given surface in m2/m3 is wetted all over, for a wetting rate in m3/m/h.
//
//	load = 24 rate a
//
// Figures: media-wetting-rate (morris-jackson-1953, from memory).
func WettingLoad(surface, rate float64) float64 { return 24 * rate * surface }

// WettedShare returns the share of a medium's surface that the water wets, for a
// load in m3/m2/d and a surface in m2/m3. Low: in step with the load up to
// WettingLoad. High: all of it, because fish farms run at 100 to 250 m3/m2/d and
// their measured rates already count the dry part (timmons-ebeling-2010, from
// memory). Likely: halfway by ratio, the root of the low share; our own
// practice.
func WettedShare(load, surface float64) Range {
	low := math.Min(1, load/WettingLoad(surface, WettingRate))
	return Range{low, math.Sqrt(low), 1}
}
