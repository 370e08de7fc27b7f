package fish

import (
	"mereleaf/calculators"
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
		each := in.In("kilograms", "g") / count
		return []*shoal{{place: "kilograms", species: "koi", length: CarpLength(each), count: count, weighed: each}}
	}
	return shoals(in)
}

// shoals reads the list of fish.
func shoals(in calculators.Inputs) []*shoal {
	var all []*shoal
	for i, row := range in.Rows("fish") {
		all = append(all, readShoal(calculators.Text("fish row {row 0}, length", float64(i+1)), row, row.In("count", "1")))
	}
	return all
}
