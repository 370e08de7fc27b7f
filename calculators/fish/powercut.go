package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/spread"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// What keepers have in a power cut, common practice: the depth in m below which
// small air pumps give up, a bucket in L, and the height in m from which it is
// poured.
const (
	smallPumpDepth = 1.0
	bucket         = 10.0
	pouredFrom     = 1.0
)

// PowerCut declares the calculator of the hours left when everything stops.
func PowerCut() calculators.Calculator {
	c := calculators.Calculator{
		ID: "power-cut",
		Inputs: append(nightInputs(), calculators.Input{
			Name: "stone-depth", Label: "Depth of a battery pump's stone", Kind: quantity.Length, Default: "0.6 m", Fine: true,
			Help:   calculators.Hint("As deep as the pump manages; small ones give up below {depth m}.", smallPumpDepth),
			Accept: calculators.Range{Low: 0.1, High: 6, Origin: "sanity limit"},
			Stated: calculators.Range{Low: 0.5, High: 6, Origin: "epa1989, clean water SOTE table"},
		}),
		Outputs: []calculators.Output{
			{Name: "count-on", Label: calculators.Text("Hours to count on, until {limit mg/L}", limits.OxygenAct), Unit: "h", Digits: 2, Help: "The low end: have air in the water by then. From when pump and air stop, in the dark."},
			{Name: "until-act", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenAct), Unit: "h", Digits: 2, Help: "What is likely, and its range."},
			{Name: "until-four", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenEurope), Unit: "h", Digits: 2},
			{Name: "until-last", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenEmergency), Unit: "h", Digits: 2, Help: "From here fish are in danger, the biggest first."},
			{Name: "air-needed", Label: calculators.Text("Air that holds {limit mg/L}", limits.OxygenAct), Unit: "L/min", Digits: 2, Help: "From a battery air pump with fine stones; buy for the high end."},
			{Name: "buckets", Label: calculators.Text("Buckets an hour, of {bucket L}, that hold {limit mg/L}", bucket, limits.OxygenAct), Unit: "1", Digits: 2, Help: calculators.Hint("Dipped from the pond and poured back from {height m}.", pouredFrom)},
			{Name: "store", Label: "Oxygen in the water at the start", Unit: "g", Digits: 2},
			{Name: "demand", Label: "Oxygen taken in all", Unit: "g/h", Digits: 2},
			{Name: "short", Label: calculators.Text("Oxygen to bring in, to hold {limit mg/L}", limits.OxygenAct), Unit: "g/h", Digits: 2, Help: "What is used, less what comes through the surface."},
			{Name: "ammonia", Label: "Total ammonia that a day without the filter adds, as nitrogen", Unit: "mg/L", Digits: 2, Help: "From the day's feed: one more reason to feed nothing."},
			{Name: "at-rest", Label: "Taken by the fish at rest", Unit: "g/h", Digits: 2, Fine: true},
			{Name: "life", Label: "Taken by plants, plankton and bottom", Unit: "g/h", Digits: 2, Fine: true},
			{Name: "saturation", Label: "Oxygen the water can hold", Unit: "mg/L", Digits: 3, Fine: true},
			{Name: "surface-velocity", Label: "Oxygen through the surface", Unit: "m/d", Digits: 2, Fine: true},
		},
		Compute: computePowerCut,
	}
	if calculators.Documented {
		c.Title = "Hours left in a power cut"
		c.Question = "Pump and air have stopped: how long do the fish have, and what do I do first?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Drowning, calculators.Gas, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			"Act on the low figure. Gasping at the surface comes before any reckoning.",
			"A tripped residual-current device has a reason: unplug everything before you switch it on again, once.",
			"Water that stood in a closed filter for hours is foul: drain it to waste before you restart, never into the pond.",
			"Under ice nothing comes through the surface: keep a hole open and take the low figure.",
		}
		c.Formulas = append(nightFormulas(), airingFormulas()...)
		c.Example = calculators.Example{
			Story: "The power fails at dusk in July. Lower Reach holds {fish.count} koi of {fish.length} in {volume} at {temperature}; Ines had measured {start} of oxygen.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "start", Value: "7.5 mg/L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: calculators.Text("Hours to count on until {limit mg/L} from full water, {volume} with {area} of surface, clear and still", limits.OxygenAct),
			Rows:    calculators.Axis{Input: "fish", Values: []string{"koi, 30 cm, 5", "koi, 30 cm, 10", "koi, 30 cm, 20", "koi, 45 cm, 10", "koi, 60 cm, 10"}},
			Columns: calculators.Axis{Input: "temperature", Values: []string{"10 Cel", "15 Cel", "20 Cel", "24 Cel", "28 Cel"}},
			Show:    []string{"count-on"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: calculators.Text("Hours to count on until {limit mg/L}: warm water leaves few", limits.OxygenAct),
			X:       "temperature", From: "14 Cel", To: "30 Cel",
			Series: calculators.Axis{Input: "fish", Values: []string{"koi, 30 cm, 10", "koi, 30 cm, 20", "koi, 60 cm, 10"}},
			Show:   "count-on",
			Pond:   "ines",
		}
	}
	return c
}

func computePowerCut(in calculators.Inputs) (calculators.Result, error) {
	var n night
	n.read(in)
	if len(n.errs) > 0 {
		return calculators.Result{}, n.errs
	}
	// The filter's bacteria are cut off from the pond; the high end leaves them in
	// all the same, for those on the walls.
	n.filterRuns = Range{0, 0, 1}
	n.reckon()
	hours := n.hoursUntil(limits.OxygenAct)
	n.Exactly("count-on", hours.Low)
	n.addHours("until-act", hours)
	n.addHours("until-four", n.hoursUntil(limits.OxygenEurope))
	n.addHours("until-last", n.hoursUntil(limits.OxygenEmergency))
	n.narrow(math.Max(1, hours.Likely), "until-act", "until-four", "until-last")
	n.holding(in.In("stone-depth", "m"))
	add(&n.Result, "ammonia", n.combined(func(s []float64) float64 {
		return n.feedAt(s) * AmmoniaFromFeed(n.protein).at(s[ofAmmonia]) / n.volume
	}))
	n.budget()
	n.flagNight(in)
	n.advisePowerCut()
	n.Scale = calculators.Scale{Output: "count-on", Marks: []calculators.Mark{
		{Value: 1, Label: "act within the hour", Basis: "practice"},
		{Value: 4, Label: "many cuts are over", Basis: "practice"},
		{Value: 12, Label: "a night", Basis: "practice"},
	}}
	return n.Result, nil
}

// manyBuckets is how many ten-litre buckets one person lifts in an hour at most:
// one in half a minute (common practice).
const manyBuckets = 120

// holding adds what keeps limits.OxygenAct: air, and buckets.
func (n *night) holding(depth float64) {
	missing := n.saturation - limits.OxygenAct
	// All is in proportion to what is short, shared out by a share known from to.
	needed := func(share Range) Range {
		return Range(spread.Of(courseParts, func(s []float64) float64 {
			return (n.demandIn(s) - missing*n.surface.at(s[ofSurface])) / share.at(s[ofBubbles])
		})).above(0)
	}
	short := needed(Range{1, 1, 1})
	add(&n.Result, "short", short)
	if missing <= 0 || bubbleBeta*n.saturation <= limits.OxygenAct {
		n.Doubt("This water cannot hold {limit mg/L}, however much air it gets: air helps it to what it can hold, cooler water to more.", limits.OxygenAct)
		return
	}
	perLitre := n.filledBy(1, depth) * (bubbleBeta*n.saturation - limits.OxygenAct)
	add(&n.Result, "air-needed", needed(FineBubbles().times(perLitre)))
	perBucket := missing * bucket / 1000 // g in a bucket that is filled to the brim with oxygen
	least, most := FallShare(FallRatio(pouredFrom, n.t, dirty, sharpEdge), 1), FallShare(FallRatio(pouredFrom, n.t, clean, sharpEdge), 1)
	buckets := needed(Range{least, least, most}.times(perBucket / 100))
	add(&n.Result, "buckets", buckets)
	if buckets.Likely > manyBuckets {
		n.Doubt("More than {buckets 0} buckets an hour, each of {weight kg}, are beyond one person: they only win time, so get helpers and air.", manyBuckets, bucket)
	}
	n.Step("Taken in all", "{2 g/h}", n.demand.Likely)
	n.Step("Short at 5 mg/L, less what comes through the surface", "{2 g/h}", short.Likely)
}

func (n *night) advisePowerCut() {
	until, _ := n.Value("until-act")
	switch {
	case until.Low < 1:
		n.Say("Act now: in the worst case less than an hour is left above {limit mg/L}. Air first, then the fuse board.", limits.OxygenAct)
	case until.Low < longest:
		n.Say("Count on {hours 2 h} before you must have air in the water.", until.Low)
	default:
		n.Advise("Two days or more should pass before air is needed; look at the fish every few hours all the same.")
	}
	const fuse = "Look at the fuse board from a dry place. If the residual-current device has tripped, unplug all the pond, then switch it on once with nothing plugged in; if it trips again, leave it off and call an electrician."
	n.Advise("No feed and no medicine.")
	if until.Low >= 1 {
		n.Advise(fuse)
	}
	if until.Low < longest {
		n.Advise("Start the battery air pump: fine stones, as deep as it manages. Keep its battery charged all year.")
	} else {
		n.Advise("Keep the battery air pump ready: fine stones, as deep as it manages, its battery charged all year.")
	}
	n.Say("No air pump: dip water out and pour it back from {height m}, in turns, with firm footing and not alone. Keep watching the fish.", pouredFrom)
	if until.Low < 1 {
		n.Advise(fuse)
	}
	n.Advise(
		"In warm weather add cool water if you have it: dose the dechlorinator for it first, and at most a fifth of the pond.",
		"When the power is back: drain foul filter water to waste, then restart. Feed nothing for a day, then a quarter while ammonia and nitrite stay as low as a mature filter leaves them, and test both daily for a week.",
	)
}
