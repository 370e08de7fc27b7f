package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// BicarbonateDose declares the calculator of the dose that raises KH.
func BicarbonateDose() calculators.Calculator {
	c := calculators.Calculator{
		ID: "bicarbonate-dose",
		Inputs: []calculators.Input{
			{
				Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
				Help:   "Pond, filter and pipes; from the pond volume calculator.",
				Accept: calculators.Range{Low: 1, High: 10000000, Origin: "sanity limit"},
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
				Name: "now", Fact: "alkalinity", Label: "KH now, as CaCO3", Kind: quantity.Hardness, Help: "Tested today.",
				Accept: calculators.Range{Low: 0, High: mostKH, Origin: "sanity limit"},
				When:   calculators.When{Input: "kh-in", Is: []string{"caco3"}},
			},
			{
				Name: "wanted", Label: "KH wanted, as CaCO3", Kind: quantity.Hardness, Help: calculators.Text("{least 0} to {enough 0 mg/L} suits a koi pond.", limits.AlkalinityLowWatch, khEnough),
				Accept: calculators.Range{Low: 0, High: 300, Origin: "common practice"},
				When:   calculators.When{Input: "kh-in", Is: []string{"caco3"}},
			},
			{
				Name: "now-degrees", Fact: "kh-degrees", Label: "KH now, in German degrees", Kind: quantity.Hardness, Unit: "{°dH}", Help: "Tested today.",
				Accept: calculators.Range{Low: 0, High: 28, Origin: "sanity limit"},
				When:   calculators.When{Input: "kh-in", Is: []string{"german"}},
			},
			{
				Name: "wanted-degrees", Label: "KH wanted, in German degrees", Kind: quantity.Hardness, Unit: "{°dH}", Help: calculators.Text("{least 0} to {enough 0} suits a koi pond.", limits.AlkalinityLowWatch/GermanDegree, khEnough/GermanDegree),
				Accept: calculators.Range{Low: 0, High: 17, Origin: "common practice"},
				When:   calculators.When{Input: "kh-in", Is: []string{"german"}},
			},
			{
				Name: "product", Label: "Dosed with", Type: calculators.Choice, Default: "sodium", Fine: true,
				Help: "Food grade and pure; never baking powder, washing soda or lime.",
				Options: []calculators.Option{
					{Name: "sodium", Label: "sodium bicarbonate (bicarbonate of soda)"},
					{Name: "potassium", Label: "potassium bicarbonate"},
				},
			},
			{
				Name: "ph", Fact: "ph", Label: "pH now", Kind: quantity.PH, Optional: true, Fine: true,
				Help:   calculators.Text("After a crash, at {crash ~} or below, the steps are a quarter as large.", limits.PHLowEmergency),
				Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"},
			},
			{
				Name: "step", Label: "Most KH to add in a day, as CaCO3", Kind: quantity.Concentration, Default: "20 mg/L", Fine: true,
				Help:   "About one German degree a day keeps the pH change small (common practice).",
				Accept: calculators.Range{Low: 1, High: 50, Origin: "common practice"},
			},
			{
				Name: "volume-error", Fact: "volume-error", Label: "Error of the volume", Kind: quantity.Share, Default: "20 %", Fine: true,
				Help:   volumeHelp(),
				Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"},
			},
		},
		Outputs: []calculators.Output{
			{Name: "dose", Label: "Bicarbonate in all", Unit: "g", Digits: 2, Also: []string{"[oz_av]", "[lb_av]"}, Help: "For the water you stated; the range is for a pond smaller or larger than you think."},
			{Name: "days", Label: "Spread over days, at least", Unit: "1", Digits: 2, Whole: true},
			{Name: "daily", Label: "Bicarbonate each day", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}},
			{Name: "teaspoons", Label: "That is in level teaspoons, about", Unit: "1", Digits: 2, Fine: true, Help: "Better weigh it: a spoon holds half as much again pressed as loose."},
			{Name: "ph-rise", Label: "pH rises on the first day by about", Unit: "[pH]", Digits: 2, Help: "If the carbon dioxide in the water stays as it is; less at first."},
			{Name: "reached", Label: "KH it comes to, as CaCO3", Unit: "mg/L", Digits: 2, Help: "The range is for a pond larger or smaller than you think."},
			{Name: "reached-degrees", Label: "KH it comes to, in German degrees", Unit: "1", Digits: 2, Fine: true},
		},
		Compute: computeBicarbonate,
	}
	if calculators.Documented {
		c.Title = "Bicarbonate to raise KH"
		c.Question = "How much bicarbonate of soda brings my KH up, and over how many days?"
		c.Part = "water"
		c.Formulas = bicarbonateFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("Test ammonia first. Raising KH raises the pH, and with it the toxic part of any ammonia: if some shows, only in small daily steps, while the toxic part stays below {good mg/L}. A pH that has crashed cannot wait.", limits.AmmoniaWatch),
			"Dissolve each day's share in a bucket of pond water and pour it slowly where the water moves, never over fish or into the filter's media.",
			"Pure food-grade bicarbonate only, nothing scented or for swimming pools.",
			poundRule(),
			"Washing soda and lime are caustic and throw the pH up: not for a pond with fish.",
			calculators.Text("A pH already below {crash ~} is an emergency: bicarbonate for {step mg/L} of KH a day in four parts, and not the dose above; small water changes, and a fish vet on the telephone. More air raises the pH too: step by step.", limits.PHLowEmergency, limits.KHStepCrash),
		}
		c.Example = calculators.Example{
			Story: "KH in Lower Reach, {volume}, has slipped to {now} as CaCO3; there is no ammonia. Ines wants {wanted}.",
			Pond:  "ines", Day: "2025-08-16",
			Given: []calculators.Arg{{Name: "wanted", Value: "120 mg/L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Sodium bicarbonate in all, by the KH wanted (as CaCO3), starting from {now}; spread it over days",
			Rows:    calculators.Axis{Input: "volume", Values: []string{"1000 L", "2000 L", "5000 L", "10000 L", "20000 L", "50000 L"}},
			Columns: calculators.Axis{Input: "wanted", Values: []string{"60 mg/L", "80 mg/L", "100 mg/L", "120 mg/L", "150 mg/L"}},
			Show:    []string{"dose"},
			Given:   []calculators.Arg{{Name: "now", Value: "50 mg/L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Sodium bicarbonate in all from a KH of {now}",
			X:       "wanted", From: "50 mg/L", To: "150 mg/L",
			Series: calculators.Axis{Input: "volume", Values: []string{"2000 L", "5000 L", "10000 L"}},
			Show:   "dose",
			Given:  []calculators.Arg{{Name: "now", Value: "50 mg/L"}},
		}
	}
	return c
}

// khEnough is the KH in mg/L as CaCO3 beyond which a koi pond gains nothing:
// common practice.
const khEnough = 150.0

// volumeHelp says how well a volume is known.
func volumeHelp() string {
	return calculators.Text("A volume from a tape measure is good to {best 0} to {worst %} (common practice).", limits.VolumeError/2, limits.VolumeError)
}

// poundRule judges a saying of the trade about sodium bicarbonate.
func poundRule() string {
	const gallons = 1000
	gives := func(volume float64) float64 { return pound / AlkalinityDose(1, volume, sodiumBicarbonate) }
	return calculators.Text("“A pound to a thousand gallons gives forty” is wrong: it gives {us 2 mg/L} in US gallons and {imperial 2} in imperial ones.",
		gives(gallons*usGallon), gives(gallons*imperialGallon))
}

func bicarbonateFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Balance of equivalents", Says: "Mass of a pure compound for a rise of alkalinity c in mg/L as CaCO3; E is 84.006 g/eq for sodium bicarbonate, 100.114 for potassium bicarbonate.",
			TeX:    `m = c\,V\,\frac{E}{50.043}`,
			Source: "iupac-atomic-weights", Locator: "molar masses", Basis: "published", Function: "water.AlkalinityDose",
			Check: calculators.Explicit("m [g] mass of the compound: c [mg/L] rise of alkalinity as CaCO3 5..200, V [m3] 0.5..50, E [g/mol] mass of the compound for one equivalent 84.006|100.114", func(rise, volume, equivalent float64) float64 { return AlkalinityDose(rise, 1000*volume, equivalent) }),
		},
		{
			Name: "Rise of pH", Says: "From one alkalinity to another with the carbon dioxide unchanged, below about pH 8.5.",
			TeX:    `\Delta\mathrm{pH} = \log_{10}\frac{c_\mathrm{after}}{c_\mathrm{before}}`,
			Source: "usgs-phreeqc", Locator: "balance of carbonic acid, first step", Basis: "published", Function: "water.PHRise",
			Check: calculators.Explicit("ΔpH [[pH]] rise of pH: c_before [mg/L] alkalinity before as CaCO3 10..100, c_after [mg/L] alkalinity after as CaCO3 50..200", PHRise),
		},
	}
}

// khPlan is what is asked for, as CaCO3 in mg/L.
type khPlan struct {
	now, wanted, step float64
	volume, error     float64 // litres, fraction
	equivalent        float64 // g/eq of the product
}

func computeBicarbonate(in calculators.Inputs) (calculators.Result, error) {
	var r calculators.Result
	p := khPlan{
		now: in.In("now", "mg/L"), wanted: in.In("wanted", "mg/L"), step: in.In("step", "mg/L"),
		volume: in.In("volume", "L"), error: in.In("volume-error", "%") / 100, equivalent: sodiumBicarbonate,
	}
	if in.Choice("kh-in") == "german" {
		p.now, p.wanted = in.In("now-degrees", "{°dH}")*GermanDegree, in.In("wanted-degrees", "{°dH}")*GermanDegree
	}
	if in.Choice("product") == "potassium" {
		p.equivalent = potassiumBicarbonate
	}
	p.slowAfterCrash(&r, in.In("ph", "[pH]"))
	rise := math.Max(0, p.wanted-p.now)
	dose := AlkalinityDose(rise, p.volume, p.equivalent)
	days := math.Ceil(rise/p.step - 1e-9)
	low, likely, high := p.now+rise/(1+p.error), p.now+rise, p.now+rise/(1-p.error)
	r.Between("dose", dose*(1-p.error), dose, dose*(1+p.error))
	r.Exactly("days", days)
	r.Exactly("daily", dose/math.Max(1, days))
	bicarbonateTeaspoon().add(&r, "teaspoons", dose/math.Max(1, days))
	r.Between("reached", low, likely, high)
	r.Between("reached-degrees", low/GermanDegree, likely/GermanDegree, high/GermanDegree)
	if p.now > 0 && rise > 0 {
		r.Exactly("ph-rise", PHRise(p.now, p.now+rise/days))
	}
	p.advise(&r, dose, days, high)
	if p.wanted > limits.AlkalinityHighWatch {
		r.Doubt("More than {most mg/L} KH is of no use to koi.", limits.AlkalinityHighWatch)
	}
	if rise > 0 {
		r.Step("Rise", "{~4 mg/L} − {~4 mg/L} = {3 mg/L}", p.wanted, p.now, rise)
	} else {
		r.Step("Rise", "none is needed")
	}
	r.Step("For each litre", "{3 mg/L} × {4}/50.04 = {3 mg/L}", rise, p.equivalent, rise*p.equivalent/CaCO3PerEquivalent)
	r.Step("For {3 L}", "{3 mg/L} × {3 L} = {3 g}", p.volume, rise*p.equivalent/CaCO3PerEquivalent, p.volume, dose)
	r.Scale = calculators.Scale{Output: "reached", Marks: limits.Marks(limits.Alkalinity)}
	return r, nil
}

// slowAfterCrash makes the steps smaller where the pH has crashed, or may have, because
// hardly any KH is left and nobody stated the pH.
func (p *khPlan) slowAfterCrash(r *calculators.Result, ph float64) {
	switch {
	case p.step <= limits.KHStepCrash:
		return
	case ph <= limits.PHLowEmergency:
		r.Doubt("The pH has crashed: {step mg/L} of KH a day is the most, the first day's in four parts, hours apart, with pH and ammonia tested before each.", limits.KHStepCrash)
	case ph != ph && p.now <= GermanDegree:
		r.Doubt("So little KH is left that the pH may have crashed: {step mg/L} of KH a day is the most until you state a pH above {crash ~}.", limits.KHStepCrash, limits.PHLowEmergency)
	default:
		return
	}
	p.step = limits.KHStepCrash
}

func (p khPlan) advise(r *calculators.Result, dose, days, high float64) {
	if dose == 0 {
		r.Advise("KH is there already: dose nothing.", "Only a water change with softer water lowers it, slowly.")
		return
	}
	if p.now <= limits.AlkalinityLowAct {
		r.Say("Begin today: below {least mg/L} the pH can crash overnight. Change no large part of the water before KH is up.", limits.AlkalinityLowAct)
	}
	r.Say("Test ammonia and pH first. If ammonia shows, dose only while the toxic part stays below {good mg/L}, in the small daily steps; only a pH below {crash ~} cannot wait for that.", limits.AmmoniaWatch, limits.PHLowEmergency)
	if days == 1 {
		r.Say("Dose {dose 2 g}, dissolved in a bucket, into moving water; it is for {volume 3 L}.", dose, p.volume)
	} else {
		r.Say("Dose {dose 2 g} a day for {days 0|day|days}, dissolved in a bucket, into moving water; it is for {volume 3 L}.", dose/days, days, p.volume)
	}
	if PHRise(p.now, p.now+(p.wanted-p.now)/days) > limits.PHStepDay {
		r.Say("The first dose may lift the pH by more than {step ~}: give the first two days' shares in four parts each, hours apart, and test the pH before each.", limits.PHStepDay)
	}
	r.Say("Test KH and pH before each day's dose. Miss a day if the pH has gone up by more than {step ~}, and stop when KH is there.", limits.PHStepDay)
	r.Say("If the pond holds {error 2 %} less than you think, the whole dose would give {reached 3 mg/L}; the daily test tells you in time.", 100*p.error, high)
	r.Advise("To undo it, change water for tap water of the old KH: a change of half takes half of the rise out again. Never acid.")
}
