package tower

import "mereleaf/calculators"

// two is what the tower and a second one just like it do together. Each is drilled
// and has its outlets for all the pump's water, as the one tower of the sheet, so
// either carries it while the other is shut.
func (p *plan) two(r *calculators.Result, s *sheet, one *design) {
	if p.in.Choice("second") == "none" {
		return
	}
	both, behind := *one, p.in.Choice("second") == "behind"
	if behind {
		s.open("Two such towers, one below the other")
		// The first stands as much higher as the second needs to be filled.
		both.lift = read(2*one.lift, liftDigits)
	} else {
		s.open("Two such towers side by side")
		both.stacks = 2 * one.stacks
	}
	if !behind {
		both.litres = 2 * one.litres
	}
	err := both.supply(p)
	if err == nil {
		err = both.needs(p)
	}
	if err != nil {
		s.says("The pump brings too little water {lift 3 m} up: take a stronger one, or set the towers side by side.", both.lift)
		return
	}
	s.line("Water through both", "{flow 2 L/h}", both.flow)
	if behind {
		s.line("Water through each", "{flow 2 L/h}", both.flow)
	} else {
		s.line("Water through each", "{flow 2 L/h}", read(both.flow/2, flowDigits))
	}
	s.found(&both.media, "hydraulic-load", "Water on each square metre of floor")
	s.found(&both.media, "wetted", "Part of the surface that is wet")
	p.together(r, s, &both, behind)
	s.found(&both.media, "oxygen-used", "Oxygen that the film of both uses in a day")
	s.line("Ammonia of today's fish while one is shut", settles(p.settled(p.pond.now.tan, one.capacity)))
	s.line("Water through the other then", "{flow 2 L/h}", one.flow)
	s.says("Each has holes and outlets for all the water of the pump: open the valve of the one before you shut that of the other.")
	if both.media.likely("hydraulic-load") < driest {
		s.says("So shared, the water leaves the medium dry in places: set the second below the first, or bring more water.")
	}
}

// together says where the ammonia of today's fish settles with both towers.
func (p *plan) together(r *calculators.Result, s *sheet, both *design, behind bool) {
	load := p.pond.now.tan
	if load == 0 || both.media.likely("volume") == 0 {
		return
	}
	cleans, flow := both.cleans(), both.flow*24/1000 // m3/d
	v := p.settled(load, cleans)
	if behind {
		at := func(capacity float64) float64 { return p.behind(load, capacity, flow) }
		v = calculators.Between("tan", at(cleans.High), at(cleans.Likely), at(cleans.Low))
	}
	r.Between("together", v.Low, v.Likely, v.High)
	s.line("Ammonia of today's fish settles at", settles(v))
	if behind && v.Likely < noEnd {
		s.line("Ammonia between the two", "{between 2 mg/L}", p.between(v.Likely, cleans.Likely, flow))
	}
}

// behind is steady with two towers of a capacity each, the second of which gets what
// the first leaves of a flow in m3/d.
func (p *plan) behind(load, capacity, flow float64) float64 {
	share := capacity / p.rate(p.pond.target)
	changed := p.pond.volume / 1000 * p.share("change") / 100 / 7
	return level(func(s float64) float64 {
		return share*(p.rate(s)+p.rate(p.between(s, capacity, flow))) + s*changed - load
	})
}

// between is the ammonia in mg/L that the first of two towers leaves, at s mg/L in the
// pond.
func (p *plan) between(s, capacity, flow float64) float64 {
	return left(s, capacity*p.rate(s)/p.rate(p.pond.target), flow)
}

// left is the ammonia in mg/L in a flow in m3/d from which some g/d were taken out.
func left(s, taken, flow float64) float64 { return max(0, s-taken/flow) }
