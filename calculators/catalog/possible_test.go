package catalog_test

import (
	"slices"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// most are the widest ranges in which a quantity of a kind can lie beside a pond, in
// the first of its units. A formula may well answer outside them, and so no test of
// the ends alone finds a nought too many. Kinds that have no such bounds, such as
// lengths, are left out.
func most() map[quantity.Kind][2]float64 {
	return map[quantity.Kind][2]float64{
		quantity.Share:         {0, 100},
		quantity.PH:            {0, 14},
		quantity.Temperature:   {-60, 150},   // °C; frost, and boiling water with something to spare
		quantity.Salinity:      {0, 264},     // g/kg, where water takes no more salt
		quantity.Concentration: {0, 500_000}, // mg/L, half of it the substance
		quantity.Duration:      {0, 366},     // d
		quantity.Velocity:      {0, 120},     // m/s, more than any gust
		quantity.Head:          {0, 100},     // m, more than any pump of a pond
		quantity.Density:       {1, 5000},    // kg/m3, more than any stone
		quantity.Power:         {0, 10_000},  // W
	}
}

// overWhole lists the shares that are no part of a whole: what an outlet carries
// beyond what it must, a pump's speed beside its rated one, and all holes of a bar
// beside its bore.
func overWhole() []string {
	return []string{"outlet spare", "overflow spare", "pump-working-point speed", "running-cost speed", "spray-bar share"}
}

// TestRangesArePossible catches a range that accepts what cannot be: water below the
// absolute zero, nine and a half times all holes blocked, a hose left on for years.
func TestRangesArePossible(t *testing.T) {
	seen := map[quantity.Kind]bool{}
	eachPlace(t, func(t *testing.T, c calculators.Calculator, p place) {
		bounds, bounded := most()[p.input.Kind]
		if p.input.Type != calculators.Single || !bounded || slices.Contains(overWhole(), c.ID+" "+p.name) {
			return
		}
		seen[p.input.Kind] = true
		written, stated := quantity.MustUnit(p.input.UnitCode()), quantity.MustUnit(p.input.Kind.Units()[0])
		low, high := written.Convert(p.input.Accept.Low, stated), written.Convert(p.input.Accept.High, stated)
		if low < bounds[0]-1e-9 || high > bounds[1]+1e-9 {
			t.Errorf("%s accepts %g to %g %s; no %s goes beyond %g to %g", p.name, low, high, p.input.Kind.Units()[0], p.input.Kind, bounds[0], bounds[1])
		}
	})
	for kind := range most() {
		if !seen[kind] {
			t.Errorf("no calculator asks for a %s", kind)
		}
	}
}
