package readings

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// survey is all that was read and what it comes to.
type survey struct {
	in calculators.Inputs
	r  *calculators.Result

	value [kinds]float64 // NaN: not tested
	level [kinds]int
	worst int

	total    float64 // total ammonia, mg/L as nitrogen; NaN: not tested
	ph, t    float64 // those read; the temperature else the worst to be feared
	guessed  bool    // the toxic part rests on a temperature that nobody read
	lone     bool    // total ammonia was read and no pH: its toxic part is not known
	salinity float64 // g/kg
	volume   float64 // L; NaN: not stated
	needed   float64 // share of water to change in all
	now      float64 // share of water to change now
	fresh    water.Renewal
	aim      float64 // toxic ammonia that the new water can bring about, mg/L; 0: none
	aimed    float64 // nitrite that it can bring about, mg/L; 0: none

	todo [danger + 1][]string // what to do, by urgency
}

// worstWarm is the worst to be feared of a pond whose temperature nobody read, in
// degrees Celsius: common practice.
const worstWarm = limits.WarmAct

func compute(in calculators.Inputs) (calculators.Result, error) {
	var r calculators.Result
	s := survey{in: in, r: &r}
	s.read()
	if err := s.refusal(); err.Problem != "" {
		return r, err
	}
	for i := range s.level {
		if i != fish {
			s.level[i] = limits.BandOf(i, s.value[i])
		}
	}
	s.level[fish] = s.fishLevel()
	if s.ammoniaShows() && s.level[ammonia] == inOrder {
		s.level[ammonia] = watch // a ripe filter leaves hardly any to read
	}
	for _, l := range s.level {
		s.worst = max(s.worst, l)
	}
	most, why := s.mostAtOnce()
	s.change(most)
	s.addValues()
	s.flag()
	s.advise(most, why)
	for i, l := range s.level {
		if s.value[i] == s.value[i] {
			r.State(quantity.Put("Band of {reading}", "reading", s.said(i)), quantity.Put(bandOf(l), "limits", bandsInWords(i)))
		}
	}
	r.Scale = calculators.Scale{Output: "urgency", Marks: []calculators.Mark{
		{Value: float64(inOrder), Label: "in order", Basis: "practice"},
		{Value: float64(watch), Label: "watch", Basis: "practice"},
		{Value: float64(act), Label: "act today", Basis: "practice"},
		{Value: float64(danger), Label: "danger now", Basis: "practice"},
	}}
	return r, nil
}

func levelWord(level int) string {
	switch level {
	case danger:
		return "danger now"
	case act:
		return "act today"
	case watch:
		return "watch"
	}
	return "in order"
}

// bandOf says in which band a reading is, with a gap for where the bands begin.
func bandOf(level int) string {
	switch level {
	case danger:
		return "danger now: {limits}"
	case act:
		return "act today: {limits}"
	case watch:
		return "watch: {limits}"
	}
	return "in order: {limits}"
}

// read takes all readings in the units of the bands.
func (s *survey) read() {
	in := s.in
	s.total = s.inBands("tan", "mg/L", "ammonia-basis")
	s.value[chlorine] = in.In("chlorine", "mg/L")
	s.value[oxygen] = in.In("oxygen", "mg/L")
	s.value[acidity] = in.In("ph", "[pH]")
	s.value[temperature] = in.In("temperature", "Cel")
	s.value[nitrite] = s.inBands("nitrite", "mg/L", "nitrite-basis")
	s.value[nitrate] = s.inBands("nitrate", "mg/L", "nitrate-basis")
	s.value[buffer] = s.inBands("kh", "1", "kh-unit")
	if in.Choice("fish") == "not-seen" {
		s.value[fish] = math.NaN()
	}
	if in.Has("salt") {
		s.salinity = in.In("salt", "g/L") // per litre of water, nearly per kilogram
	}
	s.volume = in.In("volume", "L")
	s.ph, s.t = s.value[acidity], s.value[temperature]
	s.lone = s.total == s.total && s.ph != s.ph
	if s.t != s.t {
		s.t, s.guessed = worstWarm, true
	}
	s.value[ammonia] = s.total * s.fraction(0)
	s.readFresh()
}

func (s *survey) inBands(input, unit, basis string) float64 {
	return InBands(basis, s.in.Choice(basis), s.in.In(input, unit))
}

// mostDegrees is the greatest KH in German degrees that is no slip of the unit.
const mostDegrees = 60

func (s *survey) refusal() calculators.InputError {
	if s.in.Choice("kh-unit") == "german" && s.in.In("kh", "1") > mostDegrees {
		return calculators.Refuse("kh", "is {degrees ~4} German degrees", "at most {most 0}", "if the kit reads mg/L, choose kh-unit=caco3", s.in.In("kh", "1"), mostDegrees)
	}
	for i := range s.value {
		if s.tested(i) {
			return calculators.InputError{}
		}
	}
	return calculators.Refuse("tan", "is missing, and so is every other reading", "at least one reading, or what the fish do", "start with ammonia, pH and temperature")
}

func (s *survey) fraction(shift float64) float64 {
	return water.UnionisedFraction(s.ph+shift, s.t, s.salinity)
}

func (s *survey) fishLevel() int {
	switch s.in.Choice("fish") {
	case "gasping", "dying":
		return danger
	case "hiding":
		return act
	}
	return inOrder
}

func (s *survey) ammoniaShows() bool { return s.total >= limits.FirstKitStep }

// toxicGood reports whether the toxic part is known and in order, however much
// total ammonia there is.
func (s *survey) toxicGood() bool {
	return s.value[ammonia] < limits.AmmoniaWatch
}

// full reports whether the water is known to hold all the oxygen it can: then nobody
// is told to add air, and who has it on is told to leave it on.
func (s *survey) full() bool {
	return s.tested(oxygen) && s.tested(temperature) &&
		water.Full(s.value[oxygen], water.OxygenAtPressure(s.value[temperature], s.salinity, water.AirPressure(s.in.In("altitude", "m"))))
}

// tested reports whether a reading was taken; of ammonia the total is enough.
func (s *survey) tested(kind int) bool {
	return s.value[kind] == s.value[kind] || kind == ammonia && s.lone
}

// worstOf returns the greatest urgency of two readings.
func (s *survey) worstOf(a, b int) int { return max(s.level[a], s.level[b]) }

func (s *survey) hot() bool { return s.value[temperature] >= limits.WarmWatch }

// heatAct reports whether the water is so warm that it is to be cooled.
func (s *survey) heatAct() bool { return s.hot() && s.level[temperature] >= act }

func (s *survey) cold() bool { return s.value[temperature] <= limits.ColdWatch }

// lowBuffer reports whether the pH stands on little KH, by either reading.
func (s *survey) lowBuffer() bool {
	return s.value[buffer] <= limits.AlkalinityLowAct || s.value[acidity] <= limits.PHLowAct && !(s.value[buffer] > limits.AlkalinityLowWatch)
}

func (s *survey) addValues() {
	s.r.Exactly("urgency", float64(s.worst))
	s.r.Exactly("change-now", 100*s.now)
	if s.in.Has("volume") {
		s.r.Exactly("litres-now", s.now*s.volume)
	}
	s.r.Exactly("change-all", 100*s.needed)
	if s.value[ammonia] == s.value[ammonia] {
		s.r.Between("toxic", s.total*(1-kitError)*s.fraction(-phError), s.value[ammonia], s.mostToxic())
		s.r.Step("Toxic share at pH {~3} and {3 Cel}", "{3 mg/L} × {3 %} = {2 mg/L}", s.ph, s.t, s.total, 100*s.fraction(0), s.value[ammonia])
	}
	if s.tested(nitrite) {
		s.r.Exactly("nitrite-n", s.value[nitrite])
	}
	if n := s.value[nitrite]; n >= water.LeastNitrite && s.chlorideKnown() {
		_, wanted, _ := water.NitriteShield(n)
		s.r.Exactly("shield", 100*s.chloride()/wanted)
	}
	s.r.Exactly("test-again", s.hoursToTest())
}

// Errors of kits, half a colour step: common practice.
const (
	kitError = 0.25 // of the ammonia or nitrite reading
	phError  = water.KitPHError
)

// mostToxic is the toxic ammonia if both readings err low.
func (s *survey) mostToxic() float64 { return s.total * (1 + kitError) * s.fraction(phError) }

func (s *survey) chlorideKnown() bool { return s.in.Has("chloride") || s.in.Has("salt") }

// chloride returns the chloride known to be there, mg/L: what a kit read, or
// else what the salt brought, whichever is more.
func (s *survey) chloride() float64 {
	c := 1000 * s.salinity / chemistry.SaltPerChloride
	if s.in.Has("chloride") {
		c = max(c, s.in.In("chloride", "mg/L"))
	}
	return c
}

// flag says what was not tested and what was taken for it.
func (s *survey) flag() {
	if missing := s.missing(kinds); missing != "" {
		s.r.Flag(quantity.Put("Not tested, so not judged: {missing}.", "missing", missing))
	}
	if s.lone {
		s.r.Doubt("pH not tested: it decides how much of the ammonia is toxic, so that is not judged.")
	}
	if s.tested(ammonia) && !s.lone && !s.tested(temperature) {
		s.r.Doubt("Temperature not tested: taken as {worst 3 Cel}, the worst to be feared for ammonia.", s.t)
	}
	if limits.BandOf(ammonia, s.mostToxic()) > s.level[ammonia] || limits.BandOf(nitrite, (1+kitError)*s.value[nitrite]) > s.level[nitrite] {
		s.r.Flag("The error of the kits allows a worse band of ammonia or nitrite: test once more with care, and if in doubt act as for the worse one.")
	}
	if s.now > 0 && !(s.in.Has("tap-ph") && s.in.Has("tap-temperature")) {
		s.r.Flag("New water not tested: the change takes it as free of chlorine, ammonia and nitrite, with the pond's pH and temperature.")
	}
	if s.tested(oxygen) && s.in.Choice("time") != "dawn" {
		s.r.Flag("Oxygen not read at dawn: it is lower then, so the band may be worse.")
	}
	if s.tested(ammonia) && s.in.Choice("time") == "dawn" {
		s.r.Flag("pH rises through a sunny day, and with it the toxic part of the ammonia.")
	}
	if s.value[chlorine] == 0 {
		s.r.Flag("Chlorine 0 means none seen: harm begins below what many kits see.")
	}
	if s.value[nitrite] > 0 && !s.chlorideKnown() {
		s.r.Flag("Chloride not tested: it shields fish from nitrite, and with little of it the same nitrite harms more.")
	}
	s.r.Flag("The bands are common practice between published limits.")
}

// missing names what was not tested among the readings before the given one.
func (s *survey) missing(before int) string {
	var names list
	for i := range before {
		if !s.tested(i) {
			names.add(", ", kindName(i))
		}
	}
	return names.text
}

// list is a text of several things of one kind.
type list struct{ text string }

// add puts one more behind, with the given sign before it.
func (l *list) add(between, what string) {
	if l.text != "" {
		l.text += between
	}
	l.text += what
}

func kindName(kind int) string {
	switch kind {
	case chlorine:
		return "chlorine"
	case oxygen:
		return "oxygen"
	case fish:
		return "the fish"
	case ammonia:
		return "ammonia"
	case nitrite:
		return "nitrite"
	case acidity:
		return "pH"
	case buffer:
		return "KH"
	case temperature:
		return "temperature"
	}
	return "nitrate"
}
