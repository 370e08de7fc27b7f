package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Quarantine and temperature.
const (
	quarantineLeast = 21.0  // d within the window, common practice after gilad2003
	quarantineDays  = 30.0  // d, azeah, minimum of a veterinary practice
	windowCold      = 18.0  // Cel, from here the days count, common practice
	windowWarm      = 25.0  // Cel, up to here: gilad2003 finds the virus grows best to 25
	warmingRate     = 1.0   // K a day, golovanov-carp
	temperingRate   = 0.556 // K a minute at most, harrison-tempering
	transferStep    = 2.0   // K that need no mixing, common practice
	greatStep       = 6.0   // K that mixing does not make good, common practice
	floatLeast      = 15.0  // min that a closed bag floats on the tank, common practice
	floatLikely     = 20.0
	floatMost       = 30.0
)

// TemperingMinutes returns the least time over which water is mixed into a bag
// for a difference of temperature in kelvin, min: |dT|/0.556, that is 1 °F a
// minute. Up to 2 K none is needed (common practice).
// Source: harrison-tempering, text.
func TemperingMinutes(difference float64) float64 {
	if math.Abs(difference) <= transferStep {
		return 0
	}
	return math.Abs(difference) / temperingRate
}

// AcclimationDays returns the days in which fish truly get used to another
// temperature, the difference in kelvin over 1 K a day. Source: golovanov-carp,
// abstract, for young carp and warming; taken for cooling too (common practice).
func AcclimationDays(difference float64) float64 { return math.Abs(difference) / warmingRate }

// CountsAsQuarantine reports whether a day at a temperature in degrees Celsius
// counts: 18 to 25, where koi herpesvirus shows itself. At 13 it hides
// (gilad2003, abstract).
func CountsAsQuarantine(t float64) bool { return t >= windowCold && t <= windowWarm }

// Temperatures of koi herpesvirus, degrees Celsius: where no fish died that died when
// it got warmer (gilad2003, abstract), and between which outbreaks are reported
// (naca-khv, field guide).
const (
	VirusHides   = 13.0
	OutbreakCold = 17.0
	OutbreakWarm = 28.0
)

// NewFish declares the calculator of quarantine and temperature for new fish.
func NewFish() calculators.Calculator {
	c := calculators.Calculator{
		ID: "new-fish",
		Inputs: []calculators.Input{
			{
				Name: "bag", Label: "Water in the bag", Kind: quantity.Temperature,
				Help:   "Measured through the bag or on opening.",
				Accept: calculators.Range{Low: 0, High: 35, Origin: "sanity limit"},
			},
			{
				Name: "tank", Label: "Water in the quarantine tank", Kind: quantity.Temperature,
				Help:   "Dechlorinated; its own filter, net and bucket, out of splash of the pond.",
				Accept: calculators.Range{Low: 0, High: 35, Origin: "sanity limit"},
			},
			{
				Name: "pond-temperature", Once: []string{"pond"}, Label: "Water in the pond", Kind: quantity.Temperature, Optional: true,
				Help:   "As it will be when they move.",
				Accept: calculators.Range{Low: 0, High: 35, Origin: "sanity limit"},
			},
			{
				Name: "held", Label: calculators.Text("Days held so far between {cold ~} and {warm Cel}", windowCold, windowWarm), Kind: quantity.Duration, Default: "0 d",
				Help:   "Start again at nought when a fish joins them.",
				Accept: calculators.Range{Low: 0, High: 365, Origin: "sanity limit"},
			},
		},
		Outputs: []calculators.Output{
			{Name: "days", Label: "Until they may join the pond", Unit: "d", Digits: 2, Whole: true, Help: calculators.Hint("With bringing the tank to {cold ~} to {warm Cel} first and to the pond's temperature after.", windowCold, windowWarm)},
			{Name: "quarantine", Label: calculators.Text("Days still to hold at {cold ~} to {warm Cel}", windowCold, windowWarm), Unit: "d", Digits: 2, Whole: true},
			{Name: "adjust", Label: "Days to bring the tank there", Unit: "d", Digits: 2, Help: calculators.Hint("At {rate K} a day.", warmingRate)},
			{Name: "to-pond", Label: "Days to the pond's temperature", Unit: "d", Digits: 2, Help: calculators.Hint("At {rate K} a day, before they move.", warmingRate)},
			{Name: "float", Label: "Float the closed bag", Unit: "min", Digits: 2, Whole: true, Help: "In shade, on the tank."},
			{Name: "mix", Label: "Then mix water in over at least", Unit: "min", Digits: 2, Help: calculators.Hint("None is needed up to {step K} of difference.", transferStep)},
		},
		Compute: computeNewFish,
	}
	if calculators.Documented {
		c.Title = "New fish: quarantine and temperature"
		c.Question = "How long do I keep new fish apart, and how do I get them from bag to tank to pond?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Electricity, calculators.Infection, calculators.FishHealth}
		c.Cautions = []string{
			"Koi herpesvirus kills most of a pond, there is no cure, and survivors carry it. It cannot infect people.",
			"Where the law lists it, suspicion alone must be reported. Call a vet at the first deaths; move no fish, net or water.",
			calculators.Text("Quarantine in cold water proves nothing: at {hidden Cel} the virus hides. Outbreaks are reported at {least ~} to {most Cel}.", VirusHides, OutbreakCold, OutbreakWarm),
			"A full quarantine lowers the risk and does not end it: a carrier may show nothing. A vet can test.",
			"Wash nets. Bag water never goes into pond or tank.",
		}
		c.Formulas = []calculators.Formula{
			{
				Name: "Mixing", Says: "No faster than 1 °F a minute.",
				TeX:    `t = \frac{|T_\mathrm{tank} - T_\mathrm{bag}|}{0.556\ \mathrm{K/min}}`,
				Source: "harrison-tempering", Locator: "text", Basis: "published", Function: "fish.TemperingMinutes",
				Check: calculators.Explicit("t [min] time to take: T_tank [Cel] temperature of the tank 20..30, T_bag [Cel] temperature in the bag 5..15", func(tank, bag float64) float64 { return TemperingMinutes(tank - bag) }),
			},
			{
				Name: "True acclimation", Says: "Young carp warmed by 1 °C a day reached the highest limits; taken for cooling too.",
				TeX:    `d = \frac{|\Delta T|}{1\ \mathrm{K/d}}`,
				Source: "golovanov-carp", Locator: "abstract", Basis: "published", Function: "fish.AcclimationDays",
				Check: calculators.Explicit("d [d] time to take: ΔT [K] difference of the temperatures -10..10", AcclimationDays),
			},
			{
				Name: "Days that count", Says: "Only at 18 to 25 °C: koi infected at 13 °C did not die until warmed to 23 °C. 30 days is a veterinary practice's minimum, 21 the least taken here; 14 is in use and too short.",
				TeX:    `18\ ^\circ\mathrm{C} \le T \le 25\ ^\circ\mathrm{C}`,
				Source: "gilad2003", Locator: "abstract", Basis: "published", Function: "fish.CountsAsQuarantine",
				Check: calculators.Explicit("-: T [Cel] water temperature 10|17.9|18|20|25|25.1|30", CountsAsQuarantine),
			},
		}
		c.Example = calculators.Example{
			Story: "Ines buys two koi in May. The bag is at {bag}, her quarantine tank at {tank}, and Lower Reach will be at {pond-temperature} in June.",
			Given: []calculators.Arg{{Name: "bag", Value: "16 Cel"}, {Name: "tank", Value: "20 Cel"}, {Name: "pond-temperature", Value: "18 Cel"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Least minutes of mixing, by the water of bag and tank",
			Rows:    calculators.Axis{Input: "bag", Values: []string{"8 Cel", "12 Cel", "16 Cel", "20 Cel", "24 Cel"}},
			Columns: calculators.Axis{Input: "tank", Values: []string{"12 Cel", "16 Cel", "20 Cel", "24 Cel"}},
			Show:    []string{"mix"},
		}
		c.Chart = calculators.Chart{
			Caption: "Days until they may join the pond: a tank too cold or too warm adds its own",
			X:       "tank", From: "8 Cel", To: "30 Cel",
			Show:  "days",
			Given: []calculators.Arg{{Name: "bag", Value: "16 Cel"}},
		}
	}
	return c
}

func computeNewFish(in calculators.Inputs) (calculators.Result, error) {
	bag, tank, held := in.In("bag", "Cel"), in.In("tank", "Cel"), in.In("held", "d")
	inWindow := math.Min(math.Max(tank, windowCold), windowWarm)
	adjust := AcclimationDays(inWindow - tank)
	left := Range{math.Max(0, quarantineLeast-held), math.Max(0, quarantineDays-held), math.Max(0, quarantineDays-held)}
	toPond := 0.0
	if in.Has("pond-temperature") {
		toPond = AcclimationDays(in.In("pond-temperature", "Cel") - inWindow)
	}
	if left.High == 0 { // done: no need to bring the tank into the window again
		adjust = 0
		if in.Has("pond-temperature") {
			toPond = AcclimationDays(in.In("pond-temperature", "Cel") - tank)
		}
	}
	lead := math.Ceil(adjust-1e-9) + math.Ceil(toPond-1e-9)
	left = Range{math.Ceil(left.Low), math.Ceil(left.Likely), math.Ceil(left.High)}
	var r calculators.Result
	add(&r, "days", left.plus(Range{lead, lead, lead}))
	add(&r, "quarantine", left)
	r.Exactly("adjust", adjust)
	r.Exactly("to-pond", toPond)
	r.Between("float", floatLeast, floatLikely, floatMost)
	mix := TemperingMinutes(tank - bag)
	r.Exactly("mix", mix)
	if mix > 0 {
		r.Step("Mixing", "({3 Cel} − {3 Cel}) / {3 K/min} = {2 min}", math.Max(bag, tank), math.Min(bag, tank), temperingRate, mix)
	}
	if left.Likely > 0 {
		r.Step("Quarantine, less the days held", "{0} − {~3}, rounded up = {0 d}", quarantineDays, held, left.Likely)
	}
	if left.Low > 0 {
		r.Step("At the least", "{0} − {~3}, rounded up = {0 d}", quarantineLeast, held, left.Low)
	}
	if left.High > 0 && !CountsAsQuarantine(tank) {
		r.Doubt("At {tank 3 Cel} no day counts: below {cold Cel} the disease hides, above {warm Cel} the virus slows while fish and oxygen suffer. Bring the tank to {goal 3 Cel} first.", tank, windowCold, windowWarm, inWindow)
	}
	if math.Abs(tank-bag) > greatStep {
		r.Doubt("{difference 2 K} between bag and tank are too much to even out in minutes: bring the tank near {bag 2 Cel} before the fish come, then change it by {rate K} a day.", math.Abs(tank-bag), bag, warmingRate)
	}
	if !in.Has("pond-temperature") {
		r.Flag("Without the pond's temperature no days are counted for the move.")
	}
	r.Say("Dim the light. Float the closed bag on the tank for {least ~} to {most 0|minute|minutes}.", floatLeast, floatMost)
	r.Advise("Open it and go on at once: in opened water pH rises and its ammonia turns toxic.")
	if mix > 0 {
		r.Say("Add a cup of tank water every few minutes, over at least {time 2 min}; if they gasp, net them over at once.", mix)
	}
	r.Advise(
		"Net the fish into the tank; pour the bag's water to waste.",
		"No feed on the first day. Test ammonia and nitrite daily: a new filter does nothing yet.",
		"Look each day for sores, clamped fins, sunken eyes, slime or gasping. At any sign or death: stop, move nothing, call a vet.",
		"One fish added starts the count again.",
	)
	return r, nil
}
