package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// DissolvedOxygen declares the calculator of the oxygen water can hold.
func DissolvedOxygen() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "oxygen-saturation",
		Inputs: oxygenInputs(),
		Outputs: []calculators.Output{
			{Name: "saturation", Label: "Oxygen at saturation", Unit: "mg/L", Digits: 3, Help: "What the water holds when it has had all the air it can take."},
			{Name: "percent", Label: "Your reading, as a share of saturation", Unit: "%", Digits: 2},
			{Name: "room", Label: "Oxygen still missing", Unit: "mg/L", Digits: 2, Help: "Saturation less your reading; below zero the water is over-full."},
			{Name: "pressure", Label: "Air pressure at the pond", Unit: "kPa", Digits: 3, Fine: true},
		},
		Compute: computeOxygen,
	}
	if calculators.Documented {
		c.Title = "Oxygen the water can hold"
		c.Question = "How much oxygen can my pond water hold, and how full of it is it?"
		c.Part = "water"
		c.Formulas = oxygenFormulas()
		c.Hazards = []calculators.Hazard{calculators.Infection, calculators.FishHealth}
		c.Cautions = []string{
			"Oxygen is lowest just before sunrise. A good reading in the afternoon proves nothing about the night.",
			"Warm water holds less and fish need more: the hottest night of the year is the one to plan for.",
		}
		c.Example = calculators.Example{
			Story: "Ines tests Lower Reach at sunrise in July: {reading} oxygen, water {temperature}, the garden {altitude} above the sea.",
			Pond:  "ines", Day: "2025-07-20",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Oxygen at saturation in fresh water, by altitude",
			Rows:    calculators.Axis{Input: "temperature", Values: []string{"0 Cel", "5 Cel", "10 Cel", "15 Cel", "20 Cel", "25 Cel", "30 Cel", "35 Cel"}},
			Columns: calculators.Axis{Input: "altitude", Values: []string{"0 m", "500 m", "1000 m", "1500 m", "2000 m"}},
			Show:    []string{"saturation"},
		}
		c.Chart = calculators.Chart{
			Caption: "Oxygen at saturation falls as water warms, and with altitude",
			X:       "temperature", From: "0 Cel", To: "40 Cel",
			Series: calculators.Axis{Input: "altitude", Values: []string{"0 m", "1000 m", "2000 m"}},
			Show:   "saturation",
		}
	}
	return c
}

func oxygenInputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature,
			Help:   "A thermometer held in the pond for two minutes.",
			Accept: calculators.Range{Low: oxygenColdest, High: oxygenWarmest, Origin: "benson-krause-1984, stated range"},
		},
		{
			Name: "pressure-from", Label: "Air pressure from", Type: calculators.Choice, Default: "altitude",
			Help: "The altitude is good to a few per cent; a barometer at the pond is exact.",
			Options: []calculators.Option{
				{Name: "altitude", Label: "the altitude of the pond"},
				{Name: "barometer", Label: "a barometer at the pond"},
			},
		},
		{
			Name: "altitude", Fact: "altitude", Label: "Altitude of the pond", Kind: quantity.Length, Default: "0 m",
			Help:   calculators.Text("Height above the sea, from a map; below {low m} it hardly matters.", lowGround),
			Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"},
			When:   calculators.When{Input: "pressure-from", Is: []string{"altitude"}},
		},
		{
			Name: "pressure", Label: "Pressure on the barometer", Kind: quantity.Barometer,
			Help:   "The true pressure at the pond, not a weather report's, which is corrected to sea level.",
			Accept: calculators.Range{Low: 50, High: 110, Origin: "sanity limit"},
			When:   calculators.When{Input: "pressure-from", Is: []string{"barometer"}},
		},
		{
			Name: "salinity", Fact: "salinity", Label: "Salt in the water", Kind: quantity.Salinity, Fine: true, Default: "0 g/kg",
			Help:   saltHelp(),
			Accept: calculators.Range{Low: 0, High: oxygenSaltiest, Origin: "benson-krause-1984, stated range"},
		},
		{
			Name: "reading", Fact: "oxygen", Label: "Your oxygen reading", Kind: quantity.Concentration, Optional: true,
			Help:   "From a kit or meter, at sunrise when it is lowest.",
			Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"},
		},
	}
}

// lowGround is the altitude in metres below which the air holds all but 2 % of the
// pressure at the sea.
const lowGround = 200.0

func oxygenFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Benson and Krause 1984", Says: "Oxygen in fresh or salt water under the standard pressure, 0 to 40 °C and 0 to 40 g/kg.",
			TeX:    `\ln C = -139.34411 + \frac{1.575701\cdot 10^5}{T} - \frac{6.642308\cdot 10^7}{T^2} + \frac{1.243800\cdot 10^{10}}{T^3} - \frac{8.621949\cdot 10^{11}}{T^4} - S\left(0.017674 - \frac{10.754}{T} + \frac{2140.7}{T^2}\right)`,
			Source: "benson-krause-1984", Locator: "equation for ln C", Basis: "published", Function: "water.OxygenSaturation",
			Check: calculators.Implicit("C [mg/L] oxygen at saturation: T [K] 273.15..313.15, S [g/kg] salinity 0..40", func(kelvin, salinity float64) float64 { return OxygenSaturation(kelvin-zeroCelsius, salinity) }),
		},
		{
			Name: "Pressure correction", Says: "The same at another air pressure P, in atmospheres, with t in °C.",
			TeX:    `C_P = C\,P\,\frac{(1 - P_w/P)(1 - q P)}{(1 - P_w)(1 - q)},\quad q = 0.000975 - 1.426\cdot 10^{-5}\,t + 6.436\cdot 10^{-8}\,t^2`,
			Source: "benson-krause-1984", Locator: "pressure correction", Basis: "published", Function: "water.OxygenAtPressure",
			Check: calculators.Explicit("C_P [mg/L] oxygen at saturation at the pressure, C [mg/L] oxygen at saturation under the standard pressure, P_w [atm]: P [atm] air pressure 0.5..1.1, t [Cel] 0..40", func(pressure, t float64) (here, standard, vapour float64) {
				return OxygenAtPressure(t, 0, pressure*StandardPressure), OxygenSaturation(t, 0), VapourPressure(t) / StandardPressure
			}),
		},
		{
			Name: "Water vapour", Says: "Vapour pressure over the water for the pressure correction, atmospheres, 0 to 40 °C.",
			TeX:    `\ln P_w = 11.8571 - \frac{3840.70}{T} - \frac{216961}{T^2}`,
			Source: "benson-krause-1984", Locator: "vapour pressure term", Basis: "published", Function: "water.VapourPressure",
			Check: calculators.Implicit("P_w [atm]: T [K] 273.15..313.15", func(kelvin float64) float64 { return VapourPressure(kelvin-zeroCelsius) / StandardPressure }),
		},
		{
			Name: "Standard atmosphere", Says: "Mean air pressure at an altitude z in metres.",
			TeX:    `P = 101.325\,(1 - 2.25577\cdot 10^{-5}\,z)^{5.25588}\ \mathrm{kPa}`,
			Source: "us-std-atmosphere-1976", Locator: "closed formula of the troposphere", Basis: "published", Function: "water.AirPressure",
			Check: calculators.Explicit("P [kPa] air pressure: z [m] altitude 0..4000", AirPressure),
		},
	}
}

func computeOxygen(in calculators.Inputs) (calculators.Result, error) {
	t, salinity := in.In("temperature", "Cel"), in.In("salinity", "g/kg")
	pressure := in.In("pressure", "kPa")
	if in.Choice("pressure-from") == "altitude" {
		pressure = AirPressure(in.In("altitude", "m"))
	}
	standard, saturation := OxygenSaturation(t, salinity), OxygenAtPressure(t, salinity, pressure)
	var r calculators.Result
	r.Exactly("saturation", saturation)
	if in.Has("reading") {
		reading := in.In("reading", "mg/L")
		percent := PercentSaturation(reading, saturation)
		r.Exactly("percent", percent)
		r.Exactly("room", saturation-reading)
		adviseOxygen(&r, reading, saturation)
		r.Scale = calculators.Scale{Output: "percent", Marks: percentMarks(saturation)}
	} else {
		r.Say("Measure at sunrise, when oxygen is lowest, and compare: above {good mg/L} is good, below {act mg/L} act.", limits.OxygenWatch, limits.OxygenAct)
		r.Scale = calculators.Scale{Output: "saturation", Marks: limits.Marks(limits.Oxygen)}
	}
	r.Exactly("pressure", pressure)
	if saturation < limits.OxygenWatch {
		r.Doubt("Even full, this water holds less than {good mg/L}: there is little to spare at night.", limits.OxygenWatch)
	}
	r.Step("Oxygen at {3 Cel}, {3 g/kg} and the standard pressure", "{4 mg/L}", t, salinity, standard)
	r.Step("Air pressure, in standard atmospheres", "{4 kPa} / 101.325 kPa = {4}", pressure, pressure/StandardPressure)
	r.Step("Oxygen at this pressure", "{4 mg/L} × {4} = {4 mg/L}", standard, saturation/standard, saturation)
	return r, nil
}

// percentMarks are the same limits as a share of what this water can hold, and
// saturation itself.
func percentMarks(saturation float64) []calculators.Mark {
	marks := limits.Marks(limits.Oxygen)
	for i, m := range marks {
		marks[i].Label = quantity.Put(calculators.Text("{oxygen ~2 mg/L}: {label}", m.Value), "label", m.Label)
		marks[i].Value = PercentSaturation(m.Value, saturation)
	}
	marks = append(marks, calculators.Mark{Value: 100, Label: "full", Source: "benson-krause-1984", Locator: "equation for ln C", Basis: "published"})
	// In warm thin air the water cannot hold what is good: then full comes first.
	return calculators.Rising(marks)
}

// overfull is the share of saturation from which a reading tells of algae by
// day or of air sucked into the pump: common practice.
const overfull = 120

func adviseOxygen(r *calculators.Result, reading, saturation float64) {
	band := limits.BandOf(limits.Oxygen, reading)
	switch {
	case band != limits.Good && Full(reading, saturation):
		adviseFull(r, band)
	case band == limits.Emergency:
		r.Advise(
			"Put in all the air you have now: air pumps, the tower at full flow, pond water sprayed onto the pond, never tap water.",
			"Add cool dechlorinated water if you can; dose the dechlorinator first.",
			"No feed and no medicine.",
			"Look for the cause: a stopped pump, a power cut, dying algae, sludge, heat. Call a fish vet if fish lie on their side.",
		)
		r.Say("Measure again every hour until the reading is above {act mg/L}, and keep the air on through the night.", limits.OxygenAct)
	case band == limits.Act:
		r.Advise(
			"Stop feeding and give no medicine.",
			"Put on all the air, and send all the water over the tower.",
			"Measure again in two hours and at the next sunrise.",
			"Look for the cause: heat, sludge, too many fish, thick algae, a blocked filter.",
		)
	case band == limits.Watch:
		r.Advise(
			"Add air at night and feed less.",
			"Clean out sludge and clogged trays, and measure again at sunrise.",
		)
	case PercentSaturation(reading, saturation) > overfull:
		r.Advise(
			"The water is over-full: by day that is algae, and the night takes it back. Measure again at sunrise.",
			"If it is over-full at sunrise too, look for a leak on the suction side of the pump: air forced into the water harms fish.",
		)
	default:
		r.Advise("Carry on. If this was not at sunrise, measure again then.")
	}
}

// adviseFull is for water that is full and still holds too little.
func adviseFull(r *calculators.Result, band limits.Band) {
	r.Advise("The water is full: more air adds no oxygen now. Keep running what runs, for the night takes it again.")
	if band != limits.Watch {
		r.Advise("Stop feeding and give no medicine.")
	}
	r.Advise(
		"Only cooler water holds more: shade the pond, and add cool dechlorinated water slowly; dose the dechlorinator first.",
		"Measure again at sunrise. So warm and so high up, keep fewer fish and feed less.",
	)
}
