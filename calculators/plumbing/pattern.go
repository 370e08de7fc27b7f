package plumbing

import "math"

// Floor is the drillable part of a tray: its length and width in m inside the
// margin kept free along the walls. Holes may sit on its edge.
type Floor struct{ Length, Width float64 }

// SquareCount returns how many holes a square pattern of the given pitch has
// room for on the floor.
//
//	(floor(L/p) + 1) (floor(W/p) + 1)
func (f Floor) SquareCount(pitch float64) float64 {
	return (steps(f.Length, pitch) + 1) * (steps(f.Width, pitch) + 1)
}

// StaggeredCount returns how many holes a staggered pattern (equal triangles of
// the given side) has room for: rows p sqrt(3)/2 apart, each second row moved
// by p/2.
func (f Floor) StaggeredCount(pitch float64) float64 {
	rows := steps(f.Width, pitch*math.Sqrt(3)/2) + 1
	full := steps(f.Length, pitch) + 1
	moved := 0.0
	if f.Length >= pitch/2 {
		moved = steps(f.Length-pitch/2, pitch) + 1
	}
	odd := math.Floor(rows / 2)
	return (rows-odd)*full + odd*moved
}

// SquarePitch returns the widest pitch in m at which a square pattern has room
// for the given count of holes. One hole or none needs no pitch: 0.
func (f Floor) SquarePitch(count float64) float64 {
	var candidates []float64
	for k := 1.0; k < count; k++ {
		candidates = append(candidates, f.Length/k, f.Width/k)
	}
	return widest(candidates, count, f.SquareCount)
}

// StaggeredPitch returns the widest pitch in m at which a staggered pattern has
// room for the given count of holes. One hole or none needs no pitch: 0.
func (f Floor) StaggeredPitch(count float64) float64 {
	if count <= 1 {
		return 0
	}
	var candidates []float64
	// On a strip narrower than half a pitch only every second row holds a hole.
	for k := 1.0; k < 2*count; k++ {
		candidates = append(candidates, f.Length/k, f.Length/(k-0.5), f.Width/(k*math.Sqrt(3)/2))
	}
	return widest(candidates, count, f.StaggeredCount)
}

// widest tries the pitches at which the count of a pattern changes.
func widest(candidates []float64, count float64, room func(float64) float64) float64 {
	best := 0.0
	for _, p := range candidates {
		if p > best && room(p) >= count {
			best = p
		}
	}
	return best
}

// steps is how many whole pitches go into a length, forgiving the last bits: a
// length divided by a pitch that is a fraction of it is a whole number.
func steps(length, pitch float64) float64 { return math.Floor(length/pitch + 1e-9) }
