package markup_test

import (
	"strings"
	"testing"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

func TestMark(t *testing.T) {
	g := quantity.Grammar{Words: true, Nouns: func(word string) (string, bool) { return "hole", word == "holes" || word == "hole" }}
	for fragment, want := range map[string]string{
		"<p>It holds 9,100 L.</p>":         `<p>It holds <q 9100 L>9,100_L</q>.</p>`,
		"<p>18 to 25 °C &amp; more</p>":    `<p><q 18 25 Cel>18 to 25_°C</q> &amp; more</p>`,
		"<p>a fall of 3\u202f°C</p>":       `<p>a fall of <q 3 K>3` + "\u202f" + `°C</q></p>`,
		"<p>One K is</p>":                  `<p><q =1 K>One_K</q> is</p>`,
		"<p>84 holes of 6 mm</p>":          `<p><q 84 {hole}>84 holes</q> of <q *6 mm>6_mm</q></p>`,
		"<p>lava, about 20 mm</p>":         `<p>lava, about <q *20 mm>20_mm</q></p>`,
		"<p>a foam sheet 50 mm thick</p>":  `<p>a foam sheet <q *50 mm>50_mm</q> thick</p>`,
		"<p>560 × 360 × 270 mm inside</p>": `<p><q *560 360 270 mm>560 × 360 × 270_mm</q> inside</p>`,
		"<p>a fall of 80 mm over lava</p>": `<p>a fall of <q 80 mm>80_mm</q> over lava</p>`,
		"<table><thead><tr><th>Fish</th><th>Water (°C)</th><th>Feed (g)</th></tr></thead><tbody><tr><th>8</th><td>18–25</td><td>93 g</td></tr></tbody></table>":   `<table data-units="- Cel -"><thead><tr><th>Fish</th><th>Water (<q Cel>°C</q>)</th><th>Feed (<q g>g</q>)</th></tr></thead><tbody><tr><th>8</th><td>18–25</td><td><q 93 g>93_g</q></td></tr></tbody></table>`,
		"<table><thead><tr><th>Fish</th><th>Water (°C)</th></tr></thead><tbody><tr><th>8</th><td>18</td></tr><tr><th>9</th><td>5 boxes</td></tr></tbody></table>": `<table><thead><tr><th>Fish</th><th>Water (<q =Cel>°C</q>)</th></tr></thead><tbody><tr><th>8</th><td>18</td></tr><tr><th>9</th><td>5 boxes</td></tr></tbody></table>`,
		"<table><tbody><tr><th>Flow (L/h)</th><td>3,100</td><td>900</td></tr></tbody></table>":                                                                    `<table><tbody><tr data-unit="L/h"><th>Flow (<q L/h>L/h</q>)</th><td>3,100</td><td>900</td></tr></tbody></table>`,
		"<table><thead><tr><th>Salt (g)</th></tr></thead><tbody><tr><td>0.5</td></tr><tr><td>2</td></tr></tbody></table>":                                         `<table><thead><tr><th>Salt (<q =g>g</q>)</th></tr></thead><tbody><tr><td>0.5</td></tr><tr><td>2</td></tr></tbody></table>`,
		"<p>10 °C (50 °F) or</p>":                                         `<p><q 10 Cel>10_°C</q><or> (<q 50 [degF]>50_°F</q>)</or> or</p>`,
		"<dd>7 kg (5 kg to 9 kg), or 16 lb</dd>":                          `<dd><q 7 kg>7_kg</q> (<q 5 9 kg>5_kg to 9_kg</q>)<or>, or <q 16 [lb_av]>16_lb</q></or></dd>`,
		`<a data-q="79 g">79 g</a> (2.8 oz) a day`:                        `<a data-q="79 g">79_g</a><or> (<q 2.8 [oz_av]>2.8_oz</q>)</or> a day`,
		`<a data-q="3 K">3 °C</a> more`:                                   `<a data-q="3 K">3_°C</a> more`,
		`<p>“only 5 kg”, she said</p>`:                                    `<p>“only <q =5 kg>5_kg</q>”, she said</p>`,
		"<table><tr><th>Flow (L/h)</th></tr></table>":                     `<table><tr><th>Flow (<q L/h>L/h</q>)</th></tr></table>`,
		"<th>Hole (mm)</th>":                                              `<th>Hole (<q *mm>mm</q>)</th>`,
		`<th data-u="K">Rise (°C)</th>`:                                   `<th data-u="K">Rise (<q K>°C</q>)</th>`,
		"<code>5 kg</code><p class=\"tex\">5 kg</p>":                      "<code>5 kg</code><p class=\"tex\">5 kg</p>",
		"<p>a wind of 5 m/s, 52 L/min of air</p>":                         `<p>a wind of <q 5 m/s{wind}>5_m/s</q>, <q 52 L/min{air}>52_L/min</q> of air</p>`,
		"<option>25 mm pipe</option>":                                     `<option data-q="0,5,*25 mm">25 mm pipe</option>`,
		`<svg aria-label="at 5 L"><text>5 L</text></svg>`:                 `<svg aria-label="at 5 L" data-l="3,3,5 L"><text data-q="0,3,5 L">5 L</text></svg>`,
		"<svg><text>560</text><text>Lengths\u00a0in\u00a0mm</text></svg>": `<svg><text data-q="0,3,560 mm">560</text><text data-q="11,2,mm">Lengths_in_mm</text></svg>`,
	} {
		marked := markup.Mark(fragment, g)
		short := strings.NewReplacer(`<span data-or="">`, "<or>", "&#123;", "{", "&#125;", "}", "\u00a0", "_").Replace(marked)
		for strings.Contains(short, `<span data-q="`) {
			before, rest, _ := strings.Cut(short, `<span data-q="`)
			mark, rest, _ := strings.Cut(rest, `">`)
			text, rest, _ := strings.Cut(rest, "</span>")
			short = before + "<q " + mark + ">" + text + "</q>" + rest
		}
		short = strings.ReplaceAll(short, "</span>", "</or>")
		if short != want {
			t.Errorf("%s\n got %s\nwant %s", fragment, short, want)
		}
		if again := markup.Mark(marked, g); again != marked {
			t.Errorf("marked again %s\nis %s", marked, again)
		}
	}
}

// Whatever a fragment holds, its text stays but for the blanks before units.
func FuzzMark(f *testing.F) {
	for _, s := range []string{"<p>5 kg</p>", "<th>Flow (L/h)", "10 °C (50 °F", "&#39;5&#160;L", "<a data-q='5'>5 L", "<svg><text>5", "5 <b", "{5 L}", "\xff 5 L"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		markup.Mark(s, quantity.Grammar{Words: true})
	})
}
