package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
)

// sizing is a checked set of inputs and what follows from them. Lengths in m,
// volumes in m3, flow in m3/d, weights in kg.
type sizing struct {
	medium                      Medium
	surface, void, dry, wet     Range
	load                        Range // g/d
	target, oxygen, temperature float64
	floor, boxed, whole         float64 // of one box: floor, medium in it, all of it
	flow, stacks                float64

	ripe, proven float64 // m3 of ripe medium, and feed that a litre carries, g/d; 0 if not stated
	perFeed      Range   // ammonia nitrogen from a gram of feed; nothing where the load is stated

	rate     Range
	limit    Limit
	perFloor float64 // m3/m2/d
	wetted   Range
	volume   Range
}

func computeVolume(in calculators.Inputs) (calculators.Result, error) {
	s := readSizing(in)
	if s.target <= LeastTAN {
		return calculators.Result{}, starves(s.target)
	}
	if least := s.load.Likely / (s.target - LeastTAN); s.flow <= least && s.load.Likely > 0 {
		return calculators.Result{}, calculators.Refuse("flow", "carries too little ammonia to the filter: even a perfect one would not keep the pond at {target 2 mg/L}",
			"more than {least 2 L/h}", "pump more, or aim for more ammonia than that", s.target, least*1000/24)
	}
	s.perFloor = s.flow / (s.stacks * s.floor)
	s.wetted = WettedShare(s.perFloor, s.surface.Likely)
	s.rate, s.limit = Rate(s.target, s.oxygen, s.temperature)
	s.volume = Quotient(s.load, s.rate, s.surface, s.wetted)
	if s.proven > 0 {
		litres := in.In("feed", "g/d") / s.proven
		s.volume = Range{litres, litres, litres}.Times(1.0 / 1000)
	}
	r := calculators.Result{Scale: loadScale()}
	boxes := s.boxes()
	s.value(&r, boxes)
	s.flag(&r)
	s.advise(&r, boxes)
	s.work(&r)
	return r, nil
}

// lowestTarget is the least total ammonia to aim for, mg/L as nitrogen: common
// practice.
const lowestTarget = 0.1

// starves refuses a target at which the film cannot live.
func starves(target float64) error {
	return calculators.Refuse("target", "is {target 2 mg/L}, which no filter of this kind reaches: its bacteria starve at {starve mg/L}",
		"more than {starve mg/L} (zhu-chen-1999, abstract)", "aim for {aim mg/L} or more, and lower the toxic part by changing water or feeding less", target, LeastTAN, LeastTAN, lowestTarget)
}

func readSizing(in calculators.Inputs) *sizing {
	s := &sizing{
		target: in.In("target", "mg/L"), oxygen: in.In("oxygen", "mg/L"), temperature: in.In("temperature", "Cel"),
		floor: in.In("length", "m") * in.In("width", "m"),
		flow:  in.In("flow", "m3/h") * 24, stacks: in.In("stacks", "1"),
	}
	s.whole = s.floor * in.In("height", "m")
	s.boxed = s.whole * in.In("fill", "%") / 100
	if in.Has("litres") {
		s.boxed = in.In("litres", "m3")
	}
	s.load = readLoad(in)
	if in.Choice("from") == "feed" {
		s.perFeed = Range(fish.AmmoniaFromFeed(in.In("protein", "%") / 100))
		if in.Has("proven") {
			s.proven = in.In("proven", "g/d")
		}
	}
	if in.Has("ripe") {
		s.ripe = in.In("ripe", "m3")
	}
	s.readMedium(in)
	return s
}

// readLoad returns the ammonia nitrogen of a day in g/d, from feed or as stated.
func readLoad(in calculators.Inputs) Range {
	if in.Choice("from") == "tan" {
		tan := in.In("tan", "g/d")
		return Range{tan, tan, tan}
	}
	return Range(fish.AmmoniaFromFeed(in.In("protein", "%") / 100)).Times(in.In("feed", "g/d"))
}

func (s *sizing) readMedium(in calculators.Inputs) {
	for _, m := range Table() {
		if m.Name == in.Choice("medium") {
			s.medium, s.surface, s.void, s.dry, s.wet = m, m.Surface.Range(), m.Void.Range(), m.Dry.Range(), m.Wet.Range()
			return
		}
	}
	if in.Choice("medium") == ownPieces {
		s.void, s.dry = exactly(pieceVoid), exactly(pieceDensity)
		s.readMeasured(in)
		s.medium.Label, s.surface = "these pieces", exactly(SphereSurface(in.In("piece", "m"), s.void.Likely))
		if in.In("piece", "mm") < finePiece {
			s.medium.Note = calculators.Text("Pieces under {least mm} clog soon and may flood the box: screen the water first, or take larger ones.", finePiece)
		}
		return
	}
	s.medium.Label, s.surface = "this medium", exactly(in.In("surface", "m2/m3"))
	s.void, s.dry, s.wet = ofKind(in.Choice("made"))
	s.readMeasured(in)
}

func exactly(v float64) Range { return Range{v, v, v} }

// readMeasured takes void and weight as measured, where they are, and from them the
// weight of the drained medium: a bed keeps films and drops in up to a third of its
// space.
func (s *sizing) readMeasured(in calculators.Inputs) {
	if in.Has("void") {
		s.void = exactly(in.In("void", "%") / 100)
	}
	if in.Has("density") {
		s.dry = exactly(in.In("density", "kg/m3"))
	}
	if in.Has("density") || s.wet.High == 0 {
		s.wet = Between(s.dry.Low, s.dry.High+1000*s.void.High/3)
	}
}

// ofKind returns voids and weights of the media of the table that are made of the
// same, from the least to the greatest.
func ofKind(made string) (void, dry, wet Range) {
	kind := stones()
	switch made {
	case madePlastic:
		kind = light()[:hardPlastics]
	case madeFoam:
		kind = light()[hardPlastics:]
	}
	span := func(of func(*Medium) Property) Range {
		low, high := math.Inf(1), 0.0
		for i := range kind {
			p := of(&kind[i])
			low, high = math.Min(low, p.Low.Value), math.Max(high, p.High.Value)
		}
		return Between(low, high)
	}
	return span(func(m *Medium) Property { return m.Void }), span(func(m *Medium) Property { return m.Dry }), span(func(m *Medium) Property { return m.Wet })
}

// Carries returns the ammonia nitrogen in g/d that so many m3 of ripe medium remove,
// from the rate of the film in g/m2/d, the surface in m2/m3 and its wetted share.
//
//	L = V R a w
//
// Medium needed is the same the other way round; the errors are independent.
func Carries(volume float64, rate, surface, wetted Range) Range {
	return rate.product(surface).product(wetted).Times(volume)
}

func (s *sizing) value(r *calculators.Result, boxes Range) {
	add(r, "volume", s.volume.Times(1000))
	add(r, "boxes", boxes)
	r.Between("tiers", math.Ceil(boxes.Low/s.stacks), math.Ceil(boxes.Likely/s.stacks), math.Ceil(boxes.High/s.stacks))
	add(r, "rate", s.rate)
	add(r, "surface-needed", Quotient(s.load, s.rate))
	add(r, "load", s.load)
	add(r, "specific-surface", s.surface)
	r.Exactly("hydraulic-load", s.perFloor)
	add(r, "wetted", s.wetted.Times(100))
	add(r, "box-weight", s.wet.Times(s.boxed))
	add(r, "box-flooded", s.flooded())
	add(r, "weight-dry", s.dry.Times(s.volume.Likely))
	add(r, "weight-wet", s.wet.Times(s.volume.Likely))
	s.carries(r)
	add(r, "oxygen-used", s.load.Times(fish.OxygenPerNitrogen))
	add(r, "alkalinity-used", s.load.Times(fish.AlkalinityPerNitrogen))
}

// carries tells what the ripe medium there is does.
func (s *sizing) carries(r *calculators.Result) {
	if s.ripe == 0 {
		return
	}
	removes := Carries(s.ripe, s.rate, s.surface, s.wetted)
	feed := Quotient(removes, s.perFeed)
	if s.proven > 0 {
		feed = exactly(1000 * s.ripe * s.proven)
		removes = s.perFeed.Times(feed.Likely)
	}
	if s.perFeed.Likely > 0 {
		add(r, "carries-feed", feed)
	}
	add(r, "carries", removes)
}

func add(r *calculators.Result, output string, v Range) { r.Between(output, v.Low, v.Likely, v.High) }

func (s *sizing) boxes() Range {
	count := func(volume float64) float64 { return math.Ceil(volume/s.boxed - 1e-9) }
	return Range{count(s.volume.Low), count(s.volume.Likely), count(s.volume.High)}
}

// flooded returns the weight in kg of a box full of medium and water.
func (s *sizing) flooded() Range {
	above := math.Max(0, s.whole-s.boxed) * 1000
	full := func(density, void float64) float64 { return s.boxed*(density+1000*void) + above }
	return Between(full(s.dry.Low, s.void.Low), full(s.wet.High, s.void.High))
}
