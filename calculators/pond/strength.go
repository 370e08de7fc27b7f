package pond

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
)

// TrueStrength returns how strong a dose became, as a share of what was meant: the
// water it was reckoned for over the water that there is, both in one unit.
func TrueStrength(dosed, volume float64) float64 { return dosed / volume }

// addStrength adds what a treatment that was dosed for another volume came to, from
// the volume there is in L, if the question asks for it.
func addStrength(in calculators.Inputs, r *calculators.Result, low, likely, high float64) {
	if !in.Has("dosed-for") {
		return
	}
	dosed := in.In("dosed-for", "L")
	strength := TrueStrength(dosed, likely)
	change := func(volume float64) float64 { return 100 * math.Max(0, 1-volume/dosed) }
	r.Between("strength", 100*TrueStrength(dosed, high), 100*strength, 100*TrueStrength(dosed, low))
	r.Between("too-much", change(high), change(likely), change(low))
	r.Step("True strength", "{3 L} / {3 L} = {2 %}", dosed, likely, 100*strength)
	switch needed := change(likely); {
	case 100*TrueStrength(dosed, low) <= 100+limits.VolumeError:
		r.Advise("The treatment is no stronger than the error of a tape allows for: give no more of it, and watch the fish.")
		return
	case 100*strength <= 100+limits.VolumeError:
		r.Say("There may be too much of the treatment, up to {most 2 %} of what you meant: dose nothing more, and give all the air.", 100*TrueStrength(dosed, low))
	case needed > limits.ChangeMost:
		r.Say("There is too much of the treatment: dose nothing more, give all the air and no feed. Change {part 2 %} of the water, neutralised, now; it takes {all 2 %} in all.", limits.ChangeMost, needed)
	default:
		r.Say("There is too much of the treatment: dose nothing more, give all the air and no feed. Change {part 2 %} of the water, neutralised, now.", needed)
	}
	r.Advise("Call a fish vet, with the label and the litres in hand.")
}
