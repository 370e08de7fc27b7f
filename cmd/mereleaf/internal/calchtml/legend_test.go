package calchtml

import (
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
)

func TestLegend(t *testing.T) {
	p := New(calculators.NewSet(), fstest.MapFS{})
	for _, c := range []struct {
		tex   string
		check calculators.Check
		want  string
	}{
		{`V = l\,A_\mathrm{top}`, calculators.Explicit("V [m3] volume: l [m] length 1..2, A_top [m2] area at t_0 1..2", func(l, a float64) float64 { return l * a }),
			`<i>V</i> volume, m³; <i>l</i> length, m; <i>A</i><sub>top</sub> area at <i>t</i><sub>0</sub>, m²`},
		{`\mathrm{p}K_1 + \Delta t`, calculators.Explicit("share [1] sum: pK_1 [1] constant 1..2, Δt [K] step 1..2", func(k, t float64) float64 { return k + t }),
			`gives sum; p<i>K</i><sub>1</sub> constant; Δ<i>t</i> step, K`},
		{`\mathrm{CO_2} = b'`, calculators.Explicit("CO_2 [mg/L] gas: b' [m] width 1..2", func(b float64) float64 { return b }),
			`CO₂ gas, mg/L; <i>b</i>′ width, m`},
		{`R_\mathrm{low} = l,\quad R_\mathrm{high} = 2l`, calculators.Explicit("R [m] reach: l [m] length 1..2", func(float64) struct{ Low, Likely, High float64 } { panic("not called") }),
			`<i>R</i><sub>low</sub>, <i>R</i><sub>high</sub> reach, m; <i>l</i> length, m`},
	} {
		got, err := p.Legend(calculators.Formula{Name: "toy", TeX: c.tex, Check: c.check})
		if want := `<p class="symbols">` + c.want + "</p>\n"; err != nil || got != want {
			t.Errorf("%q, %v, want %q", got, err, want)
		}
	}
	if got, err := p.Legend(calculators.Formula{Name: "toy", TeX: `A -> B`, Check: calculators.Reaction()}); got != "" || err != nil {
		t.Errorf("a reaction has %q, %v", got, err)
	}
}
