package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

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
func (r ammoniaReading) marks() []calculators.Mark {
	marks := []calculators.Mark{
		{Value: europeanGuide, Label: "European guide value, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Value: canadian, Label: "Canada, long term, the most easily harmed animals", Source: "ccme-ammonia", Locator: "guideline value", Basis: "published"},
		{Value: watchFrom, Label: "watch it from here", Basis: "practice"},
		{Value: europeanLimit, Label: "European limit, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Value: actFrom, Label: "gill harm begins: act", Source: "edis-fa016", Locator: "Figure 2", Basis: "published"},
		{Value: emergencyFrom, Label: "emergency", Basis: "practice"},
	}
	if criteriaStated(r.ph, r.t) {
		f := r.fraction(0)
		marks = append(marks,
			calculators.Mark{Value: ChronicCriterion(r.ph, r.t, false) * f, Label: "United States, 30-day mean, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N", Basis: "published"},
			calculators.Mark{Value: AcuteCriterion(r.ph, r.t, false) * f, Label: "United States, one hour, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N", Basis: "published"})
	}
	return calculators.Rising(marks)
}

// ammoniaAdvice says what to do, most urgent first. needed is the share of
// water, per cent, to change in all.
func ammoniaAdvice(toxic calculators.Value, needed float64, r ammoniaReading) []string {
	switch {
	case toxic.Likely >= emergencyFrom:
		return emergencyAdvice(needed, r)
	case toxic.Likely >= actFrom:
		return append(actAdvice(needed, r), doubt(toxic, emergencyFrom)...)
	case toxic.Likely >= watchFrom:
		return append([]string{
			"Halve the feed today.",
			"Test again tomorrow in the late afternoon; check KH, and that water runs through the whole filter.",
			"Do not raise the pH.",
		}, doubt(toxic, actFrom)...)
	}
	advice := []string{"Carry on: feed as usual and test again next week."}
	if r.total >= firstKitStep {
		advice = []string{"The toxic part is small, but a ripe filter leaves no ammonia to read: feed less, test again tomorrow, and look for the cause."}
	}
	return append(advice, doubt(toxic, watchFrom)...)
}

// firstKitStep is the first colour above zero of most drop kits, mg/L as
// nitrogen: common practice, from which a keeper acts.
const firstKitStep = 0.25

func emergencyAdvice(needed float64, r ammoniaReading) []string {
	return []string{
		"Stop feeding now.",
		"Run all the air you have and all the water over the tower.",
		changeAdvice(needed),
		"Call a fish vet today.",
		doNotRaise(r),
		"Test again one hour after each change and change again until the toxic part is below 0.05 mg/L; then test every 12 hours.",
		cause(),
	}
}

func actAdvice(needed float64, r ammoniaReading) []string {
	return []string{
		"Stop feeding until the toxic part is below 0.02 mg/L.",
		"Add air, and keep all the water going over the tower.",
		changeAdvice(needed),
		doNotRaise(r),
		"Test again in 12 hours, and before each further change.",
		cause(),
		"Call a fish vet if fish gasp, clamp their fins, lie on the floor or die.",
	}
}

func changeAdvice(needed float64) string {
	now := min(needed, largestChange)
	s := "Change " + quantity.WithUnit(quantity.FormatNumber(now, 2), "%") + " of the water now, with dechlorinated water of the same temperature and pH that holds no ammonia itself"
	if needed > largestChange {
		s += "; it takes " + quantity.WithUnit(quantity.FormatNumber(needed, 2), "%") + " in all to get below 0.02 mg/L, in several changes, never in one"
	}
	return s + "."
}

func doNotRaise(r ammoniaReading) string {
	const step = 0.3
	factor := r.fraction(step) / r.fraction(0)
	return "Do not raise the pH, not even for KH: 0.3 higher would make " + quantity.FormatNumber(factor, 2) + " times as much toxic."
}

func cause() string {
	return "Look for the cause: too much feed, a dead fish, a filter that is new, dry, blocked or was washed in tap water."
}

// doubt warns when the reading's error reaches the next worse band.
func doubt(toxic calculators.Value, from float64) []string {
	if toxic.High < from {
		return nil
	}
	return []string{"The readings' error allows up to " + quantity.WithUnit(quantity.FormatNumber(toxic.High, 2), "mg/L") +
		" toxic ammonia, which would be a worse band: test once more with care, and if in doubt act as for the worse one."}
}
