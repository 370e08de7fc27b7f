package offline

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"

	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// keptSays waits until the leaf says how far the handbook is kept.
func keptSays(tb *browsertest.Tab, want string) {
	tb.T.Helper()
	said := ""
	if !tb.Until(func() bool {
		said = browsertest.Look[string](tb, `document.querySelector(".keeping")?.innerText ?? ""`)
		return strings.Contains(said, want)
	}) {
		tb.T.Fatalf("the leaf does not say %q; it says %q", want, said)
	}
}

// withoutSignal forgets what the browser itself logs when there is no connection:
// the worker, which it looks for at every leaf, cannot be reached.
func withoutSignal(tb *browsertest.Tab) {
	tb.T.Helper()
	for _, f := range tb.Seen() {
		if !strings.Contains(f, "offline.js") && !strings.Contains(f, "when fetching the script") {
			tb.T.Error(f)
		}
	}
}

// caches are the names of the stores of one site.
func caches(tb *browsertest.Tab, site string) []string {
	tb.T.Helper()
	return browsertest.Evaluate[[]string](tb, fmt.Sprintf(`caches.keys().then(all => all.filter(n => n.startsWith(%q)))`, "handbook "+site+" "))
}

// keep touches the button under what the leaf says.
func wantIt(tb *browsertest.Tab) {
	tb.T.Helper()
	tb.Do(chromedp.Click(chromedp.CSS(".keeping button")))
}

// next reports whether the open page is of the next edition, and fails if its
// module is not.
func isNext(tb *browsertest.Tab) bool {
	tb.T.Helper()
	is := browsertest.Evaluate[bool](tb, `document.querySelector("main").dataset.edition === "next"`)
	if module := browsertest.Evaluate[string](tb, `document.querySelector("script[data-module]").dataset.module`); strings.Contains(module, "-00000000.") != is {
		tb.T.Fatalf("of the next edition: %v; its module is %s", is, module)
	}
	return is
}

// digests are those of pages as the tab gets them, by their paths.
func digests(tb *browsertest.Tab, list []string) map[string]string {
	tb.T.Helper()
	paths, _ := json.Marshal(list)
	all := browsertest.Evaluate[map[string]string](tb, fmt.Sprintf(`(async (paths, address) => {
		const all = {};
		for (const path of paths) {
			const bytes = await (await fetch(address + path)).arrayBuffer();
			all[path] = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map((b) => b.toString(16).padStart(2, "0")).join("");
		}
		return all;
	})(%s, %q)`, paths, tb.Address))
	if len(all) != len(list) {
		tb.T.Fatalf("of %d pages %d have come", len(list), len(all))
	}
	return all
}

var titled = regexp.MustCompile(`<title>(.*?)</title>`)

// TestWholeHandbookAtThePond visits the cover once, waits until it is ready, stops
// the server, opens every page and reckons with every calculator.
func TestWholeHandbookAtThePond(t *testing.T) {
	const site = browsertest.Base
	h := browsertest.NewHost(t, map[string]string{site: browser.Edition(t)})
	tb := browser.OpenAt(t, h, site)
	tb.Visit("")
	if n := len(caches(tb, site)); n != 0 {
		t.Errorf("before the leaf has been shown there are %d stores", n)
	}
	kept, _ := listOf(t, browser.Edition(t))
	all := 0
	for _, f := range kept.Files {
		all += f.Size
	}
	keptSays(tb, "Ready for the pond: "+strings.TrimSuffix(fmt.Sprintf("%.1f", float64(all)/1e6), ".0")+"\u00a0MB")
	h.Close()
	list := browser.Pages(t)
	for path := range browser.OfEachKind(list) {
		tb.Visit(path)
		want := html.UnescapeString(titled.FindStringSubmatch(readFile(t, browser.Edition(t), path))[1])
		if got := browsertest.Evaluate[string](tb, `document.title`); got != want {
			t.Errorf("%s has the title %q; want %q", path, got, want)
		}
		withoutSignal(tb)
	}
	for path, got := range digests(tb, list) { // the others as the worker gives them, without showing them
		if want := sha256.Sum256([]byte(readFile(t, browser.Edition(t), path))); got != hex.EncodeToString(want[:]) {
			t.Errorf("%s comes without a signal, but not as it was made", path)
		}
	}
	tb.ReckonAll(pondtest.All(tb.T).All())
	withoutSignal(tb)

	for address, want := range map[string]string{
		"water/":                              "water/index.html",
		"water":                               "water/index.html",
		"water/?x":                            "water/index.html",
		"":                                    "index.html",
		"water/ammonia":                       "water/ammonia.html",
		"reckon/tower.html?volume=9100+L":     "reckon/tower.html",
		"water/no-such-leaf.html":             "404.html",
		"reckon/no-such-leaf.html?volume=1+L": "404.html",
	} {
		tb.Visit(address)
		want := html.UnescapeString(titled.FindStringSubmatch(readFile(t, browser.Edition(t), want))[1])
		if got := browsertest.Evaluate[string](tb, `document.title`); got != want {
			t.Errorf("%q shows %q; want %q", address, got, want)
		}
		if address == "water" {
			if got := browsertest.Evaluate[string](tb, `location.pathname`); got != site+"water/" {
				t.Errorf("its links start from %s", got)
			}
		}
	}
	tb.Seen() // the browser logs leaves that are not there
	tb.Visit("terms.html")
	keptSays(tb, "Ready for the pond")
	withoutSignal(tb)
}

// TestLeafOfTheFirstVisitReckons stays on the first leaf, whose calculator the
// reader reaches only after the signal is gone.
func TestLeafOfTheFirstVisitReckons(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	id := ""
	for _, path := range browser.Pages(t) {
		if !strings.Contains(path, "/") || !strings.Contains(readFile(t, browser.Edition(t), path), " data-calculator=") {
			continue
		}
		tb.Visit(path)
		// What is in sight is told with the next picture, and taken up after it.
		browsertest.Evaluate[bool](tb, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(() => done(true)))))`)
		if !moduleLoaded(tb) {
			id = browsertest.Evaluate[string](tb, `document.querySelector("form[data-calculator]").dataset.calculator`)
			break
		}
		// A profile in which nothing is kept yet.
		tb = browser.OpenAt(t, h, browsertest.Base)
	}
	if id == "" {
		t.Fatal("no leaf has its first calculator out of sight")
	}
	keptSays(tb, "Ready for the pond")
	if moduleLoaded(tb) || browsertest.Evaluate[bool](tb, `navigator.serviceWorker.controller !== null`) {
		t.Fatal("the leaf has its module already, or goes through the worker")
	}
	h.Close()
	tb.Ready(id)
	tb.Seen() // the browser logs that it has looked for the module on the site
}

// moduleLoaded reports whether the leaf has its module, or waits for it.
func moduleLoaded(tb *browsertest.Tab) bool {
	tb.T.Helper()
	return browsertest.Evaluate[bool](tb, `[...document.querySelectorAll("form[data-calculator]")].some(f => f.querySelector(".state").textContent.trim() !== "" || !f.querySelector("fieldset").disabled)`)
}

// title is that of a leaf in the list of the edition under test.
func title(t *testing.T, path string) string {
	t.Helper()
	list, _ := listOf(t, browser.Edition(t))
	for _, f := range list.Files {
		if f.Path == path && f.Title != "" {
			return f.Title
		}
	}
	t.Fatalf("%s has no title in the list", path)
	return ""
}

// TestHandbooksOfOneHost keeps three, of which one stands inside another's path,
// and has one renewed.
func TestHandbooksOfOneHost(t *testing.T) {
	next := nextEdition(t)
	sites := map[string]string{"/": browser.Edition(t), "/ponds/one/": next, "/ponds/two/": browser.Edition(t)}
	h := browsertest.NewHost(t, sites)
	tb := browser.OpenKeeping(t)
	tb.Address = h.URL + "/"
	tb.Phone()
	for _, site := range []string{"", "ponds/one/", "ponds/two/"} {
		tb.Visit(site)
		keptSays(tb, "Ready for the pond")
	}
	h.Publish("/ponds/two/", next)
	tb.Visit("ponds/two/terms.html")
	keptSays(tb, "A new edition")
	wantIt(tb)
	tb.Await(`document.querySelector("main")?.dataset.edition === "next"`, "the new edition does not come")
	h.Close()
	for site, want := range map[string]bool{"": false, "ponds/one/": true, "ponds/two/": true} {
		if n := len(caches(tb, "/"+site)); n != 1 {
			t.Errorf("/%s has %d stores", site, n)
		}
		tb.Visit(site + "reckon/nitrite.html")
		tb.Ready("nitrite")
		if got := isNext(tb); got != want {
			t.Errorf("/%s shows the next edition: %v; want %v", site, got, want)
		}
		withoutSignal(tb)
	}
}

// TestMobileDataAsksFirst visits with a signal that is paid by the amount. Browsers
// tell that of telephones only, so here the test does.
func TestMobileDataAsksFirst(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `Object.defineProperty(navigator.connection, "type", {value: "cellular"})`})
	tb.Visit("terms.html")
	keptSays(tb, "Your connection may be paid by the amount")
	if names := caches(tb, browsertest.Base); len(names) != 0 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
}

// TestSaveDataAsksFirst visits over a connection that is set to save data.
func TestSaveDataAsksFirst(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	save := true
	browsertest.Call(tb, emulation.SetDataSaverOverride, emulation.SetDataSaverOverrideParams{DataSaverEnabled: &save})
	tb.Visit("terms.html")
	keptSays(tb, "Your connection may be paid by the amount")
	if names := caches(tb, browsertest.Base); len(names) != 0 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
	for _, path := range h.Asked() {
		if strings.HasSuffix(path, ".wasm") || strings.HasSuffix(path, ".html") && path != browsertest.Base+"terms.html" {
			t.Errorf("without having been asked, %s was fetched", path)
		}
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Keep(t, "offline-asks-360.png", picture)
	wantIt(tb)
	keptSays(tb, "Ready for the pond")
	h.Publish(browsertest.Base, nextEdition(t))
	tb.Visit("sources.html")
	keptSays(tb, "There is a new edition; the one kept here stays until you want it")
	if names := caches(tb, browsertest.Base); len(names) != 1 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
}

// TestNoRoom has less room in the browser than the handbook needs.
func TestNoRoom(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	room := 3e6
	browsertest.Call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	tb.Reckon("nitrite")
	tb.Write("nitrite", "reading", "0.7")
	record := tb.Kept()
	keptSays(tb, "this browser has no room for")
	tb.Seen() // the browser logs that the room is not enough
	h.Asked()
	tb.Reckon("nitrite")
	keptSays(tb, "this browser has no room for")
	if n := len(h.Asked()); n > 20 {
		t.Errorf("there was no room, and %d files were fetched again", n)
	}
	if tb.Kept() != record || tb.Holds("nitrite", "reading") != "0.7" {
		t.Errorf("the pond record was %s and is %s", record, tb.Kept())
	}
	if names := caches(tb, browsertest.Base); len(names) != 0 {
		t.Errorf("half a handbook takes the room: %q", names)
	}
	browsertest.Call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL})
	wantIt(tb)
	keptSays(tb, "Ready for the pond")
	tb.Seen()
}

// TestBrowserRefuses has no workers for offline use, as some private windows.
func TestBrowserRefuses(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Reckon("nitrite")
	keptSays(tb, "Not ready for the pond: this browser refuses to keep it. Until then every leaf needs a signal.")
}

// TestErasedOrDamagedStore takes away from what is kept, and damages it.
func TestErasedOrDamagedStore(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Reckon("nitrite")
	tb.Write("nitrite", "reading", "0.7")
	record := tb.Kept()
	keptSays(tb, "Ready for the pond")
	name := caches(tb, browsertest.Base)[0]
	tb.Visit("terms.html")
	keptSays(tb, "Ready for the pond")

	damage := `caches.open(%q).then(c => c.put(new URL("water/ammonia.html", location.href).href, new Response("<p>cut sho", {headers: {"content-type": "text/html"}}))).then(() => true)`
	browsertest.Evaluate[bool](tb, fmt.Sprintf(damage, name))
	tb.Visit("water/ammonia.html")
	if text := tb.Text("body"); strings.Contains(text, "cut sho") || !strings.Contains(text, "ammonia") {
		t.Errorf("a damaged store shows %.60q", text)
	}

	browsertest.Evaluate[bool](tb, fmt.Sprintf(`caches.open(%q).then(c => c.keys().then(all => Promise.all(all.slice(9).map(r => c.delete(r))))).then(() => true)`, name))
	tb.Visit("terms.html")
	keptSays(tb, "Ready for the pond")
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`caches.delete(%q)`, name))
	h.Lose(0)
	h.Restore()
	tb.Visit("terms.html")
	keptSays(tb, "Ready for the pond")

	// What is gone while the site has another edition comes from the site, whole.
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`caches.open(%q).then(c => c.keys().then(all => Promise.all(all.slice(9).map(r => c.delete(r))))).then(() => true)`, name))
	h.Publish(browsertest.Base, nextEdition(t))
	tb.Visit("water/ammonia.html")
	tb.Ready("free-ammonia")
	if !isNext(tb) {
		t.Error("there is a leaf of an edition that is neither kept nor on the site")
	}
	keptSays(tb, "A new edition of the handbook has arrived")
	if tb.Kept() != record {
		t.Errorf("the pond record was %s and is %s", record, tb.Kept())
	}
}

// TestKeepingLeavesMyPondAlone looks at the leaf of the pond record once it says how
// far the handbook is kept: the reader's facts still stand there.
func TestKeepingLeavesMyPondAlone(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Visit("reckon/free-ammonia.html")
	tb.Ready("free-ammonia")
	tb.Write("free-ammonia", "ph", "7.7")
	tb.Visit("record.html")
	keptSays(tb, "Ready for the pond")
	tb.Await(`document.querySelector('[data-key="ph"]')?.checkVisibility() ?? false`, "the pH that was typed is not listed")
	if text := tb.Text(`[data-key="ph"] .value`); text != "7.7" {
		t.Errorf("the list says %q", text)
	}
}
