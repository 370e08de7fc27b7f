package pond

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// body is a pond as measured. Its functions take the measurements anew, so that
// each can be moved by its error.
type body struct {
	measures []float64 // in m; a volume is of the third degree in them
	volume   func(measures []float64) float64
	surface  func(measures []float64) float64
	doubt    float64 // further standard error of the volume, in m3
	working  []calculators.Step
	flags    []string
}

// spread returns the standard error of f from an error of every measurement in
// m, each taken to be off independently of the others: the root of the summed
// squares of what each moves.
func (b body) spread(f func([]float64) float64, each float64) float64 {
	moved := append([]float64(nil), b.measures...)
	base, sum := f(b.measures), 0.0
	for i := range moved {
		moved[i] += each
		d := f(moved) - base
		moved[i] = b.measures[i]
		sum += d * d
	}
	return math.Sqrt(sum)
}

// regular returns a body of one of the regular shapes.
func regular(in calculators.Inputs) body {
	m := func(name string) float64 { return in.In(name, "m") }
	switch in.Choice("shape") {
	case circle:
		return upright([]float64{m("diameter"), m("depth")}, true)
	case saucer:
		return saucerBody(m("diameter"), m("depth"))
	case bowl:
		return bowlBody(m("length"), m("width"), m("depth"))
	case slopingRectangle, slopingEllipse:
		x := []float64{m("length"), m("width"), m("bottom-length"), m("bottom-width"), m("depth")}
		return sloping(x, in.Choice("shape") == slopingEllipse)
	}
	return upright([]float64{m("length"), m("width"), m("depth")}, in.Choice("shape") == ellipse)
}

// upright takes length, width and depth, or a circle's diameter and depth.
func upright(x []float64, oval bool) body {
	sides := func(x []float64) (l, w float64) { return x[0], x[len(x)-2] }
	area := func(x []float64) float64 { return outline(oval, x[0], x[len(x)-2]) }
	volume := func(x []float64) float64 {
		l, w := sides(x)
		if oval {
			return EllipticPrism(l, w, x[len(x)-1])
		}
		return RectanglePrism(l, w, x[len(x)-1])
	}
	l, w := sides(x)
	return body{measures: x, volume: volume, surface: area, working: []calculators.Step{
		{Label: "Surface", Text: areaText(oval, l, w)},
		{Label: "Surface times depth", Text: num(area(x)) + " m² × " + num(x[len(x)-1]) + " m = " + num(volume(x)) + " m³"},
	}}
}

func sloping(x []float64, oval bool) body {
	area := func(x []float64) float64 { return outline(oval, x[0], x[1]) }
	volume := func(x []float64) float64 {
		if oval {
			return SlopingEllipse(x[0], x[1], x[2], x[3], x[4])
		}
		return SlopingRectangle(x[0], x[1], x[2], x[3], x[4])
	}
	middle := outline(oval, (x[0]+x[2])/2, (x[1]+x[3])/2)
	return body{measures: x, volume: volume, surface: area, working: []calculators.Step{
		{Label: "At the surface", Text: areaText(oval, x[0], x[1])},
		{Label: "Half way down", Text: areaText(oval, (x[0]+x[2])/2, (x[1]+x[3])/2)},
		{Label: "At the bottom", Text: areaText(oval, x[2], x[3])},
		{Label: "Prismoidal rule", Text: num(x[4]) + "/6 × (" + num(area(x)) + " + 4 × " + num(middle) + " + " + num(outline(oval, x[2], x[3])) + ") = " + num(volume(x)) + " m³"},
	}}
}

func bowlBody(length, width, depth float64) body {
	b := body{
		measures: []float64{length, width, depth},
		volume:   func(x []float64) float64 { return HalfEllipsoid(x[0], x[1], x[2]) },
		surface:  func(x []float64) float64 { return EllipseArea(x[0], x[1]) },
	}
	b.working = []calculators.Step{
		{Label: "Surface", Text: areaText(true, length, width)},
		{Label: "Two thirds of surface times depth", Text: "2/3 × " + num(b.surface(b.measures)) + " m² × " + num(depth) + " m = " + num(b.volume(b.measures)) + " m³"},
	}
	return b
}

func saucerBody(diameter, depth float64) body {
	b := body{
		measures: []float64{diameter, depth},
		volume:   func(x []float64) float64 { return SphericalCap(x[0]/2, x[1]) },
		surface:  func(x []float64) float64 { return EllipseArea(x[0], x[0]) },
	}
	b.working = []calculators.Step{{Label: "Cap of a sphere",
		Text: "π × " + num(depth) + " × (3 × " + num(diameter/2) + "² + " + num(depth) + "²)/6 = " + num(b.volume(b.measures)) + " m³"}}
	return b
}

func outline(oval bool, length, width float64) float64 {
	if oval {
		return EllipseArea(length, width)
	}
	return length * width
}

func areaText(oval bool, length, width float64) string {
	s := num(length) + " m × " + num(width) + " m = " + num(outline(oval, length, width)) + " m²"
	if oval {
		return "π/4 × " + s
	}
	return s
}

// num prints a number of the working: four digits, no idle noughts.
func num(v float64) string { return quantity.FormatPlain(v, 4) }
