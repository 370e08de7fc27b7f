package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
	"mereleaf/calculators/internal/spread"
	"mereleaf/calculators/limits"
)

// beginning is a filter on its first day.
type beginning struct {
	volume                    float64 // m3
	celsius, oxygen, dilution float64
	load                      Range   // ammonia nitrogen, mg per litre of pond a day
	share                     float64 // of the film that the load needs, before it is moved
	kh                        float64
	khKnown                   bool

	paused             bool    // the filter was mature, and stood without feed
	unfed, rest, grown float64 // for so many days, at this temperature, and had grown at that

	fitted bool // the bacteria are known from the day on which ammonia peaked
	seeds  [NitrifierSets]Range
}

func begin(in calculators.Inputs) *beginning {
	b := &beginning{
		volume: in.In("volume", "m3"), celsius: in.In("temperature", "Cel"), oxygen: in.In("oxygen", "mg/L"),
		dilution: -math.Log(1-in.In("change", "%")/100) / 7,
	}
	b.load = readLoad(in).Times(1 / b.volume)
	if in.Has("kh") {
		b.kh, b.khKnown = in.In("kh", "mg/L"), true
	}
	switch in.Choice("seeding") {
	case "some":
		b.share = handfuls
	case "media":
		b.share = in.In("share", "%") / 100
	case "paused":
		b.paused, b.unfed, b.rest, b.grown = true, in.In("unfed", "d"), b.celsius, b.celsius
		if in.Has("rest") {
			b.rest = in.In("rest", "Cel")
		}
		if in.Has("grown") {
			b.grown = in.In("grown", "Cel")
		}
	}
	return b
}

// ripe reports whether film worth counting is there at the start.
func (b *beginning) ripe() bool { return b.paused || b.share > handfuls }

// point says where in their ranges the unsure things stand: -1 at the low end, 0
// at the likely value, 1 at the high end.
type point struct{ seed, moved, load int }

func (r Range) at(end int) float64 { return [...]float64{r.Low, r.Likely, r.High}[end+1] }

// bacteria returns those of a set in this water.
func (b *beginning) bacteria(set int) (ammonia, nitrite Organism) {
	ammonia, nitrite = NitrifierSet(set)
	return BacteriaAt(ammonia, b.celsius, b.oxygen), BacteriaAt(nitrite, b.celsius, b.oxygen)
}

// left is the share of the ammonia oxidisers of a set that outlived the pause.
func (b *beginning) left(set int) float64 {
	ammonia, _ := NitrifierSet(set)
	return FilmLeft(BacteriaAt(ammonia, b.rest, b.oxygen), b.unfed)
}

// start returns the filter of a set on its first day.
func (b *beginning) start(set int, p point) *StartUp {
	s := &StartUp{Dilution: b.dilution, Load: b.load.at(p.load)}
	s.Ammonia, s.Nitrite = b.bacteria(set)
	switch {
	case b.fitted:
		// The seed that was fitted with this load.
		s.SeedAmmonia = b.seeds[set].at(p.load)
		s.SeedNitrite = nitriteSeed * s.SeedAmmonia
		return s
	case b.paused:
		ammonia, nitrite := NitrifierSet(set)
		was := func(o Organism) float64 {
			return MatureBacteria(BacteriaAt(o, b.grown, b.oxygen), b.load.Likely) * FilmLeft(BacteriaAt(o, b.rest, b.oxygen), b.unfed)
		}
		s.SeedAmmonia, s.SeedNitrite = was(ammonia), was(nitrite)
	default:
		moved := b.share * MovedShare().at(p.moved)
		s.SeedAmmonia, s.SeedNitrite = moved*MatureBacteria(s.Ammonia, b.load.Likely), moved*MatureBacteria(s.Nitrite, b.load.Likely)
	}
	s.SeedAmmonia += Seed().at(p.seed)
	s.SeedNitrite += nitriteSeed * Seed().at(p.seed)
	return s
}

// seed is what start begins with of the bacteria that live on ammonia.
func (b *beginning) seed(set int, p point) float64 { return b.start(set, p).SeedAmmonia }

// fitSeeds finds for each set and each end of the load the bacteria at the start
// whose nitrite peaks on a day. It reports false where even the fewest peak sooner;
// of many it takes the most with which there is a peak at all.
func (b *beginning) fitSeeds(peak float64) bool {
	const fewest, filling = 1e-9, 0.3 // mg/L, and as a share of what lives on the load
	b.fitted = true
	for set := range NitrifierSets {
		var ends [3]float64
		for i := range ends {
			s := b.start(set, point{load: i - 1})
			most := math.Log(filling * MatureBacteria(s.Ammonia, s.Load))
			late := func(power float64) float64 {
				s.SeedAmmonia = math.Exp(power)
				s.SeedNitrite = nitriteSeed * s.SeedAmmonia
				return math.Min(PeakOfNitrite(s, startUpTolerance), LongestStartUp) - peak
			}
			power, ok := solve.Root(late, math.Log(fewest), most)
			if !ok {
				if late(most) < 0 {
					return false
				}
				power = most
			}
			ends[i] = math.Exp(power)
		}
		b.seeds[set] = Range{ends[0], ends[1], ends[2]}
	}
	return true
}

// What a course tells.
const (
	untilDown = iota
	tanDay
	tanPeak
	nitriteDay
	nitritePeak
	told
)

// courses is what all published sets together say.
type courses struct {
	of                             [told]Range
	comeDown, givenUp, settlesHigh bool
	narrowedBy                     int // place among the parts of what would narrow the days most
}

// follow runs a set. What it does not tell, because the filter does not come
// down, is no number, but for the days, on which it was given up.
func (b *beginning) follow(set int, p point) (tells [told]float64) {
	s := b.start(set, p)
	lines := [2]float64{math.Max(limits.MatureAmmonia, settledMargin*SettledNitrogen(s.Ammonia)), math.Max(limits.MatureNitrite, settledMargin*SettledNitrogen(s.Nitrite))}
	got := Course{Stays: math.Inf(1)}
	// Where bacteria cannot grow, or water changes alone keep ammonia or nitrite
	// down, no filter matures.
	if both := lines[0] + lines[1]; !math.IsInf(both, 1) && s.Load > s.Dilution*both {
		got = RunStartUp(s, lines[0], lines[1], startUpTolerance)
	}
	if math.IsInf(got.Stays, 1) {
		return [told]float64{LongestStartUp, math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	}
	if got.TANPeak <= lines[0] {
		got.TANPeakDay = 0
	}
	if got.NitritePeak <= lines[1] {
		got.NitritePeakDay = 0
	}
	return [told]float64{got.Stays, math.Min(got.TANPeakDay, LongestStartUp), got.TANPeak, math.Min(got.NitritePeakDay, LongestStartUp), got.NitritePeak}
}

// courses runs all sets at the likely values, and again with each thing that is
// not known at either end of its range, the others as likely. What that tells is
// combined as errors that know nothing of each other: those of days add up, those
// of readings multiply.
func (b *beginning) courses() *courses {
	c := &courses{}
	var likely [NitrifierSets][told]float64
	for set := range NitrifierSets {
		likely[set] = b.follow(set, point{})
		c.comeDown = c.comeDown || !math.IsNaN(likely[set][tanPeak])
		c.givenUp = c.givenUp || math.IsNaN(likely[set][tanPeak])
		ammonia, nitrite := b.bacteria(set)
		c.settlesHigh = c.settlesHigh || SettledNitrogen(ammonia) > limits.MatureAmmonia || SettledNitrogen(nitrite) > limits.MatureNitrite
	}
	var ends [][2][told]float64
	for _, p := range b.unsure() {
		ends = append(ends, [2][told]float64{b.mean(point{-p.seed, -p.moved, -p.load}), b.mean(p)})
	}
	for i := range told {
		middle, least, most := over(likely, i)
		e := effects{likely: middle, factors: i == tanPeak || i == nitritePeak, most: LongestStartUp, parts: []spread.Part{{Low: least, Likely: middle, High: most}}}
		if e.factors {
			e.most = math.Inf(1)
		}
		for _, end := range ends {
			e.parts = append(e.parts, between(end[0][i], middle, end[1][i]))
		}
		c.of[i] = e.combined()
		if i == untilDown {
			c.narrowedBy, _ = spread.Widest(len(e.parts), e.at)
		}
	}
	return c
}

// byLoad is the place of the load among the parts, behind the bacteria of the sets.
const byLoad = 1

// effects are what a quantity of 0 or more becomes with one part alone at either
// end of its range.
type effects struct {
	likely  float64
	factors bool // they multiply; else they add up
	most    float64
	parts   []spread.Part
}

// between returns the part with ends that may be in either order. Where both lie on
// one side of the likely value the other end is that; one that is no number tells
// nothing.
func between(a, likely, b float64) spread.Part {
	p := spread.Part{Low: likely, Likely: likely, High: likely}
	for _, end := range [2]float64{a, b} {
		if end < p.Low {
			p.Low = end
		} else if end > p.High {
			p.High = end
		}
	}
	return p
}

func (e *effects) at(shifts []float64) float64 {
	all := e.likely
	for i, p := range e.parts {
		if v := p.At(shifts[i]); e.factors && e.likely > 0 {
			all *= v / e.likely
		} else {
			all += v - e.likely
		}
	}
	return math.Min(math.Max(0, all), e.most)
}

func (e *effects) combined() Range { return Range(spread.Of(len(e.parts), e.at)) }

// unsure names what has a range, each alone at its high end.
func (b *beginning) unsure() []point {
	all := []point{{load: 1}}
	if b.fitted {
		return all
	}
	all = append(all, point{seed: 1})
	if b.share > 0 {
		all = append(all, point{moved: 1})
	}
	return all
}

// mean is that of all sets that tell.
func (b *beginning) mean(p point) (mean [told]float64) {
	var all [NitrifierSets][told]float64
	for set := range NitrifierSets {
		all[set] = b.follow(set, p)
	}
	for i := range told {
		mean[i], _, _ = over(all, i)
	}
	return mean
}

// over returns mean, least and greatest of what all sets tell of one thing.
func over(all [NitrifierSets][told]float64, i int) (mean, least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	n := 0.0
	for set := range NitrifierSets {
		if v := all[set][i]; !math.IsNaN(v) {
			n++
			mean += (v - mean) / n
			least, most = math.Min(least, v), math.Max(most, v)
		}
	}
	if n == 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	return mean, least, most
}

// filmShare is the film that is there, of what the load needs.
func (b *beginning) filmShare() Range {
	if !b.paused {
		return MovedShare().Times(b.share)
	}
	r := Range{Low: 1}
	for set := range NitrifierSets {
		left := b.left(set)
		r.Low, r.High = math.Min(r.Low, left), math.Max(r.High, left)
		r.Likely += left / NitrifierSets
	}
	return r
}

// warmth is the work of the film in this water, of that where it grew.
func (b *beginning) warmth() Range {
	if !b.paused {
		return Range{1, 1, 1}
	}
	r := ends(b.celsius, b.grown)
	r.Likely = TemperatureFactor(FilmGrowth, b.celsius, b.grown)
	return r
}
