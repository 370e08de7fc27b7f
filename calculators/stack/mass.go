package stack

import "mereleaf/calculators/media"

// Gravity is the standard acceleration of free fall in m/s2, exact by definition
// (cgpm-1901).
const Gravity = 9.80665

// waterDensity in kg/m3; the 0.3 % between this and pond water are far below
// what is known of any medium.
const waterDensity = 1000

// GroundPressure returns the pressure in Pa of a mass in kg on a base of a length
// and width in m.
//
//	p = m g/(l w)
//
// Figures: hydraulics-stack-bearing. Even pressure: a stack that leans presses
// up to twice as hard on one edge.
func GroundPressure(mass, length, width float64) float64 { return mass * Gravity / (length * width) }

// FloodedDensity returns the density in kg/m3 of a box's filling when the box is
// blocked and full of water, from the medium's dry and drained densities and the
// share of voids between its pieces.
//
//   - light media, under 200 kg/m3 dry: 950 to 1100, likely the middle (figure
//     set hydraulics-bulk-density, common practice)
//   - others: drained density and water in the voids, our own practice
func FloodedDensity(dry, drained, void media.Range) media.Range {
	if dry.High < 200 {
		return media.Between(950, 1100)
	}
	return media.Range{
		Low:    drained.Low + waterDensity*void.Low,
		Likely: drained.Likely + waterDensity*void.Likely,
		High:   drained.High + waterDensity*void.High,
	}
}

// BearingPressure returns the pressure in Pa that a ground bears by building
// codes, which is for houses, not for neat figures in a garden: loose sand or
// gravel, firm clay, dense sand or gravel (nbc-canada-9). For topsoil and fill no
// code has a value; 25 kPa is common practice. An unknown ground bears nothing: 0.
// Figures: hydraulics-soil-bearing.
func BearingPressure(ground string) float64 {
	switch ground {
	case "topsoil":
		return 25e3
	case "loose":
		return 50e3
	case "firm-clay":
		return 75e3
	case "dense":
		return 150e3
	}
	return 0
}

// liftsAnHour is the most often that the filters for a lift hold for (hse-indg143,
// from memory).
const liftsAnHour = 30
