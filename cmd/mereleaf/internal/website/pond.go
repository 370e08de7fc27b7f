package website

import (
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// The page of the ponds that the book tells of, to which their numbers lead.
const (
	pondsTitle = "The ponds of this book"
	pondsSays  = "What chapters and examples tell of ponds is invented, and each number of them stands here once."
)

type pondsContent struct {
	at
	Title, Says string
	Ponds       []pondContent
}

// pondContent is a pond with its facts and the readings of its log.
type pondContent struct {
	Slug, Name string
	Facts      []pondFact
	Found      []pondFact // what follows from them
	Days       []pondDay
}

// pondFact is a fact, which links lead to by its Slug.
type pondFact struct{ Slug, Key, Label, Text string }

type pondDay struct {
	Slug, At, Note string
	Read           []pondFact
}

func (w *web) ponds() Page {
	f := w.frame(paths.Ponds, pondsTitle, pondsSays, "")
	c := pondsContent{at: f.at, Title: pondsTitle, Says: pondsSays}
	for _, pond := range w.book.Ponds {
		c.Ponds = append(c.Ponds, w.pondContent(pond))
	}
	return w.listed(f, "ponds.html", c, c.Ponds)
}

func (w *web) pondContent(pond *ponds.Pond) pondContent {
	known, _ := pond.On("")
	c := pondContent{Slug: pond.Name, Name: pondName(pond.Name), Facts: w.pondFacts(pond.Name, known.Stated)}
	open := maps.Clone(known.Found)
	maps.DeleteFunc(open, func(key, _ string) bool { return known.Stated[key] != "" })
	c.Found = w.pondFacts(pond.Name, open)
	for _, r := range pond.Readings {
		at := ponds.Moment(r)
		c.Days = append(c.Days, pondDay{paths.OfPond(pond.Name, at), strings.Replace(at, "T", " ", 1), r.Note, w.pondFacts("", r.Facts)})
	}
	return c
}

// pondName writes a pond's name as a heading has it: "Weir end".
func pondName(name string) string {
	name = strings.ReplaceAll(name, "-", " ")
	return strings.ToUpper(name[:1]) + name[1:]
}

// pondFacts lists facts by their labels; without a pond they are not linked to.
func (w *web) pondFacts(pond string, known calculators.Facts) []pondFact {
	var facts []pondFact
	for _, key := range slices.Sorted(maps.Keys(known)) {
		f := pondFact{Key: key, Label: key, Text: known[key]}
		if pond != "" {
			f.Slug = paths.OfPond(pond, key)
		}
		if d, ok := w.asked(key); ok {
			f.Label, f.Text = d.Label, written(d, known[key])
		}
		facts = append(facts, f)
	}
	slices.SortStableFunc(facts, func(a, b pondFact) int { return strings.Compare(a.Label, b.Label) })
	return facts
}

// asked returns the first input that asks for a fact.
func (w *web) asked(key string) (calculators.Input, bool) {
	for _, c := range w.book.Calculators.All() {
		for _, d := range c.Inputs {
			if c.Key(d) == key {
				return d, true
			}
		}
	}
	return calculators.Input{}, false
}

// written is a fact as a reader has it: a unit's symbol, the label of a choice.
func written(d calculators.Input, text string) string {
	switch d.Type {
	case calculators.Choice:
		for _, o := range d.Options {
			if o.Name == text {
				return o.Label
			}
		}
	case calculators.Single:
		if q, err := quantity.Parse(text, d.Kind, d.Units()); err == nil && d.Kind != quantity.Money {
			return quantity.WithUnit(quantity.FormatPlain(q.Value, 10), q.Unit.Code)
		}
	}
	return text
}
