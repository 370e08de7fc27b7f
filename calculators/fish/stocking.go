package fish

// DensityByFish returns the stocking that a rule in litres per fish allows,
// kg/m3, for fish of a mean weight in kilograms: 1000 w/v. It is a definition.
func DensityByFish(weight, litres float64) float64 { return 1000 * weight / litres }

// DensityByLength returns the stocking that a rule in surface per length of fish
// allows, kg/m3:
//
//	n w/V, n = 10^4 A/(c L),
//
// A the surface in m2, V the volume in m3, w the mean weight in kilograms, L the
// mean length in cm and c the rule in cm2 of surface for each cm of fish. It is a
// definition.
func DensityByLength(area, volume, weight, length, perLength float64) float64 {
	return 1e4 * area / (perLength * length) * weight / volume
}

// DensityByArea returns the stocking that a rule in kilograms per m2 of surface
// allows, kg/m3: m A/V. It is a definition.
func DensityByArea(area, volume, perArea float64) float64 { return perArea * area / volume }

// DensityByTotalLength returns the stocking that a rule in litres per length of fish
// allows, kg/m3, for fish of a mean weight in kilograms and a mean length in cm:
//
//	1000 w/(c L),
//
// c the rule in litres for each cm. It is a definition.
func DensityByTotalLength(weight, length, perLength float64) float64 {
	return 1000 * weight / (perLength * length)
}

// NumberByFirst returns how many fish a rule allows that asks for so much water for the
// first fish and so much for each next:
//
//	n = 1 + (V - v_1)/v_2,
//
// all volumes in one unit; nothing where there is not even the first one's. It is a
// definition.
func NumberByFirst(volume, first, next float64) float64 {
	if volume < first {
		return 0
	}
	return 1 + (volume-first)/next
}
