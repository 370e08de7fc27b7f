package paper

import (
	"bytes"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestPaper prints pages to PDF. The thumb index stays on the screen, and a
// chapter or the cover takes a few sheets, not dozens.
func TestPaper(t *testing.T) {
	tb := browser.Open(t)
	for _, path := range browsertest.Looked() {
		tb.Visit(path)
		sheet, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			t.Fatal(err)
		}
		browsertest.Keep(t, strings.NewReplacer("/", "-", ".html", ".pdf").Replace(path), sheet)
		sheets := bytes.Count(sheet, []byte("/Type /Page\n")) + bytes.Count(sheet, []byte("/Type /Page "))
		few := path == "index.html" || strings.HasPrefix(path, "water/am")
		if sheets == 0 || few && sheets > 9 {
			t.Errorf("%s prints on %d sheets", path, sheets)
		}
	}
}
