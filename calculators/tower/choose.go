package tower

import "strings"

// offers returns the media that the reader can get, as plain options.
func (p *plan) offers() []option {
	rows := p.in.Rows("media")
	all := make([]option, len(rows))
	for i, row := range rows {
		all[i] = option{medium: row.Choice("medium"), price: row.In("price", "{currency}"), name: strings.ReplaceAll(row.Label("medium"), " mm", "\u00a0mm")}
	}
	return all
}

// smallLoad is the ammonia nitrogen in g/d up to which two boxes may do.
const smallLoad = 1.0

// best returns the design that answers the reader's aim: of those that fit, and
// cost no more than the budget, the one first in order.
func (p *plan) best() (*design, error) {
	var best *design
	var failure error
	for _, o := range p.offers() {
		for _, o.compact = range []bool{false, true} {
			if o.compact && p.pond.design.tan > smallLoad {
				continue // two boxes never carry that; what they would do stands among the ways
			}
			d, err := p.design(o)
			if err != nil {
				if failure == nil {
					failure = err
				}
				continue
			}
			p.offered = append(p.offered, d)
			if best == nil || p.before(d, best) {
				best = d
			}
		}
	}
	if best == nil {
		return nil, failure
	}
	if err := best.catch(p); err != nil || best.bare(p) {
		return best, err
	}
	return best, p.sprinkle(&best.bar, best.perStack())
}

// before orders two designs: what cleans more of what the fish foul, fewer faults,
// within the budget, then by the aim.
func (p *plan) before(a, b *design) bool {
	if x, y := a.serves(), b.serves(); x != y {
		return x > y
	}
	if len(a.faults) != len(b.faults) {
		return len(a.faults) < len(b.faults)
	}
	if x, y := p.affords(a), p.affords(b); x != y {
		return x
	}
	if p.in.Choice("aim") == "nitrate" {
		if x, y := porous(a.medium), porous(b.medium); x != y {
			return x
		}
	}
	return a.cost.build < b.cost.build
}

func (p *plan) affords(d *design) bool {
	return !p.in.Has("budget") || d.cost.build <= p.in.In("budget", "{currency}")
}

// porous reports the media that may hold some water without oxygen. What they
// remove there is little: see package media, ShowerNitrogenLoss.
func porous(medium string) bool {
	switch medium {
	case "lava", "pumice", "expanded-clay", "sintered-glass", "crushed-brick":
		return true
	}
	return false
}
