package browser

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// looked lists the pages of which pictures are taken: one of each kind.
var looked = [...]string{
	"index.html", "water/index.html", "water/ammonia.html", "media/choosing-media.html", "safety/electricity.html",
	"filtration/how-a-tower-works.html", "book/how-to-read-it.html",
	"reckon/index.html", "reckon/free-ammonia.html", "reckon/fish-weight.html", "reckon/pump-working-point.html", "reckon/drill-template.html", "reckon/tower.html",
	"figures/index.html", "figures/water-ammonia-limits.html", "terms.html", "sources.html", "find.html",
}

// keep leaves a picture in the folder of MERELEAF_SHOTS for a person to look
// at.
func keep(t testing.TB, name string, data []byte) {
	t.Helper()
	folder := os.Getenv("MERELEAF_SHOTS")
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestPictures takes pictures of pages in light and dark, on a phone and on a
// laptop, and sees that the paper is light in one and dark in the other. Unless
// somebody is going to look at them, two will do.
func TestPictures(t *testing.T) {
	tb := open(t)
	looked := looked[:]
	if os.Getenv("MERELEAF_SHOTS") == "" {
		looked = looked[:2]
	}
	for _, width := range []int64{360, 1280} {
		tb.do(chromedp.EmulateViewport(width, 800))
		for _, mode := range []string{"light", "dark"} {
			tb.scheme(mode)
			for _, path := range looked {
				tb.visit(path)
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				name := fmt.Sprintf("%s-%d-%s.png", strings.NewReplacer("/", "-", ".html", "").Replace(path), width, mode)
				keep(t, name, picture)
				if light := paper(t, picture); light != (mode == "light") {
					t.Errorf("%s: the paper is light: %v", name, light)
				}
			}
		}
	}
}

// paper reports whether the corner of a picture is light.
func paper(t *testing.T, picture []byte) bool {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	r, g, b, _ := m.At(2, 2).RGBA()
	return r+g+b > 3*0x8000
}

// TestPaper prints pages to PDF. The thumb index stays on the screen, and a
// chapter or the cover takes a few sheets, not dozens.
func TestPaper(t *testing.T) {
	tb := open(t)
	for _, path := range looked {
		tb.visit(path)
		sheet, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			t.Fatal(err)
		}
		keep(t, strings.NewReplacer("/", "-", ".html", ".pdf").Replace(path), sheet)
		sheets := bytes.Count(sheet, []byte("/Type /Page\n")) + bytes.Count(sheet, []byte("/Type /Page "))
		few := path == "index.html" || strings.HasPrefix(path, "water/am")
		if sheets == 0 || few && sheets > 9 {
			t.Errorf("%s prints on %d sheets", path, sheets)
		}
	}
}
