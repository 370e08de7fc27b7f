package media

// Oxygen in a film: the diffusion in water at about 20 Celsius, of which a film
// lets four fifths through, in m2/d (memory; figure set media-oxygen-penetration).
const filmDiffusion = 0.8 * 2.1e-9 * 86400

// OxygenDepth returns how far in mm oxygen gets into a film or a pore that turns
// ammonia into nitrate, from the oxygen in the water in mg/L and the rate in g of
// nitrogen per m2 and day, above 0. Deeper in there is no oxygen.
//
//	L = 2 D O/(4.57 R)
//
// Consumption is taken as even down to that depth. Figures:
// media-oxygen-penetration, arithmetic on assumed values.
func OxygenDepth(oxygen, rate float64) float64 {
	return 1000 * 2 * filmDiffusion * oxygen / (4.57 * rate)
}

// HalfDenitrification is the oxygen in mg/L at which bacteria use half as much
// nitrate as without oxygen (henze-2000, heterotroph oxygen half saturation).
const HalfDenitrification = 0.2

// DenitrifyingShare returns the part of its rate without oxygen at which nitrate
// is removed, from the oxygen in mg/L.
//
//	K/(K + O)
//
// Source henze-2000; figure set media-denitrification-needs.
func DenitrifyingShare(oxygen float64) float64 {
	return HalfDenitrification / (HalfDenitrification + oxygen)
}

// BedDenitrification returns the nitrogen in g a day that a cubic metre of bed
// without oxygen takes out: fed with wood or sludge the least, dosed with
// methanol the most (he-2018, abstract; figure set media-denitrification-rates).
// Likely is that of fish waste.
func BedDenitrification() Range { return Range{2.2, 4.5, 23.4} }

// ShowerNitrogenLoss returns the part of the nitrogen fed that leaves a shower
// filter as gas, whatever its media: at most a tenth, and nothing to rely on
// (practice; figure set media-nitrogen-loss-evidence).
func ShowerNitrogenLoss() Range { return Range{0, 0, 0.1} }
