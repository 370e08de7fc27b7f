package readings

import (
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/water"
)

// LevelWord names a level, 0 (in order) to 3 (danger now).
func LevelWord(level int) string { return levelWord(level) }

// Series is a test that a log of readings draws: one of the calculator's inputs
// or its output "toxic". Its limits are the bands by which the calculator judges.
type Series struct {
	Name   string
	Basis  string // the input that says as what the kit reads it; "" for none
	Unit   string // UCUM code that the limits are in
	As     string // what the limits count: "as nitrogen"; "" if that is plain
	Limits []limits.Limit
}

// AllSeries lists what a log of readings draws, in the order of the calculator's
// inputs, with what comes of total ammonia behind it.
func AllSeries() []Series {
	return []Series{
		{"tan", "ammonia-basis", "mg/L", "as nitrogen", limitsOf(limits.TotalAmmonia)},
		{"toxic", "", "mg/L", "as nitrogen", limitsOf(ammonia)},
		{"ph", "", "[pH]", "", limitsOf(acidity)},
		{"temperature", "", "Cel", "", limitsOf(temperature)},
		{"nitrite", "nitrite-basis", "mg/L", "as nitrogen", limitsOf(nitrite)},
		{"oxygen", "", "mg/L", "", limitsOf(oxygen)},
		{"kh", "kh-unit", "mg/L", "as CaCO3", limitsOf(buffer)},
		{"nitrate", "nitrate-basis", "mg/L", "as NO3", limitsOf(nitrate)},
		{"chlorine", "", "mg/L", "", limitsOf(chlorine)},
	}
}

// limitsOf lists the limits that the bands of a reading begin at, from the mildest
// to the worst.
func limitsOf(kind int) []limits.Limit {
	var all []limits.Limit
	for band := watch; band <= danger; band++ {
		for _, side := range []limits.Side{limits.Below, limits.Above} {
			for _, l := range limits.Of(kind) {
				if l.Band == band && l.Side == side {
					all = append(all, l)
				}
			}
		}
	}
	return all
}

// InBands turns what a kit shows into what the bands count. basis is the input
// that says as what the kit reads it, option what it says.
func InBands(basis, option string, v float64) float64 {
	switch basis + " " + option {
	case "ammonia-basis as-nh3":
		return v / chemistry.AmmoniaPerNitrogen
	case "ammonia-basis as-nh4":
		return v / chemistry.AmmoniumPerNitrogen
	case "nitrite-basis as-no2":
		return v / chemistry.NitritePerNitrogen
	case "nitrate-basis as-n":
		return v * chemistry.NitratePerNitrogen
	case "kh-unit german":
		return v * water.GermanDegree
	}
	return v
}
