package tower_test

import (
	"math"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/fish"
	"mereleaf/calculators/media"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/tower"
)

func args(pairs ...string) []calculators.Arg {
	var all []calculators.Arg
	for _, pair := range pairs {
		name, value, _ := strings.Cut(pair, "=")
		all = append(all, calculators.Arg{Name: name, Value: value})
	}
	return all
}

// plan asks for a tower for the worked pond, but for what is given.
func plan(t *testing.T, given ...string) calculators.Result {
	t.Helper()
	_, r, err := tower.Tower().Evaluate(worked(t, given...))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func worked(t *testing.T, given ...string) []calculators.Arg {
	t.Helper()
	return tower.Tower().Over(args(given...), pondtest.Given(t, tower.Tower()))
}

func likely(r calculators.Result, output string) float64 {
	v, _ := r.Value(output)
	return v.Likely
}

// asked is what a line of a sheet asked a calculator.
type asked struct {
	line   calculators.Line
	result calculators.Result
}

// replay asks the calculators themselves what the lines of a sheet asked them,
// and returns the first answer of each calculator; of the calculator "outlet" there
// is one more, "outlet drop", for the pipe that goes down to the pond.
func replay(r calculators.Result) (map[string]asked, string) {
	found, all := map[string]asked{}, catalog.All()
	for _, section := range r.Sheet {
		for _, line := range section.Lines {
			if line.By.Name == "" {
				continue
			}
			c, ok := all.Find(line.By.Name)
			if !ok {
				return nil, line.Label + ": there is no calculator " + line.By.Name
			}
			_, answer, err := c.Evaluate(line.By.Args)
			if err != nil {
				return nil, line.Label + ": " + err.Error()
			}
			if c.ID != "drill-template" && !shows(c, answer, line.Text) {
				return nil, line.Label + ": the sheet says " + line.Text + ", which the calculator " + c.ID + " does not"
			}
			key := c.ID
			if kind, _ := calculators.Find(line.By.Args, "kind"); kind == "drop" {
				key += " drop"
			}
			if _, seen := found[key]; !seen {
				found[key] = asked{line, answer}
			}
		}
	}
	return found, ""
}

// shows reports whether a text begins with one of the outputs as printed.
func shows(c calculators.Calculator, r calculators.Result, text string) bool {
	for _, v := range r.Values {
		o, _ := c.Output(v.Output)
		if strings.HasPrefix(text, calculators.ShowOutput(o, v.Likely)) {
			return true
		}
	}
	return false
}

func input(a asked, name string) float64 {
	for _, arg := range a.line.By.Args {
		if arg.Name == name {
			number, _, _ := strings.Cut(strings.ReplaceAll(arg.Value, "\u00a0", " "), " ")
			v, _ := strconv.ParseFloat(strings.ReplaceAll(number, ",", ""), 64)
			return v
		}
	}
	return math.NaN()
}

func TestEveryLineSaysWhatItsCalculatorSays(t *testing.T) {
	for _, ready := range pondtest.Some(t, tower.Tower()).All()[0].Ready {
		_, r, err := tower.Tower().Evaluate(ready.Given)
		if err != nil {
			t.Fatal(ready.Name, err)
		}
		found, fault := replay(r)
		if fault != "" {
			t.Error(ready.Name, fault)
		}
		for _, id := range []string{"fish-weight", "feed-waste", "free-ammonia", "holes-per-tray", "media-volume", "spray-bar", "pump-working-point", "collector", "outlet", "outlet drop",
			"foam-stage", "nitrate", "alkalinity-use", "chlorine", "maturing", "stack-weight", "stack-tipping", "running-cost"} {
			if _, ok := found[id]; !ok {
				t.Errorf("%s: no line of %s", ready.Name, id)
			}
		}
	}
}

func TestReadyScenariosFit(t *testing.T) {
	for _, ready := range pondtest.Some(t, tower.Tower()).All()[0].Ready {
		_, r, err := tower.Tower().Evaluate(ready.Given)
		if err != nil || likely(r, "faults") != 0 {
			t.Errorf("%s: %v %q", ready.Name, err, r.Advice)
		}
	}
}

// Common practice, no source: five boxes with good medium serve about 2,000
// gallons heavily stocked; holes of 6 to 8 mm; a gravity outlet of 40 mm or more
// and wider than the inlet.
func TestTheTradesTower(t *testing.T) {
	r := plan(t, "volume=2000 gal (imp)", "fish=koi, 30 cm, 20", "bore=25 mm", "outlet-bore=41 mm", "points=0 L/h, 3.2 m; 2000 L/h, 2.8 m; 4000 L/h, 1.9 m; 6000 L/h, 0.4 m")
	if boxes := likely(r, "boxes"); boxes < 4 || boxes > 6 {
		t.Errorf("%v boxes; custom says five", boxes)
	}
	if drill := likely(r, "drill"); drill < 6 || drill > 8 {
		t.Errorf("holes of %v mm; custom says 6 to 8", drill)
	}
}

// The order in which custom stacks what the water meets.
func TestTheStackFromTheTop(t *testing.T) {
	for _, section := range plan(t).Sheet {
		if section.Title != "The stack, from the top" {
			continue
		}
		first, last := section.Rows[0], section.Rows[len(section.Rows)-1]
		if first[1] != "spray bar, coarse over medium over fine foam" || first[3] != "not drilled" || last[2] != "not drilled" || !strings.Contains(last[1], "outlet") {
			t.Errorf("%q … %q", first, last)
		}
		for _, row := range section.Rows[1:] {
			if row[3] == "not drilled" {
				t.Errorf("the lid of box %s is not drilled", row[0])
			}
		}
		return
	}
	t.Error("no stack")
}

// A tower that stands open over the pond has no bottom box: none is counted, and
// none is bought.
func TestEveryBoxIsListed(t *testing.T) {
	for _, given := range [][]string{nil, {"bottom=open"}, {"bottom=open", "inlet=hose"}, {"fish=koi, 30 cm, 40"}, {"most-boxes=2"}} {
		r := plan(t, given...)
		listed, bought := 0, ""
		for _, section := range r.Sheet {
			switch section.Title {
			case "The stack, from the top":
				listed = len(section.Rows)
			case "To buy":
				bought = section.Rows[0][1]
			}
		}
		if want := float64(listed) * likely(r, "stacks"); likely(r, "boxes") != want || bought != strconv.FormatFloat(want, 'f', 0, 64) {
			t.Errorf("%q: %v boxes, %v to buy; the sheet lists %d in each of %v stacks", given, likely(r, "boxes"), bought, listed, likely(r, "stacks"))
		}
	}
}

// The worked tower open over the pond has the box less that the list lacks, is lower
// by it, costs less by it, gets more water, and is that of the line "open over the
// pond" among the other ways. A box is 276 mm high, stands in a recess of 25 mm, and
// costs 9.
func TestATowerOpenOverThePondHasNoBottomBox(t *testing.T) {
	closed, open := plan(t), plan(t, "bottom=open")
	for output, less := range map[string]float64{"boxes": 1, "height": 276 - 25, "build-cost": 9} {
		if got := likely(closed, output) - likely(open, output); got != less {
			t.Errorf("%s is less by %v, not %v", output, got, less)
		}
	}
	if likely(open, "tiers") != likely(closed, "tiers") || likely(open, "flow") <= likely(closed, "flow") {
		t.Errorf("%v boxes of medium and %v L/h, closed %v and %v", likely(open, "tiers"), likely(open, "flow"), likely(closed, "tiers"), likely(closed, "flow"))
	}
	for _, section := range closed.Sheet {
		for _, row := range section.Rows {
			if !strings.HasSuffix(row[0], "open over the pond") {
				continue
			}
			boxes, cost := strconv.FormatFloat(likely(open, "boxes"), 'f', 0, 64), strconv.FormatFloat(math.Round(likely(open, "build-cost")), 'f', 0, 64)
			if flow := calculators.ShowOutput(calculators.Output{Unit: "L/h", Digits: 2}, likely(open, "flow")); row[1] != boxes || row[4] != flow || row[5] != cost {
				t.Errorf("%q among the ways; asked: %s boxes, %s, %s", row, boxes, flow, cost)
			}
			return
		}
	}
	t.Error("no such way")
}

// What the fish give off a day is what filter and water changes take out.
func TestTheNitrogenBalanceCloses(t *testing.T) {
	for _, change := range []string{"0 %", "20 %", "50 %"} {
		r := plan(t, "change="+change)
		found, fault := replay(r)
		if fault != "" {
			t.Fatal(fault)
		}
		m := found["media-volume"]
		load, need := likely(m.result, "load"), likely(m.result, "volume")
		s, target := likely(r, "ammonia"), 0.25
		rate := func(tan float64) float64 {
			v, _ := media.Rate(tan, input(m, "oxygen"), input(m, "temperature"))
			return v.Likely
		}
		share, _ := strconv.ParseFloat(strings.TrimSuffix(change, " %"), 64)
		out := load*likely(r, "medium")/need*rate(s)/rate(target) + s*9.1*share/100/7
		if math.Abs(out-load) > 1e-6*load {
			t.Errorf("%s changed: %v g/d in, %v g/d out", change, load, out)
		}
	}
}

// Each part is asked for the water that the pump brings, no more and no less.
func TestTheWaterBalanceCloses(t *testing.T) {
	for _, given := range [][]string{nil, {"fish=koi, 45 cm, 20", "most-stacks=4", "points=0 L/h, 5 m; 8000 L/h, 4.2 m; 14000 L/h, 3.2 m; 20000 L/h, 1.2 m", "bore=63 mm"}} {
		r := plan(t, given...)
		found, fault := replay(r)
		if fault != "" {
			t.Fatal(fault)
		}
		flow, stacks := likely(r, "flow"), likely(r, "stacks")
		if brought := likely(found["pump-working-point"].result, "flow"); shownFlow(brought) != flow {
			t.Errorf("the pump brings %v, the tower takes %v", brought, flow)
		}
		for _, id := range []string{"holes-per-tray", "spray-bar", "collector", "outlet", "outlet drop", "overflow"} {
			if part := input(found[id], "flow"); part != shownFlow(flow/stacks) {
				t.Errorf("%s: %v of %v in %v stacks", id, part, flow, stacks)
			}
		}
		for _, id := range []string{"media-volume", "foam-stage"} {
			if part := input(found[id], "flow"); part != flow {
				t.Errorf("%s: %v of %v", id, part, flow)
			}
		}
		// The head the pump makes is lift, pipe, and what it meets on the way, the
		// bar too.
		p := found["pump-working-point"]
		if bar, fittings := likely(found["spray-bar"].result, "head"), likely(p.result, "fittings-loss"); bar > fittings {
			t.Errorf("the fittings' %v m do not hold the bar's %v", fittings, bar)
		}
		if head, sum := likely(p.result, "head"), input(p, "lift")+likely(p.result, "friction")+likely(p.result, "fittings-loss"); math.Abs(head-sum) > 1e-3*head {
			t.Errorf("the pump makes %v m, %v m are needed", head, sum)
		}
	}
}

func TestMoreFishNeedMore(t *testing.T) {
	last := 0.0
	for _, count := range []string{"2", "8", "14", "20", "26"} {
		r := plan(t, "fish=koi, 30 cm, "+count, "media=plastic-packing, 1")
		if medium := likely(r, "medium"); medium < last {
			t.Errorf("%s koi need %v L, fewer needed %v", count, medium, last)
		} else {
			last = medium
		}
	}
}

func TestWhatDoesNotFitIsNamed(t *testing.T) {
	for _, c := range []struct{ given, says string }{
		{"outlet-bore=30 mm", "take 40\u00a0mm or more"},
		{"recess=0 mm", "Take lids with a recess"},
		{"fish=koi, 45 cm, 22", "Feed "},
		{"tied=free", "tie it near the top"},
		{"outlet-bore=32 mm", "no wider than the pipe"},
	} {
		r := plan(t, c.given)
		text := strings.Join(r.Advice, " ")
		if likely(r, "faults") == 0 || !strings.HasPrefix(r.Advice[0], "It does not fit yet. ") || !strings.Contains(text, c.says) {
			t.Errorf("%s: %q", c.given, r.Advice)
		}
	}
	for _, c := range []struct{ given, input, says string }{
		{"points=0 L/h, 1 m; 2000 L/h, 0.8 m; 4000 L/h, 0.2 m", "pump", "take a pump with more head"},
		{"fish=koi, 60 cm, 40", "pump", "pump more"},
		{"foot=8 m", "pump", "lower the foot"},
	} {
		_, _, err := tower.Tower().Evaluate(worked(t, c.given))
		errs, ok := err.(calculators.InputErrors)
		if !ok || errs[0].Input != c.input || !strings.Contains(errs[0].Remedy, c.says) {
			t.Errorf("%s: %v", c.given, err)
		}
	}
}

// Who weighs the fish gets the tower that their lengths get: they weigh what Weight
// finds, and grow from the length at which such a fish is likely to weigh so much.
func TestFishByTheirWeight(t *testing.T) {
	for _, length := range []string{"20 cm", "30 cm", "45 cm"} {
		_, weight, err := fish.Weight().Evaluate(args("from=list", "fish=koi, "+length+", 15"))
		if err != nil {
			t.Fatal(err)
		}
		listed := plan(t, "fish=koi, "+length+", 15")
		weighed := plan(t, "stock=weight", "kilograms="+strconv.FormatFloat(likely(weight, "weight"), 'f', 6, 64)+" kg", "number=15")
		for _, name := range []string{"boxes", "stacks", "medium", "ammonia", "eaten", "faults", "build-cost"} {
			if a, b := likely(listed, name), likely(weighed, name); math.Abs(a-b) > 1e-6*math.Abs(a) {
				t.Errorf("koi of %s: %s is %v by length, %v by weight", length, name, a, b)
			}
		}
		a, b := line(listed, "Grown, they eat"), line(weighed, "Grown, they eat")
		if a == "" || a != b {
			t.Errorf("koi of %s, grown: %q by length, %q by weight", length, a, b)
		}
	}
}

// pond draws what a keeper may type.
func pond(t *rapid.T) []calculators.Arg {
	number := func(name string, low, high float64, unit string) string {
		return name + "=" + strconv.FormatFloat(rapid.Float64Range(low, high).Draw(t, name), 'f', 2, 64) + " " + unit
	}
	f := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	of := func(name string, all ...string) string { return name + "=" + rapid.SampledFrom(all).Draw(t, name) }
	litres := math.Exp(rapid.Float64Range(math.Log(300), math.Log(60000)).Draw(t, "volume"))
	size := rapid.IntRange(8, 60).Draw(t, "fish length")
	grams := math.Pow(float64(size), 3) / 60
	count := max(1, int(litres*rapid.Float64Range(0.05, 1.5).Draw(t, "g/L")/grams))
	most := litres / rapid.Float64Range(0.3, 3).Draw(t, "hours")
	head := rapid.Float64Range(1, 8).Draw(t, "pump head")
	bore := 1000 * math.Sqrt(most/3600/1000/math.Pi*4/rapid.Float64Range(0.4, 2.5).Draw(t, "pipe velocity"))
	given := []string{
		"volume=" + f(litres) + " L", number("summer", 8, 32, "Cel"), number("altitude", 0, 2500, "m"), number("change", 0, 60, "%"), number("target", 0.1, 1, "mg/L"),
		"fish=" + rapid.SampledFrom([]string{"koi", "goldfish", "tench"}).Draw(t, "kind") + ", " + strconv.Itoa(size) + " cm, " + strconv.Itoa(count),
		of("size-for", "now", "now", "grown"), of("aim", "ammonia", "nitrate"), number("box-length", 250, 900, "mm"), number("box-width", 200, 600, "mm"), number("box-height", 160, 450, "mm"), of("most-stacks", "2", "4", "6"),
		of("recess", "0 mm", "8 mm", "15 mm", "25 mm", "40 mm", "60 mm"), of("media", "lava, 0.4", "plastic-packing, 0.9; gravel-20, 0.1", "moving-bed, 1.2", "foam-20, 2; sintered-glass, 3"),
		"points=0 L/h, " + f(head) + " m; " + f(most/2) + " L/h, " + f(0.75*head) + " m; " + f(most) + " L/h, 0.1 m",
		"bore=" + f(min(max(bore, 12), 140)) + " mm", number("run", 1, 15, "m"), number("foot", 0, 1, "m"), of("inlet", "bar", "hose"), of("bottom", "box", "open"), of("tied", "tied", "tied", "free"), of("pump", "curve", "turnover"),
	}
	if rapid.IntRange(0, 4).Draw(t, "fish by weight") == 0 {
		given = append(given, "stock=weight", "kilograms="+f(max(grams*float64(count), 10)/1000)+" kg", "number="+strconv.Itoa(count))
	}
	var all []calculators.Arg
	for _, a := range args(given...) {
		if a.Name == "fish" && strings.Contains(strings.Join(given, "\n"), "stock=weight") {
			continue
		}
		if a.Name == "points" && strings.Contains(strings.Join(given, "\n"), "pump=turnover") {
			continue
		}
		all = append(all, a)
	}
	if !strings.Contains(strings.Join(given, "\n"), "bottom=open") {
		all = append(all, args(of("outlet-bore", "34 mm", "41 mm", "51 mm", "76 mm", "104 mm"))...)
	}
	return all
}

// height is that of a box in mm, as stated.
func height(stated url.Values) float64 {
	v, _ := strconv.ParseFloat(strings.TrimSuffix(stated.Get("box-height"), " mm"), 64)
	return v
}

// Every tower that is said to fit passes each check by itself, asked of the
// calculators again; every other one says what to change.
func TestWhatFitsPassesEveryCheck(t *testing.T) {
	t.Parallel()
	fitted, refused, failed := 0, 0, 0
	one := func(t *rapid.T) {
		given := pond(t)
		_, r, err := tower.Tower().Evaluate(given)
		if err != nil {
			refused++
			for _, e := range err.(calculators.InputErrors) {
				if e.Remedy == "" && e.Accept == "" {
					t.Fatalf("%v: %v names no way out", given, e)
				}
			}
			return
		}
		if likely(r, "faults") > 0 {
			failed++
			if !strings.HasPrefix(r.Advice[0], "It does not fit yet. ") {
				t.Fatalf("%q", r.Advice)
			}
			return
		}
		fitted++
		if fault := check(r, given); fault != "" {
			t.Fatalf("%v: %s", given, fault)
		}
	}
	ponds := 1000
	if testing.Short() { // the race detector makes each ten times as slow
		ponds = 100
	}
	for tries := 0; fitted+refused+failed < ponds || tries < 50 && (fitted == 0 || failed == 0); tries++ {
		rapid.Check(t, one)
		if t.Failed() {
			return
		}
	}
	t.Logf("%d fitted, %d did not, %d refused", fitted, failed, refused)
	if fitted == 0 || failed == 0 {
		t.Error("the ponds drawn do not try both sides")
	}
}

// refused reports whether the outlet calculator says that the outlets carry less
// than the water that arrives and half as much in hand, whatever the range. The
// plan hands its numbers on rounded to five digits.
func refused(outlet asked) bool {
	v, _ := outlet.result.Value("margin")
	return !(v.Low >= 50-0.01) || strings.Contains(strings.Join(outlet.result.Advice, " "), "may run over")
}

// An outlet that gulps on its way down to the pond is none, though the short pipe
// out of the box carries the water: one of 51 mm lets 6,400 L/h out and carries
// 1,600 down. The bore that the fault names does.
func TestOutletsAreAskedForAsTheyAreBuilt(t *testing.T) {
	for bore, given := range map[string][]string{
		"51 mm": {"most-stacks=1", "box-length=250 mm"}, "44 mm": {"most-stacks=1", "most-boxes=5"}, "60 mm": {"most-stacks=1", "box-length=280 mm"},
	} {
		r := plan(t, append(given, "outlet-bore="+bore)...)
		wide := ""
		for _, advice := range r.Advice {
			if _, after, ok := strings.Cut(advice, "take outlets of "); ok {
				wide, _, _ = strings.Cut(after, " bore")
			}
		}
		if wide == "" {
			t.Fatalf("%s, %v: %q", bore, given, r.Advice)
		}
		r = plan(t, append(given, "outlet-bore="+wide)...)
		if text := strings.Join(r.Advice, " "); strings.Contains(text, "half as much again") {
			t.Errorf("%s, %v, then %s: %s", bore, given, wide, text)
		}
	}
	// One outlet of soil pipe is what the worked tower is built with.
	r := plan(t)
	if likely(r, "outlets") != 1 || likely(r, "faults") != 0 {
		t.Errorf("%v outlets, %q", likely(r, "outlets"), r.Advice)
	}
}

// check asks the calculators again, each by itself.
func check(r calculators.Result, given []calculators.Arg) string {
	found, fault := replay(r)
	if fault != "" {
		return fault
	}
	stated := url.Values{}
	for _, a := range given {
		stated.Set(a.Name, a.Value)
	}
	tray, m := found["holes-per-tray"], found["media-volume"]
	high := func(a asked, output string) float64 {
		v, _ := a.result.Value(output)
		return v.High
	}
	switch {
	case likely(r, "medium") < likely(m.result, "volume"):
		return "too little medium"
	case high(tray, "head-blocked") > input(tray, "side")+1e-6:
		return "a blocked tray spills"
	case math.Max(likely(tray.result, "pitch-staggered"), likely(tray.result, "pitch-square")) < 2*input(tray, "hole"):
		return "the holes do not fit the floor"
	case likely(m.result, "hydraulic-load") < 30:
		return "the medium runs dry"
	case likely(found["stack-tipping"].result, "ratio") < 1.5 && stated.Get("tied") == "free":
		return "the wind tips it"
	}
	if stated.Get("bottom") == "open" {
		return ""
	}
	out, drop, collector := found["outlet"], found["outlet drop"], found["collector"]
	if out.result.Values == nil || drop.result.Values == nil || collector.result.Values == nil {
		return "no outlet was asked for"
	}
	floor := 20.0 // to the bore
	if input(out, "bore") > 54 {
		floor = 43
	}
	switch {
	case input(drop, "bore") != input(out, "bore") || input(drop, "outlets") != input(out, "outlets") || input(drop, "flow") != input(out, "flow"):
		return "what drops to the pond is not what leaves the box"
	case refused(out) || refused(drop):
		return "the outlet calculator refuses the outlets as they are built"
	case high(collector, "head-blocked")+input(out, "head")+input(out, "bore")/2+floor+40 > height(stated)+0.1:
		return "with the collector part-blocked the bottom box runs over"
	case input(out, "bore") < 40:
		return "the outlet is below the trade's least"
	}
	return ""
}
