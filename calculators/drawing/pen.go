package drawing

import (
	"math"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Measures of elevation and plan, in units of the drawing, which is as wide as
// a chart.
const (
	letterMean = 0.6 * letterSize  // of a letter in a label of several
	lineOfText = 1.15 * letterSize // foot to foot
	barb       = 6.0               // half a head of an arrow, half a stroke of a dimension
)

// pen collects the strokes and words of a drawing.
type pen struct {
	solid  strings.Builder // data of a path of full lines
	holed  strings.Builder // of walls drilled with holes
	dotted strings.Builder // of what comes to be, or is only said
	words  markup.Builder

	// Where the last circle begins, and how long solid was behind it.
	x, y   float64
	behind int
}

// polyline draws through points given as x and y in turn.
func polyline(d *strings.Builder, xy ...float64) {
	command := "M"
	for i := 0; i+1 < len(xy); i += 2 {
		d.WriteString(command + num(xy[i]) + " " + num(xy[i+1]))
		command = "L"
	}
}

func (p *pen) line(xy ...float64) { polyline(&p.solid, xy...) }

func (p *pen) rectangle(left, top, right, bottom float64) {
	p.line(left, top, right, top, right, bottom, left, bottom)
	p.solid.WriteString("Z")
}

// circle draws a circle. One behind another is told by its distance: those in a
// row are then written alike, and a page with hundreds of holes packs small.
func (p *pen) circle(x, y, r float64) {
	move := "m# #"
	if p.solid.Len() != p.behind || p.behind == 0 {
		move, p.x, p.y = "M# #", 0, 0
	}
	dx, dy := rounded(x-r-p.x), rounded(y-p.y)
	p.x, p.y = p.x+dx, p.y+dy // as written, so that rounding does not add up
	put(&p.solid, move+"a# # 0 0 0 # 0a# # 0 0 0 -# 0", dx, dy, r, r, 2*r, r, r, 2*r)
	p.behind = p.solid.Len()
}

// rounded is a number as put writes it.
func rounded(v float64) float64 { return math.Round(100*v) / 100 }

// arrow draws from a point to another one straight above, below or beside it.
func (p *pen) arrow(x1, y1, x2, y2 float64) {
	dx, dy := sign(x2-x1)*barb, sign(y2-y1)*barb
	p.line(x1, y1, x2, y2)
	p.line(x2-dx-dy, y2-dy-dx, x2, y2, x2-dx+dy, y2-dy+dx)
}

func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// word writes one line of text with its foot at y. anchor is "", "middle" or
// "end".
func (p *pen) word(text string, x, y float64, anchor string) {
	p.words.Leaf("text", text, "x", num(x), "y", num(y), "text-anchor", anchor)
}

// across draws a dimension between two places of a level line: the length over
// the line, or beside it if there is no room.
func (p *pen) across(text string, left, right, y float64) {
	p.span(left, y, right, y)
	if wide(text) > right-left {
		p.word(text, right+2*barb, y+0.35*letterSize, "")
		return
	}
	p.word(text, (left+right)/2, y-0.25*letterSize, "middle")
}

// upright draws a dimension between two places of an upright line: the length
// to the left of the line, read from the right, or over the line if there is no
// room.
func (p *pen) upright(text string, x, top, bottom float64) {
	p.span(x, top, x, bottom)
	if wide(text) > bottom-top {
		p.word(text, x, top-0.5*letterSize, "middle")
		return
	}
	at := num(x-0.25*letterSize) + " " + num((top+bottom)/2)
	p.words.Leaf("text", text, "transform", "translate("+at+")rotate(-90)", "text-anchor", "middle")
}

// span draws the line of a dimension to the right or downwards, with a stroke
// across each end.
func (p *pen) span(x1, y1, x2, y2 float64) {
	dx, dy := sign(x2-x1)*barb, sign(y2-y1)*barb
	p.line(x1-dx, y1-dy, x2+dx, y2+dy)
	p.line(x1-barb, y1+barb, x1+barb, y1-barb)
	p.line(x2-barb, y2+barb, x2+barb, y2-barb)
}

func wide(text string) float64 { return letterMean * float64(utf8.RuneCountInString(text)) }

// wrap breaks a text at blanks into lines that are not wider than room, where a
// word is not wider itself.
func wrap(text string, room float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(text, " ") {
		if line != "" && wide(line+" "+word) > room {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// svg returns the drawing, high units high. title and says are for those who do
// not see it.
func (p *pen) svg(title, says string, high float64) string {
	var b strings.Builder
	put(&b, `<svg class="plan" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 # #" role="img"><title>`, width, high)
	b.WriteString(markup.Escape(title) + "</title><desc>" + markup.Escape(says))
	put(&b, `</desc><g fill="none" stroke="currentColor" stroke-width="#" stroke-linejoin="round">`, lineWeight)
	strokes(&b, "<path", &p.solid)
	strokes(&b, `<path stroke-dasharray="9 6"`, &p.holed)
	strokes(&b, `<path stroke-dasharray="2.5 5"`, &p.dotted)
	put(&b, `</g><g fill="currentColor" font-size="#">`, letterSize)
	return b.String() + p.words.String() + "</g></svg>"
}

// strokes writes a path, if there is anything on it.
func strokes(b *strings.Builder, tag string, d *strings.Builder) {
	if d.Len() > 0 {
		b.WriteString(tag + ` d="` + d.String() + `"/>`)
	}
}

// millimetres prints a length as on a drawing, without its unit.
func millimetres(v float64) string { return quantity.FormatPlain(v, 3) }
