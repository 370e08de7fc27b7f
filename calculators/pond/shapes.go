package pond

import "math"

// RectanglePrism returns the volume in m3 of a pond with a rectangular outline
// and upright walls: V = l w d, all in m, any positive sizes. Exact for that
// shape; a corner rounded with radius r takes away 0.215 r2 d. Source
// ics-pocketbook, prism.
func RectanglePrism(length, width, depth float64) float64 {
	return length * width * depth
}

// EllipseArea returns the area in m2 of an ellipse with the given length and
// width over all, in m; with equal ones, of a circle: A = (pi/4) l w. Source
// perry-2008, section 3, mensuration formulas (memory).
func EllipseArea(length, width float64) float64 {
	return math.Pi / 4 * length * width
}

// EllipticPrism returns the volume in m3 of a pond with an elliptic or circular
// outline and upright walls: V = (pi/4) l w d, all in m. Source ics-pocketbook,
// cylinder, over EllipseArea.
func EllipticPrism(length, width, depth float64) float64 {
	return EllipseArea(length, width) * depth
}

// Prismoid returns the volume in m3 of a body of the given depth in m from its
// areas in m2 at the top, half way down and at the bottom:
//
//	V = (d/6) (A1 + 4 Am + A2)
//
// It is exact whenever the length and the width each change evenly with depth,
// so also for cones and pyramids cut off. The mean of top and bottom area
// instead gives too much, the mean measurements too little. Source
// ics-pocketbook, prismoid.
func Prismoid(depth, top, middle, bottom float64) float64 {
	return depth / 6 * (top + 4*middle + bottom)
}

// SlopingRectangle returns the volume in m3 of a pond with a rectangular outline
// at the surface and a smaller one at the bottom, with straight sides between,
// by Prismoid; all measurements in m.
func SlopingRectangle(length, width, bottomLength, bottomWidth, depth float64) float64 {
	middle := (length + bottomLength) / 2 * (width + bottomWidth) / 2
	return Prismoid(depth, length*width, middle, bottomLength*bottomWidth)
}

// SlopingEllipse returns the volume in m3 of a pond with an elliptic or circular
// outline at the surface and a smaller one at the bottom, with straight sides
// between, by Prismoid; all measurements over all in m. With equal lengths and
// widths it is the frustum of a cone, (pi/3) d (R2 + R r + r2).
func SlopingEllipse(length, width, bottomLength, bottomWidth, depth float64) float64 {
	middle := EllipseArea((length+bottomLength)/2, (width+bottomWidth)/2)
	return Prismoid(depth, EllipseArea(length, width), middle, EllipseArea(bottomLength, bottomWidth))
}

// HalfEllipsoid returns the volume in m3 of a bowl that is steep at the rim and
// flat in the middle: two thirds of its surface area times its depth, V = (2/3)
// (pi/4) l w d, all in m. Source perry-2008, section 3, mensuration formulas
// (memory).
func HalfEllipsoid(length, width, depth float64) float64 {
	return EllipseArea(length, width) * depth * 2 / 3
}

// SphericalCap returns the volume in m3 of a round, shallow saucer, which is a
// cap of a sphere, from the radius a of its surface and its depth d in m:
//
//	V = pi d (3 a2 + d2)/6
//
// It is stated for depths up to the radius; a deeper round pond has walls that
// overhang. Source perry-2008, section 3, mensuration formulas (memory).
func SphericalCap(radius, depth float64) float64 {
	return math.Pi * depth * (3*radius*radius + depth*depth) / 6
}

// Simpson integrates values that stand at equal steps by Simpson's rule:
//
//	(step/3) (y0 + 4 y1 + 2 y2 + 4 y3 + ... + yn)
//
// Widths in m give an area in m2, areas in m2 a volume in m3. Where the number of
// steps is odd, the last three of them follow his second rule,
//
//	(3 step/8) (y0 + 3 y1 + 3 y2 + y3),
//
// so that both parts are exact for curves of the third degree. It needs three
// values or more and returns NaN otherwise. Source derrett-barrass-2006, chapter
// 10, Simpson's first and second rule.
func Simpson(values []float64, step float64) float64 {
	last := len(values) - 1
	if last < 2 {
		return math.NaN()
	}
	end := 0.0
	if last%2 != 0 {
		last -= 3
		y := values[last:]
		end = 3 * step / 8 * (y[0] + 3*y[1] + 3*y[2] + y[3])
	}
	if last == 0 {
		return end
	}
	sum := values[0] + values[last]
	for i := 1; i < last; i++ {
		sum += values[i] * float64(2+2*(i%2))
	}
	return step/3*sum + end
}

// Trapezoid integrates values over their positions in m, which rise but need not
// be evenly spaced: each stretch counts with the mean of its two ends. For areas
// it is the rule of average end areas. It returns NaN for fewer than two values,
// or if positions and values differ in number. Source perry-2008, section 3,
// irregular areas and volumes (memory).
func Trapezoid(positions, values []float64) float64 {
	if len(values) < 2 || len(values) != len(positions) {
		return math.NaN()
	}
	sum := 0.0
	for i := 1; i < len(values); i++ {
		sum += (positions[i] - positions[i-1]) * (values[i] + values[i-1]) / 2
	}
	return sum
}
