package looks

import (
	"maps"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestLargeText reads a page of each kind, but not the one for paper, with letters of
// twice the usual size and in the reader's own colours, both as set in the browser:
// nothing may be wider than the screen, and axe-core finds nothing in what size, place
// and colours can break (WCAG 2.2, 1.4.3, 1.4.4, 1.4.10 and 2.5.8).
func TestLargeText(t *testing.T) {
	script := browsertest.AxeScript(t)
	large := func(tb *browsertest.Tab) {
		browsertest.Call(tb, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: 32}})
	}
	list := slices.Sorted(maps.Keys(browser.OfEachKind(browser.Pages(t))))
	browser.EachPage(t, list, func(tb *browsertest.Tab, path string) {
		large(tb)
		browsertest.Call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}})
		if size := browsertest.Evaluate[string](tb, `getComputedStyle(document.documentElement).fontSize`); size < "32" {
			tb.T.Fatalf("the letters are %s", size)
		}
		if width := browsertest.Evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
			wide := browsertest.Evaluate[[]string](tb, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 361 && !e.closest(".table, pre, .tex")).slice(0, 3).map(e => e.outerHTML.slice(0, 80))`)
			tb.T.Errorf("%s with large text is %d px wide on a screen of 360: %q", path, width, wide)
		}
		tb.Accessible(script, path+" (large text, own colours)", browsertest.LayoutRules)
	})
}

// TestTargetsAreLargeEnough measures what a wet thumb has to hit.
func TestTargetsAreLargeEnough(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	for _, path := range []string{"index.html", "water/ammonia.html", "reckon/free-ammonia.html", "record.html"} {
		tb.Visit(path)
		small := browsertest.Evaluate[[]string](tb, `[...document.querySelectorAll("nav a, button, input, select, summary")]
			.filter(e => e.checkVisibility() && e.getBoundingClientRect().width > 1 && Math.min(e.getBoundingClientRect().width, e.getBoundingClientRect().height) < 43.5)
			.map(e => e.outerHTML.slice(0, 80))`)
		for _, s := range small {
			t.Errorf("%s: smaller than 44 px: %s", path, s)
		}
	}
}
