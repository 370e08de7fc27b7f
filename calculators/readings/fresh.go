package readings

import (
	"math"

	"mereleaf/calculators/limits"
	"mereleaf/calculators/water"
)

// readFresh takes what is known of the new water. Where it is cooler than the pond
// the ammonia is reckoned as if it were not: the pond warms up again.
func (s *survey) readFresh() {
	s.fresh = water.Renewal{
		Total: s.total, NewTotal: s.inBands("tap-tan", "mg/L", "ammonia-basis"), PH: s.ph, NewPH: s.in.In("tap-ph", "[pH]"),
		Alkalinity: s.value[buffer], NewAlkalinity: s.in.In("tap-kh", "mg/L"), T: s.t, NewT: math.NaN(), Salinity: s.salinity,
	}
	if t := s.in.In("tap-temperature", "Cel"); t > s.t {
		s.fresh.NewT = t
	}
}

// newNitrite is the nitrite of the new water, mg/L as nitrogen.
func (s *survey) newNitrite() float64 { return s.inBands("tap-nitrite", "mg/L", "nitrite-basis") }

// ammoniaShare returns the share of water that the ammonia asks for, and the toxic
// part that it comes to: in order, else the mildest band that this new water can
// bring it to; 0 and 0 where it cannot, or nobody can tell.
func (s *survey) ammoniaShare() (share, aim float64) {
	if !s.fresh.Told() {
		return 0, 0
	}
	for _, aim := range []float64{limits.AmmoniaWatch, limits.AmmoniaAct, limits.AmmoniaEmergency} {
		if share, ok := s.fresh.Share(aim); ok && share > 0 {
			return max(tenth, share), aim
		}
	}
	return 0, 0
}

// nitriteShare is ammoniaShare for nitrite.
func (s *survey) nitriteShare() (share, aim float64) {
	for _, aim := range []float64{limits.NitriteAct, limits.NitriteEmergency} {
		share, ok := water.ShareToLower(s.value[nitrite], s.newNitrite(), aim)
		if ok && (share > 0 || aim == limits.NitriteAct) {
			return max(tenth, share), aim
		}
	}
	return 0, 0
}

// harms reports whether a change of so much water would bring ammonia or nitrite up,
// and so far that it is to be acted upon.
func (s *survey) harms(share float64) bool {
	toxic, n := s.fresh.Toxic(share), water.Mixed(s.value[nitrite], s.newNitrite(), share)
	return toxic > s.value[ammonia]*(1+1e-9) && toxic >= limits.AmmoniaAct || n > s.value[nitrite]*(1+1e-9) && n >= limits.NitriteAct
}

// freshWater says where this new water cannot bring about what is wanted, or what is
// to be tested before anybody can tell.
func (s *survey) freshWater(level int) {
	switch {
	case s.level[ammonia] < act:
	case !s.fresh.Told():
		s.say(level, "test KH of both waters and ask again: the new water has pH {new ~3}, the pond {pond ~3}, and how far a change takes the pond up hangs on KH.", s.fresh.NewPH, s.ph)
		s.say(level, "until then mix {one 0} part of new water with {nine 0} of pond water in a bucket and test its pH: change a tenth at a time, and only if that is no higher than the pond's.", 1, 9)
	case s.aim == 0:
		s.do(level, "change no water for the ammonia: this new water does not bring it out of its band. Look for water of lower pH, free of ammonia; a product that binds ammonia, by its label, wins time.")
	case s.aim > limits.AmmoniaWatch:
		s.say(level, "this new water brings the toxic part no lower than {aim mg/L}: look for other water for the rest.", s.aim)
	}
	switch {
	case s.level[nitrite] < act:
	case s.aimed == 0:
		s.say(level, "change no water for the nitrite: the new water holds {new 2 mg/L} itself. Look for other water.", s.newNitrite())
	case s.aimed > limits.NitriteAct:
		s.say(level, "this new water brings nitrite no lower than {aim mg/L}: look for other water for the rest.", s.aimed)
	}
	if s.needed == 0 && s.wanted() > 0 && s.aim+s.aimed > 0 {
		s.do(level, "change no water: this new water makes ammonia or nitrite worse. Look for other water.")
	}
}

// newWater says what the new water must be like.
func (s *survey) newWater(level int) {
	cooler := s.heatAct() || s.level[oxygen] == danger
	// A pH out of bounds is what the change is to cure, and new water that was tested
	// has the pH it has.
	anyPH := s.level[acidity] == danger || s.fresh.NewPH == s.fresh.NewPH
	switch high := s.value[acidity] >= limits.PHHighAct; {
	case cooler && high:
		s.do(level, "take dechlorinated water of lower pH, of like temperature or cooler.")
	case high:
		s.do(level, "take dechlorinated water of like temperature and lower pH.")
	case cooler && anyPH:
		s.do(level, "take dechlorinated water of like temperature or cooler.")
	case cooler:
		s.do(level, "take dechlorinated water of like pH, of like temperature or cooler.")
	case anyPH:
		s.do(level, "take dechlorinated water of like temperature.")
	default:
		s.do(level, "take dechlorinated water of like temperature and pH.")
	}
	if kh := s.fresh.NewAlkalinity; kh < limits.AlkalinityLowAct && !(kh >= s.value[buffer]) {
		s.say(level, "bring its KH of {new 2 mg/L} up to the pond's with bicarbonate before it goes in: softer water lets the pH crash.", kh)
	}
}
