package pages

import (
	"hash/crc32"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/emulation"

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
