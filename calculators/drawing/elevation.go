package drawing

import (
	"math"
	"strings"
)

// Elevation is a stack of boxes from the side. All lengths are in mm, all
// heights over the ground unless they say otherwise.
type Elevation struct {
	Title string // what it shows, in one sentence

	// Every box alike: inside length on its floor, inside height, thickness of
	// walls and floor; of its lid the thickness, and how far its plate is sunk
	// below its rim.
	BoxLength, BoxHeight, Wall float64
	LidThickness, LidRecess    float64

	Base  float64 // height of the stand: the underside of the lowest box
	Pond  float64 // level of the pond, negative below the ground
	Tiers []Tier  // from the top; without a Collector at the end the stack hangs open over the pond

	Inlet     Pipe // up the side, with a spray bar under the top lid
	Hose      bool // the inlet is a hose through the wall of the top box, without spray bar
	Collector Pipe // along the floor of the lowest box, if that is a Collector
	Outlet    Pipe // from there to the pond

	Blocked string // what the dotted level is: "with a third of the holes blocked"
}

// Tier is one box of a stack.
type Tier struct {
	Kind  Kind
	Label string  // what is in it; wrapped to a few short lines
	Fill  float64 // height of foam or media over its floor

	// Grades is how many foams lie upon each other, Kind at the top and each one
	// below finer, all equally thick; 0 or 1 for a single one.
	Grades int

	Floor Tray // its floor; Holes is 0 for the collector's
	Lid   Tray // the lid on it; Holes is 0 for the top one

	Overflow float64 // height of an overflow notch over its floor; 0 for none
}

// Kind is what fills a tier.
type Kind uint8

// The kinds. Each has a hatching of its own.
const (
	CoarseFoam Kind = iota
	MediumFoam
	FineFoam
	Media
	Collector
)

// Tray is a floor or lid and the water that stands on it.
type Tray struct {
	Holes   int     // in the whole tray; 0 if it is not drilled
	Clean   float64 // depth of water over it with all holes open; 0 if none stands there
	Blocked float64 // with as many blocked as Elevation.Blocked says
}

// Pipe is a pipe or hose. One without bore is not drawn.
type Pipe struct {
	Bore  float64 // inside
	Label string
}

// Places in the elevation, in units of the drawing.
const (
	wholeAt  = 34.0   // dimension of the whole height
	partAt   = 84.0   // dimensions of its parts
	riserAt  = 112.0  // middle of the inlet pipe
	boxAt    = 144.0  // rim of the boxes
	boxWide  = 254.0  // how wide they may be drawn
	tallest  = 1300.0 // how high the stack
	labelAt  = 430.0
	bankAt   = 446.0 // edge of the pond
	leastGap = 5.0   // between lines that must not run into one
	wave     = 56.0  // depth of the pond as drawn
	window   = 64.0  // left free of hatching, so that water levels are seen
)

// stack is an Elevation on its way to paper.
type stack struct {
	pen
	*Elevation
	scale       float64 // units per mm
	ground      float64 // y of the ground
	middle      float64 // x of the middle of the boxes
	rim, inset  float64 // half their width at the rim; how much less it is on the floor
	rise        float64 // from the underside of a box to that of the next, mm
	open        bool    // without a collector
	outletAbove float64 // y of the top of the outlet over the ground, below which no label may stand
	labels      []label
}

// SVG returns the drawing, or "" if there is no box or it has no size.
func (e *Elevation) SVG() string {
	if len(e.Tiers) == 0 || !(e.BoxLength > 0 && e.BoxHeight > 0) {
		return ""
	}
	s := &stack{Elevation: e}
	s.measure()
	s.site()
	for i := range e.Tiers {
		s.tier(i)
	}
	s.supply()
	s.drain()
	s.dimensions()
	s.write()
	return s.svg(e.Title, s.says(), s.key())
}

// measure finds the scale and the places that all else hangs on.
func (s *stack) measure() {
	s.open = s.Tiers[len(s.Tiers)-1].Kind != Collector
	s.rise = s.BoxHeight + s.Wall + s.LidThickness - s.LidRecess
	outer := s.BoxLength + 2*s.Wall
	s.scale = math.Min(boxWide/outer, tallest/s.top())
	s.rim = s.scale * outer / 2
	s.middle = boxAt + boxWide/2
	if s.LidRecess > 0 {
		s.inset = 3 * leastGap // the next box stands in the recess
	}
	head := 2.5 * lineOfText
	s.ground = head + s.scale*s.top()
	s.collect()
	s.ground += math.Max(0, s.room()-(s.ground+s.outletAbove-head))
}

// top is the height of the top lid's rim.
func (s *stack) top() float64 {
	return s.foot(0) + s.BoxHeight + s.Wall + s.LidThickness
}

// foot is the height of the underside of a tier.
func (s *stack) foot(tier int) float64 {
	return s.Base + float64(len(s.Tiers)-1-tier)*s.rise
}

func (s *stack) y(height float64) float64 { return s.ground - s.scale*height }

// floor is the y of a tier's floor, plate that of the lid on it: both of the
// side on which water stands.
func (s *stack) floor(tier int) float64 {
	return s.y(s.foot(tier)) - math.Max(leastGap, s.scale*s.Wall)
}

func (s *stack) plate(tier int) float64 { return s.y(s.foot(tier) + s.rise) }

// half is half the width of a tier on its floor.
func (s *stack) half() float64 { return s.rim - s.inset }

// tier draws a box with what is in it.
func (s *stack) tier(i int) {
	t := &s.Tiers[i]
	left, right, floor := s.middle-s.half(), s.middle+s.half(), s.floor(i)
	edge := s.y(s.foot(i) + s.Wall + s.BoxHeight)
	s.line(s.middle-s.rim, edge, left, floor)
	s.line(right, floor, s.middle+s.rim, edge)
	s.drilled(t.Floor.Holes, left, right, floor)
	s.lid(i, edge)
	s.fill(t, floor)
	s.water(&t.Floor, left, right, floor)
	if i > 0 {
		s.moat(&s.solid, t.Lid.Clean, s.plate(i))
		s.moat(&s.dotted, t.Lid.Blocked, s.plate(i))
	}
	if t.Overflow > 0 {
		s.notch(floor - s.scale*t.Overflow)
	}
	if i > 0 {
		s.fall(s.plate(i), floor-s.scale*math.Max(t.Fill, t.Floor.Blocked))
	}
}

// drilled draws a floor or plate, with gaps if it has holes.
func (s *stack) drilled(holes int, left, right, y float64) {
	if holes > 0 {
		polyline(&s.holed, left, y, right, y)
		return
	}
	s.line(left, y, right, y)
}

// lid draws the lid over the edge of a box.
func (s *stack) lid(i int, edge float64) {
	top := math.Min(edge-leastGap, s.y(s.foot(i)+s.BoxHeight+s.Wall+s.LidThickness))
	out, in, plate := s.rim+leastGap, s.rim-leastGap, s.plate(i)
	s.line(s.middle-out, edge+leastGap, s.middle-out, top, s.middle-in, top, s.middle-in, plate)
	s.line(s.middle+out, edge+leastGap, s.middle+out, top, s.middle+in, top, s.middle+in, plate)
	s.drilled(s.Tiers[i].Lid.Holes, s.middle-in, s.middle+in, plate)
}

// fill hatches foam or media.
func (s *stack) fill(t *Tier, floor float64) {
	if t.Fill <= 0 {
		return
	}
	left, right := s.middle-s.half()+window, s.middle+s.half()-leastGap
	high := s.scale * t.Fill / float64(max(1, t.Grades))
	bottom := floor
	for grade := t.Kind + Kind(max(1, t.Grades)) - 1; ; grade-- {
		top := bottom - high
		switch grade {
		case CoarseFoam:
			s.hatch(left, top, right, bottom, 22, 1)
		case MediumFoam:
			s.hatch(left, top, right, bottom, 22, 1)
			s.hatch(left, top, right, bottom, 22, -1)
		case FineFoam:
			s.hatch(left, top, right, bottom, 11, 1)
			s.hatch(left, top, right, bottom, 11, -1)
		default:
			s.stones(left, top, right, bottom)
		}
		if grade <= FineFoam {
			s.line(left-window+leastGap, top, right, top, right, bottom)
		}
		if grade == t.Kind {
			return
		}
		bottom = top
	}
}

// hatch draws oblique lines across a rectangle, rising to the right if slope is
// 1 and falling if it is -1.
func (s *stack) hatch(left, top, right, bottom, apart, slope float64) {
	wide, high := right-left, bottom-top
	for c := apart / 2; c < wide+high; c += apart {
		from, to := math.Max(0, c-high), math.Min(wide, c)
		x := left
		if slope < 0 {
			x = right
		}
		s.line(x+slope*from, top+c-from, x+slope*to, top+c-to)
	}
}

// stones fills a rectangle with circles.
func (s *stack) stones(left, top, right, bottom float64) {
	const r, apart = 6.0, 24.0
	row := 0.0
	for y := bottom - r - 3; y >= top+r; y -= 0.8 * apart {
		for x := left + r + row; x <= right-r; x += apart {
			s.circle(x, y, r)
		}
		row = apart/2 - row
	}
}

// water draws the level with all holes open and the one with some blocked.
func (s *stack) water(t *Tray, left, right, floor float64) {
	if t.Clean > 0 {
		y := floor - s.scale*t.Clean
		s.line(left, y, right, y)
		s.level(left+0.3*window, y)
	}
	if t.Blocked > 0 {
		y := floor - s.scale*t.Blocked
		polyline(&s.dotted, left, y, right, y)
		s.level(left+0.7*window, y)
	}
}

// moat draws the level of the water that stands on a lid, seen between the
// recess and the foot of the box in it.
func (s *stack) moat(d *strings.Builder, depth, plate float64) {
	if depth <= 0 {
		return
	}
	y := plate - s.scale*depth
	polyline(d, s.middle-s.rim+leastGap, y, s.middle-s.half(), y)
	polyline(d, s.middle+s.half(), y, s.middle+s.rim-leastGap, y)
}

// level is the mark of a water level.
func (s *stack) level(x, y float64) {
	s.line(x, y, x-7, y-12, x+7, y-12, x, y)
}

// notch draws an opening in the right wall through which water leaves.
func (s *stack) notch(y float64) {
	x := s.middle + s.rim
	s.line(x-14, y, x+14, y)
	s.arrow(x+14, y, x+14, y+24)
}

// fall draws water falling from a plate onto what is below it, if there is room.
func (s *stack) fall(from, to float64) {
	if to-from < 26 {
		return
	}
	for k := -1.0; k <= 1; k++ {
		x := s.middle + 0.55*k*s.half()
		s.arrow(x, from+4, x, from+22)
	}
}
