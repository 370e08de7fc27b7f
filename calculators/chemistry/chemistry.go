// Package chemistry holds atomic weights and what follows from them alone: as
// what a concentration may be counted.
package chemistry

// Standard atomic weights, g/mol (iupac-atomic-weights).
const (
	Hydrogen = 1.008
	Nitrogen = 14.007
	Oxygen   = 15.999
	Sodium   = 22.98977
	Chlorine = 35.45
)

// Masses of the forms of nitrogen that hold 1 g of it, in g/g.
const (
	AmmoniaPerNitrogen  = (Nitrogen + 3*Hydrogen) / Nitrogen // NH3
	AmmoniumPerNitrogen = (Nitrogen + 4*Hydrogen) / Nitrogen // NH4
	NitritePerNitrogen  = (Nitrogen + 2*Oxygen) / Nitrogen   // NO2
	NitratePerNitrogen  = (Nitrogen + 3*Oxygen) / Nitrogen   // NO3
)

// Molar masses of calcium carbonate and oxide, g/mol (iupac-atomic-weights).
const (
	CalciumCarbonate = 100.086
	CalciumOxide     = 56.077
)

// GermanDegree is a German degree of hardness in mg/L as calcium carbonate: 10 mg/L
// of calcium oxide.
const GermanDegree = 10 * CalciumCarbonate / CalciumOxide

// SaltPerChloride is the mass of sodium chloride that holds 1 g of chloride, in
// g/g.
const SaltPerChloride = (Sodium + Chlorine) / Chlorine
