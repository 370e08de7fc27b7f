// Package catalog is the one place that lists the handbook's calculators.
package catalog

import (
	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/media"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/pond"
	"mereleaf/calculators/readings"
	"mereleaf/calculators/stack"
	"mereleaf/calculators/tower"
	"mereleaf/calculators/water"
)

// All returns every calculator, in the order in which a keeper needs them.
func All() calculators.Set {
	return calculators.NewSet(
		readings.Readings(),
		tower.Tower(),
		pond.Volume(),
		pond.Units(),
		pond.Filling(),
		pond.Liner(),
		fish.Weight(),
		fish.FeedWaste(),
		fish.OxygenNight(),
		fish.PowerCut(),
		fish.StockingRules(),
		fish.FishGrowth(),
		fish.NewFish(),
		fish.FishBag(),
		fish.Ice(),
		water.FreeAmmonia(),
		water.AmmoniaAfterPH(),
		water.Nitrite(),
		water.Nitrate(),
		water.HardnessUnits(),
		water.BicarbonateDose(),
		water.CarbonDioxideInWater(),
		water.DissolvedOxygen(),
		water.WaterChange(),
		water.Chlorine(),
		water.HoseLeftOn(),
		water.Salt(),
		water.EvaporationOrLeak(),
		water.CopperZinc(),
		media.Volume(),
		media.Maturing(),
		media.FishlessStart(),
		media.Compare(),
		media.FoamStage(),
		media.AlkalinityUse(),
		media.UVUnit(),
		plumbing.HolesPerTray(),
		plumbing.DrillTemplate(),
		plumbing.PumpWorkingPoint(),
		plumbing.TwoPumps(),
		plumbing.RunningCost(),
		plumbing.PipeFriction(),
		plumbing.SprayBar(),
		plumbing.CollectorPipe(),
		plumbing.GravityOutlet(),
		plumbing.Overflow(),
		stack.Weight(),
		stack.Tipping(),
	)
}
