package limits_test

import (
	"math"
	"testing"

	"mereleaf/calculators/limits"
)

// What differs from a mark in the last bit is at it, whichever way is worse, and what
// differs by a digit that anybody writes is not.
func TestAMarkIsReachedToTheLastBit(t *testing.T) {
	for _, c := range []struct {
		reading limits.Reading
		value   float64
		want    limits.Band
	}{
		{limits.Ammonia, math.Nextafter(limits.AmmoniaAct, 0), limits.Act},
		{limits.Ammonia, 0.0499999, limits.Watch},
		{limits.Oxygen, math.Nextafter(limits.OxygenAct, 9), limits.BandOf(limits.Oxygen, limits.OxygenAct)},
		{limits.Oxygen, limits.OxygenAct + 1e-6, limits.Watch},
	} {
		if got := limits.BandOf(c.reading, c.value); got != c.want {
			t.Errorf("%v of %v is %v, not %v", c.value, c.reading, got, c.want)
		}
	}
}
