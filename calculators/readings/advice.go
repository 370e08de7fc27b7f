package readings

import (
	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// do adds what to do at an urgency; nothing where nothing is wrong.
func (s *survey) do(level int, sentences ...string) {
	if level > inOrder {
		s.todo[level] = append(s.todo[level], sentences...)
	}
}

// say adds one thing to do, with numbers in its gaps.
func (s *survey) say(level int, sentence string, numbers ...float64) {
	s.do(level, calculators.Text(sentence, numbers...))
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
	s.nitriteRules()
	s.changeWater(most, why)
	s.oneAtATime()
	s.ammoniaRules()
	s.phAndBuffer()
	s.warmthAndNitrate()
	s.help()
	s.testAgain()
	if s.lone && s.ammoniaShows() && s.worst < act {
		s.r.Advise(testPH)
	}
	s.r.Advise(s.verdict())
	for level := danger; level > inOrder; level-- {
		for _, what := range s.todo[level] {
			s.r.Advise(quantity.Put(when(level), "what", what))
		}
	}
}

// when says how soon something is to be done.
func when(level int) string {
	switch level {
	case danger:
		return "Now: {what}"
	case act:
		return "Today: {what}"
	}
	return "These days: {what}"
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
	var all list
	for level := s.worst; level > inOrder; level-- {
		if reasons := s.reasons(level); reasons != "" {
			all.add(" ", reasons)
		}
	}
	return all.text
}

// reasons names the readings of an urgency, in a sentence of their own.
func (s *survey) reasons(level int) string {
	var said list
	for i, l := range s.level {
		if l == level {
			said.add("; ", s.said(i))
		}
	}
	text := "Watch: {readings}."
	switch {
	case said.text == "":
		return ""
	case level == danger:
		text = "Danger now: {readings}."
	case level == act:
		text = "Act today: {readings}."
	}
	return quantity.Put(text, "readings", said.text)
}

func (s *survey) air() {
	level := max(s.worstOf(chlorine, oxygen), s.worstOf(ammonia, nitrite), s.level[fish])
	if s.hot() {
		level = max(level, s.level[temperature])
	}
	if s.value[acidity] >= limits.PHHighAct {
		level = max(level, act)
	}
	switch {
	case s.full():
		s.do(level, "the water is full of oxygen, and more air adds none; what runs stays on.")
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
	if s.full() {
		s.do(s.level[oxygen], "only cooler water holds more oxygen: shade, less feed, and in the end fewer fish.", "no medicine: most use up oxygen.")
		return
	}
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
		s.say(level, "dose dechlorinator for the whole volume, {volume 3 L}, by its label. If the volume may be {error %} more, ask the label or the maker whether {more 3 L} may be dosed for.",
			s.volume, limits.VolumeError, (1+limits.VolumeError/100)*s.volume)
	} else {
		s.do(level, "dose dechlorinator for the whole volume, by its label.")
	}
	s.do(level, "change no water until a test shows no chlorine; then test ammonia, which chloramine leaves behind.")
	if level == danger {
		s.do(level, "move fish only if safe water of like temperature is at hand.")
	}
	s.do(level, "ask the water supplier whether the tap has chlorine or chloramine, and how much.")
}

// feed says how much less to feed, by the bands of what harms: not because some
// ammonia or nitrite shows, for a filter that works as designed leaves a little.
func (s *survey) feed() {
	toxic := limits.BandOf(ammonia, s.value[ammonia])
	level := max(s.worstOf(chlorine, oxygen), s.level[nitrite], toxic, s.level[fish])
	if s.value[acidity] <= limits.PHLowEmergency {
		level = danger
	}
	borne := s.level[nitrite] == watch && s.chlorideKnown() && water.NitriteBorne(s.value[nitrite], s.chloride())
	switch {
	case level >= act:
		s.do(level, "stop feeding: no feed until all is better.")
	case s.heatAct() && s.value[oxygen] > limits.OxygenAct:
		s.say(act, "little feed, in the morning, as long as oxygen at dawn stays above {act mg/L}.", limits.OxygenAct)
	case s.level[temperature] == act:
		s.do(act, "stop feeding: no feed until all is better.")
	case s.cold():
		s.do(watch, "little or no feed.")
	case s.total >= totalMuch, s.ammoniaShows() && (s.guessed || s.lone):
		s.say(watch, "stop feeding: so much total ammonia, {total 2 mg/L}, says that the filter does not keep up, toxic or not.", s.total)
	case toxic == watch, s.level[nitrite] == watch && !borne, s.total > limits.MatureAmmonia:
		s.do(watch, "halve the feed.")
	case borne:
		s.do(watch, "feed as usual while nitrite does not rise: the chloride shields.")
	case max(level, s.level[temperature]) == watch:
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
		s.do(level, quantity.Put("test too: {missing}.", "missing", missing))
	} else if others < act {
		s.do(level, "good readings do not clear the water: gill disease, parasites, poison and a night without air show in no kit.")
	}
	if s.in.Choice("fish") == "dying" {
		s.do(level, "take dead fish out; keep the freshest one cool, not frozen, and a bottle of the water for the vet.",
			"move no fish, nets or water to other ponds: some fish diseases must by law be reported.")
	}
}

// testPH asks for what the toxic part of the ammonia hangs on most.
const testPH = "Test pH and temperature now, and ask again: total ammonia alone does not tell whether it harms."

// testFirst asks for what the toxic part of the ammonia hangs on.
func (s *survey) testFirst() {
	switch {
	case s.lone && s.ammoniaShows() && s.worst >= act:
		s.do(s.worst, "test pH and temperature too, and ask again: total ammonia alone does not tell whether it harms.")
	case s.tested(ammonia) && !s.lone && s.guessed:
		s.do(s.level[ammonia], "test temperature first and ask again: it is taken at its worst here.")
	}
}

func (s *survey) changeWater(most float64, why string) {
	level := max(s.worstOf(ammonia, nitrite), s.worstOf(fish, oxygen))
	if s.value[acidity] <= limits.PHLowEmergency {
		level = danger
	}
	level = max(level, act)
	s.freshWater(level)
	if s.needed == 0 {
		return
	}
	switch {
	case s.now == 0:
		s.say(level, "when the chlorine is out, change {part 2 %} of the water, with dechlorinated water.", 100*min(s.needed, most))
	case s.in.Has("volume"):
		s.say(level, "change part of the water: {part 2 %}, {water 2 L}.", 100*s.now, s.now*s.volume)
	default:
		s.say(level, "change part of the water: {part 2 %}.", 100*s.now)
	}
	if s.now > 0 {
		s.newWater(level)
		if why == "" && s.needed > most {
			why = "never more than half at a time."
		}
		if why != "" {
			s.do(level, why)
		}
	}
	if s.needed > most {
		s.say(level, "it takes {all 2 %} in all, {changes 0} such changes: test before each, repeat only while the reading asks for it.", 100*s.needed, water.ChangesToReplace(s.needed, most))
	}
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
	const neutral, step = 7.5, 0.3
	switch {
	case s.level[acidity] == danger:
		s.say(danger, "raise the pH slowly: at pH {neutral ~} this ammonia would be {toxic 2 mg/L} toxic; harm begins above {harm mg/L}.", neutral, s.total*s.fraction(neutral-s.ph), limits.AmmoniaAct)
	case s.lone:
		s.do(level, "do not raise the pH or the KH.")
	case s.toxicGood():
		s.say(level, "raise pH or KH only in small daily steps, testing ammonia and pH before each, while the toxic part stays below {good mg/L}.", limits.AmmoniaWatch)
	default:
		s.say(level, "do not raise the pH or the KH: {step ~} of pH more makes {times 2} times as much toxic.", step, s.fraction(step)/s.fraction(0))
	}
}

func (s *survey) nitriteRules() {
	level := s.level[nitrite]
	if level < act {
		return
	}
	_, wanted, _ := water.NitriteShield(s.value[nitrite])
	urgent := level == danger || s.level[fish] == danger
	switch have := s.chloride(); {
	case have >= wanted:
		s.say(level, "add no salt: {have 2 mg/L} chloride is there, {wanted 2 mg/L} shields.", have, wanted)
	case urgent && s.chlorideKnown():
		s.say(danger, "give chloride at once, and ask a vet about salt in the same minute: {have 2 mg/L} chloride is there, {wanted 2 mg/L} would shield; the nitrite calculator says how much salt. Zeolite out first.", have, wanted)
	case urgent:
		s.say(danger, "give chloride at once: {wanted 2 mg/L} would shield; the nitrite calculator says how much salt. Zeolite out first. In the same minute check chloride and ask a vet about salt.", wanted)
	case s.chlorideKnown():
		s.say(level, "ask a vet about salt: {have 2 mg/L} chloride is there, {wanted 2 mg/L} would shield; the nitrite calculator says how much salt. Zeolite out first.", have, wanted)
	default:
		s.say(level, "check chloride and ask a vet about salt: {wanted 2 mg/L} chloride would shield; the nitrite calculator says how much salt. Zeolite out first.", wanted)
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
	if s.value[buffer] > limits.AlkalinityLowWatch {
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
		s.crash()
	case s.level[ammonia] > inOrder && !s.toxicGood():
		s.say(level, "leave KH and pH as they are until the toxic part of the ammonia is below {good mg/L}; then raise KH in small daily steps.", limits.AmmoniaWatch)
	case level == act:
		if !s.tested(ammonia) && !(s.value[acidity] >= limits.PHHighWatch) {
			s.do(level, "test ammonia before you raise KH.")
		}
		s.do(level, "raise KH in small steps over days, before any large change of water; the bicarbonate calculator says how much.")
	case s.level[buffer] == watch:
		s.do(level, "top up the buffer in small daily steps, testing ammonia before each, and test KH weekly.")
	}
}

// crash says how a pH that has crashed comes up: the one rule for it, which the
// calculators of ammonia and the chapter on pH say too.
func (s *survey) crash() {
	if s.in.Has("volume") {
		s.say(danger, "pH crash: small water changes, often, a tenth at most; an hour after one pure bicarbonate of soda for {step mg/L} of KH, {dose 2 g} for {volume 3 L}: so much a day, the first day's in four parts, hours apart.",
			limits.KHStepCrash, water.CrashDose(s.volume), s.volume)
	} else {
		const cubicMetre = 1000
		s.say(danger, "pH crash: small water changes, often, a tenth at most; an hour after one pure bicarbonate of soda for {step mg/L} of KH, {dose 2 g} for every {volume 0 L}: so much a day, the first day's in four parts, hours apart.",
			limits.KHStepCrash, water.CrashDose(cubicMetre), cubicMetre)
	}
	s.say(danger, "test pH and ammonia before each part: a fast rise turns ammonium into ammonia. Wait if the pH has gone up by more than {step ~} or the toxic part is {good mg/L} or more.", limits.PHStepDay, limits.AmmoniaWatch)
}

func (s *survey) warmthAndNitrate() {
	level := s.level[temperature]
	switch {
	case s.hot():
		s.do(level, "shade the pond from the sun.")
		if s.heatAct() {
			s.say(level, "cool slowly, with small changes of cooler water: {step K} a day is plenty.", limits.WarmthStep)
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
	case s.worst == danger, s.lone && s.ammoniaShows():
		return limits.RetestEmergency
	case s.quick() == act:
		return limits.RetestAct
	case s.worst > inOrder:
		return limits.RetestWatch
	}
	return limits.RetestGood
}

func (s *survey) testAgain() {
	switch s.worst {
	case danger:
		s.say(danger, "test again one hour after each step; when no danger is left, every {hours 0|hour|hours}.", limits.RetestAct)
	case act:
		if s.quick() == act {
			s.say(act, "test again in {hours 0|hour|hours}, and before each further change.", limits.RetestAct)
		} else {
			s.do(act, "test again tomorrow, and before each further change.")
		}
	case watch:
		s.do(watch, "test again: ammonia and nitrite tomorrow and daily, pH and oxygen at the next dawn.")
	}
}
