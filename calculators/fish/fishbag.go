package fish

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// Transport in bags.
const (
	bagTableHours = 12.0 // what the published figures are for
	bagMostHours  = 24.0 // bionet-shipping: 24 h at most
	bagFryTo      = 8.0  // cm, longest fish of the table of numbers
	bagLeast      = 5.7  // L of water, swann: 1.5 US gal
	bagMost       = 7.6  // L of water, swann: 2 US gal
	loneFrom      = 25.0 // cm, longer fish have a bag to themselves, common practice
	airPerOxygen  = 0.21 // of air, that is oxygen: without a cylinder a bag holds no more
	bagWide       = 60.0 // cm, with bagLong the bag of the trade, common practice
	bagLong       = 80.0 // cm
	bagCoolest    = 10.0 // Cel, common practice
	fryBagLeast   = 16.0 // L of fish, water and gas: fish-packing-lesson, table
	fryBagMost    = 18.0 // L
	bucketMinutes = 20.0 // until oxygen is at its least over carp in buckets: sikorski-carp, abstract
)

// FryPerBag returns how many fry go into an oxygen bag of 16 to 18 L for 12 h, by
// length in cm, 1 to 8; outside it returns NaN in all. Between the lengths of the
// table it runs straight in the logarithm. Source: fish-packing-lesson, table, whose
// column head says g, but whose steps fit cm.
func FryPerBag(length float64) Range {
	if !(length >= 1 && length <= bagFryTo) {
		return Range{math.NaN(), math.NaN(), math.NaN()}
	}
	at := func(numbers ...float64) float64 {
		for i, n := range numbers {
			numbers[i] = math.Log(n)
		}
		return math.Exp(between(length, fryLengths(), numbers))
	}
	return Range{
		at(1000, 500, 200, 200, 75, 50, 25, 25),
		at(5500, 2200, 600, 330, 235, 80, 70, 40),
		at(10000, 5000, 1000, 500, 300, 200, 100, 50),
	}
}

// PerBag returns the same for longer fish, by how many times as heavy they are as
// fish of 8 cm: a bag holds the weight that it holds of those,
//
//	n = n_8 w_8/w.
//
// So it does not jump at the end of the table, and leaves one fish to a bag from
// 25 cm or so on, as the trade has it. Common practice: carp in cooled bags have been
// sent five times as close (BagShare), which a keeper has no use for.
func PerBag(times float64) Range { return FryPerBag(bagFryTo).times(1 / times) }

// BagShare returns the share of fish in the mix of fish and water, per cent, for
// carp above 3 cm in a cooled bag under oxygen: 20 to 25 for up to 12 h, falling
// with the time beyond (common practice), to 24 h; longer, NaN.
// Source: bionet-shipping, post.
func BagShare(hours float64) Range {
	if !(hours <= bagMostHours) {
		return Range{math.NaN(), math.NaN(), math.NaN()}
	}
	return Range{20, 22.5, 25}.times(math.Min(1, bagTableHours/hours))
}

// fryLengths are the lengths of fry in the table, cm.
func fryLengths() []float64 { return []float64{1, 2, 3, 4, 5, 6, 7, bagFryTo} }

// FishBag declares the calculator of transport in bags.
func FishBag() calculators.Calculator {
	c := calculators.Calculator{
		ID: "fish-bag",
		Inputs: append(alikeInputs(), []calculators.Input{
			{
				Name: "hours", Label: "Time in the bag", Kind: quantity.Duration, Unit: "h",
				Help:   "From tying to opening, with the traffic.",
				Accept: calculators.Range{Low: 0.25, High: bagMostHours, Origin: "bionet-shipping, post: 24 h at most"},
				Stated: calculators.Range{Low: 0.25, High: bagTableHours, Origin: "bionet-shipping, post"},
			},
			{
				Name: "gas", Label: "Over the water", Type: calculators.Choice, Default: "oxygen",
				Help: "A dealer fills the bag from a cylinder.",
				Options: []calculators.Option{
					{Name: "oxygen", Label: "pure oxygen"},
					{Name: "air", Label: "air only"},
				},
			},
		}...),
		Outputs: []calculators.Output{
			{Name: "bags", Label: "Bags", Unit: "1", Digits: 2, Whole: true, Help: calculators.Hint("Of {wide cm} by {long cm} or so, doubled, a fifth water and four fifths gas.", bagWide, bagLong)},
			{Name: "per-bag", Label: "Fish in one bag", Unit: "1", Digits: 3, Whole: true, Help: "Take the low end: the figures are the trade's, with starved fish and cooled bags."},
			{Name: "water", Label: "Water in all", Unit: "L", Digits: 2},
			{Name: "weight", Label: "All fish together", Unit: "kg", Digits: 2},
		},
		Compute: computeFishBag,
	}
	if calculators.Documented {
		c.Title = "Fish in a bag"
		c.Question = "How many bags and how much water do my fish need for the way?"
		c.Part = "stocking"
		c.Hazards = []calculators.Hazard{calculators.Lifting, calculators.FishHealth}
		c.Cautions = []string{
			"Trade practice for short trips: law on animal transport, and on moving koi between places, comes first. Ask a vet about sick fish: they do not travel.",
			"In a closed bag carbon dioxide keeps pH and toxic ammonia down. Once it is open, pH rises within minutes and the ammonia turns toxic: be quick, and let no bag water into pond or tank.",
			"Leave filling with oxygen to the dealer. Keep cylinders tied upright, from fire, grease and heat, and keep a window of the car open.",
			"The figures are what a trade packs at its own risk, not an aim: with few fish take more bags.",
		}
		c.Formulas = []calculators.Formula{
			{
				Name: "Numbers of fry", Says: "Fry of 1 to 8 cm in an oxygen bag of 16 to 18 L for 12 h.",
				TeX:    `\ln n = \ln n_i + (\ln n_{i+1} - \ln n_i)\,\frac{L - L_i}{L_{i+1} - L_i}`,
				Source: "fish-packing-lesson", Locator: "table", Basis: "published", Function: "fish.FryPerBag",
				Check: calculators.Implicit("n [1] number of fry, n_i [1] number at the printed length below, n_i+1 [1] number at the printed length above, L_i [cm] printed length below, L_i+1 [cm] printed length above: L [cm] length of the fry 1..8", func(length float64) (n, below, above, from, to float64) {
					from, to = knots(fryLengths(), length)
					return FryPerBag(length).Likely, FryPerBag(from).Likely, FryPerBag(to).Likely, from, to
				}),
			},
			{
				Name: "Longer fish", Says: "A bag holds the weight that it holds of fish of 8 cm; beyond 12 h in proportion less (common practice).",
				TeX:   `n = n_8\,\frac{w_8}{w}`,
				Basis: "practice", Function: "fish.PerBag",
				Check: calculators.Explicit("n [1] number of fish, n_8 [1] number of fish of that length: w [g] weight of a fish 7..200, w_8 [g] weight of a fish at the end of the table 6..8", func(weight, at8 float64) (n, fry float64) {
					return PerBag(weight / at8).Likely, FryPerBag(bagFryTo).Likely
				}),
			},
			{
				Name: "Share of fish", Says: "The closest that carp above 3 cm were sent, cooled, under pure oxygen: fish are 20 to 25 % of fish and water, for 12 h, and 24 h at most. It says only whether one big fish goes into a bag.",
				TeX:    `V = \frac{W}{s},\quad 0.20 \le s \le 0.25`,
				Source: "bionet-shipping", Locator: "post", Basis: "published", Function: "fish.BagShare",
				Check: calculators.Explicit("V [L] volume of fish and water, s [1] share of fish in it: W [kg] weight of the fish 0.1..20", func(weight float64) (litres float64, share Range) {
					share = BagShare(bagTableHours).times(0.01)
					return weight / share.Likely, share
				}),
			},
		}
		c.Example = calculators.Example{
			Story: "Ines gives {count} of her koi of {length} to the club's Weir End, an hour's drive away; the dealer fills the bags with oxygen.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "length", Value: "{fish.length}"}, {Name: "count", Value: "4"}, {Name: "hours", Value: "2 h"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: calculators.Text("Koi in one bag of about {bag 2 L} of water, under oxygen: what the trade packs", (bagLeast+bagMost)/2),
			Rows:    calculators.Axis{Input: "length", Values: []string{"5 cm", "7 cm", "8 cm", "10 cm", "15 cm", "20 cm", "25 cm"}},
			Columns: calculators.Axis{Input: "hours", Values: []string{"6 h", "12 h", "24 h"}},
			Show:    []string{"per-bag"},
		}
		c.Chart = calculators.Chart{
			Caption: "Koi in one bag: the longer, the fewer",
			X:       "length", From: "6 cm", To: "26 cm",
			Show:  "per-bag",
			Given: []calculators.Arg{{Name: "count", Value: "10"}, {Name: "hours", Value: "6 h"}},
		}
	}
	return c
}

func computeFishBag(in calculators.Inputs) (calculators.Result, error) {
	count, hours := in.In("count", "1"), in.In("hours", "h")
	s := alike(in, count)
	each := s.band().times(1.0 / 1000)
	if math.IsNaN(each.Likely) || math.IsNaN(s.length) {
		return calculators.Result{}, s.refusal()
	}
	gas := 1.0
	if in.Choice("gas") == "air" {
		gas = airPerOxygen
	}
	late := gas * math.Min(1, bagTableHours/hours)
	packed := s.packed().times(late)
	share := BagShare(hours).times(gas)
	// A fish that fills more than its share of a bag by itself does not go into one.
	crowded := each.High > share.Low/100*bagLeast
	fit := Range{alone(packed.Low), alone(packed.Likely), alone(packed.High)}
	if s.length > loneFrom {
		fit.Low = 1
	}
	bags := Range{math.Ceil(count / fit.High), math.Ceil(count / fit.Likely), math.Ceil(count / fit.Low)}
	weight := each.times(count)
	var r calculators.Result
	add(&r, "bags", bags)
	add(&r, "per-bag", fit)
	add(&r, "water", Range{bags.Low * bagLeast, bags.Likely * (bagLeast + bagMost) / 2, bags.High * bagMost})
	add(&r, "weight", weight)
	if s.length > bagFryTo {
		r.Step("Fish that one bag holds", "{3} × {3} / {3} × {3} = {3}", FryPerBag(bagFryTo).Likely, s.ofLength(bagFryTo).band().Likely, 1000*each.Likely, late, packed.Likely)
	}
	flagBag(&r, s, gas)
	if crowded {
		each := weight.High * (100/share.Low - 1) / count
		r.Say("Do not send these fish so far in bags of this size: one of them needs {water 2 L} of water. Take a vat with a lid and battery air, more room or a shorter way.", each)
	} else {
		r.Say("Bags to take: {bags 0}, the careful end, and one spare.", bags.High)
	}
	r.Advise("Do not feed for a day before, two for big fish: fasted fish foul the water less.")
	if gas < 1 {
		r.Say("Fill a fifth with pond water and catch as much fresh air over it as you can, twist and tie; second bag over it; box it in the dark, kept cool but above {cold Cel}.", bagCoolest)
	} else {
		r.Say("Fill a fifth with pond water, press the air out, fill with oxygen, twist and tie; second bag over it; box it in the dark, kept cool but above {cold Cel}.", bagCoolest)
	}
	r.Advise(
		"Lay bags so that long fish lie across the drive, and look only if you must.",
		"On arrival float the closed bag, open it last, net the fish over, pour the water to waste.",
	)
	return r, nil
}

// packed returns how many of these fish go into a bag of oxygen for half a day.
func (s *shoal) packed() Range {
	if s.length <= bagFryTo {
		return FryPerBag(math.Max(1, s.length))
	}
	return PerBag(s.band().Likely / s.ofLength(bagFryTo).band().Likely)
}

// alone returns how many whole fish a bag takes: one needs a bag, however big it is.
// A logarithm and back may lose the last digit of a whole number.
func alone(fish float64) float64 { return math.Max(1, math.Floor(fish*(1+1e-9))) }

func flagBag(r *calculators.Result, s *shoal, gas float64) {
	if gas < 1 {
		r.Doubt("With air only the figures are cut to a fifth, by the oxygen in air: common practice at best. Carp in buckets ran out of oxygen within {minutes 0|minute|minutes}.", bucketMinutes)
	}
	if s.length <= bagFryTo {
		r.Doubt("For fry the numbers are those of an oxygen bag of {least ~} to {most L}, by a page with a doubtful column head.", fryBagLeast, fryBagMost)
	} else {
		r.Doubt("No table reaches beyond {length cm}: the bag is taken to hold as much weight as of fish of that length. Some farms pack cooled carp five times as close; do not.", bagFryTo)
	}
	if s.length > loneFrom {
		r.Doubt("Beyond about {length cm} trade figures say little: one fish to a bag is the rule, and the bag must be longer than the fish.", loneFrom)
	}
}
