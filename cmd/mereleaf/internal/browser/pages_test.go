package browser

import (
	"cmp"
	"hash/crc32"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
)

// everyColour has TestEveryPage and TestLargeText look at every page in every colour,
// which takes minutes; .ci/long sets it.
const everyColour = "MERELEAF_EVERY_COLOUR"

// TestEveryPage opens every page at phone width: no console error, no exception, no
// request to another host, nothing wider than the screen, no word of a drawing over
// its edge, where it would be cut off. axe-core finds nothing on it in light, and on a
// page of each kind nothing in dark that colours can break. The whole handbook on one
// page is these pages again and not given to axe-core. Of the pages of figure sets and
// of calculators, which have one template each, those of each kind and every tenth
// are, unless everyColour is set.
func TestEveryPage(t *testing.T) {
	script := axeScript(t)
	list := pages(t)
	dark := ofEachKind(list)
	var words atomic.Int64
	t.Run("pages", func(t *testing.T) {
		eachPage(t, list, func(tb *tab, path string) {
			if width := evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
				tb.t.Errorf("%s is %d px wide on a screen of 360", path, width)
			}
			words.Add(evaluate[int64](tb, `document.querySelectorAll("svg[role=img] text").length`))
			for _, word := range evaluate[[]string](tb, overEdge) {
				tb.t.Errorf("%s: the words %q run over the edge of their drawing", path, word)
			}
			if path != "print.html" && (sampled(path) || dark[path]) {
				tb.accessible(script, path+" (light)", everyRule)
			}
			if dark[path] {
				tb.scheme("dark")
				tb.accessible(script, path+" (dark)", colourRules)
				call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
			}
		})
	})
	if words.Load() == 0 {
		t.Error("no drawing has words")
	}
}

// ofEachKind chooses of each kind of page the longest, in which most is to be found,
// and the shortest: pages of one folder have one template, those of none each their
// own. All pages but the one for paper are chosen where everyColour is set.
func ofEachKind(list []string) map[string]bool {
	chosen := map[string]bool{}
	size := func(path string) int64 {
		info, err := os.Stat(filepath.Join(world.folder, filepath.FromSlash(path)))
		if err != nil {
			return 0
		}
		return info.Size()
	}
	kinds := map[string][]string{}
	for _, path := range list {
		kind := filepath.ToSlash(filepath.Dir(path))
		if kind == "." || os.Getenv(everyColour) != "" {
			kind = path
		}
		if path != "print.html" {
			kinds[kind] = append(kinds[kind], path)
		}
	}
	for _, of := range kinds {
		slices.SortFunc(of, func(a, b string) int { return cmp.Compare(size(a), size(b)) })
		chosen[of[0]], chosen[of[len(of)-1]] = true, true
	}
	return chosen
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
	return os.Getenv(everyColour) != "" || !many || crc32.ChecksumIEEE([]byte(path))%10 == 0
}

// TestLargeText reads a page of each kind, but not the one for paper, with letters of
// twice the usual size and in the reader's own colours, both as set in the browser:
// nothing may be wider than the screen, and axe-core finds nothing in what size, place
// and colours can break (WCAG 2.2, 1.4.3, 1.4.4, 1.4.10 and 2.5.8).
func TestLargeText(t *testing.T) {
	script := axeScript(t)
	large := func(tb *tab) {
		call(tb, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: 32}})
	}
	list := slices.Sorted(maps.Keys(ofEachKind(pages(t))))
	eachPage(t, list, func(tb *tab, path string) {
		large(tb)
		call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}})
		if size := evaluate[string](tb, `getComputedStyle(document.documentElement).fontSize`); size < "32" {
			tb.t.Fatalf("the letters are %s", size)
		}
		if width := evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
			wide := evaluate[[]string](tb, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 361 && !e.closest(".table, pre, .tex")).slice(0, 3).map(e => e.outerHTML.slice(0, 80))`)
			tb.t.Errorf("%s with large text is %d px wide on a screen of 360: %q", path, width, wide)
		}
		tb.accessible(script, path+" (large text, own colours)", layoutRules)
	})
}

// TestTargetsAreLargeEnough measures what a wet thumb has to hit.
func TestTargetsAreLargeEnough(t *testing.T) {
	tb := open(t)
	tb.phone()
	for _, path := range []string{"index.html", "water/ammonia.html", "reckon/free-ammonia.html", "record.html"} {
		tb.visit(path)
		small := evaluate[[]string](tb, `[...document.querySelectorAll("nav a, button, input, select, summary")]
			.filter(e => e.checkVisibility() && e.getBoundingClientRect().width > 1 && Math.min(e.getBoundingClientRect().width, e.getBoundingClientRect().height) < 43.5)
			.map(e => e.outerHTML.slice(0, 80))`)
		for _, s := range small {
			t.Errorf("%s: smaller than 44 px: %s", path, s)
		}
	}
}
