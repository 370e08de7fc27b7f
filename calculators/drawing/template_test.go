package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/markup/markuptest"
)

func TestTemplatePictures(t *testing.T) {
	a4 := Template{Floor: *tray()}
	tiles := a4.Tiles()
	golden(t, "tile-a4-1.svg", tiles[0])
	golden(t, "tile-a4-4.svg", tiles[3])
	letter := Template{Floor: *tray(), Paper: Letter, Mirrored: true}
	golden(t, "tile-letter-2.svg", letter.Tiles()[1])
}

// sheet is what a test reads off a tile, in mm from the corner of the floor.
type sheet struct {
	left, top, right, bottom float64
	holes                    []Point
}

func (s sheet) shows(p Point) bool {
	return p.X >= s.left && p.X <= s.right && p.Y >= s.top && p.Y <= s.bottom
}

func numbers(t interface{ Fatal(...any) }, text string) []float64 {
	var all []float64
	for field := range strings.FieldsSeq(text) {
		v, err := strconv.ParseFloat(field, 64)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	return all
}

func read(t *testing.T, tiles []string) []sheet {
	t.Helper()
	sheets := make([]sheet, len(tiles))
	for i, tile := range tiles {
		all := markuptest.Elements(t, tile)
		v := numbers(t, markuptest.Find(all, "svg", "")[1].Attrs["viewBox"])
		sheets[i] = sheet{left: v[0], top: v[1], right: v[0] + v[2], bottom: v[1] + v[3]}
		for _, c := range markuptest.Find(all, "circle", "") {
			at := numbers(t, c.Attrs["cx"]+" "+c.Attrs["cy"])
			sheets[i].holes = append(sheets[i].holes, Point{at[0], at[1]})
		}
	}
	return sheets
}

// randomTemplate has holes anywhere on the floor.
func randomTemplate(t *rapid.T) Template {
	f := Floor{Length: rapid.Float64Range(20, 900).Draw(t, "length"), Width: rapid.Float64Range(20, 900).Draw(t, "width"), Hole: 8}
	for range rapid.IntRange(1, 40).Draw(t, "count") {
		f.Holes = append(f.Holes, Point{rapid.Float64Range(0, f.Length).Draw(t, "x"), rapid.Float64Range(0, f.Width).Draw(t, "y")})
	}
	return Template{Floor: f, Paper: Paper(rapid.IntRange(0, 1).Draw(t, "paper"))}
}

const hundredth = 0.011 // to which places are printed

func near(a, b Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 2*hundredth }

func TestEveryHoleIsOnExactlyTheSheetsThatShowIt(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tpl := randomTemplate(rt)
		sheets := read(t, tpl.Tiles())
		f := &tpl.Floor
		// Along the sheets, or turned a quarter clockwise.
		along, turned := true, true
		for _, h := range f.Holes {
			along = along && onItsSheets(sheets, h)
			turned = turned && onItsSheets(sheets, Point{f.Width - h.Y, h.X})
		}
		if !along && !turned {
			rt.Errorf("a hole of %v is missing, or on a sheet that does not show it: %v", f, sheets)
		}
		for _, s := range sheets {
			for _, h := range s.holes {
				if !s.shows(h) {
					rt.Errorf("%v lies outside its sheet %v", h, s)
				}
			}
		}
	})
}

func onItsSheets(sheets []sheet, hole Point) bool {
	found := false
	for _, s := range sheets {
		edge := math.Min(math.Min(hole.X-s.left, s.right-hole.X), math.Min(hole.Y-s.top, s.bottom-hole.Y))
		drawn := slices.ContainsFunc(s.holes, func(h Point) bool { return near(h, hole) })
		if math.Abs(edge) > hundredth && drawn != s.shows(hole) {
			return false
		}
		found = found || drawn
	}
	return found
}

func TestSheetsCoverTheFloorAndOverlap(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tpl := randomTemplate(rt)
		rows, columns := tpl.Sheets()
		sheets := read(t, tpl.Tiles())
		if len(sheets) != rows*columns {
			rt.Fatalf("%d sheets, says %d by %d", len(sheets), rows, columns)
		}
		for i, s := range sheets {
			if i%columns > 0 && math.Abs(sheets[i-1].right-s.left-10) > hundredth {
				rt.Errorf("sheets %v and %v do not overlap by 10 mm", sheets[i-1], s)
			}
			if i >= columns && math.Abs(sheets[i-columns].bottom-s.top-10) > hundredth {
				rt.Errorf("sheets %v and %v do not overlap by 10 mm", sheets[i-columns], s)
			}
		}
		first, last := sheets[0], sheets[len(sheets)-1]
		long, wide := tpl.Floor.Length, tpl.Floor.Width
		covers := func(x, y float64) bool {
			return first.left < 0 && first.top < 0 && last.right > x && last.bottom > y
		}
		if !covers(long, wide) && !covers(wide, long) {
			rt.Errorf("%v to %v do not cover %v by %v", first, last, long, wide)
		}
		// A floor turned beforehand takes as many sheets: the better way was found.
		turned := tpl
		turned.Floor.Length, turned.Floor.Width = wide, long
		if r, c := turned.Sheets(); r*c != rows*columns {
			rt.Errorf("%d sheets, turned %d", rows*columns, r*c)
		}
	})
}

func TestMirroredIsReflected(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tpl := randomTemplate(rt)
		plain := read(t, tpl.Tiles())
		tpl.Mirrored = true
		mirrored := read(t, tpl.Tiles())
		holes := func(sheets []sheet) (all []Point) {
			for _, s := range sheets {
				all = append(all, s.holes...)
			}
			return all
		}
		f := &tpl.Floor
		across, along := true, true
		for _, h := range holes(plain) {
			across = across && slices.ContainsFunc(holes(mirrored), func(m Point) bool { return near(m, Point{f.Length - h.X, h.Y}) })
			along = along && slices.ContainsFunc(holes(mirrored), func(m Point) bool { return near(m, Point{h.X, f.Length - h.Y}) })
		}
		if !across && !along {
			rt.Errorf("mirrored %v is not the reflection of %v", holes(mirrored), holes(plain))
		}
	})
}

// The marks of two sheets that join lie in the same places of the floor.
func TestMarksMeet(t *testing.T) {
	tpl := Template{Floor: *tray()}
	_, columns := tpl.Sheets()
	marks := map[string]int{}
	for _, tile := range tpl.Tiles() {
		for _, e := range markuptest.Find(markuptest.Elements(t, tile), "path", "") {
			for part := range strings.SplitSeq(e.Attrs["d"], "M") {
				if place, _, is := strings.Cut(part, "l4 4"); is {
					marks[place]++
				}
			}
		}
	}
	if len(marks) == 0 || columns < 2 {
		t.Fatalf("%d columns, marks %v", columns, marks)
	}
	for place, sheets := range marks {
		if sheets != 2 {
			t.Errorf("the mark at %s stands on %d sheets; want 2", place, sheets)
		}
	}
}
