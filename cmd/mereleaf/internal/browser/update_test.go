package browser

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestUpdateWaits publishes an edition while two leaves of the one before are
// open, and takes it without a signal.
func TestUpdateWaits(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	tb.reckon("nitrite")
	tb.write("nitrite", "reading", "0.7")
	tb.keptSays("Ready for the pond")
	before, record := tb.caches(base), tb.kept()
	other := tb.beside()
	other.address = tb.address
	other.visit("water/ammonia.html")

	h.publish(base, nextEdition(t))
	h.asked()
	tb.visit("terms.html")
	tb.keptSays("A new edition of the handbook has arrived")
	for _, path := range h.asked() {
		if strings.HasSuffix(path, ".css") || strings.HasSuffix(path, ".png") {
			t.Errorf("%s is the same as before and came from the site again", path)
		}
	}
	evaluate[bool](tb, `(document.querySelector(".keeping details").open = true)`)
	if got, want := tb.text(".keeping ul"), "Chapters: "+title(t, nextChapter)+".Figures: "+title(t, nextSet)+"."; got != want {
		t.Errorf("what has changed is %q; want %q", got, want)
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, "offline-update-360.png", picture)
	tb.visit("water/ammonia.html")
	if tb.next() {
		t.Error("the new edition shows before anybody wanted it")
	}
	tb.keptSays("A new edition")

	h.lose(0)
	tb.keep()
	tb.await(`document.querySelector("main")?.dataset.edition === "next"`, "the new edition does not come although it is wanted")
	tb.next()
	tb.keptSays("Ready for the pond")
	tb.reckon("nitrite")
	if !tb.next() {
		t.Error("the calculator's leaf is of the edition before")
	}
	if got := tb.holds("nitrite", "reading"); got != "0.7" {
		t.Errorf("the reading is %q", got)
	}
	other.keptSays("edition before")
	if other.next() {
		t.Error("the other leaf changed by itself")
	}
	other.keep()
	other.await(`document.querySelector("main")?.dataset.edition === "next"`, "the other leaf does not follow")
	if after := tb.caches(base); len(after) != 1 || after[0] == before[0] {
		t.Errorf("stores before %q, after %q", before, after)
	}
	if tb.kept() != record {
		t.Errorf("the pond record was %s and is %s", record, tb.kept())
	}
	tb.withoutSignal()
	other.withoutSignal()
}

// TestUpdateCutHalfWay loses the connection while an edition comes. Nothing of it
// shows until it is whole, and what has come is not asked for again.
func TestUpdateCutHalfWay(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	tb.visit("")
	tb.keptSays("Ready for the pond")
	tb.visit("") // now through the worker
	tb.keptSays("Ready for the pond")

	h.publish(base, nextEdition(t))
	h.asked()
	h.lose(100)
	tb.visit("terms.html")
	came := map[string]bool{}
	var asked []string
	if !tb.until(func() bool {
		asked = append(asked, h.asked()...)
		return len(asked) > 100
	}) {
		t.Fatalf("only %d files were asked for", len(asked))
	}
	for _, path := range asked[:100] {
		came[path] = true
	}
	if names := tb.caches(base); len(names) != 2 {
		t.Fatalf("half an edition is not kept beside the whole one: %q", names)
	}
	for i, path := range pages(t) {
		if path == "404.html" || path == "print.html" {
			continue // they load no module
		}
		// A few are opened; to get all of them is faster, and asks the worker alike.
		if i%20 == 0 {
			tb.visit(path)
			if tb.next() {
				t.Errorf("%s is of the edition that has not come", path)
			}
		}
		if !evaluate[bool](tb, fmt.Sprintf(`fetch(%q).then(r => r.text()).then(t => t.includes("<main") && !t.includes(%q))`, base+path, nextMark)) {
			t.Errorf("%s is of the edition that has not come, or of none", path)
		}
	}
	tb.reckon("nitrite")
	tb.withoutSignal()

	h.asked()
	h.restore()
	tb.visit("terms.html")
	tb.keptSays("A new edition of the handbook has arrived")
	for _, path := range h.asked() {
		if came[path] && !strings.HasSuffix(path, ".js") {
			t.Errorf("%s had come and was asked for again", path)
		}
	}
	// With all its leaves closed the old edition goes by itself.
	tb.do(chromedp.Navigate("about:blank"))
	if !tb.until(func() bool {
		tb.visit("terms.html")
		if tb.next() {
			return true
		}
		tb.do(chromedp.Navigate("about:blank"))
		return false
	}) {
		t.Error("the new edition does not come by itself")
	}
	tb.keptSays("Ready for the pond")
	tb.seen() // about:blank is no place of the handbook
}

// TestSiteChangesWhileItComes gives files that are not those of the list, as a
// hosting does in the middle of an upload.
func TestSiteChangesWhileItComes(t *testing.T) {
	next := nextEdition(t)
	worker := readFile(t, world.folder, "offline.js")
	change(t, next+"/offline.js", func(string) string { return worker })
	h := newHost(t, map[string]string{base: next})
	tb := h.openAt(t, base)
	tb.visit("")
	tb.keptSays("Not ready for the pond: the site is being changed just now")
	h.publish(base, world.folder)
	tb.visit("terms.html")
	tb.keptSays("Ready for the pond")
	tb.seen() // the browser logs files that are not there
}
