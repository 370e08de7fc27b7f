package calchtml_test

import (
	"strings"
	"testing"

	"mereleaf/calculators/markup/markuptest"
)

func TestMath(t *testing.T) {
	for _, c := range []struct {
		tex      string
		elements []string // that must be in the MathML
		text     string   // all its text
	}{
		{`\frac{a}{b}`, []string{"mfrac"}, "ab"},
		{`2\tfrac{a}{b}c`, []string{"mstyle", "mfrac"}, "2abc"},
		{`\min(a, b)`, []string{"mi"}, "min(a,b)"},
		{`C_s^2`, []string{"msubsup"}, "Cs2"},
		{`\sqrt{2 g h}`, []string{"msqrt"}, "2gh"},
		{`\text{NH}_3`, []string{"msub", "mtext"}, "NH3"},
		{`a < b \& c`, []string{"mo"}, "a<b&c"},
		{`\left(\frac{1}{2}\right)`, []string{"mfrac", "mo"}, "(12)"},
		{`\sum_{i=1}^n m_i`, []string{"munderover"}, "∑i=1nmi"},
		{`\begin{cases} x & x > 0 \\ 0 & \text{else} \end{cases}`, []string{"mtable", "mtr", "mtd"}, "{xx>00else"},
		{`a \leftarrow b`, []string{"mo"}, "a←b"},
		{"a\n  + b", []string{"mo"}, "a+b"},
	} {
		for _, display := range []bool{false, true} {
			html, err := newPad().Math(c.tex, display)
			if err != nil {
				t.Errorf("%s: %v", c.tex, err)
				continue
			}
			all := markuptest.Elements(t, html)
			m := markuptest.Find(all, "math", "")[0]
			if m.Text != c.text || m.Attrs["alttext"] != strings.Join(strings.Fields(c.tex), " ") {
				t.Errorf("%s reads %q with the alternative %q; want %q", c.tex, m.Text, m.Attrs["alttext"], c.text)
			}
			if (m.Attrs["display"] == "block") != display {
				t.Errorf("%s, display %v, has display=%q", c.tex, display, m.Attrs["display"])
			}
			for _, e := range all {
				if e.Name == "mi" && e.Attrs["lspace"]+e.Attrs["movablelimits"] != "" || e.Name == "mfrac" && e.Attrs["displaystyle"] != "" {
					t.Errorf("%s has <%s %v>, which MathML 3 does not know", c.tex, e.Name, e.Attrs)
				}
			}
			for _, e := range c.elements {
				if len(markuptest.Find(all, e, "")) == 0 {
					t.Errorf("%s has no <%s>", c.tex, e)
				}
			}
		}
	}
}

func TestMathRefuses(t *testing.T) {
	for tex, says := range map[string]string{
		"":                  "is empty",
		" \n":               "is empty",
		`\frac{1`:           "{ without its }",
		`1}`:                "} without its {",
		`\left( x`:          `\left`,
		`\begin{cases} x`:   `\begin`,
		`\nosuchcommand{x}`: "nosuchcommand",
		`^`:                 "nothing",
	} {
		html, err := newPad().Math(tex, true)
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q gives %q and the error %v; want one line that says %q", tex, html, err, says)
		}
	}
}

func FuzzMath(f *testing.F) {
	for _, s := range []string{`\frac{a}{b}`, `<b>&amp;`, `\text{"quoted" <i>}`, `{}`, `\`, "a\x00b", `_^`, `\frac`, `\left.\right|`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, tex string) {
		if html, err := newPad().Math(tex, false); err == nil {
			markuptest.Elements(t, html)
		}
	})
}
