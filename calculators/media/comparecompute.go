package media

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// contender is a medium in the ranking.
type contender struct {
	_           calculators.Incomparable
	name, label string
	note        string
	surface     Range
	litres      Range   // for a gram of ammonia nitrogen a day
	price       float64 // of a litre; below 0 if it is not known
}

// before reports whether a medium ranks before another: by cost where both have
// a price, priced ones first, else by volume.
func (c *contender) before(o *contender) bool {
	switch {
	case c.price >= 0 && o.price >= 0:
		return c.price*c.litres.Likely < o.price*o.litres.Likely
	case c.price >= 0 || o.price >= 0:
		return c.price >= 0
	}
	return c.litres.Likely < o.litres.Likely
}

func computeCompare(in calculators.Inputs) (calculators.Result, error) {
	target, oxygen := in.In("target", "mg/L"), in.In("oxygen", "mg/L")
	if target <= LeastTAN {
		return calculators.Result{}, starves(target)
	}
	rate, limit := Rate(target, oxygen, in.In("temperature", "Cel"))
	all := contenders(in, rate)
	var r calculators.Result
	for i := range all {
		switch all[i].name {
		case in.Choice("medium"):
			all[i].value(&r, readLoad(in))
		case ownSurface:
			all[i].claim(&r, in)
		}
	}
	r.Exactly("oxygen-depth", OxygenDepth(oxygen, rate.Likely))
	load := readLoad(in)
	add(&r, "nitrate-lost", Range{0, 0, load.High * ShowerNitrogenLoss().High})
	if in.Choice("purpose") == "nitrate" {
		add(&r, "nitrate-bed", Quotient(load, BedDenitrification()).Times(1000))
		adviseNitrate(&r, oxygen)
	}
	adviseTarget(&r, target)
	adviseMedia(&r, all)
	if v, ok := r.Value("litres"); ok && v.High > wideRange*v.Low {
		r.Advise("What narrows this most is a mature filter with this medium: note its feed and its litres, and ask how much medium your pond needs, which takes them.")
	}
	if limit == ByOxygen {
		r.Flag("Oxygen and not ammonia limits the film: more air does more than more medium.")
	}
	r.Flag("Surfaces are those of the outside: makers who count inner pores quote a thousand times more.")
	step(&r, "Ammonia removed by a square metre", rate, " g/m2/d")
	for i := range all {
		all[i].work(&r)
	}
	return r, nil
}

// contenders returns all media, ranked.
func contenders(in calculators.Inputs, rate Range) []contender {
	var all []contender
	media := Table()
	if in.Has("claimed") {
		surface := Figure{Value: math.Min(in.In("claimed", "m2/m3"), outsideMost), Basis: "practice"}
		media = append(media, Medium{Name: ownSurface, Label: "the shop's medium", Surface: Property{surface, surface}})
	}
	for _, m := range media {
		c := contender{name: m.Name, label: m.Label, note: m.Note, surface: m.Surface.Range(), price: -1}
		if m.Name == ownSurface && in.Has("claimed-price") {
			c.price = in.In("claimed-price", "{currency}")
		}
		wetted := WettedShare(in.In("load", "m3/m2/d"), c.surface.Likely)
		c.litres = Quotient(Range{1, 1, 1}, rate, c.surface, wetted).Times(1000)
		for _, row := range in.Rows("prices") {
			if row.Choice("medium") == m.Name {
				c.price = row.In("price", "{currency}")
			}
		}
		all = append(all, c)
		for i := len(all) - 1; i > 0 && all[i].before(&all[i-1]); i-- {
			all[i], all[i-1] = all[i-1], all[i]
		}
	}
	return all
}

func (c *contender) value(r *calculators.Result, load Range) {
	volume := Quotient(load, Range{1 / c.litres.High, 1 / c.litres.Likely, 1 / c.litres.Low})
	add(r, "litres", c.litres)
	add(r, "volume", volume)
	if c.price >= 0 {
		add(r, "cost-gram", c.litres.Times(c.price))
		add(r, "cost", volume.Times(c.price))
	}
	add(r, "surface", c.surface)
}

// claim tells what a shop's medium does, and doubts a surface that no outside has.
func (c *contender) claim(r *calculators.Result, in calculators.Inputs) {
	add(r, "claimed-litres", c.litres)
	if c.price >= 0 {
		add(r, "claimed-cost", c.litres.Times(c.price))
	}
	if in.In("claimed", "m2/m3") > outsideMost {
		r.Doubt("A claim above {most m2/m3} counts inner pores, or a medium so fine that it clogs: it is reckoned with that much and no more.", outsideMost)
	}
}

func (c *contender) work(r *calculators.Result) {
	if c.price >= 0 {
		r.Step(quantity.Put("{medium}, surface and need for a gram a day", "medium", c.label), "{2 m2/m3}; {2 L} × {~4}/L = {2}", c.surface.Likely, c.litres.Likely, c.price, c.price*c.litres.Likely)
		return
	}
	r.Step(quantity.Put("{medium}, surface and need for a gram a day", "medium", c.label), "{2 m2/m3}; {2 L}", c.surface.Likely, c.litres.Likely)
}

func adviseMedia(r *calculators.Result, all []contender) {
	best := &all[0]
	rank(r, best, all)
	if best.note != "" {
		r.Advise(best.note)
	}
}

// rank names the first of the ranking, and the next if it may be as good.
func rank(r *calculators.Result, best *contender, all []contender) {
	if best.price < 0 {
		r.Advise(quantity.Put("Smallest for its work: {medium}. State prices per litre to see the cheapest.", "medium", best.label), "Buy the cheapest per gram that your boxes have room for; spend what is left on a screen before the filter.")
		return
	}
	r.Advise(quantity.Put(calculators.Text("Cheapest of those with a price: {medium}, {price 2} for each gram of ammonia nitrogen a day.", best.price*best.litres.Likely), "medium", best.label))
	if len(all) > 1 && all[1].price >= 0 && all[1].price*all[1].litres.Low < best.price*best.litres.High {
		r.Advise(quantity.Put("The next in the list, {medium}, may as well be cheaper: the ranges overlap. Take the one that is easier to clean and carry.", "medium", all[1].label))
	}
}

// adviseNitrate says what is known of nitrate (figure set
// media-nitrogen-loss-evidence).
func adviseNitrate(r *calculators.Result, oxygen float64) {
	r.Advise("For nitrate change water and grow plants: no medium in a shower takes out enough to count on, whatever its pores.",
		"Do not build a bed without oxygen on a pond with fish without help from someone who runs one: fed wrongly it gives off nitrite or hydrogen sulfide, and both kill.")
	r.Doubt("At {oxygen 2 mg/L} of oxygen the bacteria that remove nitrate do {share 2 %} of what they could.", oxygen, 100*DenitrifyingShare(oxygen))
	r.Flag("Where filters did lose half of the nitrogen, they were sponge on strong sewage with little air; on fish farms it was a tenth to a fifth, from memory.")
}
