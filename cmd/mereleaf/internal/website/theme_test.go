package website

import (
	"encoding/csv"
	"io/fs"
	"maps"
	"math"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// project is the folder with theme/, content/ and testdata/.
func project() fs.FS { return os.DirFS("../../../..") }

// figureRows reads a set of reference figures as rows of named cells.
func figureRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := project().Open("testdata/reference/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, head := range all[0] {
			row[head] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// styles returns the theme's style sheets, joined.
func styles(t *testing.T) string {
	t.Helper()
	files, err := fs.Glob(project(), "theme/style/*.css")
	if err != nil || len(files) == 0 {
		t.Fatal("no style sheets: ", err)
	}
	var all strings.Builder
	for _, file := range files {
		text, err := fs.ReadFile(project(), file)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	return all.String()
}

var (
	rootRule   = regexp.MustCompile(`(?s)(@media[^{]*\{\s*)?:root\s*\{([^}]*)\}`)
	colourRule = regexp.MustCompile(`--([a-z0-9-]+):\s*(#[0-9a-fA-F]{3,6})\b`)
)

// palette returns the custom properties that are colours, as they are under
// the given media condition; "" for none.
func palette(css, condition string) map[string]string {
	colours := map[string]string{}
	for _, rule := range rootRule.FindAllStringSubmatch(css, -1) {
		if rule[1] != "" && (condition == "" || !strings.Contains(rule[1], condition)) {
			continue
		}
		for _, c := range colourRule.FindAllStringSubmatch(rule[2], -1) {
			colours[c[1]] = c[2]
		}
	}
	return colours
}

// luminance is the relative luminance of WCAG 2.2 for a colour "#rrggbb" or
// "#rgb".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	h := strings.TrimPrefix(hex, "#")
	if len(h) == 3 {
		h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
	}
	rgb, err := strconv.ParseUint(h, 16, 32)
	if err != nil || len(h) != 6 {
		t.Fatalf("%q is no colour", hex)
	}
	linear := func(c uint64) float64 {
		x := float64(c&0xff) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(rgb>>16) + 0.7152*linear(rgb>>8) + 0.0722*linear(rgb)
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// The ratio that the other tests rely on agrees with published computations to
// the three digits behind the point that they print.
func TestContrastAgreesWithFigures(t *testing.T) {
	for _, row := range figureRows(t, "safety-colour-contrast") {
		want, err := strconv.ParseFloat(row["contrast [1]"], 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := contrast(t, row["text"], row["background"]); math.Abs(got-want) > 0.001 {
			t.Errorf("%s on %s is %.4f, want %.3f by %s, %s", row["text"], row["background"], got, want, row["source"], row["locator"])
		}
	}
}

// Every pair of text and ground reaches the level AA of WCAG 2.2 (1.4.3) in
// both schemes and on paper.
func TestContrastOfTheTheme(t *testing.T) {
	const least = 4.5
	css := styles(t)
	for _, scheme := range []string{"", "prefers-color-scheme: dark", "print"} {
		c := palette(css, scheme)
		check := func(text, ground string) {
			t.Helper()
			if c[text] == "" || c[ground] == "" {
				t.Errorf("%q: --%s or --%s is no colour", scheme, text, ground)
				return
			}
			if got := contrast(t, c[text], c[ground]); got < least {
				t.Errorf("%q: --%s %s on --%s %s has contrast %.2f, want %.1f", scheme, text, c[text], ground, c[ground], got, least)
			}
		}
		texts := []string{"ink", "soft"}
		for i := range hues {
			texts = append(texts, "hue-"+strconv.Itoa(i+1))
		}
		for _, text := range texts {
			check(text, "paper") // and paper on it, in a notch and a leaf's reference
			check(text, "field")
		}
		for _, panel := range []string{"danger", "warning", "caution", "notice"} {
			check("on-"+panel, panel)
		}
	}
}

// The panels wear the published colours, and nothing else does.
func TestSignalColours(t *testing.T) {
	published := map[string]string{}
	for _, row := range figureRows(t, "safety-colours") {
		if row["rgb_hex"] != "" {
			published[row["standard"]+" "+row["colour"]] = strings.ToLower(row["rgb_hex"])
		}
	}
	css := styles(t)
	c := palette(css, "")
	for panel, colour := range map[string]string{
		"danger": "ISO 3864-4 signal red", "warning": "ISO 3864-2 orange",
		"caution": "ISO 3864-4 signal yellow", "notice": "ISO 3864-4 signal blue",
	} {
		if published[colour] == "" || c[panel] != published[colour] {
			t.Errorf("--%s is %s, want %s, %s", panel, c[panel], published[colour], colour)
		}
		for name, value := range c {
			if name != panel && value == c[panel] {
				t.Errorf("--%s wears the colour of --%s", name, panel)
			}
		}
	}
	if n := len(regexp.MustCompile(`--(danger|warning|caution|notice):`).FindAllString(css, -1)); n != 4 {
		t.Errorf("the panels' colours are set %d times, want once each: they are the same in both schemes", n)
	}
}

// The colour that a phone paints around the page is that of the paper.
func TestThemeColourIsThePaper(t *testing.T) {
	text, err := fs.ReadFile(project(), bundle.TemplatesFolder+"/leaf.html")
	if err != nil {
		t.Fatal(err)
	}
	css := styles(t)
	for scheme, condition := range map[string]string{"light": "", "dark": "prefers-color-scheme: dark"} {
		want := `content="` + palette(css, condition)["paper"] + `" media="(prefers-color-scheme: ` + scheme + `)"`
		if !strings.Contains(string(text), want) {
			t.Errorf("leaf.html lacks %s", want)
		}
	}
}

// Style sheets ask for nothing: no fonts, no images, no other host.
func TestStylesAskForNothing(t *testing.T) {
	css := styles(t)
	for _, word := range []string{"url(", "@font-face", "http:", "https:"} {
		if strings.Contains(css, word) {
			t.Errorf("a style sheet has %q", word)
		}
	}
}

// Every sheet is imported, so that none is edited in vain.
func TestEverySheetIsImported(t *testing.T) {
	files, err := fs.Glob(project(), "theme/style/*.css")
	if err != nil {
		t.Fatal(err)
	}
	entries := []string{bundle.StyleFile, bundle.PaperStyleFile, bundle.LogStyleFile}
	entry := ""
	for _, name := range entries {
		text, err := fs.ReadFile(project(), name)
		if err != nil {
			t.Fatal(err)
		}
		entry += string(text)
	}
	for _, file := range files {
		if !slices.Contains(entries, file) && !strings.Contains(entry, `"./`+path.Base(file)+`"`) {
			t.Errorf("%s is imported by none of %s", file, entries)
		}
	}
}

// theme returns the theme's own assets.
func theme(t testing.TB) bundle.Assets {
	t.Helper()
	a, faults := bundle.Theme("../../../..")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return a
}

func TestStyleSheetIsLight(t *testing.T) {
	const most = 8000 // bytes: a fifth of what a page may weigh
	a := theme(t)
	if n := bundle.Gzipped(a.Files[a.CSS]); n > most {
		t.Errorf("the style sheet is %d bytes compressed, want at most %d", n, most)
	}
	if len(a.Templates) == 0 || !slices.Contains(slices.Collect(maps.Keys(a.Templates)), "leaf.html") {
		t.Error("no template leaf.html")
	}
}
