package tower

import "math"

// judge holds the design against each single check. What fails is named with
// the nearest change that would do; a tower fits if no fault is left.
func (d *design) judge(p *plan) {
	d.judgeMedium(p)
	d.judgeWater(p)
	if !d.open {
		d.judgeOutlet(p)
	}
	d.judgeStand(p)
}

func (d *design) judgeMedium(p *plan) {
	need := d.media.likely("volume")
	if d.litres >= need {
		return
	}
	d.fault("The fish foul more than {boxes 0|box|boxes} of this medium can clean: {need 2 L} are needed, {room 2 L} fit. Feed {feed 2 g/d} or less, let the ammonia stand at {ammonia 2 mg/L}, allow one more stack, or take a medium with more surface.",
		float64(d.stacks*d.tiers), toDigits(need, math.Ceil), toDigits(d.litres, math.Floor), toDigits(p.pond.design.feed*d.litres/need, math.Floor), d.tan.Likely)
}

// toDigits leaves a number above 0 the two digits with which it is shown, rounded by
// math.Floor where it is what there is or may be given, by math.Ceil where it is what
// is needed: so a need never reads like what does not meet it.
func toDigits(v float64, round func(float64) float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return round(v/step) * step
}

func (d *design) judgeWater(p *plan) {
	if !fits(&d.tray, d.drill) {
		d.fault("{holes 0} holes of {drill ~3 mm} do not fit the floor: take a larger drill, less flow or one more stack.", d.tray.likely("holes"), d.drill)
	} else if holes := d.tray.likely("holes"); holes > mostHoles {
		d.fault("{holes 0} holes in each floor and lid are more than anyone drills: take a larger drill, deeper lids or one more stack.", holes)
	} else if d.tray.value("reserve").Low < 0 {
		d.fault("With a third of the holes blocked the water stands {depth 0 mm} over the lid and may leave its recess: drill larger holes, take deeper lids, or send less water.", d.tray.value("head-blocked").High)
	}
	load := d.media.likely("hydraulic-load")
	switch {
	case d.floods():
		d.fault("So much water, {load 2 m3/m2/d}, may flood stones: share it between {stacks 0} stacks, or take plastic.", load, float64(d.stacks)+math.Ceil(load/wettest)-1)
	case load < driest:
		d.fault("So little water, {load 2 m3/m2/d}, leaves the medium dry in places: bring {flow 2 L/h} or more, or take fewer stacks.", load, d.flow*driest/load)
	}
}

func (d *design) judgeOutlet(p *plan) {
	bore := p.mm("outlet-bore")
	if bore < leastOutlet {
		d.fault("An outlet of {bore 0 mm} blocks too easily: take {least mm} or more, which is common practice.", bore, leastOutlet)
	}
	if bore <= p.mm("bore") {
		d.fault("The outlet is no wider than the pipe that fills the tower, {pipe 0 mm}: gravity needs more than a pump. Take {wide 0 mm} or more.", p.mm("bore"), 1.5*p.mm("bore"))
	}
	if d.notchWidth > 0.8*p.mm("box-length") {
		d.fault("No notch in the rim of this box lets {flow 2 L/h} over if the outlet blocks: share the water between more stacks, or take a longer bottom box.", d.perStack())
	}
	if d.spare() < outletSpare {
		d.judgeFlow(p, bore)
	}
}

// judgeFlow says what to change where too little fits through the outlets.
func (d *design) judgeFlow(p *plan, bore float64) {
	outlets, capacity := float64(d.outlets), d.narrowest().value("capacity").Low
	switch wide, down := d.wider(p), d.narrowest() == &d.drop; {
	case wide > 0 && down:
		d.fault("{outlets 0|outlet|outlets} of {bore 0 mm} {outlets |carries|carry} {capacity 2 L/h} down to the pond without gulping; the {flow 2 L/h} of a stack need half as much again: take outlets of {wide 0 mm} bore, or bring less water.",
			outlets, bore, capacity, d.perStack(), wide)
	case wide > 0:
		d.fault("{outlets 0|outlet|outlets} of {bore 0 mm} {outlets |lets|let} {capacity 2 L/h} out of the bottom box; the {flow 2 L/h} of a stack need half as much again: take outlets of {wide 0 mm} bore, or bring less water.",
			outlets, bore, capacity, d.perStack(), wide)
	default:
		d.fault("No outlets that this bottom box has room for carry the {flow 2 L/h} of a stack with half as much in hand: bring less water, or take larger boxes.", d.perStack())
	}
}

func (d *design) judgeStand(p *plan) {
	if most := int(p.in.In("most-boxes", "1")); d.boxes > most {
		d.fault("It takes {boxes 0} boxes one on the other; you allow {most 0}. Allow more, or more stacks.", float64(d.boxes), float64(most))
	}
	if share := d.ground.value("bearing").High; share > 100 {
		d.fault("Full of water the stack presses {share 0 %} of what the ground bears: lay a slab {times 3} times as large under it.", share, math.Ceil(share/10)/10)
	}
	if free := p.in.Choice("tied") == "free"; free && d.tipping.value("ratio").Low < wantedHold {
		d.fault("Wind may tip the drained stack: tie it near the top with {pull 2 N} or more, or take a base wider than {width 0 mm}.", d.tipping.value("tie").High, p.mm("box-width"))
	}
}
