package media

import (
	"strconv"

	"mereleaf/calculators"
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
	heavyBox      = 16  // kg; hse-indg143, the lesser figure at knuckle to elbow, from memory
	largePassDrop = 0.2 // of the ammonia, from which the boxes see clearly different water
)

func loadScale() calculators.Scale {
	const tower = "trickling tower design"
	return calculators.Scale{Output: "hydraulic-load", Log: true, Marks: []calculators.Mark{
		{Value: dryLoad, Label: "below: dry in places", Basis: "practice"},
		{Value: designFrom, Label: "fish farms, from", Source: "timmons-ebeling-2010", Locator: tower, Basis: "memory"},
		{Value: designTo, Label: "fish farms, to", Source: "timmons-ebeling-2010", Locator: tower, Basis: "memory"},
		{Value: floodingLoad, Label: "gravel may flood", Basis: "practice"},
	}}
}

func (s sizing) flags() []string {
	var flags []string
	say := func(t string) { flags = append(flags, t) }
	switch s.limit {
	case ByOxygen:
		say("Oxygen and not ammonia limits the filter: more medium helps little, more air helps much.")
	case ByCap:
		say("The ammonia is so high that the rate stands at the most ever seen in large filters.")
	}
	if drop := s.load.Likely / s.flow; drop > largePassDrop*s.target {
		say("One pass takes out " + text(100*drop/s.target, 2, "%") + " of the ammonia, so the lower boxes see less of it and do less: take the upper end of the range, or pump more.")
	}
	if s.surface.High > 1000 {
		say("A surface above 1,000 m²/m³ is that of very fine foam or sand, or counts inner pores: it clogs, or does not count.")
	}
	return flags
}

func (s sizing) advice() []string {
	var advice []string
	say := func(t string) { advice = append(advice, t) }
	boxes := s.boxes()
	say("Build for " + counted(boxes.Likely) + " and leave room for " + whole(boxes.High) + "; whether that is enough, the ammonia kit tells.")
	switch {
	case s.perFloor < dryLoad:
		say("The water is so thin that the medium runs dry in places, below 30 m³/m² a day: fewer stacks side by side, smaller boxes or more flow.")
	case s.perFloor < designFrom:
		say("The water is thinner than on fish farms, 100 to 250 m³/m² a day: spread it with care, or use fewer stacks.")
	case s.perFloor > floodingLoad:
		say("So much water may flood a box of fine stones: pour clean water through one box first, or add a stack.")
	case s.perFloor > designTo:
		say("The water is thicker than on fish farms, 100 to 250 m³/m² a day: that wets well but may wash fine media out; try one box first.")
	}
	if s.wet.Likely*s.boxed > heavyBox {
		say("A full box weighs more wet than one person should lift without a thought: fill it where it stands, empty it before you move it, and lift with two.")
	}
	if s.medium.Note != "" {
		say(s.medium.Note)
	}
	return advice
}

func (s sizing) work(r *calculators.Result) {
	step := func(label, t string) { r.Working = append(r.Working, calculators.Step{Label: label, Text: t}) }
	step("Ammonia to remove", spread(s.load, "g/d"))
	step("Rate at 27.2 °C and "+text(s.target, 2, "mg/L"), "1.859 × ("+text(s.target, 2, "1")+" − 0.07) / ("+text(s.target, 2, "1")+" + 1.93) = "+text(FilmRate(s.target), 3, "g/m2/d"))
	step("Rate at "+text(s.temperature, 3, "Cel")+", limits applied", spread(s.rate, "g/m2/d"))
	step("Surface of "+s.medium.Label, spread(s.surface, "m2/m3")+s.origin())
	step("Water on the floor", text(s.flow, 3, "m3/d")+" / ("+whole(s.stacks)+" × "+text(s.floor, 3, "m2")+") = "+text(s.perFloor, 3, "m3/m2/d"))
	step("Part of the surface that is wet", spread(s.wetted.Times(100), "%"))
	step("Medium", text(s.load.Likely, 3, "g/d")+" / ("+text(s.rate.Likely, 3, "g/m2/d")+" × "+text(s.surface.Likely, 3, "m2/m3")+" × "+text(s.wetted.Likely, 2, "1")+") = "+text(1000*s.volume.Likely, 3, "L"))
	step("One box holds", text(1000*s.boxed, 3, "L")+" of medium")
}

// origin names where the surface of a medium of the table comes from.
func (s sizing) origin() string {
	low, high := s.medium.Surface.Low, s.medium.Surface.High
	switch {
	case low.Basis == "":
		return ""
	case low.Basis == high.Basis && low.Source == high.Source:
		return " (" + low.origin() + ")"
	}
	return " (from " + low.origin() + ", to " + high.origin() + ")"
}

func (f Figure) origin() string {
	if f.Basis == "practice" {
		return "common practice"
	}
	return f.Source + ", " + f.Basis
}

func text(v float64, digits int, code string) string {
	return quantity.WithUnit(quantity.FormatNumber(v, digits), code)
}

func whole(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }

func counted(boxes float64) string {
	if boxes == 1 {
		return "one box"
	}
	return whole(boxes) + " boxes"
}

func spread(r Range, code string) string {
	if r.Low == r.High {
		return text(r.Likely, 3, code)
	}
	return text(r.Likely, 2, code) + " (" + text(r.Low, 2, "1") + " to " + text(r.High, 2, "1") + ")"
}
