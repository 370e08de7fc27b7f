package onefile

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

func TestSingleFileIsLight(t *testing.T) {
	// The links that bind every quantity and the marks of units take some 0.15 MB; the
	// module half of all.
	const most = 3_450_000
	info, err := os.Stat(browser.SingleFile(t))
	if err != nil || info.Size() > most {
		t.Errorf("%v: %d bytes; at most %d", err, info.Size(), most)
	}
}

// TestSingleFileShowsEveryLeaf opens each leaf by its fragment: it has its
// heading, fits the screen, and nothing in it asks for anything outside.
func TestSingleFileShowsEveryLeaf(t *testing.T) {
	tb := browser.Single(t)
	tb.Leaf("index.html")
	for i, path := range browser.Pages(t) {
		if strings.HasPrefix(path, "figures/") && i%10 != 0 {
			continue // they have one template
		}
		switch path {
		case "404.html", "cards.html", "print.html":
			continue // for a server, and for paper
		}
		tb.Leaf(path)
		if heading := browsertest.Evaluate[string](tb, `document.querySelector("h1")?.textContent ?? ""`); heading == "" {
			t.Errorf("%s: no heading is shown", path)
		}
		if out := browsertest.Evaluate[string](tb, `[...document.querySelectorAll("a[href]")].map(a => a.getAttribute("href")).filter(h => !/^(#|https?:|mailto:|blob:)/.test(h)).join(" ")`); out != "" {
			t.Errorf("%s: links lead out of the file: %s", path, out)
		}
		for _, f := range tb.Seen() {
			t.Errorf("%s: %s", path, f)
		}
	}
}

// TestSingleFileReckons asks each calculator from the folder, without a server,
// and compares with native code.
func TestSingleFileReckons(t *testing.T) {
	tb := browser.Single(t)
	for _, c := range pondtest.All(t).All() {
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		tb.Leaf("reckon/" + c.ID + ".html")
		tb.Ready(c.ID)
		tb.Shows(c.ID, want)
	}
}

// TestSingleFileTower plans the tower from a folder: a scenario, the reader's own
// fish, a reload, and the way back.
func TestSingleFileTower(t *testing.T) {
	tb := browser.Single(t)
	tb.Touch()
	tb.Leaf("water/ammonia.html#do-this-in-order")
	if top := browsertest.Evaluate[float64](tb, `document.getElementById("do-this-in-order").getBoundingClientRect().top`); top < -50 || top > 400 {
		t.Errorf("the anchor stands at %v", top)
	}
	tb.Leaf("reckon/tower.html")
	tb.Ready("tower")
	ready := browsertest.Calculator(t, "tower").Ready[0]
	tb.Start("tower", ready.Name)
	tb.Shows("tower", browsertest.Answer(t, "tower", ready.Given...))
	tb.Do(chromedp.Reload())
	tb.Ready("tower")
	tb.Shows("tower", browsertest.Answer(t, "tower", ready.Given...))
	tb.Back()
	tb.Shown("water/ammonia.html")
	// What a link says to a pad counts in the file too.
	tb.Leaf("reckon/free-ammonia.html?tan=3+mg/L&ph=8.4&temperature=20+Cel")
	tb.Ready("free-ammonia")
	tb.Await(fmt.Sprintf(`document.querySelector(%q).value === "8.4"`, browsertest.Pad("free-ammonia")+` input[name="ph"]`), "the link's pH is not in the field")
	if text := tb.Text(browsertest.Pad("free-ammonia") + " .answer"); !strings.Contains(text, "0.27") {
		t.Errorf("%q", text)
	}
}
