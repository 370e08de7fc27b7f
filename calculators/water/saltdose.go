package water

import (
	"math"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
)

// SaltMass returns the salt in g that raises a volume of water in L from one
// content to another, both in g/L, and 0 if it is there already. Nothing is lost
// but by water changes: salt does not evaporate, and no filter holds it.
func SaltMass(volume, before, after float64) float64 { return volume * math.Max(0, after-before) }

// SaltBath returns the range of salt content in g/L that a source states for a
// use, or NaN twice for a use it does not know. The uses: "relief" for weeks in
// a pond (salt-reference-page), "nitrite" for 100 mg/L chloride (srac-462),
// "recovery" after handling for a day or more (kubitza-salt), "bath" of several
// hours (francis-floyd-vm86), "mucus-bath" of 30 to 60 min, "parasite-dip" of 3
// min to 1 h (both salt-reference-page), "egg-bath" of 10 to 15 min
// (kubitza-salt), "sea-dip" of 30 s to 10 min (francis-floyd-vm86), and "pond",
// the hobby's level for weeks, which is common practice without a source.
func SaltBath(use string) (low, high float64) {
	switch use {
	case "nitrite":
		s := chemistry.SaltPerChloride * limits.ChlorideShield
		return s, s
	case "relief":
		return 1, 2
	case "pond":
		return limits.SaltPond, limits.SaltPond
	case "recovery":
		return 6, 6
	case "bath":
		return 5, 10
	case "mucus-bath":
		return 12, 12
	case "parasite-dip":
		return 25, 30
	case "egg-bath":
		return 20, 30
	case "sea-dip":
		return limits.SaltStrongest, limits.SaltStrongest
	}
	return math.NaN(), math.NaN()
}
