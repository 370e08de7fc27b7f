package plumbing

import (
	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// PumpWorkingPoint declares the calculator that finds how much water a pump
// brings up through its pipe.
func PumpWorkingPoint() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "pump-working-point",
		Inputs:  pumpInputs(),
		Outputs: pumpOutputs(),
		Compute: computePump,
	}
	if calculators.Documented {
		c.Title = "What the pump really delivers"
		c.Question = "How much water does this pump bring to the top of the filter, through this pipe?"
		c.Part = "filtration"
		c.Formulas = pumpFormulas()
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Solvents, calculators.Spill}
		c.Cautions = []string{
			"A pump that runs dry, or against a closed valve, overheats: follow its label.",
		}
		c.Example = calculators.Example{
			Story: "Ines's spray bar hangs {lift} above the pond, at the end of {length} of pipe of {bore} bore. She has her pump's curve.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Flow of a pump of {largest-flow} and {largest-head} at most through {length} of ribbed hose",
			Rows:    calculators.Axis{Input: "lift", Values: []string{"0.5 m", "1 m", "1.5 m", "2 m", "2.5 m"}},
			Columns: calculators.Axis{Input: "bore", Values: []string{"25 mm", "32 mm", "40 mm", "50 mm"}},
			Show:    []string{"flow"},
			Given:   largestPump(),
		}
		c.Chart = calculators.Chart{
			Caption: "Flow against lift: a pump of {largest-flow} and {largest-head} at most, {length} of ribbed hose",
			X:       "lift", From: "0 m", To: "3 m",
			Series: calculators.Axis{Input: "bore", Values: []string{"25 mm", "32 mm", "40 mm"}},
			Show:   "flow",
			Given:  largestPump(),
		}
	}
	return c
}

// largestPump is the pump of the lookup table and the chart.
func largestPump() []calculators.Arg {
	return []calculators.Arg{
		{Name: "pump", Value: "largest"}, {Name: "largest-flow", Value: "6000 L/h"}, {Name: "largest-head", Value: "3.2 m"},
		{Name: "length", Value: "4 m"}, {Name: "wall", Value: "ribbed-hose"}, {Name: "fittings", Value: "elbow-90, 2; hose-tail, 1"},
	}
}

// curveInputs ask for a pump.
func curveInputs() []calculators.Input {
	when := func(choice string) calculators.When { return calculators.When{Input: "pump", Is: []string{choice}} }
	return []calculators.Input{
		{Name: "pump", Fact: "pump-known", Label: "What you know of the pump", Type: calculators.Choice, Default: "curve",
			Options: []calculators.Option{{Name: "curve", Label: "points of its curve"}, {Name: "largest", Label: "largest flow and largest head"}, {Name: "rated", Label: "one rated point"}},
			Help:    "The curve, in the leaflet or on the box, is by far the best."},
		{Name: "points", Fact: "pump-curve", Label: "Points of the curve", Type: calculators.Rows, When: when("curve"),
			Columns: []calculators.Input{
				{Name: "flow", Label: "Flow", Kind: quantity.Flow, Accept: calculators.Range{Low: 0, High: 1000000, Origin: "sanity limit"}, Help: "Read along the curve."},
				{Name: "head", Label: "Head", Kind: quantity.Head, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, Help: "Height of water that the pump holds at this flow."},
			},
			Help: "From no flow upwards, two or more, as many as you can read."},
		{Name: "largest-flow", Fact: "pump-largest-flow", Label: "Largest flow", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"}, When: when("largest"),
			Help: "At no height at all, as printed on the label."},
		{Name: "largest-head", Fact: "pump-largest-head", Label: "Largest head", Kind: quantity.Head, Accept: calculators.Range{Low: 0.05, High: 100, Origin: "sanity limit"}, When: when("largest"),
			Help: "The height at which the flow stops, as printed on the label."},
		{Name: "rated-flow", Fact: "pump-rated-flow", Label: "Rated flow", Kind: quantity.Flow, Accept: calculators.Range{Low: 10, High: 1000000, Origin: "sanity limit"}, When: when("rated"),
			Help: "The flow of the one point you know."},
		{Name: "rated-head", Fact: "pump-rated-head", Label: "Head at the rated flow", Kind: quantity.Head, Accept: calculators.Range{Low: 0.05, High: 100, Origin: "sanity limit"}, When: when("rated"),
			Help: "The head of the same point."},
	}
}

func pumpInputs() []calculators.Input {
	inputs := append(curveInputs(), []calculators.Input{
		{Name: "speed", Label: "Speed of the pump", Kind: quantity.Share, Fine: true, Accept: calculators.Range{Low: 10, High: 150, Origin: "sanity limit"}, Default: "100 %",
			Stated: calculators.Range{Low: 50, High: 120, Origin: "epanet-22-manual, variable speed pump equations"},
			Help:   calculators.Hint("Of full speed; {full %} for a pump without a controller.", 100)},
		{Name: "pumps", Label: "Pumps", Type: calculators.Choice, Fine: true, Default: "one",
			Options: []calculators.Option{{Name: "one", Label: "one"}, {Name: "two", Label: "two equal ones side by side into one pipe"}},
			Help:    "Two pumps with a pipe each are two separate sums."},
	}...)
	inputs = append(inputs, liftInput())
	return append(append(inputs, runInputs()...), calculators.Input{
		Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Fine: true, Accept: calculators.Range{Low: 10, High: 10000000, Origin: "sanity limit"}, Optional: true,
		Help: "For the time in which the pump moves the whole pond once.",
	})
}

func liftInput() calculators.Input {
	return calculators.Input{Name: "lift", Fact: "lift", Label: "Lift", Kind: quantity.Head, Accept: calculators.Range{Low: 0, High: 50, Origin: "sanity limit"},
		Help: "From the surface of the pond, not from the pump, straight up to where the water comes out."}
}

// runInputs ask for a run of pipe and the water in it.
func runInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "bore", Fact: "pump-pipe-bore", Label: "Bore of the pipe", Kind: quantity.Size, Accept: calculators.Range{Low: 5, High: 500, Origin: "sanity limit"},
			Help: "Inside diameter; pipes are often named by the outside, so measure."},
		{Name: "length", Fact: "pump-pipe-length", Label: "Length of the pipe", Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 500, Origin: "sanity limit"},
			Help: "All of it, from the pump to the outlet."},
		{Name: "wall", Fact: "pump-pipe-wall", Label: "Kind of pipe", Type: calculators.Choice, Default: "slimed-plastic", Options: wallOptions(),
			Help: "Ribs inside cost far more than anything else: put a finger in."},
		{Name: "roughness", Fact: "pump-pipe-roughness", Label: "Roughness of the wall", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, When: calculators.When{Input: "wall", Is: []string{"own"}},
			Help: "Equivalent sand roughness from a data sheet."},
		{Name: "fittings", Fact: "pump-pipe-fittings", Label: "Fittings", Type: calculators.Rows, Optional: true,
			Columns: []calculators.Input{
				{Name: "fitting", Label: "Fitting", Type: calculators.Choice, Options: fittingOptions(), Help: "Choose the nearest in shape."},
				{Name: "count", Label: "Number", Kind: quantity.Count, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}, Default: "1", Help: "How many of them."},
			},
			Help: "Walk along the pipe and count; the open end is always added."},
		{Name: "more-k", Label: "Further loss coefficients", Kind: quantity.Number, Fine: true, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Default: "0",
			Help: "The K of a UV unit, a spray bar and the like, added up from data sheets."},
		{Name: "temperature", Label: "Water temperature", Kind: quantity.Temperature, Fine: true, Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}, Default: "15 Cel",
			Help: "Cold water is a little thicker; it matters by a hundredth."},
	}
}

func wallOptions() []calculators.Option {
	var options []calculators.Option
	for _, w := range Walls() {
		options = append(options, calculators.Option{Name: w.Name, Label: w.Label})
	}
	return append(options, calculators.Option{Name: "own", Label: "roughness from a data sheet"})
}

func fittingOptions() []calculators.Option {
	var options []calculators.Option
	for _, f := range Fittings() {
		options = append(options, calculators.Option{Name: f.Name, Label: f.Label})
	}
	return options
}

func pumpOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "flow", Label: "Flow at the outlet", Unit: "L/h", Digits: 2, Also: []string{"L/min", "[gal_br]/h", "[gal_us]/h"}, Help: "Check it with a bucket and a watch: hold the outlet over a bucket of known size."},
		{Name: "head", Label: "Head the pump makes", Unit: "m", Digits: 3, Also: []string{"[ft_i]"}, Help: "Lift and losses together."},
		{Name: "velocity", Label: "Velocity in the pipe", Unit: "m/s", Digits: 2},
		{Name: "friction", Label: "Lost to friction", Unit: "m", Digits: 2, Fine: true},
		{Name: "fittings-loss", Label: "Lost in fittings and at the outlet", Unit: "m", Digits: 2, Fine: true},
		{Name: "reynolds", Label: "Reynolds number", Unit: "1", Digits: 2, Fine: true, Help: reynoldsHelp()},
		{Name: "turnover", Label: "Time to move the pond once", Unit: "h", Digits: 2},
	}
}

// reynoldsHelp says what a Reynolds number means.
func reynoldsHelp() string {
	return calculators.Hint("Below {smooth 0} the flow is smooth, above {turbulent 0} turbulent, in between it flips.", LaminarUpTo, TurbulentFrom)
}

func pumpFormulas() []calculators.Formula {
	return append(runFormulas(), []calculators.Formula{
		{Name: "One-point curve", Says: "A pump's curve guessed from one point: four thirds of its head at no flow, twice its flow at no head.",
			TeX: `H = \tfrac{4}{3}H_d - \tfrac{1}{3}H_d\left(\frac{Q}{Q_d}\right)^2`, Source: "epanet-22-manual", Locator: "one-point pump curve", Basis: "published", Function: "plumbing.RatedHead",
			Check: calculators.Explicit("H [m]: H_d [m] head at the known point 0.5..8, Q_d [L/h] flow at the known point 500..20000, Q [L/h] 0..10000", func(head, rated, flow float64) float64 { return RatedHead(CurvePoint{rated, head}, flow) })},
		{Name: "Other speed, pumps side by side", Says: "Flow goes with the speed and with the number of pumps, head with the square of the speed.",
			TeX: `H(Q) = s^2 H_1\left(\frac{Q}{n s}\right)`, Source: "epanet-22-manual", Locator: "variable speed pump equations", Basis: "published", Function: "plumbing.AffinityHead",
			Check: calculators.Explicit("H [m], H_1 [m] head of one pump at full speed: Q [m3/s] 0.0001..0.002, s [1] speed as a share of full speed 0.4..1, n [1] number of pumps 1|2|3", func(flow, speed, pumps float64) (head float64, one func(float64) float64) {
				pump := RatedCurve{CurvePoint{0.001, 3}}
				return AffinityHead(pump, speed, pumps, flow), pump.Head
			})},
	}...)
}

// runFormulas are those of a run of pipe.
func runFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Loss in pipe and fittings", Says: "Friction and fittings cost head in step with the square of the velocity; the end of the pipe counts as K = 1.",
			TeX: `h = \left(f\frac{L}{D} + \sum K\right)\frac{V^2}{2g}`, Source: "maurer-2023", Locator: "Example 4.3", Basis: "published", Function: "plumbing.PipeLoss",
			Check: calculators.Explicit("h [m]: f [1] friction factor 0.01..0.08, L [m] 0.5..50, D [m] 0.015..0.1, ΣK [1] 0..20, V [m/s] velocity of the water 0.1..3, g [m/s2] 9.80665", func(f, length, bore, k, v, _ float64) float64 { return PipeLoss(f, length, bore, k, v).Total() })},
		{Name: "Colebrook", Says: "Friction factor of turbulent flow, from Reynolds number 4000 and for roughness up to a twentieth of the bore.",
			TeX: `\frac{1}{\sqrt f} = -2\log_{10}\left(\frac{\varepsilon/D}{3.7} + \frac{2.51}{\mathrm{Re}\sqrt f}\right)`, Source: "maurer-2023", Locator: "Examples 4.2 and 4.3", Basis: "published", Function: "plumbing.ColebrookFriction",
			Check: calculators.Implicit("f [1] friction factor: Re [1] 4000..1000000, ε [mm] 0.0015..0.5, D [mm] 10..150", func(reynolds, roughness, bore float64) float64 { return ColebrookFriction(reynolds, roughness/bore) })},
		{Name: "Laminar friction", Says: "Friction factor of smooth flow, up to Reynolds number 2000.",
			TeX: `f = \frac{64}{\mathrm{Re}}`, Source: "epanet-22-manual", Locator: "pipe head loss, flow below Re 2000", Basis: "memory", Function: "plumbing.LaminarFriction",
			Check: calculators.Explicit("f [1] friction factor: Re [1] 50..2000", LaminarFriction)},
		{Name: "Viscosity of water", Says: "How thick water is, 0 to 40 °C.",
			TeX: `\log_{10}\mu = \begin{cases} \frac{1301}{998.333 + 8.1855\,(t-20) + 0.00585\,(t-20)^2} - 1.30233 & t < 20 \\ \log_{10} 1.002 + \frac{1.3272\,(20-t) - 0.001053\,(t-20)^2}{t+105} & t \ge 20 \end{cases}`, Source: "crc-viscosity-formula", Locator: "form from 20 °C", Basis: "memory", Function: "plumbing.DynamicViscosity",
			Check: calculators.Implicit("μ [mPa.s] viscosity of the water: t [Cel] 0|5|12|19.9|20|21|30|40", func(t float64) float64 { return 1000 * DynamicViscosity(t) })},
	}
}
