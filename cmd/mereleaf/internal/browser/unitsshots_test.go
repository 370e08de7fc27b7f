package browser

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestUnitsShots(t *testing.T) {
	if os.Getenv("MERELEAF_SHOTS") == "" {
		t.Skip()
	}
	tb := open(t)
	tb.visit("terms.html")
	evaluate[any](tb, fmt.Sprintf(`localStorage.setItem("measures %s","us")`, base))
	for _, width := range []int64{360, 1280} {
		tb.do(chromedp.EmulateViewport(width, 800))
		for _, mode := range []string{"light", "dark"} {
			if width == 1280 || mode == "dark" {
				continue
			}
			tb.scheme(mode)
			for _, path := range []string{"reckon/tower.html", "reckon/pump-working-point.html", "reckon/drill-template.html", "filtration/drilling-and-assembling.html", "filtration/boxes-and-lids.html"} {
				tb.visit(path)
				evaluate[bool](tb, `document.querySelectorAll("details").forEach(d=>d.open=true),document.querySelectorAll(".sheet").forEach(d=>d.style.contentVisibility="visible"),new Promise(r=>setTimeout(()=>r(true),400))`)
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(60))
				if err != nil {
					t.Fatal(err)
				}
				keep(t, fmt.Sprintf("%s-%d-%s.png", strings.NewReplacer("/", "-", ".html", "").Replace(path), width, mode), picture)
			}
		}
	}
}
