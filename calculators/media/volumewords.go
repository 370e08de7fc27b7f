package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/internal/spread"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// Loads of water in m3/m2/d: below the first a medium runs dry in places (common
// practice), the next two are the design range of fish farms
// (timmons-ebeling-2010, trickling tower design, from memory), and from the last
// a box of gravel may flood (common practice, figure set
// media-hydraulic-practice).
const (
	dryLoad       = 30
	designFrom    = 100
	designTo      = 250
	floodingLoad  = 400
	openVoid      = 0.6  // share of the space from which media let any such load through, common practice
	finePiece     = 8    // mm, the smallest gravel of our design table (media-design-properties)
	outsideMost   = 1000 // m2/m3, beyond which a surface clogs or counts inner pores, common practice
	largePassDrop = 0.2  // of the ammonia, from which the boxes see clearly different water
)

// adviseTarget warns of more ammonia than a mature filter leaves.
func adviseTarget(r *calculators.Result, target float64) {
	if target > limits.MatureAmmonia {
		r.Say("More than {mature mg/L} of total ammonia is more than a mature filter leaves: at a high pH it harms fish. Reckon the toxic part of it before you build for it.", limits.MatureAmmonia)
	}
}

func loadScale() calculators.Scale {
	const tower = "trickling tower design"
	return calculators.Scale{Output: "hydraulic-load", Log: true, Marks: []calculators.Mark{
		{Value: dryLoad, Label: "below: dry in places", Basis: "practice"},
		{Value: designFrom, Label: "fish farms, from", Source: "timmons-ebeling-2010", Locator: tower, Basis: "memory"},
		{Value: designTo, Label: "fish farms, to", Source: "timmons-ebeling-2010", Locator: tower, Basis: "memory"},
		{Value: floodingLoad, Label: "gravel may flood", Basis: "practice"},
	}}
}

func (s *sizing) flag(r *calculators.Result) {
	switch s.limit {
	case ByOxygen:
		r.Flag("Oxygen and not ammonia limits the filter: more medium helps little, more air helps much.")
	case ByCap:
		r.Flag("The ammonia is so high that the rate stands at the most ever seen in large filters.")
	}
	if drop := s.load.Likely / s.flow; drop > largePassDrop*s.target {
		r.Doubt("One pass takes out {part 2 %} of the ammonia, so the lower boxes see less of it and do less: take the upper end of the range, or pump more.", 100*drop/s.target)
	}
	if s.boxed > s.whole {
		r.Doubt("The medium in a box, {litres 3 L}, is more than its measures hold, {whole 3 L}: measure the box again, or the bucket.", 1000*s.boxed, 1000*s.whole)
	}
	if s.proven > 0 {
		r.Flag("The medium follows from what your own filter carries; rate and wetted surface are shown beside it.")
	}
	if s.surface.High > outsideMost {
		r.Doubt("A surface above {most m2/m3} is that of very fine foam or sand, or counts inner pores: it clogs, or does not count.", outsideMost)
	}
}

func (s *sizing) advise(r *calculators.Result, boxes Range) {
	adviseTarget(r, s.target)
	switch boxes.Likely {
	case 0:
		r.Advise("Nothing to remove: give the most you will feed on a warm day, not today's feed.")
	case 1:
		r.Say("Build for one box and leave room for {most 0}; whether that is enough, the ammonia kit tells.", boxes.High)
	default:
		r.Say("Build for {likely 0|box|boxes} and leave room for {most 0}; whether that is enough, the ammonia kit tells.", boxes.Likely, boxes.High)
	}
	switch {
	case s.perFloor < dryLoad:
		r.Say("The water is so thin that the medium runs dry in places, below {dry m3/m2/d}: fewer stacks side by side, smaller boxes or more flow.", dryLoad)
	case s.perFloor < designFrom:
		r.Say("The water is thinner than on fish farms, {least ~} to {most m3/m2/d}: spread it with care, or use fewer stacks.", designFrom, designTo)
	case s.perFloor > floodingLoad && s.void.Likely < openVoid:
		r.Advise("So much water may flood a box of fine stones: pour clean water through one box first, or add a stack.")
	case s.perFloor > designTo:
		r.Say("The water is thicker than on fish farms, {least ~} to {most m3/m2/d}: that wets well but may wash fine media out; try one box first.", designFrom, designTo)
	}
	if s.wet.Likely*s.boxed > limits.LiftAlone {
		r.Advise("A full box weighs more wet than one person should lift without a thought: fill it where it stands, empty it before you move it, and lift with two.")
	}
	if s.medium.Note != "" {
		r.Advise(s.medium.Note)
	}
	s.narrow(r)
}

// narrow says which single measurement would narrow a volume that spans more than
// tenfold, where an input takes it.
func (s *sizing) narrow(r *calculators.Result) {
	if s.proven > 0 || s.volume.High <= wideRange*s.volume.Low {
		return
	}
	parts := []spread.Part{spread.Part(s.load), spread.Part(s.rate), spread.Part(s.surface), spread.Part(s.wetted)}
	most, _ := spread.Widest(len(parts), func(shifts []float64) float64 {
		v := parts[0].At(shifts[0])
		for i := 1; i < len(parts); i++ {
			v /= parts[i].At(shifts[i])
		}
		return v
	})
	switch most {
	case 0:
		r.Advise("What narrows this most is the ammonia of a day: weigh the feed, and read the protein on its bag.")
	case 2:
		r.Advise("What narrows this most is the surface of the medium: measure ten pieces and choose it by their size.")
	default:
		r.Advise("What narrows this most is a mature filter with this medium: put in the feed that each litre of it carries.")
	}
}

func (s *sizing) work(r *calculators.Result) {
	step(r, "Ammonia to remove", s.load, " g/d")
	r.Step("Rate at 27.2 °C and {2 mg/L}", "1.859 × ({2} − 0.07) / ({2} + 1.93) = {3 g/m2/d}", s.target, s.target, s.target, FilmRate(s.target))
	step(r, calculators.Text("Rate at {3 Cel}, limits applied", s.temperature), s.rate, " g/m2/d")
	step(r, quantity.Put(quantity.Put("Surface of {medium}{origin}", "medium", s.medium.Label), "origin", s.origin()), s.surface, " m2/m3")
	r.Step("Water on the floor", "{3 m3/d} / ({0} × {3 m2}) = {3 m3/m2/d}", s.flow, s.stacks, s.floor, s.perFloor)
	step(r, "Part of the surface that is wet", s.wetted.Times(100), " %")
	if s.proven > 0 {
		r.Step("Medium", "{3 g/d} / {3 g/d} × 1 L = {3 L}", 1000*s.volume.Likely*s.proven, s.proven, 1000*s.volume.Likely)
	} else {
		r.Step("Medium", "{3 g/d} / ({3 g/m2/d} × {3 m2/m3} × {2}) = {3 L}", s.load.Likely, s.rate.Likely, s.surface.Likely, s.wetted.Likely, 1000*s.volume.Likely)
	}
	r.Step("Medium in one box", "{3 L}", 1000*s.boxed)
}

// step adds a line of working with a range; unit is a UCUM code after a space.
func step(r *calculators.Result, label string, v Range, unit string) {
	if v.Low == v.High {
		r.Step(label, "{3"+unit+"}", v.Likely)
		return
	}
	r.Step(label, "{2"+unit+"} ({2} to {2})", v.Likely, v.Low, v.High)
}

// origin names where the surface of a medium of the table comes from.
func (s *sizing) origin() string {
	low, high := s.medium.Surface.Low, s.medium.Surface.High
	switch {
	case low.Basis == "":
		return ""
	case low.Basis == high.Basis && low.Source == high.Source:
		return " (" + low.origin() + ")"
	}
	return quantity.Put(quantity.Put(" (from {low}, to {high})", "low", low.origin()), "high", high.origin())
}

func (f Figure) origin() string {
	if f.Basis == "practice" {
		return "common practice"
	}
	return f.Source + ", " + f.Basis
}
