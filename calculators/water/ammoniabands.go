package water

import "mereleaf/calculators"

// Where the bands of advice begin, mg/L un-ionised ammonia as nitrogen: common
// practice, set between the published limits. A reading on the line belongs to
// the worse band.
const (
	watchFrom     = 0.02
	actFrom       = 0.05 // gill harm begins above it: edis-fa016, Figure 2
	emergencyFrom = 0.2
)

// Published limits stated as NH3, turned into nitrogen, mg/L.
const (
	europeanGuide = 0.005 / AmmoniaPerNitrogen // eu-2006-44, Annex I, carp waters
	europeanLimit = 0.025 / AmmoniaPerNitrogen // eu-2006-44, Annex I, carp waters
	canadian      = 0.019 / AmmoniaPerNitrogen // ccme-ammonia, guideline value
)

// largestChange is the most water to renew at a time, per cent: common
// practice.
const largestChange = 50

// marks are the limits to read the answer against. The two of the United States
// are stated as total ammonia; here they are the toxic part of that total in
// this very water, and missing where they are not stated.
func (a ammoniaReading) marks() []calculators.Mark {
	marks := []calculators.Mark{
		{Value: europeanGuide, Label: "European guide value, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Value: canadian, Label: "Canada, long term, the most easily harmed animals", Source: "ccme-ammonia", Locator: "guideline value", Basis: "published"},
		{Value: watchFrom, Label: "watch it from here", Basis: "practice"},
		{Value: europeanLimit, Label: "European limit, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Value: actFrom, Label: "gill harm begins: act", Source: "edis-fa016", Locator: "Figure 2", Basis: "published"},
		{Value: emergencyFrom, Label: "emergency", Basis: "practice"},
	}
	if criteriaStated(a.ph, a.t) {
		f := a.fraction(0)
		marks = append(marks,
			calculators.Mark{Value: ChronicCriterion(a.ph, a.t, false) * f, Label: "United States, 30-day mean, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N", Basis: "published"},
			calculators.Mark{Value: AcuteCriterion(a.ph, a.t, false) * f, Label: "United States, one hour, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N", Basis: "published"})
	}
	return calculators.Rising(marks)
}

// advise says what to do, most urgent first. needed is the share of water, per
// cent, to change in all.
func (a ammoniaReading) advise(r *calculators.Result, toxic calculators.Value, needed float64) {
	switch {
	case toxic.Likely >= emergencyFrom:
		a.adviseEmergency(r, needed)
	case toxic.Likely >= actFrom:
		a.adviseAct(r, needed)
		doubt(r, toxic, emergencyFrom)
	case toxic.Likely >= watchFrom:
		r.Advise(
			"Halve the feed today.",
			"Test again tomorrow in the late afternoon; check KH, and that water runs through the whole filter.",
			"Do not raise the pH.",
		)
		doubt(r, toxic, actFrom)
	case a.total >= firstKitStep:
		r.Advise("The toxic part is small, but a ripe filter leaves no ammonia to read: feed less, test again tomorrow, and look for the cause.")
		doubt(r, toxic, watchFrom)
	default:
		r.Advise("Carry on: feed as usual and test again next week.")
		doubt(r, toxic, watchFrom)
	}
}

// firstKitStep is the first colour above zero of most drop kits, mg/L as
// nitrogen: common practice, from which a keeper acts.
const firstKitStep = 0.25

func (a ammoniaReading) adviseEmergency(r *calculators.Result, needed float64) {
	r.Advise(
		"Stop feeding now.",
		"Run all the air you have and all the water over the tower.",
		changeAdvice(needed),
		"Call a fish vet today.",
		a.doNotRaise(),
		"Test again one hour after each change and change again until the toxic part is below 0.05 mg/L; then test every 12 hours.",
		cause,
	)
}

func (a ammoniaReading) adviseAct(r *calculators.Result, needed float64) {
	r.Advise(
		"Stop feeding until the toxic part is below 0.02 mg/L.",
		"Add air, and keep all the water going over the tower.",
		changeAdvice(needed),
		a.doNotRaise(),
		"Test again in 12 hours, and before each further change.",
		cause,
		"Call a fish vet if fish gasp, clamp their fins, lie on the floor or die.",
	)
}

const cause = "Look for the cause: too much feed, a dead fish, a filter that is new, dry, blocked or was washed in tap water."

func changeAdvice(needed float64) string {
	const now = "Change {2 %} of the water now, with dechlorinated water of the same temperature and pH that holds no ammonia itself"
	if needed > largestChange {
		return calculators.Text(now+"; it takes {2 %} in all to get below 0.02 mg/L, in several changes, never in one.", largestChange, needed)
	}
	return calculators.Text(now+".", needed)
}

func (a ammoniaReading) doNotRaise() string {
	const step = 0.3
	return calculators.Text("Do not raise the pH, not even for KH: 0.3 higher would make {2} times as much toxic.", a.fraction(step)/a.fraction(0))
}

// doubt warns when the reading's error reaches the next worse band.
func doubt(r *calculators.Result, toxic calculators.Value, from float64) {
	if toxic.High >= from {
		r.Advise(calculators.Text("The readings' error allows up to {2 mg/L} toxic ammonia, which would be a worse band: test once more with care, and if in doubt act as for the worse one.", toxic.High))
	}
}
