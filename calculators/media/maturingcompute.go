package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/limits"
)

const (
	downLimit        = limits.NitriteEmergency
	settledMargin    = 1.1         // "as low as they settle" is so many times that
	nitriteSeed      = 0.05 / 0.15 // of the ammonia oxidisers, as the yields stand
	handfuls         = 0.02        // of the media, a few handfuls: our own practice
	startUpTolerance = 1e-4
	startAlkalinity  = 100 // mg/L as CaCO3 for a start-up (losordo-startup, steps)
)

// Seed returns the ammonia oxidisers that come with tap water and dust, in mg per
// litre of pond; of nitrite oxidisers it is a third of that, as their yields
// stand. Our own practice, chosen so that the answers span the published runs
// (figure set media-startup-observed).
func Seed() Range { return Range{0.0001, 0.001, 0.01} }

// MovedShare is the part of the bacteria that outlives being moved with their
// media: our own practice.
func MovedShare() Range { return Range{0.3, 0.6, 1} }

// spread gathers a value from several runs: the range over all of them, and as
// likely the mean of those from the likely seeds.
type spread struct {
	Range
	runs, likely float64
}

// take adds a value; weight is 1 if it counts among the likely ones and else 0.
func (s *spread) take(v, weight float64) {
	if s.runs == 0 {
		s.Low, s.High = v, v
	}
	s.runs++
	s.likely += weight
	s.Low, s.High = math.Min(s.Low, v), math.Max(s.High, v)
	if weight > 0 {
		s.Likely += (v - s.Likely) / s.likely
	}
}

// courses gathers what the runs give. A run that does not come down counts with
// the day on which it was given up, and tells no peaks.
type courses struct {
	down, tanDay, tan, nitriteDay, nitrite spread
	givenUp                                float64 // runs given up
}

func computeMaturing(in calculators.Inputs) (calculators.Result, error) {
	load := readLoad(in).Times(1 / in.In("volume", "m3"))
	if load.Likely == 0 {
		return calculators.Result{}, calculators.Refuse(in.Choice("from"), "is nothing", "more than nothing", "without ammonia no filter matures: feed a little, or dose ammonia before there are fish")
	}
	dilution := -math.Log(1-in.In("change", "%")/100) / 7
	var c courses
	for set := range NitrifierSets {
		s := StartUp{Dilution: dilution}
		s.Ammonia, s.Nitrite = NitrifierSet(set)
		s.Ammonia = BacteriaAt(s.Ammonia, in.In("temperature", "Cel"), in.In("oxygen", "mg/L"))
		s.Nitrite = BacteriaAt(s.Nitrite, in.In("temperature", "Cel"), in.In("oxygen", "mg/L"))
		c.add(&s, in, load)
	}
	if c.tan.likely == 0 {
		return calculators.Result{}, calculators.Refuse("temperature", "is {temperature 3 Cel}; with so little warmth, oxygen ({oxygen 2 mg/L}) or ammonia ({ammonia 2 mg/L/d}) the bacteria do not get going in two years", "a warmer start", "warm it, aerate it, or change less water",
			in.In("temperature", "Cel"), in.In("oxygen", "mg/L"), load.Likely)
	}
	var r calculators.Result
	c.value(&r, load)
	c.advise(&r, load.Likely, in.In("temperature", "Cel"))
	r.Step("Ammonia nitrogen a day", "{3 g/d} / {3 m3} = {3 mg/L/d}", readLoad(in).Likely, in.In("volume", "m3"), load.Likely)
	r.Step("Water changed", "−ln(1 − {3 %}) / 7 d = {3 /d}", in.In("change", "%"), dilution)
	r.Step("Runs that came down, of {0} parameter sets from three amounts of bacteria each", "{0}", NitrifierSets, c.tan.runs)
	r.Scale = startUpScale()
	return r, nil
}

// add runs one parameter set from its three seeds: the least with the most
// ammonia, the most with the least, so that the ends are the worst and the best.
func (c *courses) add(s *StartUp, in calculators.Inputs, load Range) {
	share := 0.0
	switch in.Choice("seeding") {
	case "some":
		share = handfuls
	case "media":
		share = in.In("share", "%") / 100
	}
	ammonia, nitrite := share*MatureBacteria(s.Ammonia, load.Likely), share*MatureBacteria(s.Nitrite, load.Likely)
	seed, moved := Seed(), MovedShare()
	s.Load, s.SeedAmmonia, s.SeedNitrite = load.High, seed.Low+moved.Low*ammonia, nitriteSeed*seed.Low+moved.Low*nitrite
	c.run(s, 0)
	s.Load, s.SeedAmmonia, s.SeedNitrite = load.Likely, seed.Likely+moved.Likely*ammonia, nitriteSeed*seed.Likely+moved.Likely*nitrite
	c.run(s, 1)
	s.Load, s.SeedAmmonia, s.SeedNitrite = load.Low, seed.High+moved.High*ammonia, nitriteSeed*seed.High+moved.High*nitrite
	c.run(s, 0)
}

// run takes one run in. Where bacteria cannot grow, or water changes alone keep
// ammonia down, no filter matures.
func (c *courses) run(s *StartUp, weight float64) {
	tan, nitrite := math.Max(downLimit, settledMargin*SettledNitrogen(s.Ammonia)), math.Max(downLimit, settledMargin*SettledNitrogen(s.Nitrite))
	got := Course{Down: math.Inf(1)}
	if !math.IsInf(tan+nitrite, 1) && s.Load > s.Dilution*tan {
		got = RunStartUp(s, tan, nitrite, startUpTolerance)
	}
	c.down.take(math.Min(got.Down, LongestStartUp), weight)
	if math.IsInf(got.Down, 1) {
		c.givenUp++
		return
	}
	c.tanDay.take(got.TANPeakDay, weight)
	c.tan.take(got.TANPeak, weight)
	c.nitriteDay.take(got.NitritePeakDay, weight)
	c.nitrite.take(got.NitritePeak, weight)
}

func (c *courses) value(r *calculators.Result, load Range) {
	if c.givenUp > 0 {
		r.Flag("With one of the published parameter sets the filter does not come down within two years: the water is too cold, too poor in oxygen, or too little ammonia is left by the water changes.")
	}
	r.Flag("The published bacteria grew free in water, and peaks were worked out for fish fed on regardless: on media count on the later days.")
	add(r, "down", c.down.Range)
	add(r, "tan-day", c.tanDay.Range)
	add(r, "tan-peak", c.tan.Range)
	add(r, "nitrite-day", c.nitriteDay.Range)
	add(r, "nitrite-peak", c.nitrite.Range)
	add(r, "load", load)
}

func (c *courses) advise(r *calculators.Result, load, celsius float64) {
	r.Advise("Test ammonia and nitrite every day; the test says when the filter carries, no calendar does.")
	if c.nitrite.High > downLimit || c.tan.High > downLimit {
		r.Say("Fed on like this, ammonia could reach {ammonia 2 mg/L} and nitrite {nitrite 2 mg/L}: enough to harm or kill. Feed a tenth of it or nothing, and change water as soon as nitrite shows {act mg/L} as nitrogen ({no2 1} on a kit for NO2) or the toxic part of the ammonia {harm mg/L}.",
			c.tan.High, c.nitrite.High, limits.NitriteAct, limits.NitriteAct*chemistry.NitritePerNitrogen, limits.AmmoniaAct)
	}
	r.Say("Keep KH at {kh mg/L} or more while it grows in: this ammonia uses up {used 2 mg/L} a week. Raise it in small steps, at most {step mg/L} a day, while the toxic part stays below {good mg/L}: it lifts the pH, and with it the toxic part.",
		startAlkalinity, 7*load*fish.AlkalinityPerNitrogen, limits.KHStepDay, limits.AmmoniaWatch)
	if celsius < 12 {
		r.Advise("In water this cold wait with new fish until it is warmer, or bring media from a running filter.")
	}
	r.Advise("Switch ultraviolet off for the first two weeks after seeding, and never rinse the media in tap water.")
}

func startUpScale() calculators.Scale {
	return calculators.Scale{Output: "down", Log: true, Marks: []calculators.Mark{
		{Value: 16, Label: "warm catfish tanks, from", Source: "chiayvareesajja-catfish", Locator: "abstract", Basis: "published"},
		{Value: 28, Label: "the same, to", Source: "chiayvareesajja-catfish", Locator: "abstract", Basis: "published"},
		{Value: 42, Label: "a tilapia farm", Source: "mnyoro-2022", Locator: "abstract", Basis: "published"},
		{Value: 120, Label: "ponds begun in the cold, to", Basis: "practice"},
	}}
}
