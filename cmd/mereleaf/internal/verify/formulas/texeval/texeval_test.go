package texeval

import (
	"math"
	"strings"
	"testing"
)

func TestEval(t *testing.T) {
	env := Env{
		Values: map[string]Interval{"x": Point(3), "y": Point(-2), "C_in": Point(5), "K*": Point(7), "b'": Point(8), "ΔpH": Point(0.5), "pK_a": Point(9), "ΣK": Point(4), "CF": Point(0.9), "n": Point(4), "C_s,20": Point(11), "[CO_2]": Point(6), "L_∞": Point(55), "dS_1/dt": Point(12)},
		Lists:  map[string][]float64{"A": {1, 2, 3, 4, 5}},
		Funcs:  map[string]func(float64) float64{"q": func(v float64) float64 { return 2 * v }},
	}
	for _, c := range []struct {
		tex  string
		want float64
	}{
		{`1 + 2 \cdot 3`, 7}, {`2\,x\,y`, -12}, {`x/2 y`, -3}, {`-x^2`, -9}, {`(-x)^2`, 9}, {`2^{x+1}`, 16},
		{`\frac{x}{2}`, 1.5}, {`\tfrac12 x`, 1.5}, {`\tfrac1x`, 1. / 3}, {`\sqrt{x+1}`, 2}, {`\sqrt x`, math.Sqrt(3)},
		{`\ln x + 1`, math.Log(3) + 1}, {`\log_{10} x\,y`, math.Log10(3) * -2}, {`\log_{10}\left(10 x\right)`, math.Log10(30)},
		{`e^{-x}`, math.Exp(-3)}, {`\pi x`, 3 * math.Pi}, {`|y|`, 2}, {`|y - x|\,2`, 10}, {`\left|y\right|`, 2},
		{`C_\mathrm{in} + C_{\mathrm{in}}`, 10}, {`K^* + b'`, 15}, {`\Delta\mathrm{pH}`, 0.5}, {`\mathrm{p}K_a`, 9}, {`\sum K`, 4}, {`\mathrm{CF}\,x`, 2.7},
		{`C_{s,20}`, 11}, {`[\mathrm{CO_2}]`, 6}, {`L_{\infty}`, 55}, {`\dot S_1`, 12},
		{`\left\lceil \frac{x}{2} \right\rceil`, 2}, {`\left\lfloor\frac{x}{2}\right\rfloor`, 1},
		{`\min\!\left(x,\ 2\right)`, 2}, {`\max(x, 7)`, 7}, {`\min_i A_i`, 1}, {`\max_i (A_i x)`, 15},
		{`\sum_{i=0}^{n} A_i`, 15}, {`\sum_{i=0}^{n-1} \frac{A_i + A_{i+1}}{2}\,x`, 36}, {`A_0 + A_{n}`, 6}, {`4\sum_{i=1}^{n/2} A_{2i-1}`, 24},
		{`q(x) + 1`, 7}, {`x(1 + 1)`, 6}, {`x(1+1)^2`, 12}, {`4.5\ \mathrm{L}\cdot 2`, 9},
		{`\begin{cases} 1 & x \ge 4 \\ 2 & x \ge 3 \\ 0 & \text{else} \end{cases}`, 2},
		{`x 10^{-3}`, 0.003},
	} {
		all, err := Parse(c.tex, "q")
		if err != nil || len(all) != 1 {
			t.Errorf("%s: %d statements, %v", c.tex, len(all), err)
			continue
		}
		v, err := env.Eval(all[0])
		if err != nil || math.Abs(v.Low-c.want) > 1e-12*math.Abs(c.want) || v.Low != v.High {
			t.Errorf("%s = %v, want %v (%v)", c.tex, v, c.want, err)
		}
	}
}

func TestStatements(t *testing.T) {
	for tex, want := range map[string]string{
		`a = b,\quad c = \frac{1}{d}\ \mathrm{kPa}`: "a = b; c = 5(1 d)",
		`C(t) = t + 1`: "C = 2(t 1)",
		`\begin{aligned}\dot S_1 &= L - D & \dot X &= b\\ y &= 2\end{aligned}\qquad q = 3`: "dS_1/dt = 3(L D); dX/dt = b; y = 2; q = 3",
		`0.5\,F \le P \le 2\,F`:                         "4(0.5 F) ≤ P ≤ 4(2 F)",
		`c_{\mathrm{CaCO_3}} = 10\,n_{\mathrm{German}}`: "c_CaCO_3 = 4(10 n_German)",
	} {
		all, err := Parse(tex)
		if err != nil {
			t.Errorf("%s: %v", tex, err)
			continue
		}
		parts := make([]string, len(all))
		for i, n := range all {
			parts[i] = n.String()
		}
		if got := strings.Join(parts, "; "); got != want {
			t.Errorf("%s: %s, want %s", tex, got, want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for tex, want := range map[string]string{
		``: "no formula", `a +`: "ends", `\frac{1}`: "operand", `(a`: "closes", `\unknown`: "unknown", `a = )`: "operand",
		`a § b`: "no meaning", `\log x`: "base", `\min(a`: "closes", `a & b`: "expected", `\begin{matrix}`: "only cases",
	} {
		if _, err := Parse(tex); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", tex, err, want)
		}
	}
}

// A rounded number stands for all that round to it.
func TestIntervals(t *testing.T) {
	env := Env{Values: map[string]Interval{"x": Around(60, 0.05)}, Rounded: true}
	for tex, want := range map[string]Interval{
		`x \cdot \frac{84.01}{50.04}`: {59.95 * 84.005 / 50.045, 60.05 * 84.015 / 50.035},
		`x - x`:                       {-0.1, 0.1},
		`(x - 60)^2`:                  {0, 0.0025},
		`\frac{1}{x - 60}`:            {math.Inf(-1), math.Inf(1)},
		`7 x`:                         {419.65, 420.35},
	} {
		all, err := Parse(tex)
		if err != nil {
			t.Fatal(err)
		}
		v, err := env.Eval(all[0])
		if err != nil || !near(v.Low, want.Low) || !near(v.High, want.High) {
			t.Errorf("%s = %v, want %v (%v)", tex, v, want, err)
		}
	}
}

func near(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-9*(1+math.Abs(b)) }

// It catches a lost atom, a lost charge and a wrong count.
func TestBalance(t *testing.T) {
	for tex, want := range map[string]string{
		`2\,\mathrm{S_2O_3^{2-}} + \mathrm{Cl_2} \to \mathrm{S_4O_6^{2-}} + 2\,\mathrm{Cl^-}`:                "",
		`\mathrm{S_2O_3^{2-}} + 2\,\mathrm{O_2} + \mathrm{H_2O} \to 2\,\mathrm{SO_4^{2-}} + 2\,\mathrm{H^+}`: "",
		`\mathrm{S_2O_3^{2-}} + 3\,\mathrm{O_2} + \mathrm{H_2O} \to 2\,\mathrm{SO_4^{2-}} + 2\,\mathrm{H^+}`: "10 O on the left and 8",
		`2\,\mathrm{S_2O_3^{2-}} + \mathrm{Cl_2} \to \mathrm{S_4O_6^{2-}} + 2\,\mathrm{Cl}`:                  "-4 charge on the left and -2",
		`\mathrm{H_2} \to \mathrm{H_2O}`: "no O on the left",
		`\mathrm{H_2}`:                   `needs a \to`,
	} {
		err := Balance(tex)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", tex, err, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(`V = \frac{d}{6}\left(A_1 + 4A_m\right)`)
	f.Add(`\begin{cases} 1 & x \ge 4 \\ 0 & \text{else} \end{cases}`)
	f.Fuzz(func(t *testing.T, tex string) {
		all, err := Parse(tex)
		for _, n := range all {
			if err == nil && n.String() == "" {
				t.Errorf("%q has an empty statement", tex)
			}
			(&Env{}).Eval(n)
		}
	})
}
