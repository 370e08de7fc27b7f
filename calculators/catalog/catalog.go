// Package catalog is the one place that lists the handbook's calculators.
package catalog

import (
	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/water"
)

// All returns every calculator, in the order in which a keeper needs them.
func All() calculators.Set {
	return calculators.NewSet(
		fish.Weight(),
		fish.FeedWaste(),
		water.FreeAmmonia(),
		water.DissolvedOxygen(),
		plumbing.HolesPerTray(),
		plumbing.PumpWorkingPoint(),
	)
}
