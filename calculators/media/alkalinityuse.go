package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/water"
)

// AlkalinityUse declares the calculator of the KH that the filter uses up.
func AlkalinityUse() calculators.Calculator {
	c := calculators.Calculator{
		ID: "alkalinity-use",
		Inputs: append(feedInputs(),
			calculators.Input{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Accept: calculators.Range{Low: 50, High: 1000000, Origin: "sanity limit"}, Help: "With the filter and the pipes."},
			calculators.Input{Name: "kh", Fact: "alkalinity", Label: "KH of the pond, as CaCO3", Kind: quantity.Hardness, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Help: calculators.Text("Tested before a water change; a German degree is {degree 3 mg/L}.", water.GermanDegree)},
			calculators.Input{Name: "tap", Fact: "tap-alkalinity", Label: "KH of the tap water, as CaCO3", Kind: quantity.Hardness, Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}, Help: "Tested once; rain water has next to none."},
			calculators.Input{Name: "change", Fact: "week-change", Label: "Water changed in a week", Kind: quantity.Share, Default: "10 %", Accept: calculators.Range{Low: 0, High: 90, Origin: "sanity limit"}, Help: "Not what only evaporates and is topped up."}),
		Outputs: []calculators.Output{
			{Name: "bicarbonate", Label: "Sodium bicarbonate a week that holds the KH", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}, Help: "With these water changes; tap water softer than the pond asks for more."},
			{Name: "bicarbonate-alone", Label: "The same without any water change", Unit: "g", Digits: 2, Also: []string{"[oz_av]"}},
			{Name: "fall", Label: "The filter lowers KH in a week by", Unit: "mg/L", Digits: 2},
			{Name: "brought", Label: "Water changes raise it in a week by", Unit: "mg/L", Digits: 2, Help: "Below nothing if the tap is softer than the pond."},
			{Name: "days", Label: calculators.Text("Without bicarbonate at {floor mg/L} after", limits.AlkalinityLowAct), Unit: "d", Digits: 2, Help: "From there the pH can crash overnight."},
			{Name: "days-degree", Label: calculators.Text("Without bicarbonate at one German degree, {degree 3 mg/L}, after", water.GermanDegree), Unit: "d", Digits: 2},
			{Name: "days-none", Label: "Without bicarbonate at nothing after", Unit: "d", Digits: 2, Help: "If the pH did not crash before, and stop the filter."},
			{Name: "settles", Label: "Without bicarbonate it settles at", Unit: "mg/L", Digits: 2, Help: "Just before each water change."},
			{Name: "fall-degrees", Label: "The filter lowers KH in a week, in German degrees, by", Unit: "1", Digits: 2, Fine: true},
			{Name: "ammonia", Label: "Ammonia nitrogen a day", Unit: "g/d", Digits: 2, Fine: true, Help: calculators.Text("Each gram uses {alkalinity 3 g} of KH.", fish.AlkalinityPerNitrogen)},
			{Name: "used", Label: "Alkalinity used in a week, as CaCO3", Unit: "g", Digits: 2, Fine: true},
		},
		Compute: computeAlkalinity,
	}
	if calculators.Documented {
		c.Title = "KH the filter uses up"
		c.Question = "How fast does my filter use up KH, do water changes make it good, and how much bicarbonate if not?"
		c.Part = "media"
		c.Formulas = alkalinityFormulas()
		c.Hazards = []calculators.Hazard{calculators.Chemicals, calculators.Chlorine, calculators.FishHealth}
		c.Cautions = []string{
			calculators.Text("Never make good weeks in one go: at most {step mg/L} a day, dissolved in a bucket, where the water moves; test pH and KH before each dose.", limits.KHStepDay),
			calculators.Text("A pH already below {crash ~} is an emergency: bicarbonate for {step mg/L} of KH a day in four parts, small water changes, often, and a fish vet on the telephone.", limits.PHLowEmergency, limits.KHStepCrash),
		}
		c.Example = calculators.Example{
			Story: "Ines feeds {feed} of {protein} protein in Lower Reach, {volume}, and changes {change} each week. KH is {kh} in the pond and {tap} in the tap.",
			Pond:  "ines", Day: "2025-09-06",
		}
		c.Lookup = calculators.Lookup{
			Caption: "Sodium bicarbonate a week, in {volume} with {kh} KH, tap water of {tap}",
			Rows:    calculators.Axis{Input: "feed", Values: []string{"20 g/d", "40 g/d", "80 g/d", "150 g/d"}},
			Columns: calculators.Axis{Input: "change", Values: []string{"0 %", "10 %", "20 %", "50 %"}},
			Show:    []string{"bicarbonate"},
			Pond:    "ines", Day: "2025-09-06",
		}
		c.Chart = calculators.Chart{
			Caption: "Where KH settles without bicarbonate, by the water changed each week, in {volume} with tap water of {tap}",
			X:       "change", From: "5 %", To: "60 %",
			Series: calculators.Axis{Input: "feed", Values: []string{"20 g/d", "40 g/d", "80 g/d"}},
			Show:   "settles", Pond: "ines", Day: "2025-09-06",
		}
	}
	return c
}

func alkalinityFormulas() []calculators.Formula {
	return []calculators.Formula{
		{Name: "Alkalinity used", Says: "7.14 g as CaCO3 for each gram of ammonia nitrogen; what nitrate removal would give back is left out, a shower does next to none.",
			TeX: `u = 7\cdot 7.14\,\frac{\mathrm{TAN}}{V}`, Source: "metcalf-eddy-2014", Locator: "p. 762 example", Basis: "published", Function: "media.AlkalinityFall",
			Check: calculators.Explicit("u [mg/L] alkalinity used in a week as CaCO3: TAN [g/d] 0.5..20, V [m3] 0.5..50", func(tan, volume float64) float64 { return AlkalinityFall(tan / volume) })},
		{Name: "Weeks on", Says: "KH before each change of a share f of the water, for tap water with T; in the long run T − u/f.",
			TeX: `K_n = K^* + (K_0 - u - K^*)(1-f)^{n-1},\quad K^* = T - \frac{u}{f}`, Basis: "practice", Function: "media.AlkalinityAfter",
			Check: calculators.Explicit("K_n [mg/L] KH before change n as CaCO3: K_0 [mg/L] KH at the start 50..200, u [mg/L] KH used from change to change 2..40, T [mg/L] KH of the tap water 20..200, f [1] 0.05..0.5, n [1] number of the change 1..20", func(now, fall, tap, share float64, weeks int) float64 {
				return AlkalinityAfter(now, fall, tap, share, float64(weeks))
			})},
		{Name: "Days to the floor", Says: "When KH comes down to 50 mg/L, below which the pH can crash.",
			TeX: `K(t) = 50`, Source: "azeah-alkalinity", Locator: "second paragraph", Basis: "published", Function: "media.AlkalinityDays",
			Check: calculators.Implicit("t [d] time to the floor, K [mg/L] KH of the water as CaCO3: - [mg/L] 80..200, - [mg/L] 8..40, - [mg/L] 40..60, - [1] 0.05..0.15", func(now, fall, tap, share float64) (days float64, course func(float64) float64) {
				days, _ = AlkalinityDays(now, fall, tap, share, limits.AlkalinityLowAct)
				return days, func(day float64) float64 { return alkalinityOn(now, fall, tap, share, day) }
			})},
	}
}

// bicarbonatePerKH is the sodium bicarbonate for a gram of alkalinity, g/g.
const bicarbonatePerKH = fish.BicarbonatePerNitrogen / fish.AlkalinityPerNitrogen

func computeAlkalinity(in calculators.Inputs) (calculators.Result, error) {
	volume, kh, tap, share := in.In("volume", "m3"), in.In("kh", "mg/L"), in.In("tap", "mg/L"), in.In("change", "%")/100
	load := readLoad(in).Times(1 / volume)
	fall := Range{AlkalinityFall(load.Low), AlkalinityFall(load.Likely), AlkalinityFall(load.High)}
	brought := share * (tap - kh) // kh is the reading just before a change
	missing := Range{math.Max(0, fall.Low-brought), math.Max(0, fall.Likely-brought), math.Max(0, fall.High-brought)}
	dose := missing.Times(volume * bicarbonatePerKH)
	var r calculators.Result
	add(&r, "bicarbonate", dose)
	add(&r, "fall", fall)
	r.Exactly("brought", brought)
	add(&r, "bicarbonate-alone", fall.Times(volume*bicarbonatePerKH))
	add(&r, "fall-degrees", fall.Times(1/water.GermanDegree))
	add(&r, "ammonia", load.Times(volume))
	add(&r, "used", fall.Times(volume))
	if share > 0 {
		r.Between("settles", math.Max(0, tap-fall.High/share), math.Max(0, tap-fall.Likely/share), math.Max(0, tap-fall.Low/share))
	}
	course := khCourse{kh, fall, tap, share}
	days := course.addDays(&r, "days", limits.AlkalinityLowAct)
	course.addDays(&r, "days-degree", water.GermanDegree)
	course.addDays(&r, "days-none", 0)
	if kh <= limits.AlkalinityLowAct {
		adviseLowKH(&r, volume)
	} else {
		days.advise(&r)
	}
	if kh > limits.AlkalinityLowAct {
		adviseDose(&r, kh, missing.Likely, dose.Likely, volume)
	}
	r.Step("Filter, in a week", "7 × 7.14 × {3 mg/L} = {3 mg/L}", load.Likely, fall.Likely)
	r.Step("Water changes, in a week", "{3 %} × ({~4 mg/L} − {~4 mg/L}) = {3 mg/L}", 100*share, tap, kh, brought)
	if dose.Likely > 0 {
		r.Step("Bicarbonate, in a week", "({3 mg/L} − {3 mg/L}) × 1.68 × {3 m3} = {3 g}", fall.Likely, brought, volume, dose.Likely)
	} else {
		r.Step("Bicarbonate, in a week", "none is needed")
	}
	return r, nil
}

// khCourse is a KH in mg/L that goes down by a fall a week, with weekly changes for
// tap water as in AlkalinityAfter.
type khCourse struct {
	kh         float64
	fall       Range
	tap, share float64
}

// khDays is when a KH comes down to a floor: the likely day and the soonest, in days;
// +Inf where it never does.
type khDays struct{ likely, soonest float64 }

// addDays adds the days until KH is at a floor, if it comes down so far at the likely
// ammonia, and returns them.
func (c khCourse) addDays(r *calculators.Result, output string, floor float64) khDays {
	on := func(fall float64) float64 {
		if day, falls := AlkalinityDays(c.kh, fall, c.tap, c.share, floor); falls {
			return day
		}
		return math.Inf(1)
	}
	days, last := khDays{on(c.fall.Likely), on(c.fall.High)}, on(c.fall.Low)
	if math.IsInf(days.likely, 1) {
		return days
	}
	if math.IsInf(last, 1) {
		last = days.likely
		r.Doubt("At the low end of the ammonia KH never comes down to {floor 2 mg/L}: those days have no upper end.", floor)
	}
	r.Between(output, days.soonest, days.likely, last)
	return days
}

// Days in which a KH that goes down leaves no time, and a little: common practice.
const (
	khHurry = 7.0
	khSoon  = 28.0
)

// advise says when the pH may crash, by the likely day, and how soon to begin.
func (d khDays) advise(r *calculators.Result) {
	switch {
	case math.IsInf(d.soonest, 1):
		return
	case d.soonest >= khSoon:
		r.Say("KH goes down slowly: test it every week, and put it right before it is at {floor mg/L}.", limits.AlkalinityLowAct)
		return
	case math.IsInf(d.likely, 1):
		r.Say("At the high end of the ammonia the pH may crash in {soonest 0|day|days}, without bicarbonate or more fresh water; at the likely one it does not.", math.Floor(d.soonest))
	default:
		r.Say("Without bicarbonate or more fresh water the pH may crash in about {likely 0|day|days}, at the soonest in {soonest 0|day|days}.", math.Round(d.likely), math.Floor(d.soonest))
	}
	if d.soonest < khHurry {
		r.Advise("Begin today with what follows.")
	} else {
		r.Advise("Begin this week with what follows.")
	}
}

// adviseLowKH says how to bring up a KH at which the pH can crash; the doses that
// hold it come later, with the feed.
func adviseLowKH(r *calculators.Result, volume float64) {
	r.Advise("KH is down where the pH can crash overnight: feed nothing, and test pH and ammonia now.")
	r.Say("If the toxic part of the ammonia is {good mg/L} or more, change a little water, often, and ask the calculator of test readings before you add anything.", limits.AmmoniaWatch)
	r.Say("If the pH is {crash ~} or below, change a tenth of the water, and an hour later give sodium bicarbonate for {step mg/L} of KH a day and no more, {dose 2 g}, the first day's in four parts.", limits.PHLowEmergency, limits.KHStepCrash, water.CrashDose(1000*volume))
	r.Say("If neither is so, dissolve at most {dose 2 g} of pure sodium bicarbonate a day, for {volume 3 L}, and pour it in where the water moves, until KH is at {enough mg/L}: {step mg/L} a day, or {more 2} if there is {error %} less water. Test pH and KH before each dose.",
		limits.KHStepDay*bicarbonatePerKH*volume, 1000*volume, limits.AlkalinityLowWatch, limits.KHStepDay, limits.KHStepDay/(1-limits.VolumeError/100), limits.VolumeError)
	r.Advise(undoKH, "Feed again when KH is up, and reckon anew.")
}

// adviseDose says what holds the KH.
func adviseDose(r *calculators.Result, kh, missing, dose, volume float64) {
	switch {
	case dose <= 0:
		r.Advise("Water changes bring as much as the filter uses: nothing to add. Test KH each week in warm months.")
	case kh > limits.AlkalinityHighWatch:
		r.Say("Add none yet: KH above {most mg/L} is more than the filter needs. Let it come down, test it each week, and reckon anew from {enough mg/L}.", limits.AlkalinityHighWatch, limits.AlkalinityLowWatch)
	case missing > 7*limits.KHStepDay:
		r.Say("To hold this KH would take more than {step mg/L} a day, too much to dose: feed less and change more water, in small parts.", limits.KHStepDay)
	default:
		r.Say("Give {dose 2 g} of pure sodium bicarbonate a week, in daily shares, for {volume 3 L}, while the toxic part of any ammonia stays below {good mg/L}. It follows the feed: if the pond is {error %} smaller than you think, the dose is still right, but KH swings a quarter wider.",
			dose, 1000*volume, limits.AmmoniaWatch, limits.VolumeError)
		r.Advise(undoKH)
	}
}

const undoKH = "Too much is undone by a water change, never by acid."

// alkalinityOn returns the alkalinity on a day of the course that AlkalinityDays
// follows, mg/L: it falls evenly between the changes.
func alkalinityOn(now, fall, tap, share, day float64) float64 {
	week := math.Floor(day / 7)
	if week > 0 {
		now = AlkalinityAfter(now, fall, tap, share, week)
		now += share * (tap - now)
	}
	return now - fall*(day/7-week)
}
