package drawing

import (
	"math"
	"strconv"
	"strings"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Paper is a size of paper with a margin of 10 mm all round, always upright: a
// floor that fits better on sheets laid across is drawn turned by a quarter.
type Paper uint8

// The papers.
const (
	A4 Paper = iota
	Letter
)

// Name is what a packet of it says.
func (p Paper) Name() string {
	if p == Letter {
		return "Letter"
	}
	return "A4"
}

// size is what may be printed on, in mm.
func (p Paper) size() (wide, high float64) {
	if p == Letter {
		return 8.5*25.4 - 20, 11*25.4 - 20
	}
	return 190, 277
}

// Template is a drilling template in true size, on sheets that are laid edge
// over edge.
type Template struct {
	Floor    Floor
	Paper    Paper
	Mirrored bool // for marking from below
}

// Measures of a sheet in mm.
const (
	overlap  = 10.0
	around   = 4.0  // kept free around the outline of the floor
	headRoom = 13.0 // for the name of the sheet
	footRoom = 15.0 // for the check bar
	tileText = 4.0  // size of letters
	hair     = 0.25 // weight of lines
)

// grid is how a template falls onto sheets.
type grid struct {
	rows, columns int
	turned        bool    // the length of the floor runs down the sheets
	wide, high    float64 // of the part of a sheet that shows the floor
}

func (t *Template) grid() grid {
	g := grid{}
	g.wide, g.high = t.Paper.size()
	g.high -= headRoom + footRoom
	g.columns, g.rows = sheets(t.Floor.Length, g.wide), sheets(t.Floor.Width, g.high)
	columns, rows := sheets(t.Floor.Width, g.wide), sheets(t.Floor.Length, g.high)
	if columns*rows < g.columns*g.rows {
		g.columns, g.rows, g.turned = columns, rows, true
	}
	return g
}

// sheets is how many sheets cover a length.
func sheets(length, sheet float64) int {
	return max(1, int(math.Ceil((length+2*around-overlap)/(sheet-overlap)-1e-9)))
}

// Sheets returns how many rows and columns of sheets the template takes.
func (t *Template) Sheets() (rows, columns int) {
	g := t.grid()
	return g.rows, g.columns
}

// place is where a point of the floor lies on the sheets laid out, from the
// corner of the outline.
func (t *Template) place(h Point, turned bool) Point {
	if t.Mirrored {
		h.X = t.Floor.Length - h.X
	}
	if turned {
		h.X, h.Y = t.Floor.Width-h.Y, h.X
	}
	return h
}

// Tiles returns the sheets as SVG, row by row.
func (t *Template) Tiles() []string {
	g := t.grid()
	tiles := make([]string, 0, g.rows*g.columns)
	for row := range g.rows {
		for column := range g.columns {
			tiles = append(tiles, t.tile(&g, row, column))
		}
	}
	return tiles
}

// tile draws one sheet. What it shows of the floor is an SVG of its own inside,
// whose units are mm from the corner of the floor and which cuts off what lies
// beyond its edges.
func (t *Template) tile(g *grid, row, column int) string {
	wide, high := t.Paper.size()
	var b markup.Builder
	b.Open("svg", "class", "tile "+strings.ToLower(t.Paper.Name()), "xmlns", "http://www.w3.org/2000/svg",
		"width", mm(wide)+"mm", "height", mm(high)+"mm", "viewBox", "0 0 "+mm(wide)+" "+mm(high), "role", "img")
	name := g.name(row, column)
	b.Leaf("title", "Drilling template, "+name)
	b.Open("g", "fill", "currentColor", "stroke", "none", "font-size", mm(tileText))
	line(&b, 4, t.heading())
	line(&b, 9, name+g.joins(row, column))
	t.bar(&b, high-footRoom, g.rows*g.columns > 1)
	left, top := float64(column)*(g.wide-overlap)-around, float64(row)*(g.high-overlap)-around
	b.Open("svg", "y", mm(headRoom), "width", mm(g.wide), "height", mm(g.high), "viewBox", mm(left)+" "+mm(top)+" "+mm(g.wide)+" "+mm(g.high))
	b.Open("g", "fill", "none", "stroke", "currentColor", "stroke-width", mm(hair))
	corner := Point{t.Floor.Length, t.Floor.Width}
	if g.turned {
		corner = Point{t.Floor.Width, t.Floor.Length}
	}
	b.Void("rect", "width", mm(corner.X), "height", mm(corner.Y))
	g.seams(&b, row, column, left, top)
	numbers := t.holes(&b, g, left, top)
	b.Close()
	b.Raw(numbers)
	return b.String()
}

// holes draws those whose middle the sheet shows, and returns the numbers of
// those of the first row.
func (t *Template) holes(b *markup.Builder, g *grid, left, top float64) string {
	var crosses strings.Builder
	var numbers markup.Builder
	r := t.Floor.Hole / 2
	for i, h := range t.Floor.Holes {
		at := t.place(h, g.turned)
		if at.X < left || at.X > left+g.wide || at.Y < top || at.Y > top+g.high {
			continue
		}
		b.Void("circle", "cx", mm(at.X), "cy", mm(at.Y), "r", mm(r))
		crosses.WriteString("M" + mm(at.X-r-2) + " " + mm(at.Y) + "h" + mm(2*r+4) + "M" + mm(at.X) + " " + mm(at.Y-r-2) + "v" + mm(2*r+4))
		if h.Y == t.Floor.Holes[0].Y {
			numbers.Leaf("text", strconv.Itoa(i+1), "x", mm(at.X+r+0.5), "y", mm(at.Y-r-0.5))
		}
	}
	b.Void("path", "d", crosses.String())
	return numbers.String()
}

// seams draws where the sheet is cut and laid over its neighbours: a dashed line
// in the middle of each overlap, and marks on it that must meet.
func (g *grid) seams(b *markup.Builder, row, column int, left, top float64) {
	var lines, marks strings.Builder
	for _, x := range seam(column, g.columns, left, g.wide) {
		lines.WriteString("M" + mm(x) + " " + mm(top) + "v" + mm(g.high))
		mark(&marks, x, top+g.high/4)
		mark(&marks, x, top+3*g.high/4)
	}
	for _, y := range seam(row, g.rows, top, g.high) {
		lines.WriteString("M" + mm(left) + " " + mm(y) + "h" + mm(g.wide))
		mark(&marks, left+g.wide/4, y)
		mark(&marks, left+3*g.wide/4, y)
	}
	b.Void("path", "d", lines.String(), "stroke-dasharray", "3 2")
	b.Void("path", "d", marks.String())
}

// seam lists the middles of a sheet's overlaps along one direction.
func seam(i, of int, from, long float64) []float64 {
	var places []float64
	if i > 0 {
		places = append(places, from+overlap/2)
	}
	if i < of-1 {
		places = append(places, from+long-overlap/2)
	}
	return places
}

// mark is a diamond with a cross, which no hole looks like.
func mark(d *strings.Builder, x, y float64) {
	d.WriteString("M" + mm(x-4) + " " + mm(y) + "l4 4l4 -4l-4 -4zh8m-4 -4v8")
}

// heading says what is drilled.
func (t *Template) heading() string {
	f := &t.Floor
	text := "Floor " + quantity.FormatWhole(f.Length) + " × " + quantity.FormatWhole(f.Width) + "\u00a0mm, " +
		quantity.FormatWhole(float64(len(f.Holes))) + " holes of " + millimetres(f.Hole) + "\u00a0mm. "
	if t.Mirrored {
		return text + "Mirrored: mark it from below."
	}
	return text + "Mark it from above."
}

// name is what a sheet is called.
func (g *grid) name(row, column int) string {
	return "Sheet " + strconv.Itoa(row*g.columns+column+1) + " of " + strconv.Itoa(g.rows*g.columns) +
		": row " + strconv.Itoa(row+1) + " of " + strconv.Itoa(g.rows) + ", column " + strconv.Itoa(column+1) + " of " + strconv.Itoa(g.columns) + "."
}

// joins says which sheets lie at its edges.
func (g *grid) joins(row, column int) string {
	i := row*g.columns + column + 1
	text := neighbour(column > 0, "left", i-1) + neighbour(column < g.columns-1, "right", i+1) +
		neighbour(row > 0, "above", i-g.columns) + neighbour(row < g.rows-1, "below", i+g.columns)
	if text == "" {
		return ""
	}
	return " Joins sheet" + strings.TrimSuffix(text, ",") + "."
}

func neighbour(is bool, edge string, sheet int) string {
	if !is {
		return ""
	}
	return " " + strconv.Itoa(sheet) + " " + edge + ","
}

// bar draws a scale of 100 mm and says what it is for.
func (t *Template) bar(b *markup.Builder, top float64, joined bool) {
	const left = 1.0
	d := "M" + mm(left) + " " + mm(top+9) + "h100"
	for x := 0.0; x <= 100; x += 10 {
		high := 3.0
		if x == 0 || x == 100 {
			high = 6
		}
		d += "M" + mm(left+x) + " " + mm(top+9) + "v-" + mm(high)
	}
	b.Void("path", "class", "check", "d", d, "fill", "none", "stroke", "currentColor", "stroke-width", mm(hair))
	texts := []string{"This bar must measure 100\u00a0mm:", "print at 100\u00a0%, no fit to page."}
	if joined {
		texts = append(texts, "Cut on dashes; diamonds meet.")
	}
	for i, text := range texts {
		b.Leaf("text", text, "x", "106", "y", mm(top+4.5+4.6*float64(i)))
	}
}

func line(b *markup.Builder, y float64, text string) { b.Leaf("text", text, "x", "0", "y", mm(y)) }

// mm prints a length to a hundredth of a millimetre.
func mm(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
}
