package find

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// finder opens the leaf that finds words and waits until it can.
func finder(tb *browsertest.Tab) {
	tb.T.Helper()
	tb.Visit("find.html")
	tb.Await(`document.querySelector(".find")?.dataset.state === "ready"`, "the leaf does not get its words")
}

// result is one result as a reader sees it.
type result struct {
	Title, Ref, Where, Says, Href string
	Marked                        []string
}

// find types into the field and returns the results that show.
func find(tb *browsertest.Tab, words string) []result {
	tb.T.Helper()
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`(() => {
		const field = document.querySelector(".find input[type=search]");
		field.value = %q;
		field.dispatchEvent(new Event("input", { bubbles: true }));
		return true;
	})()`, words))
	return browsertest.Evaluate[[]result](tb, `[...document.querySelectorAll(".found > li > a")].map(a => ({
		Title: a.querySelector("b").textContent,
		Ref: a.querySelector("i").textContent,
		Where: a.querySelector(".where")?.textContent ?? "",
		Says: a.querySelector(".says")?.textContent ?? "",
		Href: a.getAttribute("href"),
		Marked: [...a.querySelectorAll("mark")].map(m => m.textContent.toLowerCase()),
	}))`)
}

// TestFind looks for words as readers type them. first is the title of the first
// result, within that of one of the first three, marked what is marked in one of
// the results.
func TestFind(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	finder(tb)
	for _, c := range []struct{ typed, first, within, marked string }{
		{"ammonia", "", "Ammonia", "ammonia"},
		{"amonia", "", "Ammonia", "ammonia"},   // misspelt
		{"amoni", "", "Ammonia", "ammonia"},    // misspelt, and not yet typed to its end
		{"fiber", "", "", "fibre"},             // as in America
		{"neutralizer", "", "", "neutraliser"}, // as in America
		{"gasping", "Gasping", "gasp", "gasp"}, // what the fish do
		{"gasped", "", "gasp", "gasp"},         // an ending that stands nowhere
		{"foam on top", "", "Faults", "foam"},  // what the pond does
		{"smell", "", "", "smells"},            // the same
		{"kh", "Alkalinity", "", "kh"},         // another name of a term
		{"carbonate hardness", "Alkalinity", "", "alkalinity"},
		{"power off", "The power is off", "", "power"},
		{"why is my water green", "", "Green water", "green"},
		{"diary", "My readings", "", "diary"},
		{"log", "My readings", "", "log"},
		{"readings", "", "My readings", "readings"},
	} {
		found := find(tb, c.typed)
		if len(found) == 0 {
			t.Errorf("%q: nothing found", c.typed)
			continue
		}
		if c.first != "" && found[0].Title != c.first {
			t.Errorf("%q: the first result is %q, want %q", c.typed, found[0].Title, c.first)
		}
		within, marked := c.within == "", false
		for i, r := range found {
			within = within || i < 3 && strings.Contains(r.Title, c.within)
			for _, m := range r.Marked {
				marked = marked || m == c.marked
			}
		}
		if !within || !marked {
			t.Errorf("%q: %q is not among the first three or %q is not marked: %v", c.typed, c.within, c.marked, found)
		}
	}
	if found := find(tb, "xyzzyplugh"); len(found) != 0 {
		t.Errorf("found %v", found)
	}
	tb.Says(`[data-part="count"]`, "Nothing found. No leaf has “xyzzyplugh”.")
}

// TestFindLeadsThere follows results to the heading above the sentence, says in
// which part and leaf they stand, and comes back to them.
func TestFindLeadsThere(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	finder(tb)
	hidden := browsertest.Evaluate[bool](tb, `document.querySelector("[data-part=plain]").hidden && document.activeElement.type === "search"`)
	if !hidden {
		t.Error("the leaf says that it lacks JavaScript, or its field has no focus")
	}
	var heading result
	found := find(tb, "smell of rotten eggs")
	for _, r := range found {
		if strings.Contains(r.Href, "filtration/faults.html#") {
			heading = r
			break
		}
	}
	if !strings.HasPrefix(heading.Ref, "F\u00a0") || !strings.HasPrefix(heading.Where, "Filtration · ") {
		t.Fatalf("no result in the chapter on faults, or without its place: %v", found)
	}
	tb.Says(`[data-part="count"]`, " places found.")
	some := find(tb, "fish")
	more := browsertest.Evaluate[int](tb, `document.querySelector("[data-part=more] button").click() || document.querySelectorAll(".found > li").length`)
	if more <= len(some) {
		t.Errorf("%d results, and %d after asking for more", len(some), more)
	}
	find(tb, "smell of rotten eggs")
	tb.Await(`location.search === "?q=smell%20of%20rotten%20eggs"`, "what was typed is not in the address")
	back := browsertest.Evaluate[string](tb, `location.href`)
	tb.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`.found a[href=%q]`, heading.Href))))
	tb.Do(chromedp.WaitVisible(chromedp.CSS(":target")))
	if at := browsertest.Evaluate[string](tb, `location.pathname`); !strings.HasSuffix(at, "/filtration/faults.html") {
		t.Errorf("the result leads to %s", at)
	}
	tb.Do(chromedp.Navigate(back), chromedp.WaitVisible(chromedp.CSS(".found > li")))
	tb.Await(`document.querySelectorAll(".found > li").length > 0 && document.querySelector(".find input").value === "smell of rotten eggs"`, "the results are gone on the way back")
}

// TestFindKnowsEveryPlace looks up every heading of every leaf in the index: the
// address that a result has is one that exists.
func TestFindKnowsEveryPlace(t *testing.T) {
	tb := browser.Open(t)
	finder(tb)
	lost := browsertest.Evaluate[[]string](tb, `(async () => {
		const index = await (await fetch(document.querySelector(".find").dataset.index)).json();
		const pages = new Map();
		const lost = [];
		for (const leaf of index.leaves) {
			const [path, anchor] = leaf.to.split("#");
			if (!pages.has(path)) pages.set(path, new DOMParser().parseFromString(await (await fetch(path)).text(), "text/html"));
			if (anchor && !pages.get(path).getElementById(anchor)) lost.push(leaf.to);
		}
		return [...pages.keys()].length > 50 ? lost : ["too few pages"];
	})()`)
	if len(lost) > 0 {
		t.Errorf("lost: %q", lost)
	}
	// The headings' addresses are made by the script; it shows them for a word.
	checked := 0
	for _, words := range []string{"fish", "do this", "mistakes", "what is said", "tower", "limits"} {
		find(tb, words)
		for range 8 {
			browsertest.Evaluate[bool](tb, `(() => { const more = document.querySelector("[data-part=more]"); if (!more.hidden) more.querySelector("button").click(); return true; })()`)
		}
		checked += browsertest.Evaluate[int](tb, `(async () => {
			let n = 0;
			for (const a of document.querySelectorAll(".found a[href*='#']")) {
				const [path, anchor] = a.getAttribute("href").split("#");
				const page = new DOMParser().parseFromString(await (await fetch(path)).text(), "text/html");
				if (!page.getElementById(anchor)) throw new Error(a.getAttribute("href"));
				n++;
			}
			return n;
		})()`)
	}
	if checked < 100 {
		t.Errorf("only %d places were looked up", checked)
	}
}

// TestFindByKey opens the leaf with "/", but not from a field, and not once that
// is switched off.
func TestFindByKey(t *testing.T) {
	tb := browser.Open(t)
	tb.Visit("water/ammonia.html")
	tb.Do(chromedp.KeyEvent("/"))
	tb.Do(chromedp.WaitVisible(chromedp.CSS(`.find[data-state="ready"]`)))
	if !browsertest.Evaluate[bool](tb, `location.pathname.endsWith("/find.html") && document.activeElement?.type === "search"`) {
		t.Error("the key / does not lead to the field")
	}
	tb.Do(chromedp.KeyEvent("a/b"))
	if typed := browsertest.Evaluate[string](tb, `document.querySelector(".find input").value`); typed != "a/b" {
		t.Errorf("the field holds %q", typed)
	}
	find(tb, "nitrite")
	tb.Do(chromedp.KeyEvent(kb.Enter))
	if browsertest.Evaluate[bool](tb, `document.activeElement?.type === "search"`) {
		t.Error("after Enter the field still has the keyboard")
	}
	tb.Do(chromedp.KeyEvent(kb.Tab))
	tb.Do(chromedp.KeyEvent("/"))
	if !browsertest.Evaluate[bool](tb, `document.activeElement?.type === "search"`) {
		t.Error("on the leaf itself / does not lead to the field")
	}
	browsertest.Evaluate[bool](tb, `(document.querySelector("[data-part=key]").click(), true)`)
	tb.Visit("water/ammonia.html")
	tb.Do(chromedp.KeyEvent("/"))
	if browsertest.Evaluate[bool](tb, `location.pathname.endsWith("/find.html")`) {
		t.Error("the key / opens the leaf though it is switched off")
	}
}

// TestFindWithoutScript: the leaf says what is amiss and leads on.
func TestFindWithoutScript(t *testing.T) {
	tb := browser.Open(t)
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.Visit("find.html")
	said := browsertest.Evaluate[string](tb, `document.querySelector("main").innerText`)
	if !strings.Contains(said, "Finding needs JavaScript") || strings.Contains(said, "Type a word") || !strings.Contains(said, "What is the matter today?") {
		t.Errorf("the leaf says %q", said)
	}
	for _, to := range []string{"terms.html", "reckon/index.html", "index.html"} {
		if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector('[data-part="plain"] a[href=%q]').checkVisibility()`, to)) {
			t.Errorf("it does not lead to %s", to)
		}
	}
}

// TestFindOnPhone: the first result shows above a keyboard that takes the lower
// half of a small screen, and nothing to press is too small for a thumb.
func TestFindOnPhone(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	finder(tb)
	find(tb, "nitrite")
	if bottom := browsertest.Evaluate[float64](tb, `document.querySelector(".found > li").getBoundingClientRect().bottom`); bottom > 400 {
		t.Errorf("the first result ends %v px below the top", bottom)
	}
	browsertest.Evaluate[bool](tb, `(scrollTo(0, 900), true)`)
	tb.Await(`Math.abs(document.querySelector(".find form").getBoundingClientRect().top) < 2`, "the field scrolls out of sight")
	for _, small := range browsertest.Evaluate[[]string](tb, `[...document.querySelectorAll(".find a, .find button, .find input[type=search], .find label:has(input)")]
		.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 80))`) {
		t.Errorf("smaller than 44 px: %s", small)
	}
}

// TestFindIsAccessible runs axe-core over results, in light and dark.
func TestFindIsAccessible(t *testing.T) {
	script := browsertest.AxeScript(t)
	tb := browser.Open(t)
	tb.Phone()
	for _, mode := range []string{"light", "dark"} {
		tb.Scheme(mode)
		finder(tb)
		if found := find(tb, "carbonate hardness"); len(found) < 5 {
			t.Fatalf("only %v", found)
		}
		tb.Accessible(script, mode, browsertest.EveryRule)
	}
}

// TestFindInTheSingleFile looks for a word in the file, without a server, follows
// the result and comes back.
func TestFindInTheSingleFile(t *testing.T) {
	tb := browser.Single(t)
	tb.Leaf("water/ammonia.html")
	tb.Do(chromedp.KeyEvent("/"))
	tb.Await(`document.querySelector(".find")?.dataset.state === "ready"`, "the key / does not open the leaf")
	found := find(tb, "amonia")
	to := ""
	for _, r := range found {
		if strings.HasPrefix(r.Href, "#water/ammonia.html") {
			to = r.Href
			break
		}
	}
	if to == "" {
		t.Fatalf("no result leads into the chapter on ammonia: %v", found)
	}
	tb.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`.found a[href=%q]`, to))))
	tb.Shown("water/ammonia.html")
	tb.Back()
	tb.Await(`document.querySelectorAll(".found > li").length > 0 && document.querySelector(".find input").value === "amonia"`, "the results are gone on the way back")
}

// BenchmarkFind measures, with the processor slowed down fourfold, how long a key
// holds up the page until the first results have been laid out: the worst key of
// several things that readers type, letter by letter. It reports too how long the
// leaf takes to get ready.
func BenchmarkFind(b *testing.B) {
	tb := browser.Open(b)
	tb.Phone()
	browsertest.Call(tb, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: browsertest.Slowdown})
	worst, ready := 0.0, 0.0
	for b.Loop() {
		finder(tb)
		ready = browsertest.Evaluate[float64](tb, `performance.now()`)
		for _, typed := range []string{"ammonia", "amonia level", "fish gasping for air at night", "the water in the pond", "thiosulphaet", "foam on top of the water"} {
			worst = max(worst, browsertest.Evaluate[float64](tb, fmt.Sprintf(lettersTyped, typed)))
		}
	}
	b.ReportMetric(worst, "worst-ms")
	b.ReportMetric(ready, "ready-ms")
	b.ReportMetric(0, "ns/op") // of a whole round, which tells nothing
}

// lettersTyped types a text letter by letter, five times over, and returns the
// longest time of a letter, each letter's being its median.
const lettersTyped = `(() => {
	const field = document.querySelector(".find input[type=search]");
	const text = %q;
	const times = Array.from(text, () => []);
	for (let round = 0; round < 5; round++) {
		for (let i = 0; i < text.length; i++) {
			const start = performance.now();
			field.value = text.slice(0, i + 1);
			field.dispatchEvent(new Event("input", { bubbles: true }));
			document.querySelector(".found").getBoundingClientRect();
			times[i].push(performance.now() - start);
		}
	}
	return Math.max(...times.map((all) => all.sort((a, b) => a - b)[2]));
})()`
