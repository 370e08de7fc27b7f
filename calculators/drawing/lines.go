// Package drawing draws as SVG: charts, the elevation of a stack of boxes, the
// plan of a drilled floor, and drilling templates in true size. There is one
// weight of line, one size of letter, and the colour of the text around, so that
// drawings are legible in dark mode, on paper and to people who see no colours.
//
// A drawing holds no ids and no style attributes, so that a page may hold any
// number of them under a strict content security policy. Charts are made with
// the handbook; the other drawings in the page's module too, which is why this
// package is sparing with code.
package drawing

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Chart is a drawing of lines over a common axis.
type Chart struct {
	Title  string // what it shows, in one sentence
	X, Y   Axis
	Series []Series // told apart by dashes and by a label at the end of each line
}

// Axis is an axis of a chart. X needs its ends; of Y they are found from the
// lines.
type Axis struct {
	Label     string // with its unit: "Flow (L/h)"
	Low, High float64
	Log       bool   // logarithmic: only positive values are drawn
	Unit      string // UCUM code, for the words that describe the lines; may be empty

	// Others are the same axis in the units of other systems of measures, by the
	// class of what is shown in each. Its ticks are at round values of that unit.
	Others []Other
}

// Other is what an axis shows in another unit.
type Other struct {
	Class string // "us"
	Label string
	Turn  func(float64) float64 // from the axis's own unit, rising
}

// Series is one line of a chart.
type Series struct {
	Label  string // "20 °C"; may be empty for the only line of a chart
	Points []Point
}

// Point is a point in the units of the axes. A point that is not finite parts
// the line.
type Point struct{ X, Y float64 }

// Measures in units of the drawing. Shown 320 pixels wide, half its width, its
// letters are 12 pixels high.
const (
	width      = 640.0
	height     = 460.0
	letterSize = 24.0
	letterWide = 0.68 * letterSize // a generous mean width
	lineWeight = 2.5
	tick       = 8.0
	gap        = 8.0
	keyRow     = 1.3 * letterSize
	sample     = 64.0 // length of line shown in a key
)

// frame is the part of a drawing inside its axes.
type frame struct {
	left, right, top, bottom float64
	x, y                     scale
}

func (f frame) across(x float64) float64 { return f.left + f.x.at(x)*(f.right-f.left) }
func (f frame) up(y float64) float64     { return f.bottom - f.y.at(y)*(f.bottom-f.top) }

// SVG returns the drawing, or "" if there is nothing to draw.
func (c Chart) SVG() string {
	low, high, ok := c.extent()
	if !ok {
		return ""
	}
	upright := wrap(c.Y.Label, width)
	f := frame{top: 2*letterSize + lineOfText*float64(len(upright)-1), bottom: height - 3*letterSize}
	f.x = newScale(c.X.Low, c.X.High, c.X.Log, false)
	f.y = newScale(low, high, c.Y.Log, true)
	classes := c.classes()
	f.left = gap + tick + widest(f.y.texts())
	for _, class := range classes {
		f.left = math.Max(f.left, gap+tick+widest(f.in(c, class).y.texts()))
	}
	f.right = width - letterWide
	beside := c.labelled()
	var below key
	if beside && widest(c.labels()) > width/3 {
		beside, below = false, c.key()
	}
	if beside {
		f.right = width - 2*gap - widest(c.labels())
	}
	var b markup.Builder
	b.Open("svg", "class", "chart", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+num(width)+" "+num(height+keyRow*float64(len(below.rows))), "role", "img")
	b.Leaf("title", c.Title)
	b.Leaf("desc", c.describe())
	b.Open("g", "fill", "none", "stroke", "currentColor", "stroke-width", num(lineWeight), "stroke-linejoin", "round")
	f.axes(&b, c, classes)
	for i, s := range c.Series {
		b.Void("path", "d", f.path(s.Points), "stroke-dasharray", dashes(i))
	}
	for i, row := range below.starts {
		b.Void("path", "d", "M0 "+num(keyLine(row)-0.35*letterSize)+"h"+num(sample), "stroke-dasharray", dashes(i))
	}
	b.Close()
	b.Open("g", "fill", "currentColor", "font-size", num(letterSize))
	for _, class := range classes {
		b.Open("g", "class", class)
		f.in(c, class).labels(&b, c.X.label(class), c.Y.label(class))
		b.Close()
	}
	if beside {
		f.lineLabels(&b, c.Series)
	}
	for i, row := range below.rows {
		b.Leaf("text", row, "x", num(sample+gap), "y", num(keyLine(i)))
	}
	b.Close()
	return b.String()
}

// key is the lines' labels as rows of text, with the row at which each starts.
type key struct {
	rows   []string
	starts []int
}

func (c Chart) key() key {
	var k key
	for _, s := range c.Series {
		k.starts = append(k.starts, len(k.rows))
		k.rows = append(k.rows, wrap(s.Label, width-sample-gap)...)
	}
	return k
}

// keyLine is the foot of a row of the key, which takes the labels under the
// drawing when they are too long to stand beside it.
func keyLine(i int) float64 { return height + keyRow*float64(i+1) - 0.35*letterSize }

// extent returns the least and greatest value that can be drawn.
func (c Chart) extent() (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range c.Series {
		for _, p := range s.Points {
			if finite(p.Y) && (!c.Y.Log || p.Y > 0) {
				low, high = math.Min(low, p.Y), math.Max(high, p.Y)
			}
		}
	}
	return low, high, low <= high && c.X.Low < c.X.High && (!c.X.Log || c.X.Low > 0)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func (c Chart) labelled() bool { return len(c.Series) > 1 || c.Series[0].Label != "" }

func (c Chart) labels() []string {
	labels := make([]string, len(c.Series))
	for i, s := range c.Series {
		labels[i] = s.Label
	}
	return labels
}

func widest(texts []string) float64 {
	most := 0
	for _, s := range texts {
		most = max(most, utf8.RuneCountInString(s))
	}
	return float64(most) * letterWide
}

// dashes tells lines apart: the first is solid.
func dashes(i int) string {
	patterns := []string{"", "14 6", "3 6", "14 6 3 6", "26 6", "14 6 3 6 3 6"}
	return patterns[i%len(patterns)]
}

// own is the class of what is shown in the axis's own units.
const own = "own"

// classes are own and those of the systems that show an axis in another unit.
func (c Chart) classes() []string {
	classes := []string{own}
	for _, o := range append(append([]Other{}, c.X.Others...), c.Y.Others...) {
		if !has(classes, o.Class) {
			classes = append(classes, o.Class)
		}
	}
	return classes
}

func (a Axis) other(class string) (Other, bool) {
	for _, o := range a.Others {
		if o.Class == class {
			return o, true
		}
	}
	return Other{}, false
}

func (a Axis) label(class string) string {
	if o, ok := a.other(class); ok {
		return o.Label
	}
	return a.Label
}

// in is the frame with its ticks where the values of a system are round.
func (f frame) in(c Chart, class string) frame {
	if o, ok := c.X.other(class); ok {
		f.x = f.x.in(o.Turn)
	}
	if o, ok := c.Y.other(class); ok {
		f.y = f.y.in(o.Turn)
	}
	return f
}

// axes draws the two axes and their ticks, those of each class apart.
func (f frame) axes(b *markup.Builder, c Chart, classes []string) {
	lines := "M" + num(f.left) + " " + num(f.top) + "V" + num(f.bottom) + "H" + num(f.right)
	if len(classes) == 1 {
		b.Void("path", "d", lines+f.ticks())
		return
	}
	b.Void("path", "d", lines)
	for _, class := range classes {
		b.Void("path", "class", class, "d", f.in(c, class).ticks())
	}
}

func (f frame) ticks() string {
	var d strings.Builder
	for _, t := range f.x.ticks {
		d.WriteString("M" + num(f.across(t)) + " " + num(f.bottom) + "v" + num(tick))
	}
	for _, t := range f.y.ticks {
		d.WriteString("M" + num(f.left) + " " + num(f.up(t)) + "h-" + num(tick))
	}
	return d.String()
}

// labels says what the axes show, and writes the values of their ticks.
func (f frame) labels(b *markup.Builder, x, y string) {
	f.numbers(b)
	for i, line := range wrap(y, width) {
		b.Leaf("text", line, "x", "0", "y", num(letterSize+lineOfText*float64(i)), "data-q", stays)
	}
	b.Leaf("text", x, "x", num(f.right), "y", num(height-0.35*letterSize), "text-anchor", "end", "data-q", stays)
}

// stays marks what is drawn for one system and so never turned.
const stays = "="

func has(list []string, s string) bool {
	for _, t := range list {
		if t == s {
			return true
		}
	}
	return false
}

// numbers writes the values of the ticks, leaving out those that would touch.
func (f frame) numbers(b *markup.Builder) {
	end := math.Inf(-1)
	texts := f.x.texts()
	for i, t := range f.x.ticks {
		half := widest(texts[i:i+1]) / 2
		x := math.Min(f.across(t), width-half)
		if x-half > end+gap {
			b.Leaf("text", texts[i], "x", num(x), "y", num(f.bottom+tick+letterSize), "text-anchor", "middle", "data-q", stays)
			end = x + half
		}
	}
	under := math.Inf(1)
	for i, t := range f.y.ticks {
		y := f.up(t)
		if y < under-letterSize {
			b.Leaf("text", f.y.texts()[i], "x", num(f.left-tick-gap/2), "y", num(y+0.35*letterSize), "text-anchor", "end", "data-q", stays)
			under = y
		}
	}
}

// path is the line through the points, parted where a value cannot be drawn.
func (f frame) path(points []Point) string {
	var d strings.Builder
	command := "M"
	for _, p := range points {
		if !f.y.drawable(p.Y) || !f.x.drawable(p.X) {
			command = "M"
			continue
		}
		d.WriteString(command + num(f.across(p.X)) + " " + num(f.up(p.Y)))
		command = "L"
	}
	return d.String()
}

// lineLabels writes each line's label to the right of its end, moved up or down
// where two would touch.
func (f frame) lineLabels(b *markup.Builder, series []Series) {
	ends := make([]float64, len(series))
	for i, s := range series {
		ends[i] = f.bottom
		for _, p := range s.Points {
			if f.y.drawable(p.Y) {
				ends[i] = f.up(p.Y)
			}
		}
	}
	for i, y := range spread(ends, letterSize, f.top, f.bottom) {
		b.Leaf("text", series[i].Label, "x", num(f.right+gap), "y", num(y+0.35*letterSize))
	}
}

// spread moves places apart until they are at least apart from each other, and
// returns them in the order given. It keeps them between low and high as long
// as there is room.
func spread(places []float64, apart, low, high float64) []float64 {
	order := make([]int, len(places))
	for i := range order {
		order[i] = i
		for j := i; j > 0 && places[order[j]] < places[order[j-1]]; j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	moved := make([]float64, len(places))
	least := low
	for _, i := range order {
		moved[i] = math.Max(places[i], least)
		least = moved[i] + apart
	}
	most := math.Max(high, low+apart*float64(len(places)-1))
	for k := len(order) - 1; k >= 0; k-- {
		moved[order[k]] = math.Min(moved[order[k]], most)
		most = moved[order[k]] - apart
	}
	return moved
}

// describe says in words where each line starts and ends.
func (c Chart) describe() string {
	var b strings.Builder
	b.WriteString(quantity.Put(quantity.Put("{upright} over {level}.", "upright", c.Y.Label), "level", c.X.Label))
	for _, s := range c.Series {
		first, last, ok := s.ends()
		if !ok {
			continue
		}
		b.WriteString(" ")
		// Two digits are as many as one can read off a line.
		text := "from {first ~2 Y} at {begin ~2 X} to {last ~2 Y} at {end ~2 X}."
		if s.Label != "" {
			text = "{line}: from {first ~2 Y} at {begin ~2 X} to {last ~2 Y} at {end ~2 X}."
		}
		text = strings.ReplaceAll(strings.ReplaceAll(text, " Y}", gapUnit(c.Y.Unit)), " X}", gapUnit(c.X.Unit))
		b.WriteString(quantity.Put(fill(text, first.Y, first.X, last.Y, last.X), "line", s.Label))
	}
	return b.String()
}

// gapUnit ends a gap for a number in a unit.
func gapUnit(code string) string {
	if code == "" || code == "1" {
		return "}"
	}
	return " " + code + "}"
}

func (s Series) ends() (first, last Point, ok bool) {
	for _, p := range s.Points {
		if finite(p.Y) {
			if !ok {
				first, ok = p, true
			}
			last = p
		}
	}
	return first, last, ok
}

// num prints a length with at most one decimal.
func num(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
}
