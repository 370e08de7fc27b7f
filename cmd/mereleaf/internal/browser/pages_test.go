package browser

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/page"
)

// TestEveryPageIsQuiet opens every page at phone width: no console error, no
// exception, no request to another host, nothing wider than the screen.
func TestEveryPageIsQuiet(t *testing.T) {
	eachPage(t, pages(t), func(tb *tab, path string) {
		if width := evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
			tb.t.Errorf("%s is %d px wide on a screen of 360", path, width)
		}
	})
}

// TestDrawingsKeepTheirWords measures the words of every drawing: none may run
// over its edge, where it would be cut off.
func TestDrawingsKeepTheirWords(t *testing.T) {
	var found atomic.Int64
	t.Run("pages", func(t *testing.T) {
		eachPage(t, pages(t), func(tb *tab, path string) {
			found.Add(evaluate[int64](tb, `document.querySelectorAll("svg[role=img] text").length`))
			for _, word := range evaluate[[]string](tb, `[...document.querySelectorAll("svg[role=img] text")].filter(e => {
				const word = e.getBoundingClientRect(), all = e.ownerSVGElement.closest("svg[role=img]").getBoundingClientRect()
				const air = word.height / 4 // over and under the letters
				return word.width > 0 && (word.left < all.left - 1 || word.right > all.right + 1 || word.top < all.top - air || word.bottom > all.bottom + air)
			}).map(e => e.textContent)`) {
				tb.t.Errorf("%s: the words %q run over the edge of their drawing", path, word)
			}
		})
	})
	if found.Load() == 0 {
		t.Error("no drawing has words")
	}
}

// TestLargeText reads with letters of twice the usual size, as set in the
// browser: nothing may be wider than the screen (WCAG 2.2, 1.4.4 and 1.4.10).
func TestLargeText(t *testing.T) {
	tb := open(t)
	tb.phone()
	call(tb, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: 32}})
	for _, path := range looked {
		tb.visit(path)
		if size := evaluate[string](tb, `getComputedStyle(document.documentElement).fontSize`); size < "33" {
			t.Fatalf("the letters are %s", size)
		}
		if width := evaluate[int](tb, `document.scrollingElement.scrollWidth`); width > 360 {
			wide := evaluate[[]string](tb, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 361 && !e.closest(".table, pre, .tex")).slice(0, 3).map(e => e.outerHTML.slice(0, 80))`)
			t.Errorf("%s with large text is %d px wide on a screen of 360: %q", path, width, wide)
		}
	}
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

// TestAccessible runs axe-core over every page, in light and in dark; of the leaves
// of figure sets, which have one template and one style, over every tenth in
// light; and not over the whole handbook on one page, which is these pages again.
func TestAccessible(t *testing.T) {
	path := os.Getenv("MERELEAF_AXE")
	if path == "" {
		skipOrFail(t, "MERELEAF_AXE does not name the axe-core script (axe.min.js of the npm package axe-core)")
	}
	script, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	sets := 0
	for _, page := range pages(t) {
		if strings.HasPrefix(page, "figures/") {
			sets++
		}
		if page != "print.html" && (!strings.HasPrefix(page, "figures/") || sets%10 == 1) {
			list = append(list, page)
		}
	}
	eachPage(t, list, func(tb *tab, page string) {
		for _, mode := range []string{"light", "dark"} {
			if mode == "dark" && strings.HasPrefix(page, "figures/") {
				continue
			}
			tb.scheme(mode)
			for _, v := range axe(tb, string(script)) {
				tb.t.Errorf("%s (%s): %s", page, mode, v)
			}
		}
	})
}

// axe returns the violations on the open page, one line each.
func axe(tb *tab, script string) []string {
	tb.t.Helper()
	evaluate[int](tb, script+";0")
	raw := evaluate[string](tb, `axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify(r.violations))`)
	var violations []struct {
		ID, Help string
		Nodes    []struct {
			Target         []any
			FailureSummary string
		}
	}
	if err := json.Unmarshal([]byte(raw), &violations); err != nil {
		tb.t.Fatal(err)
	}
	var lines []string
	for _, v := range violations {
		for _, n := range v.Nodes {
			lines = append(lines, fmt.Sprintf("%s (%s) at %v: %s", v.ID, v.Help, n.Target, strings.ReplaceAll(n.FailureSummary, "\n", " ")))
		}
	}
	return lines
}
