package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Nitrite declares the calculator of nitrite and the chloride that shields fish
// from it.
func Nitrite() calculators.Calculator {
	c := calculators.Calculator{
		ID: "nitrite",
		Inputs: []calculators.Input{
			{
				Name: "reading", Fact: "nitrite", Label: "Nitrite reading", Kind: quantity.Concentration,
				Help:   "What the nitrite test shows.",
				Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"},
			},
			{
				Name: "basis", Fact: "nitrite-kit", Label: "The kit reads", Type: calculators.Choice, Default: "as-n",
				Help: "As the leaflet says; if it does not, nitrogen errs to the safe side.",
				Options: []calculators.Option{
					{Name: "as-n", Label: "as nitrogen (NO2-N)"},
					{Name: "as-no2", Label: "as nitrite (NO2)"},
				},
			},
			{
				Name: "chloride", Fact: "chloride", Label: "Chloride in the water", Kind: quantity.Concentration, Default: "0 mg/L",
				Help:   "From a chloride kit or the water supplier's report; 0 errs to the safe side.",
				Accept: calculators.Range{Low: 0, High: 5000, Origin: "sanity limit"},
			},
			{
				Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
				Help:   "Pond, filter and pipes; from the pond volume calculator.",
				Accept: calculators.Range{Low: 1, High: 10000000, Origin: "sanity limit"},
			},
			{
				Name: "tap", Label: "Nitrite in the new water", Kind: quantity.Concentration, Default: "0 mg/L", Fine: true,
				Help:   "Tested with the same kit; tap water holds next to none, a well or another pond may.",
				Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"},
			},
			{
				Name: "volume-error", Fact: "volume-error", Label: "Error of the volume", Kind: quantity.Share, Default: "20 %", Fine: true,
				Help:   volumeHelp(),
				Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"},
			},
		},
		Outputs: []calculators.Output{
			{Name: "nitrite-n", Label: "Nitrite, as nitrogen", Unit: "mg/L", Digits: 2},
			{Name: "nitrite-no2", Label: "Nitrite, as NO2", Unit: "mg/L", Digits: 2},
			{Name: "chloride-wanted", Label: "Chloride that shields the fish", Unit: "mg/L", Digits: 2, Help: "From the least of the published ratios to the most; the likely figure is 10 to 1 on NO2."},
			{Name: "salt", Label: "Salt to add in all", Unit: "kg", Digits: 2, Also: []string{"g", "[oz_av]"}, Help: "Pure sodium chloride for the water you stated, less the chloride there is."},
			{Name: "salt-strength", Label: "Salt content that makes", Unit: "g/L", Digits: 2, Help: calculators.Text("The usual pond bath of the hobby is {bath g/L}.", limits.SaltPond)},
			{Name: "change", Label: "Water to change in all", Unit: "%", Digits: 2, Help: calculators.Text("Brings nitrite down to {act mg/L} as nitrogen. Never more than half at a time.", limits.NitriteAct)},
			{Name: "change-water", Label: "That is", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
			{Name: "ratio", Label: "Parts of chloride to one of nitrite nitrogen, now", Unit: "1", Digits: 2, Fine: true},
			{Name: "carp-rule", Label: "Chloride by 8 to 1 on nitrogen, carp", Unit: "mg/L", Digits: 2, Fine: true, Help: "The least, from memory of EIFAC Technical Paper 54."},
			{Name: "catfish-rule", Label: "Chloride by 10 to 1, read as nitrogen", Unit: "mg/L", Digits: 2, Fine: true, Help: "The catfish sheet does not say which it means."},
			{Name: "catfish-rule-no2", Label: "Chloride by 10 to 1, read as NO2", Unit: "mg/L", Digits: 2, Fine: true, Help: "The catfish sheet does not say which it means."},
			{Name: "trout-rule", Label: "Chloride by 17 to 1 on nitrogen, trout", Unit: "mg/L", Digits: 2, Fine: true, Help: "The least, from memory of EIFAC Technical Paper 54."},
			{Name: "bc-maximum", Label: "British Columbia's maximum at this chloride, as nitrogen", Unit: "mg/L", Digits: 2, Fine: true, Help: "For all wild life in fresh water; a table of steps."},
			{Name: "bc-mean", Label: "British Columbia's thirty-day mean at this chloride, as nitrogen", Unit: "mg/L", Digits: 2, Fine: true, Help: "For all wild life in fresh water; a table of steps, two of them from memory."},
			{Name: "coarse-fish", Label: "EIFAC's mean for coarse fish at this chloride, as nitrogen", Unit: "mg/L", Digits: 2, Fine: true, Help: "From memory; the step at or below your chloride."},
		},
		Compute: computeNitrite,
	}
	if calculators.Documented {
		c.Title = "Nitrite, and salt against it"
		c.Question = "How bad is the nitrite my kit shows, and how little salt would shield the fish?"
		c.Part = "water"
		c.Formulas = nitriteFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Salt is a shield, not a cure: nitrite goes by water changes, less feed and a filter that ripens.",
			"Fish that gasp with brown gills cannot wait: give the small dose at once and call the vet in the same minute. Where nothing is urgent ask the vet first: plants, some medicines and some fish do not stand salt.",
			"Take zeolite out before any salt goes in: salt makes it give back all the ammonia it has taken up.",
			"Use plain salt, without iodine, anti-caking agent or scent, dissolved first and poured slowly into moving water, away from the fish.",
			"Salt does not evaporate. It leaves with the water you change: top up for evaporation without salt.",
			calculators.Text("The trade's dose of {bath g/L} is many times what the chloride ratio asks for; it is a bath for other ends.", limits.SaltPond),
		}
		c.Example = calculators.Example{
			Story: "Lower Reach, {volume}, in its fourth week: Ines's kit shows {reading} nitrite as nitrogen. The water supplier's report says {chloride} chloride.",
			Pond:  "ines", Day: "2025-06-28",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Salt against nitrite (as nitrogen) in {volume}, by the chloride there is",
			Rows:    calculators.Axis{Input: "reading", Values: []string{"0.15 mg/L", "0.3 mg/L", "0.5 mg/L", "1 mg/L", "2 mg/L", "5 mg/L"}},
			Columns: calculators.Axis{Input: "chloride", Values: []string{"0 mg/L", "10 mg/L", "25 mg/L", "50 mg/L", "100 mg/L"}},
			Show:    []string{"salt"},
			Given:   []calculators.Arg{{Name: "volume", Value: "1000 L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Chloride that shields fish from nitrite, by how the kit reads",
			X:       "reading", From: "0 mg/L", To: "5 mg/L",
			Series: calculators.Axis{Input: "basis", Values: []string{"as-n", "as-no2"}},
			Show:   "chloride-wanted",
			Given:  []calculators.Arg{{Name: "volume", Value: "1000 L"}},
		}
	}
	return c
}

func nitriteFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Chloride to nitrite", Says: "Chloride by the published ratios; the 10 to 1 of catfish ponds does not say whether on nitrogen or on NO2, so the larger is taken, and the carp's 8 to 1 (from memory) shown as the least.",
			TeX:    `8\,c_\mathrm{N} \le c_\mathrm{Cl} = 10\,c_\mathrm{NO_2} = 32.8\,c_\mathrm{N} \le \max(10\,c_\mathrm{NO_2},\,100)`,
			Source: "srac-462", Locator: "text", Basis: "published", Function: "water.NitriteShield",
			Check: calculators.Rounded("c_Cl [mg/L], c_NO_2 [mg/L]: c_N [mg/L] 0.1..20", func(n float64) (chloride struct{ Low, Likely, High float64 }, nitrite float64) {
				chloride.Low, chloride.Likely, chloride.High = NitriteShield(n)
				return chloride, n * chemistry.NitritePerNitrogen
			}),
		},
		{
			Name: "Salt for chloride", Says: "Sodium chloride for the chloride still missing in a volume.",
			TeX:    `m = 1.6485\,(c_\mathrm{wanted} - c_\mathrm{now})\,V`,
			Source: "iupac-atomic-weights", Locator: "mass ratio", Basis: "published", Function: "water.SaltForChloride",
			Check: calculators.Rounded("m [g]: c_now [mg/L] chloride now 0..50, c_wanted [mg/L] chloride wanted 60..300, V [m3] 0.5..50", func(now, wanted, volume float64) float64 { return SaltForChloride(now, wanted, 1000*volume) }),
		},
		{
			Name: "British Columbia, maximum", Says: "Steps by chloride, mg/L as nitrogen; never interpolated.",
			TeX:    `c_\mathrm{N} = \begin{cases} 0.06 & c_\mathrm{Cl} < 2 \\ 0.12 & 2 \le c_\mathrm{Cl} < 4 \\ 0.18 & 4 \le c_\mathrm{Cl} < 6 \\ 0.24 & 6 \le c_\mathrm{Cl} < 8 \\ 0.30 & 8 \le c_\mathrm{Cl} \le 10 \\ 0.60 & c_\mathrm{Cl} > 10 \end{cases}`,
			Source: "bc-wqg-2006", Locator: "Tables 16 and 17", Basis: "published", Function: "water.NitriteMaximum",
			Check: calculators.Explicit("c_N [mg/L] nitrite at the most as nitrogen: c_Cl [mg/L] 0|1.9|2|3.9|4|5|6|7.9|8|9|10|10.1|50", NitriteMaximum),
		},
		{
			Name: "British Columbia, thirty days", Says: "Steps of the mean by chloride, a third of the maximum; from 4 to 6 and above 10 mg/L from memory.",
			TeX:    `c_\mathrm{N} = \begin{cases} 0.02 & c_\mathrm{Cl} < 2 \\ 0.04 & 2 \le c_\mathrm{Cl} < 4 \\ 0.06 & 4 \le c_\mathrm{Cl} < 6 \\ 0.08 & 6 \le c_\mathrm{Cl} < 8 \\ 0.10 & 8 \le c_\mathrm{Cl} \le 10 \\ 0.20 & c_\mathrm{Cl} > 10 \end{cases}`,
			Source: "bc-nitrogen-2009", Locator: "Table 2", Basis: "memory", Function: "water.NitriteMean",
			Check: calculators.Explicit("c_N [mg/L] mean nitrite at the most as nitrogen: c_Cl [mg/L] 0|1.9|2|3.9|4|5|6|7.9|8|9|10|10.1|50", NitriteMean),
		},
		{
			Name: "EIFAC 1984, coarse fish", Says: "Mean nitrite as nitrogen by chloride; the step at or below yours.",
			TeX:    `c_\mathrm{N} = \begin{cases} 0.02 & 1 \le c_\mathrm{Cl} < 5 \\ 0.10 & 5 \le c_\mathrm{Cl} < 10 \\ 0.18 & 10 \le c_\mathrm{Cl} < 20 \\ 0.24 & 20 \le c_\mathrm{Cl} < 40 \\ 0.30 & c_\mathrm{Cl} \ge 40 \end{cases}`,
			Source: "eifac-t46-1984", Locator: "coarse-fish criteria", Basis: "memory", Function: "water.CoarseFishNitrite",
			Check: calculators.Explicit("c_N [mg/L] mean nitrite at the most as nitrogen: c_Cl [mg/L] 1|4.9|5|9.9|10|19|20|39|40|300", CoarseFishNitrite),
		},
	}
}

// SaltForChloride returns the sodium chloride in grams that brings a volume in
// litres from one chloride to another, both in mg/L; 0 if it is there already.
// It is the mass balance with chemistry.SaltPerChloride (iupac-atomic-weights).
func SaltForChloride(now, wanted, volume float64) float64 {
	return chemistry.SaltPerChloride * math.Max(0, wanted-now) * volume / 1000
}

// muchSalt is where more salt needs a vet, g/L: a third of the hobby's bath,
// common practice.
const muchSalt = 1.0

// nitriteCase is one reading in one pond.
type nitriteCase struct {
	n        float64 // mg/L as nitrogen
	chloride float64 // mg/L
	volume   float64 // L
	error    float64 // fraction of the volume
	tap      float64 // nitrite of the new water, mg/L as nitrogen
}

// leastChloride is the shortfall of chloride in mg/L that the sums may leave by
// rounding where the chloride is just enough.
const leastChloride = 1e-9

// salt is the sodium chloride in g that brings a volume in L to the chloride
// wanted, and nothing if that is there within leastChloride.
func (a nitriteCase) salt(wanted, volume float64) float64 {
	if wanted-a.chloride < leastChloride {
		return 0
	}
	return SaltForChloride(a.chloride, wanted, volume)
}

func computeNitrite(in calculators.Inputs) (calculators.Result, error) {
	a := nitriteCase{n: in.In("reading", "mg/L"), chloride: in.In("chloride", "mg/L"), volume: in.In("volume", "L"), error: in.In("volume-error", "%") / 100, tap: in.In("tap", "mg/L")}
	if in.Choice("basis") == "as-no2" {
		a.n /= chemistry.NitritePerNitrogen
		a.tap /= chemistry.NitritePerNitrogen
	}
	low, likely, high := NitriteShield(a.n)
	salt := a.salt(likely, a.volume) / 1000
	var r calculators.Result
	r.Exactly("nitrite-n", a.n)
	r.Exactly("nitrite-no2", a.n*chemistry.NitritePerNitrogen)
	r.Between("chloride-wanted", low, likely, high)
	r.Between("salt", a.salt(low, a.volume)/1000, salt, a.salt(high, a.volume)/1000)
	r.Between("salt-strength", a.salt(low, 1), a.salt(likely, 1), a.salt(high, 1))
	if share, ok := ShareToLower(a.n, a.tap, limits.NitriteAct); ok {
		r.Exactly("change", 100*share)
		r.Exactly("change-water", share*a.volume)
	}
	a.addRules(&r)
	a.advise(&r, salt)
	a.flag(&r, in.Stated("chloride"))
	r.Step("From nitrogen to NO2", "{3 mg/L} × {4} = {3 mg/L}", a.n, chemistry.NitritePerNitrogen, a.n*chemistry.NitritePerNitrogen)
	r.Step("Chloride, 10 to 1 on NO2", "10 × {3 mg/L} = {3 mg/L}", a.n*chemistry.NitritePerNitrogen, likely)
	if salt > 0 {
		r.Step("Salt for {3 L}", "1.6485 × {3 mg/L} × {3 L} = {3 kg}", a.volume, likely-a.chloride, a.volume, salt)
	} else {
		r.Step("Salt", "none: there is chloride enough")
	}
	r.Scale = calculators.Scale{Output: "nitrite-n", Log: true, Marks: a.marks()}
	return r, nil
}

// LeastNitrite is the nitrite nitrogen in mg/L below which a ratio to it says
// nothing: no kit reads so little (common practice).
const LeastNitrite = 0.001

func (a nitriteCase) addRules(r *calculators.Result) {
	if a.n >= LeastNitrite && a.chloride > 0 {
		r.Exactly("ratio", a.chloride/a.n)
	}
	r.Exactly("carp-rule", carpRatio*a.n)
	r.Exactly("catfish-rule", catfishRatio*a.n)
	r.Exactly("catfish-rule-no2", catfishRatio*chemistry.NitritePerNitrogen*a.n)
	r.Exactly("trout-rule", troutRatio*a.n)
	r.Exactly("bc-maximum", NitriteMaximum(a.chloride))
	r.Exactly("bc-mean", NitriteMean(a.chloride))
	addKnown(r, "coarse-fish", CoarseFishNitrite(a.chloride))
}

// addKnown adds a figure of a table if the table has one.
func addKnown(r *calculators.Result, output string, v float64) {
	if !math.IsNaN(v) {
		r.Exactly(output, v)
	}
}

func (a nitriteCase) flag(r *calculators.Result, stated bool) {
	if a.n == 0 {
		r.Flag("A reading of zero means less than the kit's first colour step, not none.")
	}
	if !stated {
		r.Flag("Chloride is taken as none, which errs to the safe side; most tap water holds some.")
	}
	_, likely, _ := NitriteShield(a.n)
	if a.salt(likely, 1) > muchSalt {
		r.Doubt("So much nitrite asks for more salt than {much g/L}: far outside what the ratios were made for.", muchSalt)
	}
	r.Flag("The ratios differ fourfold, and the bands take no account of chloride.")
}

// marks are the limits to read nitrite against.
func (a nitriteCase) marks() []calculators.Mark {
	return calculators.Rising(append(limits.Marks(limits.Nitrite), calculators.Mark{
		Value: NitriteMaximum(a.chloride), Label: "British Columbia, maximum at this chloride", Source: "bc-wqg-2006", Locator: "Tables 16 and 17", Basis: "published"}))
}

// advise says what to do, most urgent first; salt in kg.
func (a nitriteCase) advise(r *calculators.Result, salt float64) {
	band := limits.BandOf(limits.Nitrite, a.n)
	switch {
	case a.n == 0:
		r.Advise("Carry on: feed as usual and test again next week.")
		return
	case band == limits.Good:
		r.Advise("So little is what a ripe filter may leave: feed as usual, test again in two days.")
		return
	case band == limits.Watch && NitriteBorne(a.n, a.chloride):
		r.Say("Feed as usual while it does not rise, and test each day: with {chloride 2 mg/L} of chloride this is less than {mean mg/L}, which coarse fish were held to bear (from memory).", a.chloride, CoarseFishNitrite(a.chloride))
		return
	case band == limits.Watch:
		r.Advise("Halve the feed and test each day.")
		return
	case band == limits.Emergency:
		r.Advise("Stop feeding now and put on all the air.")
	default:
		r.Advise("Stop feeding, and add air.")
	}
	if band == limits.Emergency {
		r.Advise("Call a fish vet today, and at once if fish gasp with good oxygen or have brown gills.")
	}
	a.adviseSalt(r, salt)
	a.adviseChange(r)
	r.Advise("Test nitrite and ammonia each day until both stay as low as a mature filter leaves them; wash nothing in the filter meanwhile.")
}

// adviseChange says how much water to change, or that this new water does not help.
func (a nitriteCase) adviseChange(r *calculators.Result) {
	for _, aim := range []float64{limits.NitriteAct, limits.NitriteEmergency} {
		share, ok := ShareToLower(a.n, a.tap, aim)
		if !ok || share == 0 {
			continue
		}
		if aim > limits.NitriteAct {
			r.Say("This new water cannot bring nitrite below {act mg/L}, only to {aim mg/L}: look for other water for the rest.", limits.NitriteAct, aim)
		}
		sayShare(r, 100*share, limits.ChangeMost)
		r.Say("Take water of the same temperature, and of the same pH unless the pond's is {high ~} or more: then of a lower one, a tenth at a time.", limits.PHHighAct)
		return
	}
	if a.n > limits.NitriteAct {
		r.Say("Change no water for this: the new water holds {new 2 mg/L} itself, and cannot bring the pond down to {act mg/L}. Look for other water; chloride shields meanwhile.", a.tap, limits.NitriteAct)
	}
}

func (a nitriteCase) adviseSalt(r *calculators.Result, salt float64) {
	_, likely, high := NitriteShield(a.n)
	insurance := a.salt(high, a.volume)
	switch {
	case insurance == 0:
		r.Advise("There is chloride enough: add no salt.")
		return
	case salt == 0:
		r.Say("The ratio is met without salt. Catfish ponds keep {chloride mg/L} chloride as an insurance, here {salt 2 g} of salt: ask the vet, and take out any zeolite first.", standingChloride, insurance)
		return
	}
	if a.salt(likely, 1) > muchSalt {
		r.Advise("Add salt only on a vet's word: so much nitrite goes by water changes first.")
		return
	}
	if limits.BandOf(limits.Nitrite, a.n) == limits.Emergency {
		r.Say("Give chloride at once, and call the vet in the same minute: zeolite out, then {salt 2 g} of salt in all for {volume 3 L}, dissolved, into moving water.", 1000*salt, a.volume)
	} else {
		r.Say("Gills brown, or fish gasp? Zeolite out, then {salt 2 g} of salt in all for {volume 3 L} at once, dissolved, into moving water, with the vet on the telephone. Else ask the vet first: half today, half tomorrow.", 1000*salt, a.volume)
	}
	r.Say("If the pond holds {error 2 %} less than you think, that makes {strength 2 g/L} of salt: koi bear it, some plants do not.", 100*a.error, 1000*salt/(a.volume*(1-a.error)))
	r.Advise(
		"To undo it, change water: half of the water takes out half of the salt. Replace the salt of each change, and no more, while nitrite shows.",
	)
}
