package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
)

// nitrate says where the nitrate settles, if it does, and which weekly change holds
// it, if one does.
func (p *plan) nitrate(s *sheet, a *answer) error {
	err := p.ask(a, &p.crew.nitrate, nil, "volume={~5 L}\nfrom=feed\nfeed={~5 g/d}\nprotein={~4 %}\ntap={~4 mg/L}\nshare={~4 %}\nwanted={0 mg/L}",
		p.pond.volume, p.pond.design.feed, p.share("protein"), p.in.In("tap-nitrate", "mg/L"), p.share("change"), wantedNitrate)
	if err != nil {
		return err
	}
	settled, settles := a.result.Value("plateau")
	if settles {
		s.found(a, "plateau", "Nitrate in the long run, as NO3")
	} else {
		s.line("Nitrate in the long run", "never settles: no water is changed")
		s.found(a, "daily", "It rises each day by, as NO3")
	}
	s.found(a, "share-needed", calculators.Text("Weekly change that holds {wanted mg/L}", wantedNitrate))
	warning := ""
	switch {
	case !settles && p.pond.design.feed > 0:
		warning = calculators.Text("With no water changed the nitrate never settles: it rises by {rise 2 mg/L} a day, as NO3. {cure}", a.likely("daily"))
	case settled.Likely > wantedNitrate:
		warning = calculators.Text("The nitrate settles at {nitrate 2 mg/L}, as NO3. {cure}", settled.Likely)
	default:
		return nil
	}
	p.warnings = append(p.warnings, quantity.Put(warning, "cure", nitrateCure(a, p.in.In("tap-nitrate", "mg/L"))))
	return nil
}

// nitrateCure says which weekly change holds the nitrate, if one does. Half as
// much twice as often holds it too.
func nitrateCure(a *answer, tap float64) string {
	needed, ok := a.result.Value("share-needed")
	switch {
	case !ok && tap >= wantedNitrate:
		return calculators.Text("No change of this water holds {wanted mg/L}: feed less or keep fewer fish, and look for other water.", wantedNitrate)
	case !ok:
		return calculators.Text("No weekly change holds {wanted mg/L}: feed less or keep fewer fish.", wantedNitrate)
	case needed.Likely > limits.ChangeMost:
		return calculators.Text("Change {half 0 %} twice a week to hold {wanted mg/L}, feed less or keep fewer fish.", math.Ceil(needed.Likely/2), wantedNitrate)
	}
	return calculators.Text("Change {change 2 %} a week to hold {wanted mg/L}, feed less or keep fewer fish.", needed.Likely, wantedNitrate)
}
