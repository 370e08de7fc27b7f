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
	bagFryTo      = 7.0  // cm, longest fish of the table of numbers
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
// length in cm, 1 to 7; outside it returns NaN in all. Between the lengths of the
// table it runs straight in the logarithm. Source: fish-packing-lesson, table,
// from memory: its column head says g, but its steps fit cm.
func FryPerBag(length float64) Range {
	if !(length >= 1 && length <= bagFryTo) {
		return Range{math.NaN(), math.NaN(), math.NaN()}
	}
	at := func(one, two, four, five, seven float64) float64 {
		return math.Exp(between(length, fryLengths(), []float64{math.Log(one), math.Log(two), math.Log(four), math.Log(five), math.Log(seven)}))
	}
	return Range{at(1000, 500, 200, 75, 25), at(5500, 2200, 330, 235, 70), at(10000, 5000, 500, 300, 100)}
}

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
func fryLengths() []float64 { return []float64{1, 2, 4, 5, bagFryTo} }

// FishBag declares the calculator of transport in bags.
func FishBag() calculators.Calculator {
	c := calculators.Calculator{
		ID: "fish-bag",
		Inputs: []calculators.Input{
			speciesInput(), lengthInput(), countInput(), measuredInput(),
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
		},
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
			"The table for fry was quoted from memory, with a doubtful column head.",
		}
		c.Formulas = []calculators.Formula{
			{
				Name: "Share of fish", Says: "Carp above 3 cm in cooled bags under pure oxygen: fish are 20 to 25 % of fish and water, for 12 h and 24 h at most; beyond 12 h in proportion less (common practice).",
				TeX:    `V = \frac{W}{s},\quad 0.20 \le s \le 0.25`,
				Source: "bionet-shipping", Locator: "post", Basis: "published", Function: "fish.BagShare",
				Check: calculators.Explicit("V [L] volume of fish and water, s [1] share of fish in it: W [kg] weight of the fish 0.1..20", func(weight float64) (litres float64, share Range) {
					share = BagShare(bagTableHours).times(0.01)
					return weight / share.Likely, share
				}),
			},
			{
				Name: "Numbers of fry", Says: "Fry of 1 to 7 cm in an oxygen bag of 16 to 18 L for 12 h.",
				TeX:    `\ln n = \ln n_i + (\ln n_{i+1} - \ln n_i)\,\frac{L - L_i}{L_{i+1} - L_i}`,
				Source: "fish-packing-lesson", Locator: "table", Basis: "memory", Function: "fish.FryPerBag",
				Check: calculators.Implicit("n [1] number of fry, n_i [1] number at the printed length below, n_i+1 [1] number at the printed length above, L_i [cm] printed length below, L_i+1 [cm] printed length above: L [cm] length of the fry 1..7", func(length float64) (n, below, above, from, to float64) {
					from, to = knots(fryLengths(), length)
					return FryPerBag(length).Likely, FryPerBag(from).Likely, FryPerBag(to).Likely, from, to
				}),
			},
		}
		c.Example = calculators.Example{
			Story: "Ines gives {count} of her koi of {length} to the club's Weir End, an hour's drive away; the dealer fills the bags with oxygen.",
			Pond:  "ines",
			Given: []calculators.Arg{{Name: "length", Value: "{fish.length}"}, {Name: "count", Value: "4"}, {Name: "hours", Value: "2 h"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: calculators.Text("Koi in one bag of about {bag 2 L} of fish and water, under oxygen: what the trade packs", (bagLeast+bagMost)/2),
			Rows:    calculators.Axis{Input: "length", Values: []string{"5 cm", "7 cm", "10 cm", "15 cm", "20 cm", "25 cm"}},
			Columns: calculators.Axis{Input: "hours", Values: []string{"6 h", "12 h", "24 h"}},
			Show:    []string{"per-bag"},
		}
		c.Chart = calculators.Chart{
			Caption: "Water for ten koi by length",
			X:       "length", From: "8 cm", To: "40 cm",
			Show:  "water",
			Given: []calculators.Arg{{Name: "count", Value: "10"}, {Name: "hours", Value: "6 h"}},
		}
	}
	return c
}

func computeFishBag(in calculators.Inputs) (calculators.Result, error) {
	count, hours := in.In("count", "1"), in.In("hours", "h")
	s := readShoal("length", in, count)
	each := s.band().times(1.0 / 1000)
	if math.IsNaN(each.Likely) {
		return calculators.Result{}, s.refusal()
	}
	gas := 1.0
	if in.Choice("gas") == "air" {
		gas = airPerOxygen
	}
	share, fit := BagShare(hours).times(gas), Range{}
	if s.length <= bagFryTo {
		fit = FryPerBag(math.Max(1, s.length)).times(gas * math.Min(1, bagTableHours/hours))
	} else {
		middle := (bagLeast + bagMost) / 2
		fit = Range{share.Low / 100 * bagLeast / each.High, share.Likely / 100 * middle / each.Likely, share.High / 100 * bagMost / each.Low}
	}
	crowded := fit.Low < 1 // even one fish is too much for a bag
	if s.length > loneFrom {
		fit.Low = 1
	}
	// A fish needs a bag, however big it is.
	fit = Range{math.Max(1, math.Floor(fit.Low)), math.Max(1, math.Floor(fit.Likely)), math.Max(1, math.Floor(fit.High))}
	bags := Range{math.Ceil(count / fit.High), math.Ceil(count / fit.Likely), math.Ceil(count / fit.Low)}
	weight := each.times(count)
	var r calculators.Result
	add(&r, "bags", bags)
	add(&r, "per-bag", fit)
	add(&r, "water", Range{weight.Low * (100/share.High - 1), weight.Likely * (100/share.Likely - 1), weight.High * (100/share.Low - 1)})
	add(&r, "weight", weight)
	r.Step("Fish and water", "{2 kg} / {3 %} / 1 kg/L = {2 L}", weight.Likely, share.Likely, 100*weight.Likely/share.Likely)
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

func flagBag(r *calculators.Result, s *shoal, gas float64) {
	if gas < 1 {
		r.Doubt("With air only the figures are cut to a fifth, by the oxygen in air: common practice at best. Carp in buckets ran out of oxygen within {minutes 0|minute|minutes}.", bucketMinutes)
	}
	if s.length <= bagFryTo {
		r.Doubt("For fry the numbers of an oxygen bag of {least ~} to {most L} are taken, from memory.", fryBagLeast, fryBagMost)
	}
	if s.length > loneFrom {
		r.Doubt("Beyond about {length cm} trade figures say little: one fish to a bag is the rule, and the bag must be longer than the fish.", loneFrom)
	}
}
