package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// CarbonDioxideInWater declares the calculator of free carbon dioxide.
func CarbonDioxideInWater() calculators.Calculator {
	c := calculators.Calculator{
		ID: "carbon-dioxide",
		Inputs: []calculators.Input{
			{
				Name: "ph", Fact: "ph", Once: []string{"ph"}, Label: "pH", Kind: quantity.PH,
				Help:   "At the pond's side, at dawn; a sample left standing loses gas and reads high.",
				Accept: calculators.Range{Low: 5.5, High: 9, Origin: "sanity limit"},
			},
			{
				Name: "kh-in", Fact: "kh-kit", Label: "The KH kit reads in", Type: calculators.Choice, Default: "caco3",
				Help: "KH and alkalinity are the same thing in two units.",
				Options: []calculators.Option{
					{Name: "caco3", Label: "mg/L (ppm) as CaCO3"},
					{Name: "german", Label: "German degrees (dKH)"},
				},
			},
			{
				Name: "alkalinity", Fact: "alkalinity", Label: "KH, as CaCO3", Kind: quantity.Hardness,
				Help:   "What the KH or alkalinity test shows.",
				Accept: calculators.Range{Low: leastKH, High: mostKH, Origin: "sanity limit"},
				When:   calculators.When{Input: "kh-in", Is: []string{"caco3"}},
			},
			{
				Name: "degrees", Fact: "kh-degrees", Label: "KH, in German degrees", Kind: quantity.Hardness, Unit: "{°dH}",
				Help:   "Drops counted, for most kits.",
				Accept: calculators.Range{Low: 0.3, High: 28, Origin: "sanity limit"},
				When:   calculators.When{Input: "kh-in", Is: []string{"german"}},
			},
			{
				Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature,
				Help:   "A thermometer held in the pond for two minutes.",
				Accept: calculators.Range{Low: carbonateColdest, High: carbonateWarmest, Origin: "sanity limit"},
			},
			{
				Name: "altitude", Fact: "altitude", Label: "Altitude of the pond", Kind: quantity.Length, Fine: true, Default: "0 m",
				Help:   calculators.Text("Height above the sea, from a map; below {low m} it hardly matters.", lowGround),
				Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"},
			},
			{
				Name: "ph-error", Fact: "ph-error", Label: "Error of the pH reading", Kind: quantity.PH, Fine: true, Default: "0.2",
				Help:   "Half a colour step is about 0.2, a meter with fresh buffer 0.1 (common practice).",
				Accept: calculators.Range{Low: 0, High: 1, Origin: "sanity limit"},
			},
			{
				Name: "kh-error", Label: "Error of the KH reading", Kind: quantity.Share, Fine: true, Default: "10 %",
				Help:   "One drop in ten (common practice).",
				Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"},
			},
		},
		Outputs: []calculators.Output{
			{Name: "carbon-dioxide", Label: "Free carbon dioxide", Unit: "mg/L", Digits: 2},
			{Name: "ph-aired", Label: "Where the pH goes with all the air", Unit: "[pH]", Digits: 2, Help: "In balance with open air: a tower and air stones come near it. It hangs on the KH alone."},
			{Name: "toxic-times", Label: "Times as much of any ammonia is toxic then", Unit: "1", Digits: 2, Help: "The toxic share at that pH, over the share now."},
			{Name: "air", Label: "Carbon dioxide that open air leaves in it", Unit: "mg/L", Digits: 2, Help: calculators.Text("At {part 4 [ppm]} in dry air, the mean of 2023, under the pressure at this altitude.", 1e6*airCarbonDioxide)},
			{Name: "trade-rule", Label: "By the rule of the trade", Unit: "mg/L", Digits: 2, Fine: true, Help: "3 × dKH × 10^(7 − pH), which shows too little."},
			{Name: "factor", Label: "What the 3 of that rule should be here", Unit: "1", Digits: 2, Fine: true},
		},
		Compute: computeCarbonDioxide,
	}
	if calculators.Documented {
		c.Title = "Carbon dioxide from pH and KH"
		c.Question = "How much carbon dioxide is in my water, and would more air help?"
		c.Part = "water"
		c.Formulas = carbonDioxideFormulas()
		c.Hazards = []calculators.Hazard{calculators.FishHealth}
		c.Cautions = []string{
			"It stands or falls with the pH: an error of 0.2 makes it half as much again, or a third less.",
			"Treatments, peat and phosphate in the water count as KH or acid and falsify it.",
			"Driving out carbon dioxide raises the pH, and with it the toxic part of any ammonia: test ammonia first.",
			"Fish that gasp with good oxygen may have too much carbon dioxide, nitrite or sick gills: air on, test nitrite, and call a fish vet.",
		}
		c.Example = calculators.Example{
			Story: "At dawn Lower Reach has pH {ph}, KH {alkalinity} as CaCO3 and {temperature}. Ines wants to know whether the tower breathes well enough.",
			Pond:  "ines", Day: "2025-08-03",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Free carbon dioxide at {temperature} by pH and KH as CaCO3",
			Rows:    calculators.Axis{Input: "ph", Values: []string{"6.5", "6.8", "7.0", "7.2", "7.5", "8.0", "8.5"}},
			Columns: calculators.Axis{Input: "alkalinity", Values: []string{"25 mg/L", "50 mg/L", "100 mg/L", "150 mg/L", "200 mg/L"}},
			Show:    []string{"carbon-dioxide"},
			Given:   []calculators.Arg{{Name: "temperature", Value: "20 Cel"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Free carbon dioxide at {temperature}: ten times as much for each whole step of pH down",
			X:       "ph", From: "6.5", To: "8.5",
			Series: calculators.Axis{Input: "alkalinity", Values: []string{"50 mg/L", "100 mg/L", "200 mg/L"}},
			Show:   "carbon-dioxide",
			Given:  []calculators.Arg{{Name: "temperature", Value: "20 Cel"}},
			Log:    true,
		}
	}
	return c
}

func carbonDioxideFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Carbonate balance", Says: "Free carbon dioxide from pH, alkalinity A in eq/L and temperature; all alkalinity taken for carbonate, other salts left out, so flagged above pH 8.5 and in soft water.",
			TeX:    `[\mathrm{CO_2}] = \frac{h}{K_1}\,[\mathrm{HCO_3^-}],\quad [\mathrm{HCO_3^-}] = \frac{A - K_w/h + h}{1 + 2K_2/h},\quad h = 10^{-\mathrm{pH}}`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat SOLUTION_SPECIES", Basis: "published", Function: "water.CarbonDioxide",
			Check: calculators.Explicit("[CO_2] [mol/L] free carbon dioxide, K_1 [mol/L], K_2 [mol/L], K_w [mol/L]: pH [[pH]] 6..9, A [mol/L] alkalinity 0.0005..0.005, - [Cel] 0..30", func(ph, alkalinity, t float64) (co2, k1, k2, kw float64) {
				co2 = CarbonDioxide(ph, 1000*CaCO3PerEquivalent*alkalinity, t) / 1000 / carbonDioxide
				return co2, math.Pow(10, -CarbonicPK1(t)), math.Pow(10, -CarbonicPK2(t)), math.Pow(10, -WaterPK(t))
			}),
		},
		{
			Name: "Plummer and Busenberg 1982", Says: "First constant of carbonic acid; that of Harned and Davis 1943 differs by at most 0.002.",
			TeX:    `\mathrm{p}K_1 = 356.3094 + 0.06091964\,T - \frac{21834.37}{T} - 126.8339\log_{10} T + \frac{1684915}{T^2}`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat SOLUTION_SPECIES", Basis: "published", Function: "water.CarbonicPK1",
			Check: calculators.Explicit("pK_1 [1]: T [K] 273.15..313.15", func(kelvin float64) float64 { return CarbonicPK1(kelvin - zeroCelsius) }),
		},
		{
			Name: "Second constant", Says: "Second constant of carbonic acid; it matters above pH 8 only.",
			TeX:    `\mathrm{p}K_2 = 107.8871 + 0.03252849\,T - \frac{5151.79}{T} - 38.92561\log_{10} T + \frac{563713.9}{T^2}`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat SOLUTION_SPECIES", Basis: "published", Function: "water.CarbonicPK2",
			Check: calculators.Explicit("pK_2 [1]: T [K] 273.15..313.15", func(kelvin float64) float64 { return CarbonicPK2(kelvin - zeroCelsius) }),
		},
		{
			Name: "Balance with air", Says: "What open air leaves in the water: x is 419.3 ppm of dry air, the mean of 2023 over the sea; P the pressure at the pond, P_w that of the water vapour.",
			TeX:    `[\mathrm{CO_2}] = K_H\,x\,(P - P_w),\quad x = 419.3\cdot 10^{-6}`,
			Source: "noaa-co2-2024", Locator: "annual mean of 2023", Basis: "published", Function: "water.CarbonDioxideOfAir",
			Check: calculators.Explicit("[CO_2] [mol/L] carbon dioxide in balance with air, K_H [mol/L] solubility under one atmosphere, P [atm] pressure of the air, P_w [atm]: - [Cel] 0..40, - [kPa] 60..105", func(t, pressure float64) (gas, solubility, total, vapour float64) {
				return CarbonDioxideOfAir(t, pressure) / 1000 / carbonDioxide, CarbonDioxideSolubility(t), pressure / StandardPressure, VapourPressure(t) / StandardPressure
			}),
		},
		{
			Name: "Solubility", Says: "Of carbon dioxide under one atmosphere of it, mol in a litre.",
			TeX:    `\log_{10} K_H = 10.5624 - 0.023547\,T - \frac{3972.8}{T} + \frac{587460}{T^2} + 1.9194\cdot 10^{-5}\,T^2`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat PHASES, CO2(g)", Basis: "published", Function: "water.CarbonDioxideSolubility",
			Check: calculators.Implicit("K_H [mol/L] solubility under one atmosphere: T [K] 273.15..313.15", func(kelvin float64) float64 { return CarbonDioxideSolubility(kelvin - zeroCelsius) }),
		},
		{
			Name: "pH in balance with air", Says: "The pH at which this alkalinity A holds the carbon dioxide that air leaves.",
			TeX:    `A = \frac{K_1\,[\mathrm{CO_2}]}{h}\left(1 + \frac{2K_2}{h}\right) + \frac{K_w}{h} - h`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat SOLUTION_SPECIES", Basis: "published", Function: "water.PHOfCarbonDioxide",
			Check: calculators.Implicit("h [mol/L] hydrogen ions, [CO_2] [mol/L] carbon dioxide left, A [mol/L] alkalinity, K_1 [mol/L], K_2 [mol/L], K_w [mol/L]: - [mg/L] 0.3..20, - [mg/L] 20..300, - [Cel] 0..30", func(gas, alkalinity, t float64) (h, left, held, k1, k2, kw float64) {
				h = math.Pow(10, -PHOfCarbonDioxide(gas, alkalinity, t))
				return h, gas / 1000 / carbonDioxide, alkalinity / 1000 / CaCO3PerEquivalent, math.Pow(10, -CarbonicPK1(t)), math.Pow(10, -CarbonicPK2(t)), math.Pow(10, -WaterPK(t))
			}),
		},
		{
			Name: "Rule of the trade", Says: "Shown to compare only: in water of 10 to 25 °C its 3 should be 4.6 to 3.5, so it shows too little.",
			TeX:   `\mathrm{CO_2} = 3\;\mathrm{dKH}\; 10^{7-\mathrm{pH}}`,
			Basis: "practice", Function: "water.TradeCarbonDioxide",
			Check: calculators.Explicit("CO_2 [mg/L] carbon dioxide by the rule: pH [[pH]] 6..9, dKH [1] carbonate hardness in German degrees 1..15", TradeCarbonDioxide),
		},
	}
}

// Accepted range of KH, mg/L as CaCO3, and where the carbonate balance is less
// sure than usual: common practice.
const (
	leastKH  = 5.0
	mostKH   = 500.0
	softKH   = 20.0 // other acids and bases weigh as much as the carbonate
	alkaline = 8.5  // hardly any carbon dioxide is left to find
)

func computeCarbonDioxide(in calculators.Inputs) (calculators.Result, error) {
	ph, t, phError, khError := in.In("ph", "[pH]"), in.In("temperature", "Cel"), in.In("ph-error", "[pH]"), in.In("kh-error", "%")/100
	kh := in.In("alkalinity", "mg/L")
	if in.Choice("kh-in") == "german" {
		kh = in.In("degrees", "{°dH}") * GermanDegree
	}
	found := CarbonDioxide(ph, kh, t)
	low := CarbonDioxide(ph+phError, kh*(1-khError), t)
	if math.IsNaN(low) {
		low = 0
	}
	trade := TradeCarbonDioxide(ph, kh/GermanDegree)
	var r calculators.Result
	r.Between("carbon-dioxide", low, found, CarbonDioxide(ph-phError, kh*(1+khError), t))
	balance := CarbonDioxideOfAir(t, AirPressure(in.In("altitude", "m")))
	aired := PHOfCarbonDioxide(balance, kh, t)
	times := UnionisedFraction(aired, t, 0) / UnionisedFraction(ph, t, 0)
	r.Between("ph-aired", PHOfCarbonDioxide(balance, kh*(1-khError), t), aired, PHOfCarbonDioxide(balance, kh*(1+khError), t))
	r.Exactly("toxic-times", times)
	r.Exactly("air", balance)
	r.Exactly("trade-rule", trade)
	r.Exactly("factor", 3*found/trade)
	if ph > alkaline {
		r.Doubt("Above pH {alkaline ~} hardly any carbon dioxide is left and the answer says no more than that.", alkaline)
	}
	if kh < softKH {
		r.Doubt("Below {soft mg/L} KH other acids and bases weigh as much as the carbonate: take the answer as a rough guide only, and see to the KH first.", softKH)
	}
	if phError+khError > 0 {
		r.Flag("The range is what the readings allow if both err the same way.")
	}
	adviseCarbonDioxide(&r, found, ph, aired, times)
	r.Step("pK1 at {3 Cel}", "{4}", t, CarbonicPK1(t))
	r.Step("Near enough", "0.8794 × {3 mg/L} × 10^({4} − {3}) = {2 mg/L}", kh, CarbonicPK1(t), ph, 0.8794*kh*math.Pow(10, CarbonicPK1(t)-ph))
	r.Step("With hydroxide and carbonate counted", "{3 mg/L}", found)
	r.Step("In balance with air", "{3 mg/L}", balance)
	r.Step("pH that holds so much", "{3}", aired)
	r.Step("By the rule of the trade", "3 × {3} × 10^(7 − {3}) = {2 mg/L}", kh/GermanDegree, ph, trade)
	r.Scale = calculators.Scale{Output: "carbon-dioxide", Log: true, Marks: limits.Marks(limits.CarbonDioxide)}
	return r, nil
}

// adviseCarbonDioxide says what more air would do, from the pH now and that in
// balance with air, at which times as much of the ammonia is toxic.
func adviseCarbonDioxide(r *calculators.Result, found, ph, aired, times float64) {
	switch {
	case found > limits.CarbonDioxideMost:
		r.Say("Test ammonia now: all the air would take the pH from {now 2} to {then 2}, and {times 2} times as much of any ammonia would be toxic.", ph, aired, times)
		r.Advise(
			"Then add air and send all the water over the tower, step by step over a day; all at once if fish gasp.",
			"Stop feeding, and measure oxygen and pH again at dawn.",
			"Look for the cause: a covered pond, a tower without draught, too many fish, rotting sludge.",
		)
	case aired < ph:
		r.Advise("There is less than open air leaves in water: algae or something alkaline took it. More air would bring the pH down, slowly. Look to KH and algae.")
	case found > limits.CarbonDioxideNone:
		r.Advise("Test ammonia before you air harder.")
		r.Say("More air at night and a free draught through the tower drive the carbon dioxide out; the pH then goes from {now 2} towards {then 2}, and {times 2} times as much of any ammonia is toxic.", ph, aired, times)
	case aired-ph > limits.PHStepDay:
		r.Say("It harms nobody. More air would still take the pH from {now 2} towards {then 2}, and make {times 2} times as much of any ammonia toxic: test ammonia first.", ph, aired, times)
	default:
		r.Advise("There is hardly more than air leaves: more air would not change the pH. Look to KH and algae instead.")
	}
}
