package drawing

import (
	"math"
	"strconv"
	"strings"

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
	var b strings.Builder
	wide, high := t.Paper.size()
	kind := "a4"
	if t.Paper == Letter {
		kind = "letter"
	}
	name := g.name(row, column)
	put(&b, `<svg class="tile `+kind+`" xmlns="http://www.w3.org/2000/svg" width="#mm" height="#mm" viewBox="0 0 # #" role="img"><title>Drilling template. `+name+
		`</title><g fill="currentColor" font-size="4"><text y="4">`+t.heading()+`</text><text y="9">`+name+g.joins(row, column)+"</text>", wide, high, wide, high)
	bar(&b, high-footRoom, g.rows*g.columns > 1)
	left, top := float64(column)*(g.wide-overlap)-around, float64(row)*(g.high-overlap)-around
	long, deep := t.Floor.Length, t.Floor.Width
	if g.turned {
		long, deep = deep, long
	}
	put(&b, `<svg y="#" width="#" height="#" viewBox="# # # #"><g fill="none" stroke="currentColor" stroke-width="0.25"><path d="M0 0H#V#H0Z"/>`,
		headRoom, g.wide, g.high, left, top, g.wide, g.high, long, deep)
	g.seams(&b, row, column, left, top)
	t.holes(&b, g, left, top)
	return b.String() + "</g></svg></g></svg>"
}

// holes draws those whose middle the sheet shows, with numbers at those of the
// first row.
func (t *Template) holes(b *strings.Builder, g *grid, left, top float64) {
	r := t.Floor.Hole / 2
	for i, h := range t.Floor.Holes {
		at := t.place(h, g.turned)
		if at.X < left || at.X > left+g.wide || at.Y < top || at.Y > top+g.high {
			continue
		}
		put(b, `<circle cx="#" cy="#" r="#"/><path d="M# #h#m-# -#v#"/>`, at.X, at.Y, r, at.X-r-2, at.Y, 2*r+4, r+2, r+2, 2*r+4)
		if h.Y == t.Floor.Holes[0].Y {
			put(b, `<text x="#" y="#" fill="currentColor" stroke="none">#</text>`, at.X+r+0.5, at.Y-r-0.5, float64(i+1))
		}
	}
}

// seams draws where the sheet is cut and laid over its neighbours: a dashed line
// in the middle of each overlap, and marks on it that must meet.
func (g *grid) seams(b *strings.Builder, row, column int, left, top float64) {
	for k := range 2 {
		if x := left + overlap/2 + float64(k)*(g.wide-overlap); column+k > 0 && column+k < g.columns {
			put(b, `<path stroke-dasharray="3 2" d="M# #v#"/>`, x, top, g.high)
			mark(b, x, top+g.high/4)
			mark(b, x, top+3*g.high/4)
		}
		if y := top + overlap/2 + float64(k)*(g.high-overlap); row+k > 0 && row+k < g.rows {
			put(b, `<path stroke-dasharray="3 2" d="M# #h#"/>`, left, y, g.wide)
			mark(b, left+g.wide/4, y)
			mark(b, left+3*g.wide/4, y)
		}
	}
}

// mark is a diamond with a cross, which no hole looks like.
func mark(b *strings.Builder, x, y float64) {
	put(b, `<path class="mark" d="M# #l4 4l4 -4l-4 -4zh8m-4 -4v8"/>`, x-4, y)
}

// heading says what is drilled.
func (t *Template) heading() string {
	f := &t.Floor
	text := "Floor {length 0} × {width 0 mm}, {holes 0|hole|holes} of {hole ~3 mm}. Mark it from above."
	if t.Mirrored {
		text = "Floor {length 0} × {width 0 mm}, {holes 0|hole|holes} of {hole ~3 mm}. Mirrored: mark it from below."
	}
	return fill(text, f.Length, f.Width, float64(len(f.Holes)), f.Hole)
}

// name is what a sheet is called.
func (g *grid) name(row, column int) string {
	rows, columns := float64(g.rows), float64(g.columns)
	r, c := float64(row), float64(column)
	return fill("Sheet {sheet 0} of {sheets 0}: row {row 0} of {rows 0}, column {column 0} of {columns 0}.", r*columns+c+1, rows*columns, r+1, rows, c+1, columns)
}

// joins says which sheets lie at its edges.
func (g *grid) joins(row, column int) string {
	others, here := "", row*g.columns+column+1
	for k, other := range [...]string{"{sheet 0} left", "{sheet 0} right", "{sheet 0} above", "{sheet 0} below"} {
		step := k%2*2 - 1
		at, of, sheet := column, g.columns, here+step
		if k > 1 {
			at, of, sheet = row, g.rows, here+step*g.columns
		}
		if at+step < 0 || at+step >= of {
			continue
		}
		if others != "" {
			others += ", "
		}
		others += fill(other, float64(sheet))
	}
	if others == "" {
		return ""
	}
	return quantity.Put(" Joins sheet {others}.", "others", others)
}

// What a sheet must be printed at, in per cent, and the bar on it that shows
// whether it was, in mm.
const (
	TrueSize = 100.0
	CheckBar = 100.0
)

// bar draws the scale and says what it is for.
func bar(b *strings.Builder, top float64, joined bool) {
	put(b, `<path class="check" fill="none" stroke="currentColor" stroke-width="0.25" d="M1 #h#v-6M1 #v-6`, top+9, CheckBar, top+9)
	for x := 11.0; x < 1+CheckBar; x += 10 {
		put(b, "M# #v-3", x, top+9)
	}
	put(b, `"/><text x="106" y="#">`+fill("This bar must measure {bar mm}:", CheckBar)+`</text><text x="106" y="#">`+fill("print at {scale %}, no fit to page.", TrueSize)+`</text>`, top+4.5, top+9.1)
	if joined {
		put(b, `<text x="106" y="#">Cut on dashes; diamonds meet.</text>`, top+13.7)
	}
}

// fill fills the gaps of a text with all of the numbers.
func fill(text string, numbers ...float64) string {
	text, _ = quantity.Fill(text, numbers)
	return text
}

// put writes a form in which each # is the next number, to a hundredth.
func put(b *strings.Builder, form string, numbers ...float64) {
	for _, v := range numbers {
		before, after, _ := strings.Cut(form, "#")
		b.WriteString(before)
		b.WriteString(strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), "."))
		form = after
	}
	b.WriteString(form)
}
