package pond

import (
	"math"

	"mereleaf/calculators"
)

// body is a pond as measured, with the working and flags of the result so far.
// Its functions take the measurements anew, so that each can be moved by its
// error.
type body struct {
	calculators.Result
	measures []float64 // in m; a volume is of the third degree in them
	volume   func(measures []float64) float64
	surface  func(measures []float64) float64
	doubt    float64 // further standard error of the volume, in m3
}

// spread returns the standard error of f from an error of every measurement in
// m, each taken to be off independently of the others: the root of the summed
// squares of what each moves.
func (b *body) spread(f func([]float64) float64, each float64) float64 {
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
func regular(in calculators.Inputs) *body {
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
func upright(x []float64, oval bool) *body {
	area := func(x []float64) float64 { return outline(oval, x[0], x[len(x)-2]) }
	b := &body{measures: x, surface: area, volume: func(x []float64) float64 {
		if oval {
			return EllipticPrism(x[0], x[len(x)-2], x[len(x)-1])
		}
		return RectanglePrism(x[0], x[len(x)-2], x[len(x)-1])
	}}
	b.stepArea("Surface", oval, x[0], x[len(x)-2])
	b.Step("Surface times depth", "{~4} m² × {~4} m = {~4} m³", area(x), x[len(x)-1], b.volume(x))
	return b
}

func sloping(x []float64, oval bool) *body {
	area := func(x []float64) float64 { return outline(oval, x[0], x[1]) }
	b := &body{measures: x, surface: area, volume: func(x []float64) float64 {
		if oval {
			return SlopingEllipse(x[0], x[1], x[2], x[3], x[4])
		}
		return SlopingRectangle(x[0], x[1], x[2], x[3], x[4])
	}}
	half := [2]float64{(x[0] + x[2]) / 2, (x[1] + x[3]) / 2}
	b.stepArea("At the surface", oval, x[0], x[1])
	b.stepArea("Half way down", oval, half[0], half[1])
	b.stepArea("At the bottom", oval, x[2], x[3])
	b.Step("Prismoidal rule", "{~4}/6 × ({~4} + 4 × {~4} + {~4}) = {~4} m³", x[4], area(x), outline(oval, half[0], half[1]), outline(oval, x[2], x[3]), b.volume(x))
	return b
}

func bowlBody(length, width, depth float64) *body {
	b := &body{
		measures: []float64{length, width, depth},
		volume:   func(x []float64) float64 { return HalfEllipsoid(x[0], x[1], x[2]) },
		surface:  func(x []float64) float64 { return EllipseArea(x[0], x[1]) },
	}
	b.stepArea("Surface", true, length, width)
	b.Step("Two thirds of surface times depth", "2/3 × {~4} m² × {~4} m = {~4} m³", EllipseArea(length, width), depth, b.volume(b.measures))
	return b
}

func saucerBody(diameter, depth float64) *body {
	b := &body{
		measures: []float64{diameter, depth},
		volume:   func(x []float64) float64 { return SphericalCap(x[0]/2, x[1]) },
		surface:  func(x []float64) float64 { return EllipseArea(x[0], x[0]) },
	}
	b.Step("Cap of a sphere", "π × {~4} × (3 × {~4}² + {~4}²)/6 = {~4} m³", depth, diameter/2, depth, b.volume(b.measures))
	return b
}

func outline(oval bool, length, width float64) float64 {
	if oval {
		return EllipseArea(length, width)
	}
	return length * width
}

func (b *body) stepArea(label string, oval bool, length, width float64) {
	text := "{~4} m × {~4} m = {~4} m²"
	if oval {
		text = "π/4 × " + text
	}
	b.Step(label, text, length, width, outline(oval, length, width))
}
