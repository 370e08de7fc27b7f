package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// HighestPH returns the pH at which the toxic part of a total ammonia reaches a
// limit, both in mg/L as nitrogen, the inverse of UnionisedFraction:
//
//	pH = pKa - log10(total/limit - 1).
//
// t is in degrees Celsius (0 to 50), salinity in g/kg (0 to 35); outside it
// returns NaN. A total that is no more than the limit never reaches it: +Inf.
// Source: emerson-1975, equation for f, solved for the pH.
func HighestPH(total, limit, t, salinity float64) float64 {
	if total <= limit {
		return math.Inf(1)
	}
	return SaltedPKa(t, salinity) - math.Log10(total/limit-1)
}

// AmmoniaAfterPH declares the calculator of what a rise of pH or warmth makes of
// the ammonia in the water.
func AmmoniaAfterPH() calculators.Calculator {
	c := calculators.Calculator{
		ID: "ammonia-after-ph",
		Inputs: append(freeAmmoniaInputs(),
			calculators.Input{
				Name: "ph-after", Label: "pH afterwards", Kind: quantity.PH,
				Help:   "After the KH dose, the water change or a sunny day; the highest it may come to.",
				Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"},
			},
			calculators.Input{
				Name: "temperature-after", Label: "Water temperature afterwards", Kind: quantity.Temperature, Optional: true,
				Help:   "Leave empty if it stays as it is.",
				Accept: calculators.Range{Low: emersonColdest, High: emersonWarmest, Origin: "emerson-1975, stated range"},
			},
			calculators.Input{
				Name: "limit", Label: "Toxic ammonia must stay below", Kind: quantity.Concentration, Fine: true, Default: "0.05 mg/L",
				Help:   calculators.Text("As nitrogen; gill harm begins at {harm mg/L}.", limits.AmmoniaAct),
				Accept: calculators.Range{Low: 0.001, High: limits.AmmoniaAct, Origin: "edis-fa016, gill harm begins"},
			}),
		Outputs: []calculators.Output{
			{Name: "after", Label: "Toxic ammonia afterwards, as nitrogen", Unit: "mg/L", Digits: 2, Help: "Un-ionised ammonia NH3-N, with the same total ammonia."},
			{Name: "before", Label: "Toxic ammonia now, as nitrogen", Unit: "mg/L", Digits: 2},
			{Name: "times", Label: "Times as much as now", Unit: "1", Digits: 2},
			{Name: "highest-ph", Label: "pH at which the limit is reached", Unit: "[pH]", Digits: 2, Help: "At the temperature afterwards; stay well below the low end."},
			{Name: "room", Label: "How far the pH may rise from now", Unit: "[pH]", Digits: 2},
			{Name: "highest-total", Label: "Total ammonia that keeps to the limit afterwards", Unit: "mg/L", Digits: 2, Help: "As nitrogen: come down to this before the pH or the warmth goes up."},
		},
		Compute: computeAfterPH,
	}
	if calculators.Documented {
		c.Title = "Ammonia after a rise of pH or warmth"
		c.Question = "If the pH or the temperature goes up, how toxic does the ammonia already in my water become?"
		c.Part = "water"
		c.Formulas = afterPHFormulas()
		c.Hazards = []calculators.Hazard{calculators.FishHealth}
		c.Cautions = []string{
			"Bring the ammonia down first, then raise KH or pH: in that order, over days.",
			"A sunny day with algae lifts the pH by itself. Reckon with the late afternoon, not with the morning.",
			"Water in a transport bag is sour and full of ammonia. Once the bag is open its pH climbs within minutes: even out the temperature with the bag shut, then move the fish, not the water.",
			"Never pull the pH down with acid to make ammonia harmless: when the acid is spent, it comes back.",
		}
		c.Example = calculators.Example{
			Story: "Ines's kit shows {tan} total ammonia at pH {ph} and {temperature} in a pond short of KH. She wants to dose bicarbonate, which would bring the pH to {ph-after}.",
			Pond:  "ines", Day: "2025-08-23",
			Given: []calculators.Arg{{Name: "ph-after", Value: "8.2"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "pH at which {limit} of toxic ammonia is reached, by total ammonia as nitrogen",
			Rows:    calculators.Axis{Input: "tan", Values: []string{"0.25 mg/L", "0.5 mg/L", "1 mg/L", "2 mg/L", "4 mg/L"}},
			Columns: calculators.Axis{Input: "temperature", Values: []string{"5 Cel", "10 Cel", "15 Cel", "20 Cel", "25 Cel", "30 Cel"}},
			Show:    []string{"highest-ph"},
			Given:   []calculators.Arg{{Name: "ph", Value: "7.0"}, {Name: "ph-after", Value: "8.0"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Total ammonia of {tan} that starts at pH {ph}: its toxic part as the pH goes up",
			X:       "ph-after", From: "7.0", To: "9.0",
			Series: calculators.Axis{Input: "temperature", Values: []string{"5 Cel", "15 Cel", "25 Cel"}},
			Show:   "after",
			Given:  []calculators.Arg{{Name: "tan", Value: "1 mg/L"}, {Name: "ph", Value: "7.0"}},
			Log:    true,
		}
	}
	return c
}

func afterPHFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Emerson 1975, share", Says: "Toxic share of total ammonia at a pH, 0 to 50 °C; the total stays, only the share changes.",
			TeX:    `f = \frac{1}{1 + 10^{\,\mathrm{p}K_a - \mathrm{pH}}}`,
			Source: "emerson-1975", Locator: "equation for f", Basis: "published", Function: "water.UnionisedFraction",
			Check: calculators.Explicit("f [1] toxic share of total ammonia, pK_a [1]: pH [[pH]] 5..11, - [Cel] 0..50", func(ph, t float64) (share, pk float64) { return UnionisedFraction(ph, t, 0), AmmoniumPKa(t) }),
		},
		{
			Name: "Highest pH", Says: "The same equation solved for the pH at which the toxic part comes to a limit.",
			TeX:    `\mathrm{pH} = \mathrm{p}K_a - \log_{10}\left(\frac{c_\mathrm{total}}{c_\mathrm{limit}} - 1\right)`,
			Source: "emerson-1975", Locator: "equation for f, solved", Basis: "published", Function: "water.HighestPH",
			Check: calculators.Explicit("pH [[pH]] the highest, pK_a [1]: c_total [mg/L] total ammonia 0.2..5, c_limit [mg/L] limit of its toxic part 0.01..0.1, - [Cel] 0..50", func(total, limit, t float64) (ph, pk float64) { return HighestPH(total, limit, t, 0), AmmoniumPKa(t) }),
		},
	}
}

func computeAfterPH(in calculators.Inputs) (calculators.Result, error) {
	now := readAmmonia(in)
	then, limit := now, in.In("limit", "mg/L")
	then.ph = in.In("ph-after", "[pH]")
	if in.Has("temperature-after") {
		then.t = in.In("temperature-after", "Cel")
	}
	var r calculators.Result
	then.addToxic(&r, "after")
	now.addToxic(&r, "before")
	share, was := then.fraction(0), now.fraction(0)
	r.Exactly("times", share/was)
	then.addHighest(&r, now.ph, limit)
	r.Between("highest-total", limit/then.fraction(then.phError), limit/share, limit/then.fraction(-then.phError))
	then.adviseAfter(&r, now, limit)
	if now.total == 0 {
		r.Flag("A reading of zero means less than the kit's first colour step, not none.")
	}
	if now.phError+now.kitError > 0 {
		r.Flag("The range is what the readings allow if both err the same way.")
	}
	r.Step("Now, pH {3} and {3 Cel}", "{3 mg/L} × {3 %} = {2 mg/L}", now.ph, now.t, now.total, 100*was, now.total*was)
	r.Step("Afterwards, pH {3} and {3 Cel}", "{3 mg/L} × {3 %} = {2 mg/L}", then.ph, then.t, now.total, 100*share, now.total*share)
	r.Scale = calculators.Scale{Output: "after", Marks: then.marks(), Log: true}
	return r, nil
}

// addToxic adds the toxic part as an output, with the errors of the kits.
func (a ammoniaReading) addToxic(r *calculators.Result, output string) {
	r.Between(output, a.total*(1-a.kitError)*a.fraction(-a.phError), a.total*a.fraction(0), a.total*(1+a.kitError)*a.fraction(a.phError))
}

// addHighest adds the pH that reaches the limit and the room up to it, if there
// is one: a total below the limit never reaches it.
func (a ammoniaReading) addHighest(r *calculators.Result, from, limit float64) {
	if a.total <= limit {
		r.Flag("All the ammonia together is less than the limit: no pH brings it there, if the reading is right.")
		return
	}
	const most = 14 // the end of the scale
	low := HighestPH(a.total*(1+a.kitError), limit, a.t, a.salinity) - a.phError
	likely := HighestPH(a.total, limit, a.t, a.salinity)
	high := math.Min(most, HighestPH(a.total*(1-a.kitError), limit, a.t, a.salinity)+a.phError)
	r.Between("highest-ph", low, likely, math.Max(likely, high))
	r.Between("room", math.Max(0, low-from), math.Max(0, likely-from), math.Max(0, math.Max(likely, high)-from))
}

// adviseAfter says what to do first; a is the water afterwards.
func (a ammoniaReading) adviseAfter(r *calculators.Result, now ammoniaReading, limit float64) {
	after, before := a.total*a.fraction(0), now.total*now.fraction(0)
	most := a.total * (1 + a.kitError) * a.fraction(a.phError)
	if before >= math.Min(limit, limits.AmmoniaAct) {
		r.Advise("The water is harmful as it is: stop feeding, add air, and see the calculator of free ammonia for how much to change.")
		r.Say("Leave pH and KH alone until the toxic part is below {good mg/L}.", limits.AmmoniaWatch)
		return
	}
	if after < limit && most < limit {
		if after >= limits.AmmoniaWatch {
			r.Advise("It would stay below your limit but not be good: halve the feed before and after.")
		}
		if now.ph <= limits.PHLowEmergency {
			now.adviseCrash(r)
		} else {
			r.Say("Go slowly all the same: no more than {step ~} of pH in a day, and test ammonia and pH before each step.", limits.PHStepDay)
		}
		r.Advise("Stop at once if fish clamp their fins, gasp or flick.")
		return
	}
	r.Advise("Do not raise the pH or warm the water so far yet.")
	if now.ph <= limits.PHLowEmergency {
		now.adviseCrash(r)
		return
	}
	a.lowerFirst(r, now, limit)
	r.Say("Stop feeding, keep all the water going over the filter, and test again in {hours 0|hour|hours}.", limits.RetestAct)
}

// lowerFirst says how much water to change before the pH or the warmth goes up; a is
// the water afterwards.
func (a ammoniaReading) lowerFirst(r *calculators.Result, now ammoniaReading, limit float64) {
	most, needed := limits.ChangeMost, 100*ChangeNeeded(a.total*(1+a.kitError), limit/a.fraction(a.phError))
	if now.ph >= limits.PHHighAct {
		most = limits.ChangeLeast
	}
	if needed > most {
		r.Say("Lower the ammonia first: change {part 2 %} of the water, dechlorinated; it takes {all 2 %} in all, in several changes, never in one.", most, needed)
	} else {
		r.Say("Lower the ammonia first: change {part 2 %} of the water, dechlorinated.", needed)
	}
	r.Advise(likeWater(now.ph, false))
}

// adviseCrash says what a pond needs whose pH has crashed: the one rule for it, which
// the readings and the chapter on pH say too.
func (a ammoniaReading) adviseCrash(r *calculators.Result) {
	const cubicMetre = 1000
	r.Advise("At a pH as low as this the filter stands still, and what ammonia there is does little harm until the pH comes up: no feed, and call a fish vet.")
	r.Say("Change a tenth of the water, dechlorinated, and test pH and ammonia after an hour.")
	r.Say("Then give pure sodium bicarbonate for {step mg/L} of KH, {dose 2 g} for every {volume 0 L}, dissolved; so much a day, the first day's in four parts, hours apart.", limits.KHStepCrash, CrashDose(cubicMetre), cubicMetre)
	r.Say("Test pH and ammonia before each part, and wait if the pH has gone up by more than {step ~} or the toxic part is {good mg/L} or more.", limits.PHStepDay, limits.AmmoniaWatch)
}
