package media

import (
	"mereleaf/calculators"
	"mereleaf/calculators/internal/ode"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// Maturing declares the calculator of how long a new filter takes.
func Maturing() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "maturing",
		Inputs:  append(fedInputs(), maturingInputs()...),
		Outputs: maturingOutputs(),
		Compute: computeMaturing,
	}
	if calculators.Documented {
		c.Title = "How long a new filter takes"
		c.Question = "When do ammonia and nitrite peak in a new filter or one that is partly ripe, how high, and when is it mature?"
		c.Part = "media"
		c.Formulas = maturingFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Chemicals, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("Go by the test kit, never by these days: a filter is mature when total ammonia stays at {ammonia mg/L} or less and nitrite under {nitrite mg/L}, both as nitrogen, for {days 0|day|days} at full feed.", limits.MatureAmmonia, limits.MatureNitrite, limits.MatureDays),
			"Ammonia and nitrite kill without being seen. Test both every day until they stay down, and do what the calculator of test readings says.",
		}
		c.Example = calculators.Example{
			Story: "Tomas starts a filter on his tub of {volume} at {temperature} with two handfuls of old media from Ines. He feeds {feed} and changes {change} of the water each week.",
			Pond:  "tub",
			Given: []calculators.Arg{{Name: "temperature", Value: "18 Cel"}, {Name: "seeding", Value: "some"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Days until it is mature, {feed} of feed in {volume}, {change} of it changed each week",
			Rows:    calculators.Axis{Input: "temperature", Values: []string{"8 Cel", "12 Cel", "16 Cel", "20 Cel", "25 Cel"}},
			Columns: calculators.Axis{Input: "seeding", Values: []string{"none", "some", "media"}},
			Show:    []string{"mature"},
			Pond:    "tub",
		}
		c.Chart = calculators.Chart{
			Caption: "Days until it is mature, by temperature and by what the filter was seeded with",
			X:       "temperature", From: "8 Cel", To: "28 Cel",
			Series: calculators.Axis{Input: "seeding", Values: []string{"none", "some", "media"}},
			Show:   "mature", Pond: "tub",
		}
	}
	return c
}

// feedInputs are those of Volume that tell the ammonia of a day.
func feedInputs() []calculators.Input { return loadInputs()[:4:4] }

// fedInputs are those of a filter that gets ammonia: without, none matures.
func fedInputs() []calculators.Input {
	inputs := feedInputs()
	for i := range inputs {
		if name := inputs[i].Name; name == "feed" || name == "tan" {
			inputs[i].Accept.LowRefused = "without ammonia no filter matures"
		}
	}
	return inputs
}

func maturingInputs() []calculators.Input {
	paused := calculators.When{Input: "seeding", Is: []string{"paused"}}
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
				{Name: "media", Label: "a part of a running filter, or all of it"},
				{Name: "paused", Label: "this filter itself, after a time without feed"},
			}},
		{Name: "share", Label: "Part of the media from a running filter", Kind: quantity.Share, Default: "30 %", Accept: calculators.Range{Low: 0.1, High: 100, Origin: "sanity limit"},
			When: calculators.When{Input: "seeding", Is: []string{"media"}},
			Help: "Of all the media this pond needs; moved wet, within the hour."},
		{Name: "unfed", Label: "Days without feed", Kind: quantity.Duration, Unit: "d", Accept: calculators.Range{Low: 0, High: 366, Origin: "sanity limit"}, When: paused,
			Help: "Since it last carried the feed stated above."},
		{Name: "rest", Label: "Water temperature in those days", Kind: quantity.Temperature, Optional: true, Accept: calculators.Range{Low: 0, High: 32, Origin: "sanity limit"}, When: paused,
			Help: "Left out: as in the weeks to come."},
		{Name: "grown", Label: "Water temperature when it was last fed in full", Kind: quantity.Temperature, Optional: true, Accept: calculators.Range{Low: 4, High: 32, Origin: "sanity limit"}, When: paused,
			Help: "Left out: as in the weeks to come."},
		{Name: "peak", Label: "Day on which nitrite was highest", Kind: quantity.Duration, Unit: "d", Optional: true, Accept: calculators.Range{Low: 1, High: 365, Origin: "sanity limit"},
			Help: "By your daily tests, counted from the start, fed evenly; left out while it still rises."},
		{Name: "kh", Fact: "alkalinity", Label: "KH of the pond, as CaCO3", Kind: quantity.Hardness, Optional: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"},
			Help: calculators.Text("Tested today; a German degree is {degree 3 mg/L}.", water.GermanDegree)},
		{Name: "change", Fact: "week-change", Label: "Water changed in a week", Kind: quantity.Share, Default: "0 %", Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"},
			Help: "In parts over the week."},
		{Name: "oxygen", Fact: "filter-oxygen", Label: "Oxygen in the water", Kind: quantity.Concentration, Fine: true, Default: "8 mg/L", Accept: calculators.Range{Low: 0.5, High: 20, Origin: "sanity limit"},
			Help: "Falling water is near the most it can hold."},
	}
}

func maturingOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "mature", Label: "Mature after", Unit: "d", Digits: 2, Help: calculators.Text("Total ammonia at {ammonia mg/L} or less and nitrite under {nitrite mg/L}, both as nitrogen, for {days 0|day|days} at full feed.", limits.MatureAmmonia, limits.MatureNitrite, limits.MatureDays)},
		{Name: "down", Label: "Ammonia and nitrite both down after", Unit: "d", Digits: 2, Help: "From then on as low as in a mature filter, or as low as they settle: not safe before the week of tests is over."},
		{Name: "tan-day", Label: "Ammonia peaks on day", Unit: "d", Digits: 2},
		{Name: "tan-peak", Label: "Ammonia at its peak, as nitrogen", Unit: "mg/L", Digits: 2, Help: "If you fed on regardless."},
		{Name: "nitrite-day", Label: "Nitrite peaks on day", Unit: "d", Digits: 2},
		{Name: "nitrite-peak", Label: "Nitrite at its peak, as nitrogen", Unit: "mg/L", Digits: 2, Help: "If you fed on regardless."},
		{Name: "feed-now", Label: "Feed that the film carries at once", Unit: "g/d", Digits: 2, Help: "As far as film that was moved or stood unfed goes; the kit decides."},
		{Name: "film", Label: "Film at the start, of what this feed needs", Unit: "%", Digits: 2, Fine: true},
		{Name: "kh-week", Label: "KH it uses up in a week at full feed, as CaCO3", Unit: "mg/L", Digits: 2},
		{Name: "kh-start", Label: "KH it uses up until it is mature, as CaCO3", Unit: "mg/L", Digits: 2, Help: "At full feed from the first day, without what water changes bring."},
		{Name: "soda", Label: "Sodium bicarbonate that makes good for it", Unit: "g/d", Digits: 2, Help: "Less what your water changes bring."},
		{Name: "kh-days", Label: calculators.Text("Without it KH is at {floor mg/L} after", limits.AlkalinityLowAct), Unit: "d", Digits: 2, Help: "From there the pH can crash overnight."},
		{Name: "load", Label: "Ammonia nitrogen a day, in each litre", Unit: "mg/L/d", Digits: 2, Fine: true},
	}
}

func maturingFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Start-up of a filter", Says: "Ammonia and nitrite, and the bacteria that live on them, from day to day. The bacteria were measured free in water: on media it takes rather longer. Seeds are our practice; errors count as independent of each other.",
			TeX:    `\begin{aligned}\dot S_1 &= L - D S_1 - q_1 & \dot X_1 &= Y_1 q_1 - b_1 X_1\\ \dot S_2 &= q_1 - D S_2 - q_2 & \dot X_2 &= Y_2 q_2 - b_2 X_2\end{aligned}\qquad q_i = \frac{\mu_i}{Y_i}\,\frac{S_i}{K_i+S_i}\,X_i`,
			Source: "metcalf-eddy-2014", Locator: "Table 8-14", Basis: "memory", Function: "media.StartUpRates",
			Check: calculators.Rates("dS_1/dt [mg/L/d] how fast the ammonia rises, dX_1/dt [mg/L/d] how fast the bacteria on ammonia grow, dS_2/dt [mg/L/d] how fast the nitrite rises, dX_2/dt [mg/L/d] how fast the bacteria on nitrite grow, L [mg/L/d] ammonia nitrogen from the fish, D [1/d] share of the water changed, S_i [mg/L] ammonia or nitrite, X_i [mg/L] bacteria that live on it, q_i [mg/L/d] what they use up, μ_i [1/d] their growth, Y_i [1] their yield, K_i [mg/L] amount at which they grow half as fast, b_i [1/d] their decay, i [1] 1 for ammonia and 2 for nitrite: - [d] 1..60, - [1] 1|2", startUpPoint)},
		{Name: "Parameters of the bacteria", Says: "One of three published sets, for the bacteria that live on ammonia, at 25 °C; the answer spans all three.",
			TeX:    `\mu_0 = 1.5,\quad Y = 0.15,\quad K = 0.5,\quad K_{\mathrm{O}} = 0.7,\quad b = 0.1`,
			Source: "sin-2008", Locator: "parameter list", Basis: "published", Function: "media.NitrifierSet",
			Check: calculators.Explicit("μ_0 [1/d] growth at the most, Y [1], K [mg/L], K_O [mg/L], b [1/d]", func() (growth, yield, nitrogen, oxygen, decay float64) {
				o, _ := NitrifierSet(1)
				return o.Growth, o.Yield, o.HalfNitrogen, o.HalfOxygen, o.Decay
			})},
		{Name: "Growth by warmth and oxygen", Says: "Growth and decay at the water's temperature, growth slowed by want of oxygen; 5 to 28 °C.",
			TeX:    `\mu = \mu_0\,\theta^{\,t-t_0}\,\frac{\mathrm{O_2}}{K_{\mathrm{O}}+\mathrm{O_2}}`,
			Source: "vannecke-volcke-2015", Locator: "Eq. A1", Basis: "published", Function: "media.BacteriaAt",
			Check: calculators.Explicit("μ [1/d] growth at the most, μ_0 [1/d] growth at t_0, θ [1], t_0 [Cel], K_O [mg/L]: t [Cel] 5..28, O_2 [mg/L] 1..12", func(t, oxygen float64) (growth, atStart, theta, start, half float64) {
				o, _ := NitrifierSet(0)
				return BacteriaAt(o, t, oxygen).Growth, o.Growth, o.GrowthTheta, o.Temperature, o.HalfOxygen
			})},
		{Name: "Where it settles", Says: "Nitrogen at which the bacteria just hold their own: a mature filter ends there, whatever its load.",
			TeX:   `S = \frac{K\,b}{\mu - b}`,
			Basis: "practice", Function: "media.SettledNitrogen",
			Check: calculators.Explicit("S [mg/L] nitrogen in the water: K [mg/L] 0.2..3, b [1/d] 0.05..0.2, μ [1/d] growth at the most 0.3..2", func(half, decay, growth float64) float64 {
				return SettledNitrogen(Organism{HalfNitrogen: half, Decay: decay, Growth: growth})
			})},
		{Name: "Method", Says: "What one step of length h makes of a quantity that grows at the rate λ: steps of Rosenbrock's kind, order four, each with an error below a ten-thousandth.",
			TeX:    `y_1 = y_0\,\frac{1 - z + \frac{z^3}{6} + \frac{z^4}{48}}{\left(1 - \frac{z}{2}\right)^4},\quad z = \lambda h`,
			Source: "shampine-1982", Locator: "fourth-order formula with gamma = 1/2", Basis: "memory", Function: "media.RunStartUp",
			Check: calculators.Explicit("y_1 [1] the quantity after the step: y_0 [1] the quantity before it 0.5..2, λ [1/d] rate of growth -3..0.5, h [d] length of the step 0.1..1", func(start, rate, step float64) float64 {
				y := []float64{start}
				ode.Solve(ode.System{Rates: func(y, rates []float64) { rates[0] = rate * y[0] }, Jacobian: func(_, j []float64) { j[0] = rate }}, y, step, ode.Control{Tolerance: 1e9, Small: []float64{1}, First: step}, func(*ode.Step) bool { return true })
				return y[0]
			})},
	}
}

// startUpPoint returns what the rates of a start-up are made of on some day of a
// worked example, for the organism 1 or 2; the lists have nothing at 0.
func startUpPoint(day float64, organism int) (ds1, dx1, ds2, dx2, load, dilution float64, s, x, q, mu, yield, half, decay []float64, i int) {
	ammonia, nitrite := NitrifierSet(1)
	up := &StartUp{Ammonia: BacteriaAt(ammonia, 20, 8), Nitrite: BacteriaAt(nitrite, 20, 8), Load: 0.3, Dilution: 0.015, SeedAmmonia: 0.001, SeedNitrite: 0.001}
	y, rates := make([]float64, startUpStates), make([]float64, startUpStates)
	up.follow(day, 1e-6, func(step *ode.Step) bool {
		copy(y, step.After)
		return true
	})
	StartUpRates(up, y, rates)
	a, n := &up.Ammonia, &up.Nitrite
	s, x = []float64{0, y[tanState], y[nitriteState]}, []float64{0, y[ammoniaState], y[nitriteEaters]}
	mu, yield = []float64{0, a.Growth, n.Growth}, []float64{0, a.Yield, n.Yield}
	half, decay = []float64{0, a.HalfNitrogen, n.HalfNitrogen}, []float64{0, a.Decay, n.Decay}
	q = []float64{0, (rates[ammoniaState] + decay[1]*x[1]) / yield[1], (rates[nitriteEaters] + decay[2]*x[2]) / yield[2]}
	return rates[tanState], rates[ammoniaState], rates[nitriteState], rates[nitriteEaters], up.Load, up.Dilution, s, x, q, mu, yield, half, decay, organism
}
