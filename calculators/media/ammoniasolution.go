package media

import "mereleaf/calculators/chemistry"

// SolutionDensity returns the density of ammonia solution in g/mL, from its strength
// in per cent of ammonia (NH3) by weight.
//
//	rho = 1 - 0.00410 p + 0.0000147 p^2
//
// Fitted to the table of cooley-1880 from 1 to 35 per cent, of specific gravities
// against water at about 16 Celsius. Figures: media-ammonia-solution.
func SolutionDensity(strength float64) float64 {
	return 1 - 0.00410*strength + 0.0000147*strength*strength
}

// SolutionFor returns the ammonia solution in mL that holds so many g of nitrogen, by
// its strength in per cent of ammonia (NH3) by weight.
//
//	v = 100 m (17.031/14.007)/(p rho)
func SolutionFor(nitrogen, strength float64) float64 {
	return 100 * nitrogen * chemistry.AmmoniaPerNitrogen / (strength * SolutionDensity(strength))
}
