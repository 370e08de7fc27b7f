package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Weight declares the calculator of the weight of fish from a list of lengths.
func Weight() calculators.Calculator {
	c := calculators.Calculator{
		ID:     "fish-weight",
		Inputs: weightInputs(),
		Outputs: []calculators.Output{
			{Name: "weight", Label: "All fish together", Unit: "kg", Digits: 2, Also: []string{"[lb_av]"}},
			{Name: "each", Label: "One fish on average", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}},
			{Name: "length", Label: "Total length of such a fish", Unit: "cm", Digits: 2, Also: []string{"[in_i]"}, Help: "From the heaviest build to the lightest."},
			{Name: "spread", Label: "Heaviest line over lightest", Unit: "1", Digits: 3, Help: "How far the published lines differ for this list."},
		},
		Compute: computeWeight,
	}
	if calculators.Documented {
		c.Title = "Weight of your fish from their length"
		c.Question = "How heavy are all my fish together? The filter carries their weight, not their number."
		c.Part = "stocking"
		c.Formulas = weightFormulas()
		c.Hazards = []calculators.Hazard{calculators.Drowning, calculators.FishHealth}
		c.Cautions = []string{
			"Two koi of one length can differ by half in weight: body form, spawn and the winter all count. Take the upper end when you size a filter.",
			"Length alone says little: a fish twice as long weighs about eight times as much.",
			"Measure fish in a tray of water or beside a marked floating bar. Do not lift them out to weigh them without practice: drops and dry slime do harm.",
		}
		c.Example = calculators.Example{
			Story: "Ines keeps {fish.count} koi in Lower Reach, about {fish.length} long from snout to the tip of the tail.",
			Pond:  "ines",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Weight of one koi by total length",
			Rows: calculators.Axis{Input: "length", Values: []string{
				"15 cm", "20 cm", "25 cm", "30 cm", "35 cm", "40 cm", "45 cm", "50 cm", "60 cm", "70 cm",
			}},
			Show:  []string{"each"},
			Given: oneFish(),
		}
		c.Chart = calculators.Chart{
			Caption: "Weight of one fish: each added centimetre counts more than the last",
			X:       "length", From: "10 cm", To: "80 cm",
			Series: calculators.Axis{Input: "species", Values: []string{"koi", "tench"}},
			Show:   "each",
			Given:  oneFish(),
		}
	}
	return c
}

func oneFish() []calculators.Arg { return []calculators.Arg{{Name: "from", Value: "one"}} }

func weightInputs() []calculators.Input {
	one := calculators.When{Input: "from", Is: []string{"one"}}
	list, species, length, measured := fishList(), speciesInput(), lengthInput(), measuredInput()
	list.When = calculators.When{Input: "from", Is: []string{"list"}}
	inputs := []calculators.Input{
		{
			Name: "from", Label: "Reckon", Type: calculators.Choice, Default: "list",
			Help: "All fish from a list, one fish, or a length from a weight.",
			Options: []calculators.Option{
				{Name: "list", Label: "a list of fish"},
				{Name: "one", Label: "one fish"},
				{Name: "weight", Label: "the length of a fish that I weighed"},
			},
		},
		list,
	}
	species.When = calculators.When{Input: "from", Is: []string{"one", "weight"}}
	length.When, measured.When = one, one
	return append(inputs, species, length, measured, calculators.Input{
		Name: "mass", Label: "Weight of the fish", Kind: quantity.Mass, Unit: "g",
		Help:   "On a scale, in a tub of water whose weight you take off.",
		Accept: calculators.Range{Low: 0.1, High: 30000, Origin: "sanity limit"},
		When:   calculators.When{Input: "from", Is: []string{"weight"}},
	})
}

func speciesInput() calculators.Input {
	return calculators.Input{
		Name: "species", Label: "Kind", Type: calculators.Choice, Default: "koi",
		Help: "Koi stands for all carp. Goldfish means the long common form, shubunkins and comets too.",
		Options: []calculators.Option{
			{Name: "koi", Label: "koi or carp"},
			{Name: "goldfish", Label: "goldfish"},
			{Name: "tench", Label: "tench"},
		},
	}
}

func lengthInput() calculators.Input {
	return calculators.Input{
		Name: "length", Label: "Length", Kind: quantity.Size, Unit: "cm",
		Help:   "From the snout to the tip of the tail.",
		Accept: calculators.Range{Low: 1, High: 120, Origin: "sanity limit"},
	}
}

func countInput() calculators.Input {
	return calculators.Input{
		Name: "count", Label: "How many", Kind: quantity.Count, Default: "1",
		Help:   "Fish of about this length.",
		Accept: calculators.Range{Low: 1, High: 10000, Origin: "sanity limit"},
	}
}

func measuredInput() calculators.Input {
	return calculators.Input{
		Name: "measured", Label: "Measured to", Type: calculators.Choice, Default: "total",
		Help: "Shops and shows differ: to the tip, the fork, or the root of the tail.",
		Options: []calculators.Option{
			{Name: "total", Label: "the tip of the tail"},
			{Name: "fork", Label: "the fork of the tail"},
			{Name: "standard", Label: "the root of the tail"},
		},
	}
}

func weightFormulas() []calculators.Formula {
	return []calculators.Formula{
		{
			Name: "Standard weight of carp", Says: "Weight in grams of a well-fed carp from its total length in millimetres, 200 mm and more: the likely weight of a koi.",
			TeX:    `\log_{10} W = -4.639 + 2.920\,\log_{10} L_T`,
			Source: "bister2000", Locator: "WSlit.csv row Common Carp metric", Basis: "published", Function: "fish.StandardWeight",
			Check: calculators.Implicit("W [g]: L_T [mm] 200..900", func(length float64) float64 { return StandardWeight(length / 10) }),
		},
		{
			Name: "Slim carp", Says: "Weight in grams of slim wild carp from the total length in centimetres; no range stated.",
			TeX:    `W = 0.0163\,L_T^{2.935}`,
			Source: "yilmaz-cerim", Locator: "abstract", Basis: "published", Function: "fish.SlimCarp",
			Check: calculators.Explicit("W [g]: L_T [cm] 5..80", SlimCarp),
		},
		{
			Name: "Dutch carp", Says: "Weight in grams of carp from the total length in centimetres; no range stated.",
			TeX:    `W = 0.01\,L_T^{3.129}`,
			Source: "dewilt2008", Locator: "fact F1 in data file", Basis: "published", Function: "fish.DutchCarp",
			Check: calculators.Explicit("W [g]: L_T [cm] 5..80", DutchCarp),
		},
		{
			Name: "Deep-bodied carp", Says: "Weight in grams of deep-bodied carp from the fork length in centimetres, 11.2 to 55.5.",
			TeX:    `W = 0.0528\,L_F^{2.7202}`,
			Source: "tanir2020", Locator: "abstract", Basis: "published", Function: "fish.DeepCarp",
			Check: calculators.Explicit("W [g]: L_F [cm] 11.2..55.5", DeepCarp),
		},
		{
			Name: "Goldfish", Says: "Weight in grams of common goldfish from the total length in centimetres, up to 48.",
			TeX:    `W = 0.01349\,L_T^{3}`,
			Source: "fishbase", Locator: "fact F1 in data file", Basis: "published", Function: "fish.GoldfishWeight",
			Check: calculators.Explicit("W [g]: L_T [cm] 5..48", GoldfishWeight),
		},
		{
			Name: "Tench", Says: "Weight in grams of tench from the total length in centimetres, up to 84.",
			TeX:    `W = 0.018654\,L_T^{2.9762}`,
			Source: "beelen2008", Locator: "fact F1 in data file", Basis: "published", Function: "fish.TenchWeight",
			Check: calculators.Explicit("W [g]: L_T [cm] 5..84", TenchWeight),
		},
		{
			Name: "Band of the carp lines", Says: "The lightest of the carp lines, and 15 % over the heaviest: age classes of published populations lie up to 13 % over it. Below 20 cm the likely line is carried on, and the deep-bodied carp keep their form.",
			TeX:   `W_\mathrm{light} = \min_i W_i,\quad W_\mathrm{heavy} = 1.15\,\max_i W_i`,
			Basis: "practice", Function: "fish.CarpWeight",
			Check: calculators.Explicit("W_light [g] least weight, W_heavy [g] greatest weight, W_i [g] weight by the carp line i: - [cm] 20..58", func(length float64) (light, heavy float64, lines []float64) {
				band := CarpWeight(length)
				return band.Low, band.High, []float64{SlimCarp(length), DutchCarp(length), StandardWeight(length), DeepCarp(length * ForkPerTotal)}
			}),
		},
		{
			Name: "Allowance where one line is published", Says: "From a quarter less to half more, for goldfish and tench.",
			TeX:   `W_\mathrm{light} = 0.75\,W,\quad W_\mathrm{heavy} = 1.5\,W`,
			Basis: "practice", Function: "fish.SingleLine",
			Check: calculators.Explicit("W_light [g] least weight, W_heavy [g] greatest weight: W [g] weight by the line 5..3000", func(weight float64) (light, heavy float64) {
				band := SingleLine(weight)
				return band.Low, band.High
			}),
		},
	}
}

// shoal is one row of the list, with its total length in centimetres.
type shoal struct {
	_       calculators.Incomparable
	place   string // of the input, for a refusal
	species string
	length  float64
	count   float64
	assumed bool    // the total length was worked out from another measure
	weighed float64 // g, what one weighs; 0 where only its length is known
}

func readShoal(place string, in calculators.Inputs, count float64) *shoal {
	s := &shoal{place: place, species: in.Choice("species"), length: in.In("length", "cm"), count: count}
	switch in.Choice("measured") {
	case "fork":
		s.length, s.assumed = s.length/ForkPerTotal, true
	case "standard":
		s.length, s.assumed = s.length/StandardPerTotal, true
	}
	return s
}

// ofLength returns one fish of the same kind at another total length in centimetres.
func (s *shoal) ofLength(length float64) *shoal {
	return &shoal{place: s.place, species: s.species, length: length, count: 1}
}

// band returns the weight of one fish; NaN where no line is stated.
func (s *shoal) band() Range {
	if s.weighed > 0 {
		return Range{s.weighed, s.weighed, s.weighed}
	}
	switch s.species {
	case "goldfish":
		return SingleLine(GoldfishWeight(s.length))
	case "tench":
		return SingleLine(TenchWeight(s.length))
	}
	return CarpWeight(s.length)
}

func computeWeight(in calculators.Inputs) (calculators.Result, error) {
	if in.Choice("from") == "weight" {
		return lengthFromWeight(in)
	}
	w := weighing{}
	if in.Choice("from") == "one" {
		w.add(readShoal("length", in, 1))
	} else {
		for _, s := range shoals(in) {
			w.add(s)
		}
	}
	if len(w.errs) > 0 {
		return calculators.Result{}, w.errs
	}
	sum := w.sum
	w.Between("weight", sum.Low/1000, sum.Likely/1000, sum.High/1000)
	w.Between("each", sum.Low/w.count, sum.Likely/w.count, sum.High/w.count)
	w.Exactly("spread", sum.High/sum.Low)
	w.Say("Size the filter for {heavy 2 kg}, the heavy end, and for the fish you will have in two years.", sum.High/1000)
	w.Advise("Measure a few fish each autumn and reckon again: most pond fish still grow.")
	return w.Result, nil
}

// lengthFromWeight turns the lines round: the heaviest build is the shortest fish.
func lengthFromWeight(in calculators.Inputs) (calculators.Result, error) {
	mass := in.In("mass", "g")
	s := weighedShoal("mass", in.Choice("species"), mass, 1)
	if math.IsNaN(s.length) {
		return calculators.Result{}, s.refusal()
	}
	length := Range{
		lengthOf(s.species, mass, func(b Range) float64 { return b.High }),
		s.length,
		lengthOf(s.species, mass, func(b Range) float64 { return b.Low }),
	}
	if math.IsNaN(length.High) {
		length.High = longestOf(s.species) // the line is stated for no longer fish
	}
	var r calculators.Result
	r.Exactly("weight", mass/1000)
	r.Exactly("each", mass)
	add(&r, "length", length)
	r.Step("Total length at which the likely line gives {3 g}", "{2 cm} ({2} to {2})", mass, length.Likely, length.Low, length.High)
	r.Advise("Measure one fish and compare: the builds of one weight differ by a few centimetres.")
	return r, nil
}

// weighing adds up shoals.
type weighing struct {
	calculators.Result
	errs  calculators.InputErrors
	sum   Range // g
	count float64
}

func (w *weighing) add(s *shoal) {
	b := s.band()
	if math.IsNaN(b.Likely) {
		w.errs = append(w.errs, s.refusal())
		return
	}
	w.sum = Range{w.sum.Low + s.count*b.Low, w.sum.Likely + s.count*b.Likely, w.sum.High + s.count*b.High}
	w.count += s.count
	if s.weighed > 0 {
		w.Step("One fish on average", "{3 kg} / {0} = {3 g}", s.count*s.weighed/1000, s.count, s.weighed)
		return
	}
	w.Step(quantity.Put("{0} × {species}, {3 cm} in total length, each", "species", s.species), "{3 g} ({3 g} to {3 g})", s.count, s.length, b.Likely, b.Low, b.High)
	switch {
	case s.species == "koi" && s.length < standardFrom:
		w.flagOnce(calculators.Text("The likely line for koi is stated from {from cm} total length; for shorter koi it is carried on, rough for fish of a few centimetres.", standardFrom))
	case s.species == "koi" && s.length > koiTo:
		w.flagOnce(calculators.Text("Koi over {longest cm} are beyond all compared figures: a rough guide only.", koiTo))
	case s.species == "goldfish":
		w.flagOnce("Only one line is published for goldfish: the range is an allowance. Round-bodied fancy goldfish are heavier.")
	case s.species == "tench":
		w.flagOnce("Only one line is published for tench: the range is an allowance that takes in ripe females.")
	}
	if s.assumed {
		w.flagOnce("Total length was worked out from fork or standard length with the ratios of carp, from one photograph and one sample.")
	}
}

// refusal says that a fish is longer than its line is stated for.
func (s *shoal) refusal() calculators.InputError {
	accept, longest := "at most {longest 2 cm}, the longest goldfish the published line is stated for", goldfishTo
	if s.species == "tench" {
		accept, longest = "at most {longest 2 cm}, the longest tench the published line is stated for", tenchTo
	}
	if s.weighed > 0 {
		return calculators.Refuse(s.place, "is {mass 3 g}", "at most the weight of the longest fish, {longest 2 cm}, that the published line is stated for", "check the weight and its unit, and the kind of fish", s.weighed, longest)
	}
	return calculators.Refuse(s.place, "is {length 3 cm} in total length", accept, "check the length and its unit, and the kind of fish", s.length, longest)
}

// flagOnce flags what no shoal before was flagged for.
func (w *weighing) flagOnce(flag string) {
	for _, f := range w.Flags {
		if f == flag {
			return
		}
	}
	w.Flag(flag)
}
