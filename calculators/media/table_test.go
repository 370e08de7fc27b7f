package media

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/internal/reftest"
)

// holds reports whether a row has the value in a column whose heading begins
// with one of the given names.
func holds(t *testing.T, r reftest.Row, set string, value float64, names []string) bool {
	t.Helper()
	for _, column := range reftest.Columns(t, set) {
		for _, name := range names {
			text := strings.ReplaceAll(column, " ", "_")
			if v, err := strconv.ParseFloat(r.Text(column), 64); err == nil && strings.HasPrefix(text, name) && v == value {
				return true
			}
		}
	}
	return false
}

// is reports whether a row has all the cells that a figure names it by.
func is(t *testing.T, r reftest.Row, set string, f Figure) bool {
	t.Helper()
	var cells []string
	for _, column := range reftest.Columns(t, set) {
		cells = append(cells, r.Text(column))
	}
	for cell := range strings.SplitSeq(f.Row, "|") {
		if !slices.Contains(cells, cell) {
			return false
		}
	}
	return r.Text("source") == f.Source && r.Text("basis") == f.Basis
}

func checkFigure(t *testing.T, place string, f Figure, names ...string) {
	t.Helper()
	if f.Set == "" {
		return
	}
	for _, r := range reftest.Read(t, f.Set) {
		if is(t, r, f.Set, f) && holds(t, r, f.Set, f.Value, names) {
			return
		}
	}
	t.Errorf("%s: %v is not in %s, row %q, source %q, basis %q", place, f.Value, f.Set, f.Row, f.Source, f.Basis)
}

func TestMediaAreThePrintedOnes(t *testing.T) {
	for _, m := range Table() {
		for _, f := range []Figure{m.Surface.Low, m.Surface.High} {
			checkFigure(t, m.Name+" surface", f, "specific_surface")
		}
		for _, f := range []Figure{m.Void.Low, m.Void.High} {
			checkFigure(t, m.Name+" void", f, "void_fraction", "value_min")
		}
		for _, f := range []Figure{m.Dry.Low, m.Dry.High} {
			checkFigure(t, m.Name+" dry", f, "bulk_density")
		}
		for _, f := range []Figure{m.Wet.Low, m.Wet.High} {
			checkFigure(t, m.Name+" wet", f, "bulk_density")
		}
	}
}

func TestMediaAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range Table() {
		if seen[m.Name] || m.Label == "" {
			t.Errorf("%s stands twice or has no label", m.Name)
		}
		seen[m.Name] = true
		for name, p := range map[string]Property{"surface": m.Surface, "void": m.Void, "dry": m.Dry, "wet": m.Wet} {
			if !(0 < p.Low.Value && p.Low.Value <= p.High.Value) || p.Low.Basis == "" || p.High.Basis == "" {
				t.Errorf("%s: %s %v", m.Name, name, p)
			}
		}
		if m.Wet.Range().Likely <= m.Dry.Range().Likely || m.Void.High.Value >= 1 {
			t.Errorf("%s weighs less wet than dry, or is all void", m.Name)
		}
		// Water that drains off leaves at most the space full.
		if full := m.Dry.High.Value + 1000*m.Void.High.Value; m.Wet.High.Value > full {
			t.Errorf("%s: drained %v, full of water %v", m.Name, m.Wet.High.Value, full)
		}
	}
}

// The rows for round gravel were worked out from the size: the identity at their
// middle size must give a surface between their ends.
func TestGravelFollowsItsSize(t *testing.T) {
	for name, middle := range map[string]float64{"gravel-10": 0.010, "gravel-20": 0.020} {
		i := slices.IndexFunc(Table(), func(m Medium) bool { return m.Name == name })
		m := Table()[i]
		if a := SphereSurface(middle, m.Void.Range().Likely); a < m.Surface.Low.Value || a > m.Surface.High.Value {
			t.Errorf("%s: %v by size, %v", name, a, m.Surface.Range())
		}
	}
}

// Foam is the model with half more and half less; the published claim is beyond.
func TestFoamSpansTheModel(t *testing.T) {
	for _, r := range reftest.Read(t, "media-foam-geometry") {
		name := "foam-" + r.Text("pores_per_inch [/[in_i]]")
		i := slices.IndexFunc(Table(), func(m Medium) bool { return m.Name == name })
		if i < 0 {
			continue
		}
		a := r.Float("specific_surface [m2/m3]")
		p := Table()[i].Surface
		if a < p.Low.Value || a > p.High.Value || math.Min(a-p.Low.Value, p.High.Value-a) < 0.3*a*0.5 {
			t.Errorf("%s: %v is not well within %v to %v", r.Place, a, p.Low.Value, p.High.Value)
		}
	}
}

func TestTableIsFreshEachTime(t *testing.T) {
	a := Table()
	a[0].Label = "changed"
	if Table()[0].Label == "changed" {
		t.Error("a caller can change the table")
	}
}
