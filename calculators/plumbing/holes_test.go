package plumbing

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/drawing"
)

// latticed is a floor, a count of holes and a pattern as rapid draws them.
func latticed(t *rapid.T) (f Floor, count int, staggered bool) {
	f = Floor{rapid.Float64Range(0.02, 2).Draw(t, "length"), rapid.Float64Range(0.02, 2).Draw(t, "width")}
	return f, rapid.IntRange(1, 150).Draw(t, "count"), rapid.Bool().Draw(t, "staggered")
}

func (f Floor) pitch(count int, staggered bool) float64 {
	if staggered {
		return f.StaggeredPitch(float64(count))
	}
	return f.SquarePitch(float64(count))
}

func TestHolesAreAsManyAsAskedAndKeepThePitchAndTheMargin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, count, staggered := latticed(t)
		pitch, p := f.pitch(count, staggered), LayOut(f, float64(count), staggered)
		holes := p.Holes(count)
		if len(holes) != count {
			t.Fatalf("%d holes, asked for %d", len(holes), count)
		}
		const rounding = 1e-8 // what plumbing's counts forgive, in pitches
		for i, a := range holes {
			if a.X < -rounding || a.X > f.Length+rounding || a.Y < -rounding || a.Y > f.Width+rounding {
				t.Errorf("hole %d at %v lies in the margin of %v", i, a, f)
			}
			for _, b := range holes[:i] {
				if d := distance(a, b); d < pitch*(1-rounding) || d < p.Nearest*(1-rounding) {
					t.Errorf("%v and %v are %v apart; pitch %v, nearest %v", a, b, d, pitch, p.Nearest)
				}
			}
		}
	})
}

// Of the whole lattice some two holes are as near as Nearest says, and its rows
// reach all four edges.
func TestLatticeFillsTheFloor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, count, staggered := latticed(t)
		p := LayOut(f, float64(count), staggered)
		room := 0
		for row := range p.rows {
			room += p.room(row)
		}
		nearest, low, high := math.Inf(1), drawing.Point{X: 9, Y: 9}, drawing.Point{}
		holes := p.Holes(room)
		for i, a := range holes {
			low = drawing.Point{X: min(low.X, a.X), Y: min(low.Y, a.Y)}
			high = drawing.Point{X: max(high.X, a.X), Y: max(high.Y, a.Y)}
			for _, b := range holes[:i] {
				nearest = min(nearest, distance(a, b))
			}
		}
		if count > 1 && math.Abs(nearest-p.Nearest) > 1e-9 {
			t.Errorf("nearest %v, says %v", nearest, p.Nearest)
		}
		// One column or row lies in the middle.
		if math.Abs(low.X+high.X-f.Length) > 1e-9 || math.Abs(low.Y+high.Y-f.Width) > 1e-9 {
			t.Errorf("from %v to %v on %v", low, high, f)
		}
		if len(holes) > 1 && max(high.X-low.X-f.Length, high.Y-low.Y-f.Width) < -1e-9 {
			t.Errorf("from %v to %v on %v", low, high, f)
		}
		want := f.SquareCount
		if staggered {
			want = f.StaggeredCount
		}
		if pitch := f.pitch(count, staggered); count > 1 && float64(room) > want(pitch) {
			t.Errorf("room for %d, the count says %v", room, want(pitch))
		}
		step := p.rows // a column; in a staggered pattern half of one
		if staggered && p.full > 1 {
			step = (p.rows + 1) / 2
		}
		if spare := room - count; spare >= step && p.full > 1 {
			t.Errorf("%d places for %d holes in %d rows", room, count, p.rows)
		}
	})
}

// A lattice looks the same after half a turn, or in a mirror; so do the holes,
// unless one too many had to be left out where no place is its own mirror.
func TestHolesAreSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, count, staggered := latticed(t)
		p := LayOut(f, float64(count), staggered)
		sites := p.sites()
		own := slices.ContainsFunc(sites, func(s site) bool { return sites[s.mirror].hole == s.hole })
		for i, s := range sites {
			if sites[s.mirror].mirror != i {
				t.Fatalf("the mirror of the mirror of %d is %d", i, sites[s.mirror].mirror)
			}
		}
		if excess := len(sites) - count; excess%2 == 1 && !own {
			return
		}
		holes := p.Holes(count)
		turned := func(h drawing.Point) drawing.Point { return drawing.Point{X: f.Length - h.X, Y: f.Width - h.Y} }
		across := func(h drawing.Point) drawing.Point { return drawing.Point{X: f.Length - h.X, Y: h.Y} }
		along := func(h drawing.Point) drawing.Point { return drawing.Point{X: h.X, Y: f.Width - h.Y} }
		if !same(holes, turned) && !same(holes, across) && !same(holes, along) {
			t.Errorf("%v has no symmetry", holes)
		}
	})
}

// same reports whether a mirror carries each hole onto one.
func same(holes []drawing.Point, mirror func(drawing.Point) drawing.Point) bool {
	for _, h := range holes {
		m := mirror(h)
		if !slices.ContainsFunc(holes, func(o drawing.Point) bool { return distance(o, m) < 1e-9 }) {
			return false
		}
	}
	return true
}
