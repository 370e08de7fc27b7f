package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Ice declares the calculator of ice on the pond, for pumps, pipes and the hole.
func Ice() calculators.Calculator {
	c := calculators.Calculator{
		ID: "ice",
		Inputs: []calculators.Input{
			{
				Name: "frost", Label: "Air temperature, day and night", Kind: quantity.Temperature,
				Help:   "The mean over the frost: the middle of the day's highest and the night's lowest.",
				Accept: calculators.Range{Low: -50, High: 0, Origin: "sanity limit"},
			},
			{
				Name: "days", Label: "Days of frost", Kind: quantity.Duration,
				Help:   "Since the first skin of ice.",
				Accept: calculators.Range{Low: 0, High: 200, Origin: "sanity limit"},
			},
			{
				Name: "cover", Label: "The ice is", Type: calculators.Choice, Default: "bare",
				Help: "Snow keeps the cold out and the dark in.",
				Options: []calculators.Option{
					{Name: "bare", Label: "bare"},
					{Name: "snow", Label: "under snow"},
				},
			},
		},
		Outputs: []calculators.Output{
			{Name: "thickness", Label: "Ice on still water", Unit: "cm", Digits: 2, Also: []string{"[in_i]"}},
			{Name: "more", Label: "More in another such night and day", Unit: "cm", Digits: 2},
			{Name: "degree-days", Label: "Degree days of frost", Unit: "K.d", Digits: 3, Fine: true},
			{Name: "pipes", Label: "Depth of pump inlet and pipes, at least", Unit: "cm", Digits: 2, Silent: true},
		},
		Compute: computeIce,
	}
	if calculators.Documented {
		c.Title = "Ice on the pond"
		c.Question = "How deep does this frost freeze my pond, so that pump, pipes and the open hole are below or ready for it?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Drowning, calculators.FishHealth}
		c.Cautions = []string{
			"Never stand on a garden pond, however thick its ice: moving water thins it unseen. This figure is for pumps and pipes only.",
			"Do not smash ice: the shock harms fish. Melt a hole with a pan of warm water.",
			"Ice under inflow, bubbles, bridges and beside plants is thinner than reckoned; on shallow edges and pipes in the air it is thicker.",
		}
		c.Formulas = []calculators.Formula{
			{
				Name: "Ice by degree days", Says: "Thickness from the sum of frost S in K·d; starts from ice already formed, the first centimetres grow slower.",
				TeX:    `h = C\sqrt{S}`,
				Source: "crrel-tn04-3", Locator: "modified Stefan table", Basis: "published", Function: "fish.IceThickness",
				Check: calculators.Explicit("h [cm] thickness of the ice: C [cm/K] coefficient of growth 1..4, S [K.d] sum of frost 0..500", IceThickness),
			},
			{
				Name: "Coefficients", Says: "Inches per root of °F days: 0.8 on bare windy ice, 0.5 to 0.7 under snow; times k for cm per root of K·d.",
				TeX:    `C_\mathrm{bare} = 0.8\,k,\quad 0.5\,k \le C_\mathrm{snow} \le 0.7\,k,\quad k = 2.54\sqrt{1.8}`,
				Source: "crrel-tn04-3", Locator: "modified Stefan table", Basis: "published", Function: "fish.IceCoefficients",
				Check: calculators.Explicit("C_bare [cm/K] coefficient on bare ice, C_snow [cm/K] coefficient under snow", func() (bare float64, snow Range) { return IceCoefficients(false).Likely, IceCoefficients(true) }),
			},
			{
				Name: "Limit by conduction", Says: "The most that bare ice can grow: the upper end.",
				TeX:    `C = 100\sqrt{\frac{2\cdot 2.2\cdot 86400}{917\cdot 334000}}`,
				Source: "stefan1891", Locator: "h = sqrt(2 k S / (rho L))", Basis: "published", Function: "fish.IceLimit",
				Check: calculators.Explicit("C [cm/K] coefficient of growth at the most", IceLimit),
			},
		}
		c.Example = calculators.Example{
			Story: "January: {days} at a mean of {frost} after the first skin of ice. Ines asks how deep her skimmer pipe must lie.",
			Given: []calculators.Arg{{Name: "frost", Value: "-4 Cel"}, {Name: "days", Value: "5 d"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Ice on still bare water, for pumps and pipes only",
			Rows:    calculators.Axis{Input: "days", Values: []string{"1 d", "3 d", "7 d", "14 d", "30 d"}},
			Columns: calculators.Axis{Input: "frost", Values: []string{"-2 Cel", "-5 Cel", "-10 Cel"}},
			Show:    []string{"thickness"},
		}
		c.Chart = calculators.Chart{
			Caption: "Ice grows fast at first, then ever slower; at a mean of {frost}",
			X:       "days", From: "0 d", To: "30 d",
			Series: calculators.Axis{Input: "cover", Values: []string{"bare", "snow"}},
			Show:   "thickness",
			Given:  []calculators.Arg{{Name: "frost", Value: "-5 Cel"}},
		}
	}
	return c
}

// leastUnderIce is the least depth in cm of a pump's inlet in frost, however
// little it has grown: common practice.
const leastUnderIce = 10.0

func computeIce(in calculators.Inputs) (calculators.Result, error) {
	perDay := -in.In("frost", "Cel")
	sum := perDay * in.In("days", "d")
	c := IceCoefficients(in.Choice("cover") == "snow")
	grown := Range{IceThickness(c.Low, sum), IceThickness(c.Likely, sum), IceThickness(c.High, sum)}
	next := sum + perDay
	var r calculators.Result
	add(&r, "thickness", grown)
	add(&r, "more", c.times(math.Sqrt(next)-math.Sqrt(sum)))
	r.Exactly("degree-days", sum)
	r.Step("Degree days", "{3 K} × {3 d} = {3 K.d}", perDay, in.In("days", "d"), sum)
	r.Step("Ice", "{3} × √{3} = {2 cm}", c.Likely, sum, grown.Likely)
	r.Flag("For still, deep water with ice on it. No figure here says that ice bears anything.")
	if grown.Likely < 3 {
		r.Flag("The first centimetres grow slower than reckoned.")
	}
	r.Advise("Keep off the ice, and keep children and dogs off.")
	pipes := math.Max(leastUnderIce, 2*grown.High)
	r.Exactly("pipes", pipes)
	r.Say("Set pump inlet and pipes at least {depth 2 cm} deep (twice the high end, or {least cm}), or drain them; drain hoses and tower that stand still.", pipes, leastUnderIce)
	r.Advise(
		"Keep a hole open for gas to leave: a floating ring or a small air stone, hung half way down so that the warmer water at the bottom stays there.",
		"Frozen shut? From the bank, set a pan of hot water on the ice until it melts through; do not lean on the ice.",
		"Brush snow off a part from the edge, with a broom, so that light gets in.",
	)
	return r, nil
}
