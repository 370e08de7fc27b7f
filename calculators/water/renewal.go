package water

// Renewal is a pond and the new water that part of it is changed for: what decides
// how toxic its ammonia is before and after.
type Renewal struct {
	Total, NewTotal           float64 // total ammonia, mg/L as nitrogen
	PH, NewPH                 float64 // NewPH NaN: as the pond's
	Alkalinity, NewAlkalinity float64 // mg/L as CaCO3; NaN: not tested
	T, NewT                   float64 // degrees Celsius; NewT NaN: as the pond's
	Salinity                  float64 // g/kg in the pond; the new water has none
}

// Told reports whether it can be told how far the pH goes up: the new water is like
// the pond's, within the error of a kit, or has a lower pH, or the alkalinity of both
// is known too.
func (w Renewal) Told() bool {
	return !(w.NewPH > w.PH+KitPHError) || w.mixed(1) == w.mixed(1)
}

// mixed is the pH after a share of the water was changed, 0 to 1, or NaN where that
// is not known or an alkalinity cannot have its pH.
func (w Renewal) mixed(share float64) float64 {
	return MixedPH(w.PH, w.Alkalinity, w.NewPH, w.NewAlkalinity, share, w.warmth(share))
}

func (w Renewal) warmth(share float64) float64 {
	if w.NewT != w.NewT {
		return w.T
	}
	return Mixed(w.T, w.NewT, share)
}

// PHAfter returns the pH after a share of the water was changed, 0 to 1, by MixedPH
// where all that it asks for is known. Where the new water has a lower pH, or one as
// the pond's, and no more is known, it is the pond's, which the mixture does not
// exceed. Where it has a higher one and no more is known it is the new water's.
func (w Renewal) PHAfter(share float64) float64 {
	if share == 0 || w.NewPH != w.NewPH {
		return w.PH
	}
	if ph := w.mixed(share); ph == ph {
		return ph
	}
	if w.NewPH > w.PH+KitPHError {
		return w.NewPH
	}
	return w.PH
}

// Toxic returns the un-ionised ammonia in mg/L as nitrogen after a share of the
// water was changed, 0 to 1: what is left of the total and what the new water
// brings, at the pH, warmth and salt of the mixture.
func (w Renewal) Toxic(share float64) float64 {
	return Mixed(w.Total, w.NewTotal, share) * UnionisedFraction(w.PHAfter(share), w.warmth(share), Mixed(w.Salinity, 0, share))
}

// mostRenewed is the share of the water beyond which changes never end.
const mostRenewed = 0.9999

// Share returns the least share of the water to change, 0 to mostRenewed, so that
// the toxic ammonia in mg/L as nitrogen comes down to a target. It reports false if
// the new water cannot bring it there, or makes it more toxic on the way.
func (w Renewal) Share(target float64) (share float64, ok bool) {
	const parts = 24
	now, before := w.Toxic(0), 0.0
	if now <= target {
		return 0, true
	}
	for i := range parts {
		next := mostRenewed * float64(i+1) / parts
		toxic := w.Toxic(next)
		if toxic > now*(1+1e-9) {
			return 0, false
		}
		if toxic <= target {
			return w.between(before, next, target), true
		}
		before = next
	}
	return 0, false
}

// between narrows down the share at which the toxic part comes to a target, which
// it has not at before and has at next, by halves; it is never short of the target.
func (w Renewal) between(before, next, target float64) float64 {
	for range 50 {
		middle := (before + next) / 2
		if w.Toxic(middle) <= target {
			next = middle
		} else {
			before = middle
		}
	}
	return next
}

// ShareToLower returns the share of water, 0 to below 1, to change so that a value
// comes down from now to target with new water of the given value, all in one unit:
// 0 if it is there already. It reports false where no amount of the new water brings
// it down so far. It is ShareToReplace for what is only to go down.
func ShareToLower(now, replacement, target float64) (share float64, ok bool) {
	if now <= target {
		return 0, true
	}
	if replacement >= target {
		return 0, false
	}
	return ShareToReplace(now, replacement, target), true
}
