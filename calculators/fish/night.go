package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// fishList is the list of fish as several calculators ask for it.
func fishList() calculators.Input {
	return calculators.Input{
		Name: "fish", Fact: "fish", Label: "Your fish", Type: calculators.Rows,
		Help:    "A row for each kind and size: what it is, how long, how many.",
		Columns: []calculators.Input{speciesInput(), lengthInput(), countInput(), measuredInput()},
	}
}

// What helps to judge a pond's place: a light breeze in m/s, by Beaufort's scale,
// and the altitude in m up to which water holds nearly what it does by the sea,
// our own practice.
const (
	stirsLeaves = 2.0
	lowland     = 200.0
)

// nightInputs are what both oxygen budgets ask for.
func nightInputs() []calculators.Input {
	return []calculators.Input{
		fishList(),
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
	}
}

// night is a pond from dusk on, all of it per hour. Volume is in m3, so that
// g/m3 are mg/L.
type night struct {
	weighing
	_                    calculators.Incomparable
	t, saturation, start float64 // Cel, mg/L, mg/L
	volume, area         float64 // m3, m2
	rest, filter, life   Range   // what takes oxygen: fish at rest, nitrification, all other life, g/h
	fed                  float64 // what fed fish take, g/h
	feed                 Range   // g/d
	whole                float64 // what all feed may take with its decay, g/h
	surface, tower, air  Range   // what brings it, as m3/h of water filled from nothing
	velocity             Range   // of oxygen through the surface, m/d
}

// read takes in what both budgets ask for.
func (n *night) read(in calculators.Inputs) {
	n.t, n.volume, n.area = in.In("temperature", "Cel"), in.In("volume", "m3"), in.In("area", "m2")
	n.saturation = water.OxygenAtPressure(n.t, 0, water.AirPressure(in.In("altitude", "m")))
	n.start = in.In("start", "mg/L")
	if !in.Has("start") {
		n.start = n.saturation
	}
	for i, row := range in.Rows("fish") {
		n.stock(readShoal(calculators.Text("fish row {row 0}, length", float64(i+1)), row, row.In("count", "1")))
	}
	n.life = PondBreath(in.Choice("look")).times(n.volume).plus(BottomDemand().times(n.area / 24))
	n.velocity = SurfaceRange(in.In("wind", "m/s"), n.t)
	n.surface = n.velocity.times(n.area / 24)
	n.feeding(in)
}

// stock adds a shoal's weight and its uptake at rest: the least of light fish to
// the most of heavy ones.
func (n *night) stock(s *shoal) {
	n.add(s)
	b := s.band()
	rest := func(weight float64) Range { return RestingUptake(weight, n.t).times(s.count * weight / 1e6) }
	n.rest = n.rest.plus(Range{rest(b.Low).Low, rest(b.Likely).Likely, rest(b.High).High})
}

func (n *night) feeding(in calculators.Inputs) {
	protein := in.In("protein", "%") / 100
	if f := in.In("feed", "g/d"); in.Has("feed") {
		n.feed = Range{f, f, f}
	} else {
		n.feed = GrownRation(math.Min(n.t, rationEnds)).product(n.sum).times(1.0 / 100)
	}
	n.filter = n.feed.product(AmmoniaFromFeed(protein)).times(OxygenPerNitrogen / 24)
	n.fed = FishAndFilterOxygen(protein).Low * n.feed.Likely / 24
	n.whole = FeedOxygenDemand(protein).High * n.feed.High / 24
}

// demand is all that takes oxygen, g/h. Low is fish at rest; likely, fish that
// have eaten, where that is more; high, all the feed with its decay.
func (n *night) demand() Range {
	return Range{
		n.rest.Low + n.filter.Low,
		math.Max(n.rest.Likely, n.fed) + n.filter.Likely,
		math.Max(n.rest.High+n.filter.High, n.whole),
	}.plus(n.life)
}

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

func (c course) after(hours float64) float64 { return OxygenAfter(c.start, c.s, c.r, hours) }

// courses are the worst, the likely and the best night.
func (n *night) courses() (worst, likely, best course) {
	demand, falls := n.demand(), n.surface.plus(n.tower)
	return n.course(demand.High, falls.Low, n.air.Low),
		n.course(demand.Likely, falls.Likely, n.air.Likely),
		n.course(demand.Low, falls.High, n.air.High)
}

// longest is as far as hours are told: by then another day has come between.
const longest = 48

// until adds the hours until the oxygen falls to a limit.
func (n *night) until(output string, limit float64) {
	worst, likely, best := n.courses()
	b := spread(HoursUntil(worst.start, limit, worst.s, worst.r), HoursUntil(likely.start, limit, likely.s, likely.r), HoursUntil(best.start, limit, best.s, best.r))
	add(&n.Result, output, Range{math.Min(b.Low, longest), math.Min(b.Likely, longest), math.Min(b.High, longest)})
	if b.High > longest {
		n.flagOnce(calculators.Text("{longest h} stands for {longest 0} hours or more, and for never.", longest))
	}
}

// spread puts the ends of a range in order: water that starts over-full loses
// more oxygen the better it is aired.
func spread(a, likely, b float64) Range {
	return Range{math.Min(likely, math.Min(a, b)), likely, math.Max(likely, math.Max(a, b))}
}

// budget adds what takes oxygen, and how it was reckoned.
func (n *night) budget() {
	add(&n.Result, "demand", n.demand())
	add(&n.Result, "at-rest", n.rest)
	add(&n.Result, "life", n.life)
	n.Exactly("saturation", n.saturation)
	add(&n.Result, "surface-velocity", n.velocity)
	n.Step("Fish at rest", "{2 g/h} ({2} to {2})", n.rest.Likely, n.rest.Low, n.rest.High)
	n.Step("Fish after {2 g/d} of feed", "{2 g/h}", n.feed.Likely, n.fed)
	if n.feed.High > 0 {
		n.Step("All the feed with its decay, at most", "{3} × {2 g/d} = {2 g/h}", 24*n.whole/n.feed.High, n.feed.High, n.whole)
	}
	n.Step("Plants, plankton and bottom", "{2 g/h} ({2} to {2})", n.life.Likely, n.life.Low, n.life.High)
	n.Step("Empty water that the surface fills", "{2 m/d} × {3 m2} = {2 m3/h}", n.velocity.Likely, n.area, n.surface.Likely)
}

func (n *night) flagNight(in calculators.Inputs) {
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

func nightFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Uptake, young crucian carp", Says: "Routine uptake in mg per kg and hour, weight in grams, 15 to 30 °C; stretched for bigger fish.",
			TeX:    `R = 67.4\, W^{-0.193}\, e^{0.0562\,t}`,
			Source: "yamanaka2013", Locator: "abstract", Basis: "published", Function: "fish.CrucianUptake",
			Check: calculators.Explicit("R [mg/kg/h]: W [g] 10..5000, t [Cel] 15..30", CrucianUptake),
		},
		{
			Name: "Uptake, bighead carp", Says: "Resting uptake in mg per kg and hour, weight in grams; no range stated.",
			TeX:    `R = \tfrac{10^6}{24}\cdot 0.0053\, W^{-0.299}\, e^{0.048\,t}`,
			Source: "cooke-hill2010", Locator: "row Bighead carp", Basis: "published", Function: "fish.BigheadUptake",
			Check: calculators.Explicit("R [mg/kg/h]: W [g] 10..5000, t [Cel] 15..30", BigheadUptake),
		},
		{
			Name: "Uptake, carp family", Says: "Routine uptake in mg per kg and hour, weight in grams, q the factor of the temperature table, 5 to 30 °C.",
			TeX:    `R = \frac{1429\cdot 0.336\, W^{-0.20}}{q(t)}`,
			Source: "winberg1956", Locator: "group equations", Basis: "memory", Function: "fish.CyprinidUptake",
			Check: calculators.Explicit("R [mg/kg/h], q [1] factor of the temperature table: W [g] 10..5000, t [Cel] 5..30", func(weight, t float64) (uptake float64, factor func(float64) float64) {
				return CyprinidUptake(weight, t), KroghFactor
			}),
		},
		{
			Name: "Band of the uptakes", Says: "The least, middle and most of the three; at 2 kg and 20 °C they differ more than twofold.",
			TeX:   `R_\mathrm{low} = \min_i R_i,\quad R_\mathrm{high} = \max_i R_i`,
			Basis: "practice", Function: "fish.RestingUptake",
			Check: calculators.Explicit("R [mg/kg/h], R_i [mg/kg/h] uptake by formula i: - [g] 10..5000, - [Cel] 15..30", func(weight, t float64) (band Range, lines []float64) {
				return RestingUptake(weight, t), []float64{CrucianUptake(weight, t), BigheadUptake(weight, t), CyprinidUptake(weight, t)}
			}),
		},
		{
			Name: "Feed, whole pond", Says: "The upper end: all feed with its decay, 1.25 kg of oxygen per kg.",
			TeX:    `O_2 = 1.25\,F`,
			Source: "boyd-feed-od", Locator: "summary", Basis: "published", Function: "fish.FeedOxygenDemand",
			Check: calculators.Explicit("O_2 [g/d]: F [g/d] 10..500", func(feed float64) float64 { return feed * FeedOxygenDemand(0).High }),
		},
		{
			Name: "Plants and plankton", Says: "Clear water takes 0.05 mg/L an hour in the dark; thick water up to twelve times that (common practice).",
			TeX:    `O_2 = p\,V,\quad 0.05 \le p \le 12\cdot 0.05`,
			Source: "boyd1990", Locator: "text", Basis: "memory", Function: "fish.PondBreath",
			Check: calculators.Explicit("O_2 [mg/h] oxygen that plants and plankton take, p [mg/L/h] uptake of the water: V [L] 500..50000", func(volume float64) (oxygen float64, breath Range) {
				breath = Range{PondBreath("clear").Likely, PondBreath("green").Likely, PondBreath("thick").High}
				return breath.Likely * volume, breath
			}),
		},
		{
			Name: "Bottom", Says: "1 g/m² a day is the low end for ponds of 1 m, from a weak source; from nothing to three times as much.",
			TeX:    `O_2 = 1\cdot A`,
			Source: "sediment-note", Locator: "text", Basis: "published", Function: "fish.BottomDemand",
			Check: calculators.Explicit("O_2 [g/d] oxygen that the bottom takes: A [m2] area of the bottom 1..100", func(area float64) float64 { return area * BottomDemand().Likely }),
		},
		{
			Name: "Surface", Says: "Velocity of oxygen through a still surface, wind U in m/s; the other forms compared give nothing in calm air.",
			TeX:    `k = (0.30 + 0.028\,U^2)\,1.024^{t-20}\ \mathrm{m/d}`,
			Source: "delft3d-waq", Locator: "option 9", Basis: "published", Function: "fish.SurfaceVelocity",
			Check: calculators.Explicit("k [m/d]: U [m/s] 0..10, t [Cel] 0..35", SurfaceVelocity),
		},
		{
			Name: "Surface, wind alone", Says: "Another form; Sc is the Schmidt number of oxygen.",
			TeX:    `k = 0.0744\,U^2 \sqrt{\mathrm{Sc}_{20}/\mathrm{Sc}_t}\ \mathrm{m/d}`,
			Source: "delft3d-waq", Locator: "option 10", Basis: "memory", Function: "fish.WindVelocity",
			Check: calculators.Explicit("k [m/d], Sc_20 [1] Schmidt number of oxygen at a temperature of twenty degrees, Sc_t [1] the same at the water's temperature: U [m/s] 0..10, - [Cel] 0..35", func(wind, t float64) (velocity, at20, here float64) {
				return WindVelocity(wind, t), schmidt(20), schmidt(t)
			}),
		},
		{
			Name: "Surface, lakes", Says: "A third form.",
			TeX:    `k = (0.728\sqrt U - 0.317\,U + 0.0372\,U^2)\,1.024^{t-20}\ \mathrm{m/d}`,
			Source: "banks-herrera1977", Locator: "equation", Basis: "memory", Function: "fish.LakeVelocity",
			Check: calculators.Explicit("k [m/d]: U [m/s] 0..10, t [Cel] 0..35", LakeVelocity),
		},
		{
			Name: "The night", Says: "Oxygen in well mixed water that loses a steady amount and takes up in proportion to what is missing.",
			TeX:   `C(t) = C_0 e^{-rt} + \tfrac{s}{r}(1 - e^{-rt})`,
			Basis: "practice", Function: "fish.OxygenAfter",
			Check: calculators.Explicit("C [mg/L]: C_0 [mg/L] oxygen at dusk 5..12, s [mg/L/h] what surface and devices add less what is used 0..2, r [1/h] share of what is missing that is taken up 0.05..0.5, t [h] time 0..12", OxygenAfter),
		},
		{
			Name: "Hours left", Says: "The same, solved for the time.",
			TeX:   `t = \tfrac1r \ln\!\left(1 + \frac{r\,(C_0 - C_L)}{r\,C_L - s}\right)`,
			Basis: "practice", Function: "fish.HoursUntil",
			Check: calculators.Explicit("t [h] time left: C_0 [mg/L] oxygen at the start 6..12, C_L [mg/L] oxygen at the limit 3..5, s [mg/L/h] what surface and devices add less what is used 0..0.5, r [1/h] share of what is missing that is taken up 0.2..1", HoursUntil),
		},
	}
}
