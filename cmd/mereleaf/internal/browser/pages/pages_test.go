package pages

import (
	"hash/crc32"
	"maps"
	"os"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestEveryPage opens every page at phone width: no console error, no exception, no
// request to another host, nothing wider than the screen, no word of a drawing over
// its edge, where it would be cut off. axe-core finds nothing on it in light, and on a
// page of each kind nothing in dark that colours can break. The whole handbook on one
// page is these pages again and not given to axe-core. Of the pages of figure sets and
// of calculators, which have one template each, those of each kind and every tenth
// are, unless everyColour is set.
func TestEveryPage(t *testing.T) {
	script := browsertest.AxeScript(t)
	list := browser.Pages(t)
	dark := browser.OfEachKind(list)
	var words atomic.Int64
	t.Run("pages", func(t *testing.T) {
		browser.EachPage(t, list, func(tb *browsertest.Tab, path string) {
			if width := browsertest.Evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
				tb.T.Errorf("%s is %d px wide on a screen of 360", path, width)
			}
			words.Add(browsertest.Evaluate[int64](tb, `document.querySelectorAll("svg[role=img] text").length`))
			for _, word := range browsertest.Evaluate[[]string](tb, overEdge) {
				tb.T.Errorf("%s: the words %q run over the edge of their drawing", path, word)
			}
			if path != "print.html" && (sampled(path) || dark[path]) {
				tb.Accessible(script, path+" (light)", browsertest.EveryRule)
			}
			if dark[path] {
				tb.Scheme("dark")
				tb.Accessible(script, path+" (dark)", browsertest.ColourRules)
				browsertest.Call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
			}
		})
	})
	if words.Load() == 0 {
		t.Error("no drawing has words")
	}
}

const overEdge = `[...document.querySelectorAll("svg[role=img] text")].filter(e => {
	const word = e.getBoundingClientRect(), all = e.ownerSVGElement.closest("svg[role=img]").getBoundingClientRect()
	const air = word.height / 4 // over and under the letters
	return word.width > 0 && (word.left < all.left - 1 || word.right > all.right + 1 || word.top < all.top - air || word.bottom > all.bottom + air)
}).map(e => e.textContent)`

// sampled is every page but nine of ten of those that are made by the hundred, of
// figure sets and of calculators.
func sampled(path string) bool {
	many := strings.HasPrefix(path, "figures/") || strings.HasPrefix(path, "reckon/")
	return os.Getenv(browsertest.EveryColour) != "" || !many || crc32.ChecksumIEEE([]byte(path))%10 == 0
}

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
