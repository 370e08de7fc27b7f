package paper

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestTowerPaper prints the sheet of each scenario, on A4 and on Letter: a keeper
// takes four pages to the shed, not twenty.
func TestTowerPaper(t *testing.T) {
	tb := browser.Open(t)
	for _, ready := range browsertest.Calculator(t, "tower").Ready {
		tb.Reckon("tower")
		tb.Start("tower", ready.Name)
		for name, paper := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
			if err != nil {
				t.Fatal(err)
			}
			browsertest.Keep(t, fmt.Sprintf("tower-%s-%s.pdf", strings.Fields(ready.Name)[0], name), pdf)
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
