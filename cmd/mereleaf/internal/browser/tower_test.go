package browser

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
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
