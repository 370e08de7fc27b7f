package drawing

import (
	"math"
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

func TestWordsOfPicturesKeepApart(t *testing.T) {
	for name, svg := range map[string]string{"stack": five().SVG(), "floor": tray().SVG()} {
		for _, fault := range crowded(t, svg) {
			t.Errorf("%s: %s", name, fault)
		}
	}
}

// crowded tells which words lie outside a drawing or upon each other.
func crowded(t *testing.T, svg string) (faults []string) {
	t.Helper()
	all := markuptest.Elements(t, svg)
	view := numbers(t, all[0].Attrs["viewBox"])
	type box struct{ left, right, top, foot float64 }
	var boxes []box
	texts := markuptest.Find(all, "text", "")
	for i, e := range texts {
		if e.Attrs["transform"] != "" {
			boxes = append(boxes, box{}) // upright, beside its line
			continue
		}
		at := numbers(t, e.Attrs["x"]+" "+e.Attrs["y"])
		w := wide(e.Text)
		left := map[string]float64{"": at[0], "middle": at[0] - w/2, "end": at[0] - w}[e.Attrs["text-anchor"]]
		b := box{left, left + w, at[1] - 0.75*letterSize, at[1]}
		if b.left < 0 || b.right > view[2] || b.top < 0 || b.foot > view[3] {
			faults = append(faults, e.Text+" leaves the drawing")
		}
		for j, o := range boxes {
			if math.Min(b.right, o.right) > math.Max(b.left, o.left) && math.Min(b.foot, o.foot) > math.Max(b.top, o.top) {
				faults = append(faults, texts[i].Text+" lies on "+texts[j].Text)
			}
		}
		boxes = append(boxes, b)
	}
	if len(boxes) < 4 {
		faults = append(faults, "too few words")
	}
	return faults
}
