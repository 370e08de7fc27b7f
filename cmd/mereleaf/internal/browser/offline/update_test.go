package offline

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestUpdateWaits publishes an edition while two leaves of the one before are
// open, and takes it without a signal.
func TestUpdateWaits(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Reckon("nitrite")
	tb.Write("nitrite", "reading", "0.7")
	keptSays(tb, "Ready for the pond")
	before, record := caches(tb, browsertest.Base), tb.Kept()
	other := tb.Beside()
	other.Address = tb.Address
	other.Visit("water/ammonia.html")

	h.Publish(browsertest.Base, nextEdition(t))
	h.Asked()
	tb.Visit("terms.html")
	keptSays(tb, "A new edition of the handbook has arrived")
	for _, path := range h.Asked() {
		if strings.HasSuffix(path, ".css") || strings.HasSuffix(path, ".png") {
			t.Errorf("%s is the same as before and came from the site again", path)
		}
	}
	browsertest.Evaluate[bool](tb, `(document.querySelector(".keeping details").open = true)`)
	if got, want := tb.Text(".keeping ul"), "Chapters: "+title(t, nextChapter)+".Figures: "+title(t, nextSet)+"."; got != want {
		t.Errorf("what has changed is %q; want %q", got, want)
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Keep(t, "offline-update-360.png", picture)
	tb.Visit("water/ammonia.html")
	if isNext(tb) {
		t.Error("the new edition shows before anybody wanted it")
	}
	keptSays(tb, "A new edition")

	h.Lose(0)
	wantIt(tb)
	tb.Await(`document.querySelector("main")?.dataset.edition === "next"`, "the new edition does not come although it is wanted")
	isNext(tb)
	keptSays(tb, "Ready for the pond")
	tb.Reckon("nitrite")
	if !isNext(tb) {
		t.Error("the calculator's leaf is of the edition before")
	}
	if got := tb.Holds("nitrite", "reading"); got != "0.7" {
		t.Errorf("the reading is %q", got)
	}
	keptSays(other, "edition before")
	if isNext(other) {
		t.Error("the other leaf changed by itself")
	}
	wantIt(other)
	other.Await(`document.querySelector("main")?.dataset.edition === "next"`, "the other leaf does not follow")
	if after := caches(tb, browsertest.Base); len(after) != 1 || after[0] == before[0] {
		t.Errorf("stores before %q, after %q", before, after)
	}
	if tb.Kept() != record {
		t.Errorf("the pond record was %s and is %s", record, tb.Kept())
	}
	withoutSignal(tb)
	withoutSignal(other)
}

// TestUpdateCutHalfWay loses the connection while an edition comes. Nothing of it
// shows until it is whole, and what has come is not asked for again.
func TestUpdateCutHalfWay(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Visit("")
	keptSays(tb, "Ready for the pond")
	tb.Visit("") // now through the worker
	keptSays(tb, "Ready for the pond")

	h.Publish(browsertest.Base, nextEdition(t))
	h.Asked()
	h.Lose(100)
	tb.Visit("terms.html")
	came := map[string]bool{}
	var asked []string
	if !tb.Until(func() bool {
		asked = append(asked, h.Asked()...)
		return len(asked) > 100
	}) {
		t.Fatalf("only %d files were asked for", len(asked))
	}
	for _, path := range asked[:100] {
		came[path] = true
	}
	if names := caches(tb, browsertest.Base); len(names) != 2 {
		t.Fatalf("half an edition is not kept beside the whole one: %q", names)
	}
	all := slices.DeleteFunc(browser.Pages(t), func(path string) bool { return path == "404.html" || path == "print.html" }) // they load no module
	for i := 0; i < len(all); i += 20 {                                                                                      // a few are opened
		tb.Visit(all[i])
		if isNext(tb) {
			t.Errorf("%s is of the edition that has not come", all[i])
		}
	}
	for path, got := range digests(tb, all) { // to get all of them is faster, and asks the worker alike
		if want := sha256.Sum256([]byte(readFile(t, browser.Edition(t), path))); got != hex.EncodeToString(want[:]) {
			t.Errorf("%s is of the edition that has not come, or of none", path)
		}
	}
	tb.Reckon("nitrite")
	withoutSignal(tb)

	h.Asked()
	h.Restore()
	tb.Visit("terms.html")
	keptSays(tb, "A new edition of the handbook has arrived")
	for _, path := range h.Asked() {
		if came[path] && !strings.HasSuffix(path, ".js") {
			t.Errorf("%s had come and was asked for again", path)
		}
	}
	// With all its leaves closed the old edition goes by itself.
	tb.Do(chromedp.Navigate("about:blank"))
	if !tb.Until(func() bool {
		tb.Visit("terms.html")
		if isNext(tb) {
			return true
		}
		tb.Do(chromedp.Navigate("about:blank"))
		return false
	}) {
		t.Error("the new edition does not come by itself")
	}
	keptSays(tb, "Ready for the pond")
	tb.Seen() // about:blank is no place of the handbook
}

// TestSiteChangesWhileItComes gives files that are not those of the list, as a
// hosting does in the middle of an upload.
func TestSiteChangesWhileItComes(t *testing.T) {
	next := nextEdition(t)
	worker := readFile(t, browser.Edition(t), "offline.js")
	change(t, next+"/offline.js", func(string) string { return worker })
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: next})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Visit("")
	keptSays(tb, "Not ready for the pond: the site is being changed just now")
	h.Publish(browsertest.Base, browser.Edition(t))
	tb.Visit("terms.html")
	keptSays(tb, "Ready for the pond")
	tb.Seen() // the browser logs files that are not there
}
