package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// helpingAir is the flow in L/min of the air pump that might help: a small one's.
const helpingAir = 40.0

// OxygenNight declares the calculator of the oxygen budget over a night.
func OxygenNight() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "oxygen-night",
		Inputs: append(nightInputs(), airingInputs()...),
		Outputs: []calculators.Output{
			{Name: "dawn", Label: "Oxygen at dawn", Unit: "mg/L", Digits: 2},
			{Name: "until-act", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenAct), Unit: "h", Digits: 2},
			{Name: "until-four", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenEurope), Unit: "h", Digits: 2},
			{Name: "until-last", Label: calculators.Text("Hours until {limit mg/L}", limits.OxygenEmergency), Unit: "h", Digits: 2},
			{Name: "store", Label: "Oxygen in the water at dusk", Unit: "g", Digits: 2, Help: "What the pond lives on."},
			{Name: "demand", Label: "Oxygen taken in all", Unit: "g/h", Digits: 2, Help: "Fish, filter, plants and bottom."},
			{Name: "from-tower", Label: calculators.Text("Oxygen the tower brings, with {limit mg/L} in the pond", limits.OxygenAct), Unit: "g/h", Digits: 2, Help: "Its flow, times what leaves it less what enters."},
			{Name: "tower-leaves", Label: "Oxygen in the water that leaves it then", Unit: "mg/L", Digits: 2, Help: "Measure it under the lowest box, and state it: no formula knows your trays."},
			{Name: "tower-carries", Label: "Feed a day whose oxygen that is", Unit: "g/d", Digits: 2, Help: "With all its decay; what goes through the surface comes on top."},
			{Name: "gain-air", Label: calculators.Text("At dawn, more with {air L/min} of air", helpingAir), Unit: "mg/L", Digits: 2, Help: "Fine stones on the bottom, over what bubbles there are."},
			{Name: "gain-feed", Label: "At dawn, more without feed", Unit: "mg/L", Digits: 2, Help: "If nothing was fed since the morning."},
			{Name: "gain-fall", Label: "At dawn, more with another fall", Unit: "mg/L", Digits: 2, Help: "One more tier like the others."},
			{Name: "at-rest", Label: "Taken by the fish at rest", Unit: "g/h", Digits: 2, Fine: true},
			{Name: "life", Label: "Taken by plants, plankton and bottom", Unit: "g/h", Digits: 2, Fine: true},
			{Name: "saturation", Label: "Oxygen the water can hold", Unit: "mg/L", Digits: 3, Fine: true},
			{Name: "surface-velocity", Label: "Oxygen through the surface", Unit: "m/d", Digits: 2, Fine: true},
			{Name: "fall-ratio", Label: "One fall divides what is missing by", Unit: "1", Digits: 3, Fine: true},
			{Name: "fall-share", Label: "One fall makes good, of what is missing", Unit: "%", Digits: 2, Fine: true},
			{Name: "bubbles", Label: calculators.Text("Bubbles in clean, empty water at {standard Cel}", standardWarmth), Unit: "g/h", Digits: 2, Fine: true},
		},
		Compute: computeOxygenNight,
	}
	if calculators.Documented {
		c.Title = "Oxygen over a hot night"
		c.Question = "Will my fish have enough oxygen at dawn, and what helps most?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.FishHealth}
		c.Cautions = []string{
			"A reckoning is no oxygen meter: measure at sunrise, when it is lowest. Gasping fish come before any figure.",
			"An air pump stands above the water or has a check valve, or water runs back into it when it stops.",
			"The tower counts for its falls only. Trays of wet media bring more, and no one has measured yours: take the low end for the plan.",
			"A medicine in the water takes oxygen too. Ask the vet and read the label before you treat in heat.",
		}
		c.Formulas = append(nightFormulas(), airingFormulas()...)
		c.Example = calculators.Example{
			Story: "Ines fears a still July night for Lower Reach: {fish.count} koi of {fish.length}, {temperature}. Her tower lets {flow} fall {tiers} times by {drop}, and no air pump runs.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "tower", Value: "falls"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Oxygen at dawn in {volume} with {area} of surface, clear, still, no tower and no air",
			Rows:    calculators.Axis{Input: "fish", Values: []string{"koi, 30 cm, 5", "koi, 30 cm, 10", "koi, 30 cm, 20", "koi, 45 cm, 10", "koi, 60 cm, 5"}},
			Columns: calculators.Axis{Input: "temperature", Values: []string{"15 Cel", "20 Cel", "24 Cel", "28 Cel"}},
			Show:    []string{"dawn"},
			Pond:    "ines",
		}
		c.Chart = calculators.Chart{
			Caption: "Oxygen at dawn falls with the water's warmth, with {volume}, no tower and no air",
			X:       "temperature", From: "10 Cel", To: "30 Cel",
			Series: calculators.Axis{Input: "fish", Values: []string{"koi, 30 cm, 5", "koi, 30 cm, 10", "koi, 30 cm, 20"}},
			Show:   "dawn",
			Pond:   "ines",
		}
	}
	return c
}

func airingInputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "night", Label: "Hours of darkness", Kind: quantity.Duration, Unit: "h", Default: "9 h",
			Help:   "From when the plants stop making oxygen until they start again.",
			Accept: calculators.Range{Low: 1, High: 24, Origin: "sanity limit"},
		},
		{
			Name: "tower", Label: "Falling water", Type: calculators.Choice, Default: "none",
			Help: "A shower tower or waterfall that runs all night.",
			Options: []calculators.Option{
				{Name: "none", Label: "none"},
				{Name: "falls", Label: "falls from tier to tier"},
				{Name: "measured", Label: "falls, with oxygen measured before and behind them"},
			},
		},
		{
			Name: "flow", Label: "Flow over the tower", Kind: quantity.Flow,
			Help:   "Measured with a bucket, not read off the pump's box.",
			Accept: calculators.Range{Low: 0, High: 1_000_000, Origin: "sanity limit"},
			When:   calculators.When{Input: "tower", Is: []string{"falls", "measured"}},
		},
		{
			Name: "tiers", Label: "Free falls", Kind: quantity.Count, Default: "1",
			Help:   "How often the water drops through air, the last into the pond.",
			Accept: calculators.Range{Low: 1, High: 20, Origin: "sanity limit"},
			When:   calculators.When{Input: "tower", Is: []string{"falls"}},
		},
		{
			Name: "drop", Label: "Drop of each", Kind: quantity.Length,
			Help:   "Through air, from the holes to the media or water below.",
			Accept: calculators.Range{Low: 0, High: tallestFall, Origin: "telemac-waqtel, formula 4, which peaks there"},
			Stated: calculators.Range{Low: 0, High: 2, Origin: "common practice"},
			When:   calculators.When{Input: "tower", Is: []string{"falls"}},
		},
		{
			Name: "edge", Label: "Length of edge the water falls from", Kind: quantity.Length, Default: "0.6 m", Fine: true,
			Help:   "Along one edge or the rows of holes.",
			Accept: calculators.Range{Low: 0.05, High: 20, Origin: "sanity limit"},
			When:   calculators.When{Input: "tower", Is: []string{"falls"}},
		},
		{
			Name: "entering", Label: "Oxygen in the pond, measured", Kind: quantity.Concentration,
			Help:   "At the same minute as the next; best at dawn, when much is missing.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit", HighRefused: "water so full lacks nothing that a tower could bring"},
			When:   calculators.When{Input: "tower", Is: []string{"measured"}},
		},
		{
			Name: "leaving", Label: "Oxygen in the water that leaves, measured", Kind: quantity.Concentration,
			Help:   "In a jug held under the outlet, before it drops into the pond.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"},
			When:   calculators.When{Input: "tower", Is: []string{"measured"}},
		},
		{
			Name: "pump", Label: "Air pump", Type: calculators.Choice, Default: "none",
			Help: "Fine stones fog the water; coarse bubbles come from open holes.",
			Options: []calculators.Option{
				{Name: "none", Label: "none"},
				{Name: "fine", Label: "fine stones"},
				{Name: "coarse", Label: "coarse bubbles"},
			},
		},
		{
			Name: "air", Label: "Air", Kind: quantity.Flow, Unit: "L/min",
			Help:   "At the depth of the stones; the box states it for no depth.",
			Accept: calculators.Range{Low: 0, High: 10_000, Origin: "sanity limit"},
			When:   calculators.When{Input: "pump", Is: []string{"fine", "coarse"}},
		},
		{
			Name: "stone-depth", Label: "Depth of the stones", Kind: quantity.Length,
			Help:   "Below the surface.",
			Accept: calculators.Range{Low: 0.1, High: 6, Origin: "sanity limit"},
			Stated: calculators.Range{Low: 0.5, High: 6, Origin: "epa1989, clean water SOTE table"},
			When:   calculators.When{Input: "pump", Is: []string{"fine", "coarse"}},
		},
	}
}

func airingFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Falling water", Says: "A fall of h metres divides what is missing by r, n falls by rⁿ; a is 1.8 for clean and 1.0 for moderately polluted water, b 0.8 for a sharp edge. Warned above 2 m, refused above 4.5 m, where it peaks.",
			TeX:    `r = 1 + 0.38\,a\,b\,h\,(1 - 0.11\,h)(1 + 0.046\,t)`,
			Source: "delft3d-waq", Locator: "strear switch 0", Basis: "published", Function: "fish.FallRatio",
			Check: calculators.Explicit("r [1] ratio of what is missing above and below the fall: h [m] height of the fall 0..4.5, t [Cel] 0..30, a [1] factor of the water's dirt 1.0|1.8, b [1] factor of the edge 0.8|1", FallRatio),
		},
		{
			Name: "Falling water by flow", Says: "Another formula, which finds about a tenth of the gain at garden flows: the low end. q in m³/h per metre of edge, H = 0.15 m of water below.",
			TeX:    `\ln r_{20} = 0.0675\,h^{1.28} q^{0.62} H^{0.439},\quad r = 1 + (r_{20} - 1)\,a\,b\,(1 + 0.02\,(t - 20))`,
			Source: "delft3d-waq", Locator: "strear switch 1", Basis: "published", Function: "fish.FallRatioByFlow",
			Check: calculators.Explicit("r [1] ratio of what is missing above and below the fall, r_20 [1] the same at a temperature of twenty degrees: h [m] height of the fall 0..2, q [m2/h] flow per length of edge 1..50, H [m] depth of the water below 0.15|0.5, t [Cel] 0..30, a [1] factor of the water's dirt 1.0|1.8, b [1] factor of the edge 0.8|1", func(drop, flow, pool, t, a, b float64) (ratio, at20 float64) {
				return FallRatioByFlow(drop, flow, pool, t, a, b), FallRatioByFlow(drop, flow, pool, 20, 1, 1)
			}),
		},
		{
			Name: "Bubbles", Says: "Oxygen into clean empty water at 20 °C from Q L/min of air at h metres; E is 2.8 to 6 % a metre for fine bubbles, 2.0 to 2.8 for coarse.",
			TeX:    `\mathrm{SOTR} = 60\cdot 0.2793\, Q\, \tfrac{E}{100}\, h`,
			Source: "epa1989", Locator: "clean water SOTE table", Basis: "memory", Function: "fish.AirOxygen",
			Check: calculators.Explicit("SOTR [g/h]: Q [L/min] flow of air 1..100, E [%] share of the oxygen taken up per metre 2..6, h [m] depth of the stone 0.3..3", AirOxygen),
		},
		{
			Name: "Bubbles in the pond", Says: "What they bring into pond water that holds C, with 0.9 and 0.98 for its dirt.",
			TeX:    `\mathrm{OTR} = \mathrm{SOTR}\;\alpha\,\frac{\beta C_s - C}{C_{s,20}}\,1.024^{t-20}`,
			Source: "asce-oxygen", Locator: "OTR equation", Basis: "memory", Function: "fish.FieldTransfer",
			Check: calculators.Explicit("OTR [g/h] oxygen into the pond, C_s,20 [mg/L] saturation at a temperature of twenty degrees: SOTR [g/h] 1..200, t [Cel] 0..35, C [mg/L] 0..8, C_s [mg/L] saturation at the water's temperature 7..14, α [1] factor of dirt on the transfer 0.5..1, β [1] factor of dirt on the saturation 0.9..1", func(clean, t, oxygen, saturation, alpha, beta float64) (transfer, at20 float64) {
				return clean * FieldTransfer(t, oxygen, saturation, alpha, beta), water.OxygenSaturation(20, 0)
			}),
		},
	}
}

func computeOxygenNight(in calculators.Inputs) (calculators.Result, error) {
	var n night
	n.read(in)
	switch in.Choice("tower") {
	case "falls":
		n.tower = n.falls(in, in.In("tiers", "1"))
	case "measured":
		n.measureFalls(in)
	}
	if len(n.errs) > 0 {
		return calculators.Result{}, n.errs
	}
	n.bubbles(in)
	n.reckon()
	hours := in.In("night", "h")
	dawn := n.oxygenAt(hours).above(0).withoutTraces()
	add(&n.Result, "dawn", dawn)
	n.addHours("until-act", n.hoursUntil(limits.OxygenAct))
	n.addHours("until-four", n.hoursUntil(limits.OxygenEurope))
	n.addHours("until-last", n.hoursUntil(limits.OxygenEmergency))
	n.narrow(hours, "dawn", "until-act", "until-four", "until-last")
	n.budget()
	remedy := n.gains(in, hours, dawn.Likely)
	n.flagNight(in)
	n.describe(in)
	c := n.likely()
	if level := c.s / c.r; dawn.Likely > 0 { // where the likely night would end
		n.Step("At dawn", "{2 mg/L} + ({3 mg/L} − {2 mg/L}) × exp(−{2 /h} × {2 h}) = {2 mg/L}", level, c.start, level, c.r, hours, dawn.Likely)
	} else {
		n.Step("At dawn", "none is left")
	}
	n.adviseNight(dawn)
	if remedy != "" {
		n.Advise(remedy)
	}
	n.Advise("Reckon the power cut too: without pump and air the hours are few.")
	n.Scale = calculators.Scale{Output: "dawn", Marks: limits.Marks(limits.Oxygen)}
	return n.Result, nil
}

// What water the falls meet: common values of the tables that go with the
// formulas (butts1983, from memory; the cap of delft3d-waq).
const (
	clean, dirty = 1.8, 1.0
	sharpEdge    = 0.8
	poolBelow    = 0.15 // m of water that a fall plunges into
)

// fallRatios are those of one fall: by flow in dirty water, likely by height in
// dirty water, most by height in clean water.
func (n *night) fallRatios(in calculators.Inputs) Range {
	drop := in.In("drop", "m")
	likely := FallRatio(drop, n.t, dirty, sharpEdge)
	byFlow := FallRatioByFlow(drop, in.In("flow", "m3/h")/in.In("edge", "m"), poolBelow, n.t, dirty, sharpEdge)
	return ordered(byFlow, likely, FallRatio(drop, n.t, clean, sharpEdge))
}

// falls returns what so many tiers fill, m3/h.
func (n *night) falls(in calculators.Inputs, tiers float64) Range {
	r := n.fallRatios(in)
	return Range{FallShare(r.Low, tiers), FallShare(r.Likely, tiers), FallShare(r.High, tiers)}.times(in.In("flow", "m3/h") / 100)
}

// measureFalls takes what the tower brings from what was measured before and behind it.
func (n *night) measureFalls(in calculators.Inputs) {
	before := in.In("entering", "mg/L")
	gained, missing := in.In("leaving", "mg/L")-before, n.saturation-before
	if missing < leastMissing {
		n.errs = append(n.errs, calculators.Refuse("entering", "is {entering 3 mg/L}, and this water holds {full 3 mg/L}", "at most {most 3 mg/L}, so that something is missing that a tower could bring", "measure both again at dawn", before, n.saturation, n.saturation-leastMissing))
		return
	}
	share := func(gained float64) float64 { return math.Min(1, math.Max(0, gained/missing)) }
	n.fallsMeasured = true
	n.tower = Range{share(gained - readingError), share(gained), share(gained + readingError)}.times(in.In("flow", "m3/h"))
}

// leastMissing is what the water has to lack, mg/L, before what a tower makes good of
// it can be read: three times the error of two readings.
const leastMissing = 3 * readingError

// bubbles reads the air pump.
func (n *night) bubbles(in calculators.Inputs) {
	share := FineBubbles()
	switch in.Choice("pump") {
	case "none":
		return
	case "coarse":
		share = CoarseBubbles()
	}
	n.air = share.times(n.filledBy(in.In("air", "L/min"), in.In("stone-depth", "m")))
}

// filledBy returns the water that air at a depth fills, m3/h for each per cent of
// oxygen taken up in a metre. A pump moves litres, and on a mountain they hold less air.
func (n *night) filledBy(air, depth float64) float64 {
	perMissing := FieldTransfer(n.t, 0, 1, bubbleAlpha, 1)
	return AirOxygen(air*n.thin, 1, depth) * perMissing
}

// leastGain is the gain at dawn below which no remedy is named, mg/L: less than
// any kit shows (common practice).
const leastGain = 0.1

// gains adds by how much each remedy lifts the likely dawn, and says which lifts
// it most; nothing where none does and none is needed.
func (n *night) gains(in calculators.Inputs, hours, dawn float64) string {
	none := make([]float64, demandParts)
	fed, _ := n.fedBy(n.feedAt(none))
	demand, falls, air := n.demand.Likely, n.surface.Likely+n.tower.Likely, n.air.Likely
	more := FineBubbles().Likely * n.filledBy(helpingAir, n.volume/n.area)
	byAir := math.Max(0, n.course(demand, falls, air+more).after(hours)) - dawn
	byFeed := math.Max(0, n.course(math.Max(0, demand-math.Max(0, fed-n.restAt(none))), falls, air).after(hours)) - dawn
	n.Exactly("gain-air", byAir)
	n.Exactly("gain-feed", byFeed)
	byFall := 0.0
	if in.Choice("tower") == "falls" {
		taller := n.surface.Likely + n.falls(in, in.In("tiers", "1")+1).Likely
		byFall = math.Max(0, n.course(demand, taller, air).after(hours)) - dawn
		n.Exactly("gain-fall", byFall)
	}
	switch best := math.Max(byAir, math.Max(byFeed, byFall)); {
	case best < leastGain && dawn <= limits.OxygenAct:
		return "No one of these is enough: all the air, no feed, and fewer fish."
	case best < leastGain:
		return ""
	case best == byAir:
		return "An air pump helps most: fine stones, as deep as they go, before dusk."
	case best == byFeed:
		return "Not feeding helps most: stop in the morning of a hot day."
	}
	return "Another fall helps most: raise the tower or send more water over it."
}

// describe says what tower and air pump do.
func (n *night) describe(in calculators.Inputs) {
	switch in.Choice("tower") {
	case "falls":
		r := n.fallRatios(in)
		add(&n.Result, "fall-ratio", r)
		add(&n.Result, "fall-share", Range{FallShare(r.Low, 1), FallShare(r.Likely, 1), FallShare(r.High, 1)})
		n.Step("Empty water that the falls fill", "{3 m3/h} × (1 − {3}^−{0}) = {2 m3/h}; {2 m3/h} ({2} to {2})", in.In("flow", "m3/h"), r.Likely, in.In("tiers", "1"), n.tower.Likely, n.tower.Likely, n.tower.Low, n.tower.High)
		n.Narrowings = append(n.Narrowings, calculators.Narrowing{Output: "from-tower", Input: "tower", Option: "measured"})
		n.Flag("Two published formulas for falling water differ about tenfold at garden flows: the range spans both.")
	case "measured":
		n.Step("Empty water that the tower fills, as measured", "{2 m3/h} ({2} to {2})", n.tower.Likely, n.tower.Low, n.tower.High)
	}
	// Thin warm air fills water to less than the limit: then a tower brings none to
	// water that stands at it, and there is no feed that it would carry.
	if flow, missing := in.In("flow", "m3/h"), n.saturation-limits.OxygenAct; flow > 0 && missing > 0 {
		brings := n.tower.times(missing)
		add(&n.Result, "from-tower", brings)
		add(&n.Result, "tower-carries", brings.times(24/FeedOxygenDemand(n.protein).Likely))
		leaves := n.tower.times(missing / flow)
		add(&n.Result, "tower-leaves", Range{leaves.Low + limits.OxygenAct, leaves.Likely + limits.OxygenAct, leaves.High + limits.OxygenAct})
	}
	if in.Choice("pump") != "none" {
		standard := n.air.times(1 / FieldTransfer(n.t, 0, 1, bubbleAlpha, 1))
		add(&n.Result, "bubbles", standard)
		n.Step("Empty water that the bubbles fill, from what they bring into clean water", "{2 g/h} × {3 L/mg} = {2 m3/h}", standard.Likely, FieldTransfer(n.t, 0, 1, bubbleAlpha, 1), n.air.Likely)
	}
}

func (n *night) adviseNight(dawn Range) {
	switch {
	case n.start > limits.OxygenAct:
	case water.Full(n.start, n.saturation):
		n.Advise("This water is full and still holds too little: more air adds none now. Shade and cool it, no feed, no medicine, and keep running what runs.")
	default:
		n.Advise("Oxygen is too low already: all the air and falling water on now, no feed, no medicine; measure again in an hour and look for the cause.")
	}
	if n.start <= limits.OxygenEmergency {
		n.Advise("Run in cool dechlorinated water in a thin stream, at most a fifth of the pond.")
	}
	switch {
	case dawn.Likely <= limits.OxygenAct:
		n.Advise("Do not let this night come as it is: all the air on before dusk, no feed today, and someone up at 4 in the morning to look.", "Keep dechlorinated water and a second air pump ready.")
	case dawn.Low <= limits.OxygenAct:
		n.Advise("Put on all the air before dusk and do not feed after noon.")
		n.Say("Measure at sunrise; below {oxygen mg/L}, stop feeding and look for the cause.", limits.OxygenAct)
	case n.start > limits.OxygenAct:
		n.Say("Even the poor end keeps above {oxygen mg/L}. Measure at sunrise on the hottest day to be sure.", limits.OxygenAct)
	}
	if n.t >= limits.WarmAct {
		n.Say("At {heat Cel} and more shade the pond; little feed, in the morning, while the oxygen at sunrise stays above {oxygen mg/L}, and else none.", limits.WarmAct, limits.OxygenAct)
	}
}
