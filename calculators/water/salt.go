package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Salt declares the calculator of a salt dose and of how to undo it.
func Salt() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "salt",
		Inputs:  saltInputs(),
		Outputs: saltOutputs(),
		Compute: computeSalt,
	}
	if calculators.Documented {
		c.Title = "Salt dose"
		c.Question = "How much salt do I weigh out for the content I want, and how do I get it out again?"
		c.Part = "water"
		c.Formulas = saltFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Ask a fish vet first: salt does not cure most of what looks like a parasite, and some medicines may not go with it.",
			"Take zeolite out of the filter before any salt: salt drives the ammonia out of it into the water.",
			"Salt harms pond plants, snails and mussels, and does not evaporate: only water changes take it out.",
			"Plain salt only, without iodide, anti-caking agent or flavour. Dissolve it first; never pour it on fish.",
			calculators.Text("Strengths above {pond g/L} are for a separate tub, minutes or hours, with you beside it: fish that roll over go back to fresh water at once.", limits.SaltPond),
		}
		c.Example = calculators.Example{
			Story: "Ines has nitrite in Lower Reach. Her vet agrees to {target} of salt in the {volume}; she takes out zeolite and plants first.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "volume", Value: "{volume}"}, {Name: "target", Value: "1 g/L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Salt to weigh out, from fresh water",
			Rows:    calculators.Axis{Input: "volume", Values: []string{"100 L", "500 L", "1000 L", "5000 L", "10000 L"}},
			Columns: calculators.Axis{Input: "target", Values: []string{"0.2 g/L", "0.5 g/L", "1 g/L", "2 g/L", "3 g/L"}},
			Show:    []string{"dose"},
		}
		c.Chart = calculators.Chart{
			Caption: "Salt for a pond of 1,000, 5,000 or 10,000 L",
			X:       "target", From: "0 g/L", To: "3 g/L",
			Series: calculators.Axis{Input: "volume", Values: []string{"1000 L", "5000 L", "10000 L"}},
			Show:   "dose",
		}
	}
	return c
}

func saltInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume", Label: "Water to salt", Kind: quantity.Volume, Help: "Of the pond with its filter, or of the tub.",
			Accept: calculators.Range{Low: 1, High: 1e7, Origin: "sanity limit"}},
		{Name: "use", Label: "Salt content", Type: calculators.Choice, Default: "own", Help: "Your own figure, or what a source states for a use.",
			Options: []calculators.Option{
				{Name: "own", Label: "my own, in g/L"},
				{Name: "percent", Label: "my own, in per cent"},
				{Name: "nitrite", Label: calculators.Text("against nitrite: {chloride mg/L} chloride, standing", standingChloride)},
				{Name: "relief", Label: "to ease stress, for weeks"},
				{Name: "pond", Label: "the hobby's pond level, for weeks"},
				{Name: "recovery", Label: "tub: after handling, a day or more"},
				{Name: "bath", Label: "tub: bath of several hours"},
				{Name: "mucus-bath", Label: calculators.Text("tub: bath of {least ~} to {most ~} minutes", 30, 60)},
				{Name: "parasite-dip", Label: calculators.Text("tub: parasite dip, {least ~} minutes to {most 0|hour|hours}", 3, 1)},
				{Name: "egg-bath", Label: calculators.Text("tub: bath of eggs, {least ~} to {most ~} minutes a day", 10, 15)},
				{Name: "sea-dip", Label: calculators.Text("tub: dip as strong as the sea, {least s} to {most ~} minutes", 30, 10)},
			}},
		{Name: "target", Label: "Wanted", Kind: quantity.Concentration, Unit: "g/L", Help: calculators.Text("{salt g/L} is {share %}, and {mass kg} in {volume L}.", 1, 0.1, 1, 1000),
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, When: calculators.When{Input: "use", Is: []string{"own"}}},
		{Name: "target-percent", Label: "Wanted, in per cent", Kind: quantity.Share, Help: calculators.Text("{share %} is {salt g/L}.", 0.1, 1),
			Accept: calculators.Range{Low: 0, High: 4, Origin: "sanity limit"}, When: calculators.When{Input: "use", Is: []string{"percent"}}},
		{Name: "present", Fact: "salt", Label: "Salt in the water already", Kind: quantity.Concentration, Unit: "g/L", Default: "0 g/L", Help: "From a salt meter, less what it shows in your tap water.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "each", Label: "Size of each change to undo it", Kind: quantity.Share, Fine: true, Default: "20 %", Help: "A tenth to a quarter is usual (common practice).",
			Accept: calculators.Range{Low: 1, High: 90, Origin: "sanity limit"}},
		{Name: "may-stay", Label: "Salt that may stay, of the whole", Kind: quantity.Share, Fine: true, Default: "20 %", Help: "How far down the changes are to bring it.",
			Accept: calculators.Range{Low: 1, High: 99, Origin: "sanity limit"}},
	}
}

func saltOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "dose", Label: "Salt to weigh out", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}, Help: "In three parts over a day or more in a pond."},
		{Name: "cups", Label: "That is in level cups, about", Unit: "1", Digits: 2, Fine: true, Help: "Better weigh it: a cup of coarse salt holds little more than half of one of fine salt."},
		{Name: "target", Label: "Salt content aimed at", Unit: "g/L", Digits: 2},
		{Name: "percent", Label: "The same in per cent", Unit: "%", Digits: 2},
		{Name: "per-imperial", Label: calculators.Text("For every {volume [gal_br]}", 100), Unit: "[lb_av]", Digits: 2, Also: []string{"kg"}},
		{Name: "per-us", Label: calculators.Text("For every {volume [gal_us]}", 100), Unit: "[lb_av]", Digits: 2, Also: []string{"kg"}},
		{Name: "undo", Label: "Water changes to undo it", Unit: "1", Digits: 3, Whole: true, Help: "Of the size and down to the share under the fine points."},
		{Name: "undo-water", Label: "Fresh water for that", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
	}
}

func saltFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Salt balance", Says: "Volume times the rise: 1 kg in 1,000 L is 1 g/L, or 0.1 %.", TeX: `m = V\,(S_2 - S_1)`,
			Source: "kangei-club-2012", Locator: "1 kg in 1,000 L is a rise of 0.1 %", Basis: "published", Function: "water.SaltMass",
			Check: calculators.Explicit("m [g]: V [L] 100..20000, S_1 [g/L] 0..2, S_2 [g/L] 2..6", func(volume, before, after float64) float64 { return SaltMass(volume, before, after) })},
		{Name: "Contents by use", Says: "As the sources state them; the pond level of 3 g/L is common practice only.", TeX: `S_\mathrm{pond} = 3,\quad 5 \le S_\mathrm{bath} \le 10,\quad 25 \le S_\mathrm{dip} \le 30`,
			Source: "francis-floyd-vm86", Locator: "text", Basis: "published", Function: "water.SaltBath",
			Check: calculators.Explicit("S_pond [g/L] salt in a pond, S_bath [g/L] salt in a bath, S_dip [g/L] salt in a dip", func() (pond float64, bath, dip struct{ Low, Likely, High float64 }) {
				pond, _ = SaltBath("pond")
				bath.Low, bath.High = SaltBath("bath")
				dip.Low, dip.High = SaltBath("parasite-dip")
				return pond, bath, dip
			})},
		{Name: "Salt for chloride", Says: "Salt is 61 % chloride; 100 mg/L chloride as a standing shield.", TeX: `S = 1.6485\,c_\mathrm{Cl}`,
			Source: "iupac-atomic-weights", Locator: "mass ratio", Basis: "published", Function: "water.SaltForChloride",
			Check: calculators.Rounded("S [g/L] salt: c_Cl [g/L] chloride 0.01..0.5", func(chloride float64) float64 { return SaltForChloride(0, 1000*chloride, 1) })},
		{Name: "Undoing it", Says: "Changes of the share f until only the share p is left.", TeX: `n = \left\lceil \frac{\ln p}{\ln(1 - f)} \right\rceil`,
			Basis: "practice", Function: "water.ChangesToReplace",
			Check: calculators.Explicit("n [1]: p [1] share of the salt left 0.05..0.5, f [1] 0.05..0.5", func(left, share float64) float64 { return ChangesToReplace(1-left, share) })},
	}
}

func computeSalt(in calculators.Inputs) (calculators.Result, error) {
	volume, present := in.In("volume", "L"), in.In("present", "g/L")
	low, high := SaltBath(in.Choice("use"))
	switch in.Choice("use") {
	case "own":
		low = in.In("target", "g/L")
		high = low
	case "percent":
		low = 10 * in.In("target-percent", "%")
		high = low
	}
	middle := (low + high) / 2
	dose := SaltMass(volume, present, middle)
	const imperial, us = 100 * imperialGallon, 100 * usGallon
	each, stay := in.In("each", "%")/100, in.In("may-stay", "%")/100
	undo := ChangesToReplace(1-stay, each)
	var r calculators.Result
	r.Between("dose", SaltMass(volume, present, low)/1000, dose/1000, SaltMass(volume, present, high)/1000)
	saltCup().add(&r, "cups", dose)
	r.Between("target", low, middle, high)
	r.Between("percent", low/10, middle/10, high/10)
	r.Between("per-imperial", SaltMass(imperial, present, low)/pound, SaltMass(imperial, present, middle)/pound, SaltMass(imperial, present, high)/pound)
	r.Between("per-us", SaltMass(us, present, low)/pound, SaltMass(us, present, middle)/pound, SaltMass(us, present, high)/pound)
	r.Exactly("undo", undo)
	r.Exactly("undo-water", undo*each*volume)
	if middle > present {
		r.Step("Salt", "{3 L} × ({~3 g/L} − {~3 g/L}) = {3 kg}", volume, middle, present, dose/1000)
	} else {
		r.Step("Salt", "none: the water holds as much")
	}
	r.Step("The rule “1 lb in 100 gallons makes 0.1 %”, right for imperial ones", "{4 g} / {4 L} = {3 g/L}", pound, imperial, pound/imperial)
	r.Step("The same with US gallons, a fifth too much", "{4 g} / {4 L} = {3 g/L}", pound, us, pound/us)
	r.Step("What is left, to undo it", "(1 − {2})^{0} = {2 %}", each, undo, 100*LeftAfterChanges(each, undo))
	r.Scale = calculators.Scale{Output: "target", Marks: limits.Marks(limits.Salt), Log: true}
	adviseSalt(&r, in.Choice("use"), middle, present, dose/volume)
	return r, nil
}

func adviseSalt(r *calculators.Result, use string, target, present, rise float64) {
	if rise == 0 {
		r.Advise("The water holds that much already: add none.")
		return
	}
	if target > limits.SaltPond {
		r.Advise(
			"Not in the pond: in a separate tub, with air, at the pond's temperature, and a fish vet's word on content and time.",
			"Stay beside it. A fish that rolls over or gasps goes back to fresh pond water at once.",
		)
		r.Doubt("A bath stronger than {pond g/L} is a treatment, and kills if it lasts too long.", limits.SaltPond)
		if target > limits.SaltStrongest {
			r.Doubt("No source that was found goes above {strongest g/L}.", limits.SaltStrongest)
		}
	} else {
		r.Advise(
			"Take out zeolite and move plants you want to keep.",
			"Dissolve a third in a bucket of pond water and pour it where the return stirs; the next third after half a day, the last after a day.",
		)
		r.Advise("To undo it, change water with salt-free water: fresh water that only replaces what evaporated takes nothing out.")
		if use != "nitrite" {
			r.Advise("Against nitrite, work out the chloride the reading needs: trade doses are many times that.")
		}
		if target == limits.SaltPond {
			r.Doubt("{pond g/L} in a pond is common practice; no published basis was found, and it kills some plants.", limits.SaltPond)
		}
	}
	const error = limits.VolumeError / 100
	r.Say("If there is {error %} less water than you think, this makes {more 2 g/L}; with {error %} more, {less 2 g/L}.", limits.VolumeError, present+rise/(1-error), present+rise/(1+error))
}
