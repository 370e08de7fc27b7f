package plumbing

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestPatternsHaveRoomAndAreTheWidest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Floor{rapid.Float64Range(0.05, 2).Draw(t, "length"), rapid.Float64Range(0.05, 2).Draw(t, "width")}
		n := float64(rapid.IntRange(2, 300).Draw(t, "count"))
		for _, c := range []struct {
			name  string
			pitch float64
			room  func(float64) float64
		}{{"square", f.SquarePitch(n), f.SquareCount}, {"staggered", f.StaggeredPitch(n), f.StaggeredCount}} {
			if c.room(c.pitch) < n {
				t.Errorf("%s: room for %v of %v holes at %v", c.name, c.room(c.pitch), n, c.pitch)
			}
			if c.room(c.pitch*1.0001) >= n {
				t.Errorf("%s: %v holes fit at more than %v too", c.name, n, c.pitch)
			}
		}
	})
}

// A pattern counted hole by hole: every position is laid out and kept if it
// lies on the floor.
func TestCountsAgreeWithHolesLaidOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Floor{rapid.Float64Range(0.05, 1).Draw(t, "length"), rapid.Float64Range(0.05, 1).Draw(t, "width")}
		p := rapid.Float64Range(0.02, 0.3).Draw(t, "pitch")
		square, staggered := 0.0, 0.0
		for row := range 100 {
			for column := range 100 {
				x, y := float64(column)*p, float64(row)*p
				if x <= f.Length && y <= f.Width {
					square++
				}
				x, y = (float64(column)+0.5*float64(row%2))*p, float64(row)*p*math.Sqrt(3)/2
				if x <= f.Length && y <= f.Width {
					staggered++
				}
			}
		}
		if got := f.SquareCount(p); got != square {
			t.Errorf("square: %v, laid out %v", got, square)
		}
		if got := f.StaggeredCount(p); got != staggered {
			t.Errorf("staggered: %v, laid out %v", got, staggered)
		}
	})
}

func TestOneHoleNeedsNoPitch(t *testing.T) {
	f := Floor{0.5, 0.3}
	if f.SquarePitch(1) != 0 || f.StaggeredPitch(1) != 0 {
		t.Error("one hole has a pitch")
	}
}
