package water

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
)

// marks are the limits to read the answer against. The two of the United States
// are stated as total ammonia; here they are the toxic part of that total in
// this very water, and missing where they are not stated.
func (a ammoniaReading) marks() []calculators.Mark {
	marks := limits.Marks(limits.Ammonia)
	if criteriaStated(a.ph, a.t) {
		f := a.fraction(0)
		marks = append(marks,
			calculators.Mark{Value: ChronicCriterion(a.ph, a.t, false) * f, Label: "United States, thirty-day mean, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N, mg TAN/L", Basis: "published"},
			calculators.Mark{Value: AcuteCriterion(a.ph, a.t, false) * f, Label: "United States, one hour, no mussels", Source: "epa-2013-ammonia", Locator: "Appendix N, mg TAN/L", Basis: "published"})
	}
	return calculators.Rising(marks)
}

// advise says what to do, most urgent first.
func (a ammoniaReading) advise(r *calculators.Result, toxic calculators.Value) {
	if a.ph <= limits.PHLowEmergency {
		a.adviseCrash(r)
		return
	}
	switch limits.BandOf(limits.Ammonia, toxic.Likely) {
	case limits.Emergency:
		a.adviseEmergency(r)
		return
	case limits.Act:
		a.adviseAct(r)
	case limits.Watch:
		r.Advise(
			"Halve the feed today.",
			"Test again tomorrow in the late afternoon; check KH, and that water runs through the whole filter.",
			"Do not raise the pH.",
		)
	default:
		a.adviseGood(r)
	}
	if limits.BandOf(limits.Ammonia, toxic.High) > limits.BandOf(limits.Ammonia, toxic.Likely) {
		r.Say("The readings' error allows up to {toxic 2 mg/L} toxic ammonia, which would be a worse band: test once more with care, and if in doubt act as for the worse one.", toxic.High)
	}
}

// adviseGood tells a filter at work from one that has begun to lag behind.
func (a ammoniaReading) adviseGood(r *calculators.Result) {
	if a.total > limits.MatureAmmonia {
		r.Say("The toxic part is small, but a ripe filter keeps total ammonia at {mature mg/L} or less: halve the feed, test again tomorrow, and look for the cause.", limits.MatureAmmonia)
	} else {
		r.Advise("Carry on: feed as usual and test again next week.")
	}
}

func (a ammoniaReading) adviseEmergency(r *calculators.Result) {
	r.Advise(
		"Stop feeding now.",
		"Run all the air you have and all the water over the tower.",
	)
	a.adviseChange(r)
	r.Advise("Call a fish vet today.")
	a.doNotRaise(r)
	r.Say("Test again one hour after each change and change again until the toxic part is below {act mg/L}; then test every {later 0|hour|hours}.", limits.AmmoniaAct, limits.RetestAct)
	r.Advise(cause)
}

func (a ammoniaReading) adviseAct(r *calculators.Result) {
	r.Say("Stop feeding until the toxic part is below {good mg/L}.", limits.AmmoniaWatch)
	r.Advise("Add air, and keep all the water going over the tower.")
	a.adviseChange(r)
	a.doNotRaise(r)
	r.Say("Test again in {hours 0|hour|hours}, and before each further change.", limits.RetestAct)
	r.Advise(
		cause,
		"Call a fish vet if fish gasp, clamp their fins, lie on the floor or die.",
	)
}

const cause = "Look for the cause: too much feed, a dead fish, a filter that is new, dry, blocked or was washed in tap water."

func (a ammoniaReading) doNotRaise(r *calculators.Result) {
	const step = 0.3
	r.Say("Do not raise the pH, not even for KH: {step ~} higher would make {times 2} times as much toxic.", step, a.fraction(step)/a.fraction(0))
}
