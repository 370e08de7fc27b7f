package fish

import (
	"mereleaf/calculators"
	"mereleaf/calculators/internal/solve"
	"mereleaf/calculators/quantity"
)

// fishList is the list of fish as several calculators ask for it.
func fishList() calculators.Input {
	return calculators.Input{
		Name: "fish", Fact: "fish", Label: "Your fish", Type: calculators.Rows,
		Help:    "A row for each kind and size: what it is, how long, how many.",
		Columns: []calculators.Input{speciesInput(), lengthInput(), countInput(), measuredInput()},
	}
}

// stockInputs ask for the fish by their lengths, or by the weight of all.
func stockInputs() []calculators.Input {
	list, count := fishList(), countInput()
	list.When = calculators.When{Input: "stock", Is: []string{"list"}}
	weighed := calculators.When{Input: "stock", Is: []string{"weight"}}
	count.When, count.Name, count.Help = weighed, "number", "All of them."
	return []calculators.Input{
		{
			Name: "stock", Label: "Your fish by", Type: calculators.Choice, Default: "list",
			Help: "Lengths are easier to get; a weight is surer.",
			Options: []calculators.Option{
				{Name: "list", Label: "their lengths"},
				{Name: "weight", Label: "their weight"},
			},
		},
		list,
		{
			Name: "kilograms", Label: "All fish together", Kind: quantity.Mass, When: weighed,
			Help:   "Weighed, or from the fish weight calculator.",
			Accept: calculators.Range{Low: 0.001, High: 5000, Origin: "sanity limit"},
		},
		count,
	}
}

// stock reads what stockInputs ask for.
func stock(in calculators.Inputs) []*shoal {
	if in.Choice("stock") == "weight" {
		count := in.In("number", "1")
		return []*shoal{weighedShoal("kilograms", "koi", in.In("kilograms", "g")/count, count)}
	}
	return shoals(in)
}

// weighedShoal returns fish of a known weight each, g, with the length that such a
// fish is likely to have: NaN where no line is stated for it.
func weighedShoal(place, species string, each, count float64) *shoal {
	return &shoal{place: place, species: species, length: lengthOf(species, each, likelyEnd), count: count, weighed: each}
}

// longestOf returns the longest fish of a kind in cm that its line is solved for: of koi
// one that none reaches.
func longestOf(species string) float64 {
	switch species {
	case "goldfish":
		return goldfishTo
	case "tench":
		return tenchTo
	}
	return 150
}

// lengthOf returns the total length in cm at which an end of the weight of such a fish is
// so much, g: its line solved for the length. Beyond the fish that its line is stated for
// it returns NaN.
func lengthOf(species string, weight float64, end func(Range) float64) float64 {
	length, _ := solve.Root(func(length float64) float64 {
		return end((&shoal{species: species, length: length}).band()) - weight
	}, 0.1, longestOf(species))
	return length
}

func likelyEnd(b Range) float64 { return b.Likely }

// alikeInputs ask for the size of fish that are all alike, by length or by weight.
func alikeInputs() []calculators.Input {
	when := func(by string) calculators.When { return calculators.When{Input: "by", Is: []string{by}} }
	length, measured := lengthInput(), measuredInput()
	length.When, measured.When = when("length"), when("length")
	return []calculators.Input{
		speciesInput(),
		{
			Name: "by", Label: "Their size by", Type: calculators.Choice, Default: "length",
			Help: "The length, or what one of them weighs.",
			Options: []calculators.Option{
				{Name: "length", Label: "length"},
				{Name: "weight", Label: "weight"},
			},
		},
		length,
		{
			Name: "mass", Label: "Weight of one fish", Kind: quantity.Mass, Unit: "g", When: when("weight"),
			Help:   "On a scale, in a tub of water whose weight you take off.",
			Accept: calculators.Range{Low: 0.1, High: 30000, Origin: "sanity limit"},
		},
		countInput(), measured,
	}
}

// alike reads what alikeInputs ask for.
func alike(in calculators.Inputs, count float64) *shoal {
	if in.Choice("by") == "weight" {
		return weighedShoal("mass", in.Choice("species"), in.In("mass", "g"), count)
	}
	return readShoal("length", in, count)
}

// shoals reads the list of fish.
func shoals(in calculators.Inputs) []*shoal {
	var all []*shoal
	for i, row := range in.Rows("fish") {
		all = append(all, readShoal(calculators.Text("fish row {row 0}, length", float64(i+1)), row, row.In("count", "1")))
	}
	return all
}
