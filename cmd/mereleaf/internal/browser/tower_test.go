package browser

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators"
)

// TestTowerPictures takes pictures of the tower's leaf with each scenario. Nothing
// may be wider than the screen.
func TestTowerPictures(t *testing.T) {
	tb := open(t)
	tb.touch()
	ready := mustFind(t, "tower").Ready
	for _, width := range []int64{360, 1280} {
		tb.do(chromedp.EmulateViewport(width, 800, chromedp.EmulateTouch))
		for _, mode := range []string{"light", "dark"} {
			tb.scheme(mode)
			tb.reckon("tower")
			tb.start("tower", ready[0].Name)
			picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
			if err != nil {
				t.Fatal(err)
			}
			keep(t, fmt.Sprintf("tower-%d-%s.png", width, mode), picture)
			if wide := evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
				t.Errorf("the leaf is %d px wide on a screen of %d", wide, width)
			}
		}
	}
}

// start touches the button of a ready scenario.
func (tb *tab) start(id, name string) {
	tb.t.Helper()
	evaluate[bool](tb, fmt.Sprintf(`([...document.querySelectorAll(%q)].find(b => b.textContent === %q).dataset.wanted = "", true)`, pad(id)+" [data-ready]", name))
	tb.do(chromedp.Click(chromedp.CSS(pad(id) + " [data-wanted]")))
	evaluate[bool](tb, fmt.Sprintf(`(delete document.querySelector(%q).dataset.wanted, true)`, pad(id)+" [data-wanted]"))
	if note := tb.text(pad(id) + " .whose"); !strings.HasPrefix(note, name+". ") {
		tb.t.Errorf("started from %s, the pad says %q of its numbers", name, note)
	}
}

// TestTowerPaper prints the sheet of each scenario, on A4 and on Letter: a keeper
// takes four pages to the shed, not twenty.
func TestTowerPaper(t *testing.T) {
	tb := open(t)
	for _, ready := range mustFind(t, "tower").Ready {
		tb.reckon("tower")
		tb.start("tower", ready.Name)
		for name, paper := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
			if err != nil {
				t.Fatal(err)
			}
			keep(t, fmt.Sprintf("tower-%s-%s.pdf", strings.Fields(ready.Name)[0], name), pdf)
			sheets, err := readPDF(pdf)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(sheets); n > 4 {
				t.Errorf("%s takes %d pages of %s", ready.Name, n, name)
			}
		}
	}
}

// TestTowerFromScenarios starts from each scenario: the pad reckons it, a reload
// shows it again, and nothing of it is kept as the reader's.
func TestTowerFromScenarios(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("tower")
	tb.do(chromedp.Click(chromedp.CSS(pad("tower") + " .fine summary")))
	tb.write("tower", "ph", "7.5")
	tb.write("tower", "volume", "777")
	own := tb.kept()
	for _, ready := range mustFind(t, "tower").Ready {
		want := native(t, "tower", ready.Given...)
		tb.start("tower", ready.Name)
		tb.shows("tower", want)
		tb.says(pad("tower")+" .state", "Your own numbers are still kept")
		tb.do(chromedp.Reload())
		tb.ready("tower")
		tb.shows("tower", want)
		if tb.kept() != own {
			t.Fatalf("%s: kept is %s; it was %s", ready.Name, tb.kept(), own)
		}
	}
	for _, line := range evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(b => Math.round(b.getBoundingClientRect().height) + " " + b.textContent)`, pad("tower")+" [data-ready], .jumps a")) {
		if high := 0; !scan(line, &high) || high < 44 {
			t.Errorf("too low for a thumb: %s", line)
		}
	}
	tb.do(chromedp.Click(chromedp.CSS(".jumps li:last-child a")))
	tb.await(`(r => r.top >= 0 && r.top < innerHeight / 2)(document.querySelector(".sheet:last-of-type").getBoundingClientRect())`, "the link to the last part of the sheet does not lead there")
	tb.reckon("tower")
	if got := tb.holds("tower", "volume") + " " + tb.holds("tower", "ph"); got != "777 7.5" {
		t.Errorf("without a scenario, volume and pH are %q", got)
	}
}

func scan(line string, high *int) bool {
	n, err := fmt.Sscan(line, high)
	return n == 1 && err == nil
}

// TestTowerKeepsThePlan fills the tower in with a thumb, and finds the same plan
// after a reload, after export, erasing and import, and by the record's link in a
// profile that knows nothing.
func TestTowerKeepsThePlan(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("tower")
	ready := mustFind(t, "tower").Ready[1] // the worked example too, which the fresh profile has
	tb.start("tower", ready.Name)
	before := tb.sheet()
	row := pad("tower") + ` [data-input="fish"] .line:nth-child(1) `
	evaluate[bool](tb, fmt.Sprintf(`document.querySelectorAll(%q).forEach(f => f.value = "") ?? true`, row+"input"))
	tb.do(chromedp.SendKeys(chromedp.CSS(row+`input[name="length"]`), "38"), chromedp.SendKeys(chromedp.CSS(row+`input[name="count"]`), "9"))
	tb.write("tower", "box-height", "320")
	args := calculators.With(calculators.With(ready.Given, calculators.Arg{Name: "fish", Value: "koi, 38 cm, 9"}), calculators.Arg{Name: "box-height", Value: "320 mm"})
	tb.shows("tower", native(t, "tower", args...))
	plan := tb.sheet()
	if slices.Equal(plan, before) {
		t.Fatal("other fish and other boxes make the same sheet")
	}
	same := func(tb *tab, when string) {
		t.Helper()
		tb.ready("tower")
		if diff := cmp.Diff(plan, tb.sheet()); diff != "" {
			t.Errorf("%s the sheet differs: %s", when, diff)
		}
	}
	tb.do(chromedp.Reload())
	same(tb, "after a reload")

	folder := t.TempDir()
	call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	tb.record()
	tb.await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	tb.do(chromedp.Click(chromedp.CSS(`[data-part="export"]`)))
	file := filepath.Join(folder, "pond-record-"+now().Format(time.DateOnly)+".json")
	tb.downloaded(file)
	tb.press("erase")
	tb.press("yes")
	tb.reckon("tower")
	if diff := cmp.Diff(before, tb.sheet()); diff != "" {
		t.Errorf("after erasing, the sheet differs from the worked example's: %s", diff)
	}
	tb.record()
	tb.upload(file)
	tb.says(`[data-part="said"]`, "Taken from the file")
	tb.visit("reckon/tower.html")
	same(tb, "after export, erasing and import")

	fresh := open(t)
	fresh.touch()
	fresh.do(chromedp.Navigate(link))
	fresh.says(`[data-part="said"]`, "Taken from the link")
	fresh.visit("reckon/tower.html")
	same(fresh, "in a fresh profile")
}

// sheet is the whole answer of the tower, piece by piece.
func (tb *tab) sheet() []string {
	tb.t.Helper()
	return evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(e => e.textContent)`, pad("tower")+" .answer :is(p, output, h3, dt, dd, li, th, td, desc)"))
}

// TestTowerThatDoesNotFit finds what to change before any number.
func TestTowerThatDoesNotFit(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("tower")
	tb.write("tower", "recess", "0")
	want := native(t, "tower", calculators.With(mustFind(t, "tower").Example.Given, calculators.Arg{Name: "recess", Value: "0 mm"})...)
	if !want.Unfit {
		t.Fatal("a tower with flat lids fits")
	}
	if text := tb.text(pad("tower") + " .found"); !strings.HasPrefix(text, want.Advice[0]) {
		t.Errorf("the answer begins %q", text)
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, "tower-unfit-360.png", picture)
}

// TestTowerAccessible runs axe-core over a tower that does not fit, with all its
// inputs unfolded.
func TestTowerAccessible(t *testing.T) {
	script := axeScript(t)
	tb := open(t)
	tb.touch()
	tb.reckon("tower")
	tb.start("tower", mustFind(t, "tower").Ready[2].Name)
	tb.write("tower", "recess", "0")
	evaluate[bool](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].every(d => d.open = true)`, pad("tower")+" details"))
	tb.accessible(script, "unfit", everyRule)
}
