package water

import "math"

// Molar masses in g/mol from the standard atomic weights (iupac-atomic-weights).
const (
	molarChlorine              = 70.90  // Cl2
	molarThiosulfateCrystals   = 248.18 // Na2S2O3 with five waters
	molarThiosulfateAnhydrous  = 158.10 // Na2S2O3
	molarNitrogenFromChlorine  = 14.007 // N set free for each Cl2 counted as monochloramine
	molarOxygenForThiosulfate  = 64.00  // 2 O2 burn S2O3 to sulfate
	molarAscorbicAcid          = 176.12
	molarSodiumAscorbate       = 198.11
	molarSodiumSulfite         = 126.04
	molarSodiumBisulfite       = 104.06
	molarSodiumMetabisulfite   = 190.10
	thiosulfateToTetrathionate = 2    // mol for each mol of Cl2
	thiosulfateToSulfur        = 1    // mol for each mol of Cl2
	thiosulfateToSulfate       = 0.25 // mol for each mol of Cl2
)

// ThiosulfatePerChlorine returns the mg of sodium thiosulfate that take up 1 mg
// of chlorine, counted as Cl2. moles is how many moles of thiosulfate one mole of
// Cl2 uses: 2 where the reaction ends at tetrathionate, 1 at sulfur and sulfate,
// 1/4 at sulfate. In pond water, near neutral and with thiosulfate to spare, it
// ends near tetrathionate, which uses the most: 7 mg of crystals. The smaller
// figures, 3.5 and 0.875, need acid or much chlorine and leave chlorine behind
// where that is not so. Source: iupac-atomic-weights, stoichiometry; 7 mg is
// also the rule of lab-supplier-answer. anhydrous is the salt without water.
func ThiosulfatePerChlorine(moles float64, anhydrous bool) float64 {
	if anhydrous {
		return moles * molarThiosulfateAnhydrous / molarChlorine
	}
	return moles * molarThiosulfateCrystals / molarChlorine
}

// NeutraliserPerChlorine returns the mg of an agent that take up 1 mg of
// chlorine, counted as Cl2: by the balance of the reaction, and as a field guide
// for waterworks states it, which is up to a tenth more. The agents are
// "thiosulfate" (crystals), "thiosulfate-anhydrous", "ascorbic-acid",
// "sodium-ascorbate", "sodium-sulfite", "sodium-bisulfite" and
// "sodium-metabisulfite"; any other gives NaN. The guide's figure for
// thiosulfate, 1.9, names no hydrate and is too small for crystals; both values
// are then those of ThiosulfatePerChlorine to tetrathionate. Source: awwa-field-guide, table 7-2;
// iupac-atomic-weights, stoichiometry.
func NeutraliserPerChlorine(agent string) (balance, field float64) {
	switch agent {
	case "thiosulfate":
		balance = ThiosulfatePerChlorine(thiosulfateToTetrathionate, false)
		return balance, balance
	case "thiosulfate-anhydrous":
		balance = ThiosulfatePerChlorine(thiosulfateToTetrathionate, true)
		return balance, balance
	case "ascorbic-acid":
		return molarAscorbicAcid / molarChlorine, 2.5
	case "sodium-ascorbate":
		return molarSodiumAscorbate / molarChlorine, 2.8
	case "sodium-sulfite":
		return molarSodiumSulfite / molarChlorine, 1.96
	case "sodium-bisulfite":
		return molarSodiumBisulfite / molarChlorine, 1.61
	case "sodium-metabisulfite": // one mole gives two of sulfite
		return molarSodiumMetabisulfite / 2 / molarChlorine, 1.47
	}
	return math.NaN(), math.NaN()
}

// ChloramineNitrogen returns the mg/L of ammonia, as nitrogen, that chloramine
// sets free when it is neutralised, from its reading in mg/L as Cl2: 0.198 of
// it. Source: iupac-atomic-weights, one N for each Cl2 of monochloramine.
func ChloramineNitrogen(chloramine float64) float64 {
	return chloramine * molarNitrogenFromChlorine / molarChlorine
}

// ThiosulfateOxygen returns the mg/L of oxygen that bacteria use, over days, if
// they burn the given mg/L of thiosulfate crystals to sulfate: 0.258 of it.
// Source: iupac-atomic-weights, 2 O2 for each thiosulfate.
func ThiosulfateOxygen(crystals float64) float64 {
	return crystals * molarOxygenForThiosulfate / molarThiosulfateCrystals
}
