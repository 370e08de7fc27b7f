// Package limits is the one table of the limits by which water is judged: where
// the bands of common practice begin, and what others have published about the
// same readings; and of the weights that one person lifts. Calculators, the log of readings and their marks, advice and
// help read it; no other package writes such a number.
//
// The bands are common practice, set between published limits that differ up to
// a hundredfold: some protect the rarest wild larva, some a tough farm fish. A
// reading on the line between two bands belongs to the worse one.
package limits

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
)

// Band is how urgent a reading is.
type Band = int

// The bands, from the best to the worst.
const (
	Good Band = iota
	Watch
	Act
	Emergency
)

// Reading is what is tested, in the order of what kills fastest.
type Reading = int

// The readings, with what their bands count.
const (
	Chlorine      Reading = iota // total, mg/L as Cl2
	Oxygen                       // mg/L, at dawn
	Behaviour                    // what the fish do, which has no figure
	Ammonia                      // un-ionised, mg/L as nitrogen
	Nitrite                      // mg/L as nitrogen
	PH                           //
	Alkalinity                   // KH, mg/L as CaCO3
	Temperature                  // degrees Celsius
	Nitrate                      // mg/L as NO3
	TotalAmmonia                 // mg/L as nitrogen
	CarbonDioxide                // mg/L
	Salt                         // g/L
	Lift                         // kg, in the hands of one person
)

// As is what the figure of a limit counts, where that is not what the bands of
// its reading count.
type As uint8

// What figures count.
const (
	AsBands As = iota
	AsN
	AsNH3
	AsNO2
	AsNO3
	AsChloride // of salt
)

// Side is on which side of a limit the band lies that begins there. A limit that
// no band begins at has none: others have published it.
type Side uint8

// The sides.
const (
	NoSide Side = iota
	Above
	Below
)

// Limit is a row of the table.
type Limit struct {
	_       calculators.Incomparable
	Reading Reading
	Stated  float64 // in the unit of the reading, as As counts
	As      As
	Side    Side
	Band    Band // that begins there

	Label   string // of its mark; "" if no scale shows it
	Source  string // key in content/sources.json
	Locator string
	Basis   string // published, practice, memory
}

// Value returns the limit in what the bands of its reading count.
func (l Limit) Value() float64 {
	switch l.As {
	case AsNH3:
		return l.Stated / chemistry.AmmoniaPerNitrogen
	case AsNO2:
		return l.Stated / chemistry.NitritePerNitrogen
	case AsN:
		return l.Stated * chemistry.NitratePerNitrogen // the bands of nitrate alone count NO3
	case AsChloride:
		return l.Stated * chemistry.SaltPerChloride
	}
	return l.Stated
}

// Of returns the rows of a reading, in the order of the table.
func Of(r Reading) []Limit {
	all := table()
	first := 0
	for first < len(all) && all[first].Reading != r {
		first++
	}
	end := first
	for end < len(all) && all[end].Reading == r {
		end++
	}
	return all[first:end]
}

// BandOf returns the band of a reading, in what its bands count. What is not a
// number, because it was not read, is Good.
func BandOf(r Reading, v float64) Band {
	never := math.Inf(1)
	above := [...]float64{Watch: never, Act: never, Emergency: never}
	below := above
	for _, l := range Of(r) {
		switch l.Side {
		case Above:
			above[l.Band] = l.Stated
		case Below:
			below[l.Band] = -l.Stated
		}
	}
	return max(Level(v, above[Watch], above[Act], above[Emergency]), Level(-v, below[Watch], below[Act], below[Emergency]))
}

// Level returns the band of a value that is worse the higher it is. The bands
// begin at the three marks, in rising order, each with its own mark; +Inf for a
// band that there is not. All are in one unit. A value that is not a number is
// Good. For a value that is worse the lower it is, turn the signs of all four.
//
// What only the rounding of a sum keeps from a mark is at it: nobody is to read 0.050
// and be told that it is below 0.05.
func Level(value, watchFrom, actFrom, emergencyFrom float64) Band {
	value += 1e-9 * math.Abs(value)
	switch {
	case value >= emergencyFrom:
		return Emergency
	case value >= actFrom:
		return Act
	case value >= watchFrom:
		return Watch
	}
	return Good
}

// Marks returns the limits of a reading that a scale shows, in rising order and
// in what its bands count.
func Marks(r Reading) []calculators.Mark {
	var marks []calculators.Mark
	for _, l := range Of(r) {
		if l.Label != "" {
			marks = append(marks, calculators.Mark{Value: l.Value(), Label: l.Label, Source: l.Source, Locator: l.Locator, Basis: l.Basis})
		}
	}
	return calculators.Rising(marks)
}
