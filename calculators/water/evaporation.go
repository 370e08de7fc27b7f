package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// EvaporationOrLeak declares the calculator that tells evaporation from a leak.
func EvaporationOrLeak() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "evaporation",
		Inputs:  evaporationInputs(),
		Outputs: evaporationOutputs(),
		Compute: computeEvaporation,
	}
	if calculators.Documented {
		c.Title = "Evaporation or a leak"
		c.Question = "The pond loses water: is that more than the air can take?"
		c.Part = "water"
		c.Formulas = evaporationFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Chlorine, calculators.Spill}
		c.Cautions = []string{
			"The formulas differ twofold, and a tower, fountain or waterfall blows away more than all of them: only the bucket test decides.",
			"Salt and minerals stay when water evaporates, and leave with a leak.",
			"Never let the level fall below the pump's intake or the skimmer while you test.",
		}
		c.Example = calculators.Example{
			Story: "Lower Reach, {surface}, fell {drop} in {time} of dry July weather; a bucket of pond water on its shelf fell {bucket}. Water {temperature}, air {air} at {humidity}, light wind.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "temperature", Value: "21 Cel"}, {Name: "air", Value: "22 Cel"}, {Name: "humidity", Value: "60 %"}, {Name: "wind", Value: "1 m/s"}, {Name: "drop", Value: "21 mm"}, {Name: "time", Value: "2 d"}, {Name: "bucket", Value: "9 mm"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Evaporation, air of {air} at {humidity}",
			Rows:    calculators.Axis{Input: "temperature", Values: []string{"10 Cel", "15 Cel", "20 Cel", "25 Cel", "30 Cel"}},
			Columns: calculators.Axis{Input: "wind", Values: []string{"0 m/s", "1 m/s", "2 m/s", "4 m/s"}},
			Show:    []string{"evaporation"},
			Given:   []calculators.Arg{{Name: "surface", Value: "10 m2"}, {Name: "air", Value: "18 Cel"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Evaporation against wind over the water, air of {air} at {humidity}",
			X:       "wind", From: "0 m/s", To: "5 m/s",
			Series: calculators.Axis{Input: "temperature", Values: []string{"15 Cel", "20 Cel", "25 Cel"}},
			Show:   "evaporation",
			Given:  []calculators.Arg{{Name: "surface", Value: "10 m2"}, {Name: "air", Value: "20 Cel"}},
		}
	}
	return c
}

func evaporationInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "surface", Fact: "surface", Label: "Surface of the pond", Kind: quantity.Area, Help: "From the pond-volume calculator.",
			Accept: calculators.Range{Low: 0.1, High: 10000, Origin: "sanity limit"}},
		{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Help: "Mean over the days of the test.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "benson-krause-1984, range of the vapour pressure"}},
		{Name: "air", Label: "Air temperature", Kind: quantity.Temperature, Help: "Mean over day and night, in the shade.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "benson-krause-1984, range of the vapour pressure"}},
		{Name: "humidity", Label: "Humidity of the air", Kind: quantity.Share, Default: "60 %", Help: "Mean over day and night, from a weather report.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		{Name: "wind", Label: "Wind over the water", Kind: quantity.Velocity, Default: "1 m/s", Help: "In a garden about a third of the weather report's (common practice).",
			Accept: calculators.Range{Low: 0, High: 15, Origin: "sanity limit"}},
		{Name: "drop", Label: "Fall of the level", Kind: quantity.Size, Optional: true, Help: "On a ruler fixed in the pond, no rain, no topping up.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}},
		{Name: "time", Label: "Time between both readings", Kind: quantity.Duration, Default: "1 d", Help: "At least a day, better two, at the same hour.",
			Accept: calculators.Range{Low: 0.1, High: 60, Origin: "sanity limit"}},
		{Name: "bucket", Label: "Fall in the bucket", Kind: quantity.Size, Optional: true, Help: "A bucket of pond water standing on a shelf in the pond, same time.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}},
		{Name: "salt-before", Label: "Salt in the pond at first", Kind: quantity.Concentration, Unit: "g/L", Optional: true, Fine: true, Help: "Less what the meter shows in tap water; pond full to a mark.",
			Accept: calculators.Range{Low: 0.05, High: 40, Origin: "sanity limit"}},
		{Name: "salt-after", Label: "Salt in the pond weeks later", Kind: quantity.Concentration, Unit: "g/L", Optional: true, Fine: true, Help: "Full to the same mark; no salt added, no water changed between.",
			Accept: calculators.Range{Low: 0.01, High: 40, Origin: "sanity limit"}},
		{Name: "salt-time", Label: "Time between both salt readings", Kind: quantity.Duration, Unit: "d", Default: "14 d", Fine: true, Help: "The longer, the smaller the leak it shows.",
			Accept: calculators.Range{Low: 1, High: 366, Origin: "sanity limit"}},
		{Name: "salt-error", Label: "Error of one salt reading", Kind: quantity.Concentration, Unit: "g/L", Default: "0.05 g/L", Fine: true, Help: "From the meter's leaflet; half of the last digit at the least.",
			Accept: calculators.Range{Low: 0, High: 5, Origin: "sanity limit"}},
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Optional: true, Fine: true, Help: "For the leak by salt; filters count too.",
			Accept: calculators.Range{Low: 10, High: 1e7, Origin: "sanity limit"}},
		{Name: "read-error", Label: "Error of one ruler reading", Kind: quantity.Size, Fine: true, Default: "1 mm", Help: "Half of what you can tell apart.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}},
	}
}

func evaporationOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "evaporation", Label: "Evaporation to expect", Unit: "mm/d", Digits: 2, Help: "Still water without tower, fountain or waterfall."},
		{Name: "evaporation-water", Label: "That is", Unit: "L/d", Digits: 2, Also: []string{"[gal_br]/d", "[gal_us]/d"}},
		{Name: "fall", Label: "Fall you measured", Unit: "mm/d", Digits: 2},
		{Name: "loss", Label: "Water lost", Unit: "L/d", Digits: 2, Also: []string{"[gal_br]/d", "[gal_us]/d"}},
		{Name: "leak", Label: "Not explained by evaporation", Unit: "L/d", Digits: 2, Also: []string{"[gal_br]/d", "[gal_us]/d"}, Help: "Against the bucket if there is one, else against the formulas."},
		{Name: "leak-salt", Label: "Water lost, by the falling salt", Unit: "L/d", Digits: 2, Also: []string{"[gal_br]/d", "[gal_us]/d"}, Help: "Leak, splash and overflow; what evaporates leaves its salt behind. The range is the meter's error."},
	}
}

func evaporationFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Heating trade, pools", Says: "kg/(s m²), with p in kPa, v in m/s and Y in kJ/kg.", TeX: `w = \frac{(0.089 + 0.0782\,v)(p_w - p_a)}{Y}`,
			Source: "ashrae-evaporation", Locator: "SI form", Basis: "memory", Function: "water.EvaporationPool",
			Check: calculators.Explicit("w [kg/m2/s], Y [kJ/kg]: v [m/s] 0..8, p_w [kPa] 2..5, p_a [kPa] 0..2", func(wind, over, beyond float64) (rate, latent float64) {
				latent = LatentHeat(20)
				return EvaporationPool(over, beyond, wind, latent) / secondsPerDay, latent
			})},
		{Name: "Quiet water", Says: "As printed: lb/(h ft²), mph, inHg, Btu/lb.", TeX: `w = \frac{(69.4 + 30.8\,v)(p_w - p_a)}{Y}`,
			Source: "forum-pond-evaporation", Locator: "formula", Basis: "published", Function: "water.EvaporationQuiet",
			Check: calculators.Rounded("w [[lb_av]/h/[ft_i]2]: v [[mi_i]/h] 0..20, p_w [[in_i'Hg]] 0.5..1.5, p_a [[in_i'Hg]] 0..0.5, Y [[Btu_IT]/[lb_av]] 1040..1060", func(wind, over, beyond, latent float64) float64 {
				const perInch, perBtu, pounds = 3.386389, 2.326, 0.45359237 / 3600 / 0.09290304
				return EvaporationQuiet(over*perInch, beyond*perInch, wind/milesPerHour, latent*perBtu) / secondsPerDay / pounds
			})},
		{Name: "Warm fish ponds", Says: "lb/(h ft²), mph, psi. As quoted the wind term is 0.38, ten times all others; 0.038 is taken, from memory.", TeX: `W = (0.097 + 0.038\,v)(p_w - p_a)`,
			Source: "rafferty-boyd-1998", Locator: "formula", Basis: "memory", Function: "water.EvaporationFishPond",
			Check: calculators.Rounded("W [[lb_av]/h/[ft_i]2] water lost: v [[mi_i]/h] 0..20, p_w [[psi]] 0.3..0.8, p_a [[psi]] 0..0.3", func(wind, over, beyond float64) float64 {
				const perPSI, pounds = 6.894757, 0.45359237 / 3600 / 0.09290304
				return EvaporationFishPond(over*perPSI, beyond*perPSI, wind/milesPerHour) / secondsPerDay / pounds
			})},
		{Name: "By humidity ratio", Says: "kg/(h m²), x the kg of vapour in 1 kg of dry air.", TeX: `g = (25 + 19\,v)(x_s - x)`,
			Source: "engineering-evaporation", Locator: "formula", Basis: "published", Function: "water.EvaporationHumidity",
			Check: calculators.Explicit("g [kg/m2/h] water lost, x_s [1] humidity ratio of saturated air, x [1] humidity ratio of the air: v [m/s] 0..8, - [kPa] 2..5, - [kPa] 0..2", func(wind, over, beyond float64) (rate, wet, dry float64) {
				return EvaporationHumidity(over, beyond, wind, StandardPressure) / 24, humidityRatio(over, StandardPressure), humidityRatio(beyond, StandardPressure)
			})},
		{Name: "Leak by salt", Says: "Salt leaves with water only: from S_1 to S_2 in the time t, in a pond of the volume V kept full with water without salt.",
			TeX:   `q = \frac{V}{t}\,\ln\frac{S_1}{S_2}`,
			Basis: "practice", Function: "water.LeakBySalt",
			Check: calculators.Explicit("q [L/d] water lost: V [L] 500..20000, S_1 [g/L] 2..6, S_2 [g/L] 0.5..2, t [d] time between the readings 5..60", LeakBySalt)},
		{Name: "Water vapour", Says: "Saturation pressure, in atmospheres, 0 to 40 °C.",
			TeX:    `\ln P_w = 11.8571 - \frac{3840.70}{T} - \frac{216961}{T^2}`,
			Source: "benson-krause-1984", Locator: "vapour pressure term", Basis: "published", Function: "water.VapourPressure",
			Check: calculators.Implicit("P_w [atm]: T [K] 273.15..313.15", func(kelvin float64) float64 { return VapourPressure(kelvin-zeroCelsius) / StandardPressure })},
	}
}

func computeEvaporation(in calculators.Inputs) (calculators.Result, error) {
	surface, days := in.In("surface", "m2"), in.In("time", "d")
	low, middle, high := Evaporation(in.In("temperature", "Cel"), in.In("air", "Cel"), in.In("humidity", "%")/100, in.In("wind", "m/s"))
	var r calculators.Result
	r.Between("evaporation", low, middle, high)
	r.Between("evaporation-water", low*surface, middle*surface, high*surface)
	r.Step("Vapour pressure at the water and in the air", "{3 kPa}; {3 kPa}",
		VapourPressure(in.In("temperature", "Cel")), in.In("humidity", "%")/100*VapourPressure(in.In("air", "Cel")))
	r.Step("Mean of four formulas", "{2 mm/d} ({2} to {2})", middle, low, high)
	if high == 0 {
		r.Flag("The air is so damp that none evaporates, or dew falls into the pond.")
	}
	r.Flag("A tower, fountain or waterfall evaporates and splashes more: test once with it running and once, by day and with an air pump on, with it off.")
	if err := leakBySalt(in, &r); err != nil {
		return calculators.Result{}, err
	}
	if !in.Has("drop") {
		r.Advise("Fix a ruler in the pond and stand a bucket of pond water on a shelf in it. Read both after a day or two without rain or topping up.")
		return r, nil
	}
	fall := in.In("drop", "mm") / days
	off := math.Sqrt2 * in.In("read-error", "mm") / days
	r.Exactly("fall", fall)
	r.Exactly("loss", fall*surface)
	if in.Has("bucket") {
		middle = in.In("bucket", "mm") / days
		low, high = middle-off, middle+off
		r.Step("Bucket", "{2 mm} / {3 d} = {2 mm/d}", in.In("bucket", "mm"), days, middle)
	}
	least, most := fall-off-high, fall+off-low
	bottom, top := math.Max(0, least), math.Max(0, most)
	r.Between("leak", bottom*surface, math.Min(math.Max(fall-middle, bottom), top)*surface, top*surface)
	r.Step("Not explained", "{2 mm/d} − {2 mm/d} = {2 mm/d}; {2 mm/d} × {3 m2} = {2 L/d}", fall, middle, fall-middle, fall-middle, surface, (fall-middle)*surface)
	judgeLeak(&r, in.Has("bucket"), least, most)
	return r, nil
}

// judgeLeak says whether what evaporation leaves unexplained, least to most in
// mm/d, is a leak.
func judgeLeak(r *calculators.Result, bucket bool, least, most float64) {
	switch {
	case least > 0 && bucket:
		r.Advise(
			"The pond loses more than the bucket: it leaks, or splashes over.",
			"Stop the tower for six hours by day, an air pump on and its trays kept wet: if the fall stops, look at tower, pipes, hose tails and waterfall edges; if not, at the liner. Never by night: oxygen is lowest then.",
			"The level stops falling at the height of the hole. Top up before a quarter of the depth is gone.",
		)
	case least > 0:
		r.Advise("More than the formulas explain: a leak or splash is likely. Do the bucket test before you empty anything.")
	case most < 0:
		r.Advise("The level fell less than evaporation explains: rain or a hose came in, or it is calmer and damper than stated. No leak shows.")
	case bucket:
		r.Advise("The pond loses no more than the bucket, within the error of the ruler: no leak shows.")
	default:
		r.Advise("Evaporation may explain all of it, or may not: do the bucket test.")
	}
	r.Advise("Top up with dechlorinated water, and count it as new water when you dose salt or a treatment.")
}
