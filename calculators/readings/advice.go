package readings

import (
	"mereleaf/calculators"
	"mereleaf/calculators/water"
)

// do adds what to do at an urgency; nothing where nothing is wrong.
func (s *survey) do(level int, sentences ...string) {
	if level > inOrder {
		s.todo[level] = append(s.todo[level], sentences...)
	}
}

// advise says first how urgent it is and why, then what to do, most urgent
// first; among what is equally urgent air comes first, then chlorine.
func (s *survey) advise(most float64, why string) {
	s.air()
	s.chlorineOut()
	s.lackOfOxygen()
	s.feed()
	s.fishSigns()
	s.testFirst()
	s.changeWater(most, why)
	s.oneAtATime()
	s.ammoniaRules()
	s.nitriteRules()
	s.phAndBuffer()
	s.warmthAndNitrate()
	s.help()
	s.testAgain()
	s.r.Advise(s.verdict())
	for level := danger; level > inOrder; level-- {
		for _, what := range s.todo[level] {
			s.r.Advise(when(level) + what)
		}
	}
}

func when(level int) string {
	switch level {
	case danger:
		return "Now: "
	case act:
		return "Today: "
	}
	return "These days: "
}

// verdict is the first sentence, how urgent and which readings make it so, and
// after it the less urgent ones.
func (s *survey) verdict() string {
	if s.worst == inOrder {
		if s.missing(kinds) != "" {
			return "In order, as far as you tested: carry on, feed as usual, and test the rest."
		}
		return "In order: carry on, feed as usual, and test again next week."
	}
	text := ""
	for level := s.worst; level > inOrder; level-- {
		text += s.reasons(level)
	}
	return text
}

// reasons names the readings of an urgency, in a sentence of their own.
func (s *survey) reasons(level int) string {
	text := "Watch: "
	switch level {
	case danger:
		text = "Danger now: "
	case act:
		text = "Act today: "
	}
	if level < s.worst {
		text = " " + text
	}
	none := true
	for i, l := range s.level {
		if l == level {
			if !none {
				text += "; "
			}
			text += s.said(i)
			none = false
		}
	}
	if none {
		return ""
	}
	return text + "."
}

func (s *survey) air() {
	level := max(s.worstOf(chlorine, oxygen), s.worstOf(ammonia, nitrite), s.level[fish])
	if s.hot() {
		level = max(level, s.level[temperature])
	}
	if s.value[acidity] >= 9 {
		level = max(level, act)
	}
	switch {
	case level == danger:
		s.do(level, "all the air you have; all the water over the tower; spray pond water onto the pond, never tap water.")
	case level == act:
		s.do(level, "more air, full on, and all the water over the tower.")
	case s.level[oxygen] == watch || s.hot():
		s.do(watch, "add air at night.")
	}
}

// lackOfOxygen says what a low reading asks for beside air.
func (s *survey) lackOfOxygen() {
	switch s.level[oxygen] {
	case danger:
		if s.level[chlorine] == inOrder {
			s.do(danger, "run in fresh dechlorinated cool water in a thin stream, no more than the change below.")
		}
		s.do(danger, "power cut? A battery air pump, or lift water with a bucket and pour it back from a height; and make a power cut plan.", "no medicine: most use up oxygen.")
	case act:
		s.do(act, "no medicine: most use up oxygen.")
	case watch:
		s.do(watch, "clean out sludge and clogged trays.")
	}
}

func (s *survey) chlorineOut() {
	level := s.level[chlorine]
	if level == inOrder {
		return
	}
	s.do(level, "shut the tap.")
	if s.in.Has("volume") {
		s.do(level, calculators.Text("dose dechlorinator for the whole volume, {3 L}, by its label. If the volume may be 20 % more, ask the label or the maker whether {3 L} may be dosed for.", s.volume, 1.2*s.volume))
	} else {
		s.do(level, "dose dechlorinator for the whole volume, by its label.")
	}
	s.do(level, "change no water until a test shows no chlorine; then test ammonia, which chloramine leaves behind.")
	if level == danger {
		s.do(level, "move fish only if safe water of like temperature is at hand.")
	}
	s.do(level, "ask the water supplier whether the tap has chlorine or chloramine, and how much.")
}

func (s *survey) feed() {
	level := max(s.worstOf(chlorine, oxygen), s.worstOf(ammonia, nitrite), s.worstOf(fish, temperature))
	if s.value[acidity] <= acidDanger {
		level = danger
	}
	switch {
	case level >= act:
		s.do(level, "stop feeding: no feed until all is better.")
	case s.cold():
		s.do(watch, "little or no feed.")
	case s.total >= totalMuch, s.total >= totalShows && s.guessed:
		s.do(watch, calculators.Text("stop feeding: so much total ammonia, {2 mg/L}, says that the filter does not keep up, toxic or not.", s.total))
	case s.worstOf(ammonia, nitrite) == watch, s.total >= totalShows:
		s.do(watch, "halve the feed.")
	case level == watch:
		s.do(watch, "less feed.")
	}
}

// fishSigns says what the fish themselves ask for, whatever the readings.
func (s *survey) fishSigns() {
	level := s.level[fish]
	if level == inOrder {
		return
	}
	others := inOrder
	for i, l := range s.level {
		if i != fish {
			others = max(others, l)
		}
	}
	if level == danger {
		if !s.tested(oxygen) {
			s.do(level, "count it as lack of oxygen until a test says otherwise, most of all at dawn.")
		}
		s.do(level, "look at the gills: brown ones mean nitrite.")
	}
	if missing := s.missing(buffer); missing != "" {
		s.do(level, "test too: "+missing+".")
	} else if others < act {
		s.do(level, "good readings do not clear the water: gill disease, parasites, poison and a night without air show in no kit.")
	}
	if s.in.Choice("fish") == "dying" {
		s.do(level, "take dead fish out; keep the freshest one cool, not frozen, and a bottle of the water for the vet.",
			"move no fish, nets or water to other ponds: some fish diseases must by law be reported.")
	}
}

// testFirst asks for what the toxic part of the ammonia hangs on.
func (s *survey) testFirst() {
	if !s.tested(ammonia) || !s.guessed {
		return
	}
	decides := acidity
	if s.tested(acidity) {
		decides = temperature
	}
	s.do(s.level[ammonia], "test "+kindName(decides)+" first and ask again: it is taken at its worst here.")
}

func (s *survey) changeWater(most float64, why string) {
	if s.needed == 0 {
		return
	}
	level := max(s.worstOf(ammonia, nitrite), s.worstOf(fish, oxygen))
	if s.value[acidity] <= acidDanger {
		level = danger
	}
	level = max(level, act)
	if s.now == 0 {
		s.do(level, calculators.Text("when the chlorine is out, change {2 %} of the water, with dechlorinated water.", 100*min(s.needed, most)))
	} else {
		s.do(level, s.changeText(most, why))
	}
	if s.needed > most {
		s.do(level, calculators.Text("it takes {2 %} in all, {0} such changes: test before each, repeat only while the reading asks for it.", 100*s.needed, water.ChangesToReplace(s.needed, most)))
	}
}

// changeText says how much water to change now, and what holds it to that.
func (s *survey) changeText(most float64, why string) string {
	text := calculators.Text("change part of the water: {2 %}", 100*s.now)
	if s.in.Has("volume") {
		text += calculators.Text(", {2 L}", s.now*s.volume)
	}
	text += ", with dechlorinated water of like temperature"
	if s.heatAct() || s.level[oxygen] == danger {
		text += " or cooler"
	}
	if s.level[acidity] != danger { // such a pH is what the change is to cure
		text += " and pH"
	}
	text += "."
	if why == "" && s.needed > most {
		why = "Never more than half at a time."
	}
	if why != "" {
		text += " " + why
	}
	return text
}

// oneAtATime holds back whoever would correct several readings together.
func (s *survey) oneAtATime() {
	wrong := 0
	for i, l := range s.level {
		if l >= act && i != fish {
			wrong++
		}
	}
	if wrong > 1 {
		s.do(s.worst, "one reading at a time, in this order; test again before you start on the next.")
	}
}

func (s *survey) ammoniaRules() {
	level := s.level[ammonia]
	if level == inOrder {
		return
	}
	if level >= act {
		s.do(level, "look for the cause: too much feed, a dead fish, a filter that is new, dry, blocked or was washed in tap water.")
	} else {
		s.do(level, "check KH and the flow through the filter.")
	}
	if s.level[acidity] == danger {
		const neutral = 7.5
		s.do(danger, calculators.Text("raise the pH slowly: at pH 7.5 this ammonia would be {2 mg/L} toxic; harm begins above 0.05.", s.total*s.fraction(neutral-s.ph)))
	} else if s.tested(acidity) {
		s.do(level, calculators.Text("do not raise the pH or the KH while ammonia shows: 0.3 of pH more makes {2} times as much toxic.", s.fraction(0.3)/s.fraction(0)))
	} else {
		s.do(level, "do not raise the pH or the KH while ammonia shows.")
	}
}

func (s *survey) nitriteRules() {
	level := s.level[nitrite]
	if level < act {
		return
	}
	_, wanted, _ := water.NitriteShield(s.value[nitrite])
	switch have := s.chloride(); {
	case have >= wanted:
		s.do(level, calculators.Text("add no salt: {2 mg/L} chloride is there, {2 mg/L} shields.", have, wanted))
	case s.chlorideKnown():
		s.do(level, calculators.Text("ask a vet about salt: {2 mg/L} chloride is there, {2 mg/L} would shield; the nitrite calculator says how much salt. Zeolite out first.", have, wanted))
	default:
		s.do(level, calculators.Text("check chloride and ask a vet about salt: {2 mg/L} chloride would shield; the nitrite calculator says how much salt. Zeolite out first.", wanted))
	}
	if level == danger {
		s.do(level, "gasping with good oxygen, and brown gills, are an alarm: the blood carries no oxygen.")
	}
}

func (s *survey) phAndBuffer() {
	level, ph := s.level[acidity], s.value[acidity]
	if ph > 8 && level > inOrder {
		if level == watch {
			s.do(level, "test pH at dawn and dusk.")
		} else {
			s.do(level, "find the cause of the high pH: algae, raw cement, lime. No acid: it kills faster.")
		}
		s.do(level, "shade the pond.")
		if !s.tested(ammonia) && level == watch {
			s.do(level, "test ammonia: at this pH much of it is toxic.")
		} else if !s.tested(ammonia) {
			s.do(level, "test ammonia at once: at this pH much of it is toxic.")
		}
		level = inOrder
	}
	if level > inOrder && !s.tested(buffer) {
		s.do(level, "test KH first.")
	}
	if s.value[buffer] > goodBuffer {
		if level > inOrder {
			s.do(level, "KH is not low: carbon dioxide may keep the pH down, or one of the two readings is wrong. Test both again.")
			s.airOut(level)
		} else if s.level[buffer] == watch {
			s.do(watch, "so much KH does no harm by itself: check pH, add no more.")
		}
		return
	}
	s.raiseBuffer(max(level, s.level[buffer]))
}

// airOut says when air may drive out the carbon dioxide that keeps the pH down.
func (s *survey) airOut(level int) {
	if s.tested(ammonia) && !s.ammoniaShows() && s.level[ammonia] == inOrder {
		s.do(level, "more air: it drives the carbon dioxide out.")
	} else {
		s.do(level, "air drives carbon dioxide out but raises the pH: more air step by step, testing ammonia and pH before each. If fish gasp, all the air at once.")
	}
}

// raiseBuffer says how KH and pH come up again, and when they may not.
func (s *survey) raiseBuffer(level int) {
	switch {
	case level == inOrder:
		return
	case level == danger:
		s.do(level, "pH crash: a little bicarbonate of soda (the bicarbonate calculator says how much) and small water changes, often.",
			"slowly: a fast rise turns ammonium into ammonia. Test pH and ammonia before each step.")
	case s.ammoniaShows() || s.level[ammonia] > inOrder:
		s.do(level, "leave KH and pH as they are until no ammonia shows; then raise KH in small steps over days.")
	case level == act:
		if !s.tested(ammonia) && !(s.value[acidity] >= alkaline) {
			s.do(level, "test ammonia before you raise KH.")
		}
		s.do(level, "raise KH in small steps over days, before any large change of water; the bicarbonate calculator says how much.")
	case s.level[buffer] == watch:
		s.do(level, "top up the buffer in small steps once no ammonia shows, and test KH weekly.")
	}
}

func (s *survey) warmthAndNitrate() {
	level := s.level[temperature]
	switch {
	case s.hot():
		s.do(level, "shade the pond from the sun.")
		if s.heatAct() {
			s.do(level, "cool slowly, with small changes of cooler water: 1 °C a day is plenty.")
		}
	case level == act:
		s.do(level, "keep one hole open in the ice without blows: melt it with a pan of warm water, and stay off the ice.",
			"lift pumps off the floor, so that the warmer deep layer stays.")
	case level == watch:
		s.do(level, "no handling: cold fish do not heal.")
	}
	switch s.level[nitrate] {
	case watch:
		s.do(watch, "a larger weekly water change, if the tap has less nitrate.")
	case act:
		s.do(act, "nitrate harms slowly: plan changes over weeks, review stock and feed, and make no big sudden change.")
	}
}

// help says whom to call.
func (s *survey) help() {
	level := max(s.worstOf(ammonia, nitrite), s.level[fish])
	switch {
	case level == danger || s.level[acidity] == danger:
		s.do(danger, "call a fish vet, and have the readings at hand.")
	case s.worst == danger:
		s.do(danger, "call a fish vet if fish lie over or die.")
	case s.quick() == act:
		s.do(act, "call a fish vet if fish gasp, lie over, die, or still hide tomorrow.")
	}
}

// quick is the urgency of what can kill within a day.
func (s *survey) quick() int {
	return max(s.worstOf(chlorine, oxygen), s.worstOf(ammonia, nitrite), s.worstOf(fish, acidity))
}

// hoursToTest returns after how many hours to test again: common practice.
func (s *survey) hoursToTest() float64 {
	switch {
	case s.worst == danger:
		return 1
	case s.quick() == act:
		return 12
	case s.worst > inOrder:
		return 24
	}
	return 7 * 24
}

func (s *survey) testAgain() {
	switch s.worst {
	case danger:
		s.do(danger, "test again one hour after each step; when no danger is left, every 12 hours.")
	case act:
		if s.quick() == act {
			s.do(act, "test again in 12 hours, and before each further change.")
		} else {
			s.do(act, "test again tomorrow, and before each further change.")
		}
	case watch:
		s.do(watch, "test again: ammonia and nitrite tomorrow and daily, pH and oxygen at the next dawn.")
	}
}
