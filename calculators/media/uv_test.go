package media

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
)

// The dose of a pass is what rings of water around the lamp get, added up over
// all of them: at radius x the light of P watts is spread over 2 pi x l and has
// come through x - r of water.
func TestDoseIsTheSumOverTheRings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		watts, flow := rapid.Float64Range(1, 200).Draw(t, "watts"), rapid.Float64Range(0.1, 50).Draw(t, "flow")
		sleeve, gap := rapid.Float64Range(0.008, 0.03).Draw(t, "sleeve"), rapid.Float64Range(0.005, 0.1).Draw(t, "gap")
		length, through := rapid.Float64Range(0.2, 2).Draw(t, "length"), rapid.Float64Range(0.3, 0.99).Draw(t, "transmittance")
		const rings = 2000
		sum, volume := 0.0, 0.0
		for i := range rings {
			x := sleeve + gap*(float64(i)+0.5)/rings
			ring := 2 * math.Pi * x * length * gap / rings
			sum += watts / (2 * math.Pi * x * length) * math.Pow(through, 100*(x-sleeve)) * ring
			volume += ring
		}
		want := sum / volume * volume / (flow / 3600) / 10 // mean W/m2 times seconds, in mJ/cm2
		if got := UVDose(watts, gap, UVMean(through, 100*gap), flow); math.Abs(got-want) > 1e-5*want {
			t.Errorf("%v, by rings %v", got, want)
		}
	})
}

func TestUVMeanInClearWater(t *testing.T) {
	if got := UVMean(1, 5); got != 1 {
		t.Errorf("%v", got)
	}
	if a, b := UVMean(1-1e-9, 1), UVMean(1-1e-12, 1); math.Abs(a-1) > 1e-8 || math.Abs(b-1) > 1e-8 {
		t.Errorf("%v, %v", a, b)
	}
}

func TestUVEfficiencyIsThePrintedOne(t *testing.T) {
	for _, r := range reftest.Read(t, "media-uv-practice") {
		if strings.HasPrefix(r.Text("item"), "germicidal output") {
			reftest.Near(t, r, UVEfficiency().Low, "value_min")
			reftest.Near(t, r, UVEfficiency().High, "value_max")
			return
		}
	}
	t.Error("no output of lamps")
}

func uvResult(t testing.TB, pairs ...string) calculators.Result {
	t.Helper()
	args := question(UVUnit())
	for i := 0; i < len(pairs); i += 2 {
		args = calculators.With(args, calculators.Arg{Name: pairs[i], Value: pairs[i+1]})
	}
	_, r, err := UVUnit().Evaluate(args)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Every mark but those of practice is a dose of the figures, of its source.
func TestUVMarksAreInTheFigures(t *testing.T) {
	rows := reftest.Read(t, "media-uv-dose-fish-algae")
	for _, m := range uvResult(t).Scale.Marks {
		found := false
		for _, r := range rows {
			for _, column := range []string{"dose_min [mJ/cm2]", "dose_max [mJ/cm2]"} {
				found = found || r.Text("source") == m.Source && r.Text("basis") == m.Basis && r.Has(column) && r.Float(column) == m.Value
			}
		}
		if !found {
			t.Errorf("%v of %q is not in the figures", m.Value, m.Source)
		}
	}
}

func TestUVLaws(t *testing.T) {
	text := func(v float64, unit string) string { return strconv.FormatFloat(v, 'f', -1, 64) + unit }
	rapid.Check(t, func(rt *rapid.T) {
		flow := rapid.Float64Range(500, 20000).Draw(rt, "flow")
		through := rapid.Float64Range(30, 98).Draw(rt, "transmittance")
		a := valueOf(t, uvResult(t, "flow", text(flow, " L/h"), "transmittance", text(through, " %")), "dose")
		b := valueOf(t, uvResult(t, "flow", text(2*flow, " L/h"), "transmittance", text(through, " %")), "dose")
		if math.Abs(a.Likely-2*b.Likely) > 1e-9*a.Likely {
			rt.Errorf("twice the flow: %v, %v", a, b)
		}
		if clear := valueOf(t, uvResult(t, "flow", text(flow, " L/h"), "transmittance", text(through+1, " %")), "dose"); clear.Likely <= a.Likely {
			rt.Errorf("clearer water: %v, %v", clear, a)
		}
	})
	electric, uvc := valueOf(t, uvResult(t), "dose"), valueOf(t, uvResult(t, "lamp", "uvc", "power", "12.24 W"), "dose")
	if math.Abs(electric.Likely-uvc.Likely) > 1e-9*uvc.Likely || uvc.High >= electric.High {
		t.Errorf("36 W electrical %v, its ultraviolet %v", electric, uvc)
	}
	if _, ok := uvResult(t, "volume", "").Value("passes"); ok {
		t.Error("passes without a pond")
	}
}

func TestUVAdviceOnBothSides(t *testing.T) {
	for _, c := range []struct {
		says    string
		yes, no []string
	}{
		{"Too little even", []string{"flow", "9000 L/h"}, []string{"flow", "3000 L/h"}},
		{"one to two weeks of many passes", []string{"flow", "3000 L/h"}, []string{"flow", "9000 L/h"}},
		{"Even an old lamp", []string{"flow", "50 L/h"}, []string{"flow", "200 L/h"}},
		{"comes near what kills", []string{"flow", "200 L/h"}, []string{"flow", "300 L/h"}},
	} {
		for i, pairs := range [][]string{c.yes, c.no} {
			if got := strings.Contains(strings.Join(uvResult(t, pairs...).Advice, "\n"), c.says); got != (i == 0) {
				t.Errorf("%v: %q %v", pairs, c.says, got)
			}
		}
	}
}
