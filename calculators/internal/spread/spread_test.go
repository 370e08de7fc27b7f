package spread

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b, share float64) bool { return math.Abs(a-b) <= share*math.Max(math.Abs(a), math.Abs(b)) }

// JCGM 100:2008, 5.1.2: shifts of a sum add as their squares.
func TestSumsAddAsSquares(t *testing.T) {
	parts := []Part{{7, 10, 14}, {-1, 0, 3}, {5, 5, 5}}
	got := Of(3, func(s []float64) float64 {
		sum := 0.0
		for i, p := range parts[1:] {
			sum += p.At(s[i+1])
		}
		// The first one in a straight line, as the guide has it.
		return sum + Part{7 - 20, 10 - 20, 14 - 20}.At(s[0])
	})
	if want := (Part{-5 - math.Hypot(3, 1), -5, -5 + math.Hypot(4, 3)}); !near(got.Low, want.Low, 1e-9) || got.Likely != want.Likely || !near(got.High, want.High, 1e-9) {
		t.Errorf("%v, want %v", got, want)
	}
}

// 5.1.6 of the guide: relative shifts of a product of powers add as their squares,
// here in the logarithm, which is exact for factors.
func TestProductsAddInTheLogarithm(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := rapid.Float64Range(1, 6).Draw(rt, "a"), rapid.Float64Range(1, 6).Draw(rt, "b")
		power := rapid.Float64Range(-2, 2).Draw(rt, "power")
		got := Of(2, func(s []float64) float64 {
			return Part{3 / a, 3, 3 * a}.At(s[0]) * math.Pow(Part{2 / b, 2, 2 * b}.At(s[1]), power)
		})
		factor := math.Exp(math.Hypot(math.Log(a), power*math.Log(b)))
		if likely := 3 * math.Pow(2, power); !near(got.Low, likely/factor, 1e-6) || !near(got.High, likely*factor, 1e-6) {
			rt.Errorf("%v, want %v times or by %v", got, likely, factor)
		}
	})
}

// models are results of several shapes, each of three parts.
var models = map[string]func(x, y, z float64) float64{
	"sum":             func(x, y, z float64) float64 { return x + y + z },
	"product":         func(x, y, z float64) float64 { return x * y * z },
	"quotient":        func(x, y, z float64) float64 { return x / (y + z) },
	"what is left":    func(x, y, z float64) float64 { return 3*x - y*z },
	"decay":           func(x, y, z float64) float64 { return x * math.Exp(-y*z/4) },
	"root of squares": func(x, y, z float64) float64 { return math.Sqrt(x*x + y*y + z*z) },
}

// beyond draws the parts at random, so that one in forty is beyond each end, and
// returns which share of the results lies beyond either end of what Of found.
func beyond(n int, f func([]float64) float64) (below, above float64) {
	const (
		draws    = 20000
		oneSided = 1.959964 // standard deviations, beyond which one in forty lies on each side
	)
	got, chance := Of(n, f), rand.New(rand.NewPCG(1, 2))
	shifts := make([]float64, n)
	for range draws {
		for i := range shifts {
			shifts[i] = chance.NormFloat64() / oneSided
		}
		switch v := f(shifts); {
		case v < got.Low:
			below += 1.0 / draws
		case v > got.High:
			above += 1.0 / draws
		}
	}
	return below, above
}

// An independent way. A curved result is not quite that of its design point: with
// parts known to a factor of up to two each way, an end is up to three times as likely
// or unlikely to be passed as those of its parts, as the package says.
func TestEndsAreAsUnlikelyAsThoseOfTheParts(t *testing.T) {
	for name, model := range models {
		rapid.Check(t, func(rt *rapid.T) {
			parts := make([]Part, 3)
			for i := range parts {
				likely, factor := rapid.Float64Range(0.5, 3).Draw(rt, "likely"), rapid.Float64Range(1.1, 2).Draw(rt, "factor")
				parts[i] = Part{likely / factor, likely, likely * factor}
			}
			below, above := beyond(3, func(s []float64) float64 { return model(parts[0].At(s[0]), parts[1].At(s[1]), parts[2].At(s[2])) })
			if math.Min(below, above) < 1.0/3/40 || math.Max(below, above) > 3.0/40 {
				rt.Errorf("%s of %v: %.3f below and %.3f above", name, parts, below, above)
			}
		})
	}
}

// Where each part reaches farther one way, the sum does so too, and its ends stay
// within twice as unlikely and half as unlikely.
func TestLopsidedSums(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		parts := make([]Part, 4)
		for i := range parts {
			parts[i] = Part{-rapid.Float64Range(1, 3).Draw(rt, "down"), 0, rapid.Float64Range(1, 3).Draw(rt, "up")}
		}
		below, above := beyond(4, func(s []float64) float64 {
			return parts[0].At(s[0]) + parts[1].At(s[1]) + parts[2].At(s[2]) + parts[3].At(s[3])
		})
		if math.Min(below, above) < 1.0/80 || math.Max(below, above) > 1.0/20 {
			rt.Errorf("%v: %.3f below and %.3f above", parts, below, above)
		}
	})
}

// The range is never wider than all worst ends together, nor narrower than one alone.
func TestBetweenOneEndAndAll(t *testing.T) {
	for name, model := range models {
		rapid.Check(t, func(rt *rapid.T) {
			parts := make([]Part, 3)
			for i := range parts {
				likely := rapid.Float64Range(0.5, 3).Draw(rt, "likely")
				parts[i] = Part{likely * rapid.Float64Range(0.2, 1).Draw(rt, "down"), likely, likely * rapid.Float64Range(1, 5).Draw(rt, "up")}
			}
			f := func(s []float64) float64 { return model(parts[0].At(s[0]), parts[1].At(s[1]), parts[2].At(s[2])) }
			got, all, alone := Of(3, f), Part{math.Inf(1), 0, math.Inf(-1)}, Part{math.Inf(1), 0, math.Inf(-1)}
			for corner := range 27 {
				s := []float64{float64(corner%3 - 1), float64(corner/3%3 - 1), float64(corner/9 - 1)}
				v := f(s)
				all.Low, all.High = math.Min(all.Low, v), math.Max(all.High, v)
				if math.Abs(s[0])+math.Abs(s[1])+math.Abs(s[2]) <= 1 {
					alone.Low, alone.High = math.Min(alone.Low, v), math.Max(alone.High, v)
				}
			}
			slack := 1e-9 * (math.Abs(all.Low) + math.Abs(all.High))
			if got.Low < all.Low-slack || got.High > all.High+slack || got.Low > alone.Low+slack || got.High < alone.High-slack {
				rt.Errorf("%s of %v: %v, all ends %v, one alone %v", name, parts, got, all, alone)
			}
		})
	}
}

func TestPartsWithoutEffectOrEnd(t *testing.T) {
	if got := Of(2, func(s []float64) float64 { return 4 }); got != (Part{4, 4, 4}) {
		t.Errorf("a constant has the range %v", got)
	}
	if got := Of(0, func([]float64) float64 { return 4 }); got != (Part{4, 4, 4}) {
		t.Errorf("of nothing %v", got)
	}
	never := Of(2, func(s []float64) float64 { return 1 / math.Max(0, 1-s[0]+s[1]/4) })
	if !math.IsInf(never.High, 1) || !(never.Low > 0.4 && never.Low < 0.5) {
		t.Errorf("one end never comes: %v", never)
	}
	if got := Of(1, func(s []float64) float64 { return math.Sqrt(s[0]) }); got.Low != 0 || got.High != 1 {
		t.Errorf("not a number on one side: %v", got)
	}
	peak := Of(1, func(s []float64) float64 { return 5 - s[0]*s[0] })
	if peak != (Part{4, 5, 5}) {
		t.Errorf("a peak: %v", peak)
	}
}

func TestWidestIsWhatNarrowsMost(t *testing.T) {
	parts := []Part{{9, 10, 11}, {1, 10, 100}, {5, 10, 20}}
	part, left := Widest(3, func(s []float64) float64 { return parts[0].At(s[0]) * parts[1].At(s[1]) * parts[2].At(s[2]) })
	if part != 1 || !near(left.High, 1000*math.Exp(math.Hypot(math.Log(1.1), math.Log(2))), 1e-6) {
		t.Errorf("part %d leaves %v", part, left)
	}
	if part, _ := Widest(2, func(s []float64) float64 { return s[0] + 3*s[1] }); part != 1 {
		t.Error("a range from below 0 is not compared by its width")
	}
}

func TestBetweenTheEnds(t *testing.T) {
	for _, c := range []struct {
		p     Part
		shift float64
		want  float64
	}{
		{Part{1, 4, 9}, 0, 4}, {Part{1, 4, 9}, 1, 9}, {Part{1, 4, 9}, -1, 1},
		{Part{1, 4, 9}, 0.5, 6}, {Part{1, 4, 9}, -0.5, 2},
		{Part{0, 4, 9}, -0.5, 2}, {Part{0, 4, 9}, 0.5, 6.5}, {Part{0, 0, 0}, 0.5, 0},
	} {
		if got := c.p.At(c.shift); !near(got, c.want, 1e-12) {
			t.Errorf("%v at %v: %v, want %v", c.p, c.shift, got, c.want)
		}
	}
}
