package answer

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/calculators/markup/markuptest"
)

// anyMarks draws rising limits as a calculator shows them: within the middle
// four fifths of the line, sometimes on top of each other.
func anyMarks(t *rapid.T) []calculators.ShownMark {
	places := rapid.SliceOfN(rapid.Float64Range(0.1, 0.9), 1, 7).Draw(t, "places")
	slices.Sort(places)
	marks := make([]calculators.ShownMark, len(places))
	for i, at := range places {
		number := rapid.StringMatching(`[0-9]{1,3}(\.[0-9]{1,3})?`).Draw(t, "number")
		marks[i] = calculators.ShownMark{At: at, Text: number + rapid.SampledFrom([]string{"", "\u00a0mg/L", "\u00a0gal\u00a0(US)/h"}).Draw(t, "unit")}
	}
	return marks
}

// On a phone, no label of the line may touch another, be struck through by the
// pole of another, or leave the drawing.
func TestLabelsStayApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		labels, end := layout(anyMarks(t))
		for i, a := range labels {
			if a.pole < 0 || a.pole > end || a.right() > scaleWidth {
				t.Errorf("%q from %.1f to %.1f leaves the drawing", a.text, a.pole, a.right())
			}
			for j, b := range labels {
				if i == j {
					continue
				}
				if a.row == b.row && a.pole <= b.pole && a.right() > b.pole {
					t.Errorf("%q and %q touch in row %d", a.text, b.text, a.row)
				}
				through := b.pole > a.pole+labelSide && b.pole < a.right()
				if through && b.row >= a.row {
					t.Errorf("the pole of %q in row %d strikes %q in row %d", b.text, b.row, a.text, a.row)
				}
			}
		}
	})
}

func TestLabelsShareOneRowWhenThereIsRoom(t *testing.T) {
	labels, _ := layout([]calculators.ShownMark{{At: 0.1, Text: "0.02\u00a0mg/L"}, {At: 0.4, Text: "0.05\u00a0mg/L"}, {At: 0.9, Text: "0.5\u00a0mg/L"}})
	want := []string{"0.02", "0.05", "0.5\u00a0mg/L"}
	for i, l := range labels {
		if l.row != 0 || l.text != want[i] {
			t.Errorf("label %d is %q in row %d; want %q in row 0", i, l.text, l.row, want[i])
		}
	}
}

func TestScaleBeyondItsEnds(t *testing.T) {
	draw := func(at float64) string {
		var b markup.Builder
		scale(&b, calculators.ShownScale{At: at, Low: at, High: at, Marks: []calculators.ShownMark{{At: 0.5, Text: "1"}}})
		all := markuptest.Elements(t, b.String())
		if len(markuptest.Find(all, "path", "reach")) != 0 {
			t.Error("an answer without range is drawn with one")
		}
		paths := markuptest.Find(all, "path", "")
		return paths[len(paths)-1].Attrs["d"]
	}
	inside, below, above := draw(0.3), draw(0), draw(1)
	if below == inside || above == inside || below == above {
		t.Errorf("the pointers are alike: %s, %s, %s", below, inside, above)
	}
}
