package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// FreeAmmonia declares the calculator of the toxic part of an ammonia reading.
func FreeAmmonia() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "free-ammonia",
		Inputs:  append(freeAmmoniaInputs(), newWaterInputs()...),
		Outputs: freeAmmoniaOutputs(),
		Compute: computeFreeAmmonia,
	}
	if calculators.Documented {
		c.Title = "Toxic part of an ammonia reading"
		c.Question = "How much of the ammonia my kit shows is in the form that harms fish, and what do I do about it?"
		c.Part = "water"
		c.Formulas = freeAmmoniaFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			"There is no one safe number: the published limits differ tenfold by animal, time and country. Read your answer against all of them.",
			"At the kit's last colour the truth may be far higher: mix one part pond water with four parts water free of ammonia, test again, and multiply by five.",
			"pH, and with it the toxic part, is highest in the late afternoon of a sunny day. Test then.",
			"Raising the pH turns harmless ammonium into toxic ammonia: KH only in small daily steps, and only while the toxic part is in order.",
			"Some water conditioners bind ammonia, and many kits still count what is bound. The labels of the product and of the kit say so.",
		}
		c.Example = calculators.Example{
			Story: "On a summer evening Ines tests Lower Reach: the kit shows {tan} total ammonia as nitrogen, the pH is {ph} and the water {temperature}.",
			Pond:  "ines", Day: "2025-07-11",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Toxic share of total ammonia in fresh water",
			Rows:    calculators.Axis{Input: "temperature", Values: []string{"5 Cel", "10 Cel", "15 Cel", "20 Cel", "25 Cel", "30 Cel"}},
			Columns: calculators.Axis{Input: "ph", Values: []string{"6.5", "7.0", "7.5", "8.0", "8.5", "9.0"}},
			Show:    []string{"share"},
			Given:   []calculators.Arg{{Name: "tan", Value: "1 mg/L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Toxic share of total ammonia: each step of pH counts more than ten degrees",
			X:       "ph", From: "6.5", To: "9.5",
			Series: calculators.Axis{Input: "temperature", Values: []string{"5 Cel", "15 Cel", "25 Cel"}},
			Show:   "share",
			Given:  []calculators.Arg{{Name: "tan", Value: "1 mg/L"}},
			Log:    true,
		}
	}
	return c
}

func freeAmmoniaInputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "tan", Fact: "ammonia", Label: "Total ammonia reading", Kind: quantity.Concentration,
			Help:   "What the ammonia test shows.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"},
		},
		{
			Name: "basis", Fact: "ammonia-kit", Label: "The kit reads", Type: calculators.Choice, Default: "as-n",
			Help: "As the leaflet says; if it does not, nitrogen errs to the safe side.",
			Options: []calculators.Option{
				{Name: "as-n", Label: "as nitrogen (TAN, NH3-N)"},
				{Name: "as-nh3", Label: "as ammonia (NH3)"},
				{Name: "as-nh4", Label: "as ammonium (NH4)"},
			},
		},
		{
			Name: "ph", Fact: "ph", Label: "pH", Kind: quantity.PH,
			Help:   "Measured with the ammonia, best in the late afternoon.",
			Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"},
		},
		{
			Name: "temperature", Fact: "temperature", Label: "Water temperature", Kind: quantity.Temperature,
			Help:   "A thermometer held in the pond for two minutes.",
			Accept: calculators.Range{Low: emersonColdest, High: emersonWarmest, Origin: "emerson-1975, stated range"},
		},
		{
			Name: "salinity", Fact: "salinity", Label: "Salt in the water", Kind: quantity.Salinity, Fine: true, Default: "0 g/kg",
			Help:   saltHelp(),
			Accept: calculators.Range{Low: 0, High: saltiest, Origin: "fdep-unionised-ammonia, stated range"},
		},
		{
			Name: "kit-error", Fact: "ammonia-kit-error", Label: "Error of the ammonia kit", Kind: quantity.Share, Fine: true, Default: "25 %",
			Help:   "Half a colour step of a drop kit is about a quarter (common practice).",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"},
		},
		{
			Name: "ph-error", Fact: "ph-error", Label: "Error of the pH reading", Kind: quantity.PH, Fine: true, Default: "0.2",
			Help:   calculators.Text("Half a colour step is about {step ~}, a meter with fresh buffer {meter ~} (common practice).", KitPHError, meterPHError),
			Accept: calculators.Range{Low: 0, High: 1, Origin: "sanity limit"},
		},
	}
}

// KitPHError is the error of a pH read off a colour chart, half a step: common
// practice.
const KitPHError = 0.2

// meterPHError is that of a meter with fresh buffer: common practice.
const meterPHError = 0.1

// saltHelp says what a salt content of the water is.
func saltHelp() string {
	return calculators.Text("Leave at 0 unless you added salt; {mass 0 kg} in {volume 0 L} is about {salt 0 g/kg}.", 1, 1000, 1)
}

func freeAmmoniaOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "toxic", Label: "Toxic ammonia, as nitrogen", Unit: "mg/L", Digits: 2, Help: "Un-ionised ammonia NH3-N: the part that passes through the gills."},
		{Name: "share", Label: "Toxic share of the reading", Unit: "%", Digits: 2},
		{Name: "as-nh3", Label: "Toxic ammonia, as NH3", Unit: "mg/L", Digits: 2, Fine: true, Help: "The same amount counted as ammonia, as the European limits are."},
		{Name: "ionised", Label: "Ammonium, as nitrogen", Unit: "mg/L", Digits: 2, Fine: true, Help: "The mostly harmless rest. It turns toxic when the pH rises."},
		{Name: "highest-total", Label: "Highest total ammonia that stays good", Unit: "mg/L", Digits: 2, Help: calculators.Text("As nitrogen; keeps the toxic part below {good mg/L} at this pH, temperature and salt.", limits.AmmoniaWatch)},
		{Name: "change", Label: calculators.Text("Water to change in all, to come down to {good mg/L}", limits.AmmoniaWatch), Unit: "%", Digits: 2, Help: "With the new water you stated, else with water of the same pH and temperature, free of ammonia. Never in one go: at most half at a time."},
		{Name: "water", Label: "That is", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "change-act", Label: calculators.Text("Water to change in all, to come down to {act mg/L}", limits.AmmoniaAct), Unit: "%", Digits: 2, Help: "Where gill harm begins."},
		{Name: "water-act", Label: "That is", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "eu-total", Label: "European limit for carp waters, as total", Unit: "mg/L", Digits: 2, Fine: true, Help: calculators.Text("Total ammonia as nitrogen that makes {limit mg/L} NH3 at this pH and temperature; directive of 2006, ended in 2013, quoted from memory.", limits.AmmoniaEurope)},
		{Name: "epa-chronic", Label: "United States thirty-day criterion, no mussels", Unit: "mg/L", Digits: 2, Fine: true, Help: "Total ammonia as nitrogen, for fish but no mussels and no fry."},
		{Name: "epa-chronic-mussels", Label: "United States thirty-day criterion, with mussels", Unit: "mg/L", Digits: 2, Fine: true, Help: "Total ammonia as nitrogen. Swan mussels and their kin are far more easily harmed than carp."},
		{Name: "epa-acute", Label: "United States one-hour criterion, no mussels", Unit: "mg/L", Digits: 2, Fine: true, Help: "Total ammonia as nitrogen, for fish other than trout and salmon, no mussels."},
		{Name: "epa-acute-mussels", Label: "United States one-hour criterion, with mussels", Unit: "mg/L", Digits: 2, Fine: true, Help: "Total ammonia as nitrogen, for fish other than trout and salmon, with mussels."},
	}
}

func freeAmmoniaFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Emerson 1975, pKa", Says: "Acidity constant of ammonium in fresh water, stated for 0 to 50 °C.",
			TeX:    `\mathrm{p}K_a = 0.0901821 + \frac{2729.92}{t + 273.15}`,
			Source: "emerson-1975", Locator: "equation for pKa", Basis: "published", Function: "water.AmmoniumPKa",
			Check: calculators.Explicit("pK_a [1]: t [Cel] 0..50", AmmoniumPKa),
		},
		{
			Name: "Emerson 1975, share", Says: "Toxic share of total ammonia at a pH.",
			TeX:    `f = \frac{1}{1 + 10^{\,\mathrm{p}K_a - \mathrm{pH}}}`,
			Source: "emerson-1975", Locator: "equation for f", Basis: "published", Function: "water.UnionisedFraction",
			Check: calculators.Explicit("f [1] toxic share of total ammonia, pK_a [1]: pH [[pH]] 5..11, - [Cel] 0..50", func(ph, t float64) (share, pk float64) { return UnionisedFraction(ph, t, 0), AmmoniumPKa(t) }),
		},
		{
			Name: "Salt term", Says: "Salt lowers the toxic share a little; stated for 5 to 35 g/kg, below that it runs to fresh water.",
			TeX:    `\mathrm{p}K_{a,S} = \mathrm{p}K_a + (0.1552 - 0.0003142\,t)\,\frac{19.973\,S}{1000 - 1.2005109\,S}`,
			Source: "fdep-unionised-ammonia", Locator: "salinity correction", Basis: "published", Function: "water.SaltedPKa",
			Check: calculators.Explicit("pK_a,S [1] the same in salt water, pK_a [1] acidity constant of ammonium in fresh water as its negative logarithm: t [Cel] 0..50, S [g/kg] salinity 0..35", func(t, salinity float64) (salted, fresh float64) { return SaltedPKa(t, salinity), AmmoniumPKa(t) }),
		},
		{
			Name: "EPA 2013, one hour", Says: "Acute criterion without salmonids as total ammonia nitrogen; c is 23.12 with mussels, 62.15 without; pH 6.5 to 9, 0 to 30 °C.",
			TeX:    `0.7249\left(\frac{0.0114}{1+10^{7.204-\mathrm{pH}}} + \frac{1.6181}{1+10^{\mathrm{pH}-7.204}}\right)\min\left(51.93,\; c\cdot 10^{0.036(20-t)}\right)`,
			Source: "epa-2013-ammonia", Locator: "acute criterion and Appendix N", Basis: "published", Function: "water.AcuteCriterion",
			Check: calculators.Explicit("limit [mg/L] limit for one hour: pH [[pH]] 6.5..9, t [Cel] 0..30, c [mg/L] criterion for the mussels and fish that live there 23.12|62.15", func(ph, t, c float64) float64 { return AcuteCriterion(ph, t, c < 40) }),
		},
		{
			Name: "EPA 2013, 30 days", Says: "Chronic criterion as total ammonia nitrogen; s and k are 0.8876 and 2.126 with mussels, 0.9405 and 7.547 without mussels and fry; pH 6.5 to 9, 0 to 30 °C.",
			TeX:    `s\left(\frac{0.0278}{1+10^{7.688-\mathrm{pH}}} + \frac{1.1994}{1+10^{\mathrm{pH}-7.688}}\right) k\cdot 10^{0.028(20-\max(t,7))}`,
			Source: "epa-2013-ammonia", Locator: "chronic criterion and Appendix N", Basis: "published", Function: "water.ChronicCriterion",
			Check: calculators.Explicit("limit [mg/L] limit for thirty days, s [1] factor of the species, k [mg/L] criterion for the mussels and fish that live there: pH [[pH]] 6.5..9, t [Cel] 0..30, - [1] 0..1", func(ph, t float64, mussels int) (limit, s, k float64) {
				s, k = 0.9405, 7.547
				if mussels == 1 {
					s, k = 0.8876, 2.126
				}
				return ChronicCriterion(ph, t, mussels == 1), s, k
			}),
		},
		{
			Name: "After a change", Says: "Toxic part once a share x of the water is new; the pH of the mixture is that of the calculator of water changes.",
			TeX:   `c_x = f_x\left(c_\mathrm{now} + x\,(c_\mathrm{new} - c_\mathrm{now})\right)`,
			Basis: "practice", Function: "water.UnionisedFraction",
			Check: calculators.Explicit("c_x [mg/L] toxic ammonia of the mixture, f_x [1] toxic share in the mixture: c_now [mg/L] total ammonia of the pond 1..5, c_new [mg/L] total ammonia of the new water 0..0.5, x [1] share of the water renewed 0..1", func(now, replacement, share float64) (toxic, fraction float64) {
				w := Renewal{Total: now, NewTotal: replacement, PH: 8, NewPH: 7.5, Alkalinity: 100, NewAlkalinity: 60, T: 20, NewT: 20}
				return w.Toxic(share), UnionisedFraction(w.PHAfter(share), w.T, 0)
			}),
		},
		{
			Name: "One water change", Says: "Share of water to renew with water free of the substance and of the same pH.",
			TeX:   `x = 1 - \frac{c_\mathrm{wanted}}{c_\mathrm{now}}`,
			Basis: "practice", Function: "water.ChangeNeeded",
			Check: calculators.Explicit("x [1]: c_now [mg/L] 1..5, c_wanted [mg/L] 0.02..0.9", ChangeNeeded),
		},
	}
}

// ammoniaReading is one reading, in the units of the formulas.
type ammoniaReading struct {
	perNitrogen float64 // what the kit counts for one of nitrogen
	total       float64 // mg/L as nitrogen
	ph          float64
	t           float64 // degrees Celsius
	salinity    float64 // g/kg
	kitError    float64 // fraction of the reading
	phError     float64
	fresh       freshWater
	volume      float64 // L; NaN: not stated
}

func readAmmonia(in calculators.Inputs) ammoniaReading {
	perNitrogen := 1.0
	switch in.Choice("basis") {
	case "as-nh3":
		perNitrogen = chemistry.AmmoniaPerNitrogen
	case "as-nh4":
		perNitrogen = chemistry.AmmoniumPerNitrogen
	}
	return ammoniaReading{
		perNitrogen: perNitrogen,
		total:       in.In("tan", "mg/L") / perNitrogen, ph: in.In("ph", "[pH]"), t: in.In("temperature", "Cel"),
		salinity: in.In("salinity", "g/kg"), kitError: in.In("kit-error", "%") / 100, phError: in.In("ph-error", "[pH]"),
	}
}

func (a ammoniaReading) fraction(phShift float64) float64 {
	return UnionisedFraction(a.ph+phShift, a.t, a.salinity)
}

func computeFreeAmmonia(in calculators.Inputs) (calculators.Result, error) {
	a := readAmmonia(in)
	a.readFresh(in)
	low, likely, high := a.fraction(-a.phError), a.fraction(0), a.fraction(a.phError)
	least, most := a.total*(1-a.kitError), a.total*(1+a.kitError)
	toxic := calculators.Between("toxic", least*low, a.total*likely, most*high)
	r := calculators.Result{Values: []calculators.Value{toxic}}
	r.Between("share", 100*low, 100*likely, 100*high)
	r.Between("as-nh3", toxic.Low*chemistry.AmmoniaPerNitrogen, toxic.Likely*chemistry.AmmoniaPerNitrogen, toxic.High*chemistry.AmmoniaPerNitrogen)
	r.Between("ionised", least*(1-high), a.total*IonisedFraction(a.ph, a.t, a.salinity), most*(1-low))
	r.Between("highest-total", limits.AmmoniaWatch/high, limits.AmmoniaWatch/likely, limits.AmmoniaWatch/low)
	a.addChange(&r, "change", "water", limits.AmmoniaWatch)
	a.addChange(&r, "change-act", "water-act", limits.AmmoniaAct)
	r.Exactly("eu-total", limits.AmmoniaEurope/chemistry.AmmoniaPerNitrogen/likely)
	if criteriaStated(a.ph, a.t) {
		r.Exactly("epa-chronic", ChronicCriterion(a.ph, a.t, false))
		r.Exactly("epa-chronic-mussels", ChronicCriterion(a.ph, a.t, true))
		r.Exactly("epa-acute", AcuteCriterion(a.ph, a.t, false))
		r.Exactly("epa-acute-mussels", AcuteCriterion(a.ph, a.t, true))
	}
	a.flag(&r)
	a.advise(&r, toxic)
	a.work(&r)
	r.Scale = calculators.Scale{Output: "toxic", Marks: a.marks(), Log: true}
	return r, nil
}

func (a ammoniaReading) flag(r *calculators.Result) {
	if a.total == 0 {
		r.Flag("A reading of zero means less than the kit's first colour step, not none.")
	}
	if !criteriaStated(a.ph, a.t) {
		r.Doubt("The United States criteria are stated for pH {acid ~} to {alkaline ~} and {cold ~} to {warm Cel} only: none is shown for this water.", criteriaLeastPH, criteriaMostPH, criteriaColdest, criteriaWarmest)
	}
	if a.salinity > 0 && a.salinity < leastSalty {
		r.Doubt("The salt term is stated from {least g/kg}; below that it is a smooth passage to fresh water.", leastSalty)
	}
	if a.phError+a.kitError > 0 {
		r.Flag("The range is what the readings allow if both err the same way.")
	}
}

func (a ammoniaReading) work(r *calculators.Result) {
	fresh, salted, f := AmmoniumPKa(a.t), SaltedPKa(a.t, a.salinity), a.fraction(0)
	r.Step("pKa at {3 Cel}", "0.0901821 + 2729.92/{5} = {4}", a.t, a.t+273.15, fresh)
	if a.salinity > 0 {
		r.Step("pKa with {2 g/kg} salt", "{4} + {2} = {4}", a.salinity, fresh, salted-fresh, salted)
	}
	r.Step("Toxic share", "1/(1 + 10^({4} − {3})) = {3 %}", salted, a.ph, 100*f)
	r.Step("Toxic ammonia as nitrogen", "{3 mg/L} × {3} = {2 mg/L}", a.total, f, a.total*f)
}
