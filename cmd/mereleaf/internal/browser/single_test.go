package browser

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/build"
)

// single opens the whole handbook as one file, from its folder.
func single(t *testing.T) *tab {
	t.Helper()
	tb := open(t)
	tb.address = "file://" + filepath.ToSlash(filepath.Join(filepath.Dir(world.folder), build.SingleName))
	tb.phone()
	return tb
}

// leaf goes to a leaf of the file and waits until it is shown.
func (tb *tab) leaf(address string) {
	tb.t.Helper()
	if here := evaluate[string](tb, `location.protocol`); here == "file:" {
		evaluate[bool](tb, fmt.Sprintf(`(location.hash = %q, true)`, address))
	} else {
		tb.do(chromedp.Navigate(tb.address + "#" + address))
	}
	path, _, _ := strings.Cut(address, "?")
	path, _, _ = strings.Cut(path, "#")
	tb.shown(path)
}

// shown waits until a leaf is on the screen.
func (tb *tab) shown(path string) {
	tb.t.Helper()
	tb.await(fmt.Sprintf(`document.documentElement.dataset.leaf === %q`, path), path+" is not shown")
}

func TestSingleFileIsLight(t *testing.T) {
	if world.missing != "" {
		skipOrFail(t, world.missing)
	}
	// The links that bind every quantity and the marks of units take some 0.15 MB; the
	// module half of all.
	const most = 3_450_000
	info, err := os.Stat(filepath.Join(filepath.Dir(world.folder), build.SingleName))
	if err != nil || info.Size() > most {
		t.Errorf("%v: %d bytes; at most %d", err, info.Size(), most)
	}
}

// TestSingleFileShowsEveryLeaf opens each leaf by its fragment: it has its
// heading, fits the screen, and nothing in it asks for anything outside.
func TestSingleFileShowsEveryLeaf(t *testing.T) {
	tb := single(t)
	tb.leaf("index.html")
	for i, path := range pages(t) {
		if strings.HasPrefix(path, "figures/") && i%10 != 0 {
			continue // they have one template
		}
		switch path {
		case "404.html", "cards.html", "print.html":
			continue // for a server, and for paper
		}
		tb.leaf(path)
		if heading := evaluate[string](tb, `document.querySelector("h1")?.textContent ?? ""`); heading == "" {
			t.Errorf("%s: no heading is shown", path)
		}
		if out := evaluate[string](tb, `[...document.querySelectorAll("a[href]")].map(a => a.getAttribute("href")).filter(h => !/^(#|https?:|mailto:|blob:)/.test(h)).join(" ")`); out != "" {
			t.Errorf("%s: links lead out of the file: %s", path, out)
		}
		for _, f := range tb.seen() {
			t.Errorf("%s: %s", path, f)
		}
	}
}

// TestSingleFileReckons asks each calculator from the folder, without a server,
// and compares with native code.
func TestSingleFileReckons(t *testing.T) {
	tb := single(t)
	for _, c := range pondtest.All(t).All() {
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		tb.leaf("reckon/" + c.ID + ".html")
		tb.ready(c.ID)
		tb.shows(c.ID, want)
	}
}

// TestSingleFileTower plans the tower from a folder: a scenario, the reader's own
// fish, a reload, and the way back.
func TestSingleFileTower(t *testing.T) {
	tb := single(t)
	tb.touch()
	tb.leaf("water/ammonia.html#do-this-in-order")
	if top := evaluate[float64](tb, `document.getElementById("do-this-in-order").getBoundingClientRect().top`); top < -50 || top > 400 {
		t.Errorf("the anchor stands at %v", top)
	}
	tb.leaf("reckon/tower.html")
	tb.ready("tower")
	ready := mustFind(t, "tower").Ready[0]
	tb.start("tower", ready.Name)
	tb.shows("tower", native(t, "tower", ready.Given...))
	tb.do(chromedp.Reload())
	tb.ready("tower")
	tb.shows("tower", native(t, "tower", ready.Given...))
	evaluate[bool](tb, `(history.back(), true)`)
	tb.shown("water/ammonia.html")
	// What a link says to a pad counts in the file too.
	tb.leaf("reckon/free-ammonia.html?tan=3+mg/L&ph=8.4&temperature=20+Cel")
	tb.ready("free-ammonia")
	tb.await(fmt.Sprintf(`document.querySelector(%q).value === "8.4"`, pad("free-ammonia")+` input[name="ph"]`), "the link's pH is not in the field")
	if text := tb.text(pad("free-ammonia") + " .answer"); !strings.Contains(text, "0.27") {
		t.Errorf("%q", text)
	}
}
