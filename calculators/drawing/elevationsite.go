package drawing

import (
	"math"

	"mereleaf/calculators/quantity"
)

// pipe draws a pipe along points given as x and y in turn, each straight above,
// below or beside the one before it.
func (s *stack) pipe(bore float64, xy ...float64) {
	half := math.Max(leastGap/2, s.scale*bore/2)
	for _, side := range []float64{-half, half} {
		line := make([]float64, len(xy))
		for i := 0; i < len(xy); i += 2 {
			x, y := 0.0, 0.0 // normals of the pieces that meet here
			if i > 0 {
				x, y = sign(xy[i+1]-xy[i-1]), sign(xy[i-2]-xy[i])
			}
			if i+3 < len(xy) {
				x, y = x+sign(xy[i+3]-xy[i+1]), y+sign(xy[i]-xy[i+2])
			}
			line[i], line[i+1] = xy[i]+side*x, xy[i+1]+side*y
		}
		s.line(line...)
	}
}

// supply draws the inlet with its spray bar, or the hose.
func (s *stack) supply() {
	bore := s.Inlet.Bore
	if bore <= 0 {
		return
	}
	half, lid := math.Max(leastGap/2, s.scale*bore/2), s.plate(0)
	s.arrow(riserAt-half-9, s.ground-10, riserAt-half-9, s.ground-50)
	y, end := lid+half+leastGap, s.middle+s.half()-16
	s.caption(y - half)
	if s.Hose {
		s.pipe(bore, riserAt, s.ground, riserAt, y, s.middle, y, s.middle, y+half+8)
		s.arrow(s.middle, y+half+12, s.middle, y+half+30)
		return
	}
	s.pipe(bore, riserAt, s.ground, riserAt, y, end, y)
	s.line(end, y-half, end, y+half)
	for k := -2.0; k <= 2; k++ {
		x := s.middle + 0.36*k*s.half()
		s.arrow(x, y+half+2, x, y+half+18)
	}
}

// caption names the inlet over the stack, down to the pipe's bend.
func (s *stack) caption(bend float64) {
	s.word(s.Inlet.Label, riserAt-2*leastGap, letterSize, "")
	s.line(riserAt, 1.3*letterSize, riserAt, bend)
}

// outletAxis is the y of the middle of collector and outlet.
func (s *stack) outletAxis() float64 {
	bore := math.Max(s.Collector.Bore, s.Outlet.Bore)
	return s.floor(len(s.Tiers)-1) - s.scale*bore/2 - leastGap
}

// drain draws the collector and the outlet, or what falls into the pond from an
// open stack.
func (s *stack) drain() {
	pond := s.y(s.Pond)
	if s.open {
		s.fall(s.y(s.Base), pond)
		return
	}
	y, wall := s.outletAxis(), s.middle+s.half()
	if half := s.scale * s.Collector.Bore / 2; half > 0 {
		left := s.middle - s.half() + 16
		s.pipe(s.Collector.Bore, left, y, wall, y)
		s.line(left, y-half, left, y+half)
		for x := left + 14; x < wall-10; x += 22 {
			s.circle(x, y, 2.5)
		}
	}
	if half := s.scale * s.Outlet.Bore / 2; half > 0 {
		fall, end := bankAt+34, math.Max(y, pond-34)
		s.pipe(s.Outlet.Bore, wall, y, fall, y, fall, end)
		if end > y {
			s.arrow(fall, end-8, fall, pond-4)
		}
	}
}

// site draws ground, pond and stand.
func (s *stack) site() {
	pond, base := s.y(s.Pond), s.y(s.Base)
	bank := math.Min(s.ground, pond-0.5*letterSize)
	bottom := math.Max(s.ground, pond) + wave
	left, right := s.middle-s.rim, s.middle+s.rim
	if s.open {
		near, far := left-16, right+28
		s.earth(6, near)
		s.earth(far, width-6)
		s.line(near, bank, near, bottom, far, bottom, far, bank)
		s.line(near, pond, far, pond)
		s.word("pond", s.middle, bottom-12, "middle")
		s.line(near-16, base, far+16, base)
		s.leg(near-11, base)
		s.leg(far+1, base)
		return
	}
	s.earth(6, bankAt)
	s.line(bankAt, bank, bankAt, bottom, width-6, bottom)
	s.line(bankAt, pond, width-6, pond)
	s.word("pond", width-16, bottom-12, "end")
	if s.Base > 0 {
		s.line(left, base, right, base)
		s.leg(left+0.2*s.rim, base)
		s.leg(right-0.2*s.rim-10, base)
	}
}

// earth draws a piece of ground.
func (s *stack) earth(from, to float64) {
	s.line(from, s.ground, to, s.ground)
	for x := from + 14; x <= to; x += 16 {
		s.line(x, s.ground, x-10, s.ground+10)
	}
}

func (s *stack) leg(x, top float64) {
	if top < s.ground {
		s.line(x, s.ground, x, top, x+10, top, x+10, s.ground)
	}
}

// dimensions draws the lengths of stack and box.
func (s *stack) dimensions() {
	base, floor := s.y(s.Base), s.floor(0)
	edge := s.y(s.foot(0) + s.Wall + s.BoxHeight)
	s.upright(quantity.FormatWhole(s.top()), wholeAt, s.y(s.top()), s.ground)
	s.upright(quantity.FormatWhole(s.BoxHeight), partAt, edge, floor)
	if s.Base > 0 {
		s.upright(quantity.FormatWhole(s.Base), partAt, base, s.ground)
	}
	y := s.ground + 2.2*letterSize
	if s.open {
		y = math.Max(s.ground, s.y(s.Pond)) + wave + 1.5*letterSize
	}
	s.across(quantity.FormatWhole(s.BoxLength), s.middle-s.half(), s.middle+s.half(), y)
}

// label is a text with a line to what it speaks of.
type label struct {
	lines []string
	x, y  float64 // what it speaks of, y above the ground
}

func (s *stack) name(text string, x, y float64) {
	if text != "" {
		s.labels = append(s.labels, label{lines: wrap(text, width-labelAt), x: x, y: y - s.ground})
	}
}

// collect gathers the labels from the top to the bottom.
func (s *stack) collect() {
	x := s.middle + s.half() - 2*leastGap
	for i := range s.Tiers {
		t := &s.Tiers[i]
		y := s.floor(i)
		if t.Overflow > 0 {
			s.name("overflow", s.middle+s.rim+14, y-s.scale*t.Overflow)
		}
		s.name(t.Label, x, y-s.scale*math.Max(t.Fill/2, s.BoxHeight/4))
	}
	below := s.y(s.Base)
	if !s.open {
		below = s.outletAxis() - s.scale*s.Outlet.Bore/2
		s.name(s.Outlet.Label, bankAt+10, below)
	}
	s.outletAbove = below - s.ground
}

func (l *label) high() float64 { return lineOfText * (float64(len(l.lines)) + 0.4) }

// room is the height that all labels need.
func (s *stack) room() float64 {
	sum := 0.0
	for i := range s.labels {
		sum += s.labels[i].high()
	}
	return sum
}

// write puts each label beside what it speaks of, or as near as the others
// allow, and the inlet's over the stack.
func (s *stack) write() {
	tops := make([]float64, len(s.labels))
	least := 2 * lineOfText
	for i := range s.labels {
		l := &s.labels[i]
		tops[i] = math.Max(least, s.ground+l.y-l.high()/2)
		least = tops[i] + l.high()
	}
	most := s.ground + s.outletAbove
	for i := len(s.labels) - 1; i >= 0; i-- {
		l := &s.labels[i]
		tops[i] = math.Min(tops[i], most-l.high())
		most = tops[i]
		foot := tops[i] + letterSize
		for _, line := range l.lines {
			s.word(line, labelAt, foot, "")
			foot += lineOfText
		}
		s.circle(l.x, s.ground+l.y, 3)
		if l.x > labelAt { // right below
			s.line(l.x, s.ground+l.y-3, l.x, foot-0.8*lineOfText)
			continue
		}
		s.line(l.x+3, s.ground+l.y, labelAt-8, tops[i]+0.65*letterSize)
	}
}

// says tells the drawing in words.
func (s *stack) says() string {
	way := s.Inlet.Label
	for i := range s.Tiers {
		way += "; " + s.Tiers[i].Label
	}
	if s.open {
		return quantity.Put("{way}; then it falls into the pond.", "way", way)
	}
	return quantity.Put(quantity.Put("{way}; {outlet}; then the pond.", "outlet", s.Outlet.Label), "way", way)
}

// key explains the levels under the drawing and returns its height.
func (s *stack) key() float64 {
	y := math.Max(s.ground, s.y(s.Pond)) + wave + lineOfText
	if s.open {
		y += 1.5 * lineOfText
	}
	s.line(0, y-8, 60, y-8)
	s.level(30, y-8)
	s.word("water with all holes open", 76, y, "")
	y += lineOfText
	if s.Blocked != "" {
		polyline(&s.dotted, 0, y-8, 60, y-8)
		s.level(30, y-8)
		s.word(s.Blocked, 76, y, "")
		y += lineOfText
	}
	s.word("Lengths\u00a0in\u00a0mm", 0, y, "")
	return y + 0.4*letterSize
}
