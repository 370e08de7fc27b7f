package water

import (
	"math"

	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/solve"
)

// Molar masses of the carbonates in g/mol, from the standard atomic weights
// (iupac-atomic-weights).
const (
	calciumCarbonate = chemistry.CalciumCarbonate
	calciumOxide     = chemistry.CalciumOxide
	bicarbonateIon   = 61.016
	carbonDioxide    = 44.009
	calcium          = 40.078
	magnesium        = 24.305
)

// CaCO3PerEquivalent is the calcium carbonate that makes up one equivalent of
// alkalinity or hardness, in g/eq: half its molar mass (iupac-atomic-weights).
const CaCO3PerEquivalent = calciumCarbonate / 2

// Where the carbonate constants are used, degrees Celsius. They are stated to
// 90, which no pond sees.
const (
	carbonateColdest = 0.0
	carbonateWarmest = 40.0
)

func carbonateKelvin(t float64) float64 {
	if !(t >= carbonateColdest && t <= carbonateWarmest) {
		return math.NaN()
	}
	return t + zeroCelsius
}

// CarbonicPK1 returns the pK of the first step of carbonic acid in pure water,
//
//	pK1 = 356.3094 + 0.06091964 T - 21834.37/T - 126.8339 log10 T + 1684915/T^2,
//
// T the kelvin of t in degrees Celsius, here 0 to 40; outside it returns NaN.
// Source: usgs-phreeqc, phreeqc.dat SOLUTION_SPECIES (Plummer and Busenberg
// 1982). Harned and Davis 1943 differ by at most 0.002.
func CarbonicPK1(t float64) float64 {
	k := carbonateKelvin(t)
	return 464.1965 - 107.8871 + (0.09344813-0.03252849)*k + (5151.79-26986.16)/k +
		(38.92561-165.75951)*math.Log10(k) + (2248628.9-563713.9)/(k*k)
}

// CarbonicPK2 returns the pK of the second step of carbonic acid in pure water,
//
//	pK2 = 107.8871 + 0.03252849 T - 5151.79/T - 38.92561 log10 T + 563713.9/T^2,
//
// with the range and source of CarbonicPK1.
func CarbonicPK2(t float64) float64 {
	k := carbonateKelvin(t)
	return 107.8871 + 0.03252849*k - 5151.79/k - 38.92561*math.Log10(k) + 563713.9/(k*k)
}

// WaterPK returns the pK of water itself,
//
//	pKw = 283.971 + 0.05069842 T - 13323/T - 102.24447 log10 T + 1119669/T^2,
//
// with the range and source of CarbonicPK1.
func WaterPK(t float64) float64 {
	k := carbonateKelvin(t)
	return 283.971 + 0.05069842*k - 13323/k - 102.24447*math.Log10(k) + 1119669/(k*k)
}

// CarbonDioxide returns the free carbon dioxide of fresh water in mg/L from its
// pH, its alkalinity in mg/L as CaCO3 and its temperature in degrees Celsius:
//
//	[HCO3] = (A - Kw/h + h)/(1 + 2 K2/h),   [CO2] = h [HCO3]/K1,
//
// with h = 10^-pH and A in eq/L. It takes all alkalinity for carbonate and
// leaves out the effect of other salts; 0 to 40 degrees, outside it returns NaN,
// as it does where the alkalinity cannot hold such a pH.
// Source: usgs-phreeqc for the constants; the balance is that of the charges.
func CarbonDioxide(ph, alkalinity, t float64) float64 {
	h := math.Pow(10, -ph)
	k1, k2, kw := math.Pow(10, -CarbonicPK1(t)), math.Pow(10, -CarbonicPK2(t)), math.Pow(10, -WaterPK(t))
	bicarbonate := (alkalinity/CaCO3PerEquivalent/1000 - kw/h + h) / (1 + 2*k2/h)
	if !(bicarbonate >= 0) {
		return math.NaN()
	}
	return 1000 * carbonDioxide * h * bicarbonate / k1
}

// airCarbonDioxide is the carbon dioxide of open air, moles in a mole of dry air:
// the mean of the year 2023 over the sea (noaa-co2-2024).
const airCarbonDioxide = 419.3e-6

// CarbonDioxideSolubility returns the carbon dioxide that water takes up under the
// pressure of one atmosphere of it alone, mol/L,
//
//	log10 KH = 10.5624 - 0.023547 T - 3972.8/T + 587460/T^2 + 1.9194e-5 T^2,
//
// T the kelvin of t in degrees Celsius, here 0 to 40; outside it returns NaN. A
// litre stands for the kilogram of the source. Source: usgs-phreeqc, phreeqc.dat
// PHASES, CO2(g).
func CarbonDioxideSolubility(t float64) float64 {
	k := carbonateKelvin(t)
	return math.Pow(10, 10.5624-0.023547*k-3972.8/k+587460/(k*k)+1.9194e-5*k*k)
}

// CarbonDioxideOfAir returns the carbon dioxide in mg/L of water in balance with
// open air under a station pressure in kPa, at a temperature in degrees Celsius,
// 0 to 40 (outside NaN):
//
//	KH x (P - Pw),
//
// x the share of it in dry air, Pw the pressure of the water vapour over the
// water. Source: usgs-phreeqc for KH, noaa-co2-2024 for x.
func CarbonDioxideOfAir(t, pressure float64) float64 {
	return 1000 * carbonDioxide * CarbonDioxideSolubility(t) * airCarbonDioxide * (pressure - VapourPressure(t)) / StandardPressure
}

// PHOfCarbonDioxide returns the pH at which water of an alkalinity in mg/L as
// CaCO3 holds a carbon dioxide in mg/L, at a temperature in degrees Celsius: the
// inverse of CarbonDioxide, by the same balance
//
//	A = (K1 [CO2]/h)(1 + 2 K2/h) + Kw/h - h.
//
// Outside 0 to 40 degrees it returns NaN. Source: usgs-phreeqc for the constants.
func PHOfCarbonDioxide(gas, alkalinity, t float64) float64 {
	held := gas / 1000 / carbonDioxide
	k1, k2, kw := CarbonicPK1(t), CarbonicPK2(t), WaterPK(t)
	ph, ok := solve.Root(func(ph float64) float64 {
		return held*math.Pow(10, ph-k1)*(1+2*math.Pow(10, ph-k2)) + math.Pow(10, ph-kw) - math.Pow(10, -ph) - alkalinity/CaCO3PerEquivalent/1000
	}, 2, 13)
	if !ok {
		return math.NaN()
	}
	return ph
}

// TradeCarbonDioxide returns the carbon dioxide in mg/L by the rule of the
// trade, 3 x dKH x 10^(7 - pH), with the KH in German degrees. It knows no
// temperature: the factor is 4.6 at 10 degrees and 3.5 at 25, so that the rule
// shows too little. Common practice; for comparison only.
func TradeCarbonDioxide(ph, germanDegrees float64) float64 {
	return 3 * germanDegrees * math.Pow(10, 7-ph)
}
