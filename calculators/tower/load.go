package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
	"mereleaf/calculators/media"
)

// pondFacts are what the pond and its fish are, before any filter is chosen.
type pondFacts struct {
	volume  float64 // L
	summer  float64 // °C
	target  float64 // mg/L
	water   answer  // pond-volume; empty if the reader knows the volume
	now     herd
	grown   herd
	design  *herd // the one of the two to build for
	ammonia answer
}

// feedDigits are those that a feed is shown with.
const feedDigits = 2

// herd is a stock of fish and its waste.
type herd struct {
	weight answer  // fish-weight or growth; empty if the reader knows the weight
	waste  answer  // feed-waste
	feed   float64 // g/d, as it is shown
	tan    float64 // g/d, of that feed
}

func (p *plan) readPond() error {
	f := &p.pond
	f.summer, f.target, f.volume = p.in.In("summer", "Cel"), p.in.In("target", "mg/L"), p.in.In("volume", "L")
	if p.in.Choice("volume-from") != "volume" {
		err := p.ask(&f.water, &p.crew.pond, p.text("volume-from", "shape"), "length={~5 m}\nwidth={~5 m}\ndepth={~5 m}", p.in.In("length", "m"), p.in.In("width", "m"), p.in.In("depth", "m"))
		if err != nil {
			return err
		}
		f.volume = f.water.likely("volume")
	}
	if err := p.readFish(); err != nil {
		return err
	}
	f.design = &f.now
	if p.in.Choice("size-for") == "grown" {
		f.design = &f.grown
	}
	return p.ask(&f.ammonia, &p.crew.ammonia, nil, "tan={~5 mg/L}\nph={~4}\ntemperature={~4 Cel}", f.target, p.in.In("ph", "[pH]"), f.summer)
}

func (p *plan) readFish() error {
	f := &p.pond
	fed, now := 0.0, p.in.In("kilograms", "kg")
	if !p.weighed() {
		if err := p.ask(&f.now.weight, &p.crew.weight, p.text("fish", "fish"), "from=list"); err != nil {
			return err
		}
		now = f.now.weight.likely("weight")
	}
	if p.in.Has("feed") {
		fed = p.in.In("feed", "g/d")
	}
	if err := f.now.feeding(p, now, fed); err != nil {
		return err
	}
	grown, err := p.growing(&f.grown.weight)
	if err != nil {
		return err
	}
	return f.grown.feeding(p, grown, fed*grown/max(now, 1e-6))
}

// weighed reports whether the reader knows what the fish weigh.
func (p *plan) weighed() bool { return p.in.Choice("stock") == "weight" }

// growing returns the weight of the fish in kg when grown: of the reader's list,
// or three years ahead. Fish of which only the weight is known are koi, all alike.
func (p *plan) growing(a *answer) (float64, error) {
	if p.in.Has("grown") {
		err := p.ask(a, &p.crew.weight, p.text("grown", "fish"), "from=list")
		return a.likely("weight"), err
	}
	summer := min(p.pond.summer, 32)
	if p.weighed() {
		count := p.in.In("number", "1")
		err := p.ask(a, &p.crew.growth, nil, "species=koi\nby=weight\nmass={~5 g}\ncount={~5}\ntemperature={~4 Cel}", 1000*p.in.In("kilograms", "kg")/count, count, summer)
		return a.likely("weight"), err
	}
	sum := 0.0
	for _, row := range p.in.Rows("fish") {
		texts := []calculators.Arg{{Name: "species", Value: row.Choice("species")}, {Name: "measured", Value: row.Choice("measured")}}
		if err := p.ask(a, &p.crew.growth, texts, "length={~5 cm}\ncount={~5}\ntemperature={~4 Cel}", row.In("length", "cm"), row.In("count", "1"), summer); err != nil {
			return 0, err
		}
		sum += a.likely("weight")
	}
	return sum, nil
}

// feeding reckons feed and waste of so many kilograms of fish, or of a stated
// feed in g/d.
func (h *herd) feeding(p *plan, kilograms, fed float64) error {
	question, amount := "from=fish\nweight={~3 kg}\ntemperature={~4 Cel}\nprotein={~4 %}", kilograms
	if fed > 0 {
		question, amount = "from=feed\nfeed={~5 g/d}\ntemperature={~4 Cel}\nprotein={~4 %}", fed
	}
	err := p.ask(&h.waste, &p.crew.waste, nil, question, amount, p.pond.summer, p.share("protein"))
	h.feed, h.tan = h.waste.likely("feed"), h.waste.likely("tan")
	if fed == 0 && h.feed > 0 { // found, not stated
		h.tan *= read(h.feed, feedDigits) / h.feed
		h.feed = read(h.feed, feedDigits)
	}
	return err
}

// share is one of the tower's shares in percent.
func (p *plan) share(name string) float64 { return p.in.In(name, "%") }

// noEnd is the ammonia in mg/L above which no fish lives and no sum is worth doing.
const noEnd = 5.0

// steady returns the ammonia in mg/L at which a filter that removes capacity g/d
// at the target, and the water changes, remove load g/d together:
//
//	load = capacity R(S)/R(target) + S V c/7
//
// with the rate R of package media and a share c of the volume V changed in a
// week. The right side rises with S; noEnd if the answer lies above that.
func (p *plan) steady(load, capacity float64) float64 {
	return p.balanced(load, capacity, p.pond.volume/1000*p.share("change")/100/7)
}

// balanced is steady with the water changed in m3/d.
func (p *plan) balanced(load, capacity, changed float64) float64 {
	capacity /= p.rate(p.pond.target)
	return level(func(s float64) float64 { return capacity*p.rate(s) + s*changed - load })
}

// level returns the ammonia in mg/L at which what is taken out beyond the load, which
// rises with it, is nothing; noEnd if it lies above that.
func level(beyond func(float64) float64) float64 {
	if beyond(noEnd) < 0 {
		return noEnd
	}
	s, _ := solve.Root(beyond, 0, noEnd)
	return s
}

func (p *plan) rate(tan float64) float64 {
	r, _ := media.Rate(tan, p.oxygen, p.pond.summer)
	return r.Likely
}

// nitrite returns the nitrite in mg/L, as nitrogen, at which its bacteria just
// live in the summer's water: package media's sets of published bacteria.
func (p *plan) nitrite() calculators.Value {
	low, high, product := math.Inf(1), 0.0, 1.0
	for set := range media.NitrifierSets {
		_, nob := media.NitrifierSet(set)
		s := media.SettledNitrogen(media.BacteriaAt(nob, p.pond.summer, p.oxygen))
		low, high, product = math.Min(low, s), math.Max(high, s), product*s
	}
	return calculators.Between("nitrite", low, math.Cbrt(product), high) // the likely one is the geometric mean of the three
}
