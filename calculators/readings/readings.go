package readings

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// Readings declares the calculator that turns test readings into ordered advice.
func Readings() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "readings",
		Inputs:  inputs(),
		Outputs: outputs(),
		Compute: compute,
	}
	if calculators.Documented {
		c.Title = "What your readings tell you to do"
		c.Question = "These are my readings, and this is what the fish do: what first, what today, what to watch?"
		c.Part = "water"
		c.Formulas = formulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			"The bands are common practice between published limits that differ up to a hundredfold. A kit is good to half a colour step.",
			"Never correct two readings at once. Slowly with pH, KH and temperature; fast with oxygen and chlorine.",
		}
		c.Example = calculators.Example{
			Story: "At dawn the fish of Lower Reach, {volume}, gasp at the top. Ines's readings of the evening: total ammonia {tan} as nitrogen, pH {ph}, {temperature}.",
			Pond:  "ines", Day: "2025-07-11",
			Given: []calculators.Arg{{Name: "fish", Value: "gasping"}, {Name: "time", Value: "dawn"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Water to change now, by total ammonia (as nitrogen) and pH, at {temperature}: half at most",
			Rows:    calculators.Axis{Input: "tan", Values: []string{"0.25 mg/L", "0.5 mg/L", "1 mg/L", "1.5 mg/L", "2 mg/L", "4 mg/L"}},
			Columns: calculators.Axis{Input: "ph", Values: []string{"7.0", "7.5", "8.0", "8.2", "8.5", "9.0"}},
			Show:    []string{"change-now"},
			Given:   []calculators.Arg{{Name: "temperature", Value: "20 Cel"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Water to change in all for total ammonia at {temperature}, by pH: none below the act band",
			X:       "tan", From: "0 mg/L", To: "4 mg/L",
			Series: calculators.Axis{Input: "ph", Values: []string{"7.5", "8.0", "8.5"}},
			Show:   "change-all",
			Given:  []calculators.Arg{{Name: "temperature", Value: "20 Cel"}},
		}
	}
	return c
}

func inputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "fish", Label: "What the fish do", Type: calculators.Choice, Default: "not-seen",
			Help: "Watch them for a minute, near the inlet too.",
			Options: []calculators.Option{
				{Name: "not-seen", Label: "I have not watched them"},
				{Name: "normal", Label: "as always"},
				{Name: "hiding", Label: "hide, hang still, clamp their fins, flick"},
				{Name: "gasping", Label: "gasp at the top or at the inlet"},
				{Name: "dying", Label: "lie over or die"},
			},
		},
		{Name: "tan", Fact: "ammonia", Label: "Total ammonia", Kind: quantity.Concentration, Optional: true, Help: "What the ammonia test shows.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		{
			Name: "ammonia-basis", Fact: "ammonia-kit", Label: "The ammonia kit reads", Type: calculators.Choice, Default: "as-n", Fine: true,
			Help: "As the leaflet says; if it does not, nitrogen errs to the safe side.",
			Options: []calculators.Option{
				{Name: "as-n", Label: "as nitrogen (TAN, NH3-N)"},
				{Name: "as-nh3", Label: "as ammonia (NH3)"},
				{Name: "as-nh4", Label: "as ammonium (NH4)"},
			},
		},
		{Name: "ph", Fact: "ph", Label: "pH", Kind: quantity.PH, Optional: true, Help: "Measured with the ammonia.",
			Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"}},
		{Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Optional: true, Help: "A thermometer held in the pond for two minutes.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "nitrite", Fact: "nitrite", Label: "Nitrite", Kind: quantity.Concentration, Optional: true, Help: "What the nitrite test shows.",
			Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"}},
		{
			Name: "nitrite-basis", Fact: "nitrite-kit", Label: "The nitrite kit reads", Type: calculators.Choice, Default: "as-n", Fine: true,
			Help: "As the leaflet says; if it does not, nitrogen errs to the safe side.",
			Options: []calculators.Option{
				{Name: "as-n", Label: "as nitrogen (NO2-N)"},
				{Name: "as-no2", Label: "as nitrite (NO2)"},
			},
		},
		{Name: "oxygen", Fact: "oxygen", Label: "Oxygen", Kind: quantity.Concentration, Optional: true, Help: "At dawn, when it is lowest.",
			Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"}},
		{Name: "kh", Label: "KH, alkalinity", Kind: quantity.Number, Optional: true, Help: "The number from the kit; say its unit below.", Counts: water.CountsAs("kh-unit", "caco3", "german"),
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
		{
			Name: "kh-unit", Fact: "kh-kit", Label: "The KH kit reads", Type: calculators.Choice, Default: "caco3",
			Help: calculators.Text("A German degree is {degree 3 mg/L} as CaCO3.", water.GermanDegree),
			Options: []calculators.Option{
				{Name: "caco3", Label: "mg/L (ppm) as CaCO3"},
				{Name: "german", Label: "German degrees (dKH)"},
			},
		},
		{Name: "nitrate", Fact: "nitrate", Label: "Nitrate", Kind: quantity.Concentration, Optional: true, Help: "What the nitrate test shows.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}},
		{
			Name: "nitrate-basis", Fact: "nitrate-kit", Label: "The nitrate kit reads", Type: calculators.Choice, Default: "as-no3",
			Help: "Most hobby kits read NO3 (common practice), laboratories often N.",
			Options: []calculators.Option{
				{Name: "as-n", Label: "as nitrogen (NO3-N)"},
				{Name: "as-no3", Label: "as nitrate (NO3)"},
			},
		},
		{Name: "chlorine", Label: "Total chlorine", Kind: quantity.Concentration, Optional: true, Help: "In the pond, not in the tap; chloramine counts too.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}},
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Optional: true, Help: "With the filter; from the pond volume calculator.",
			Accept: calculators.Range{Low: 10, High: 1e7, Origin: "sanity limit"}},
		{
			Name: "time", Label: "Time of day", Type: calculators.Choice, Default: "unknown",
			Help: "Oxygen is lowest at dawn, pH highest late in the afternoon.",
			Options: []calculators.Option{
				{Name: "unknown", Label: "not noted"},
				{Name: "dawn", Label: "dawn"},
				{Name: "day", Label: "day or evening"},
				{Name: "night", Label: "night"},
			},
		},
		{Name: "chloride", Fact: "chloride", Label: "Chloride in the pond", Kind: quantity.Concentration, Optional: true, Fine: true, Help: "From a chloride kit or the water supplier's report.",
			Accept: calculators.Range{Low: 0, High: 5000, Origin: "sanity limit"}},
		{Name: "salt", Fact: "salt", Label: "Salt you added", Kind: quantity.Concentration, Unit: "g/L", Optional: true, Fine: true, Help: calculators.Text("What is still in the water: {mass kg} in {volume L} is {salt g/L}.", 1, 1000, 1),
			Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"}},
		{Name: "altitude", Fact: "altitude", Label: "Altitude of the pond", Kind: quantity.Length, Default: "0 m", Fine: true, Help: "Height above the sea, from a map: high up water holds less oxygen.",
			Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"}},
		{Name: "tap-tan", Label: "New water, total ammonia", Kind: quantity.Concentration, Default: "0 mg/L", Fine: true, Help: "Once it is neutralised, with the same kit: chloramine leaves a fifth of its chlorine as ammonia.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		{Name: "tap-nitrite", Label: "New water, nitrite", Kind: quantity.Concentration, Default: "0 mg/L", Fine: true, Help: "With the same kit; tap water holds next to none, a well or another pond may.",
			Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"}},
		{Name: "tap-kh", Fact: "tap-alkalinity", Label: "New water, KH as CaCO3", Kind: quantity.Hardness, Optional: true, Fine: true, Help: "With the pond's it tells how far the pH goes up.",
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
		{Name: "tap-temperature", Fact: "tap-temperature", Label: "New water, temperature", Kind: quantity.Temperature, Optional: true, Fine: true, Help: "Let the tap run a minute, then measure.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "tap-ph", Fact: "tap-ph", Label: "New water, pH", Kind: quantity.PH, Optional: true, Fine: true, Help: "Stir a glass for a quarter of an hour, then test.",
			Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"}},
	}
}

func outputs() []calculators.Output {
	return []calculators.Output{
		{Name: "urgency", Label: "Urgency: 3 danger now, 2 act today, 1 watch, 0 in order", Unit: "1", Digits: 1, Whole: true, Help: "The worst of all readings and of what the fish do."},
		{Name: "change-now", Label: "Water to change now", Unit: "%", Digits: 2, Help: "With the new water you stated, dechlorinated; 0 while chlorine shows, and where nothing asks for it or this water would not help."},
		{Name: "litres-now", Label: "That is", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "change-all", Label: "Water to change in all", Unit: "%", Digits: 2, Help: "In several changes, with a test before each."},
		{Name: "toxic", Label: "Toxic ammonia, as nitrogen", Unit: "mg/L", Digits: 2, Help: calculators.Text("The range is for a kit a quarter out and a pH {error ~} out.", phError)},
		{Name: "nitrite-n", Label: "Nitrite, as nitrogen", Unit: "mg/L", Digits: 2},
		{Name: "shield", Label: "Chloride you have, of what shields from this nitrite", Unit: "%", Digits: 2, Fine: true, Help: "Against 10 parts to one of NO2; the carp's own figure is a quarter of that."},
		{Name: "test-again", Label: "Test again after", Unit: "h", Digits: 2, Whole: true, Fine: true, Help: "At the latest; the advice says what."},
	}
}

func formulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Bands", Says: "The urgency of a reading: common practice between published limits; on the line the worse band.",
			TeX: `u = \begin{cases} 3 & c \ge c_\mathrm{danger} \\ 2 & c \ge c_\mathrm{act} \\ 1 & c \ge c_\mathrm{watch} \\ 0 & \text{else} \end{cases}`, Basis: "practice", Function: "limits.Level",
			Check: calculators.Explicit("u [1] urgency from 0 for none to 3 for danger: c [mg/L] reading 0.01|0.02|0.03|0.05|0.1|0.2|1, c_watch [mg/L] limit to watch from 0.02..0.03, c_act [mg/L] limit to act from 0.05..0.08, c_danger [mg/L] limit of danger 0.2..0.4", limits.Level)},
		{Name: "Emerson 1975, share", Says: "Toxic share of total ammonia, 0 to 50 °C.",
			TeX:    `f = \frac{1}{1 + 10^{\,\mathrm{p}K_a - \mathrm{pH}}}`,
			Source: "emerson-1975", Locator: "equation for f", Basis: "published", Function: "water.UnionisedFraction",
			Check: calculators.Explicit("f [1] toxic share of total ammonia, pK_a [1]: pH [[pH]] 5..11, - [Cel] 0..50", func(ph, t float64) (share, pk float64) {
				return water.UnionisedFraction(ph, t, 0), water.AmmoniumPKa(t)
			})},
		{Name: "One water change", Says: "Share to renew so that toxic ammonia comes to 0.02 and nitrite to 0.15 mg/L as nitrogen, with new water that is free of both and of the same pH; else by the mixture.",
			TeX: `x = 1 - \frac{c_\mathrm{wanted}}{c_\mathrm{now}}`, Basis: "practice", Function: "water.ChangeNeeded",
			Check: calculators.Explicit("x [1]: c_now [mg/L] 1..5, c_wanted [mg/L] 0.02..0.9", water.ChangeNeeded)},
		{Name: "Limit by temperature", Says: "Most water at a time, so that the pond moves by no more than a step of 1 °C, in danger by 3 °C (common practice).",
			TeX: `x \le \frac{\Delta t}{|t_\mathrm{new} - t|}`, Basis: "practice", Function: "readings.ShareForStep",
			Check: calculators.Explicit("x [1] largest share of the water to renew: t [Cel] 15..25, t_new [Cel] temperature of the new water 5..11, Δt [K] step that the fish bear 1..3", func(pond, replacement, step float64) struct{ Low, Likely, High float64 } {
				most := ShareForStep(pond, replacement, step)
				return struct{ Low, Likely, High float64 }{0, most, most}
			})},
		{Name: "Chloride to nitrite", Says: "Chloride that shields from nitrite, ten to one on NO2.",
			TeX:    `c_\mathrm{Cl} = 10\,c_\mathrm{NO_2}`,
			Source: "srac-462", Locator: "text", Basis: "published", Function: "water.NitriteShield",
			Check: calculators.Explicit("c_Cl [mg/L], c_NO_2 [mg/L]: - [mg/L] 0.1..5", func(n float64) (chloride, nitrite float64) {
				_, chloride, _ = water.NitriteShield(n)
				return chloride, n * chemistry.NitritePerNitrogen
			})},
	}
}

// KHFacts returns what a KH reading states in the terms of the calculators that
// ask for KH: in mg/L as CaCO3, or in German degrees, as the kit counts.
func KHFacts(number, kit string) calculators.Facts {
	if kit == "german" {
		return calculators.Facts{"kh-degrees": number, "kh-kit": kit}
	}
	return calculators.Facts{"alkalinity": strings.Join([]string{number, "mg/L"}, " "), "kh-kit": "caco3"}
}
