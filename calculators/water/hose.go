package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// TapShare returns the share of tap water, 0 to 1, in a mixed pond into which
// tap water ran, all three in one unit of volume: the pond's water at the start,
// the room up to its overflow, and the tap water let in. Until the room is full
// the water is only diluted, afterwards it also runs over:
//
//	in/(pond + in),  then  1 - pond/(pond + room) exp(-(in - room)/(pond + room))
//
// It is the mass balance of both stretches.
func TapShare(pond, room, in float64) float64 {
	if in <= room {
		return in / (pond + in)
	}
	full := pond + room
	return 1 - pond/full*LeftAfterRunThrough((in-room)/full)
}

// HoseLeftOn declares the calculator of a hose that was forgotten in the pond.
func HoseLeftOn() calculators.Calculator {
	c := calculators.Calculator{
		ID:      "hose-left-on",
		Inputs:  hoseInputs(),
		Outputs: hoseOutputs(),
		Compute: computeHose,
	}
	if calculators.Documented {
		c.Title = "Hose left on"
		c.Question = "The hose ran into the pond: how much of it is tap water now, how much chlorine, and what do I do first?"
		c.Part = "water"
		c.Formulas = []calculators.Formula{
			{Name: "Share of tap water", Says: "A mixed pond of the volume V with room R up to its overflow, after tap water W ran in.",
				TeX:   `s = \begin{cases} \frac{W}{V+W} & W \le R \\ 1 - \frac{V}{V+R}\,e^{-(W-R)/(V+R)} & W > R \end{cases}`,
				Basis: "practice", Function: "water.TapShare",
				Check: calculators.Explicit("s [1] share of tap water: V [L] volume of the pond 500..20000, R [L] room up to the overflow 0..2000, W [L] tap water that ran in 100..9000", TapShare)},
			{Name: "Chlorine and temperature", Says: "In proportion to the share, at the most: none used up by dirt or sun, no heat from air and ground.",
				TeX: `c = s\,c_\mathrm{tap}`, Basis: "practice", Function: "water.Mixed",
				Check: calculators.Explicit("c [mg/L] concentration in the pond: c_tap [mg/L] concentration in the tap water 0..4, s [1] share of tap water 0..1", func(tap, share float64) float64 { return Mixed(0, tap, share) })},
			{Name: "Ammonia from chloramine", Says: "One nitrogen for each chlorine of monochloramine, counted as Cl2: 0.198.",
				TeX:    `c_\mathrm{N} = \frac{14.007}{70.90}\,c_\mathrm{Cl_2}`,
				Source: "iupac-atomic-weights", Locator: "stoichiometry, chlorine as Cl2", Basis: "published", Function: "water.ChloramineNitrogen",
				Check: calculators.Explicit("c_N [mg/L] ammonia set free as nitrogen: c_Cl_2 [mg/L] 0.1..4", ChloramineNitrogen)},
		}
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.Wildlife, calculators.FishHealth}
		c.Cautions = []string{
			"Do not wait for the sum: tap off, dechlorinator for the whole pond by its label, all air on.",
			"No level of chlorine is known to be safe for fish, and a kit that shows 0 may not read so low.",
		}
		c.Example = calculators.Example{
			Story: "Ines topped up Lower Reach, forgot the hose overnight and finds it after {time}: {flow}, pond full at {volume}, tap {chlorine} chloramine at {tap-temperature}, pond {temperature}.",
			Pond:  "ines", Day: "2025-07-11",
			Given: []calculators.Arg{{Name: "flow", Value: "600 L/h"}, {Name: "time", Value: "9 h"}, {Name: "chlorine", Value: "1.5 mg/L"}},
		}
		c.Lookup = calculators.Lookup{
			Caption: "Share of tap water in a full pond with the hose at {flow}",
			Rows:    calculators.Axis{Input: "time", Values: []string{"15 min", "1 h", "2 h", "4 h", "8 h", "12 h", "24 h"}},
			Columns: calculators.Axis{Input: "volume", Values: []string{"1000 L", "2500 L", "5000 L", "10000 L", "25000 L"}},
			Show:    []string{"share"},
			Given:   []calculators.Arg{{Name: "flow", Value: "900 L/h"}},
		}
		c.Chart = calculators.Chart{
			Caption: "Chlorine in a full pond of {volume}, tap at {chlorine}",
			X:       "time", From: "0.1 h", To: "12 h",
			Series: calculators.Axis{Input: "flow", Values: []string{"300 L/h", "600 L/h", "1200 L/h"}},
			Show:   "chlorine",
			Given:  []calculators.Arg{{Name: "volume", Value: "10000 L"}},
		}
	}
	return c
}

func hoseInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume", Fact: "volume", Label: "Water in the pond before", Kind: quantity.Volume, Help: "From the pond-volume calculator; filters count too.",
			Accept: calculators.Range{Low: 10, High: 1e7, Origin: "sanity limit"}},
		{Name: "flow", Label: "Flow of the hose", Kind: quantity.Flow, Help: calculators.Text("Time a bucket; a garden hose gives {least 0} to {most 0 L/h} (common practice).", weakHose, strongHose),
			Accept: calculators.Range{Low: 1, High: 20000, Origin: "sanity limit"}},
		{Name: "time", Label: "Time it ran", Kind: quantity.Duration, Unit: "h", Help: "The longest it may have been.",
			Accept: calculators.Range{Low: 0, High: 720, Origin: "sanity limit"}},
		{Name: "room", Label: "Room up to the overflow", Kind: quantity.Volume, Fine: true, Default: "0 L", Help: "Surface times the height the water could still rise.",
			Accept: calculators.Range{Low: 0, High: 1e7, Origin: "sanity limit"}},
		{Name: "chlorine", Fact: "tap-chlorine", Label: "Total chlorine in the tap water", Kind: quantity.Concentration, Default: "4 mg/L", Help: calculators.Text("From the water company or a kit; {most mg/L} is the most allowed in the United States.", limits.TapMost),
			Accept: calculators.Range{Low: 0, High: 20, Origin: "sanity limit"}},
		{Name: "disinfectant", Fact: "tap-disinfectant", Label: "The tap has", Type: calculators.Choice, Default: "unknown", Help: "Ask the water company; it may change in a season.",
			Options: []calculators.Option{{Name: "unknown", Label: "I do not know: count it as chloramine"}, {Name: "chlorine", Label: "chlorine"}, {Name: "chloramine", Label: "chloramine"}}},
		{Name: "temperature", Fact: "temperature", Label: "Pond temperature before", Kind: quantity.Temperature, Fine: true, Optional: true, Help: "With the tap's, to see the jump.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
		{Name: "tap-temperature", Fact: "tap-temperature", Label: "Tap temperature", Kind: quantity.Temperature, Fine: true, Optional: true, Help: "Let it run a minute, then measure.",
			Accept: calculators.Range{Low: 0, High: 40, Origin: "sanity limit"}},
	}
}

// What a garden hose gives, L/h: common practice.
const (
	weakHose   = 600.0
	strongHose = 1200.0
)

// crystalsPerChlorine are the mg of thiosulfate crystals for each mg of chlorine.
func crystalsPerChlorine() float64 {
	least, _ := NeutraliserPerChlorine("thiosulfate")
	return math.Round(least)
}

func hoseOutputs() []calculators.Output {
	return []calculators.Output{
		{Name: "share", Label: "Tap water in the pond", Unit: "%", Digits: 2},
		{Name: "chlorine", Label: "Chlorine in the pond, at the most", Unit: "mg/L", Digits: 2, Help: "As if none were used up by dirt or driven off."},
		{Name: "crystals", Label: "Thiosulfate crystals for that chlorine", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}, Help: calculators.Text("At {each ~} mg for each mg. A product goes by its label, for the whole pond.", crystalsPerChlorine())},
		{Name: "ammonia", Label: "Ammonia added, as nitrogen, at the most", Unit: "mg/L", Digits: 2, Help: "Set free from chloramine."},
		{Name: "temperature", Label: "Temperature now, about", Unit: "Cel", Digits: 3, Also: []string{"[degF]"}, Help: "Without what air and ground gave back."},
		{Name: "in", Label: "Tap water let in", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}},
		{Name: "overflow", Label: "Water run over", Unit: "L", Digits: 2, Also: []string{"[gal_br]", "[gal_us]"}, Help: "Salt and medicine left with it; look where it went."},
	}
}

func computeHose(in calculators.Inputs) (calculators.Result, error) {
	pond, room := in.In("volume", "L"), in.In("room", "L")
	tap := in.In("flow", "L/h") * in.In("time", "h")
	share := TapShare(pond, room, tap)
	now := pond + math.Min(tap, room)
	chlorine := share * in.In("chlorine", "mg/L")
	var r calculators.Result
	r.Exactly("share", 100*share)
	r.Exactly("chlorine", chlorine)
	perChlorine, _ := NeutraliserPerChlorine("thiosulfate")
	r.Exactly("crystals", perChlorine*chlorine*now/1000)
	if in.Choice("disinfectant") != "chlorine" {
		r.Exactly("ammonia", ChloramineNitrogen(chlorine))
	}
	r.Step("Tap water let in", "{3 L/h} × {3 h} = {3 L}", in.In("flow", "L/h"), in.In("time", "h"), tap)
	if tap <= room {
		r.Step("Share of tap water", "{3 L} / ({3 L} + {3 L}) = {3 %}", tap, pond, tap, 100*share)
	} else {
		r.Step("Share of tap water, once the pond runs over", "1 − {3 L} / ({3 L} + {3 L}) × exp(−({3 L} − {3 L}) / ({3 L} + {3 L})) = {3 %}", pond, pond, room, tap, room, pond, room, 100*share)
	}
	r.Step("Chlorine", "{3 %} × {3 mg/L} = {2 mg/L}", 100*share, in.In("chlorine", "mg/L"), chlorine)
	adviseHose(in, &r, share)
	r.Exactly("in", tap)
	r.Exactly("overflow", math.Max(0, tap-room))
	r.Scale = calculators.Scale{Output: "chlorine", Marks: limits.Marks(limits.Chlorine), Log: true}
	return r, nil
}

func adviseHose(in calculators.Inputs, r *calculators.Result, share float64) {
	r.Advise(
		"Turn the tap off.",
		"Dose dechlorinator once, for the whole pond now, by its label, even if the fish look well. Plain thiosulfate crystals go by the grams found here in place of a label's dose, and not on top of it.",
		"All air on, and all the water over the tower. No feed.",
		"Test total chlorine, ammonia, pH and temperature within the hour, and again in the evening. Dose again only if chlorine still shows.",
		"If fish gasp, dart or lie over: call a fish vet. Move fish only if you have safe water of the same temperature.",
	)
	r.Say("If the pond may hold {error %} less than you think, there is up to a quarter more chlorine than shown; if it may hold more, dose for the more, as far as the label allows.", limits.VolumeError)
	if in.Has("temperature") && in.Has("tap-temperature") {
		old := in.In("temperature", "Cel")
		mixed := Mixed(old, in.In("tap-temperature", "Cel"), share)
		r.Exactly("temperature", mixed)
		if math.Abs(mixed-old) > 2 {
			r.Advise("Do not heat or cool the pond back: let it come back by itself.")
		}
	}
	if !in.Stated("chlorine") {
		r.Doubt("{taken mg/L} is a high guess where the tap is not known, but not the most: up to {highest mg/L} was found with chloramine.", in.In("chlorine", "mg/L"), limits.TapHighest)
	}
	if share > 0 && in.Choice("disinfectant") != "chlorine" {
		r.Flag("Ammonia from chloramine comes on top of what the kit showed before.")
	}
	r.Flag("The answer takes the pond as mixed all the time; near the hose there was far more chlorine.")
}
