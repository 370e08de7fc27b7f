package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Maturing declares the calculator of how long a new filter takes.
func Maturing() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "maturing",
		Inputs:  append(feedInputs(), maturingInputs()...),
		Outputs: maturingOutputs(),
		Compute: computeMaturing,
	}
	if calculators.Documented {
		c.Title = "How long a new filter takes"
		c.Question = "When do ammonia and nitrite peak in a new filter, how high, and when are they down?"
		c.Part = "media"
		c.Formulas = maturingFormulas()
		c.Cautions = []string{
			"Go by the test kit, never by these days: a filter is mature when ammonia and nitrite stay down for two weeks at full feed, not on a date.",
			"Ammonia and nitrite kill without being seen. Test both every day until they stay down, and change water whenever either shows.",
			"Fresh water must be free of chlorine and chloramine and near the pond's temperature and pH. Ask a vet before you salt against nitrite, and about fish that gasp or lie still.",
		}
		c.Example = calculators.Example{
			Story: "Tomas starts a filter on his 1,200 L tub at 18 °C with two handfuls of old media from Ines. He feeds 4 g a day and changes a tenth of the water each week.",
			Given: []calculators.Arg{
				{Name: "feed", Value: "4 g/d"}, {Name: "volume", Value: "1200 L"}, {Name: "temperature", Value: "18 Cel"},
				{Name: "seeding", Value: "some"}, {Name: "change", Value: "10 %"},
			},
		}
		tub := []calculators.Arg{{Name: "feed", Value: "4 g/d"}, {Name: "volume", Value: "1200 L"}, {Name: "temperature", Value: "18 Cel"}}
		c.Lookup = calculators.Lookup{
			Caption: "Days until both are down, 4 g of feed a day in 1,200 L",
			Rows:    calculators.Axis{Input: "temperature", Values: []string{"8 Cel", "12 Cel", "16 Cel", "20 Cel", "25 Cel"}},
			Columns: calculators.Axis{Input: "seeding", Values: []string{"none", "some", "media"}},
			Show:    []string{"down"},
			Given:   tub,
		}
		c.Chart = calculators.Chart{
			Caption: "Days until both are down, by temperature and by what the filter was seeded with",
			X:       "temperature", From: "8 Cel", To: "28 Cel",
			Series: calculators.Axis{Input: "seeding", Values: []string{"none", "some", "media"}},
			Show:   "down", Given: tub,
		}
	}
	return c
}

// feedInputs are those of Volume that tell the ammonia of a day.
func feedInputs() []calculators.Input { return loadInputs()[:4:4] }

func maturingInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Accept: calculators.Range{Low: 50, High: 1000000, Origin: "sanity limit"},
			Help: "With the filter and the pipes."},
		{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Accept: calculators.Range{Low: 4, High: 32, Origin: "sanity limit"},
			Stated: calculators.Range{Low: 5, High: 28, Origin: "metcalf-eddy-2014, p. 762"},
			Help:   "Mean over day and night in the weeks to come."},
		{Name: "seeding", Label: "Bacteria to start with", Type: calculators.Choice, Default: "none",
			Help: "Only media or sponge from a healthy pond; it can carry disease too.",
			Options: []calculators.Option{
				{Name: "none", Label: "new media, or bottled bacteria"},
				{Name: "some", Label: "a few handfuls of old media or squeezed sponge"},
				{Name: "media", Label: "a part of a running filter"},
			}},
		{Name: "share", Label: "Part of the media from a running filter", Kind: quantity.Share, Default: "30 %", Accept: calculators.Range{Low: 0.1, High: 100, Origin: "sanity limit"},
			When: calculators.When{Input: "seeding", Is: []string{"media"}},
			Help: "Of all the media this pond needs; moved wet, within the hour."},
		{Name: "change", Fact: "week-change", Label: "Water changed in a week", Kind: quantity.Share, Default: "0 %", Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"},
			Help: "In parts over the week."},
		{Name: "oxygen", Fact: "filter-oxygen", Label: "Oxygen in the water", Kind: quantity.Concentration, Fine: true, Default: "8 mg/L", Accept: calculators.Range{Low: 0.5, High: 20, Origin: "sanity limit"},
			Help: "Falling water is near the most it can hold."},
	}
}

func maturingOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "down", Label: "Ammonia and nitrite both down after", Unit: "d", Digits: 2, Help: "Both below 0.5 mg/L for the first time, or as low as they settle: not safe yet, and they may rise again."},
		{Name: "tan-day", Label: "Ammonia peaks on day", Unit: "d", Digits: 2},
		{Name: "tan-peak", Label: "Ammonia at its peak, as nitrogen", Unit: "mg/L", Digits: 2, Help: "If you fed on regardless."},
		{Name: "nitrite-day", Label: "Nitrite peaks on day", Unit: "d", Digits: 2},
		{Name: "nitrite-peak", Label: "Nitrite at its peak, as nitrogen", Unit: "mg/L", Digits: 2, Help: "If you fed on regardless."},
		{Name: "load", Label: "Ammonia nitrogen a day, in each litre", Unit: "mg/L/d", Digits: 2, Fine: true},
	}
}

func maturingFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Start-up of a filter", Says: "Ammonia and nitrite, and the bacteria that live on them, from day to day. The bacteria were measured free in water: on media it takes rather longer. Seeds and range are our practice.",
			TeX:    `\begin{aligned}\dot S_1 &= L - D S_1 - q_1 & \dot X_1 &= Y_1 q_1 - b_1 X_1\\ \dot S_2 &= q_1 - D S_2 - q_2 & \dot X_2 &= Y_2 q_2 - b_2 X_2\end{aligned}\qquad q_i = \frac{\mu_i}{Y_i}\,\frac{S_i}{K_i+S_i}\,X_i`,
			Source: "metcalf-eddy-2014", Locator: "Table 8-14", Basis: "memory", Function: "media.StartUpRates"},
		{Name: "Parameters of the bacteria", Says: "Three published sets; the answer spans them all, likely is their mean.",
			TeX:    `\mu,\ Y,\ K,\ K_{\mathrm O},\ b`,
			Source: "sin-2008", Locator: "parameter list", Basis: "published", Function: "media.NitrifierSet"},
		{Name: "Growth by warmth and oxygen", Says: "Growth and decay at the water's temperature, growth slowed by want of oxygen; 5 to 28 °C.",
			TeX:    `\mu = \mu_0\,\theta^{\,t-t_0}\,\frac{\mathrm{O_2}}{K_{\mathrm O}+\mathrm{O_2}}`,
			Source: "vannecke-volcke-2015", Locator: "Eq. A1", Basis: "published", Function: "media.BacteriaAt"},
		{Name: "Where it settles", Says: "Nitrogen at which the bacteria just hold their own: a mature filter ends there, whatever its load.",
			TeX:   `S = \frac{K\,b}{\mu - b}`,
			Basis: "practice", Function: "media.SettledNitrogen"},
		{Name: "Method", Says: "Steps of Rosenbrock's kind, order four, each with an error below a ten-thousandth.",
			TeX:    `\left(\tfrac{2}{h}I - J\right) g_i = f(y_i) + \tfrac1h\sum_j c_{ij}\,g_j`,
			Source: "shampine-1982", Locator: "fourth-order formula with gamma = 1/2", Basis: "memory", Function: "media.RunStartUp"},
	}
}
