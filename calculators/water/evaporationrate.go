package water

import "math"

// The formulas of evaporation from still, open water. Each takes the vapour
// pressure at the water and in the air in kPa, and the wind over the water in
// m/s, and returns mm of water a day, below 0 where vapour condenses. They were
// fitted to pans, pools and warm fish ponds, and differ from each other twofold.

// LatentHeat returns the heat in kJ that evaporates 1 kg of water at a
// temperature in degrees Celsius: 2501 - 2.36 t, within 0.2 % of the steam table
// from 0 to 40 (memory).
func LatentHeat(t float64) float64 { return 2501 - 2.36*t }

// EvaporationPool is the formula of the heating trade for pools, converted from
// w = (95 + 37.4 v)(pw - pa)/Y in lb/(h ft2), mph, inHg and Btu/lb:
//
//	w = (0.089 + 0.0782 v)(pw - pa)/Y  kg/(s m2)
//
// Source: ashrae-evaporation; the SI form from memory.
func EvaporationPool(water, air, wind, latent float64) float64 {
	return secondsPerDay * (0.089 + 0.0782*wind) * (water - air) / latent
}

// tradeUnits turns lb/(h ft2) for each inHg over Btu/lb into kg/(s m2) for each
// kPa over kJ/kg, milesPerHour turns m/s into mph, and poundsPerPSI turns lb/(h
// ft2) for each psi into kg/(s m2) for each kPa: exact factors of nist-sp811.
const (
	tradeUnits   = 9.31548e-4
	milesPerHour = 1 / 0.44704
	poundsPerPSI = 1.967045e-4
)

// EvaporationQuiet is the same with 69.4 + 30.8 v for 95 + 37.4 v, for water that
// nobody stirs. Source: forum-pond-evaporation.
func EvaporationQuiet(water, air, wind, latent float64) float64 {
	return secondsPerDay * tradeUnits * (69.4 + 30.8*milesPerHour*wind) * (water - air) / latent
}

// EvaporationFishPond is W = (0.097 + 0.038 v)(pw - pa) A in lb/h, mph, psi and
// ft2, for warm fish ponds. As quoted the wind term is 0.38, ten times that of
// every other formula; 0.038 is from memory. Source: rafferty-boyd-1998.
func EvaporationFishPond(water, air, wind float64) float64 {
	return secondsPerDay * poundsPerPSI * (0.097 + 0.038*milesPerHour*wind) * (water - air)
}

// EvaporationHumidity is g = (25 + 19 v)(xs - x) in kg/(h m2), with x the kg of
// vapour in 1 kg of dry air: 0.622 p/(P - p), P the air pressure in kPa. Source:
// engineering-evaporation.
func EvaporationHumidity(water, air, wind, pressure float64) float64 {
	return 24 * (25 + 19*wind) * (humidityRatio(water, pressure) - humidityRatio(air, pressure))
}

// humidityRatio is the vapour in 1 kg of dry air, kg, from both pressures in kPa.
func humidityRatio(vapour, pressure float64) float64 { return 0.622 * vapour / (pressure - vapour) }

const secondsPerDay = 86400

// Evaporation returns the least, the mean and the greatest of the four formulas
// in mm/d, 0 where vapour condenses, for water and air temperatures in degrees
// Celsius, 0 to 40, relative humidity 0 to 1 and wind over the water in m/s, at
// the standard pressure. Outside 0 to 40 degrees it returns NaN.
func Evaporation(water, air, humidity, wind float64) (low, mean, high float64) {
	over, beyond := VapourPressure(water), humidity*VapourPressure(air)
	if over < beyond {
		return 0, 0, 0
	}
	a := EvaporationPool(over, beyond, wind, LatentHeat(water))
	b := EvaporationQuiet(over, beyond, wind, LatentHeat(water))
	c := EvaporationHumidity(over, beyond, wind, StandardPressure)
	d := EvaporationFishPond(over, beyond, wind)
	low, high = math.Min(math.Min(a, b), math.Min(c, d)), math.Max(math.Max(a, b), math.Max(c, d))
	return low, (a + b + c + d) / 4, high
}
