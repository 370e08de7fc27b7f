// Package readings weighs a whole set of test readings and what the fish do, and
// says in order what is dangerous now, what to do today and what to watch.
//
// The bands are common practice, set between published limits that differ up to
// a hundredfold: some protect the rarest wild larva, some a tough farm fish. A
// reading on the line between two bands belongs to the worse one.
package readings

import (
	"math"

	"mereleaf/calculators"
)

// The urgencies, from none to most.
const (
	inOrder = iota
	watch
	act
	danger
)

// What is read, in the order of what kills fastest.
const (
	chlorine    = iota // total, mg/L
	oxygen             // mg/L
	fish               // what they do
	ammonia            // un-ionised, mg/L as nitrogen
	nitrite            // mg/L as nitrogen
	acidity            // pH
	buffer             // KH, mg/L as CaCO3
	temperature        // degrees Celsius
	nitrate            // mg/L as NO3
	kinds              // how many
)

// Where bands begin that advice needs by themselves too, in the units above.
const (
	ammoniaGood = 0.02
	totalShows  = 0.25 // total ammonia as nitrogen: the first step of most kits
	totalMuch   = 1.0  // as much in any water says that the filter does not keep up
	nitriteAct  = 0.15
	leastBuffer = 50.0
	goodBuffer  = 100.0
	acidAct     = 6.8
	alkaline    = 8.5
	acidDanger  = 6.0
	hotWatch    = 25.0
	coldWatch   = 10.0
)

// Level returns the urgency, 0 (in order), 1 (watch), 2 (act) or 3 (danger), of
// a value that is worse the higher it is. The bands begin at the three marks, in
// rising order, each with its own mark; +Inf for a band that there is not. All
// are in one unit. A value that is not a number, because it was not read, is 0.
// For a value that is worse the lower it is, turn the signs of all four.
func Level(value, watchFrom, actFrom, dangerFrom float64) int {
	switch {
	case value >= dangerFrom:
		return danger
	case value >= actFrom:
		return act
	case value >= watchFrom:
		return watch
	}
	return inOrder
}

// bandsOf returns where the watch, act and danger bands of a reading begin, by
// common practice: for what is worse the higher it is, and for what is worse the
// lower it is. +Inf and -Inf stand for a band that there is not.
func bandsOf(kind int) (up, down [danger]float64) {
	never := math.Inf(1)
	up = [danger]float64{never, never, never}
	down = [danger]float64{-never, -never, -never}
	switch kind {
	case chlorine:
		up = [danger]float64{never, math.SmallestNonzeroFloat64, 0.02}
	case oxygen:
		down = [danger]float64{7, 5, 3}
	case ammonia:
		up = [danger]float64{ammoniaGood, 0.05, 0.2}
	case nitrite:
		up = [danger]float64{0.05, nitriteAct, 0.5}
	case acidity:
		up = [danger]float64{alkaline, 9, never}
		down = [danger]float64{7, acidAct, acidDanger}
	case buffer:
		up[0] = 200
		down = [danger]float64{goodBuffer, leastBuffer, -never}
	case temperature:
		up = [danger]float64{hotWatch, 28, never}
		down = [danger]float64{coldWatch, 4, -never}
	case nitrate:
		up = [danger]float64{50, 100, never}
	}
	return up, down
}

// levelOf returns the urgency of a reading, by the bands of common practice.
func levelOf(kind int, v float64) int {
	up, down := bandsOf(kind)
	return max(Level(v, up[0], up[1], up[2]), Level(-v, -down[0], -down[1], -down[2]))
}

// limits says where the bands of a reading begin, and whose limits they lie
// between.
func limits(kind int) string {
	switch kind {
	case chlorine:
		return "any that shows: act; from 0.02 mg/L: danger (toxic above 0.02 and even below: design manual of the Water Environment Federation)"
	case oxygen:
		return "at dawn from 7 mg/L down: watch; 5: act; 3: danger (good growth above 5: Texas fish laboratory; stress below 3: New South Wales)"
	case ammonia:
		return "from 0.02 mg/L: watch; 0.05: act; 0.2: danger (gill damage above 0.05: Florida extension sheet; Europe's limit for carp waters 0.025 as NH3, from memory)"
	case nitrite:
		return "from 0.05 mg/L: watch; 0.15: act; 0.5: danger (no effect below 0.55: a handout; British Columbia 0.06 with little chloride, from memory)"
	case acidity:
		return "from 8.5: watch; 9: act; from 7 down: watch; 6.8: act; 6: danger (good from 6.5 to 9: Texas fish laboratory)"
	case buffer:
		return "from 100 mg/L down: watch; 50: act; from 200 up: watch (danger of a pH crash below 50: an exotic animal hospital)"
	case temperature:
		return "from 25 °C: watch; 28 °C: act; from 10 °C down: watch; 4 °C: act (comfort to 25 °C: a fish vet's page; Europe's limit for carp waters 28 °C, from memory)"
	case nitrate:
		return "from 50 mg/L: watch; 100: act (trade standard 50, from memory; no harm to warm-water fish to about 400: Colorado)"
	}
	return "what fish do counts more than any kit"
}

// said names the reading with its value, for the verdict and the working.
func (s *survey) said(kind int) string {
	text := ""
	switch kind {
	case chlorine:
		text = "chlorine {2 mg/L}"
	case oxygen:
		text = "oxygen {2 mg/L}"
	case ammonia:
		text = "toxic ammonia {2 mg/L} as nitrogen"
		if s.guessed {
			text = "toxic ammonia up to {2 mg/L} as nitrogen, for all you tested"
		}
	case nitrite:
		text = "nitrite {2 mg/L} as nitrogen"
	case acidity:
		text = "pH {~3}"
	case buffer:
		text = "KH {~3 mg/L} as CaCO3"
	case temperature:
		text = "water at {~3 Cel}"
	case nitrate:
		text = "nitrate {~3 mg/L} as NO3"
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
