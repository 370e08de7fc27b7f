package answer

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Measures of the scale, in units of its drawing, which is as wide as a small
// phone so that its letters are legible there.
const (
	scaleWidth = 320.0
	scaleLeft  = 8.0  // where the line starts
	scaleLine  = 26.0 // height of the line
	letterSize = 13.0
	letterWide = 0.62 * letterSize // a generous mean width of a digit or letter
	labelGap   = 6.0               // between labels of one row
	labelSide  = 4.0               // between a limit's pole and its label
	labelRow   = 16.0
)

// scale draws the limits on a line as poles with their values beside them, the
// answer as a triangle over the line, and the answer's range as a bar. An
// answer beyond the line's end is an arrow there.
func scale(b *markup.Builder, s calculators.ShownScale) {
	if len(s.Marks) == 0 {
		return
	}
	labels, end := layout(s.Marks)
	along := func(at float64) float64 { return scaleLeft + at*(end-scaleLeft) }
	rows := 0
	for _, l := range labels {
		rows = max(rows, l.row+1)
	}
	b.Open("svg", "class", "span", "viewBox", "0 0 320 "+num(scaleLine+12+labelRow*float64(rows)), "role", "img", "aria-label", scaleName(s))
	stroke(b, "M"+num(scaleLeft-4)+" "+num(scaleLine)+"H"+num(end+4), "2")
	if s.Low < s.High {
		stroke(b, "M"+num(along(s.Low))+" "+num(scaleLine-5)+"H"+num(along(s.High)), "5", "class", "reach", "stroke-opacity", "0.45")
	}
	for _, l := range labels {
		foot := scaleLine + 8 + labelRow*float64(l.row+1)
		stroke(b, "M"+num(l.pole)+" "+num(scaleLine-6)+"V"+num(foot), "2")
		b.Leaf("text", l.text, "x", num(l.pole+labelSide), "y", num(foot-1), "font-size", num(letterSize), "fill", "currentColor", "data-q", l.mark)
	}
	b.Void("path", "d", pointer(s.At, along(s.At)), "fill", "currentColor")
	b.Close()
	b.Line()
}

func stroke(b *markup.Builder, path, width string, attrs ...string) {
	b.Void("path", append([]string{"d", path, "fill", "none", "stroke", "currentColor", "stroke-width", width}, attrs...)...)
}

// scaleName says the whole drawing in words.
func scaleName(s calculators.ShownScale) string {
	limits := make([]string, len(s.Marks))
	for i, m := range s.Marks {
		limits[i] = m.Text + " " + m.Label
	}
	return quantity.Put("{answer}, on a line with the limits {limits}", "answer", s.Label, "limits", strings.Join(limits, "; "))
}

// label is the value of a limit, to the right of the foot of the limit's pole.
type label struct {
	text string
	mark string // of its quantity, whose unit the last label alone says
	pole float64
	row  int
}

func (l label) right() float64 { return l.pole + labelSide + width(l.text) }

// width is generous; an m, as in 25 mm, is as wide as it is high.
func width(text string) float64 {
	return letterWide*float64(utf8.RuneCountInString(text)) + (letterSize-letterWide)*float64(strings.Count(text, "m"))
}

// layout gives each limit its place, and the line an end so far from the right
// edge that every label fits in. Labels are placed from the right: one that
// would touch another, or the pole of another, goes to a row below it, where
// its own pole passes left of all the labels placed before.
func layout(marks []calculators.ShownMark) (labels []label, end float64) {
	texts := shorten(marks)
	end = scaleWidth - scaleLeft
	for i, m := range marks {
		room := scaleWidth - 1 - scaleLeft - labelSide - width(texts[i])
		if m.At > 0 {
			end = min(end, scaleLeft+room/m.At)
		}
	}
	labels = make([]label, len(marks))
	for i := len(marks) - 1; i >= 0; i-- {
		l := label{text: texts[i], mark: markup.Value(marks[i].Text), pole: scaleLeft + marks[i].At*(end-scaleLeft)}
		for _, other := range labels[i+1:] {
			if l.right()+labelGap > other.pole {
				l.row = max(l.row, other.row+1)
			}
		}
		labels[i] = l
	}
	return labels, end
}

// shorten leaves the unit to the last label when all have the same one.
func shorten(marks []calculators.ShownMark) []string {
	const space = "\u00a0"
	texts := make([]string, len(marks))
	_, unit, _ := strings.Cut(marks[0].Text, space)
	for i, m := range marks {
		number, u, _ := strings.Cut(m.Text, space)
		if u != unit {
			for j := range marks {
				texts[j] = marks[j].Text
			}
			return texts
		}
		texts[i] = number
	}
	texts[len(texts)-1] = marks[len(marks)-1].Text
	return texts
}

// pointer is the path of the triangle over the line at x, or of an arrow that
// points out of it.
func pointer(at, x float64) string {
	y := scaleLine - 10
	switch {
	case at <= 0:
		return "M" + num(x-6) + " " + num(y-6) + "l12-7v14z"
	case at >= 1:
		return "M" + num(x+6) + " " + num(y-6) + "l-12-7v14z"
	}
	return "M" + num(x) + " " + num(y) + "l7-13h-14z"
}

// num prints a length with at most one decimal.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	return strings.TrimSuffix(s, ".0")
}
