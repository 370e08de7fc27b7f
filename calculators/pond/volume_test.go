package pond_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/pond"
	"pgregory.net/rapid"
)

func reckon(t *testing.T, pairs ...string) calculators.Result {
	t.Helper()
	_, r, err := pond.Volume().Evaluate(args(pairs...))
	if err != nil {
		t.Fatalf("%v: %v", pairs, err)
	}
	return r
}

func value(t *testing.T, r calculators.Result, output string) calculators.Value {
	t.Helper()
	v, ok := r.Value(output)
	if !ok {
		t.Fatalf("there is no %s", output)
	}
	return v
}

// The range is what the keeper's error moves: by hand for an upright wall, the
// root of the sum of the squares of each measurement's relative error.
func TestRangeFollowsTheMeasuringError(t *testing.T) {
	v := value(t, reckon(t, "length", "4 m", "width", "2 m", "depth", "1 m", "measuring-error", "4 cm"), "volume")
	off := math.Sqrt(math.Pow(0.04/4, 2) + math.Pow(0.04/2, 2) + math.Pow(0.04/1, 2))
	if !near(v.Likely, 8000) || !near(v.High, 8000*(1+off)) || !near(v.Low, 8000*(1-off)) {
		t.Errorf("%+v, want ± %v", v, 8000*off)
	}
	v = value(t, reckon(t, "length", "4 m", "width", "2 m", "depth", "1 m", "measuring-error", "0 cm"), "volume")
	if v.Low != v.High {
		t.Errorf("without error there is a range: %+v", v)
	}
}

func TestDepthsThatScatterWidenTheRange(t *testing.T) {
	even := value(t, reckon(t, "shape", "soundings", "area", "8 m2", "depths", "1 m; 1 m; 1 m; 1 m", "measuring-error", "0 cm"), "volume")
	wild := value(t, reckon(t, "shape", "soundings", "area", "8 m2", "depths", "0.5 m; 1.5 m; 0.5 m; 1.5 m", "measuring-error", "0 cm"), "volume")
	if even.Low != even.High || !near(even.Likely, 8000) || !near(wild.Likely, 8000) {
		t.Errorf("%+v, %+v", even, wild)
	}
	// Standard deviation of the four is 1/sqrt(3) m, of their mean half of that.
	if want := 8000 / math.Sqrt(3) / 2; !near(wild.High-wild.Likely, want) {
		t.Errorf("± %v, want ± %v", wild.High-wild.Likely, want)
	}
}

func TestUnevenSectionsUseEndAreas(t *testing.T) {
	r := reckon(t, "shape", "stations", "sections", "0 m, 2 m, 1 m; 1 m, 2 m, 1 m; 3 m, 4 m, 1 m")
	if v := value(t, r, "volume"); !near(v.Likely, 8000) || len(r.Flags) != 1 {
		t.Errorf("%+v, flags %v", v, r.Flags)
	}
	r = reckon(t, "shape", "stations", "sections", "0 m, 2 m, 1 m; 1 m, 2 m, 1 m; 2 m, 2 m, 1 m")
	if v := value(t, r, "volume"); !near(v.Likely, 4000) || len(r.Flags) != 0 {
		t.Errorf("%+v, flags %v", v, r.Flags)
	}
}

func TestSaltRangeFollowsTheMeter(t *testing.T) {
	v := value(t, reckon(t, "shape", "salt", "salt", "10 kg", "before", "0 g/L", "after", "1 g/L", "meter-error", "0.1 g/L"), "volume")
	off := 0.1 * math.Sqrt2
	if !near(v.Likely, 10000) || !near(v.Low, 10000/(1+off)) || !near(v.High, 10000/(1-off)) {
		t.Errorf("%+v", v)
	}
}

func TestContradictionsAreRefused(t *testing.T) {
	for _, c := range []struct {
		given []calculators.Arg
		want  string
	}{
		{args("shape", "sloping-rectangle", "length", "3 m", "width", "2 m", "bottom-length", "4 m", "bottom-width", "1 m", "depth", "1 m"),
			"bottom-length: is 4 m, more than the length at the surface; expected at most 3 m; measure the surface at the water line"},
		{args("shape", "sloping-ellipse", "length", "3 m", "width", "2 m", "bottom-length", "2 m", "bottom-width", "2.5 m", "depth", "1 m"),
			"bottom-width: is 2.5 m, more than the width at the surface; expected at most 2 m; measure the surface at the water line"},
		{args("shape", "stepped", "layers", "3 m, 2 m, 0.4 m; 3.5 m, 2 m, 1 m"),
			"layers row 2, length: is 3.5 m, more than the 3 m of the layer above; expected at most 3 m; list the layers from the top, and measure the open water only"},
		{args("shape", "stepped", "layers", "3 m, 2 m, 1 m; 2 m, 1 m, 0.4 m"),
			"layers row 2, floor: lies 0.4 m below the water line, no deeper than the floor above it; expected more than 1 m; measure every floor from the water line"},
		{args("shape", "saucer", "diameter", "2 m", "depth", "1.2 m"),
			"depth: is 1.2 m, more than half the diameter of a saucer; expected at most 1 m; choose shape=bowl or shape=sloping-ellipse"},
		{args("shape", "stations", "sections", "0 m, 2 m, 1 m; 2 m, 2 m, 1 m"),
			"sections: has 2 rows; expected three rows or more; measure at both ends and in between"},
		{args("shape", "stations", "sections", "1 m, 2 m, 1 m; 2 m, 2 m, 1 m; 3 m, 2 m, 1 m"),
			"sections row 1, from-end: is 1 m; expected 0 m; begin at the end of the pond, with no width if it runs out to a point"},
		{args("shape", "stations", "sections", "0 m, 2 m, 1 m; 2 m, 2 m, 1 m; 1 m, 2 m, 1 m"),
			"sections row 3, from-end: is 1 m, no farther than the row before; expected more than 2 m; list the sections from one end to the other"},
		{args("shape", "stations", "sections", "0 m, 0 m, 1 m; 1 m, 0 m, 1 m; 2 m, 0 m, 1 m"),
			"sections: hold no water; expected a width and a depth in between; check the rows"},
		{args("shape", "soundings", "area", "8 m2", "depths", "1 m; 1 m; 1 m"),
			"depths: has 3 rows; expected four rows or more; spread the depths evenly over the whole surface"},
		{args("shape", "soundings", "area", "8 m2", "depths", "0 m; 0 m; 0 m; 0 m"),
			"depths: are all nothing; expected depths of water; measure from the water line to the floor"},
		{args("shape", "salt", "salt", "5 kg", "before", "0.5 g/L", "after", "0.5 g/L"),
			"after: is 0.5 g/L, no more than before; expected more than 0.5 g/L; let the salt dissolve and spread for a day, then read again"},
		{args("shape", "salt", "salt", "5 kg", "before", "0.5 g/L", "after", "0.6 g/L"),
			"after: shows a rise of 0.1 g/L, too near the error of the meter; expected a rise of at least 0.2121 g/L; use a better meter or other measurements; more salt only if fish and plants bear it"},
		{args("length", "10 cm", "width", "10 cm", "depth", "5 cm"),
			"measuring-error: is 5 cm, too much for so small a pond; expected an error that leaves an answer; measure more closely, or find the volume with a water meter"},
		{args("shape", "circle", "length", "3 m", "diameter", "3 m", "depth", "1 m"),
			"length: does not apply when shape is circle; leave it out, or choose shape=rectangle or ellipse or sloping-rectangle or sloping-ellipse or bowl"},
	} {
		v, err := pond.Volume().Reckon(c.given)
		if err == nil {
			t.Errorf("%v gives %v", c.given, v.Values)
			continue
		}
		if strings.ReplaceAll(err.Error(), "\u00a0", " ") != c.want {
			t.Errorf("%v\n got %s\nwant %s", c.given, err, c.want)
		}
	}
}

// The same pond in any unit is the same pond.
func TestUnitsDoNotMatter(t *testing.T) {
	metric := value(t, reckon(t, "length", "3.6576 m", "width", "2.1336 m", "depth", "137.16 cm"), "volume")
	feet := value(t, reckon(t, "length", "12 ft", "width", "7 feet", "depth", "4 ft 6 in"), "volume")
	if !near(metric.Likely, feet.Likely) || !near(metric.Low, feet.Low) {
		t.Errorf("%+v and %+v", metric, feet)
	}
}

// Whatever rows a reader types, the answer is a pond or a refusal.
func TestLayersAreAPondOrARefusal(t *testing.T) {
	metre := rapid.Custom(func(t *rapid.T) string {
		return strconv.FormatFloat(rapid.Float64Range(0.05, 10).Draw(t, "m"), 'f', 2, 64) + " m"
	})
	rapid.Check(t, func(t *rapid.T) {
		var rows []string
		for range rapid.IntRange(1, 4).Draw(t, "layers") {
			rows = append(rows, strings.Join(rapid.SliceOfN(metre, 3, 3).Draw(t, "row"), ", "))
		}
		_, r, err := pond.Volume().Evaluate(args("shape", "stepped", "layers", strings.Join(rows, ";")))
		if err != nil {
			return
		}
		v, surface, depth := r.Values[0], r.Values[1], r.Values[2]
		if !(0 < v.Low && v.Low < v.Likely && v.Likely < v.High) || surface.Low < 0 || !near(surface.Likely*depth.Likely, v.Likely/1000) {
			t.Fatalf("%v: %+v", rows, r.Values)
		}
	})
}

// A pond between two parabolas, upright walls 1 m deep, holds two thirds of its length
// times its width: found from any number of sections at equal steps, odd or even. The
// mean of neighbouring sections would lose a ninth of it with four sections.
func TestSectionsOfAnOddNumberOfSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(2, 30).Draw(t, "length")
		width := rapid.Float64Range(1, 10).Draw(t, "width")
		steps := rapid.IntRange(2, 9).Draw(t, "steps")
		var rows []string
		for i := range steps + 1 {
			part := float64(i) / float64(steps)
			rows = append(rows, metres(part*length)+", "+metres(4*width*part*(1-part))+", 1 m")
		}
		_, r, err := pond.Volume().Evaluate(args("shape", "stations", "sections", strings.Join(rows, "; "), "measuring-error", "0 cm"))
		if err != nil {
			t.Fatal(err)
		}
		want := 2000.0 / 3 * length * width
		if v, _ := r.Value("volume"); math.Abs(v.Likely/want-1) > 1e-9 {
			t.Errorf("%d steps: %v L, the parabolas hold %v", steps, v.Likely, want)
		}
	})
}
