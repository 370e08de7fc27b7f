package water

import (
	"math"

	"mereleaf/calculators/internal/solve"
)

// carbonateShares returns what one mole of dissolved carbonate holds at a pH and
// a temperature in degrees Celsius: its charge, and from it the alkalinity, once
// that of water itself, in eq/L, is added.
func carbonateShares(ph, t float64) (charge, own float64) {
	h := math.Pow(10, -ph)
	acid, second := math.Pow(10, CarbonicPK1(t)-ph), math.Pow(10, ph-CarbonicPK2(t))
	return (1 + 2*second) / (1 + acid + second), math.Pow(10, -WaterPK(t))/h - h
}

// mixedTerms returns what the balance of a mixture has to satisfy, for the
// arguments of MixedPH: the hydrogen of its pH, alkalinity and dissolved carbonate
// by proportion, and the constants, all in mol/L.
func mixedTerms(oldPH, oldAlkalinity, newPH, newAlkalinity, share, t float64) (h, alkalinity, carbon, k1, k2, kw float64) {
	const milligrams = 1000 * CaCO3PerEquivalent
	dissolved := func(ph, alkalinity float64) float64 {
		charge, own := carbonateShares(ph, t)
		return (alkalinity/milligrams - own) / charge
	}
	h = math.Pow(10, -MixedPH(oldPH, oldAlkalinity, newPH, newAlkalinity, share, t))
	alkalinity = Mixed(oldAlkalinity, newAlkalinity, share) / milligrams
	carbon = Mixed(dissolved(oldPH, oldAlkalinity), dissolved(newPH, newAlkalinity), share)
	return h, alkalinity, carbon, math.Pow(10, -CarbonicPK1(t)), math.Pow(10, -CarbonicPK2(t)), math.Pow(10, -WaterPK(t))
}

// MixedPH returns the pH of a mixture of two waters before carbon dioxide enters
// or leaves it: share, 0 to 1, is the part of the new water. Alkalinities are in
// mg/L as CaCO3, t is the temperature of the mixture in degrees Celsius, 0 to 40.
// Alkalinity and dissolved carbonate mix in proportion; pH follows from them. It
// takes all alkalinity for carbonate, and is NaN where an alkalinity cannot have
// the stated pH. Source: usgs-phreeqc for the constants; the balance is that of
// the charges.
func MixedPH(oldPH, oldAlkalinity, newPH, newAlkalinity, share, t float64) float64 {
	const milligrams = 1000 * CaCO3PerEquivalent
	carbon := func(ph, alkalinity float64) float64 {
		charge, own := carbonateShares(ph, t)
		return (alkalinity/milligrams - own) / charge
	}
	oldCarbon, newCarbon := carbon(oldPH, oldAlkalinity), carbon(newPH, newAlkalinity)
	if !(oldCarbon >= 0 && newCarbon >= 0) {
		return math.NaN()
	}
	total := Mixed(oldCarbon, newCarbon, share)
	alkalinity := Mixed(oldAlkalinity, newAlkalinity, share) / milligrams
	ph, _ := solve.Root(func(ph float64) float64 {
		charge, own := carbonateShares(ph, t)
		return total*charge + own - alkalinity
	}, 2, 13)
	return ph
}
