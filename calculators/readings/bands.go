// Package readings weighs a whole set of test readings and what the fish do, and
// says in order what is dangerous now, what to do today and what to watch.
//
// The bands are those of package limits: common practice, set between published
// limits.
package readings

import (
	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/limits"
)

// The urgencies, from none to most.
const (
	inOrder = limits.Good
	watch   = limits.Watch
	act     = limits.Act
	danger  = limits.Emergency
)

// What is read, in the order of what kills fastest.
const (
	chlorine    = limits.Chlorine
	oxygen      = limits.Oxygen
	fish        = limits.Behaviour
	ammonia     = limits.Ammonia
	nitrite     = limits.Nitrite
	acidity     = limits.PH
	buffer      = limits.Alkalinity
	temperature = limits.Temperature
	nitrate     = limits.Nitrate
	kinds       = nitrate + 1 // how many
)

// totalMuch is the total ammonia, mg/L as nitrogen, that says in any water that
// the filter does not keep up: common practice.
const totalMuch = 1.0

// bandsInWords says where the bands of a reading begin, and whose limits they lie
// between.
func bandsInWords(kind int) string {
	text := calculators.Text
	switch kind {
	case chlorine:
		return text("any that shows: act; from {danger mg/L}: danger (toxic above that and even below: design manual of the Water Environment Federation)", limits.ChlorineEmergency)
	case oxygen:
		return text("at dawn from {watch mg/L} down: watch; {act ~}: act; {danger ~}: danger (good growth above {act ~}: Texas fish laboratory; stress below {danger ~}: New South Wales)",
			limits.OxygenWatch, limits.OxygenAct, limits.OxygenEmergency)
	case ammonia:
		return text("from {watch mg/L}: watch; {act ~}: act; {danger ~}: danger (gill damage above {act ~}: Florida extension sheet; Europe's limit for carp waters {europe ~} as NH3, from memory)",
			limits.AmmoniaWatch, limits.AmmoniaAct, limits.AmmoniaEmergency, limits.AmmoniaEurope)
	case nitrite:
		return text("from {watch mg/L}: watch; {act ~}: act; {danger ~}: danger (no effect below {none ~}: a handout; British Columbia {columbia ~} with little chloride, from memory)",
			limits.NitriteWatch, limits.NitriteAct, limits.NitriteEmergency, limits.NitriteNoEffect, limits.NitriteLowChloride)
	case acidity:
		return text("from {high ~}: watch; {higher ~}: act; from {low ~} down: watch; {lower ~}: act; {crash ~}: danger (good from {good ~} to {best ~}: Texas fish laboratory)",
			limits.PHHighWatch, limits.PHHighAct, limits.PHLowWatch, limits.PHLowAct, limits.PHLowEmergency, limits.PHGoodLow, limits.PHGoodHigh)
	case buffer:
		return text("from {watch mg/L} down: watch; {act ~}: act; from {high ~} up: watch (danger of a pH crash below {act ~}: an exotic animal hospital)",
			limits.AlkalinityLowWatch, limits.AlkalinityLowAct, limits.AlkalinityHighWatch)
	case temperature:
		return text("from {warm Cel}: watch; {hot Cel}: act; from {cool Cel} down: watch; {cold Cel}: act (comfort to {warm Cel}: a fish vet's page; Europe's limit for carp waters {hot Cel}, from memory)",
			limits.WarmWatch, limits.WarmAct, limits.ColdWatch, limits.ColdAct)
	case nitrate:
		return text("from {watch mg/L}: watch; {act ~}: act (trade standard {watch ~}, from memory; no harm to warm-water fish to about {harm 1}: Colorado)",
			limits.NitrateWatch, limits.NitrateAct, limits.NitrateNoHarm*chemistry.NitratePerNitrogen)
	}
	return "what fish do counts more than any kit"
}

// said names the reading with its value, for the verdict and the working.
func (s *survey) said(kind int) string {
	text := ""
	switch kind {
	case chlorine:
		text = "chlorine {chlorine 2 mg/L}"
	case oxygen:
		text = "oxygen {oxygen 2 mg/L}"
	case ammonia:
		text = "toxic ammonia {toxic 2 mg/L} as nitrogen"
		if s.lone {
			return calculators.Text("total ammonia {total 2 mg/L} as nitrogen, and no pH", s.total)
		}
		if s.guessed {
			text = "toxic ammonia up to {toxic 2 mg/L} as nitrogen, for all you tested"
		}
	case nitrite:
		text = "nitrite {nitrite 2 mg/L} as nitrogen"
	case acidity:
		text = "pH {ph ~3}"
	case buffer:
		text = "KH {kh ~3 mg/L} as CaCO3"
	case temperature:
		text = "water at {temperature ~3 Cel}"
	case nitrate:
		text = "nitrate {nitrate ~3 mg/L} as NO3"
	default:
		return s.fishSaid()
	}
	return calculators.Text(text, s.value[kind])
}

func (s *survey) fishSaid() string {
	switch s.in.Choice("fish") {
	case "dying":
		return "fish die or lie over"
	case "gasping":
		return "fish gasp"
	case "hiding":
		return "fish hide or clamp their fins"
	}
	return "fish as always"
}
