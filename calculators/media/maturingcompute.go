package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/limits"
)

const (
	settledMargin    = 1.1         // "as low as they settle" is so many times that
	nitriteSeed      = 0.05 / 0.15 // of the ammonia oxidisers, as the yields stand
	handfuls         = 0.02        // of the media, a few handfuls: our own practice
	startUpTolerance = 1e-4
	startAlkalinity  = 100 // mg/L as CaCO3 for a start-up (losordo-startup, steps)
	wideRange        = 10  // from so many times on a range is told how to be narrowed
)

// Seed returns the ammonia oxidisers that come with tap water and dust, in mg per
// litre of pond; of nitrite oxidisers it is a third of that, as their yields
// stand. Our own practice, chosen so that the answers span the published runs
// (figure set media-startup-observed).
func Seed() Range { return Range{0.00001, 0.001, 0.01} }

// MovedShare is the part of the bacteria that outlives being moved with their
// media: our own practice.
func MovedShare() Range { return Range{0.3, 0.6, 1} }

// FilmLeft returns the share of the bacteria that is left after so many days
// without ammonia, their decay b per day being that of the water they rest in.
//
//	X/X0 = exp(-b t)
//
// It is StartUpRates without ammonia. Fish that fast still give off a little, so
// that rather more is left.
func FilmLeft(o Organism, days float64) float64 { return math.Exp(-o.Decay * days) }

func computeMaturing(in calculators.Inputs) (calculators.Result, error) {
	b := begin(in)
	if b.load.Likely == 0 {
		return calculators.Result{}, calculators.Refuse(in.Choice("from"), "is nothing", "more than nothing", "without ammonia no filter matures: feed a little, or dose ammonia before there are fish")
	}
	if in.Has("peak") && !b.fitSeeds(in.In("peak", "d")) {
		return calculators.Result{}, calculators.Refuse("peak", "is day {peak 2}, later than even a trace of the published bacteria has its nitrite peak at this warmth and feed", "a day nearer to those that are shown without it", "look for chlorine, too little KH or oxygen, or leave it out", in.In("peak", "d"))
	}
	c := b.courses()
	if !c.comeDown {
		return calculators.Result{}, calculators.Refuse("temperature", "is {temperature 3 Cel}; with so little warmth, oxygen ({oxygen 2 mg/L}) or ammonia ({ammonia 2 mg/L/d}) the bacteria do not get going in two years", "a warmer start", "warm it, aerate it, or change less water",
			b.celsius, b.oxygen, b.load.Likely)
	}
	var r calculators.Result
	c.value(&r, b)
	b.film(&r, in)
	b.alkalinity(&r, in, c.of[untilDown])
	b.advise(&r, c)
	r.Step("Ammonia nitrogen a day", "{3 g/d} / {3 m3} = {3 mg/L/d}", readLoad(in).Likely, b.volume, b.load.Likely)
	r.Step("Water changed", "−ln(1 − {3 %}) / 7 d = {3 /d}", in.In("change", "%"), b.dilution)
	r.Step("Bacteria that live on ammonia, at the start, by each published set", "{2 mg/L}; {2 mg/L}; {2 mg/L}", b.seed(0, point{}), b.seed(1, point{}), b.seed(2, point{}))
	r.Scale = startUpScale()
	return r, nil
}

func (c *courses) value(r *calculators.Result, b *beginning) {
	if c.givenUp {
		r.Flag("With one of the published parameter sets the filter does not come down within two years: the water is too cold, too poor in oxygen, or too little ammonia is left by the water changes.")
	}
	if c.settlesHigh {
		r.Flag("With one of the published sets, whose bacteria are free in water, readings settle above those of a mature filter: as low as they settle counts there. On enough media they get lower.")
	}
	r.Flag("The published bacteria grew free in water, and peaks were worked out for fish fed on regardless: on media count on the later days.")
	down := c.of[untilDown]
	r.Between("mature", limits.MatureDays+down.Low, limits.MatureDays+down.Likely, limits.MatureDays+down.High)
	add(r, "down", down)
	if down.Likely > 0 {
		add(r, "tan-day", c.of[tanDay])
		add(r, "nitrite-day", c.of[nitriteDay])
	}
	add(r, "tan-peak", c.of[tanPeak])
	add(r, "nitrite-peak", c.of[nitritePeak])
	add(r, "load", b.load)
}

// film says what film that is there carries at once.
func (b *beginning) film(r *calculators.Result, in calculators.Inputs) {
	if !b.ripe() {
		return
	}
	film := b.filmShare()
	add(r, "film", film.Times(100))
	carries := film.product(b.warmth()).cappedAt(1)
	if in.Choice("from") == "feed" {
		feed := carries.Times(in.In("feed", "g/d"))
		add(r, "feed-now", feed)
		r.Say("This film carries about {feed 2 g} of feed a day at once, and maybe no more than {least 2 g}: begin with that least, and raise it by the kit.", feed.Likely, feed.Low)
	}
	if b.paused {
		r.Step("Film left after {2 d} without feed, by each published set", "{2 %}; {2 %}; {2 %}", b.unfed, 100*b.left(0), 100*b.left(1), 100*b.left(2))
	}
}

// alkalinity reckons the KH that the start uses, and the bicarbonate for it.
func (b *beginning) alkalinity(r *calculators.Result, in calculators.Inputs, down Range) {
	used := b.load.Times(fish.AlkalinityPerNitrogen) // mg/L a day
	days := Range{limits.MatureDays + down.Low, limits.MatureDays + down.Likely, limits.MatureDays + down.High}
	add(r, "kh-week", used.Times(7))
	add(r, "kh-start", used.product(days))
	add(r, "soda", used.Times(b.volume*bicarbonatePerKH))
	r.Step("Sodium bicarbonate that makes good for it", "7.14 × 1.68 × {3 g/d} = {3 g/d}", readLoad(in).Likely, used.Likely*b.volume*bicarbonatePerKH)
	if !in.Has("kh") {
		return
	}
	kh := in.In("kh", "mg/L")
	if spare := kh - limits.AlkalinityLowAct; spare > 0 {
		r.Between("kh-days", spare/used.High, spare/used.Likely, spare/used.Low)
	}
}

func (b *beginning) advise(r *calculators.Result, c *courses) {
	r.Advise("Test ammonia and nitrite every day; the test says when the filter carries, no calendar does.")
	if c.of[nitritePeak].High > limits.NitriteAct || c.of[tanPeak].High > limits.MatureAmmonia {
		r.Say("Fed on like this, ammonia could reach {ammonia 2 mg/L} and nitrite {nitrite 2 mg/L}: enough to harm or kill. Feed a tenth of it or nothing, and change water as soon as nitrite shows {act mg/L} as nitrogen ({no2 1} on a kit for NO2) or the toxic part of the ammonia {harm mg/L}.",
			c.of[tanPeak].High, c.of[nitritePeak].High, limits.NitriteAct, limits.NitriteAct*chemistry.NitritePerNitrogen, limits.AmmoniaAct)
	}
	b.adviseKH(r)
	if b.celsius < 12 {
		r.Advise("In water this cold wait with new fish until it is warmer, or bring media from a running filter.")
	}
	b.narrow(r, c)
	r.Advise("Switch ultraviolet off for the first two weeks after seeding, and never rinse the media in tap water.")
}

// narrow says which single measurement would narrow days that are far apart.
func (b *beginning) narrow(r *calculators.Result, c *courses) {
	switch down := c.of[untilDown]; {
	case b.fitted || down.High <= wideRange*down.Low:
	case c.narrowedBy == byLoad:
		r.Advise("What narrows these days most is the ammonia of a day: weigh the feed, and read the protein on its bag.")
	default:
		r.Advise("What narrows these days most is the day on which your kit shows most nitrite: put it in once it is past.")
	}
}

// adviseKH says how to keep the KH up: without it a new filter stops and the pH
// falls.
func (b *beginning) adviseKH(r *calculators.Result) {
	used := fish.AlkalinityPerNitrogen * b.load.Likely
	r.Say("Keep KH at {kh mg/L} or more while it grows in: at full feed it uses up {used 2 mg/L} a week, made good by {dose 2 g} of pure sodium bicarbonate a day. Give no more than {most 2 g} a day, which lifts KH by {step mg/L}.",
		startAlkalinity, 7*used, used*b.volume*bicarbonatePerKH, limits.KHStepDay*b.volume*bicarbonatePerKH, limits.KHStepDay)
	r.Say("Test pH and ammonia before each dose, and give it only while the toxic part is below {good mg/L}: bicarbonate lifts the pH, and with it the toxic part.", limits.AmmoniaWatch)
	if used > limits.KHStepDay {
		r.Say("So much feed uses up more KH in a day than the {step mg/L} that a day may bring back: feed less until the filter and the water changes keep up.", limits.KHStepDay)
	}
	switch kh, days := b.kh, math.Ceil((startAlkalinity-b.kh)/limits.KHStepDay); {
	case !b.khKnown || kh >= startAlkalinity:
	case kh <= limits.AlkalinityLowAct:
		adviseLowKH(r, b.volume)
	default:
		r.Say("Your KH of {kh 3 mg/L} is too low to begin with: lift it first, in {days 0|day|days} at least.", kh, days)
	}
}

func startUpScale() calculators.Scale {
	return calculators.Scale{Output: "mature", Log: true, Marks: []calculators.Mark{
		{Value: 16, Label: "warm catfish tanks, from", Source: "chiayvareesajja-catfish", Locator: "abstract", Basis: "published"},
		{Value: 28, Label: "the same, to", Source: "chiayvareesajja-catfish", Locator: "abstract", Basis: "published"},
		{Value: 42, Label: "a tilapia farm", Source: "mnyoro-2022", Locator: "abstract", Basis: "published"},
		{Value: 120, Label: "ponds begun in the cold, to", Basis: "practice"},
	}}
}
