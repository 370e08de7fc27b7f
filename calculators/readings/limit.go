package readings

import "math"

// Limit is where a band of a reading begins; a reading on it is in the band.
type Limit struct {
	Value float64
	Below bool   // the band lies below the value, not above it
	Level int    // 1 (watch), 2 (act today) or 3 (danger now)
	Word  string // the level in words
}

// Limits returns the bands by which the calculator judges an input, or its
// output "toxic", from the mildest to the worst; none for what it does not judge
// by bands. They are in the units of the bands: mg/L, ammonia and nitrite as
// nitrogen, nitrate as NO3, KH as CaCO3, degrees Celsius. Total ammonia has one:
// from there a ripe filter leaves none to read.
func Limits(name string) []Limit {
	kind := kinds
	switch name {
	case "tan":
		return []Limit{{Value: firstKitStep, Level: watch, Word: levelWord(watch)}}
	case "toxic":
		kind = ammonia
	case "nitrite":
		kind = nitrite
	case "nitrate":
		kind = nitrate
	case "ph":
		kind = acidity
	case "kh":
		kind = buffer
	case "temperature":
		kind = temperature
	case "oxygen":
		kind = oxygen
	}
	var all []Limit
	up, down := bandsOf(kind)
	for i := range up {
		for _, l := range []Limit{{Value: down[i], Below: true}, {Value: up[i]}} {
			if !math.IsInf(l.Value, 0) {
				l.Level, l.Word = i+1, levelWord(i+1)
				all = append(all, l)
			}
		}
	}
	return all
}
