package drawing

import (
	"math"
	"strconv"
	"testing"

	"mereleaf/calculators/markup/markuptest"
)

// tray is a small floor with two staggered rows.
func tray() *Floor {
	f := &Floor{Title: "Plan of the drilled floor", Length: 560, Width: 360, Margin: 20, Hole: 8, Along: 65, Apart: 64}
	for row := range 6 {
		for column := range 9 - row%2 {
			f.Holes = append(f.Holes, Point{20 + 65*float64(column) + 32.5*float64(row%2), 20 + 64*float64(row)})
		}
	}
	return f
}

func TestFloorPictures(t *testing.T) {
	golden(t, "floor.svg", tray().SVG())
	narrow := &Floor{Title: "Plan of a strip", Length: 90, Width: 400, Margin: 10, Hole: 6, Apart: 95}
	for row := range 5 {
		narrow.Holes = append(narrow.Holes, Point{45, 10 + 95*float64(row)})
	}
	golden(t, "floor-strip.svg", narrow.SVG())
}

// All words lie on the drawing, and none upon another.
func TestWordsOfDrawingsKeepApart(t *testing.T) {
	for name, svg := range map[string]string{"stack": five().SVG(), "floor": tray().SVG()} {
		all := markuptest.Elements(t, svg)
		type box struct{ left, right, top, foot float64 }
		var boxes []box
		texts := markuptest.Find(all, "text", "")
		for _, e := range texts {
			if e.Attrs["transform"] != "" {
				continue // upright
			}
			x, errX := strconv.ParseFloat(e.Attrs["x"], 64)
			y, errY := strconv.ParseFloat(e.Attrs["y"], 64)
			if errX != nil || errY != nil {
				t.Fatal(errX, errY)
			}
			w := wide(e.Text)
			left := map[string]float64{"": x, "middle": x - w/2, "end": x - w}[e.Attrs["text-anchor"]]
			b := box{left, left + w, y - 0.75*letterSize, y}
			if b.left < 0 || b.right > width || b.top < 0 {
				t.Errorf("%s: %q leaves the drawing: %v", name, e.Text, b)
			}
			for i, o := range boxes {
				if math.Min(b.right, o.right) > math.Max(b.left, o.left) && math.Min(b.foot, o.foot) > math.Max(b.top, o.top) {
					t.Errorf("%s: %q lies on %q", name, e.Text, texts[i].Text)
				}
			}
			boxes = append(boxes, b)
		}
		if len(boxes) < 4 {
			t.Errorf("%s: %d words", name, len(boxes))
		}
	}
}
