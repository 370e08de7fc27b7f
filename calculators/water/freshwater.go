package water

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// newWaterInputs ask for what decides whether new water makes ammonia less toxic.
func newWaterInputs() []calculators.Input {
	return []calculators.Input{
		{Name: "volume", Fact: "volume", Label: "Water in the pond", Kind: quantity.Volume, Optional: true, Help: "For litres and gallons; filters count too.",
			Accept: calculators.Range{Low: 10, High: 1e7, Origin: "sanity limit"}},
		{Name: "tap-tan", Label: "Total ammonia of the new water", Kind: quantity.Concentration, Default: "0 mg/L", Fine: true, Help: "Once it is neutralised, with the same kit: chloramine leaves a fifth of its chlorine as ammonia.",
			Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		{Name: "tap-ph", Fact: "tap-ph", Label: "pH of the new water", Kind: quantity.PH, Optional: true, Fine: true, Help: "Stir a glass for a quarter of an hour, then test.",
			Accept: calculators.Range{Low: 4, High: 11, Origin: "sanity limit"}},
		{Name: "alkalinity", Fact: "alkalinity", Label: "KH of the pond, as CaCO3", Kind: quantity.Hardness, Optional: true, Fine: true, Help: "With the next it tells how far the pH goes up.",
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
		{Name: "tap-alkalinity", Fact: "tap-alkalinity", Label: "KH of the new water, as CaCO3", Kind: quantity.Hardness, Optional: true, Fine: true, Help: "From the water company or the same kit.",
			Accept: calculators.Range{Low: 0, High: 1000, Origin: "sanity limit"}},
	}
}

// freshWater is the new water as stated.
type freshWater struct {
	total                         float64 // mg/L as nitrogen
	ph, alkalinity, newAlkalinity float64 // NaN: not stated
}

func (a *ammoniaReading) readFresh(in calculators.Inputs) {
	a.volume = in.In("volume", "L")
	a.fresh = freshWater{total: in.In("tap-tan", "mg/L") / a.perNitrogen, ph: in.In("tap-ph", "[pH]"), alkalinity: in.In("alkalinity", "mg/L"), newAlkalinity: in.In("tap-alkalinity", "mg/L")}
}

// renewal is the change of water, with the readings out by the given factor and pH.
func (a ammoniaReading) renewal(factor, phShift float64) Renewal {
	return Renewal{
		Total: factor * a.total, NewTotal: factor * a.fresh.total, PH: a.ph + phShift, NewPH: a.fresh.ph + phShift,
		Alkalinity: a.fresh.alkalinity, NewAlkalinity: a.fresh.newAlkalinity, T: a.t, NewT: math.NaN(), Salinity: a.salinity,
	}
}

// addChange adds the share of water that brings the toxic part down to a limit, in
// per cent, and how much water that is, if the new water can bring it there and it
// can be told. Where only the error of the readings puts it out of reach the range
// goes up to all of the water.
func (a ammoniaReading) addChange(r *calculators.Result, output, water string, limit float64) {
	likely, ok := a.renewal(1, 0).Share(limit)
	if !ok || !a.renewal(1, 0).Told() {
		return
	}
	low, lowOK := a.renewal(1-a.kitError, -a.phError).Share(limit)
	high, highOK := a.renewal(1+a.kitError, a.phError).Share(limit)
	if !lowOK {
		low = 0
	}
	if !highOK {
		high = 1
	}
	low, high = math.Min(low, likely), math.Max(likely, high)
	r.Between(output, 100*low, 100*likely, 100*high)
	if a.volume == a.volume {
		r.Between(water, low*a.volume, likely*a.volume, high*a.volume)
	}
}

// adviseChange says how much water to change, with which, or that none of it helps.
func (a ammoniaReading) adviseChange(r *calculators.Result) {
	w := a.renewal(1, 0)
	if !w.Told() {
		r.Say("Test the KH of both waters and ask again: the new water has a pH of {new 2}, the pond {pond 2}, and how far a change takes the pond up hangs on the KH.", w.NewPH, w.PH)
		r.Say("Until then mix {one 0} part of new water with {nine 0} of pond water in a bucket and test its pH. Change a tenth of the water at a time, and only if the bucket's pH is no higher than the pond's.", 1, 9)
		return
	}
	for _, aim := range []float64{limits.AmmoniaWatch, limits.AmmoniaAct, limits.AmmoniaEmergency} {
		if share, ok := w.Share(aim); ok && share > 0 && w.Toxic(math.Max(share, limits.ChangeLeast/100)) <= aim {
			if aim > limits.AmmoniaWatch {
				r.Say("This new water cannot bring the toxic part below {good mg/L}, only to {aim mg/L}: look for other water for the rest.", limits.AmmoniaWatch, aim)
			}
			a.sayChange(r, w, 100*share)
			return
		}
	}
	if after := w.Toxic(limits.ChangeLeast / 100); after > w.Toxic(0) {
		r.Say("Change no water: with this new water the toxic part goes up, to {after 2 mg/L} with a tenth changed. Look for water of lower pH, free of ammonia.", after)
	} else {
		least := limits.AmmoniaAct
		if w.Toxic(0) > limits.AmmoniaEmergency {
			least = limits.AmmoniaEmergency
		}
		r.Say("Change no water for this: with this new water the toxic part comes to {after 2 mg/L} at half, and never below {least mg/L}. Look for water of lower pH, free of ammonia.", w.Toxic(limits.ChangeMost/100), least)
	}
	r.Advise("Meanwhile no feed, and all the air. A product that binds ammonia, by its label, or zeolite in water without salt, wins time.")
}

// sayChange says how much to change now and in all, in per cent.
func (a ammoniaReading) sayChange(r *calculators.Result, w Renewal, needed float64) {
	most := limits.ChangeMost
	if a.ph >= limits.PHHighAct {
		most = limits.ChangeLeast
	} else if math.Abs(w.PHAfter(most/100)-w.PH) > limits.PHStepMost {
		most = limits.ChangeUsual
	}
	now := sayShare(r, needed, most)
	if a.volume == a.volume {
		r.Say("Of your pond that is {water 2 L} now.", now/100*a.volume)
	}
	if w.NewPH != w.NewPH && w.NewTotal == 0 && a.ph < limits.PHHighAct {
		r.Flag("New water not tested: the change takes it as free of ammonia, with the pond's pH. Water of a higher pH may make it worse.")
	}
	r.Advise(likeWater(a.ph, w.NewPH == w.NewPH))
}

// sayShare says how much of the water to change now, if so much is needed in all and
// so much may be changed at a time, and returns it; all in per cent.
func sayShare(r *calculators.Result, needed, most float64) (now float64) {
	switch now = math.Min(math.Max(needed, limits.ChangeLeast), most); {
	case now < needed:
		r.Say("Change {part 2 %} of the water now, dechlorinated first; it takes {all 2 %} in all, in several changes, never in one.", now, needed)
	case now > needed:
		r.Say("Change {part 2 %} of the water now, dechlorinated first, though less would be enough.", now)
	default:
		r.Say("Change {part 2 %} of the water now, dechlorinated first.", now)
	}
	return now
}

// likeWater says what new water must be like for a pond of a pH, and the less where
// the new water is stated. Nobody brings a pH down with water of the same one.
func likeWater(ph float64, stated bool) string {
	switch {
	case ph >= limits.PHHighAct && stated:
		return "Test the pH before each change, and wait an hour between: the water must be of the same temperature."
	case ph >= limits.PHHighAct:
		return calculators.Text("Take water of the same temperature and a lower pH, of {low ~} to {high ~}, that holds no ammonia itself; test the pH before each change, and wait an hour between.", limits.PHLowWatch, limits.PHHighWatch)
	case stated:
		return "Take it at the same temperature, and test before each further change."
	}
	return "Take water of the same temperature and pH that holds no ammonia itself."
}
