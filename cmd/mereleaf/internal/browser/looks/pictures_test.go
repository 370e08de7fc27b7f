package looks

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestPictures takes pictures of pages in light and dark, on a phone and on a
// laptop, and sees that the paper is light in one and dark in the other. Unless
// somebody is going to look at them, two will do.
func TestPictures(t *testing.T) {
	tb := browser.Open(t)
	looked := browsertest.Looked()
	if os.Getenv("MERELEAF_SHOTS") == "" {
		looked = looked[:2]
	}
	for _, width := range []int64{360, 1280} {
		tb.Do(chromedp.EmulateViewport(width, 800))
		for _, mode := range []string{"light", "dark"} {
			tb.Scheme(mode)
			for _, path := range looked {
				tb.Visit(path)
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				name := fmt.Sprintf("%s-%d-%s.png", strings.NewReplacer("/", "-", ".html", "").Replace(path), width, mode)
				browsertest.Keep(t, name, picture)
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
