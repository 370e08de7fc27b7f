package ponds

import (
	"mereleaf"
	"mereleaf/calculators"
)

// Or returns the ponds for the examples of the calculators: those of a handbook,
// and for a name that it has none of, those that the program brings along.
func (all Ponds) Or(set calculators.Set) calculators.Ponds {
	return or{own: all, set: set, brought: map[string]*Pond{}}
}

type or struct {
	own     Ponds
	set     calculators.Set
	brought map[string]*Pond // read so far; nil for a name that is none
}

func (o or) Facts(name, day string) (calculators.Known, bool) {
	if _, ok := o.own.Find(name); ok {
		return o.own.Facts(name, day)
	}
	p, known := o.brought[name]
	if !known {
		p, _ = readPond(mereleaf.Ponds, name, o.set) // verify says of this handbook itself what is wrong there
		o.brought[name] = p
	}
	if p == nil {
		return calculators.Known{}, false
	}
	return p.On(day)
}
