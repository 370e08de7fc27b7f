package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/media"
)

// pondFacts are what the pond and its fish are, before any filter is chosen.
type pondFacts struct {
	volume  float64 // L
	summer  float64 // °C
	target  float64 // mg/L
	water   *answer // pond-volume; nil if the reader knows the volume
	now     herd
	grown   herd
	design  *herd // the one of the two to build for
	ammonia answer
}

// herd is a stock of fish and its waste.
type herd struct {
	weight answer // fish-weight or growth
	waste  answer // feed-waste
	feed   float64
	tan    calculators.Value // g/d
}

func (p *plan) readPond() error {
	f := &p.pond
	f.summer, f.target, f.volume = p.in.In("summer", "Cel"), p.in.In("target", "mg/L"), p.in.In("volume", "L")
	if shape := p.in.Choice("pond"); shape != "volume" {
		a, err := ask(&p.crew.pond, []calculators.Arg{as("shape", shape), at("length", p.in.In("length", "m"), "m"), at("width", p.in.In("width", "m"), "m"), at("depth", p.in.In("depth", "m"), "m")})
		if err != nil {
			return err
		}
		f.water, f.volume = &a, a.likely("volume")
	}
	if err := p.readFish(); err != nil {
		return err
	}
	f.design = &f.now
	if p.in.Choice("size-for") == "grown" {
		f.design = &f.grown
	}
	var err error
	f.ammonia, err = ask(&p.crew.ammonia, []calculators.Arg{at("tan", f.target, "mg/L"), at("ph", p.in.In("ph", "[pH]"), "[pH]"), at("temperature", f.summer, "Cel")})
	return err
}

func (p *plan) readFish() error {
	f := &p.pond
	now, err := ask(&p.crew.weight, []calculators.Arg{as("from", "list"), as("fish", p.written("fish"))})
	if err != nil {
		return err
	}
	fed := 0.0
	if p.in.Has("feed") {
		fed = p.in.In("feed", "g/d")
	}
	if f.now, err = p.feeding(now, now.likely("weight"), fed); err != nil {
		return err
	}
	grown, kilograms, err := p.growing()
	if err != nil {
		return err
	}
	f.grown, err = p.feeding(grown, kilograms, fed*kilograms/max(now.likely("weight"), 1e-6))
	return err
}

// growing returns the weight of the fish when grown: of the reader's list, or
// three years ahead.
func (p *plan) growing() (answer, float64, error) {
	if p.in.Has("grown") {
		a, err := ask(&p.crew.weight, []calculators.Arg{as("from", "list"), as("fish", p.written("grown"))})
		return a, a.likely("weight"), err
	}
	var last answer
	sum := 0.0
	for _, row := range p.in.Rows("fish") {
		a, err := ask(&p.crew.growth, []calculators.Arg{as("species", row.Choice("species")), at("length", row.In("length", "cm"), "cm"), at("count", row.In("count", "1"), "1"),
			as("measured", row.Choice("measured")), at("temperature", min(p.pond.summer, 32), "Cel")})
		if err != nil {
			return a, 0, err
		}
		last, sum = a, sum+a.likely("weight")
	}
	return last, sum, nil
}

// feeding reckons feed and waste of a weight of fish, or of a stated feed.
func (p *plan) feeding(weight answer, kilograms, fed float64) (herd, error) {
	args := []calculators.Arg{as("from", "fish"), at("weight", kilograms, "kg")}
	if fed > 0 {
		args = []calculators.Arg{as("from", "feed"), at("feed", fed, "g/d")}
	}
	waste, err := ask(&p.crew.waste, append(args, at("temperature", p.pond.summer, "Cel"), p.percent("protein", "protein")))
	return herd{weight, waste, waste.likely("feed"), waste.value("tan")}, err
}

// percent hands one of the tower's shares on under the name a part has for it.
func (p *plan) percent(name, as string) calculators.Arg { return at(as, p.in.In(name, "%"), "%") }

// noEnd is the ammonia in mg/L above which no fish lives and no sum is worth doing.
const noEnd = 5.0

// steady returns the ammonia in mg/L at which a filter that removes capacity g/d
// at the target, and the water changes, remove load g/d together:
//
//	load = capacity R(S)/R(target) + S V c/7
//
// with the rate R of package media and a share c of the volume V changed in a
// week. It is found by halving, as the right side rises with S; noEnd if it lies
// above that.
func (p *plan) steady(load, capacity float64) float64 {
	changed := p.pond.volume / 1000 * p.in.In("change", "%") / 100 / 7
	at := func(s float64) float64 {
		return capacity*p.rate(s)/p.rate(p.pond.target) + s*changed
	}
	low, high := 0.0, noEnd
	if at(high) < load {
		return high
	}
	for range 50 {
		if middle := (low + high) / 2; at(middle) < load {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
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
