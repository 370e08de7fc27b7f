package pond

import (
	"math"

	"mereleaf/calculators"
)

// layered returns the body of a pond with shelves: each layer reaches from the
// floor of the one above down to its own floor.
func layered(rows []calculators.Inputs) (*body, error) {
	x := make([]float64, 0, 3*len(rows))
	ovals := make([]bool, len(rows))
	for i, row := range rows {
		x = append(x, row.In("length", "m"), row.In("width", "m"), row.In("floor", "m"))
		ovals[i] = row.Choice("outline") == ellipse
		if i == 0 {
			continue
		}
		if err := belowFits(i, x[3*i-3:3*i], x[3*i:]); err != nil {
			return nil, err
		}
	}
	thickness := func(x []float64, i int) float64 {
		if i == 0 {
			return x[2]
		}
		return x[3*i+2] - x[3*i-1]
	}
	layer := func(x []float64, i int) float64 { return outline(ovals[i], x[3*i], x[3*i+1]) * thickness(x, i) }
	b := &body{
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
		b.Step("Layer {0}", "{~4} m² × {~4} m = {~4} m³", float64(i+1), outline(ovals[i], x[3*i], x[3*i+1]), thickness(x, i), layer(x, i))
	}
	return b, nil
}

// belowFits refuses a layer that is larger than the one above it, or whose floor
// lies no deeper. i is the layer's index; both slices are length, width, floor.
func belowFits(i int, above, below []float64) error {
	for j, side := range []string{"length", "width"} {
		if below[j] > above[j] {
			return calculators.Refuse(calculators.RowName("layers", i, side), "is {size ~4 m}, more than the {above ~4 m} of the layer above",
				"at most {above ~4 m}", "list the layers from the top, and measure the open water only", below[j], above[j], above[j])
		}
	}
	if below[2] <= above[2] {
		return calculators.Refuse(calculators.RowName("layers", i, "floor"), "lies {depth ~4 m} below the water line, no deeper than the floor above it",
			"more than {above ~4 m}", "measure every floor from the water line", below[2], above[2])
	}
	return nil
}

// sectioned returns the body of a pond measured in sections across its length.
// The first measurement is the length of the whole, by which the positions
// stretch; then come width and depth of each section.
func sectioned(rows []calculators.Inputs) (*body, error) {
	at, err := positions(rows)
	if err != nil {
		return nil, err
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
	b := &body{
		measures: x,
		surface:  func(x []float64) float64 { return rule(sections(x, false), x) },
		volume:   func(x []float64) float64 { return rule(sections(x, true), x) },
	}
	b.describeSections(at, sections(x, true), even)
	if b.volume(x) <= 0 {
		return nil, calculators.Refuse("sections", "hold no water", "a width and a depth in between", "check the rows")
	}
	return b, nil
}

func (b *body) describeSections(at, areas []float64, even bool) {
	for i, a := range areas {
		b.Step("Section at {~4} m", "{~4} m × {~4} m = {~4} m²", at[i], b.measures[2*i+1], b.measures[2*i+2], a)
	}
	simple := Trapezoid(at, areas)
	if !even {
		b.Step("Average end areas", "{~4} m³", simple)
		b.Flag("Simpson's rule, which follows curved banks better, needs equal steps; the mean of neighbouring sections is used instead.")
		return
	}
	volume := b.volume(b.measures)
	b.doubt = math.Abs(volume - simple)
	b.Step("Simpson's rule", "{~4} m³", volume)
	b.Step("Average end areas, to compare", "{~4} m³", simple)
}

// positions returns the distances of the sections from the end, which must
// start at nothing and rise.
func positions(rows []calculators.Inputs) ([]float64, error) {
	if len(rows) < 3 {
		return nil, calculators.Refuse("sections", "has {rows 0|row|rows}", "three rows or more", "measure at both ends and in between", float64(len(rows)))
	}
	at := make([]float64, len(rows))
	for i, row := range rows {
		at[i] = row.In("from-end", "m")
		name := calculators.RowName("sections", i, "from-end")
		if i == 0 && at[0] != 0 {
			return nil, calculators.Refuse(name, "is {distance ~4 m}", "{start m}", "begin at the end of the pond, with no width if it runs out to a point", at[0], 0)
		}
		if i > 0 && at[i] <= at[i-1] {
			return nil, calculators.Refuse(name, "is {distance ~4 m}, no farther than the row before", "more than {before ~4 m}", "list the sections from one end to the other", at[i], at[i-1])
		}
	}
	return at, nil
}

// evenSteps reports whether Simpson's rule applies: the positions are equally far
// apart to a part in a thousand.
func evenSteps(at []float64) bool {
	last := len(at) - 1
	step := at[last] / float64(last)
	for i := range at {
		if math.Abs(at[i]-float64(i)*step) > step/1000 {
			return false
		}
	}
	return true
}

// sounded returns the body of a pond of known surface with depths spread evenly
// over it. The surface stands as the side of a square, so that an error of a
// measurement moves it as it would move a length.
func sounded(area float64, rows []calculators.Inputs) (*body, error) {
	if len(rows) < 4 {
		return nil, calculators.Refuse("depths", "has {rows 0|row|rows}", "four rows or more", "spread the depths evenly over the whole surface", float64(len(rows)))
	}
	x := []float64{math.Sqrt(area)}
	for _, row := range rows {
		x = append(x, row.In("depth", "m"))
	}
	mean, scatter := meanAndError(x[1:])
	if mean == 0 {
		return nil, calculators.Refuse("depths", "are all nothing", "depths of water", "measure from the water line to the floor")
	}
	surface := func(x []float64) float64 { return x[0] * x[0] }
	volume := func(x []float64) float64 {
		m, _ := meanAndError(x[1:])
		return surface(x) * m
	}
	b := &body{measures: x, surface: surface, volume: volume, doubt: area * scatter}
	b.Step("Mean of {0} depths", "{~4} m", float64(len(rows)), mean)
	b.Step("Surface times mean depth", "{~4} m² × {~4} m = {~4} m³", area, mean, area*mean)
	return b, nil
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
