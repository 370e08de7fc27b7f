package media

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/reftest"
)

func TestSurfaceOfSpheres(t *testing.T) {
	for _, r := range reftest.Read(t, "media-sphere-identity") {
		got := SphereSurface(r.Float("diameter [mm]")/1000, r.Float("void_fraction [1]"))
		reftest.Within(t, r, got, "specific_surface [m2/m3]", 1e-5) // whole numbers and two decimals mix: six digits
	}
	for _, r := range reftest.Read(t, "media-sphere-identity-check") {
		got := SphereSurface(r.Float("diameter [mm]")/1000, r.Float("void_fraction [1]"))
		reftest.Near(t, r, got, "identity_surface [m2/m3]")
	}
}

func TestSurfaceOfFibres(t *testing.T) {
	for _, r := range reftest.Read(t, "media-fibre-identity") {
		got := FibreSurface(r.Float("fibre_diameter [mm]")/1000, r.Float("void_fraction [1]"))
		reftest.Near(t, r, got, "specific_surface [m2/m3]")
	}
}

func TestSurfaceOfFoam(t *testing.T) {
	for _, r := range reftest.Read(t, "media-foam-geometry") {
		ppi, void := r.Float("pores_per_inch [/[in_i]]"), r.Float("void_fraction [1]")
		reftest.Near(t, r, 1000*FoamStrut(ppi, void), "strut [mm]")
		reftest.Near(t, r, FoamSurface(ppi, void), "specific_surface [m2/m3]")
	}
}

func TestWettingLoad(t *testing.T) {
	for _, r := range reftest.Read(t, "media-wetting-rate") {
		rate := r.Float("wetting_rate [m3/m/h]")
		if rate != WettingRate && rate != CoarseWettingRate {
			t.Errorf("%s: the wetting rate %v is neither of ours", r.Place, rate)
		}
		load := WettingLoad(r.Float("specific_surface [m2/m3]"), rate)
		reftest.Near(t, r, load, "min_load_daily [m3/m2/d]")
		reftest.Near(t, r, load/24, "min_load_hourly [m3/m2/h]")
	}
}

func TestWettedShareReachesAllAtTheWettingLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(40, 2000).Draw(t, "surface")
		full := WettingLoad(a, WettingRate)
		if w := WettedShare(full, a); w != (Range{1, 1, 1}) {
			t.Errorf("at the wetting load: %v", w)
		}
		below := WettedShare(0.999*full, a)
		if !(below.Low < below.Likely && below.Likely < below.High && below.High == 1) {
			t.Errorf("just below it: %v", below)
		}
		load := rapid.Float64Range(1, 2000).Draw(t, "load")
		if more, less := WettedShare(1.1*load, a), WettedShare(load, a); more.Low < less.Low || more.Likely < less.Likely {
			t.Errorf("more water wets less: %v, %v", more, less)
		}
	})
}

func TestQuotient(t *testing.T) {
	one := Range{0.5, 1, 2}
	if got := Quotient(one); math.Abs(got.Low-0.5)+math.Abs(got.Likely-1)+math.Abs(got.High-2) > 1e-12 {
		t.Errorf("a quotient by nothing: %v", got)
	}
	root := math.Pow(2, math.Sqrt2) // two factors of 2, independent
	if got := Quotient(one, one); math.Abs(got.High-root)+math.Abs(got.Low-1/root) > 1e-12 || got.Likely != 1 {
		t.Errorf("one by one: %v, want within %v", got, root)
	}
	if got := Quotient(Range{}, one); got != (Range{}) {
		t.Errorf("nothing divided: %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Range {
			likely := rapid.Float64Range(0.1, 10).Draw(t, name)
			return Range{likely * rapid.Float64Range(0.3, 1).Draw(t, name), likely, likely * rapid.Float64Range(1, 3).Draw(t, name)}
		}
		a, b := draw("a"), draw("b")
		q := Quotient(a, b)
		if q.Low > q.Likely || q.Likely > q.High || q.Low < a.Low/b.High*(1-1e-9) || q.High > a.High/b.Low*(1+1e-9) {
			t.Errorf("%v by %v is %v", a, b, q)
		}
		if twice := Quotient(a.Times(2), b); math.Abs(twice.High-2*q.High) > 1e-9*twice.High || twice.Likely != 2*q.Likely {
			t.Errorf("twice as much: %v, %v", twice, q)
		}
	})
}
