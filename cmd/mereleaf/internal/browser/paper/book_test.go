package paper

import (
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// a5 is ISO 216 A5, in inches as the browser wants it.
var a5 = chromedp.PaperSize{Width: 148 / 25.4, Height: 210 / 25.4}

// TestCardsFitTheirSheets prints the cards on three papers: each takes one side.
func TestCardsFitTheirSheets(t *testing.T) {
	tb := browser.Open(t)
	tb.Visit("cards.html")
	cards := browsertest.Evaluate[int](tb, `document.querySelectorAll(".card").length`)
	if cards < 5 {
		t.Errorf("only %d cards", cards)
	}
	for name, paper := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter, "a5": a5} {
		if n := len(sheets(tb, "cards-"+name+".pdf", paper)); n != cards {
			t.Errorf("%d cards take %d pages of %s", cards, n, name)
		}
	}
}

// TestWholeBookOnPaper prints the whole handbook: what is urgent stands before
// the table of contents, which names every leaf once, and it stays a book that a
// club can print.
func TestWholeBookOnPaper(t *testing.T) {
	const most = 8 // pages for each leaf, its share of the back of the book included
	tb := browser.Open(t)
	tb.Visit("print.html")
	for what, found := range map[string]string{
		"an urgent leaf after the contents":       `[...document.querySelectorAll(".title .contents a")].filter(a => !(document.querySelector("#contents").compareDocumentPosition(document.getElementById(a.hash.slice(1))) & Node.DOCUMENT_POSITION_PRECEDING)).map(a => a.textContent)`,
		"a link that leads nowhere":               `[...document.querySelectorAll("a[href^='#']")].filter(a => !document.getElementById(a.hash.slice(1))).map(a => a.outerHTML)`,
		"a leaf that the contents lack":           `[...document.querySelectorAll(".whole:has(> .tab)")].filter(s => document.querySelectorAll("#contents a[href='#" + s.id + "']").length != 1).map(s => s.id)`,
		"a field, or more than the units' script": `[...document.querySelectorAll("script:not([data-units], [src*='/units-']), [data-module], input, select, button")].map(e => e.outerHTML)`,
	} {
		for _, one := range browsertest.Evaluate[[]string](tb, found) {
			t.Errorf("%s: %s", what, one)
		}
	}
	leaves := browsertest.Evaluate[int](tb, `document.querySelectorAll(".whole:has(> .tab)").length`)
	if n := len(sheets(tb, "whole-a4.pdf", chromedp.PaperA4)); leaves < 40 || n < leaves || n > most*leaves {
		t.Errorf("%d leaves take %d pages", leaves, n)
	}
}

// sheets prints the open page.
func sheets(tb *browsertest.Tab, name string, paper chromedp.PaperSize) []sheet {
	tb.T.Helper()
	pdf, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
	if err != nil {
		tb.T.Fatal(err)
	}
	browsertest.Keep(tb.T, name, pdf)
	sheets, err := readPDF(pdf)
	if err != nil {
		tb.T.Fatal(err)
	}
	return sheets
}
