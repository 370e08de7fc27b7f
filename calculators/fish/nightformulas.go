package fish

import "mereleaf/calculators"

func nightFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Uptake, young crucian carp", Says: "Routine uptake in mg per kg and hour, weight in grams, 15 to 30 °C; stretched for bigger fish.",
			TeX:    `R = 67.4\, W^{-0.193}\, e^{0.0562\,t}`,
			Source: "yamanaka2013", Locator: "abstract", Basis: "published", Function: "fish.CrucianUptake",
			Check: calculators.Explicit("R [mg/kg/h]: W [g] 10..5000, t [Cel] 15..30", CrucianUptake),
		},
		{
			Name: "Uptake, bighead carp", Says: "Resting uptake in mg per kg and hour, weight in grams; no range stated.",
			TeX:    `R = \tfrac{10^6}{24}\cdot 0.0053\, W^{-0.299}\, e^{0.048\,t}`,
			Source: "cooke-hill2010", Locator: "row Bighead carp", Basis: "published", Function: "fish.BigheadUptake",
			Check: calculators.Explicit("R [mg/kg/h]: W [g] 10..5000, t [Cel] 15..30", BigheadUptake),
		},
		{
			Name: "Uptake, carp family", Says: "Routine uptake in mg per kg and hour, weight in grams, q the factor of the temperature table, 5 to 30 °C.",
			TeX:    `R = \frac{1429\cdot 0.336\, W^{-0.20}}{q(t)}`,
			Source: "winberg1956", Locator: "group equations", Basis: "memory", Function: "fish.CyprinidUptake",
			Check: calculators.Explicit("R [mg/kg/h], q [1] factor of the temperature table: W [g] 10..5000, t [Cel] 5..30", func(weight, t float64) (uptake float64, factor func(float64) float64) {
				return CyprinidUptake(weight, t), KroghFactor
			}),
		},
		{
			Name: "Band of the uptakes", Says: "The least, middle and most of the three; at 2 kg and 20 °C they differ more than twofold.",
			TeX:   `R_\mathrm{low} = \min_i R_i,\quad R_\mathrm{high} = \max_i R_i`,
			Basis: "practice", Function: "fish.RestingUptake",
			Check: calculators.Explicit("R [mg/kg/h], R_i [mg/kg/h] uptake by formula i: - [g] 10..5000, - [Cel] 15..30", func(weight, t float64) (band Range, lines []float64) {
				return RestingUptake(weight, t), []float64{CrucianUptake(weight, t), BigheadUptake(weight, t), CyprinidUptake(weight, t)}
			}),
		},
		{
			Name: "Feed, whole pond", Says: "The upper end: all feed with its decay, 1.25 kg of oxygen per kg.",
			TeX:    `O_2 = 1.25\,F`,
			Source: "boyd-feed-od", Locator: "summary", Basis: "published", Function: "fish.FeedOxygenDemand",
			Check: calculators.Explicit("O_2 [g/d]: F [g/d] 10..500", func(feed float64) float64 { return feed * FeedOxygenDemand(0).High }),
		},
		{
			Name: "Plants and plankton", Says: "Clear water takes 0.05 mg/L an hour in the dark; thick water up to twelve times that (common practice).",
			TeX:    `O_2 = p\,V,\quad 0.05 \le p \le 12\cdot 0.05`,
			Source: "boyd1990", Locator: "text", Basis: "memory", Function: "fish.PondBreath",
			Check: calculators.Explicit("O_2 [mg/h] oxygen that plants and plankton take, p [mg/L/h] uptake of the water: V [L] 500..50000", func(volume float64) (oxygen float64, breath Range) {
				breath = Range{PondBreath("clear").Likely, PondBreath("green").Likely, PondBreath("thick").High}
				return breath.Likely * volume, breath
			}),
		},
		{
			Name: "Bottom", Says: "1 g/m² a day is the low end for ponds of 1 m, from a weak source; from nothing to three times as much.",
			TeX:    `O_2 = 1\cdot A`,
			Source: "sediment-note", Locator: "text", Basis: "published", Function: "fish.BottomDemand",
			Check: calculators.Explicit("O_2 [g/d] oxygen that the bottom takes: A [m2] area of the bottom 1..100", func(area float64) float64 { return area * BottomDemand().Likely }),
		},
		{
			Name: "Surface", Says: "Velocity of oxygen through a still surface, wind U in m/s; the other forms compared give nothing in calm air.",
			TeX:    `k = (0.30 + 0.028\,U^2)\,1.024^{t-20}\ \mathrm{m/d}`,
			Source: "delft3d-waq", Locator: "option 9", Basis: "published", Function: "fish.SurfaceVelocity",
			Check: calculators.Explicit("k [m/d]: U [m/s] 0..10, t [Cel] 0..35", SurfaceVelocity),
		},
		{
			Name: "Surface, wind alone", Says: "Another form; Sc is the Schmidt number of oxygen.",
			TeX:    `k = 0.0744\,U^2 \sqrt{\mathrm{Sc}_{20}/\mathrm{Sc}_t}\ \mathrm{m/d}`,
			Source: "delft3d-waq", Locator: "option 10", Basis: "memory", Function: "fish.WindVelocity",
			Check: calculators.Explicit("k [m/d], Sc_20 [1] Schmidt number of oxygen at a temperature of twenty degrees, Sc_t [1] the same at the water's temperature: U [m/s] 0..10, - [Cel] 0..35", func(wind, t float64) (velocity, at20, here float64) {
				return WindVelocity(wind, t), schmidt(20), schmidt(t)
			}),
		},
		{
			Name: "Surface, lakes", Says: "A third form.",
			TeX:    `k = (0.728\sqrt U - 0.317\,U + 0.0372\,U^2)\,1.024^{t-20}\ \mathrm{m/d}`,
			Source: "banks-herrera1977", Locator: "equation", Basis: "memory", Function: "fish.LakeVelocity",
			Check: calculators.Explicit("k [m/d]: U [m/s] 0..10, t [Cel] 0..35", LakeVelocity),
		},
		{
			Name: "Ranges", Says: "What knows nothing of each other, such as weight, breath and feed, seldom errs together: by how much each alone shifts the answer adds up in squares.",
			TeX:    `U = \sqrt{U_1^2 + U_2^2}`,
			Source: "jcgm-100-2008", Locator: "5.1.2", Basis: "published", Function: "fish.SumOfIndependent",
			Check: calculators.Explicit("U [g/h] shift of the answer: U_1 [g/h] shift by one part alone 0.5..5, U_2 [g/h] shift by another alone 0.1..3", func(a, b float64) float64 {
				sum := SumOfIndependent(Range{0, a, 2 * a}, Range{0, b, 2 * b})
				return sum.High - sum.Likely
			}),
		},
		{
			Name: "The night", Says: "Oxygen in well mixed water that loses a steady amount and takes up in proportion to what is missing.",
			TeX:   `C(t) = C_0 e^{-rt} + \tfrac{s}{r}(1 - e^{-rt})`,
			Basis: "practice", Function: "fish.OxygenAfter",
			Check: calculators.Explicit("C [mg/L]: C_0 [mg/L] oxygen at dusk 5..12, s [mg/L/h] what surface and devices add less what is used 0..2, r [1/h] share of what is missing that is taken up 0.05..0.5, t [h] time 0..12", OxygenAfter),
		},
		{
			Name: "Hours left", Says: "The same, solved for the time.",
			TeX:   `t = \tfrac1r \ln\!\left(1 + \frac{r\,(C_0 - C_L)}{r\,C_L - s}\right)`,
			Basis: "practice", Function: "fish.HoursUntil",
			Check: calculators.Explicit("t [h] time left: C_0 [mg/L] oxygen at the start 6..12, C_L [mg/L] oxygen at the limit 3..5, s [mg/L/h] what surface and devices add less what is used 0..0.5, r [1/h] share of what is missing that is taken up 0.2..1", HoursUntil),
		},
	}
}
