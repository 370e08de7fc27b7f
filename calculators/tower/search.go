package tower

// design looks for the fewest boxes with which nothing is wrong, and for the
// fewest stacks of so many. Every number that the reader allows is tried, because
// a pump that does not reach the top of one stack may serve more and lower ones.
// Where none fits it returns that which comes nearest, and an error only if none
// can be built at all: that of the fewest boxes, which ask the least of the pump.
func (p *plan) design(o option) (*design, error) {
	o.open = o.open || p.in.Choice("bottom") == "open" // it has no bottom box to count
	var nearest *design
	var short []*design // those that cannot clean what the fish foul
	var failure error
	unavoidable := p.unavoidable(o)
	for _, d := range p.sizes(o) {
		err := d.fillUp(p)
		switch {
		case err == nil && d.serves() < 1:
			short = append(short, d)
			continue
		case err == nil:
			err = d.finish(p)
		}
		if err != nil {
			if failure == nil {
				failure = err
			}
			continue
		}
		if nearest == nil || len(d.faults) < len(nearest.faults) {
			nearest = d
		}
		if len(d.faults) <= unavoidable {
			break // no other has fewer
		}
	}
	if nearest != nil {
		return nearest, nil
	}
	for len(short) > 0 { // the one that serves best of those that can be built
		best := 0
		for i, d := range short {
			if d.serves() > short[best].serves() {
				best = i
			}
		}
		err := short[best].finish(p)
		if err == nil {
			return short[best], nil
		}
		if failure == nil {
			failure = err
		}
		short = append(short[:best], short[best+1:]...)
	}
	return nil, failure
}

// unavoidable is how many faults a tower has whatever its size.
func (p *plan) unavoidable(o option) int {
	n := 0
	if p.mm("recess") < flatLid {
		n++
	}
	if bore := p.mm("outlet-bore"); !o.open {
		if bore < leastOutlet {
			n++
		}
		if bore <= p.mm("bore") {
			n++
		}
	}
	return n
}

// sizes are the towers that the reader allows, those of the fewest boxes first.
func (p *plan) sizes(o option) []*design {
	var all []*design
	stacks, tiers := int(p.in.In("most-stacks", "1")), p.mostTiers(o)
	others := (&design{option: o}).others(p)
	for boxes := 1; boxes <= stacks*(tiers+others); boxes++ {
		for n := 1; n <= stacks; n++ {
			if t := boxes/n - others; boxes%n == 0 && t >= 1 && t <= tiers {
				all = append(all, p.sized(o, n, t))
			}
		}
	}
	return all
}

// mostTiers is how many boxes of medium a stack may have.
func (p *plan) mostTiers(o option) int {
	if o.compact {
		return 1
	}
	return max(1, int(p.in.In("most-boxes", "1"))-(&design{option: o}).others(p))
}

// sized is a tower of so many stacks, and so many boxes of medium in each.
func (p *plan) sized(o option, stacks, tiers int) *design {
	d := &design{option: o, stacks: stacks, tiers: tiers}
	d.boxes = tiers + d.others(p)
	return d
}

// serves is the share of the medium needed that there is and does not flood, at
// most 1.
func (d *design) serves() float64 {
	share := min(1, d.litres/d.media.likely("volume"))
	if d.floods() {
		share *= wettest / d.media.likely("hydraulic-load")
	}
	return share
}

// finish thinks through what does not decide how much the filter cleans.
func (d *design) finish(p *plan) error {
	for _, step := range []func(*plan) error{d.drillTrays, d.drain, d.weigh} {
		if err := step(p); err != nil {
			return err
		}
	}
	d.settle(p)
	if err := d.price(p); err != nil {
		return err
	}
	d.judge(p)
	return nil
}
