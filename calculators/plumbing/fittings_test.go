package plumbing

import (
	"testing"

	"mereleaf/calculators/internal/reftest"
)

// findRow returns the row of a set that a coefficient names.
func findRow(t *testing.T, c Coefficient, set, column string) (reftest.Row, bool) {
	t.Helper()
	for _, r := range reftest.Read(t, set) {
		if r.Text(column) == c.Row && r.Text("source") == c.Source {
			return r, true
		}
	}
	return reftest.Row{}, false
}

func TestFittingsAreThePrintedOnes(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Fittings() {
		for _, c := range []Coefficient{f.Low, f.Likely, f.High} {
			r, ok := findRow(t, c, "hydraulics-fitting-k", "fitting")
			if !ok {
				t.Errorf("%s: no row %q of %s", f.Name, c.Row, c.Source)
				continue
			}
			reftest.Near(t, r, c.Value, "loss coefficient K [1]")
		}
		if k := f.K(); k.Low > k.Likely || k.Likely > k.High || seen[f.Name] {
			t.Errorf("%s: %v, or the name stands twice", f.Name, k)
		}
		seen[f.Name] = true
	}
	r, ok := findRow(t, Outlet(), "hydraulics-fitting-k", "fitting")
	if !ok {
		t.Fatal("the outlet has no row")
	}
	reftest.Near(t, r, Outlet().Value, "loss coefficient K [1]")
}

func TestWallsAreThePrintedOnes(t *testing.T) {
	for _, w := range Walls() {
		for _, c := range []Coefficient{w.Low, w.Likely, w.High} {
			if !wallRowHas(t, c) {
				t.Errorf("%s: no row %q of %s has %v mm", w.Name, c.Row, c.Source, c.Value)
			}
		}
		if w.Low.Value > w.Likely.Value || w.Likely.Value > w.High.Value {
			t.Errorf("%s: out of order", w.Name)
		}
	}
}

// wallRowHas reports whether the row that a roughness names holds it as its
// value or as an end of its range.
func wallRowHas(t *testing.T, c Coefficient) bool {
	t.Helper()
	if r, ok := findRow(t, c, "hydraulics-pipe-hose", "hose type"); ok {
		return r.Float("equivalent roughness [mm]") == c.Value
	}
	r, ok := findRow(t, c, "hydraulics-pipe-roughness", "material")
	if !ok {
		return false
	}
	for _, column := range []string{"roughness [mm]", "roughness low [mm]", "roughness high [mm]"} {
		if r.Has(column) && r.Float(column) == c.Value {
			return true
		}
	}
	return false
}

// The range of a fitting that is named by what turns or stops the water covers every
// figure printed for it: EPANET has 1.8 for a tee into its branch and threaded tees
// lose 2, a ball that lifts up to 70, where one figure for all non-return valves was
// 2.5 at most.
func TestARangeCoversEveryPrintedFigure(t *testing.T) {
	printed := map[string][]string{
		"tee-branch":  {"tee, flow through branch", "tee, branch flow, threaded", "tee, branch flow, flanged", "tee, used as elbow"},
		"check-valve": {"swing check valve, fully open", "swing check valve, forward flow", "check valve, swing", "check valve, swing, low", "check valve, swing, high", "flap-type non-return valve, weak spring"},
		"check-lift":  {"check valve, lift", "check valve, lift, low", "check valve, lift, high", "check valve, disk"},
		"check-ball":  {"check valve, ball", "check valve, ball, low", "check valve, ball, high"},
	}
	for _, f := range Fittings() {
		rows := 0
		for _, r := range reftest.Read(t, "hydraulics-fitting-k") {
			for _, name := range printed[f.Name] {
				if r.Text("fitting") != name {
					continue
				}
				rows++
				if k := r.Float("loss coefficient K [1]"); k < f.K().Low || k > f.K().High {
					t.Errorf("%s: %s of %s has %v, outside %v", f.Name, name, r.Text("source"), k, f.K())
				}
			}
		}
		if rows < len(printed[f.Name]) {
			t.Errorf("%s: %d rows of %d kinds", f.Name, rows, len(printed[f.Name]))
		}
		delete(printed, f.Name)
	}
	if len(printed) > 0 {
		t.Errorf("no fitting for %v", printed)
	}
}
