package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// WaterChange declares the calculator of the water change that brings a reading
// to a target, or of what a number of changes leaves.
func WaterChange() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "water-change",
		Inputs:  changeInputs(),
		Outputs: changeOutputs(),
		Compute: computeChange,
	}
	if calculators.Documented {
		c.Title = "Water change"
		c.Question = "How much water do I change to bring a reading down, or KH up, and what else does the new water change?"
		c.Part = "water"
		c.Formulas = changeFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chlorine, calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Where ammonia shows, new water of higher pH makes it more toxic: compare pH first.",
			"A change does not cure what makes the substance: find the cause, or it is back in days.",
			"A pump or siphon that is forgotten empties the pond.",
		}
		c.Example = calculators.Example{
			Story: "Ines reads {reading} nitrate in Lower Reach; her tap has {tap}. She wants {target}. Pond {temperature}, tap {tap-temperature}, alkalinity {alkalinity} against {tap-alkalinity}.",
			Pond:  "ines", Day: "2025-08-16",
			Given: []calculators.Arg{{Name: "reading", Value: "{nitrate}"}, {Name: "tap", Value: "{tap-nitrate-reading}"}, {Name: "target", Value: "40 mg/L"}, {Name: "each", Value: "20 %"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Old water that is left after equal changes",
			Rows:    calculators.Axis{Input: "count", Values: []string{"1", "2", "3", "4", "5", "8"}},
			Columns: calculators.Axis{Input: "each", Values: []string{"10 %", "20 %", "25 %", "30 %", "40 %", "50 %"}},
			Show:    []string{"left"},
			Given:   []calculators.Arg{{Name: "find", Value: "left"}, {Name: "volume", Value: "1000 L"}, {Name: "reading", Value: "100 mg/L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Share to replace with clean water, by the reading: the first halving is the cheapest",
			X:       "target", From: "0.1 mg/L", To: "2 mg/L",
			Series: calculators.Axis{Input: "reading", Values: []string{"1 mg/L", "2 mg/L", "4 mg/L"}},
			Show:   "share",
			Given:  []calculators.Arg{{Name: "volume", Value: "1000 L"}},
		}
	}
	return c
}

func changeInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Help: "From the pond-volume calculator; filters count too.",
			Accept: calculators.Range{Low: 10, High: 1e7, Origin: "sanity limit"}},
		{Name: "find", Label: "Find", Type: calculators.Choice, Default: "target", Help: "How much to change, or what a plan leaves over.",
			Options: []calculators.Option{{Name: "target", Label: "how much to change to bring it down to a target"}, {Name: "raise", Label: "how much to change to bring it up: KH, hardness"}, {Name: "left", Label: "what a number of changes leaves"}}},
		{Name: "reading", Label: "Reading in the pond", Kind: quantity.Concentration, Help: "Anything a change dilutes: ammonia, nitrite, nitrate, salt. Not pH.",
			Accept: calculators.Range{Low: 0, High: 50000, Origin: "sanity limit"}},
		{Name: "tap", Label: "The same in the new water", Kind: quantity.Concentration, Default: "0 mg/L", Help: "Test the tap with the same kit; nitrate is seldom 0.",
			Accept: calculators.Range{Low: 0, High: 50000, Origin: "sanity limit"}},
		{Name: "target", Label: "Wanted in the pond", Kind: quantity.Concentration, Help: "What the new water holds must lie beyond it.",
			Accept: calculators.Range{Low: 0, High: 50000, Origin: "sanity limit"}, When: calculators.When{Input: "find", Is: []string{"target", "raise"}}},
		{Name: "count", Label: "Number of changes", Kind: quantity.Count, Help: "Or pond volumes of water run through.",
			Accept: calculators.Range{Low: 1, High: 1000, Origin: "sanity limit"}, When: calculators.When{Input: "find", Is: []string{"left"}}},
		{Name: "each", Label: "Size of each change", Kind: quantity.Share, Default: "25 %", Help: "A tenth to a quarter is usual, half the most (common practice).",
			Accept: calculators.Range{Low: 1, High: 90, Origin: "sanity limit"}},
		{Name: "kit-error", Label: "Error of the reading", Kind: quantity.Share, Fine: true, Default: "25 %", Help: "Half a colour step of a drop kit is about a quarter (common practice).",
			Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}},
		{Name: "temperature", Fact: "temperature", Label: "Pond temperature", Kind: quantity.Temperature, Fine: true, Optional: true, Help: "With the tap's, to see the jump.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "tap-temperature", Fact: "tap-temperature", Label: "Tap temperature", Kind: quantity.Temperature, Fine: true, Optional: true, Help: "Let it run a minute, then measure.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "alkalinity", Fact: "alkalinity", Label: "Pond alkalinity, as CaCO3", Kind: quantity.Hardness, Fine: true, Optional: true, Help: calculators.Text("Carbonate hardness; a German degree is {degree 3 mg/L}.", GermanDegree),
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
		{Name: "tap-alkalinity", Fact: "tap-alkalinity", Label: "Tap alkalinity, as CaCO3", Kind: quantity.Hardness, Fine: true, Optional: true, Help: "From the water company or the same kit.",
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
		{Name: "ph", Fact: "ph", Label: "Pond pH", Kind: quantity.PH, Fine: true, Optional: true, Help: "With the tap's, and both alkalinities.",
			Accept: calculators.Range{Low: 5, High: 10.5, Origin: "sanity limit"}},
		{Name: "tap-ph", Fact: "tap-ph", Label: "Tap pH", Kind: quantity.PH, Fine: true, Optional: true, Help: "Of a glass shaken with air for a minute: it is what the pond makes of it.",
			Accept: calculators.Range{Low: 5, High: 10.5, Origin: "sanity limit"}},
		{Name: "nitrate", Fact: "nitrate", Label: "Pond nitrate", Kind: quantity.Concentration, Fine: true, Optional: true, Help: "As N or as NO3, but both alike.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}},
		{Name: "tap-nitrate", Fact: "tap-nitrate-reading", Label: "Tap nitrate", Kind: quantity.Concentration, Fine: true, Optional: true, Help: "From the water company or the same kit.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"}},
		{Name: "salt", Fact: "salt", Label: "Pond salt", Kind: quantity.Concentration, Unit: "g/L", Fine: true, Optional: true, Help: calculators.Text("{salt g/L} is {share %}; the new water is taken to have none.", 1, 0.1),
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
	}
}

func changeOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "share", Label: "Old water to replace in all", Unit: "%", Digits: 2, Help: "In one go if it is small; never more than half at once."},
		{Name: "water", Label: "That is in one change", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "changes", Label: "Changes of the chosen size", Unit: "1", Digits: 3, Whole: true, Help: "Each mixed before the next; they take more water than one change, and spare the fish."},
		{Name: "changes-water", Label: "New water for these changes", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "left", Label: "Old water left after these changes", Unit: "%", Digits: 2},
		{Name: "after", Label: "Reading after these changes", Unit: "mg/L", Digits: 2},
		{Name: "volumes", Label: "Or run through, in pond volumes", Unit: "1", Digits: 2, Help: "New water in and old water out at the same time, mixed."},
		{Name: "run-water", Label: "New water run through", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "run-left", Label: "Old water left if as much ran through", Unit: "%", Digits: 2, Fine: true},
		{Name: "temperature", Label: "Temperature after the first change", Unit: "Cel", Digits: 3, Also: []string{"[degF]"}},
		{Name: "alkalinity", Label: "Alkalinity after all changes", Unit: "mg/L", Digits: 2},
		{Name: "ph", Label: "pH after all changes, about", Unit: "[pH]", Digits: 2, Help: "Before the air evens it out; where all alkalinity is carbonate."},
		{Name: "nitrate", Label: "Nitrate after all changes", Unit: "mg/L", Digits: 2},
		{Name: "salt", Label: "Salt after all changes", Unit: "g/L", Digits: 2},
	}
}

func changeFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "One change", Says: "Share to replace with water of the value c_new: the mass balance of one mixed change.",
			TeX: `x = \frac{c_\mathrm{now} - c_\mathrm{wanted}}{c_\mathrm{now} - c_\mathrm{new}}`, Basis: "practice", Function: "water.ShareToReplace",
			Check: calculators.Explicit("x [1]: c_now [mg/L] 50..100, c_new [mg/L] 0..20, c_wanted [mg/L] 20..50", ShareToReplace)},
		{Name: "Several changes", Says: "Old water left after n changes of the share f, each mixed before the next.",
			TeX: `(1 - f)^n`, Basis: "practice", Function: "water.LeftAfterChanges",
			Check: calculators.Explicit("left [1] share of old water left: f [1] 0.05..0.9, n [1] 1..20", LeftAfterChanges)},
		{Name: "Run-through", Says: "Old water left after v pond volumes ran through an overflowing, mixed pond.",
			TeX: `e^{-v}`, Basis: "practice", Function: "water.LeftAfterRunThrough",
			Check: calculators.Explicit("left [1] share of old water left: v [1] volumes of the pond run through 0..5", LeftAfterRunThrough)},
		{Name: "Mixing", Says: "What else the new water brings: in proportion, except pH.",
			TeX: `c = c_\mathrm{old} + x\,(c_\mathrm{new} - c_\mathrm{old})`, Basis: "practice", Function: "water.Mixed",
			Check: calculators.Explicit("c [mg/L] value of the mixed water: c_old [mg/L] value of the pond 0..100, c_new [mg/L] 0..100, x [1] share of the water renewed 0..1", Mixed)},
		{Name: "Mixed pH", Says: "Alkalinity and dissolved carbonate mix in proportion; pH follows from them, before the air evens it out.",
			TeX:    `A = C_T\,\frac{h K_1 + 2 K_1 K_2}{h^2 + h K_1 + K_1 K_2} + \frac{K_w}{h} - h`,
			Source: "usgs-phreeqc", Locator: "phreeqc.dat SOLUTION_SPECIES", Basis: "published", Function: "water.MixedPH",
			Check: calculators.Implicit("h [mol/L] hydrogen ions, A [mol/L] alkalinity of the mixed water, C_T [mol/L] dissolved carbonate of the mixed water, K_1 [mol/L], K_2 [mol/L], K_w [mol/L]: - [[pH]] 6.5..8.5, - [mg/L] 50..200, - [[pH]] 7..9, - [mg/L] 20..300, - [1] 0.1..0.9, - [Cel] 2..30", mixedTerms)},
	}
}

func computeChange(in calculators.Inputs) (calculators.Result, error) {
	volume, each := in.In("volume", "L"), in.In("each", "%")/100
	reading, tap := in.In("reading", "mg/L"), in.In("tap", "mg/L")
	var r calculators.Result
	changes := in.In("count", "1")
	part := 1 - LeftAfterChanges(each, changes)
	if in.Choice("find") != "left" {
		var err error
		if part, err = partToReplace(in, &r); err != nil {
			return calculators.Result{}, err
		}
		changes = ChangesToReplace(part, each)
	} else {
		r.Exactly("share", 100*part)
		r.Step("Old water left", "(1 − {2})^{0} = {3 %}", each, changes, 100*LeftAfterChanges(each, changes))
	}
	left := LeftAfterChanges(each, changes)
	first := math.Min(part, each)
	r.Exactly("water", part*volume)
	r.Exactly("changes", changes)
	r.Exactly("changes-water", changes*each*volume)
	r.Exactly("left", 100*left)
	r.Exactly("after", Mixed(reading, tap, 1-left))
	r.Exactly("volumes", RunThroughVolumes(part))
	r.Exactly("run-water", RunThroughVolumes(part)*volume)
	r.Exactly("run-left", 100*LeftAfterRunThrough(changes*each))
	if part < 1 {
		r.Step("Run-through, in pond volumes, until so much is left", "−ln {3} = {3}", 1-part, RunThroughVolumes(part))
	}
	softFirst(in, &r, 1-left)
	if in.Choice("find") == "left" && tap > reading {
		r.Doubt("The new water holds more of it than the pond: these changes bring the reading up from {before ~3 mg/L} to {after 3 mg/L}. Make none of them against it.", reading, Mixed(reading, tap, 1-left))
	} else {
		adviseChange(&r, part, each, changes, first*volume)
	}
	changeElse(in, &r, first, 1-left)
	return r, nil
}

// partToReplace finds the share to replace, 0 to below 1, and its range from
// the error of the reading.
func partToReplace(in calculators.Inputs, r *calculators.Result) (float64, error) {
	reading, tap, target := in.In("reading", "mg/L"), in.In("tap", "mg/L"), in.In("target", "mg/L")
	share := ShareToLower
	if in.Choice("find") == "raise" { // the same with the signs turned
		share = func(now, replacement, target float64) (float64, bool) {
			return ShareToLower(-now, -replacement, -target)
		}
	}
	part, ok := share(reading, tap, target)
	if !ok {
		return 0, calculators.Refuse("target", "is {target ~4 mg/L}, which water of {tap ~4 mg/L} cannot bring about in a pond of {reading ~4 mg/L}",
			"new water that lies beyond the target", "take other new water, or another target; change none with this", target, tap, reading)
	}
	e := in.In("kit-error", "%") / 100
	low, high := part, part
	for _, factor := range []float64{1 - e, 1 + e} {
		p, _ := share(reading*factor, tap, target)
		low, high = math.Min(low, p), math.Max(high, p)
	}
	r.Between("share", 100*low, 100*part, 100*high)
	if part > 0 {
		r.Step("Share to replace", "({~4} − {~4}) / ({~4} − {~4}) = {3 %}", reading, target, reading, tap, 100*part)
	} else {
		r.Step("Share to replace", "none: the reading is there already")
	}
	return part, nil
}

func adviseChange(r *calculators.Result, part, each, changes, first float64) {
	if part == 0 {
		r.Advise("The reading is there already: no change is needed for it.")
		return
	}
	r.Say("Dechlorinate the new water first, then change {water 2 L} today, slowly if it is warmer or colder than the pond.", first)
	r.Advise("Test again before the next change. If fish gasp or lie over, more air first, and call a fish vet.")
	if changes > 1 && part > each {
		r.Say("Do {changes 0} such changes, a day apart unless the reading is an emergency.", changes)
	}
	if 100*part > limits.ChangeMost && 100*each <= limits.ChangeMost {
		r.Flag("More than half of the pond in one go is a shock of its own: take the several changes.")
	}
	if 100*each > limits.ChangeMost {
		r.Say("Each change is more than half of the pond: only for an emergency, with water of like temperature, and of like pH below {high ~}.", limits.PHHighAct)
	}
	r.Say("If the pond holds {error %} more or less than you think, change the same share of it, not the same litres.", limits.VolumeError)
	r.Flag("More of the substance is made while you change; the answer counts only what is there now.")
}

// changeElse says what the new water does to the rest of the water: at once for
// the temperature, in the end for what is dissolved.
func changeElse(in calculators.Inputs, r *calculators.Result, first, whole float64) {
	if in.Has("temperature") && in.Has("tap-temperature") {
		old := in.In("temperature", "Cel")
		mixed := Mixed(old, in.In("tap-temperature", "Cel"), first)
		r.Exactly("temperature", mixed)
		if math.Abs(mixed-old) > limits.WarmthStep {
			r.Doubt("The first change moves the temperature by more than {step K}: let the water trickle in over hours, or make smaller changes.", limits.WarmthStep)
		}
	}
	if in.Has("alkalinity") && in.Has("tap-alkalinity") {
		mixAlkalinity(in, r, whole)
	}
	if in.Has("nitrate") && in.Has("tap-nitrate") {
		r.Exactly("nitrate", Mixed(in.In("nitrate", "mg/L"), in.In("tap-nitrate", "mg/L"), whole))
	}
	if in.Has("salt") {
		r.Exactly("salt", Mixed(in.In("salt", "g/L"), 0, whole))
		r.Advise("Put back only the salt that went out with the old water, if fish still need it.")
	}
}

// softFirst says what to do with new water that would take the pond's KH down to
// where the pH can crash, before any of it goes in.
func softFirst(in calculators.Inputs, r *calculators.Result, whole float64) {
	old, tap := in.In("alkalinity", "mg/L"), in.In("tap-alkalinity", "mg/L")
	if end := Mixed(old, tap, whole); end < old && end <= limits.AlkalinityLowAct {
		r.Say("First bring the KH of the new water up with bicarbonate, to {least mg/L} or more: as it is the pond would end at {end 2 mg/L}, where the pH can crash.", limits.AlkalinityLowWatch, end)
	}
}

func mixAlkalinity(in calculators.Inputs, r *calculators.Result, whole float64) {
	old, tap := in.In("alkalinity", "mg/L"), in.In("tap-alkalinity", "mg/L")
	mixed := Mixed(old, tap, whole)
	r.Exactly("alkalinity", mixed)
	if mixed < limits.AlkalinityLowAct {
		r.Doubt("Alkalinity ends below {least mg/L}: pH may fall suddenly.", limits.AlkalinityLowAct)
	}
	if !in.Has("ph") || !in.Has("tap-ph") {
		return
	}
	t := standardRoom
	if in.Has("temperature") {
		t = in.In("temperature", "Cel")
	}
	before, after := in.In("ph", "[pH]"), MixedPH(in.In("ph", "[pH]"), old, in.In("tap-ph", "[pH]"), tap, whole, t)
	if after != after { // not a number
		r.Flag("Such an alkalinity cannot have such a pH: test both again. No pH is worked out.")
		return
	}
	r.Exactly("ph", after)
	if after > before+limits.PHStepDay {
		r.Doubt("The pH rises by more than {step ~}: if ammonia shows, work out how toxic it becomes before you begin.", limits.PHStepDay)
	}
	if math.Abs(after-before) > limits.PHStepDay {
		r.Flag("Spread the changes over days: a quick step of pH harms fish.")
	}
}

// standardRoom is the temperature in degrees Celsius taken where none is stated;
// ten degrees more or less move the pH by a few hundredths.
const standardRoom = 20.0
