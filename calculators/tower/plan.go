package tower

import (
	"math"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/plumbing"
	"mereleaf/calculators/stack"
	"mereleaf/calculators/water"
)

// What custom or this plan sets, where no calculator does (figure set
// build-plan-practice, which gives the reason for each).
const (
	blocked         = 33.0                        // % of the holes, of bar and collector too
	margin          = 20.0                        // mm kept free along the walls of a floor
	barShare        = 80.0                        // % of the bar's bore that its holes open: less is more even, and costs head
	barOfBox        = 0.85                        // of the box's length
	collectorHole   = 10.0                        // mm
	barRoom         = 60.0                        // mm under the top lid for the bar and its jets
	muchKH          = 20.0                        // mg/L a week
	wantedNitrate   = limits.NitrateWatch         // mg/L as NO3
	freeboard       = 40.0                        // mm that stay dry in the bottom box
	outletFloor     = 20.0                        // mm from the floor of the bottom box to the bore of a threaded connector
	flangeFloor     = 43.0                        // mm from there to the bore of a wall fitting for soil pipe
	flangeCover     = 15.0                        // mm of flat wall that its flange covers all round the hole
	leastOutlet     = 1000 * plumbing.LeastOutlet // mm
	widestConnector = 54.0                        // mm, the bore of an outlet up to which a threaded connector is taken
	outletSpare     = 50.0                        // % that the outlets carry beyond the flow
	leastRoom       = 20.0                        // mm in which the water can rise over the outlet's middle
	wantedHold      = stack.WantedRatio           // against the wind
	manyHoles       = 250.0                       // in a floor: more only if no drill is larger
	mostHoles       = 1000.0                      // nobody drills more
	leastFlow       = 20.0                        // L/h: less is none
	driest          = 30.0                        // m3/m2/d
	wettest         = 400.0
	oxygenOfFull    = 0.85 // of saturation, in water that falls from tray to tray
)

// Customs that only words tell: the drills in mm that keepers take, the hours in
// which a pond passes its filter once, the strips in mm that lift a box off a flat
// lid, the recess in mm below which a lid counts as flat and that which is asked
// for then, the openings for air in per cent of the floor (sewage works have as much
// under a trickling filter), the head in m from which a bar is too narrow, the
// weight in kg that is more than one person's, the litres of a bucket, and the
// temperature in degrees Celsius below which next to nothing grows. Common
// practice, all of them.
const (
	drillLeast    = 6.0
	drillMost     = 8.0
	turnoverLeast = 1.0
	turnoverMost  = 3.0
	stripHeight   = 5.0
	flatLid       = 4.0
	leastRecess   = 15.0
	airShare      = 4.0
	narrowBar     = 0.3
	forTwo        = 20.0
	bucket        = 10.0
	growsFrom     = 10.0
	soilPipe      = 110.0 // mm outside, and its bore (figure set hydraulics-pipe-waste-soil)
	soilBore      = 104.0
)

// plan is a question put to the tower and what is found on the way.
type plan struct {
	in     calculators.Inputs
	crew   *crew
	pond   pondFacts
	oxygen float64 // mg/L, in the water through the media

	// barHead is the head of one spray bar in m over the square of its flow in
	// m3/s: the holes are a fixed share of its bore, whatever the flow.
	barHead  float64
	asked    []answer  // what the crew has answered so far
	warnings []string  // for the top of the sheet, found on the way
	offered  []*design // one for each medium that the reader can get
}

// option is what may differ between two designs for one pond.
type option struct {
	name    string // of the medium
	change  string // what is unlike the tower that it is compared with
	medium  string
	price   float64 // of a litre of medium
	compact bool    // foam and medium in one box: two boxes in all
	hose    bool
	open    bool
}

// design is a tower that was thought through.
type design struct {
	option
	stacks, tiers int               // tiers of medium in each stack
	boxes         int               // in each stack
	height        float64           // mm, foot to top
	lift          float64           // m, pond to bar
	flow          float64           // L/h in all
	litres        float64           // medium in all
	fill          float64           // mm of medium in a box
	capacity      calculators.Value // g/d of ammonia nitrogen at the target
	tan           calculators.Value // mg/L it settles at

	bar, media, tray, collector, notch, foam answer
	outlet, drop                             answer  // the outlets, out of the box and down to the pond
	pump                                     answer  // empty: none chosen yet
	loss                                     answer  // of the pipe, where no pump is chosen
	head                                     float64 // m that the pump must make
	choked                                   float64 // loss coefficient of the valve that chokes the pump; 0: open
	notchWidth                               float64 // mm, of the overflow
	outlets                                  int
	drill                                    float64
	load                                     weights
	tipping, ground                          answer
	cost                                     costs

	faults []string // what does not fit, and what to change; empty if all fits
}

func newPlan(c *crew, in calculators.Inputs) (*plan, error) {
	p := &plan{in: in, crew: c}
	if recess, height := p.mm("recess"), p.mm("box-height"); recess > height/2 {
		return nil, calculators.Refuse("recess", "is {recess 0 mm} deep in the lid of a box {height 0 mm} high", "at most half the height", "measure from the lid's raised edge down to its flat", recess, height)
	}
	if err := p.readPond(); err != nil {
		return nil, err
	}
	p.oxygen = p.oxygenAt(p.pond.summer)
	return p, p.tryBar()
}

// oxygenAt is the oxygen in mg/L in the water through the media.
func (p *plan) oxygenAt(celsius float64) float64 {
	return oxygenOfFull * water.OxygenAtPressure(celsius, 0, water.AirPressure(p.in.In("altitude", "m")))
}

// tryBar finds barHead with water that enters the bar at 1 m/s.
func (p *plan) tryBar() error {
	if p.in.Choice("inlet") == "hose" {
		return nil
	}
	var bar answer
	flow := plumbing.CircleArea(p.mm("bar-bore") / 1000) // m3/s
	if err := p.sprinkle(&bar, 3.6e6*flow); err != nil {
		return err
	}
	p.barHead = bar.likely("head") / (flow * flow)
	return nil
}

func (p *plan) mm(name string) float64 { return p.in.In(name, "mm") }

// others is the number of boxes in a stack that hold no medium.
func (d *design) others(p *plan) int {
	n := 0
	if !d.compact {
		n += d.foamBoxes(p)
	}
	if !d.open {
		n++
	}
	return n
}

// grades is how many foams lie upon each other: in a compact tower as many as
// leave half of the box to the medium, at least one.
func (d *design) grades(p *plan) float64 {
	wanted := p.in.In("foam-grades", "1")
	if d.compact {
		return min(wanted, max(1, math.Floor((p.mm("box-height")/2-barRoom)/p.mm("foam-thickness")+1e-9)))
	}
	return wanted
}

// foamBoxes is how many boxes the foam fills under the bar.
func (d *design) foamBoxes(p *plan) int {
	room := p.mm("box-height") - barRoom
	each := max(1, math.Floor(room/p.mm("foam-thickness")+1e-9))
	return int(math.Ceil(d.grades(p) / each))
}

// liftDigits are those that a lift is shown with.
const liftDigits = 3

// stand finds how high the stack is and how high the water must be lifted.
func (d *design) stand(p *plan) {
	box := p.mm("box-height") + 2*p.mm("wall")
	d.height = box + float64(d.boxes-1)*(box-p.mm("recess")) // each box stands in the recess of the lid below
	d.lift = read(p.in.In("foot", "m")+(d.height-barRoom)/1000, liftDigits)
	d.fill = p.mm("box-height") * p.share("fill") / 100
	if d.compact {
		d.fill = p.mm("box-height") - barRoom - d.grades(p)*p.mm("foam-thickness")
	}
}

// fillUp asks for the flow that arrives, and how much medium the ammonia needs with
// it.
func (d *design) fillUp(p *plan) error {
	d.stand(p)
	if err := d.supply(p); err != nil {
		return err
	}
	if d.fill < 0.05*p.mm("box-height") {
		return calculators.Refuse("foam-thickness", "leaves no room for medium in the top box", "less than {most 0 mm} for {sheets 0|sheet|sheets}", "take thinner foam, fewer grades or higher boxes",
			(p.mm("box-height")-barRoom)/d.grades(p), d.grades(p))
	}
	d.litres = float64(d.stacks*d.tiers) * p.mm("box-length") * p.mm("box-width") * d.fill / 1e6
	return d.needs(p)
}

// needs asks how much medium the ammonia needs, at the flow that was found.
func (d *design) needs(p *plan) error {
	return p.ask(&d.media, &p.crew.media, []calculators.Arg{{Name: "medium", Value: d.medium}},
		"from=feed\nfeed={~5 g/d}\nprotein={~4 %}\ntarget={~4 mg/L}\ntemperature={~4 Cel}\noxygen={~3 mg/L}\nlength={~5 mm}\nwidth={~5 mm}\nheight={~5 mm}\nfill={~5 %}\nflow={~5 L/h}\nstacks={0}",
		p.pond.design.feed, p.share("protein"), p.pond.target, p.pond.summer, p.oxygen,
		p.mm("box-length"), p.mm("box-width"), p.mm("box-height"), 100*d.fill/p.mm("box-height"), d.flow, float64(d.stacks))
}

// settle finds what the filter carries at the target, and where the ammonia of
// the fish it is built for settles.
func (d *design) settle(p *plan) {
	need, load := d.media.value("volume"), d.media.likely("load")
	if load == 0 || need.Likely == 0 {
		d.tan = calculators.Between("tan", 0, 0, 0)
		return
	}
	d.capacity = d.cleans()
	d.tan = p.settled(load, d.capacity)
}

// cleans is the ammonia nitrogen in g/d that the medium takes out at the target.
func (d *design) cleans() calculators.Value {
	need, load := d.media.value("volume"), d.media.likely("load")
	carries := func(volume float64) float64 { return load * d.litres / volume }
	return calculators.Between("capacity", carries(need.High), carries(need.Likely), carries(need.Low))
}

func (p *plan) settled(load float64, capacity calculators.Value) calculators.Value {
	return calculators.Between("tan", p.steady(load, capacity.High), p.steady(load, capacity.Likely), p.steady(load, capacity.Low))
}

// floods reports whether stones get more water than they let through.
func (d *design) floods() bool { return stones(d.medium) && d.media.likely("hydraulic-load") > wettest }

// stones reports whether a medium can flood from fines, as stones do.
func stones(medium string) bool {
	return strings.HasPrefix(medium, "gravel") || medium == "lava" || medium == "pumice" || medium == "expanded-clay" || medium == "crushed-brick"
}
