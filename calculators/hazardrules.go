package calculators

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// demand is a hazard that a calculator cannot be without, and what shows it.
type demand struct {
	hazard Hazard
	shows  string // "it asks for pump-power"
}

// hazardRule names what a calculator asks or answers that sends its reader to a
// hazard. A name may end in * for all that begin so.
type hazardRule struct {
	hazards []Hazard
	asks    []string        // names or facts of inputs
	offers  []string        // options of its inputs
	kinds   []quantity.Kind // of inputs
	answers []string        // names of outputs
	weighed bool            // only answers that are weights of something
	units   []string        // of outputs
	part    string          // the rule holds for calculators of this part only; "" for all
}

// hazardRules is the one place that says what sends a reader where. It is a
// function so that the module, which checks no declaration, goes without it.
func hazardRules() []hazardRule {
	return []hazardRule{
		// A pump, lamp or heater on mains power, and what one does with it running.
		{hazards: []Hazard{Electricity}, kinds: []quantity.Kind{quantity.Power}, asks: []string{"pump*", "filter-flow", "air", "stone-depth", "metered", "tank", "frost", "seeding"}, units: []string{"W", "kW.h"}},
		{hazards: []Hazard{Electricity}, part: "filtration", kinds: []quantity.Kind{quantity.Flow}},
		{hazards: []Hazard{Electricity}, asks: []string{"hole", "drills"}, answers: []string{"leak", "urgency"}},
		{hazards: []Hazard{Ultraviolet, FishHealth}, asks: []string{"lamp"}},
		{hazards: []Hazard{Gas, Drowning}, answers: []string{"air-needed"}},

		// Water that a child or a keeper falls into.
		{hazards: []Hazard{Drowning}, asks: []string{"pond-length", "pond-width", "pond-depth", "frost", "child"}, offers: []string{"slot"}, answers: []string{"spread"}},

		// Boxes, and a stack of them.
		{hazards: []Hazard{Lifting}, asks: []string{"box-height", "overlap", "media-prices"}, answers: []string{"box-drained", "bags"}},
		{hazards: []Hazard{Toppling}, asks: []string{"boxes", "media-prices", "child", "stack-tied"}, answers: []string{"boxes", "box-drained", "tie"}},
		{hazards: []Hazard{Climbing}, answers: []string{"height", "tipping-force"}},
		{hazards: []Hazard{Digging}, asks: []string{"overlap", "ground"}, answers: []string{"tie"}},
		{hazards: []Hazard{Dust}, asks: []string{"media-prices", "medium"}},

		// Work on boxes and pipes.
		{hazards: []Hazard{Tools}, asks: []string{"hole", "drills", "outlet-bore"}, offers: []string{"slot"}},
		{hazards: []Hazard{Solvents}, asks: []string{"fittings", "pump-pipe-fittings"}},
		{hazards: []Hazard{Infection}, asks: []string{"foam-thickness", "tank"}, offers: []string{"barometer"}},
		{hazards: []Hazard{Spill}, asks: []string{"blocked", "pump-flow", "outlet-bore", "foam-thickness", "pump-pipe-bore", "metered"}, answers: []string{"leak"}},

		// What goes into the pond, and what leaves it.
		{hazards: []Hazard{Chemicals, FishHealth}, asks: []string{"meter-error", "copper"}, answers: []string{"dose", "salt", "crystals", "bicarbonate"}, weighed: true},
		{hazards: []Hazard{Chemicals, Chlorine, FishHealth}, asks: []string{"strength"}},
		{hazards: []Hazard{Chemicals}, answers: []string{"soda"}},
		{hazards: []Hazard{Chlorine}, asks: []string{"tap*", "week-change", "new-water", "metered"}, answers: []string{"change*", "undo-water", "share-needed", "air-needed", "leak", "urgency"}},
		{hazards: []Hazard{Chlorine, FishHealth}, offers: []string{"us-grain"}},
		{hazards: []Hazard{Wildlife}, asks: []string{"meter-error"}, answers: []string{"salt"}, weighed: true},
		{hazards: []Hazard{Wildlife}, answers: []string{"undo-water", "overflow", "changes-water", "adult-length"}},
		{hazards: []Hazard{FishHealth}, part: "stocking", asks: []string{"*"}},
		{hazards: []Hazard{FishHealth}, asks: []string{"fish", "ammonia", "nitrite", "nitrate", "alkalinity", "oxygen", "filter-oxygen", "tap-chlorine", "foam-grades", "hours"}, answers: []string{"urgency"}},
	}
}

// demands returns the hazards that a calculator cannot be without.
func (c Calculator) demands() []demand {
	var all []demand
	for _, rule := range hazardRules() {
		if rule.part != "" && rule.part != c.Part {
			continue
		}
		if shows := rule.found(c); shows != "" {
			for _, h := range rule.hazards {
				all = append(all, demand{h, shows})
			}
		}
	}
	return all
}

// found says what of a rule a calculator has; "" for nothing.
func (r hazardRule) found(c Calculator) string {
	for _, d := range c.Inputs {
		switch {
		case named(r.asks, d.Name) || named(r.asks, d.Fact):
			return "it asks for " + d.Name
		case d.Type == Single && has(r.kinds, d.Kind):
			return "it asks for " + d.Name + ", a " + d.Kind.String()
		}
		for _, o := range d.Options {
			if named(r.offers, o.Name) {
				return "it offers " + o.Name
			}
		}
	}
	for _, o := range c.Outputs {
		if named(r.answers, o.Name) && (!r.weighed || o.Unit == "g" || o.Unit == "kg") || has(r.units, o.Unit) {
			return "it answers with " + o.Name
		}
	}
	return ""
}

func named(patterns []string, name string) bool {
	for _, p := range patterns {
		start, open := strings.CutSuffix(p, "*")
		if name == p || open && name != "" && strings.HasPrefix(name, start) {
			return true
		}
	}
	return false
}

func has[T comparable](all []T, x T) bool {
	for _, a := range all {
		if a == x {
			return true
		}
	}
	return false
}

// validateHazards refuses a calculator that declares no hazards and does not say
// why, and one that leaves out what it plainly has.
func (c Calculator) validateHazards(f func(string)) {
	switch {
	case len(c.Hazards) == 0:
		f("declares no Hazards; where nothing can hurt anyone say NoHazard and why, as Harmless")
	case has(c.Hazards, NoHazard) && (len(c.Hazards) > 1 || c.Harmless == ""):
		f("declares NoHazard beside others, or without saying why as Harmless")
	case !has(c.Hazards, NoHazard) && c.Harmless != "":
		f("says that it is harmless and declares hazards")
	}
	missed := map[Hazard]bool{}
	for _, d := range c.demands() {
		if !has(c.Hazards, d.hazard) && !missed[d.hazard] {
			missed[d.hazard] = true
			f("leaves out the hazard " + string(d.hazard) + ", though " + d.shows)
		}
	}
}
