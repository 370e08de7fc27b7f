package water

import "mereleaf/calculators"

// spoonful is what a measure holds of a powder, g: as people fill it, from the least to
// the most (common practice), and as a table of foods states it (usda-fdc, from
// memory).
type spoonful struct{ least, stated, most float64 }

// teaspoons and cups of the kitchen, level. Salt runs from coarse grains to fine
// ones. Figure set water-spoon-weights.
func bicarbonateTeaspoon() spoonful { return spoonful{4, 4.6, 6} }
func saltCup() spoonful             { return spoonful{180, 292, 340} }

// add adds how many of a measure hold a mass in g.
func (s spoonful) add(r *calculators.Result, output string, mass float64) {
	r.Between(output, mass/s.most, mass/s.stated, mass/s.least)
}
