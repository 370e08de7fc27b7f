package reckon

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
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestTowerPictures takes pictures of the tower's leaf with each scenario. Nothing
// may be wider than the screen.
func TestTowerPictures(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	ready := browsertest.Calculator(t, "tower").Ready
	for _, width := range []int64{360, 1280} {
		tb.Do(chromedp.EmulateViewport(width, 800, chromedp.EmulateTouch))
		for _, mode := range []string{"light", "dark"} {
			tb.Scheme(mode)
			tb.Reckon("tower")
			tb.Start("tower", ready[0].Name)
			picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
			if err != nil {
				t.Fatal(err)
			}
			browsertest.Keep(t, fmt.Sprintf("tower-%d-%s.png", width, mode), picture)
			if wide := browsertest.Evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
				t.Errorf("the leaf is %d px wide on a screen of %d", wide, width)
			}
		}
	}
}

// TestTowerFromScenarios starts from each scenario: the pad reckons it, a reload
// shows it again, and nothing of it is kept as the reader's.
func TestTowerFromScenarios(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("tower")
	tb.Do(chromedp.Click(chromedp.CSS(browsertest.Pad("tower") + " .fine summary")))
	tb.Write("tower", "ph", "7.5")
	tb.Write("tower", "volume", "777")
	own := tb.Kept()
	for _, ready := range browsertest.Calculator(t, "tower").Ready {
		want := browsertest.Answer(t, "tower", ready.Given...)
		tb.Start("tower", ready.Name)
		tb.Shows("tower", want)
		tb.Says(browsertest.Pad("tower")+" .state", "Your own numbers are still kept")
		tb.Do(chromedp.Reload())
		tb.Ready("tower")
		tb.Shows("tower", want)
		if tb.Kept() != own {
			t.Fatalf("%s: kept is %s; it was %s", ready.Name, tb.Kept(), own)
		}
	}
	for _, line := range browsertest.Evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(b => Math.round(b.getBoundingClientRect().height) + " " + b.textContent)`, browsertest.Pad("tower")+" [data-ready], .jumps a")) {
		if high := 0; !scan(line, &high) || high < 44 {
			t.Errorf("too low for a thumb: %s", line)
		}
	}
	tb.Do(chromedp.Click(chromedp.CSS(".jumps li:last-child a")))
	tb.Await(`(r => r.top >= 0 && r.top < innerHeight / 2)(document.querySelector(".sheet:last-of-type").getBoundingClientRect())`, "the link to the last part of the sheet does not lead there")
	tb.Reckon("tower")
	if got := tb.Holds("tower", "volume") + " " + tb.Holds("tower", "ph"); got != "777 7.5" {
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
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("tower")
	ready := browsertest.Calculator(t, "tower").Ready[1] // the worked example too, which the fresh profile has
	tb.Start("tower", ready.Name)
	before := sheet(tb)
	row := browsertest.Pad("tower") + ` [data-input="fish"] .line:nth-child(1) `
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelectorAll(%q).forEach(f => f.value = "") ?? true`, row+"input"))
	tb.Do(chromedp.SendKeys(chromedp.CSS(row+`input[name="length"]`), "38"), chromedp.SendKeys(chromedp.CSS(row+`input[name="count"]`), "9"))
	tb.Write("tower", "box-height", "320")
	args := calculators.With(calculators.With(ready.Given, calculators.Arg{Name: "fish", Value: "koi, 38 cm, 9"}), calculators.Arg{Name: "box-height", Value: "320 mm"})
	tb.Shows("tower", browsertest.Answer(t, "tower", args...))
	plan := sheet(tb)
	if slices.Equal(plan, before) {
		t.Fatal("other fish and other boxes make the same sheet")
	}
	same := func(tb *browsertest.Tab, when string) {
		t.Helper()
		tb.Ready("tower")
		if diff := cmp.Diff(plan, sheet(tb)); diff != "" {
			t.Errorf("%s the sheet differs: %s", when, diff)
		}
	}
	tb.Do(chromedp.Reload())
	same(tb, "after a reload")

	folder := t.TempDir()
	browsertest.Call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	tb.Record()
	tb.Await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := browsertest.Evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	tb.Do(chromedp.Click(chromedp.CSS(`[data-part="export"]`)))
	file := filepath.Join(folder, "pond-record-"+tb.Now().Format(time.DateOnly)+".json")
	tb.Downloaded(file)
	tb.Press("erase")
	tb.Press("yes")
	tb.Reckon("tower")
	if diff := cmp.Diff(before, sheet(tb)); diff != "" {
		t.Errorf("after erasing, the sheet differs from the worked example's: %s", diff)
	}
	tb.Record()
	tb.Upload(file)
	tb.Says(`[data-part="said"]`, "Taken from the file")
	tb.Visit("reckon/tower.html")
	same(tb, "after export, erasing and import")

	fresh := browser.Open(t)
	fresh.Touch()
	fresh.Do(chromedp.Navigate(link))
	fresh.Says(`[data-part="said"]`, "Taken from the link")
	fresh.Visit("reckon/tower.html")
	same(fresh, "in a fresh profile")
}

// sheet is the whole answer of the tower, piece by piece.
func sheet(tb *browsertest.Tab) []string {
	tb.T.Helper()
	return browsertest.Evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(e => e.textContent)`, browsertest.Pad("tower")+" .answer :is(p, output, h3, dt, dd, li, th, td, desc)"))
}

// TestTowerThatDoesNotFit finds what to change before any number.
func TestTowerThatDoesNotFit(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("tower")
	tb.Write("tower", "recess", "0")
	want := browsertest.Answer(t, "tower", calculators.With(browsertest.Calculator(t, "tower").Example.Given, calculators.Arg{Name: "recess", Value: "0 mm"})...)
	if !want.Unfit {
		t.Fatal("a tower with flat lids fits")
	}
	if text := tb.Text(browsertest.Pad("tower") + " .found"); !strings.HasPrefix(text, want.Advice[0]) {
		t.Errorf("the answer begins %q", text)
	}
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Keep(t, "tower-unfit-360.png", picture)
}

// TestTowerAccessible runs axe-core over a tower that does not fit, with all its
// inputs unfolded.
func TestTowerAccessible(t *testing.T) {
	script := browsertest.AxeScript(t)
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("tower")
	tb.Start("tower", browsertest.Calculator(t, "tower").Ready[2].Name)
	tb.Write("tower", "recess", "0")
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].every(d => d.open = true)`, browsertest.Pad("tower")+" details"))
	tb.Accessible(script, "unfit", browsertest.EveryRule)
}
