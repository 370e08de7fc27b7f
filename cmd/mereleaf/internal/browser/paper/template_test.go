package paper

import (
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestTemplatePrintsInTrueSize lays out holes 50 mm apart both ways, prints the
// leaf, and measures in the PDF what a keeper measures with a rule: the check bar
// of every sheet and the distance of far holes, each within 0.5 mm over 200 mm.
// The sheets come last, on the paper asked for.
func TestTemplatePrintsInTrueSize(t *testing.T) {
	const within = 0.5 / 200
	for _, paper := range []struct {
		name       string
		wide, high float64 // ISO 216 A4; ANSI/ASME Y14.1 A, in mm
		sheets     int
	}{{"a4", 210, 297, 6}, {"letter", 8.5 * 25.4, 11 * 25.4, 6}} {
		t.Run(paper.name, func(t *testing.T) {
			sheets := printed(t, paper.name)
			first := len(sheets) - paper.sheets
			if first < 1 {
				t.Fatalf("%d pages", len(sheets))
			}
			for i, s := range sheets[:first] {
				if longest(s) > 0 {
					t.Errorf("page %d has a check bar; the template begins on page %d", i+1, first+1)
				}
			}
			for i, s := range sheets[first:] {
				if math.Abs(s.wide-paper.wide) > 0.5 || math.Abs(s.high-paper.high) > 0.5 {
					t.Errorf("sheet %d is %.1f mm by %.1f mm", i+1, s.wide, s.high)
				}
				if bar := longest(s); math.Abs(bar-100) > 100*within {
					t.Errorf("the bar of sheet %d measures %.3f mm", i+1, bar)
				}
			}
			middles := crosses(sheets[first])
			across, down := farthest(middles, 0), farthest(middles, 1)
			for _, d := range []float64{across, down} {
				if off := math.Abs(d - 50*math.Round(d/50)); off > d*within {
					t.Errorf("holes that are a multiple of 50 mm apart lie %.3f mm apart", d)
				}
			}
			if across < 149 || down < 199 {
				t.Errorf("the farthest holes lie %.1f mm and %.1f mm apart: too near to tell", across, down)
			}
		})
	}
}

// printed asks for a template and prints the leaf.
func printed(t *testing.T, paper string) []sheet {
	t.Helper()
	tb := browser.Open(t)
	tb.Visit("reckon/drill-template.html?length=540+mm&width=340+mm&margin=20+mm&count=77&drill=8-mm&pattern=square&paper=" + paper)
	tb.Ready("drill-template")
	const answer = `document.querySelector("form[data-calculator=drill-template] output").textContent`
	tb.Until(func() bool { return browsertest.Evaluate[bool](tb, answer+`.startsWith("50.0")`) })
	if got := browsertest.Evaluate[string](tb, answer); got != "50.0\u00a0mm" {
		t.Fatalf("from hole to hole: %q", got)
	}
	pdf, err := chromedp.Run(tb, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Keep(t, fmt.Sprintf("template-%s.pdf", paper), pdf)
	sheets, err := readPDF(pdf)
	if err != nil {
		t.Fatal(err)
	}
	return sheets
}

// longest is the length of the longest level line that begins at the left margin
// in the lowest 25 mm of a sheet, where the check bar is.
func longest(s sheet) float64 {
	most := 0.0
	for _, l := range s.lines {
		if l.level() && l.left() < 15 && l.y1 < 25 {
			most = math.Max(most, l.long())
		}
	}
	return most
}

// crosses lists the middles of holes of 8 mm: of the level strokes that reach
// 2 mm beyond them.
func crosses(s sheet) [][2]float64 {
	var middles [][2]float64
	for _, l := range s.lines {
		if l.level() && math.Abs(l.long()-12) < 0.1 {
			middles = append(middles, l.mid())
		}
	}
	return middles
}

// farthest is the distance of the two farthest holes of one row or column.
func farthest(middles [][2]float64, along int) float64 {
	most := 0.0
	for _, a := range middles {
		for _, b := range middles {
			if math.Abs(a[1-along]-b[1-along]) < 0.1 {
				most = math.Max(most, a[along]-b[along])
			}
		}
	}
	return most
}
