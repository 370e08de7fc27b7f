package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
	"mereleaf/calculators/internal/spread"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// What helps to judge a pond's place: a light breeze in m/s, by Beaufort's scale,
// and the altitude in m up to which water holds nearly what it does by the sea,
// our own practice.
const (
	stirsLeaves = 2.0
	lowland     = 200.0
)

// nightInputs are what both oxygen budgets ask for.
func nightInputs() []calculators.Input {
	return append(stockInputs(), []calculators.Input{
		{
			Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume,
			Help:   "From the pond volume calculator.",
			Accept: calculators.Range{Low: 100, High: 10_000_000, Origin: "sanity limit"},
		},
		{
			Name: "area", Fact: "surface", Label: "Area of the surface", Kind: quantity.Area,
			Help:   "Length times width of a rectangle; open water only.",
			Accept: calculators.Range{Low: 0.1, High: 100_000, Origin: "sanity limit"},
		},
		{
			Name: "temperature", Fact: "hot-evening-temperature", Label: "Water temperature", Kind: quantity.Temperature,
			Help:   "In the evening of the hottest day you plan for.",
			Accept: calculators.Range{Low: 0, High: 35, Origin: "sanity limit"},
			Stated: calculators.Range{Low: uptakeCold, High: uptakeWarm, Origin: "winberg1956, temperature correction table"},
		},
		{
			Name: "start", Fact: "oxygen-at-dusk", Label: "Oxygen at dusk", Kind: quantity.Concentration, Optional: true,
			Help:   "Your reading; left empty, the water is taken as full.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"},
		},
		{
			Name: "look", Fact: "water-look", Label: "The water is", Type: calculators.Choice, Default: "clear",
			Help: "Algae and weed make oxygen by day and take it by night.",
			Options: []calculators.Option{
				{Name: "clear", Label: "clear, few plants"},
				{Name: "green", Label: "green, or many plants"},
				{Name: "thick", Label: "pea soup, or full of blanket weed"},
			},
		},
		{
			Name: "feed", Fact: "feed", Label: "Feed in a day", Kind: quantity.MassRate, Optional: true,
			Help:   "What you gave today; left empty, the usual for this temperature.",
			Accept: calculators.Range{Low: 0, High: 100_000, Origin: "sanity limit"},
		},
		{
			Name: "protein", Fact: "protein", Label: "Protein in the feed", Kind: quantity.Share, Default: "36 %", Fine: true,
			Help:   "Printed on the bag as crude protein.",
			Accept: calculators.Range{Low: 5, High: 70, Origin: "sanity limit"},
		},
		{
			Name: "wind", Fact: "night-wind", Label: "Wind over the water", Kind: quantity.Velocity, Default: "0 m/s", Fine: true,
			Help:   calculators.Hint("{still ~} for a still night; {stirs m/s} just stirs leaves.", 0, stirsLeaves),
			Accept: calculators.Range{Low: 0, High: 15, Origin: "sanity limit"},
		},
		{
			Name: "altitude", Fact: "altitude", Label: "Altitude of the pond", Kind: quantity.Length, Default: "0 m", Fine: true,
			Help:   calculators.Hint("Height above the sea, from a map; below {low m} it hardly matters.", lowland),
			Accept: calculators.Range{Low: -430, High: 5000, Origin: "sanity limit"},
		},
		{
			Name: "salt", Fact: "salt", Label: "Salt in the water", Kind: quantity.Concentration, Unit: "g/L", Optional: true, Fine: true,
			Help:   "Salted water holds a little less oxygen.",
			Accept: calculators.Range{Low: 0, High: 30, Origin: "sanity limit"},
		},
		{
			Name: "use", Label: "What is used", Type: calculators.Choice, Default: "reckoned", Fine: true,
			Help: "Two readings in the same dark tell it better than any sum.",
			Options: []calculators.Option{
				{Name: "reckoned", Label: "reckoned from fish, feed and water"},
				{Name: "measured", Label: "two readings in the dark"},
			},
		},
		{
			Name: "first", Label: "First reading in the dark", Kind: quantity.Concentration, Fine: true, When: twoReadings(),
			Help:   "With all running, or stopped, as you ask it here.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"},
		},
		{
			Name: "later", Label: "Second reading in the dark", Kind: quantity.Concentration, Fine: true, When: twoReadings(),
			Help:   "Some hours later, with nothing changed between.",
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"},
		},
		{
			Name: "after", Label: "Hours between the two", Kind: quantity.Duration, Unit: "h", Default: "2 h", Fine: true, When: twoReadings(),
			Help:   "Of darkness; the longer, the better it tells.",
			Accept: calculators.Range{Low: 0.25, High: 12, Origin: "sanity limit"},
		},
	}...)
}

func twoReadings() calculators.When {
	return calculators.When{Input: "use", Is: []string{"measured"}}
}

// night is a pond from dusk on, all of it per hour. Volume is in m3, so that
// g/m3 are mg/L.
type night struct {
	weighing
	_                    calculators.Incomparable
	t, saturation, start float64 // Cel, mg/L, mg/L
	thin                 float64 // mass of a litre of air, by that at sea level
	volume, area         float64 // m3, m2
	shoals               []*shoal
	weights              []Range // of one fish of each shoal, g
	ration               Range   // of feed, for the weight of the fish, %/d
	protein              float64 // fraction of the feed
	stated               float64 // feed that the reader states, g/d; NaN for none
	filterRuns           Range   // whether nitrification draws on the pond, from 0 to 1
	breath, bottom       Range   // of plants and plankton, and of the bottom, g/h
	surface, tower, air  Range   // what brings oxygen, as m3/h of water filled from nothing
	fallsMeasured        bool
	velocity             Range   // of oxygen through the surface, m/d
	demand               Range   // all that takes oxygen, g/h
	first, later, after  float64 // two readings, mg/L, and the hours between; NaN for none
}

// read takes in what both budgets ask for. Whether the filter draws on the pond, and
// what falls and bubbles bring, is for the caller to say before reckon.
func (n *night) read(in calculators.Inputs) {
	salt := 0.0
	if in.Has("salt") {
		salt = in.In("salt", "g/L") // per litre of water, nearly per kilogram
	}
	n.t, n.volume, n.area = in.In("temperature", "Cel"), in.In("volume", "m3"), in.In("area", "m2")
	pressure := water.AirPressure(in.In("altitude", "m"))
	n.saturation, n.thin = water.OxygenAtPressure(n.t, salt, pressure), pressure/water.StandardPressure
	n.start = in.In("start", "mg/L")
	if !in.Has("start") {
		n.start = n.saturation
	}
	n.first, n.later, n.after = in.In("first", "mg/L"), in.In("later", "mg/L"), in.In("after", "h")
	n.shoals = stock(in)
	for _, s := range n.shoals {
		n.add(s)
		n.weights = append(n.weights, s.band())
	}
	n.breath, n.bottom = PondBreath(in.Choice("look")).times(n.volume), BottomDemand().times(n.area/24)
	n.velocity = SurfaceRange(in.In("wind", "m/s"), n.t)
	n.surface = n.velocity.times(n.area / 24)
	n.protein = in.In("protein", "%") / 100
	n.stated, n.ration = math.NaN(), GrownRation(math.Min(n.t, rationEnds))
	if in.Has("feed") {
		n.stated = in.In("feed", "g/d")
	}
	n.filterRuns = Range{1, 1, 1}
}

// reckon adds up what takes oxygen, once all is known.
func (n *night) reckon() {
	n.demand = n.combined(n.demandAt)
	if !math.IsNaN(n.later) {
		n.demand = Range(spread.Of(courseParts, func(s []float64) float64 { return n.demandIn(s) }))
	}
}

// The parts of the demand that know nothing of each other: a fish may be heavy for its
// length and breathe little for its weight.
const (
	ofWeight  = iota // of the fish for their length
	ofUptake         // of fish at rest, for their weight
	ofRation         // for their weight
	ofEating         // whether they breathe as fish that have eaten
	ofAmmonia        // of the feed
	ofDecay          // whether what the filter and the fish leave rots in the pond
	ofFilter         // whether nitrification draws on the pond
	ofBreath         // of plants and plankton
	ofBottom
	demandParts
)

// combined returns the range of what rests on these parts.
func (n *night) combined(f func(s []float64) float64) Range {
	return Range(spread.Of(demandParts, f))
}

// restAt returns what the fish take at rest, g/h.
func (n *night) restAt(s []float64) float64 {
	sum := 0.0
	for i, shoal := range n.shoals {
		weight := n.weights[i].at(s[ofWeight])
		sum += shoal.count * weight / 1e6 * RestingUptake(weight, n.t).at(s[ofUptake])
	}
	return sum
}

// feedAt returns the feed, g/d: what is stated, or the ration for the weight.
func (n *night) feedAt(s []float64) float64 {
	if !math.IsNaN(n.stated) {
		return n.stated
	}
	weight := 0.0
	for i, shoal := range n.shoals {
		weight += shoal.count * n.weights[i].at(s[ofWeight])
	}
	return n.ration.at(s[ofRation]) * weight / 100
}

// lifeAt returns what plants, plankton and the bottom take, g/h.
func (n *night) lifeAt(s []float64) float64 {
	return n.breath.at(s[ofBreath]) + n.bottom.at(s[ofBottom])
}

// fedBy returns what fish take that have eaten so much a day, and what all of it takes
// with its decay, g/h.
func (n *night) fedBy(feed float64) (fish, whole float64) {
	return FishAndFilterOxygen(n.protein).Low * feed / 24, FeedOxygenDemand(n.protein).High * feed / 24
}

// demandAt returns all that takes oxygen, g/h. Likely, fish that have eaten, where that
// is more than at rest; low, at rest; high, all the feed with its decay.
func (n *night) demandAt(s []float64) float64 {
	rest, feed := n.restAt(s), n.feedAt(s)
	fed, whole := n.fedBy(feed)
	use := rest + Range{0, 1, 1}.at(s[ofEating])*math.Max(0, fed-rest)
	use += feed * AmmoniaFromFeed(n.protein).at(s[ofAmmonia]) * OxygenPerNitrogen / 24 * n.filterRuns.at(s[ofFilter])
	use += Range{0, 0, 1}.at(s[ofDecay]) * math.Max(0, whole-use)
	return use + n.lifeAt(s)
}

// The parts of a night's course.
const (
	ofDemand = iota // or, where it was measured, the error of the readings
	ofSurface
	ofFalls
	ofBubbles
	courseParts
)

// readingError is by how much two readings of one kit may be out together, mg/L:
// common practice.
const readingError = 0.3

// course is one way the night may go: what OxygenAfter takes, and where it starts.
type course struct{ start, s, r float64 }

// course takes g/h and, of surface with tower and of bubbles, m3/h. Bubbles fill
// water less high.
func (n *night) course(demand, falls, bubbles float64) course {
	return course{
		n.start,
		(n.saturation*(falls+bubbleBeta*bubbles) - demand) / n.volume,
		(falls + bubbles) / n.volume,
	}
}

// after returns the oxygen after some hours, below 0 where more is used than there is.
func (c course) after(hours float64) float64 {
	return c.start + passed(c.r, hours)*(c.s-c.r*c.start)
}

// demandIn returns what takes oxygen: as reckoned, or so much that a course from the
// first of two readings goes through the other.
func (n *night) demandIn(s []float64) float64 {
	if math.IsNaN(n.later) {
		return n.demand.at(s[ofDemand])
	}
	unused := n.course(0, n.surface.at(s[ofSurface])+n.tower.at(s[ofFalls]), n.air.at(s[ofBubbles]))
	unused.start = n.first
	read := n.later + readingError*s[ofDemand]
	return math.Max(0, (unused.after(n.after)-read)*n.volume/passed(unused.r, n.after))
}

// at returns the course at some shifts.
func (n *night) at(s []float64) course {
	return n.course(n.demandIn(s), n.surface.at(s[ofSurface])+n.tower.at(s[ofFalls]), n.air.at(s[ofBubbles]))
}

// likely is the likely course.
func (n *night) likely() course { return n.at(make([]float64, courseParts)) }

// oxygenAt returns the oxygen after some hours, which may be below 0.
func (n *night) oxygenAt(hours float64) Range {
	return Range(spread.Of(courseParts, func(s []float64) float64 { return n.at(s).after(hours) }))
}

// longest is as far as hours are told: by then another day has come between.
const longest = 48

// hoursUntil returns the hours until the oxygen falls to a limit. An end of them is when
// that end of the oxygen reaches it.
func (n *night) hoursUntil(limit float64) Range {
	likely := n.likely()
	hours := math.Min(longest, HoursUntil(likely.start, limit, likely.s, likely.r))
	if n.start <= limit {
		return Range{}
	}
	reached := func(end func(int, func([]float64) float64) float64) float64 {
		over := func(hours float64) float64 {
			return end(courseParts, func(s []float64) float64 { return n.at(s).after(hours) }) - limit
		}
		if hours, ok := solve.Root(over, 0, longest); ok {
			return hours
		}
		return longest
	}
	return ordered(reached(spread.Low), hours, reached(spread.High))
}

// addHours adds hours until a limit.
func (n *night) addHours(output string, hours Range) {
	add(&n.Result, output, hours)
	if hours.High == longest {
		n.flagOnce(calculators.Text("{longest h} stands for {longest 0} hours or more, and for never.", longest))
	}
}

// narrow says which reading would narrow the ranges of some outputs most, by what the
// oxygen rests on after some hours.
func (n *night) narrow(hours float64, outputs ...string) {
	by := calculators.Narrowing{Input: "use", Option: "measured"}
	part, _ := spread.Widest(courseParts, func(s []float64) float64 { return n.at(s).after(hours) })
	switch {
	case part == ofFalls && !n.fallsMeasured:
		by.Input = "tower"
	case !math.IsNaN(n.later):
		return // it has been taken
	}
	for _, o := range outputs {
		by.Output = o
		n.Narrowings = append(n.Narrowings, by)
	}
}

// ordered puts the ends of a range in order.
func ordered(a, likely, b float64) Range {
	return Range{math.Min(likely, math.Min(a, b)), likely, math.Max(likely, math.Max(a, b))}
}

// budget adds what takes oxygen, and how it was reckoned.
func (n *night) budget() {
	none := make([]float64, demandParts)
	rest, life, feed := n.combined(n.restAt), SumOfIndependent(n.breath, n.bottom), n.feedAt(none)
	fed, whole := n.fedBy(feed)
	add(&n.Result, "demand", n.demand)
	n.Exactly("store", n.start*n.volume)
	add(&n.Result, "at-rest", rest)
	add(&n.Result, "life", life)
	n.Exactly("saturation", n.saturation)
	add(&n.Result, "surface-velocity", n.velocity)
	n.Step("Fish at rest", "{2 g/h} ({2} to {2})", rest.Likely, rest.Low, rest.High)
	n.Step("Fish after {2 g/d} of feed", "{2 g/h}", feed, fed)
	if feed > 0 {
		n.Step("All the feed with its decay", "{3} × {2 g/d} = {2 g/h}", 24*whole/feed, feed, whole)
	}
	n.Step("Plants, plankton and bottom", "{2 g/h} ({2} to {2})", life.Likely, life.Low, life.High)
	if !math.IsNaN(n.later) {
		n.Step("Taken in all, by the two readings", "{2 g/h} ({2} to {2})", n.demand.Likely, n.demand.Low, n.demand.High)
	}
	n.Step("Oxygen in the water at the start", "{2 mg/L} × {3 m3} = {2 g}", n.start, n.volume, n.start*n.volume)
	n.Step("Empty water that the surface fills", "{2 m/d} × {3 m2} = {2 m3/h}", n.velocity.Likely, n.area, n.surface.Likely)
}

func (n *night) flagNight(in calculators.Inputs) {
	if n.later > n.first {
		n.Doubt("Oxygen that rises in the dark, by more than {error 2 mg/L}, was misread, or the air brings it: read again.", readingError)
	}
	if n.start > n.saturation {
		n.Flag("The water starts over-full: air and falls first drive oxygen out of it.")
	}
	if !in.Has("start") {
		n.Flag("Oxygen at dusk is taken as full: after a dull, close day it is less. Measure it.")
	}
	if n.t > rationEnds && !in.Has("feed") {
		n.Doubt("No ration is in use above {hot Cel}: that for {hot Cel} is taken. Feed nothing.", rationEnds)
	}
	if depth := n.volume / n.area; depth > 4 || depth < 0.2 {
		n.Doubt("Volume over area makes the pond {depth 2 m} deep on average: check both.", depth)
	}
}
