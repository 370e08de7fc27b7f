package plumbing

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/drawing"
)

// Pattern is a lattice of holes on the drillable part of a tray: rows along its
// length, stretched until they reach its edges. It has room for as many holes
// as StaggeredCount or SquareCount finds for the widest pitch.
type Pattern struct {
	Along   float64 // from hole to hole in a row, in m; 0 for a single column
	Apart   float64 // from row to row, in m; 0 for a single row
	Nearest float64 // from a hole to the next, in m: at least the pitch; 0 for a single hole

	floor       Floor
	rows        int
	full, moved int     // holes in the first, third, … and in the second, fourth, … row
	shift       float64 // how far the latter are moved, in m
}

// LayOut returns the lattice of the widest pitch that has room for the given
// count of holes on a floor, without the rows and columns that it can spare.
func LayOut(f Floor, count float64, staggered bool) Pattern {
	p := Pattern{floor: f, rows: 1, full: 1, moved: 1}
	if count <= 1 {
		return p
	}
	pitch, apart := f.SquarePitch(count), 1.0
	if staggered {
		pitch, apart = f.StaggeredPitch(count), math.Sqrt(3)/2
	}
	p.rows, p.full = int(steps(f.Width, apart*pitch))+1, int(steps(f.Length, pitch))+1
	p.moved = p.full
	if staggered {
		p.moved = int(steps(f.Length-pitch/2, pitch)) + 1
	}
	if p.moved == 0 { // the floor is a strip that holds one hole across
		p.rows, p.moved, staggered = (p.rows+1)/2, 1, false
	}
	p.spare(int(count), staggered)
	if staggered && p.rows > 1 {
		p.shift = p.floor.Length / float64(p.full+p.moved-1)
	}
	p.stretch()
	return p
}

// spare takes away columns and rows as long as there is room for the count.
func (p *Pattern) spare(count int, staggered bool) {
	for {
		q := *p
		switch {
		case !staggered:
			q.full--
			q.moved--
		case q.moved < q.full:
			q.full--
		default:
			q.moved--
		}
		if q.moved == 0 || q.start(q.rows) < count {
			q = *p
			q.rows--
		}
		if q.start(q.rows) < count {
			return
		}
		*p = q
	}
}

// stretch spreads the rows over the floor.
func (p *Pattern) stretch() {
	p.Nearest = math.Inf(1)
	if p.full > 1 {
		p.Along = 2 * p.shift
		if p.shift == 0 {
			p.Along = p.floor.Length / float64(p.full-1)
		}
		p.Nearest = p.Along
	}
	if p.rows > 1 {
		p.Apart = p.floor.Width / float64(p.rows-1)
		p.Nearest = math.Min(p.Nearest, math.Hypot(p.shift, p.Apart))
	}
}

// room is how many holes a row holds.
func (p *Pattern) room(row int) int {
	if row%2 == 1 {
		return p.moved
	}
	return p.full
}

// at is the place of a hole.
func (p *Pattern) at(row, column int) drawing.Point {
	h := drawing.Point{X: float64(column) * p.Along, Y: float64(row) * p.Apart}
	switch {
	case p.full == 1 && p.shift == 0:
		h.X = p.floor.Length / 2
	case row%2 == 1:
		h.X += p.shift
	}
	if p.rows == 1 {
		h.Y = p.floor.Width / 2
	}
	return h
}

// mirror is the place that looks the same from the other side: after half a
// turn if the lattice allows it, else in a mirror along or across the rows.
func (p *Pattern) mirror(row, column int) (int, int) {
	turned := p.room(row) - 1 - column
	switch {
	case p.shift == 0 || (p.rows%2 == 1) == (p.moved < p.full):
		return p.rows - 1 - row, turned
	case p.moved < p.full:
		return row, turned
	}
	return p.rows - 1 - row, column
}

// start is the index of the first hole of a row.
func (p *Pattern) start(row int) int { return (row+1)/2*p.full + row/2*p.moved }

// site is a place of a lattice that may hold a hole.
type site struct {
	_      calculators.Incomparable
	hole   drawing.Point
	mirror int     // index of its mirror
	gap    float64 // distance to the nearest place left out
	out    bool
}

func (p *Pattern) sites() []site {
	sites := make([]site, 0, p.start(p.rows))
	for row := range p.rows {
		for column := range p.room(row) {
			r, c := p.mirror(row, column)
			sites = append(sites, site{hole: p.at(row, column), mirror: p.start(r) + c, gap: math.Inf(1)})
		}
	}
	return sites
}

// Holes returns the centres of count holes, row by row, in m from a corner of
// the drillable part of the floor. Places that the lattice has too many are left
// out in pairs that mirror each other, the corners first and each further pair
// far from those before it; of an odd number one in the middle, or in a corner if
// none is in the middle.
func (p Pattern) Holes(count int) []drawing.Point {
	sites := p.sites()
	for excess := len(sites) - count; excess > 0; excess-- {
		pair := -1
		if excess%2 == 0 {
			pair = farthest(sites)
		}
		if pair < 0 {
			leaveOut(sites, p.single(sites))
			continue
		}
		leaveOut(sites, pair)
		leaveOut(sites, sites[pair].mirror)
		excess--
	}
	holes := make([]drawing.Point, 0, count)
	for i := range sites {
		if !sites[i].out {
			holes = append(holes, sites[i].hole)
		}
	}
	return holes
}

// single finds the one place to leave out of an odd number: of those that are
// their own mirror the one nearest the middle, else the last.
func (p *Pattern) single(sites []site) int {
	best, least := -1, math.Inf(1)
	for i := range sites {
		s := &sites[i]
		off := distance(s.hole, drawing.Point{X: p.floor.Length / 2, Y: p.floor.Width / 2})
		if s.mirror != i {
			off = 2 * (p.floor.Length + p.floor.Width) // farther than any of its own mirror
		}
		if !s.out && off <= least {
			best, least = i, off
		}
	}
	return best
}

// farthest finds the pair that is farthest from the places left out and of which
// the two are farthest from each other; -1 if there is none.
func farthest(sites []site) int {
	best, most := -1, 0.0
	for i := range sites {
		s, other := &sites[i], &sites[sites[i].mirror]
		apart := min(s.gap, other.gap, distance(s.hole, other.hole))
		if !s.out && !other.out && apart > most*(1+1e-9) {
			best, most = i, apart
		}
	}
	return best
}

func leaveOut(sites []site, i int) {
	sites[i].out = true
	for j := range sites {
		sites[j].gap = min(sites[j].gap, distance(sites[i].hole, sites[j].hole))
	}
}

func distance(a, b drawing.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// Drilled returns a floor with count holes for drawing. Length and width of the
// whole floor, margin kept free along its walls and diameter of the holes are in
// m.
func Drilled(length, width, margin, hole, count float64, staggered bool) drawing.Floor {
	p := LayOut(Floor{length - 2*margin, width - 2*margin}, count, staggered)
	holes := p.Holes(int(count))
	for i := range holes {
		holes[i] = drawing.Point{X: 1000 * (margin + holes[i].X), Y: 1000 * (margin + holes[i].Y)}
	}
	return drawing.Floor{
		Title:  "Plan of the drilled floor",
		Length: 1000 * length, Width: 1000 * width, Margin: 1000 * margin, Hole: 1000 * hole,
		Holes: holes, Along: 1000 * p.Along, Apart: 1000 * p.Apart,
	}
}
