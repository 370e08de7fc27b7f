package units

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// unmarked is the selector of what package markup leaves unmarked, and of what the
// reader has typed.
const unmarked = "code, pre, math, .tex, .formula, .working, .notes, .agreed, .origins, .cite, .source, .sources, .set, .leaves i + small, h1:has(> code) + .first, " +
	".kept .value, .offer, .readings, data, select.unit, .unit, [data-calculator=units], .fixed, script, style, textarea, .measures, [data-q^='='], [data-q*=\",=\"], .turned, [data-or][hidden], .also"

// throughPages puts the text of every page, one after the other, into the open
// leaf, where the script meets it as it meets a new answer, and reports on each in
// each system.
const throughPages = `(async (paths, base, stay, systems) => {
	const main = document.querySelector("main");
	const found = [];
	for (const path of paths) {
		const page = new DOMParser().parseFromString(await (await fetch(base + path)).text(), "text/html");
		main.replaceChildren(...page.querySelector("main").childNodes);
		for (const system of systems) {
			document.documentElement.dataset.measure = system;
			await null;
			const walker = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
			const texts = [];
			const whole = [];
			while (walker.nextNode()) {
				const e = walker.currentNode.parentElement;
				if (e.closest("script, style, code, math, .tex")) continue;
				whole.push(walker.currentNode.data);
				if (!e.closest(stay) && !e.closest(".turned") && /\d/.test(walker.currentNode.data)) texts.push(walker.currentNode.data);
			}
			for (const e of main.querySelectorAll("[aria-label], [placeholder], [data-head]")) whole.push(e.getAttribute("aria-label") ?? "", e.getAttribute("data-head") ?? "");
			const words = whole.join("\u0001");
			found.push({
				path,
				system,
				gallons: [...words.matchAll(/\b(?:m?gal(?:lon)?s?|gp[hm])\b/gi)].map((m) => words.slice(Math.max(0, m.index - 60), m.index + 60)),
				texts,
				turned: [...main.querySelectorAll(".turned")].length,
				left: [...main.querySelectorAll("[data-left]")].map((t) => t.dataset.left),
			});
		}
	}
	return found;
})`

type passed struct {
	Path    string       `json:"path"`
	System  units.System `json:"system"`
	Gallons []string     `json:"gallons"`
	Texts   []string     `json:"texts"`
	Turned  int          `json:"turned"`
	Left    []string     `json:"left"`
}

func goThrough(tb *browsertest.Tab, pages []string) []passed {
	tb.T.Helper()
	var list []string
	for _, p := range pages {
		if p != paths.Print { // these pages again
			list = append(list, strconv.Quote(p))
		}
	}
	return browsertest.Evaluate[[]passed](tb, fmt.Sprintf("%s([%s], %q, %q, [%q, %q])", throughPages, strings.Join(list, ","), tb.Address, unmarked, units.US, units.Imperial))
}

var (
	whichGallon = regexp.MustCompile(`(?i)(?:\b(?:us|imperial)[\x01\s\x{a0}]+(?:or[\s\x{a0}]+\d+[\s\x{a0}]+US[\s\x{a0}]+)?|\(US\)[^\x01]*)gal(?:lon)?s?\b|gal(?:lon)?s?[\s\x{a0}]+(?:\((?:US|imp)\)|US|imperial)`)
	// Where the word stands for itself, or in what somebody said.
	sayGallon = regexp.MustCompile(`(?i)which gallon|a gallon is one thing|kinds of gallon|two gallons|per gallon|(?:only|refuse) "gal|both gallons|a gallon (?:that|without|always)|gallons? (?:does not|that does not)|^gallons?$|for 2,000 gallons"|1,000 gallons gives|thousand gallons gives|hundred gallons makes|in 100 gallons|Gallons,? `)
)

// TestUnitSwitchOverEveryPage goes through all pages in US and in imperial: no
// gallon is left bare, and no quantity that the system has another unit for.
func TestUnitSwitchOverEveryPage(t *testing.T) {
	list := browser.Pages(t)
	tb := browser.Open(t)
	tb.Visit("filtration/sizing.html")
	tb.Measure(units.US)
	metric := map[units.System]*regexp.Regexp{units.US: leftover(units.US), units.Imperial: leftover(units.Imperial)}
	turned := map[units.System]int{}
	for _, page := range goThrough(tb, list) {
		turned[page.System] += page.Turned
		where := page.Path + " in " + string(page.System)
		for _, around := range page.Gallons {
			if !whichGallon.MatchString(around) && !sayGallon.MatchString(around) {
				t.Errorf("%s: a bare gallon: %q", where, around)
			}
		}
		if page.Path == paths.Calculator("units") {
			continue // compares units
		}
		for _, text := range page.Texts {
			for _, m := range metric[page.System].FindAllStringIndex(text, -1) {
				if !mayStay(text, m[0], m[1]) {
					t.Errorf("%s: as written: %q in %q", where, text[m[0]:m[1]], text[max(0, m[0]-30):min(len(text), m[1]+30)])
				}
			}
		}
		for _, left := range page.Left {
			t.Errorf("%s: a table is left as written, because its column %q holds more than numbers", where, left)
		}
	}
	for system, n := range turned {
		t.Logf("%s: %d quantities turned", system, n)
		if n < 4000 {
			t.Errorf("%s: only %d quantities turned", system, n)
		}
	}
}

// leftover finds numbers with a unit that a system has another for.
func leftover(system units.System) *regexp.Regexp {
	var names []string
	for _, turn := range units.Turns() {
		to := turn.US
		if system == units.Imperial {
			to = turn.Imperial
		}
		if to != "" && turn.Code != "t" && turn.Code != "N" {
			names = append(names, strings.ReplaceAll(regexp.QuoteMeta(units.Symbol(turn.Code)), " ", `[ \x{a0}]`))
		}
	}
	return regexp.MustCompile(`\d[ \x{a0}](?:` + strings.Join(names, "|") + `)(?:[ .,;:)\x{a0}]|$)`)
}

var (
	small = regexp.MustCompile(`^\d g`)
	// The same quantity stands before it in a unit of the system.
	beside = regexp.MustCompile(`(?:^or |, or |(?:°[CF]|in|lb)(?: is | \(| \([\d.]+ × ))[−-]?[\d.,]*$`)
	row    = regexp.MustCompile(`[\d.]+ [\d.]+ [\d.]+ [\d.]+ m `)
)

// mayStay reports what stays for one of the reasons of package units: words that
// compare units, what somebody said, what stands beside the reader's own unit,
// rows of numbers, and a few grams.
func mayStay(text string, from, to int) bool {
	plain := func(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
	return small.MatchString(plain(text[from:to])) || strings.ContainsAny(text, "\"“") || beside.MatchString(plain(text[:from])) || row.MatchString(plain(text))
}

// TestUnitsOfKnownPlaces holds single places against numbers worked out by hand
// with the factors of NIST SP 811.
func TestUnitsOfKnownPlaces(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	for _, c := range []struct{ path, place, selector, want string }{
		{"stocking/feeding.html", "prose", ".first", "Below 50 °F feed nothing. From 82 °F up"},
		{"stocking/feeding.html", "the author's own", "ol.steps", "comes to about 3.3 oz/d"},
		{"stocking/feeding.html", "a column with its unit in the heading", "main", "temperature (°F)"},
		{"stocking/feeding.html", "a choice of a few words", "main", "50 to 55"},
		{"stocking/new-fish.html", "a difference", "main", "If they are within 3.6 °F, net"},
		{"reckon/readings.html", "a difference in danger", "main", "no more than a step of 1 °C, in danger by 3 °C"}, // a formula stays
		{"reckon/water-change.html", "a difference in an answer", ".flags", "by more than 1.8 °F"},
		{"reckon/feed-waste.html", "a chart's ticks", "svg.chart g.us", "406080"},
		{"reckon/feed-waste.html", "a chart in words", "svg.chart desc", "Feed (oz/d) over Water temperature (°F). 11 lb: from 0 oz/d at 39 °F to 1.3 oz/d at 90 °F. 22 lb"},
		{"reckon/pond-volume.html", "an answer", "output", "2,410 gal (US)"},
		{"reckon/pond-volume.html", "its other units", ".also", "or 9.11 m³, or 2,000 gal (imp), or 9,110 L"},
		{"reckon/tower.html", "a drawing", "main", "Lengths in inches"},
		{"reckon/drill-template.html", "a template", "svg.tile", "This bar must measure 100 mm (3.94 in)"},
		{"reckon/fish-weight.html", "a range in small letters", "table.lookup tbody td", "1.8 1.6–2.9"},
		{"filtration/how-a-tower-works.html", "a caption's unit", "main", "in inches of water"},
		{"filtration/pumps-and-pipes.html", "a curve of the chapter's", "svg.drawing", "Head, ft"},
	} {
		tb.Visit(c.path)
		if c.path == "stocking/feeding.html" && c.place == "prose" {
			tb.Measure(units.US)
		}
		tb.Turned(units.US)
		got := strings.Join(strings.Fields(strings.ReplaceAll(tb.Text(c.selector), "\u00a0", " ")), " ")
		if !strings.Contains(got, c.want) {
			t.Errorf("%s, %s: %q does not hold %q", c.path, c.place, got[:min(len(got), 300)], c.want)
		}
	}
	// The drilling template keeps its size.
	tb.Visit("reckon/drill-template.html")
	tb.Turned(units.US)
	shape := `[...document.querySelectorAll("svg.tile")].map(e => e.outerHTML.replace(/>[^<]*</g, "><").replace(/ aria-label="[^"]*"| class="(turned)?"/g, "")).join("")`
	us := browsertest.Evaluate[string](tb, shape)
	tb.Measure(units.Metric)
	if metric := browsertest.Evaluate[string](tb, shape); us != metric || us == "" {
		t.Error("the drilling template is drawn another way in US units")
	}
}

// TestUnitsFollowAnAnswer types into a pad in US units: field and answer follow,
// and what was shown but not typed is reckoned with as it was written.
func TestUnitsFollowAnAnswer(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/feed-waste.html")
	tb.Measure(units.US)
	tb.Ready("feed-waste")
	if got := tb.Holds("feed-waste", "weight"); got != "17.3" {
		t.Errorf("the example's weight of 7.86 kg is shown as %q", got)
	}
	field := browsertest.Pad("feed-waste") + ` [data-input="protein"] [name]`
	tb.Do(chromedp.SetValue(chromedp.CSS(field), "40"))
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).dispatchEvent(new Event("input", {bubbles: true}))`, field))
	tb.Await(`document.querySelector("output").textContent === "3.3\u00a0oz/d"`, "the example is not reckoned with 7.86 kg: 93 g/d")
	unit := browsertest.Pad("feed-waste") + ` [data-input="weight"] .unit`
	for _, c := range [][2]string{{"g", "0.21\u00a0g/d"}, {"[lb_av]", "3.3\u00a0oz/d"}} { // 17.3 g are not 17.3 lb
		tb.Choose(unit, c[0])
		tb.Await(fmt.Sprintf(`document.querySelector("output").textContent === %q`, c[1]), "17.3 "+c[0]+" do not ask for "+c[1])
	}
	weight := browsertest.Pad("feed-waste") + ` [data-input="weight"] [name]`
	tb.Do(chromedp.SetValue(chromedp.CSS(weight), "35"))
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).dispatchEvent(new Event("input", {bubbles: true}))`, weight))
	tb.Await(`document.querySelector("output").textContent === "6.6\u00a0oz/d"`, "35 lb are not 15.9 kg, which ask for 188 g/d")
	tb.Measure(units.Metric)
	tb.Await(`document.querySelector("output").textContent === "190\u00a0g/d"`, "back in metric the answer stays in ounces")
	tb.Measure(units.US)
	// What is typed stays as it is typed, on any leaf and in any system.
	tb.Record()
	if got := tb.Text(`[data-key="feed-waste.weight"] .value`); got != "35\u00a0lb" {
		t.Errorf("My pond shows %q", got)
	}
	tb.Visit("log.html")
	tb.Await(`document.querySelector('[data-test="temperature"] .unit').value === "[degF]"`, "the form of the readings does not offer °F first")
	tb.Measure(units.Metric)
	tb.Visit("reckon/feed-waste.html")
	tb.Ready("feed-waste")
	if got := tb.Holds("feed-waste", "weight"); got != "35" {
		t.Errorf("35 lb, typed before, is shown as %q", got)
	}
}

// TestOriginalIsOneTapAway taps a number, then asks for the whole leaf as it is
// written.
func TestOriginalIsOneTapAway(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Visit("stocking/feeding.html")
	tb.Measure(units.US)
	// In a sentence a number is a link to its origin; elsewhere a tap tells what is written.
	const number = `document.querySelector(".table tbody th .turned, .table tbody td .turned, output.turned, .answer .turned")`
	first := number + `.textContent`
	turned := browsertest.Evaluate[string](tb, first)
	browsertest.Evaluate[bool](tb, `(`+number+`.click(), true)`)
	written := browsertest.Evaluate[string](tb, first)
	if written == turned {
		t.Errorf("a tap on %q does not show what is written", turned)
	}
	for _, want := range []string{turned, written} {
		browsertest.Evaluate[bool](tb, `(`+number+`.click(), true)`)
		if got := browsertest.Evaluate[string](tb, first); got != want {
			t.Errorf("a tap shows %q, want %q", got, want)
		}
	}
	if n := browsertest.Evaluate[int](tb, `document.querySelectorAll(".turned[tabindex], .turned button").length`); n > 0 {
		t.Errorf("%d numbers stop the tab key", n)
	}
	browsertest.Evaluate[bool](tb, `(document.querySelector(".measures button").click(), true)`)
	tb.Await(fmt.Sprintf("%s === %q", first, written), "the button does not show what is written")
	if pressed := browsertest.Evaluate[string](tb, `document.querySelector(".measures button").getAttribute("aria-pressed")`); pressed != "true" {
		t.Errorf("the button says %q", pressed)
	}
}

// TestUnitsAreGuessedOnceAndKept looks at the first guess, and at what is picked.
func TestUnitsAreGuessedOnceAndKept(t *testing.T) {
	for languages, want := range map[string]units.System{"en-US,en": units.US, "en-GB,en-US": units.Metric, "en,my-MM": units.US} {
		tb := browser.Open(t)
		agent := browsertest.Evaluate[string](tb, `navigator.userAgent`)
		browsertest.Call(tb, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: agent, AcceptLanguage: languages})
		tb.Visit("stocking/feeding.html")
		if got := browsertest.Evaluate[string](tb, `document.documentElement.dataset.measure`); got != string(want) {
			t.Errorf("a browser that asks for %s begins with %s, want %s", languages, got, want)
		}
	}
	tb := browser.Open(t)
	tb.Visit("stocking/feeding.html")
	other := tb.Beside()
	other.Visit("water/oxygen.html")
	tb.Measure(units.Imperial)
	other.Turned(units.Imperial) // the second tab follows
	tb.Visit("water/tap-water.html")
	tb.Turned(units.Imperial)
	if text := tb.Text("main"); !strings.Contains(text, "17.9\u00a0°C") || !strings.Contains(text, "gal\u00a0(imp)") {
		t.Error("imperial keeps °C and turns litres")
	}
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.Visit("stocking/feeding.html")
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	if text := tb.Text("main"); !strings.Contains(text, "Below 10\u00a0°C feed nothing") {
		t.Error("without JavaScript the author's units do not stand")
	}
}

// TestUnitsWhereNothingIsKept picks a system in a browser that refuses to keep it.
func TestUnitsWhereNothingIsKept(t *testing.T) {
	tb := browser.Open(t)
	tb.Visit("stocking/feeding.html")
	browsertest.Evaluate[bool](tb, `(Storage.prototype.setItem = () => { throw new Error("full") }, true)`)
	tb.Measure(units.US)
	if said := tb.Text(".measures [role=status]"); !strings.Contains(said, "until you leave the leaf") {
		t.Errorf("the leaf says %q", said)
	}
}

// TestUnitsOfTheSingleFileAndOfPaper sees that both follow.
func TestUnitsOfTheSingleFileAndOfPaper(t *testing.T) {
	tb := browser.Single(t)
	tb.Leaf("stocking/feeding.html")
	tb.Measure(units.US)
	if text := tb.Text(".first"); !strings.Contains(text, "50\u00a0°F") {
		t.Errorf("the single file shows %q", text)
	}
	tb.Leaf("water/what-now.html")
	tb.Turned(units.US)

	paper := browser.Open(t)
	paper.Visit("stocking/feeding.html")
	paper.Measure(units.US)
	browsertest.Call(paper, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	if browsertest.Evaluate[bool](paper, `document.querySelector(".measures").checkVisibility()`) {
		t.Error("the choice of units is printed")
	}
	for _, path := range []string{"cards.html", paths.Print} {
		paper.Visit(path)
		paper.Turned(units.US)
		if text := paper.Text("main"); !strings.Contains(text, "°F") {
			t.Errorf("%s does not follow", path)
		}
	}
}

// TestTurnedPagesAreAccessible runs axe-core over pages that show other units.
func TestTurnedPagesAreAccessible(t *testing.T) {
	script := browsertest.AxeScript(t)
	tb := browser.Open(t)
	tb.Phone()
	for i, page := range []string{"stocking/feeding.html", "safety/lifting-and-toppling.html", "record.html"} {
		for _, mode := range []string{"light", "dark"} {
			tb.Scheme(mode)
			tb.Visit(page)
			if i == 0 {
				tb.Measure(units.US)
			}
			tb.Turned(units.US)
			tb.Accessible(script, page+" in US units, "+mode, browsertest.EveryRule)
			if wide := browsertest.Evaluate[int](tb, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
				t.Errorf("%s is %d px wider than the screen", page, wide)
			}
		}
	}
}
