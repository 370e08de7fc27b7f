package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Nitrate declares the calculator of the nitrate a pond comes to.
func Nitrate() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "nitrate",
		Inputs:  nitrateInputs(),
		Outputs: nitrateOutputs(),
		Compute: computeNitrate,
	}
	if calculators.Documented {
		c.Title = "Nitrate in the long run"
		c.Question = "Where will nitrate settle with my feed and my water changes, and how much must I change to hold it?"
		c.Part = "water"
		c.Formulas = nitrateFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("Know which nitrate your kit reads: {nitrogen mg/L} as nitrogen (NO3-N) is {nitrate 2 mg/L} as nitrate (NO3).", 10, 10*chemistry.NitratePerNitrogen),
			"After a long time without changes go down slowly, a tenth to a fifth at a time: old water is sour and poor in KH, and a big change upsets more than the nitrate.",
			"More changes of the same size never get below the nitrate of the tap.",
			"A shower filter makes nitrate and takes next to none out. Plants and algae use some, so the true figure is at most the one shown.",
		}
		c.Example = calculators.Example{
			Story: "Ines feeds {feed} of {protein} protein in Lower Reach, {volume}, and changes {share} each week with tap water of {tap} nitrate. Her kit shows {now}.",
			Pond:  "ines", Day: "2025-09-13",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Nitrate in the long run, as NO3, in {volume} with tap water of {tap} and a change each week",
			Rows:    calculators.Axis{Input: "share", Values: []string{"5 %", "10 %", "15 %", "20 %", "30 %", "50 %"}},
			Columns: calculators.Axis{Input: "feed", Values: []string{"25 g/d", "50 g/d", "100 g/d", "200 g/d"}},
			Show:    []string{"plateau"},
			Given:   []calculators.Arg{{Name: "volume", Value: "10000 L"}, {Name: "protein", Value: "36 %"}, {Name: "tap", Value: "20 mg/L"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Nitrate in the long run, as NO3, in {volume} with tap water of {tap}, by the share changed each week",
			X:       "share", From: "5 %", To: "50 %",
			Series: calculators.Axis{Input: "feed", Values: []string{"50 g/d", "100 g/d", "200 g/d"}},
			Show:   "plateau",
			Given:  []calculators.Arg{{Name: "volume", Value: "10000 L"}, {Name: "protein", Value: "36 %"}, {Name: "tap", Value: "20 mg/L"}},
		}
	}
	return c
}

func nitrateInputs() []calculators.Input {
	return []calculators.Input{
		{
			Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
			Help:   "Pond, filter and pipes; from the pond volume calculator.",
			Accept: calculators.Range{Low: 1, High: 10000000, Origin: "sanity limit"},
		},
		{
			Name: "from", Label: "Reckon from", Type: calculators.Choice, Default: "feed",
			Help: "The feed calculator gives the ammonia load for the weight of the fish.",
			Options: []calculators.Option{
				{Name: "feed", Label: "the feed I give"},
				{Name: "tan", Label: "the ammonia load"},
			},
		},
		{
			Name: "feed", Fact: "feed-most", Once: []string{"feed"}, Label: "Feed in a day", Kind: quantity.MassRate,
			Help:   "The mean of the season: weigh the tin before and after a week and divide by seven.",
			Accept: calculators.Range{Low: 0, High: 100000, Origin: "sanity limit"},
			When:   calculators.When{Input: "from", Is: []string{"feed"}},
		},
		{
			Name: "protein", Fact: "protein", Label: "Protein in the feed", Kind: quantity.Share, Default: "36 %",
			Help:   "Printed on the bag as crude protein.",
			Accept: calculators.Range{Low: 5, High: 70, Origin: "sanity limit"},
			When:   calculators.When{Input: "from", Is: []string{"feed"}},
		},
		{
			Name: "tan", Label: "Total ammonia nitrogen in a day", Kind: quantity.MassRate,
			Help:   "All of it becomes nitrate in a ripe filter.",
			Accept: calculators.Range{Low: 0, High: 10000, Origin: "sanity limit"},
			When:   calculators.When{Input: "from", Is: []string{"tan"}},
		},
		{
			Name: "basis", Fact: "nitrate-kit", Label: "Nitrate is stated", Type: calculators.Choice, Default: "as-no3",
			Help: calculators.Text("Your kit and the water report must mean the same; 1 as nitrogen is {nitrate 2} as nitrate.", chemistry.NitratePerNitrogen),
			Options: []calculators.Option{
				{Name: "as-no3", Label: "as nitrate (NO3)"},
				{Name: "as-n", Label: "as nitrogen (NO3-N)"},
			},
		},
		{
			Name: "tap", Fact: "tap-nitrate-reading", Label: "Nitrate in the new water", Kind: quantity.Concentration,
			Help:   "From the water supplier's report, or test the tap.",
			Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"},
		},
		{
			Name: "how", Label: "Water is renewed", Type: calculators.Choice, Default: "changes",
			Help: "Topping up what evaporates is no water change.",
			Options: []calculators.Option{
				{Name: "changes", Label: "by changes"},
				{Name: "drip", Label: "by a drip that overflows"},
			},
		},
		{
			Name: "share", Label: "Water in each change", Kind: quantity.Share,
			Help:   "The part of all the water; 0 if none.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"},
			When:   calculators.When{Input: "how", Is: []string{"changes"}},
		},
		{
			Name: "every", Label: "Time between changes", Kind: quantity.Duration, Default: "7 d",
			Help:   "In the feeding season.",
			Accept: calculators.Range{Low: 0.25, High: 365, Origin: "sanity limit"},
			When:   calculators.When{Input: "how", Is: []string{"changes"}},
		},
		{
			Name: "drip", Label: "Drip", Kind: quantity.Flow,
			Help:   "Catch it in a bucket for an hour. It must be dechlorinated.",
			Accept: calculators.Range{Low: 0.01, High: 100000, Origin: "sanity limit"},
			When:   calculators.When{Input: "how", Is: []string{"drip"}},
		},
		{
			Name: "now", Fact: "nitrate", Label: "Nitrate now", Kind: quantity.Concentration, Optional: true,
			Help:   "Tested just before a change.",
			Accept: calculators.Range{Low: 0, High: 2000, Origin: "sanity limit"},
		},
		{
			Name: "wanted", Label: "Nitrate to hold", Kind: quantity.Concentration, Optional: true,
			Help:   calculators.Text("Left empty: {watch mg/L} as NO3 (common practice).", limits.NitrateWatch),
			Accept: calculators.Range{Low: 0.1, High: 500, Origin: "sanity limit"},
		},
	}
}

func nitrateOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "plateau", Label: "Nitrate in the long run, as NO3", Unit: "mg/L", Digits: 2, Help: "Just before each change, or with the drip all the time."},
		{Name: "plateau-n", Label: "The same, as nitrogen", Unit: "mg/L", Digits: 2},
		{Name: "lowest", Label: "Just after a change, as NO3", Unit: "mg/L", Digits: 2, Fine: true},
		{Name: "daily", Label: "It rises each day by, as NO3", Unit: "mg/L", Digits: 2},
		{Name: "nearly", Label: "Time until it is nearly there", Unit: "d", Digits: 2, Help: "Nine tenths of the way from where it stands now."},
		{Name: "month", Label: "After four weeks, as NO3", Unit: "mg/L", Digits: 2},
		{Name: "until", Label: "Time until it passes the level to hold", Unit: "d", Digits: 2},
		{Name: "share-needed", Label: "Change that holds the level", Unit: "%", Digits: 2, Help: "As often as you stated."},
		{Name: "drip-needed", Label: "Drip that holds the level", Unit: "L/h", Digits: 2, Also: []string{"[gal_br]/h", "[gal_us]/h"}},
	}
}

func nitrateFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Long run of changes", Says: "Nitrate just before each change, from that of the tap, the rise r between changes and the share f changed; just after a change it is lower by r.",
			TeX:   `C = C_\mathrm{in} + \frac{r}{f}`,
			Basis: "practice", Function: "water.PlateauOfChanges",
			Check: calculators.Explicit("C [mg/L] nitrate just before a change in the long run: C_in [mg/L] 0..50, r [mg/L] rise between changes 1..50, f [1] 0.05..1", PlateauOfChanges),
		},
		{
			Name: "Long run of a drip", Says: "Nitrate with a steady drip Q, from that of the tap and the load L of nitrate a day; nothing evaporated.",
			TeX:   `C = C_\mathrm{in} + \frac{L}{Q}`,
			Basis: "practice", Function: "water.PlateauOfDrip",
			Check: calculators.Explicit("C [mg/L] nitrate in the long run: C_in [mg/L] 0..50, L [mg/d] load of nitrate 1000..100000, Q [L/d] flow of the drip 50..2000", func(in, load, drip float64) float64 { return PlateauOfDrip(in, load/1000, drip) }),
		},
		{
			Name: "On the way", Says: "After n changes, or after v volumes of the pond have run through.",
			TeX:   `C_n = C + (C_0 - C)(1 - f)^n,\quad C_v = C + (C_0 - C)\,e^{-v}`,
			Basis: "practice", Function: "water.Toward",
			Check: calculators.Explicit("C_n [mg/L] nitrate after n changes, C_v [mg/L] nitrate after v volumes: C [mg/L] nitrate in the long run 20..150, C_0 [mg/L] nitrate at the start 0..200, f [1] 0.05..0.9, n [1] 0..30, v [1] volumes of the pond run through 0..5", func(plateau, start, share, changes, volumes float64) (changed, run float64) {
				return Toward(start, plateau, LeftAfterChanges(share, changes)), Toward(start, plateau, LeftAfterRunThrough(volumes))
			}),
		},
		{
			Name: "Nitrogen from feed", Says: "Ammonia nitrogen by feed F and its fraction of protein P, all of which becomes nitrate, 4.4266 g NO3 for each gram; from 25 g per kg of feed with 35 % protein up to 0.144 P.",
			TeX:    `\mathrm{TAN} = 0.092\, F\, P`,
			Source: "timmons-ebeling-2010", Locator: "P_TAN = F x PC x 0.092", Basis: "published", Function: "water.FeedNitrogen",
			Check: calculators.Explicit("TAN [g/d]: F [g/d] 10..500, P [1] 0.2..0.5", func(feed, protein float64) float64 {
				_, likely, _ := FeedNitrogen(protein)
				return feed * likely
			}),
		},
	}
}

// nitrateCase is one pond and how its water is renewed; nitrate is as NO3.
type nitrateCase struct {
	volume            float64 // L
	low, likely, high float64 // load of nitrate, g/d
	tap, wanted       float64 // mg/L
	changes           bool
	share, every      float64 // 0 to 1, days
	drip              float64 // L/d
}

func readNitrate(in calculators.Inputs) *nitrateCase {
	basis := 1.0
	if in.Choice("basis") == "as-n" {
		basis = chemistry.NitratePerNitrogen
	}
	a := nitrateCase{volume: in.In("volume", "L"), tap: basis * in.In("tap", "mg/L"), wanted: limits.NitrateWatch, changes: in.Choice("how") == "changes",
		share: in.In("share", "%") / 100, every: in.In("every", "d"), drip: in.In("drip", "L/d")}
	if in.Has("wanted") {
		a.wanted = basis * in.In("wanted", "mg/L")
	}
	load := in.In("tan", "g/d")
	a.low, a.likely, a.high = 1, 1, 1
	if in.Choice("from") == "feed" {
		load = in.In("feed", "g/d")
		a.low, a.likely, a.high = FeedNitrogen(in.In("protein", "%") / 100)
	}
	load *= chemistry.NitratePerNitrogen
	a.low, a.likely, a.high = a.low*load, a.likely*load, a.high*load
	return &a
}

// add adds an output that goes up in a straight line with the load of nitrate.
func (a *nitrateCase) add(r *calculators.Result, output string, base, perLoad float64) {
	r.Between(output, base+perLoad*a.low, base+perLoad*a.likely, base+perLoad*a.high)
}

// perLoad returns what 1 g/d of nitrate adds in the long run, and between two
// changes or in a day, both in mg/L.
func (a *nitrateCase) perLoad() (plateau, rise float64) {
	rise = 1000 / a.volume
	if !a.changes {
		return PlateauOfDrip(0, 1, a.drip), rise
	}
	rise *= a.every
	return PlateauOfChanges(0, rise, a.share), rise
}

// left returns the share of the way still to go after a time in days; of changes
// only whole ones count.
func (a *nitrateCase) left(days float64) float64 {
	if a.changes {
		return LeftAfterChanges(a.share, math.Floor(days/a.every+1e-9))
	}
	return LeftAfterRunThrough(days * a.drip / a.volume)
}

// days returns the time after which only the given share of the way is left.
func (a *nitrateCase) days(left float64) float64 {
	if a.changes {
		return a.every * math.Max(1, ChangesToReplace(1-left, a.share))
	}
	return RunThroughVolumes(1-left) * a.volume / a.drip
}

func computeNitrate(in calculators.Inputs) (calculators.Result, error) {
	a := readNitrate(in)
	var r calculators.Result
	if a.changes && a.share == 0 {
		a.rising(&r, in)
		return r, nil
	}
	perLoad, rise := a.perLoad()
	likely := a.tap + perLoad*a.likely
	a.add(&r, "plateau", a.tap, perLoad)
	a.add(&r, "plateau-n", a.tap/chemistry.NitratePerNitrogen, perLoad/chemistry.NitratePerNitrogen)
	a.add(&r, "daily", 0, 1000/a.volume)
	const nearly = 0.1 // of the way left
	r.Exactly("nearly", a.days(nearly))
	if a.changes {
		a.add(&r, "lowest", a.tap, perLoad-rise)
		r.Step("Rise between changes, as NO3", "{3 g/d} × {3 d} / {3 L} = {3 mg/L}", a.likely, a.every, a.volume, rise*a.likely)
		r.Step("In the long run", "{3 mg/L} + {3 mg/L} / {3} = {3 mg/L}", a.tap, rise*a.likely, a.share, likely)
	} else {
		r.Step("In the long run", "{3 mg/L} + {3 g/d} / {3 L/d} = {3 mg/L}", a.tap, a.likely, a.drip, likely)
	}
	if in.Has("now") {
		now := a.now(in)
		a.schedule(&r, now, likely, perLoad)
		if a.tap > now {
			r.Flag("The new water holds more nitrate than the pond does now: each change of it raises the reading.")
		}
	}
	a.addNeeded(&r, rise)
	a.advise(&r, likely, a.tap+perLoad*a.high, rise)
	if a.changes && 100*a.share > limits.ChangeMost {
		r.Flag("A change of more than half at a time is a shock of its own: change less, and more often.")
	}
	r.Flag(allBecomesNitrate)
	r.Scale = calculators.Scale{Output: "plateau", Log: true, Marks: limits.Marks(limits.Nitrate)}
	return r, nil
}

// allBecomesNitrate is why the truth is this or less.
const allBecomesNitrate = "Counted as if all the nitrogen became nitrate and no plant or sludge took any: the truth is this or less."

// now returns the nitrate of today in mg/L as NO3.
func (a *nitrateCase) now(in calculators.Inputs) float64 {
	if in.Choice("basis") == "as-n" {
		return in.In("now", "mg/L") * chemistry.NitratePerNitrogen
	}
	return in.In("now", "mg/L")
}

// rising answers for a pond whose water nobody changes: there is no long run.
func (a *nitrateCase) rising(r *calculators.Result, in calculators.Inputs) {
	daily := 1000 / a.volume
	a.add(r, "daily", 0, daily)
	r.Step("Rise in a day, as NO3", "{3 g/d} × {3 d} / {3 L} = {3 mg/L}", a.likely, 1, a.volume, a.likely*daily)
	if in.Has("now") {
		now := a.now(in)
		a.add(r, "month", now, month*daily)
		if now < a.wanted && a.likely > 0 {
			r.Exactly("until", (a.wanted-now)/(a.likely*daily))
		}
	}
	a.addNeeded(r, daily*a.every)
	if a.likely > 0 {
		r.Advise("Change some of the water: with none changed the nitrate never settles, and rises for as long as you feed.")
	}
	r.Flag(allBecomesNitrate)
}

// month is four weeks, in days.
const month = 28

// schedule adds where nitrate stands on the way from now to the long run.
func (a *nitrateCase) schedule(r *calculators.Result, now, likely, perLoad float64) {
	if left := a.left(month); !a.changes || a.every <= month {
		a.add(r, "month", Toward(now, a.tap, left), perLoad*(1-left))
	}
	if part := (a.wanted - likely) / (now - likely); part > 0 && part < 1 {
		r.Exactly("until", a.days(part))
	}
	step, label := 7.0, "After {0} days" // a drip is read each week
	if a.changes {
		step, label = a.every, "Just before the next change, day {0}"
	}
	for n := 1.0; n <= 16; n *= 2 {
		r.Step(label, "{3 mg/L}", n*step, Toward(now, likely, a.left(n*step)))
	}
	if now > limits.NitrateAct && likely < now {
		r.Say("Go down slowly, with {least ~} to {most %} of the water at a time, over weeks; test KH before you begin.", limits.ChangeLeast, 2*limits.ChangeLeast)
	}
}

// addNeeded adds what would hold the level, if anything can, rounded up as it is
// shown, so that what is read off holds it too; rise is that of 1 g/d of nitrate
// between changes.
func (a *nitrateCase) addNeeded(r *calculators.Result, rise float64) {
	room := a.wanted - a.tap
	if room <= 0 {
		r.Flag("The new water holds as much nitrate as the level to hold, or more: no change of it gets there.")
		return
	}
	if !a.changes {
		drip := func(load float64) float64 { return roundUp(1000 * load / room / 24) }
		r.Between("drip-needed", drip(a.low), drip(a.likely), drip(a.high))
		return
	}
	most := room / rise // g/d, with all the water changed
	if a.likely > most {
		r.Flag("Even changing all the water that often does not hold the level.")
		return
	}
	share := func(load float64) float64 { return math.Min(100, roundUp(100*load/most)) }
	r.Between("share-needed", share(a.low), share(a.likely), share(a.high))
	if a.likely > most*limits.ChangeMost/100 {
		r.Flag("Never change more than half at a time: change more often, or feed less.")
	}
}

// roundUp rounds up to the two digits that are shown.
func roundUp(v float64) float64 {
	if v <= 0 {
		return v
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return unit * math.Ceil(v/unit-1e-9)
}

// advise names what brings the nitrate under the level to hold, and never a change
// that cannot.
func (a *nitrateCase) advise(r *calculators.Result, likely, high, rise float64) {
	level := math.Min(a.wanted, limits.NitrateWatch)
	shareNeeded := 100 * a.likely * rise / (level - a.tap) // %; of a drip a day's
	switch {
	case likely <= level && high > level:
		r.Say("It should stay in order; a wasted meal or two a week would take it over {level mg/L}. Test each month.", level)
	case likely <= level:
		r.Advise("Carry on: this schedule holds it. Test each month, just before a change.")
	case a.tap >= level:
		r.Advise("Feed less or keep fewer fish: no change of this water gets the nitrate down to the level to hold.")
	case a.changes && shareNeeded > 100:
		r.Advise("Feed less, keep fewer fish, or change more often: even all the water, changed that seldom, does not hold it.")
	case a.changes && shareNeeded > limits.ChangeMost:
		r.Advise("Change more often, or feed less: changed that seldom, more than half of the water at a time would be needed.")
	case likely > limits.NitrateAct:
		r.Advise("It is heading too high: renew more water, a little more each week, and review stock and feed.")
	default:
		r.Advise("Renew a little more each week, or feed less.")
	}
	if likely > level {
		r.Advise("Test nitrate each month, always just before a change.")
	}
	if a.tap >= limits.NitrateWatch {
		r.Advise("Ask the supplier about nitrate in the tap water, or test a rain butt and its KH: water changes cannot get below the tap.")
	}
}
