package pond_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/pond"
)

// numbers returns the numbers in a text, in order.
func numbers(text string) []float64 {
	var out []float64
	for _, s := range regexp.MustCompile(`\b\d+(\.\d+)?`).FindAllString(text, -1) {
		v, _ := strconv.ParseFloat(s, 64)
		out = append(out, v)
	}
	return out
}

func metres(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " m" }

// args makes arguments from names and values in turn.
func args(pairs ...string) []calculators.Arg {
	var out []calculators.Arg
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	return out
}

// measurements turns a row's measurements, given in words, into inputs.
func measurements(shape, text string) []calculators.Arg {
	n := numbers(text)
	given := func(shape string, names ...string) []calculators.Arg {
		out := args("shape", shape)
		for i, name := range names {
			out = append(out, calculators.Arg{Name: name, Value: metres(n[i])})
		}
		return out
	}
	switch shape {
	case "rectangle, vertical walls":
		return given("rectangle", "length", "width", "depth")
	case "ellipse, vertical walls":
		return given("ellipse", "length", "width", "depth")
	case "rectangle, sloping sides (prismoid)":
		return given("sloping-rectangle", "length", "width", "bottom-length", "bottom-width", "depth")
	case "half ellipsoid":
		return given("bowl", "length", "width", "depth")
	case "bowl (spherical cap)":
		return args("shape", "saucer", "diameter", metres(2*n[0]), "depth", metres(n[1]))
	case "cone frustum":
		return args("shape", "sloping-ellipse", "length", metres(2*n[0]), "width", metres(2*n[0]), "bottom-length", metres(2*n[1]), "bottom-width", metres(2*n[1]), "depth", metres(n[2]))
	case "rectangle with one shelf": // the figure gives the layers' thickness, the calculator takes floors
		return args("shape", "stepped", "layers", metres(n[0])+", "+metres(n[1])+", "+metres(n[2])+"; "+metres(n[3])+", "+metres(n[4])+", "+metres(n[2]+n[5]))
	case "irregular outline by Simpson":
		widths, step, depth := n[:len(n)-2], n[len(n)-2], n[len(n)-1]
		rows := make([]string, len(widths))
		for i, w := range widths {
			rows[i] = metres(float64(i)*step) + ", " + metres(w) + ", " + metres(depth)
		}
		return args("shape", "stations", "sections", strings.Join(rows, "; "))
	}
	return nil
}

func TestVolumesAgreeWithTheTable(t *testing.T) {
	for _, row := range reftest.Read(t, "hydraulics-pond-volume") {
		shape, text := row.Text("shape"), row.Text("measurements")
		if shape == "depth contours by Simpson" { // no shape of the calculator, but its rule
			n := numbers(text)
			reftest.Near(t, row, pond.Simpson(n[:len(n)-1], n[len(n)-1]), "volume [m3]")
			continue
		}
		given := measurements(shape, text)
		if given == nil {
			t.Errorf("%s: say in this test how to measure a %q", row.Place, shape)
			continue
		}
		_, r, err := pond.Volume().Evaluate(given)
		if err != nil {
			t.Errorf("%s: %v", row.Place, err)
			continue
		}
		v, _ := r.Value("volume")
		reftest.Near(t, row, v.Likely/1000, "volume [m3]")
	}
}

// The notes of two rows give the trapezoid rule's answer beside Simpson's.
func TestAreasAgreeWithTheTable(t *testing.T) {
	for _, row := range reftest.Read(t, "hydraulics-irregular-area") {
		n := numbers(row.Text("measurements"))
		values, step := n[:len(n)-1], n[len(n)-1]
		var got float64
		switch row.Text("method") {
		case "rectangle":
			got = pond.RectanglePrism(n[0], n[1], 1)
		case "Simpson":
			got = pond.Simpson(values, step)
		case "Simpson's first rule": // of half the waterplane, from 0 on both sides
			got = 2 * pond.Simpson(values, step)
		case "Simpson's second rule": // by threes, as the rule for an odd number of steps
			got = 2 * (pond.Simpson(values[:4], step) + pond.Simpson(values[3:], step))
		case "trapezoid":
			at := make([]float64, len(values))
			for i := range at {
				at[i] = float64(i) * step
			}
			got = pond.Trapezoid(at, values)
		default:
			t.Errorf("%s: unknown method %q", row.Place, row.Text("method"))
		}
		reftest.Near(t, row, got, "area [m2]")
	}
}

func TestSaltVolumesAgreeWithTheTable(t *testing.T) {
	share := regexp.MustCompile(`uncertain by (\d+) %`)
	for _, row := range reftest.Read(t, "hydraulics-salt-volume") {
		salt, before, after := row.Float("salt added [kg]"), row.Float("salinity before [g/L]"), row.Float("salinity after [g/L]")
		got := pond.SaltVolume(salt, before, after)
		if strings.Contains(row.Text("note"), "exact mass balance gives") {
			// The club's rule is rounded on the way; its note says by how much.
			reftest.Within(t, row, got, "pond volume [m3]", 0.002)
		} else {
			reftest.Near(t, row, got, "pond volume [m3]")
		}
		if m := share.FindStringSubmatch(row.Text("note")); m != nil {
			want, _ := strconv.ParseFloat(m[1], 64)
			if off := 100 * pond.RiseError(0.05) / (after - before); off < want-0.5 || off > want+0.5 {
				t.Errorf("%s: a meter error of 0.05 g/L is %v %% of the rise, the note says %v %%", row.Place, off, want)
			}
		}
	}
}

// The table's library fits the ocean; at no salt it lies up to 1.5 parts in a
// million above the formula recommended for pure water.
func TestWaterWeighsWhatTheTableSays(t *testing.T) {
	for _, row := range reftest.Read(t, "safety-water-mass") {
		halfDigit := row.Step("mass [kg]") / 2 / row.Float("mass [kg]")
		reftest.Within(t, row, pond.Mass(row.Float("volume [L]")/1000, row.Float("temperature [Cel]")), "mass [kg]", halfDigit+1.5e-6)
	}
}

// The table is of 1928, when a litre was the room of one kilogram of water and
// so 1.000028 dm3: its grams per cubic centimetre are grams per millilitre of
// that litre. It is good to one unit of its last digit.
func TestDensityAgreesWithAPrintedTable(t *testing.T) {
	const litreOf1901 = 1.000028
	for _, row := range reftest.Read(t, "water-density-viscosity-ict") {
		if c := row.Float("temperature [Cel]"); c <= 40 { // the formula's range
			reftest.Within(t, row, pond.Density(c)/1000*litreOf1901, "density [g/cm3]", 1e-5)
		}
	}
}
