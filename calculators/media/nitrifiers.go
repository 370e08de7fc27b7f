package media

import "math"

// DecayTheta is the growth of the decay of nitrifiers per degree, as a factor
// (metcalf-eddy-2014, page 762).
const DecayTheta = 1.029

// Organism is what a published parameter set says of a group of bacteria:
// growth and decay per day, yield in g per g of nitrogen, half saturations in
// mg/L of nitrogen and of oxygen, the temperature in Celsius at which they hold.
type Organism struct {
	Temperature, Growth, GrowthTheta, Yield, HalfNitrogen, HalfOxygen, Decay float64
}

// NitrifierSets is the number of parameter sets.
const NitrifierSets = 3

// NitrifierSet returns the bacteria that live on ammonia and those that live on
// nitrite, by the sets metcalf-eddy-2014 (0; its nitrite row from memory),
// sin-2008 (1) and biops-docs (2). Where a set states no growth per degree, it is
// that of vannecke-volcke-2015. Figures: media-nitrifier-parameters.
//
// They were measured on sewage sludge stirred in water; on media, where food and
// oxygen must first reach the film, times are rather longer.
func NitrifierSet(set int) (ammonia, nitrite Organism) {
	const ammoniaTheta, nitriteTheta = 1.100, 1.064
	switch set {
	case 0:
		return Organism{20, 0.9, 1.072, 0.15, 0.5, 0.5, 0.17}, Organism{20, 1, 1.063, 0.05, 0.2, 0.9, 0.17}
	case 1:
		return Organism{25, 1.5, ammoniaTheta, 0.15, 0.5, 0.7, 0.1}, Organism{25, 0.5, nitriteTheta, 0.05, 1.5, 1.5, 0.12}
	}
	return Organism{30, 2.05, ammoniaTheta, 0.131, 2.4, 0.6, 0.13}, Organism{30, 1.45, nitriteTheta, 0.0565, 0.5, 0.4, 0.06}
}

// BacteriaAt returns the bacteria at another temperature in Celsius, their growth slowed
// by the oxygen in mg/L.
//
//	mu = mu0 theta^(t - t0) O/(K + O), b = b0 1.029^(t - t0)
func BacteriaAt(o Organism, celsius, oxygen float64) Organism {
	o.Growth *= TemperatureFactor(o.GrowthTheta, celsius, o.Temperature) * oxygen / (o.HalfOxygen + oxygen)
	o.Decay *= TemperatureFactor(DecayTheta, celsius, o.Temperature)
	o.Temperature = celsius
	return o
}

// SettledNitrogen returns the nitrogen in mg/L at which the bacteria grow as fast as they
// decay: whatever the load, a mature filter ends there. It is infinite if they
// never grow as fast.
//
//	S = K b/(mu - b)
func SettledNitrogen(o Organism) float64 {
	if o.Growth <= o.Decay {
		return math.Inf(1)
	}
	return o.HalfNitrogen * o.Decay / (o.Growth - o.Decay)
}

// MatureBacteria returns the bacteria in mg/L of water that live on a load in mg/L/d.
//
//	X = Y L/b
func MatureBacteria(o Organism, load float64) float64 { return o.Yield * load / o.Decay }
