package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Units of hardness and alkalinity in mg/L as CaCO3. A German degree is 10 mg/L
// CaO, an English one (Clark) one grain CaCO3 to the imperial gallon, a French
// one 10 mg/L CaCO3 (iupac-atomic-weights, nist-sp811).
const (
	GermanDegree  = chemistry.GermanDegree
	EnglishDegree = grain / imperialGallon
	FrenchDegree  = 10.0
	GrainPerUS    = grain / usGallon // one grain CaCO3 to the US gallon
)

// The grain in mg, the pound in g, and the gallons in litres (nist-sp811).
const (
	grain          = 64.79891
	pound          = 453.59237
	usGallon       = 3.785411784
	imperialGallon = 4.54609
)

// AsCaCO3 returns what one of a unit of hardness or alkalinity is in mg/L as
// CaCO3; NaN for a unit it does not know. The units are "caco3" (mg/L), "german",
// "english" and "french" degrees, "meq" (meq/L), "mmol" (mmol/L of alkaline
// earths), "us-grain" (grains to the US gallon), and mg/L of "calcium",
// "magnesium" and "bicarbonate". Molar masses from iupac-atomic-weights.
func AsCaCO3(unit string) float64 {
	switch unit {
	case "caco3":
		return 1
	case "german":
		return GermanDegree
	case "english":
		return EnglishDegree
	case "french":
		return FrenchDegree
	case "us-grain":
		return GrainPerUS
	case "meq":
		return CaCO3PerEquivalent
	case "mmol":
		return calciumCarbonate
	case "calcium":
		return calciumCarbonate / calcium
	case "magnesium":
		return calciumCarbonate / magnesium
	case "bicarbonate":
		return CaCO3PerEquivalent / bicarbonateIon
	}
	return math.NaN()
}

// CountsAs says which unit of hardness answers which option of a choice of units.
// The first option is one that all others are turned into.
func CountsAs(input string, options ...string) calculators.Counts {
	counts := calculators.Counts{Input: input, Kind: quantity.Hardness}
	for _, option := range options {
		counts.As = append(counts.As, calculators.CountsAs{Code: hardnessCode(option), Option: option})
	}
	return counts
}

func hardnessCode(option string) string {
	switch option {
	case "german":
		return "{°dH}"
	case "french":
		return "{°fH}"
	case "english":
		return "{°e}"
	case "meq":
		return "{meq}/L"
	case "us-grain":
		return "{gpg}"
	}
	return "mg/L"
}

// Equivalent masses of what raises KH gently, in g/eq (iupac-atomic-weights).
const (
	sodiumBicarbonate    = 84.006
	potassiumBicarbonate = 100.114
)

// AlkalinityDose returns the pure compound that raises the alkalinity of a
// volume, in grams: rise in mg/L as CaCO3, volume in litres, equivalent mass of
// the compound in g/eq. It is the balance of equivalents (iupac-atomic-weights):
//
//	m = rise V equivalent/50.043.
func AlkalinityDose(rise, volume, equivalent float64) float64 {
	return rise * volume / 1000 * equivalent / CaCO3PerEquivalent
}

// CrashDose returns the sodium bicarbonate in g that a volume in litres takes in a
// day where the pH has crashed: for limits.KHStepCrash of alkalinity, by
// AlkalinityDose.
func CrashDose(volume float64) float64 {
	return AlkalinityDose(limits.KHStepCrash, volume, sodiumBicarbonate)
}

// PHRise returns how far the pH rises when the alkalinity goes from one value
// above 0 to another, in one unit, and the carbon dioxide stays: log10(after/
// before), the balance of the first step of carbonic acid below about pH 8.5.
func PHRise(before, after float64) float64 { return math.Log10(after / before) }
