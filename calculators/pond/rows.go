package pond

import (
	"math"
	"strconv"

	"mereleaf/calculators"
)

// layered returns the body of a pond with shelves: each layer reaches from the
// floor of the one above down to its own floor.
func layered(rows []calculators.Inputs) (body, error) {
	x := make([]float64, 0, 3*len(rows))
	ovals := make([]bool, len(rows))
	for i, row := range rows {
		x = append(x, row.In("length", "m"), row.In("width", "m"), row.In("floor", "m"))
		ovals[i] = row.Choice("outline") == ellipse
		if i == 0 {
			continue
		}
		if err := belowFits(i, x[3*i-3:3*i], x[3*i:]); err != nil {
			return body{}, err
		}
	}
	thickness := func(x []float64, i int) float64 {
		if i == 0 {
			return x[2]
		}
		return x[3*i+2] - x[3*i-1]
	}
	layer := func(x []float64, i int) float64 { return outline(ovals[i], x[3*i], x[3*i+1]) * thickness(x, i) }
	b := body{
		measures: x,
		surface:  func(x []float64) float64 { return outline(ovals[0], x[0], x[1]) },
		volume: func(x []float64) float64 {
			sum := 0.0
			for i := range ovals {
				sum += layer(x, i)
			}
			return sum
		},
	}
	for i := range ovals {
		b.working = append(b.working, calculators.Step{Label: "Layer " + strconv.Itoa(i+1),
			Text: num(outline(ovals[i], x[3*i], x[3*i+1])) + " m² × " + num(thickness(x, i)) + " m = " + num(layer(x, i)) + " m³"})
	}
	return b, nil
}

// belowFits refuses a layer that is larger than the one above it, or whose floor
// lies no deeper. i is the layer's index; both slices are length, width, floor.
func belowFits(i int, above, below []float64) error {
	name := "layers row " + strconv.Itoa(i+1)
	for j, side := range []string{"length", "width"} {
		if below[j] > above[j] {
			return calculators.InputError{Input: name + ", " + side, Problem: "is " + num(below[j]) + " m, more than the " + num(above[j]) + " m of the layer above",
				Accept: "at most " + num(above[j]) + " m", Remedy: "list the layers from the top, and measure the open water only"}
		}
	}
	if below[2] <= above[2] {
		return calculators.InputError{Input: name + ", floor", Problem: "lies " + num(below[2]) + " m below the water line, no deeper than the floor above it",
			Accept: "more than " + num(above[2]) + " m", Remedy: "measure every floor from the water line"}
	}
	return nil
}

// sectioned returns the body of a pond measured in sections across its length.
// The first measurement is the length of the whole, by which the positions
// stretch; then come width and depth of each section.
func sectioned(rows []calculators.Inputs) (body, error) {
	at, err := positions(rows)
	if err != nil {
		return body{}, err
	}
	x := []float64{at[len(at)-1]}
	for _, row := range rows {
		x = append(x, row.In("width", "m"), row.In("depth", "m"))
	}
	stretched := func(x []float64) []float64 {
		s := make([]float64, len(at))
		for i := range at {
			s[i] = at[i] * x[0] / at[len(at)-1]
		}
		return s
	}
	sections := func(x []float64, deep bool) []float64 {
		s := make([]float64, len(at))
		for i := range s {
			s[i] = x[2*i+1]
			if deep {
				s[i] *= x[2*i+2]
			}
		}
		return s
	}
	even := evenSteps(at)
	rule := func(values []float64, x []float64) float64 {
		if even {
			return Simpson(values, x[0]/float64(len(at)-1))
		}
		return Trapezoid(stretched(x), values)
	}
	b := body{
		measures: x,
		surface:  func(x []float64) float64 { return rule(sections(x, false), x) },
		volume:   func(x []float64) float64 { return rule(sections(x, true), x) },
	}
	b.describeSections(at, sections(x, true), even)
	if b.volume(x) <= 0 {
		return body{}, calculators.InputError{Input: "sections", Problem: "hold no water", Accept: "a width and a depth above 0 m in between", Remedy: "check the rows"}
	}
	return b, nil
}

func (b *body) describeSections(at, areas []float64, even bool) {
	for i, a := range areas {
		b.working = append(b.working, calculators.Step{Label: "Section at " + num(at[i]) + " m", Text: num(b.measures[2*i+1]) + " m × " + num(b.measures[2*i+2]) + " m = " + num(a) + " m²"})
	}
	simple := Trapezoid(at, areas)
	if !even {
		b.working = append(b.working, calculators.Step{Label: "Average end areas", Text: num(simple) + " m³"})
		b.flags = append(b.flags, "Simpson's rule, which follows curved banks better, needs an odd number of sections at equal steps; the mean of neighbouring sections is used instead.")
		return
	}
	volume := b.volume(b.measures)
	b.doubt = math.Abs(volume - simple)
	b.working = append(b.working,
		calculators.Step{Label: "Simpson's rule", Text: num(volume) + " m³"},
		calculators.Step{Label: "Average end areas, to compare", Text: num(simple) + " m³"})
}

// positions returns the distances of the sections from the end, which must
// start at nothing and rise.
func positions(rows []calculators.Inputs) ([]float64, error) {
	if len(rows) < 3 {
		return nil, calculators.InputError{Input: "sections", Problem: "has " + strconv.Itoa(len(rows)) + " rows", Accept: "three rows or more", Remedy: "measure at both ends and in between"}
	}
	at := make([]float64, len(rows))
	for i, row := range rows {
		at[i] = row.In("from-end", "m")
		name := "sections row " + strconv.Itoa(i+1) + ", from-end"
		if i == 0 && at[0] != 0 {
			return nil, calculators.InputError{Input: name, Problem: "is " + num(at[0]) + " m", Accept: "0 m", Remedy: "begin at the end of the pond, with width 0 m if it runs out to a point"}
		}
		if i > 0 && at[i] <= at[i-1] {
			return nil, calculators.InputError{Input: name, Problem: "is " + num(at[i]) + " m, no farther than the row before", Accept: "more than " + num(at[i-1]) + " m", Remedy: "list the sections from one end to the other"}
		}
	}
	return at, nil
}

// evenSteps reports whether Simpson's rule applies: an odd number of positions,
// equally far apart to a part in a thousand.
func evenSteps(at []float64) bool {
	last := len(at) - 1
	step := at[last] / float64(last)
	for i := range at {
		if math.Abs(at[i]-float64(i)*step) > step/1000 {
			return false
		}
	}
	return last%2 == 0
}

// sounded returns the body of a pond of known surface with depths spread evenly
// over it. The surface stands as the side of a square, so that an error of a
// measurement moves it as it would move a length.
func sounded(area float64, rows []calculators.Inputs) (body, error) {
	if len(rows) < 4 {
		return body{}, calculators.InputError{Input: "depths", Problem: "has " + strconv.Itoa(len(rows)) + " rows", Accept: "four rows or more", Remedy: "spread the depths evenly over the whole surface"}
	}
	x := []float64{math.Sqrt(area)}
	for _, row := range rows {
		x = append(x, row.In("depth", "m"))
	}
	mean, scatter := meanAndError(x[1:])
	if mean == 0 {
		return body{}, calculators.InputError{Input: "depths", Problem: "are all 0 m", Accept: "depths of water", Remedy: "measure from the water line to the floor"}
	}
	surface := func(x []float64) float64 { return x[0] * x[0] }
	volume := func(x []float64) float64 {
		m, _ := meanAndError(x[1:])
		return surface(x) * m
	}
	return body{measures: x, surface: surface, volume: volume, doubt: area * scatter, working: []calculators.Step{
		{Label: "Mean of " + strconv.Itoa(len(rows)) + " depths", Text: num(mean) + " m"},
		{Label: "Surface times mean depth", Text: num(area) + " m² × " + num(mean) + " m = " + num(area*mean) + " m³"},
	}}, nil
}

// meanAndError returns the mean of values and the standard error of the mean.
func meanAndError(values []float64) (mean, standard float64) {
	n := float64(len(values))
	for _, v := range values {
		mean += v / n
	}
	squares := 0.0
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(squares / (n - 1) / n)
}
