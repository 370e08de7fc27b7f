package browser

import (
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
)

// openAt opens a tab in a profile of its own on a handbook of the host.
func (h *host) openAt(t *testing.T, site string) *tab {
	t.Helper()
	tb := openKeeping(t)
	tb.address = h.URL + site
	tb.phone()
	return tb
}

// keptSays waits until the leaf says how far the handbook is kept.
func (tb *tab) keptSays(want string) {
	tb.t.Helper()
	said := ""
	if !tb.until(func() bool {
		said = look[string](tb, `document.querySelector(".keeping")?.innerText ?? ""`)
		return strings.Contains(said, want)
	}) {
		tb.t.Fatalf("the leaf does not say %q; it says %q", want, said)
	}
}

// withoutSignal forgets what the browser itself logs when there is no connection:
// the worker, which it looks for at every leaf, cannot be reached.
func (tb *tab) withoutSignal() {
	tb.t.Helper()
	for _, f := range tb.seen() {
		if !strings.Contains(f, "offline.js") && !strings.Contains(f, "when fetching the script") {
			tb.t.Error(f)
		}
	}
}

// caches are the names of the stores of one site.
func (tb *tab) caches(site string) []string {
	tb.t.Helper()
	return evaluate[[]string](tb, fmt.Sprintf(`caches.keys().then(all => all.filter(n => n.startsWith(%q)))`, "handbook "+site+" "))
}

// keep touches the button under what the leaf says.
func (tb *tab) keep() {
	tb.t.Helper()
	tb.do(chromedp.Click(chromedp.CSS(".keeping button")))
}

// next reports whether the open page is of the next edition, and fails if its
// module is not.
func (tb *tab) next() bool {
	tb.t.Helper()
	is := evaluate[bool](tb, `document.querySelector("main").dataset.edition === "next"`)
	if module := evaluate[string](tb, `document.querySelector("script[data-module]").dataset.module`); strings.Contains(module, "-00000000.") != is {
		tb.t.Fatalf("of the next edition: %v; its module is %s", is, module)
	}
	return is
}

var titled = regexp.MustCompile(`<title>(.*?)</title>`)

// TestWholeHandbookAtThePond visits the cover once, waits until it is ready, stops
// the server, opens every page and reckons with every calculator.
func TestWholeHandbookAtThePond(t *testing.T) {
	const site = base
	h := newHost(t, map[string]string{site: world.folder})
	tb := h.openAt(t, site)
	tb.visit("")
	if n := len(tb.caches(site)); n != 0 {
		t.Errorf("before the leaf has been shown there are %d stores", n)
	}
	kept, _ := listOf(t, world.folder)
	all := 0
	for _, f := range kept.Files {
		all += f.Size
	}
	tb.keptSays("Ready for the pond: " + strings.TrimSuffix(fmt.Sprintf("%.1f", float64(all)/1e6), ".0") + "\u00a0MB")
	h.Close()
	list := pages(t)
	for path := range ofEachKind(list) {
		tb.visit(path)
		want := html.UnescapeString(titled.FindStringSubmatch(readFile(t, world.folder, path))[1])
		if got := evaluate[string](tb, `document.title`); got != want {
			t.Errorf("%s has the title %q; want %q", path, got, want)
		}
		tb.withoutSignal()
	}
	for _, path := range list { // the others as the worker gives them, without showing them
		if got := evaluate[string](tb, fmt.Sprintf(`fetch(%q).then(r => r.text())`, tb.address+path)); got != readFile(t, world.folder, path) {
			t.Errorf("%s comes without a signal, but not as it was made", path)
		}
	}
	reckonAll(tb, pondtest.All(tb.t).All())
	tb.withoutSignal()

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
		tb.visit(address)
		want := html.UnescapeString(titled.FindStringSubmatch(readFile(t, world.folder, want))[1])
		if got := evaluate[string](tb, `document.title`); got != want {
			t.Errorf("%q shows %q; want %q", address, got, want)
		}
		if address == "water" {
			if got := evaluate[string](tb, `location.pathname`); got != site+"water/" {
				t.Errorf("its links start from %s", got)
			}
		}
	}
	tb.seen() // the browser logs leaves that are not there
	tb.visit("terms.html")
	tb.keptSays("Ready for the pond")
	tb.withoutSignal()
}

// TestLeafOfTheFirstVisitReckons stays on the first leaf, whose calculator the
// reader reaches only after the signal is gone.
func TestLeafOfTheFirstVisitReckons(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	id := ""
	for _, path := range pages(t) {
		if !strings.Contains(path, "/") || !strings.Contains(readFile(t, world.folder, path), " data-calculator=") {
			continue
		}
		tb.visit(path)
		// What is in sight is told with the next picture, and taken up after it.
		evaluate[bool](tb, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(() => done(true)))))`)
		if !tb.moduleLoaded() {
			id = evaluate[string](tb, `document.querySelector("form[data-calculator]").dataset.calculator`)
			break
		}
		// A profile in which nothing is kept yet.
		tb = h.openAt(t, base)
	}
	if id == "" {
		t.Fatal("no leaf has its first calculator out of sight")
	}
	tb.keptSays("Ready for the pond")
	if tb.moduleLoaded() || evaluate[bool](tb, `navigator.serviceWorker.controller !== null`) {
		t.Fatal("the leaf has its module already, or goes through the worker")
	}
	h.Close()
	tb.ready(id)
	tb.seen() // the browser logs that it has looked for the module on the site
}

// moduleLoaded reports whether the leaf has its module, or waits for it.
func (tb *tab) moduleLoaded() bool {
	tb.t.Helper()
	return evaluate[bool](tb, `[...document.querySelectorAll("form[data-calculator]")].some(f => f.querySelector(".state").textContent.trim() !== "" || !f.querySelector("fieldset").disabled)`)
}

// title is that of a leaf in the list of the edition under test.
func title(t *testing.T, path string) string {
	t.Helper()
	list, _ := listOf(t, world.folder)
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
	sites := map[string]string{"/": world.folder, "/ponds/one/": next, "/ponds/two/": world.folder}
	h := newHost(t, sites)
	tb := openKeeping(t)
	tb.address = h.URL + "/"
	tb.phone()
	for _, site := range []string{"", "ponds/one/", "ponds/two/"} {
		tb.visit(site)
		tb.keptSays("Ready for the pond")
	}
	h.publish("/ponds/two/", next)
	tb.visit("ponds/two/terms.html")
	tb.keptSays("A new edition")
	tb.keep()
	tb.await(`document.querySelector("main")?.dataset.edition === "next"`, "the new edition does not come")
	h.Close()
	for site, want := range map[string]bool{"": false, "ponds/one/": true, "ponds/two/": true} {
		if n := len(tb.caches("/" + site)); n != 1 {
			t.Errorf("/%s has %d stores", site, n)
		}
		tb.visit(site + "reckon/nitrite.html")
		tb.ready("nitrite")
		if got := tb.next(); got != want {
			t.Errorf("/%s shows the next edition: %v; want %v", site, got, want)
		}
		tb.withoutSignal()
	}
}

// TestMobileDataAsksFirst visits with a signal that is paid by the amount. Browsers
// tell that of telephones only, so here the test does.
func TestMobileDataAsksFirst(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `Object.defineProperty(navigator.connection, "type", {value: "cellular"})`})
	tb.visit("terms.html")
	tb.keptSays("Your connection may be paid by the amount")
	if names := tb.caches(base); len(names) != 0 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
}

// TestSaveDataAsksFirst visits over a connection that is set to save data.
func TestSaveDataAsksFirst(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	save := true
	call(tb, emulation.SetDataSaverOverride, emulation.SetDataSaverOverrideParams{DataSaverEnabled: &save})
	tb.visit("terms.html")
	tb.keptSays("Your connection may be paid by the amount")
	if names := tb.caches(base); len(names) != 0 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
	for _, path := range h.asked() {
		if strings.HasSuffix(path, ".wasm") || strings.HasSuffix(path, ".html") && path != base+"terms.html" {
			t.Errorf("without having been asked, %s was fetched", path)
		}
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, "offline-asks-360.png", picture)
	tb.keep()
	tb.keptSays("Ready for the pond")
	h.publish(base, nextEdition(t))
	tb.visit("sources.html")
	tb.keptSays("There is a new edition; the one kept here stays until you want it")
	if names := tb.caches(base); len(names) != 1 {
		t.Errorf("without having been asked, the reader has %q", names)
	}
}

// TestNoRoom has less room in the browser than the handbook needs.
func TestNoRoom(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	room := 3e6
	call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	tb.reckon("nitrite")
	tb.write("nitrite", "reading", "0.7")
	record := tb.kept()
	tb.keptSays("this browser has no room for")
	tb.seen() // the browser logs that the room is not enough
	h.asked()
	tb.reckon("nitrite")
	tb.keptSays("this browser has no room for")
	if n := len(h.asked()); n > 20 {
		t.Errorf("there was no room, and %d files were fetched again", n)
	}
	if tb.kept() != record || tb.holds("nitrite", "reading") != "0.7" {
		t.Errorf("the pond record was %s and is %s", record, tb.kept())
	}
	if names := tb.caches(base); len(names) != 0 {
		t.Errorf("half a handbook takes the room: %q", names)
	}
	call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL})
	tb.keep()
	tb.keptSays("Ready for the pond")
	tb.seen()
}

// TestBrowserRefuses has no workers for offline use, as some private windows.
func TestBrowserRefuses(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.reckon("nitrite")
	tb.keptSays("Not ready for the pond: this browser refuses to keep it. Until then every leaf needs a signal.")
}

// TestErasedOrDamagedStore takes away from what is kept, and damages it.
func TestErasedOrDamagedStore(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	tb.reckon("nitrite")
	tb.write("nitrite", "reading", "0.7")
	record := tb.kept()
	tb.keptSays("Ready for the pond")
	name := tb.caches(base)[0]
	tb.visit("terms.html")
	tb.keptSays("Ready for the pond")

	damage := `caches.open(%q).then(c => c.put(new URL("water/ammonia.html", location.href).href, new Response("<p>cut sho", {headers: {"content-type": "text/html"}}))).then(() => true)`
	evaluate[bool](tb, fmt.Sprintf(damage, name))
	tb.visit("water/ammonia.html")
	if text := tb.text("body"); strings.Contains(text, "cut sho") || !strings.Contains(text, "ammonia") {
		t.Errorf("a damaged store shows %.60q", text)
	}

	evaluate[bool](tb, fmt.Sprintf(`caches.open(%q).then(c => c.keys().then(all => Promise.all(all.slice(9).map(r => c.delete(r))))).then(() => true)`, name))
	tb.visit("terms.html")
	tb.keptSays("Ready for the pond")
	evaluate[bool](tb, fmt.Sprintf(`caches.delete(%q)`, name))
	h.lose(0)
	h.restore()
	tb.visit("terms.html")
	tb.keptSays("Ready for the pond")

	// What is gone while the site has another edition comes from the site, whole.
	evaluate[bool](tb, fmt.Sprintf(`caches.open(%q).then(c => c.keys().then(all => Promise.all(all.slice(9).map(r => c.delete(r))))).then(() => true)`, name))
	h.publish(base, nextEdition(t))
	tb.visit("water/ammonia.html")
	tb.ready("free-ammonia")
	if !tb.next() {
		t.Error("there is a leaf of an edition that is neither kept nor on the site")
	}
	tb.keptSays("A new edition of the handbook has arrived")
	if tb.kept() != record {
		t.Errorf("the pond record was %s and is %s", record, tb.kept())
	}
}

// TestKeepingLeavesMyPondAlone looks at the leaf of the pond record once it says how
// far the handbook is kept: the reader's facts still stand there.
func TestKeepingLeavesMyPondAlone(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	tb.visit("reckon/free-ammonia.html")
	tb.ready("free-ammonia")
	tb.write("free-ammonia", "ph", "7.7")
	tb.visit("record.html")
	tb.keptSays("Ready for the pond")
	tb.await(`document.querySelector('[data-key="ph"]')?.checkVisibility() ?? false`, "the pH that was typed is not listed")
	if text := tb.text(`[data-key="ph"] .value`); text != "7.7" {
		t.Errorf("the list says %q", text)
	}
}
