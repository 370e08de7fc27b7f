package drawing

import (
	"math"

	"mereleaf/calculators/quantity"
)

// Floor is a drilled floor or lid seen from above. All lengths are in mm.
type Floor struct {
	Title         string  // what it shows, in one sentence
	Length, Width float64 // of the whole floor inside; the length lies along x
	Margin        float64 // kept free along the walls
	Hole          float64 // diameter
	Holes         []Point // centres from a corner of the floor, row by row
	Along, Apart  float64 // from hole to hole in a row, and from row to row; 0 for a single one
}

// Places in the plan, in units of the drawing.
const (
	floorAt   = 84.0
	floorWide = 440.0
	floorTop  = 60.0
	floorHigh = 700.0 // at most
)

// SVG returns the plan with its dimensions, or "" if the floor has no size.
func (f *Floor) SVG() string {
	if !(f.Length > 0 && f.Width > 0) {
		return ""
	}
	var p pen
	scale := math.Min(floorWide/f.Length, floorHigh/f.Width)
	right, bottom := floorAt+scale*f.Length, floorTop+scale*f.Width
	p.rectangle(floorAt, floorTop, right, bottom)
	if m := scale * f.Margin; m > 0 {
		polyline(&p.dotted, floorAt+m, floorTop+m, right-m, floorTop+m, right-m, bottom-m, floorAt+m, bottom-m, floorAt+m, floorTop+m)
	}
	for _, h := range f.Holes {
		p.circle(floorAt+scale*h.X, floorTop+scale*h.Y, math.Max(2, scale*f.Hole/2))
	}
	p.upright(quantity.FormatWhole(f.Width), wholeAt+10, floorTop, bottom)
	p.across(quantity.FormatWhole(f.Length), floorAt, right, bottom+2*letterSize)
	f.pitches(&p, scale, right)
	foot := bottom + 2*letterSize + lineOfText
	for _, line := range wrap(f.says(), width) {
		foot += lineOfText
		p.word(line, 0, foot, "")
	}
	return p.svg(f.Title, f.says(), foot+0.4*letterSize)
}

// pitches draws the distances from wall to hole and from hole to hole: along the
// first row over the floor, from row to row to the right of it.
func (f *Floor) pitches(p *pen, scale, right float64) {
	if len(f.Holes) == 0 {
		return
	}
	least := f.Holes[0]
	for _, h := range f.Holes {
		least.X, least.Y = math.Min(least.X, h.X), math.Min(least.Y, h.Y)
	}
	const over = floorTop - 16
	x, y, beside := floorAt+scale*least.X, floorTop+scale*least.Y, right+letterSize
	p.span(floorAt, over, x, over)
	p.word(millimetres(least.X), floorAt-2*barb, over+0.35*letterSize, "end")
	if f.Along > 0 {
		p.across(millimetres(f.Along), x, x+scale*f.Along, over)
	}
	p.span(beside, floorTop, beside, y)
	first := (floorTop + y) / 2
	if f.Apart > 0 {
		p.span(beside, y, beside, y+scale*f.Apart)
		middle := y + scale*f.Apart/2
		p.word(millimetres(f.Apart), beside+2*barb, middle+0.35*letterSize, "")
		first = math.Min(first, middle-lineOfText)
	}
	p.word(millimetres(least.Y), beside+2*barb, first+0.35*letterSize, "")
}

// says sums the holes up in words.
func (f *Floor) says() string {
	count := float64(len(f.Holes))
	if f.Margin > 0 {
		return fill("{holes 0|hole|holes} of {hole ~3 mm}, their middles at least {margin ~3 mm} from the walls (dotted). Lengths\u00a0in\u00a0mm.", count, f.Hole, f.Margin)
	}
	return fill("{holes 0|hole|holes} of {hole ~3 mm}. Lengths\u00a0in\u00a0mm.", count, f.Hole)
}
